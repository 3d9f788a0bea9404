//! Recipes that are wrong in one place: each is refused with that place, with what is possible there and
//! with help that is not refused in its turn. The wrong recipes are generated: every value of rich
//! documents is replaced by values of other kinds and by numbers outside of its range, every field is
//! left out, and every object gets a field that no recipe has.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::error::{FieldError, Problem};
use evenloop_engine::recipe::{
    BindOff, CastOn, Cuff, Direction, Edge, Fit, NumberField, NumberRange, Recipe, Rib, Toe,
    ToeCastOn,
};
use evenloop_engine::text::{Wording, problem};
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::wire::{plan_document, read_recipe, write_recipe};
use serde_json::{Value, json};

/// Documents that have every field between them.
fn documents() -> Vec<Value> {
    let rich = json!({
        "direction": "cuff-down",
        "foot": {"length": 2450, "circumference": 2250, "heel_diagonal": 3000},
        "swatch": {"stitches": 30, "width": 1000, "rounds": 42, "height": 1000,
            "unwashed": {"width": 980, "height": 990}, "needle": 250},
        "fit": {"ease_percent": 10, "length_ease": 100, "high_instep": false, "wide_toes": false,
            "narrow_heel": false},
        "cuff": {"edge": {"rib": "2x2"}, "length": 400},
        "cast_on": "long-tail",
        "toe_cast_on": "magic",
        "bind_off": "plain",
        "leg": 1600,
        "calf": [{"height": 1000, "circumference": 2400}],
        "adjust": {"leg": 1, "foot": -1},
        "heel": {"kind": "flap-and-gusset", "texture": "slipped-stitch", "turn": "round", "rows": 32,
            "corners": true},
        "toe": {"kind": "wedge", "narrowing": "rounded"},
        "needles": {"method": "magic-loop", "seating": "even-halves"},
        "motif": {"rows": ["k2 p2"], "place": "front"},
        "yarns": {"stripes": [{"yarn": "A", "rounds": 2}, {"yarn": "B", "rounds": 3}], "cuff": "A",
            "heel": "B", "toe": "A"},
        "stitches": 64,
        "ball": {"grams": 100, "metres": 400},
    });
    let with = |changes: Value| {
        let mut document = rich.clone();
        for (name, value) in changes.as_object().into_iter().flatten() {
            document[name] = value.clone();
        }
        document
    };
    vec![
        rich.clone(),
        with(json!({
            "cuff": {"edge": {"hem": {"picot": true}}, "length": 300},
            "heel": {"kind": "flap-and-gusset", "height": 600},
            "toe": {"kind": "shaped", "foot": "left"},
            "needles": {"method": "two-circulars", "seating": "instep-and-sole"},
        })),
        with(json!({
            "cuff": {"edge": "rolled", "length": 300},
            "heel": {"kind": "short-row", "between": 2},
            "toe": {"kind": "round"},
            "needles": {"method": "five-dpns"},
        })),
        with(json!({
            "direction": "toe-up",
            "calf": [],
            "toe_cast_on": "provisional",
            "bind_off": "tubular",
            "heel": {"kind": "afterthought", "opening": "snipped"},
            "toe": {"kind": "short-row"},
        })),
    ]
}

/// The pointer of every value, with the values of objects and lists.
fn pointers(value: &Value, at: &str, found: &mut Vec<String>) {
    found.push(at.to_owned());
    match value {
        Value::Object(all) => {
            for (name, inner) in all {
                pointers(inner, &format!("{at}/{name}"), found);
            }
        }
        Value::Array(all) => {
            for (place, inner) in all.iter().enumerate() {
                pointers(inner, &format!("{at}/{place}"), found);
            }
        }
        _ => {}
    }
}

/// A document with one thing wrong, and the dotted path of it.
struct Bad {
    path: String,
    document: String,
}

fn dotted(pointer: &str) -> String {
    pointer.trim_start_matches('/').replace('/', ".")
}

