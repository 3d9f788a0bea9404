//! The JSON schema of a recipe, derived from its types and from the table of its numbers. For the
//! API's description; the browser's build has none of it.

use std::borrow::Cow;

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde_json::{Map, Value, json};

use super::motif::Row;
use super::numbers::{NumberField, NumberRange};
use super::ranges::SWATCH_SIZE;
use super::sock::Recipe;
use crate::needle_size::{Needle, SIZES};
use crate::swatch::Swatch;

/// One operation of a motif's round as it is written, at most 24 stitches wide.
const OP: &str =
    "(?:k|p|kt|s)(?:[1-9]|1[0-9]|2[0-4])|yo|k2tog|ssk|c[lr]p?(?:[1-3]/[1-3]|1/[45]|[45]/1|2/4|4/2)";

impl JsonSchema for Row {
    fn schema_name() -> Cow<'static, str> {
        "Row".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "type": "string",
            "pattern": format!("^(?:{OP})(?: (?:{OP}))*$"),
            "description": "Knit k3, purl p3, through the back loop kt1, slip s1, yarn over yo, k2tog, ssk, cross left cl2/2 or right cr2/2, with the stitches behind purled clp2/1.",
        })
    }
}

impl JsonSchema for Needle {
    fn schema_name() -> Cow<'static, str> {
        "Needle".into()
    }

    fn inline_schema() -> bool {
        true
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        let sizes = SIZES.each_ref().map(|size| size.hundredths);
        json_schema!({ "type": "integer", "enum": sizes })
    }
}

/// The schema of a recipe, whole: it refers to nothing outside of it.
pub fn schema() -> Value {
    let settings = SchemaSettings::draft2020_12().with(|settings| {
        settings.inline_subschemas = true;
        settings.meta_schema = None;
    });
    let derived = settings.into_generator().into_root_schema_for::<Recipe>();
    let mut schema = plain(derived.to_value());
    for field in NumberField::all() {
        if field.place().unwrap_or(0) == 0 {
            for found in at(&mut schema, &field.path()) {
                put_range(found, field);
            }
        }
    }
    schema["description"] = json!(
        "What a sock is made from. Lengths are whole tenths of a millimetre. A field that is not known is refused (beside a choice that has no fields of its own, it is passed over). A recipe may keep all ranges and still be no sock that can be knitted; then it is refused too, with the field that would help."
    );
    schema
}

/// Leaves out what only names Rust's types, lists plain choices as such, and says of an alternative
/// that exactly one holds.
fn plain(schema: Value) -> Value {
    match schema {
        Value::Array(all) => all.into_iter().map(plain).collect(),
        Value::Object(all) => {
            let mut out = Map::new();
            for (key, inner) in all {
                match key.as_str() {
                    "title" if inner.is_string() => {}
                    // Of a number's type; its range comes from the table.
                    "format" | "minimum" | "maximum" if inner.is_string() || inner.is_number() => {}
                    "description" => {
                        let said = inner.as_str().unwrap_or_default().replace('\n', " ");
                        out.insert(key, said.into());
                    }
                    "anyOf" | "oneOf" => drop(out.insert("oneOf".to_owned(), plain(inner))),
                    _ => drop(out.insert(key, plain(inner))),
                }
            }
            listed(out)
        }
        other => other,
    }
}

/// A choice between constants is a list of them; beside one without fields, others are passed over.
fn listed(mut schema: Map<String, Value>) -> Value {
    let constants = schema.get("oneOf").and_then(Value::as_array).map(|all| {
        let constant = |one: &Value| one.get("const").filter(|text| text.is_string()).cloned();
        all.iter().map(constant).collect::<Option<Vec<Value>>>()
    });
    if let Some(Some(constants)) = constants {
        schema.remove("oneOf");
        schema.insert("type".to_owned(), json!("string"));
        schema.insert("enum".to_owned(), constants.into());
    }
    let required = schema.get("required").cloned().unwrap_or_default();
    let needed = |name: &String| {
        let names = required.as_array().into_iter().flatten();
        names.filter_map(Value::as_str).any(|one| one == name)
    };
    if let Some(Value::Object(properties)) = schema.get("properties")
        && properties.values().all(|only| only.get("const").is_some())
    {
        schema.remove("additionalProperties");
    }
    if let Some(Value::Object(properties)) = schema.get_mut("properties") {
        // A switch that need not be there is off.
        for (name, inner) in properties {
            if !needed(name)
                && let Value::Object(switch) = inner
                && switch.get("type") == Some(&json!("boolean"))
            {
                switch.insert("default".to_owned(), json!(false));
            }
        }
    }
    schema.into()
}

/// What stands at a path, in each of the alternatives that have it.
fn at<'a>(schema: &'a mut Value, path: &str) -> Vec<&'a mut Map<String, Value>> {
    let Value::Object(schema) = schema else {
        return Vec::new();
    };
    let Some((name, rest)) = path
        .split_once('.')
        .or((!path.is_empty()).then_some((path, "")))
    else {
        return vec![schema];
    };
    let mut found = Vec::new();
    for (key, inner) in schema {
        match (key.as_str(), inner) {
            ("properties", Value::Object(properties)) => {
                found.extend(properties.get_mut(name).map(|inner| at(inner, rest)));
            }
            ("oneOf", Value::Array(all)) => {
                found.extend(all.iter_mut().map(|one| at(one, path)));
            }
            ("items", items) if name == "0" => found.push(at(items, rest)),
            _ => {}
        }
    }
    found.into_iter().flatten().collect()
}

fn put_range(schema: &mut Map<String, Value>, field: NumberField) {
    let (low, high) = match field.range() {
        NumberRange::Length(range) => (
            i64::from(range.start().tenths()),
            i64::from(range.end().tenths()),
        ),
        NumberRange::Whole(range) => (*range.start(), *range.end()),
        NumberRange::Gauge(gauge) => {
            let (least, most) = (*gauge.start(), *gauge.end());
            let said = format!("They have to come to {least} to {most} over 10 cm.");
            let about = schema.get("description").and_then(Value::as_str);
            let about = format!("{} {said}", about.unwrap_or_default());
            schema.insert("description".to_owned(), about.into());
            // Over the smallest swatch and over the largest.
            let tenths = |stitches: u16, width| {
                let usual = Swatch::default();
                Swatch {
                    stitches,
                    width,
                    ..usual
                }
                .stitch_gauge_tenths()
            };
            let fewest =
                (1..=u16::MAX).find(|&n| tenths(n, *SWATCH_SIZE.start()) >= u64::from(least) * 10);
            let many = (1..=u16::MAX)
                .take_while(|&n| tenths(n, *SWATCH_SIZE.end()) <= u64::from(most) * 10);
            (
                i64::from(fewest.unwrap_or(1)),
                i64::from(many.last().unwrap_or(1)),
            )
        }
    };
    schema.insert("minimum".to_owned(), low.into());
    schema.insert("maximum".to_owned(), high.into());
}