fn bad_documents() -> Vec<Bad> {
    let mut all = Vec::new();
    for document in documents() {
        let mut places = Vec::new();
        pointers(&document, "", &mut places);
        for pointer in places {
            let path = dotted(&pointer);
            let here = document.pointer(&pointer).expect("it was found there");
            let mut put = |path: &str, value: Value| {
                let mut spoilt = document.clone();
                if let Some(there) = spoilt.pointer_mut(&pointer) {
                    *there = value;
                }
                all.push(Bad {
                    path: path.to_owned(),
                    document: spoilt.to_string(),
                });
            };
            if path.is_empty() {
                continue;
            }
            for other in [
                json!("strange"),
                json!(true),
                json!(null),
                json!([{"strange": 1}]),
                json!({"strange": 1}),
                json!(-1),
                json!(22.5),
                json!(1e30),
                json!(99_999_999_999_u64),
            ] {
                // What is no other kind is right or another thing's fault.
                let fields = |value: &Value| value.as_object().cloned().unwrap_or_default();
                let strange = here.is_object() && other.is_object();
                let path = match strange {
                    true if fields(here).contains_key("kind") => format!("{path}.kind"),
                    true if fields(here).contains_key("method") => format!("{path}.method"),
                    true => format!("{path}.strange"),
                    false if here.is_array() && other.is_array() => format!("{path}.0"),
                    false => path.clone(),
                };
                put(&path, other);
            }
            if let Value::Object(fields) = here {
                let mut more = fields.clone();
                more.insert("strange".to_owned(), json!(1));
                put(&format!("{path}.strange"), more.into());
                for name in fields.keys() {
                    let mut fewer = fields.clone();
                    fewer.remove(name);
                    // The edge is a word or one of two fields: without its field it is wrong itself.
                    let path = match path.as_str() {
                        "cuff.edge" => path.clone(),
                        _ => format!("{path}.{name}"),
                    };
                    put(&path, fewer.into());
                }
            }
            if let Some(field) = NumberField::at(&path) {
                let (low, high) = match field.range() {
                    NumberRange::Length(range) => {
                        (range.start().tenths().into(), range.end().tenths().into())
                    }
                    NumberRange::Whole(range) => (*range.start(), *range.end()),
                    NumberRange::Gauge(range) => (1, i64::from(*range.end()) * 4),
                };
                put(&path, json!(low - 1));
                put(&path, json!(high + 1));
            }
        }
        for name in document.as_object().expect("an object").keys() {
            let mut fewer = document.clone();
            fewer.as_object_mut().expect("an object").remove(name);
            all.push(Bad {
                path: name.clone(),
                document: fewer.to_string(),
            });
        }
    }
    all
}

/// Whether a document has something other than `null` there.
fn document_has(document: &str, path: &str) -> bool {
    let document: Value = serde_json::from_str(document).expect("JSON");
    let pointer = format!("/{}", path.replace('.', "/"));
    document
        .pointer(&pointer)
        .is_some_and(|there| !there.is_null())
}

/// Words of a parser, which tell nobody what to do.
const PARSER: [&str; 7] = [
    "invalid type",
    "invalid value",
    "expected",
    "missing field",
    "unknown",
    "at line",
    "did not match",
];

#[test]
fn what_is_wrong_is_said_at_its_field() {
    let mut refused = 0;
    for Bad { path, document } in bad_documents() {
        let left_out = !document_has(&document, &path);
        if left_out && read_recipe(&document).is_ok() {
            // What need not be there has its usual value, which may go ill with others.
            continue;
        }
        let Err(why) = plan_document(&document) else {
            // What may be left out, or is as good as what stood there.
            continue;
        };
        refused += 1;
        let fields = why.fields();
        // A list of another kind is wrong at its first place or as a whole.
        let there = |error: &&FieldError| {
            *error.field == *path || error.field.starts_with(&format!("{path}."))
        };
        let error = fields.iter().find(there);
        let error = error.unwrap_or_else(|| panic!("{path}: {fields:?} in {document}"));
        let said = problem(&error.problem, Wording::default());
        assert!(!said.help.is_empty(), "{path}");
        let said = format!("{} {}", said.message, said.help);
        for word in PARSER {
            assert!(!said.contains(word), "{path}: {said}");
        }
    }
    assert!(refused > 900, "{refused}");
}

#[test]
fn a_field_that_stands_twice_is_named() {
    let usual = write_recipe(&Recipe::default());
    let twice = usual.replacen("\"foot\":{", "\"foot\":{\"length\":2300,", 1);
    let refused = read_recipe(&twice).expect_err("the length stands twice");
    assert_eq!(refused.len(), 1);
    assert_eq!(refused[0].field, "foot.length");
    assert_eq!(refused[0].problem, Problem::FieldTwice);
}

#[test]
fn what_is_no_json_is_said_with_its_place() {
    for text in ["", "{", "[1,", "{\"foot\": 1e400}", "nothing"] {
        let refused = read_recipe(text).expect_err("no JSON");
        assert_eq!(refused[0].field, "recipe");
        assert!(matches!(
            refused[0].problem,
            Problem::RecipeUnreadable { .. }
        ));
    }
    for text in ["null", "1", "\"foot\"", "[]"] {
        let refused = read_recipe(text).expect_err("no recipe");
        assert_eq!(refused[0].field, "recipe");
        assert!(matches!(
            refused[0].problem,
            Problem::ValueUnreadable { .. }
        ));
    }
}

/// The first length or whole number in a text, in thousandths of what it counts.
fn first_number(text: &str) -> Option<f64> {
    let text = text
        .replace('¼', ".25")
        .replace('½', ".5")
        .replace('¾', ".75");
    let start = text.find(|c: char| c.is_ascii_digit() || c == '-' || c == '.')?;
    let digits = |c: char| c.is_ascii_digit() || c == '.' || c == '-';
    let end = text[start..]
        .find(|c| !digits(c))
        .map_or(text.len(), |end| start + end);
    text[start..end].trim_end_matches('.').parse().ok()
}

/// No range denies itself: what is just outside is said as outside, in both units.
#[test]
fn no_range_holds_what_it_refuses() {
    let document = read_recipe(&documents()[0].to_string()).expect("a recipe");
    let mut seen = 0;
    for field in NumberField::all() {
        let NumberRange::Length(range) = field.range() else {
            continue;
        };
        let outside = [
            range.start().tenths().checked_sub(1),
            Some(range.end().tenths() + 1),
        ];
        for tenths in outside.into_iter().flatten() {
            let mut recipe = document.clone();
            let number = evenloop_engine::recipe::Number::Length(Length(tenths));
            field.set(&mut recipe, number);
            if field.get(&recipe) != Some(number) {
                continue;
            }
            let errors = recipe.check().expect_err("it is out of range");
            let error = errors.iter().find(|error| error.field == field.path());
            let error = error.unwrap_or_else(|| panic!("{field:?}: {errors:?}"));
            for unit in [LengthUnit::Cm, LengthUnit::Inch] {
                let wording = Wording {
                    unit,
                    ..Wording::default()
                };
                let said = problem(&error.problem, wording).message;
                let (value, possible) = said.split_once("; it can be ").expect("a range");
                let (least, most) = possible.split_once(" to ").expect("two ends");
                let value = value.rsplit(" is ").next().and_then(first_number);
                let (value, least, most) = (
                    value.expect("a number"),
                    first_number(least).expect("a number"),
                    first_number(most).expect("a number"),
                );
                assert!(!(least..=most).contains(&value), "{said}");
                seen += 1;
            }
        }
    }
    assert!(seen > 40, "{seen}");
}

/// Recipes with numbers on both sides of what is possible.
fn refused_numbers() -> Vec<Recipe> {
    let usual = Recipe::default();
    let mut all = Vec::new();
    for stitches in 28..=124 {
        for width in [0_u16, 3, 5, 11, 23] {
            let motif = (width > 0).then(|| evenloop_engine::recipe::Motif {
                rows: vec![format!("k{width}").parse().expect("a row")],
                place: evenloop_engine::recipe::MotifPlacement::AllRound,
                ..evenloop_engine::recipe::Motif::default()
            });
            all.push(Recipe {
                stitches: Some(stitches),
                motif,
                ..usual.clone()
            });
        }
    }
    for length in 90..=340 {
        for (stitches, rounds) in [(30, 42), (20, 20), (48, 50), (16, 18)] {
            for asked in [None, Some(64), Some(120)] {
                let mut recipe = usual.clone();
                recipe.foot.length = Length::mm(length);
                (recipe.swatch.stitches, recipe.swatch.rounds) = (stitches, rounds);
                recipe.stitches = asked;
                all.push(recipe.clone());
            }
        }
    }
    for tenths in (200..=1500).step_by(7) {
        for rounds in [18, 42, 80] {
            let mut recipe = usual.clone();
            recipe.swatch.rounds = rounds;
            let number = evenloop_engine::recipe::Number::Length(Length(tenths));
            NumberField::HeelHeight.set(&mut recipe, number);
            all.push(recipe.clone());
        }
    }
    for rounds in -99..=0 {
        let mut recipe = usual.clone();
        recipe.adjust.leg = rounds;
        all.push(recipe.clone());
        recipe.adjust.leg = 0;
        recipe.adjust.foot = rounds;
        all.push(recipe.clone());
    }
    all
}

/// What is offered as help is not refused with the same problem.
#[test]
fn what_helps_is_not_refused() {
    let (mut offers, mut feet) = (0, 0);
    let mut try_all = |recipe: &Recipe| {
        let Err(why) = evenloop_engine::plan::make(recipe) else {
            return;
        };
        for error in why.fields() {
            let same = |recipe: &Recipe| match evenloop_engine::plan::make(recipe) {
                Ok(_) => false,
                Err(why) => why.fields().iter().any(|other| other.field == error.field),
            };
            match &error.problem {
                Problem::StitchesNotQuartered { below, above, .. }
                | Problem::RepeatsNotWhole { below, above, .. } => {
                    for offered in [below, above].into_iter().flatten() {
                        let mut mended = recipe.clone();
                        mended.stitches = Some(*offered);
                        let unit = matches!(error.problem, Problem::StitchesNotQuartered { .. });
                        // A motif wants more than a multiple of 4, and says so next.
                        assert!(
                            !same(&mended) || (unit && recipe.motif.is_some()),
                            "{error:?}"
                        );
                        offers += 1;
                    }
                }
                Problem::FootTooShort { shortest, .. } => {
                    if let Some(shortest) = shortest {
                        let mut mended = recipe.clone();
                        mended.foot.length = *shortest;
                        assert!(!same(&mended), "{error:?}");
                        offers += 1;
                    }
                    feet += 1;
                }
                Problem::FlapRowsOutOfRange {
                    least_height,
                    most_height,
                    ..
                } => {
                    for offered in [least_height, most_height] {
                        let mut mended = recipe.clone();
                        let number = evenloop_engine::recipe::Number::Length(*offered);
                        NumberField::HeelHeight.set(&mut mended, number);
                        assert!(!same(&mended), "{error:?}");
                        offers += 1;
                    }
                }
                Problem::FootRoundsMissing { most } | Problem::LegRoundsLeftOut { most } => {
                    let mut mended = recipe.clone();
                    let rounds = -i16::try_from(*most).expect("a few rounds");
                    if error.field == "adjust.leg" {
                        mended.adjust.leg = rounds;
                    } else {
                        mended.adjust.foot = rounds;
                    }
                    assert!(!same(&mended), "{error:?}");
                    offers += 1;
                }
                _ => {}
            }
        }
    };
    for recipe in refused_numbers() {
        try_all(&recipe);
    }
    assert!(offers > 300 && feet > 100, "{offers} {feet}");
}

/// A tubular edge on a cuff that is no rib of one and one or two and two, and a chain under a toe that is knitted
/// round from the start: what is said to help makes a sock.
#[test]
fn an_edge_that_cannot_be_is_refused_and_another_helps() {
    let cuff = |edge| Cuff {
        edge,
        ..Cuff::default()
    };
    let no_ribs = [
        Edge::Rib(Rib::ThreeByOne),
        Edge::Rolled,
        Edge::Hem { picot: true },
    ];
    for edge in no_ribs {
        let down = Recipe {
            cast_on: CastOn::Tubular,
            cuff: cuff(edge),
            ..Recipe::default()
        };
        assert_eq!(refused_at(&down), ["cast_on"], "{edge:?}");
        let up = Recipe {
            direction: Direction::ToeUp,
            bind_off: BindOff::Tubular,
            cuff: cuff(edge),
            ..Recipe::default()
        };
        // a hem's live stitches are sewn down, whatever the choice
        let wrong: &[&str] = match edge {
            Edge::Hem { .. } => &[],
            _ => &["bind_off"],
        };
        assert_eq!(refused_at(&up), wrong, "{edge:?}");
        for recipe in [down, up] {
            let ribbed = Recipe {
                cuff: cuff(Edge::Rib(Rib::OneByOne)),
                ..recipe.clone()
            };
            let other = Recipe {
                cast_on: CastOn::SlipKnot,
                bind_off: BindOff::Sewn,
                ..recipe.clone()
            };
            let tender = Recipe {
                fit: Fit {
                    tender_legs: true,
                    ..recipe.fit
                },
                ..recipe
            };
            for helped in [ribbed, other, tender] {
                assert_eq!(refused_at(&helped), [""; 0], "{helped:?}");
            }
        }
    }
    let chained = |toe| Recipe {
        direction: Direction::ToeUp,
        toe_cast_on: ToeCastOn::Provisional,
        toe,
        ..Recipe::default()
    };
    assert_eq!(refused_at(&chained(Toe::default())), ["toe_cast_on"]);
    assert_eq!(refused_at(&chained(Toe::ShortRow)), [""; 0]);
}

/// The fields for which there is no such sock.
fn refused_at(recipe: &Recipe) -> Vec<String> {
    match plan_document(&write_recipe(recipe)) {
        Ok(_) => Vec::new(),
        Err(error) => {
            let fields = error.fields().iter();
            fields.map(|error| error.field.to_string()).collect()
        }
    }
}
