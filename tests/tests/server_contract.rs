//! The server's written description (`server/openapi.json`) against what it really does: every range
//! and choice is the engine's, every documented answer is given, and every answer is as documented.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::collections::BTreeSet;
use std::fmt::Display;
use std::io::Write;
use std::net::SocketAddr;
use std::ops::RangeInclusive;

use evenloop_engine::recipe::{self, NumberField, NumberRange, Recipe, Unit};
use evenloop_engine::units::Length;
use evenloop_engine::wire;
use evenloop_tests::description::document;
use evenloop_tests::flood;
use evenloop_tests::model::recipes::seeded;
use evenloop_tests::server::Server;
use jsonschema::Validator;
use reqwest::{Client, RequestBuilder, Response};
use serde_json::{Map, Value, json};

/// A check by one of the document's schemas.
fn validator(document: &Value, name: &str) -> Validator {
    let mut schema = document["components"]["schemas"][name].clone();
    schema["components"] = document["components"].clone();
    jsonschema::draft202012::new(&schema).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn assert_fits(validator: &Validator, value: &Value) {
    let wrong: Vec<String> = validator
        .iter_errors(value)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    assert!(wrong.is_empty(), "{wrong:#?} in {value}");
}

/// The parts of a recipe's schema that have a range, by dotted path.
fn ranges(schema: &Value, path: &str, found: &mut Vec<(String, i64, i64)>) {
    let bound = |name: &str| schema.get(name).and_then(Value::as_i64);
    if let (Some(low), Some(high)) = (bound("minimum"), bound("maximum")) {
        found.push((path.to_owned(), low, high));
    }
    let below = |name: &str| match path {
        "" => name.to_owned(),
        _ => format!("{path}.{name}"),
    };
    for (name, inner) in schema["properties"].as_object().into_iter().flatten() {
        ranges(inner, &below(name), found);
    }
    for inner in schema["oneOf"].as_array().into_iter().flatten() {
        ranges(inner, path, found);
    }
    if let Some(items) = schema.get("items") {
        ranges(items, &below("0"), found);
    }
}

fn line<T: Into<i64> + Copy>(path: &str, range: &RangeInclusive<T>) -> (String, i64, i64) {
    (
        path.to_owned(),
        (*range.start()).into(),
        (*range.end()).into(),
    )
}

fn long(path: &str, range: &RangeInclusive<Length>) -> (String, i64, i64) {
    let (low, high) = (range.start().tenths(), range.end().tenths());
    (path.to_owned(), low.into(), high.into())
}

/// The fewest and most that can be counted on a swatch: the gauge's range over the smallest and the
/// largest swatch, a gauge being rounded to tenths.
fn countable(gauge: &RangeInclusive<u16>, of: impl Fn(u16, Length) -> u64) -> RangeInclusive<u16> {
    let (least, most) = (u64::from(*gauge.start()) * 10, u64::from(*gauge.end()) * 10);
    let fits = |count: &u16| {
        let size = &recipe::SWATCH_SIZE;
        let mut sizes = size.start().tenths()..=size.end().tenths();
        sizes.any(|size| (least..=most).contains(&of(*count, Length(size))))
    };
    let low = (1..=u16::MAX).find(fits).expect("some count fits");
    let high = (low..=1000).rfind(fits).expect("some count fits");
    low..=high
}

#[test]
fn every_range_is_the_engine_s() {
    use evenloop_engine::swatch::Swatch;
    let stitches = countable(&recipe::STITCH_GAUGE, |stitches, width| {
        Swatch {
            stitches,
            width,
            ..Swatch::default()
        }
        .stitch_gauge_tenths()
    });
    let rounds = countable(&recipe::ROUND_GAUGE, |rounds, height| {
        Swatch {
            rounds,
            height,
            ..Swatch::default()
        }
        .round_gauge_tenths()
    });
    let once = NumberField::all()
        .into_iter()
        .filter(|field| field.place().unwrap_or(0) == 0);
    let mut expected: Vec<_> = once
        .map(|field| {
            let path = field.path();
            match (field.range(), field.unit()) {
                (NumberRange::Length(range), _) => long(&path, &range),
                (NumberRange::Whole(range), _) => line(&path, &range),
                (NumberRange::Gauge(_), Unit::Stitches) => line(&path, &stitches),
                (NumberRange::Gauge(_), _) => line(&path, &rounds),
            }
        })
        .collect();
    let schema = &document()["components"]["schemas"]["Recipe"];
    let mut found = Vec::new();
    ranges(schema, "", &mut found);
    expected.sort();
    found.sort();
    assert_eq!(found, expected);

    let properties = &schema["properties"];
    assert_eq!(properties["calf"]["maxItems"], recipe::MOST_GIRTHS);
    let rows = &properties["motif"]["properties"]["rows"];
    let stripes = &properties["yarns"]["properties"]["stripes"];
    for (list, range) in [(rows, recipe::MOTIF_ROWS), (stripes, recipe::STRIPES)] {
        assert_eq!(list["minItems"], *range.start());
        assert_eq!(list["maxItems"], *range.end());
    }
}

#[test]
fn a_recipe_is_described_as_the_engine_s_types_have_it() {
    assert!(
        document()["components"]["schemas"]["Recipe"] == recipe::schema(),
        "run: cargo run --release --package evenloop-tests --example recipe_schema"
    );
}

/// Puts a value into a recipe at a dotted path, making what is missing on the way.
fn put(recipe: &mut Value, path: &str, value: i64) {
    let pointer = format!("/{}", path.replace('.', "/"));
    if let Some(there) = recipe.pointer_mut(&pointer) {
        *there = json!(value);
        return;
    }
    let (parent, name) = pointer.rsplit_once('/').expect("a pointer has a name");
    let parent = recipe
        .pointer_mut(parent)
        .expect("the sample has the parent");
    parent[name] = json!(value);
}

/// A recipe that has everything which the path leads through.
fn sample_for(path: &str) -> Value {
    let mut sample = json!({
        "foot": { "length": 2400 },
        "swatch": { "stitches": 30, "width": 1000, "rounds": 42, "height": 1000,
            "unwashed": { "width": 1000, "height": 1000 },
            "pattern": { "stitches": 30, "width": 1000 },
            "guess": { "yarn": "fingering", "band_stitches": 28 },
            "pattern_rounds": { "rounds": 42, "height": 1000 },
            "flap": { "rows": 32, "height": 650 } },
        "fit": { "ease_percent": 10, "length_ease": 100 },
        "cuff": { "length": 400 },
        "calf": [{ "height": 1000, "circumference": 2500 }],
        "adjust": {},
        "heel": { "kind": "flap-and-gusset" },
        "motif": { "rows": ["k2 p2"], "place": "front" },
        "yarns": { "stripes": [{ "yarn": "A", "rounds": 2 }] },
        "ball": { "grams": 100, "metres": 400 },
    });
    if path == "heel.between" {
        sample["heel"] = json!({ "kind": "short-row" });
    }
    sample
}

#[tokio::test]
async fn what_is_out_of_its_range_is_refused_by_its_name() {
    let document = document();
    let check = validator(&document, "Recipe");
    let mut all = Vec::new();
    ranges(&document["components"]["schemas"]["Recipe"], "", &mut all);
    assert!(all.len() > 20);
    let server = Server::start();
    let mut told_in_numbers = 0;
    for (path, low, high) in all {
        for outside in [low - 1, high + 1] {
            let mut recipe = sample_for(&path);
            assert_fits(&check, &recipe);
            put(&mut recipe, &path, outside);
            assert!(!check.is_valid(&recipe), "{path}: {outside}");
            let answer = post(&server, "application/json", recipe.to_string());
            let answer = answer.send().await.expect("the server answers");
            assert_eq!(answer.status(), 422, "{path}: {outside}");
            let problem: Value = json_of(answer).await;
            let named = problem["errors"]
                .as_array()
                .into_iter()
                .flatten()
                .any(|error| error["field"] == *path);
            assert!(named, "{path}: {outside}: {problem}");
            // A program is told the same as a person, in the recipe's own numbers.
            let ranges = problem["errors"].as_array().into_iter().flatten();
            for error in
                ranges.filter(|error| error["field"] == *path && error["code"] == "out-of-range")
            {
                let told = &error["arguments"];
                assert_eq!(told["value"], outside, "{path}: {problem}");
                assert_eq!(told["least"], low, "{path}: {problem}");
                assert_eq!(told["most"], high, "{path}: {problem}");
                told_in_numbers += 1;
            }
        }
    }
    assert!(told_in_numbers > 20, "{told_in_numbers}");
}

#[test]
fn every_sock_in_range_fits_the_description() {
    let document = document();
    let check = validator(&document, "Recipe");
    let mut seen = BTreeSet::new();
    let mut in_range = 0;
    for recipe in seeded(4_000).chain([Recipe::default()]) {
        let value: Value =
            serde_json::from_str(&wire::write_recipe(&recipe)).expect("a recipe is JSON");
        if recipe.check().is_ok() {
            assert_fits(&check, &value);
            in_range += 1;
            strings(&value, &mut seen);
        }
    }
    assert!(in_range > 2_000, "{in_range}");
    // And nothing is described that no sock has.
    let mut described = BTreeSet::new();
    choices(&document["components"]["schemas"]["Recipe"], &mut described);
    let mut unseen: Vec<_> = described.difference(&seen).collect();
    // The parts that a written pattern may leave to us; the made-up socks follow none.
    unseen.retain(|word| !["cuff", "leg", "heel", "foot", "toe"].contains(&word.as_str()));
    assert!(unseen.is_empty(), "no sock has {unseen:?}");
}

fn strings(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::String(text) => drop(found.insert(text.clone())),
        Value::Array(all) => all.iter().for_each(|inner| strings(inner, found)),
        Value::Object(all) => all.values().for_each(|inner| strings(inner, found)),
        _ => {}
    }
}

/// Every text that a schema offers to choose. What is the default need not be written.
fn choices(schema: &Value, found: &mut BTreeSet<String>) {
    let mut offered = BTreeSet::new();
    strings(&json!([schema["enum"], schema["const"]]), &mut offered);
    let default = schema["default"].as_str().unwrap_or_default();
    found.extend(offered.into_iter().filter(|text| text != default));
    match schema {
        Value::Array(all) => all.iter().for_each(|inner| choices(inner, found)),
        Value::Object(all) => all.values().for_each(|inner| choices(inner, found)),
        _ => {}
    }
}

/// Numbers that are always the same (a linear congruential generator; constants by Knuth, MMIX).
struct Lots(u64);

impl Lots {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap_or(0) % end.max(1)
    }

    fn of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }
}

/// Anything that a schema of this description allows.
fn invent(schema: &Value, lots: &mut Lots) -> Value {
    if let Some(constant) = schema.get("const") {
        return constant.clone();
    }
    for one_of in ["enum", "oneOf"] {
        if let Some(all) = schema[one_of].as_array() {
            let one = lots.of(all).clone();
            return if one_of == "enum" {
                one
            } else {
                invent(&one, lots)
            };
        }
    }
    let kind = match &schema["type"] {
        Value::Array(kinds) => lots.of(kinds).clone(),
        kind => kind.clone(),
    };
    match kind.as_str() {
        Some("integer") => {
            // which size of a pattern has no range of its own: that is the pattern's
            let bound = |name: &str, none: i64| schema[name].as_i64().unwrap_or(none);
            let step = schema["multipleOf"].as_i64().unwrap_or(1);
            let (low, high) = (bound("minimum", 0), bound("maximum", 8));
            let steps = usize::try_from((high - low) / step + 1).expect("ranges ascend");
            json!(low + step * i64::try_from(lots.below(steps)).expect("ranges are short"))
        }
        Some("boolean") => json!(lots.below(2) == 1),
        Some("string") => json!(*lots.of(&["k2 p2", "yo k2tog", "kt1 s1 ssk yo", "cl2/2 crp1/1"])),
        Some("array") => {
            let end = schema["maxItems"].as_u64().unwrap_or(5);
            let begin = schema["minItems"].as_u64().unwrap_or(0);
            let spread = usize::try_from(end - begin + 1).expect("lists are short");
            let count = usize::try_from(begin).expect("lists are short") + lots.below(spread);
            (0..count).map(|_| invent(&schema["items"], lots)).collect()
        }
        Some("object") => {
            let required = schema["required"].as_array().cloned().unwrap_or_default();
            let mut made = Map::new();
            for (name, inner) in schema["properties"].as_object().into_iter().flatten() {
                if required.contains(&json!(name)) || lots.below(2) == 1 {
                    made.insert(name.clone(), invent(inner, lots));
                }
            }
            made.into()
        }
        _ => Value::Null,
    }
}

#[test]
fn whatever_the_description_allows_is_read_as_a_recipe() {
    let document = document();
    let schema = &document["components"]["schemas"]["Recipe"];
    let check = validator(&document, "Recipe");
    let mut lots = Lots(1);
    for _ in 0..4_000 {
        let recipe = invent(schema, &mut lots);
        assert_fits(&check, &recipe);
        let text = recipe.to_string();
        if text.len() <= wire::RECIPE_LIMIT {
            let read = wire::read_recipe(&text);
            assert!(read.is_ok(), "{read:?}: {text}");
        }
    }
}

#[test]
fn every_plan_is_as_described() {
    let document = document();
    let check = validator(&document, "Plan");
    let mut seen = BTreeSet::new();
    let mut plans = 0;
    let mut tender = Recipe::default();
    tender.fit.tender_legs = true;
    for recipe in seeded(1_500).chain([tender]) {
        let Ok(plan) = wire::plan_document(&wire::write_recipe(&recipe)) else {
            continue;
        };
        let plan: Value = serde_json::from_str(&plan).expect("a plan is JSON");
        assert_fits(&check, &plan);
        plans += 1;
        let outcome = plan["outcome"].as_object().expect("a plan has an outcome");
        seen.extend(outcome.keys().cloned());
        strings(&plan["outcome"], &mut seen);
    }
    assert!(plans > 300, "{plans}");
    let outcome = &document["components"]["schemas"]["Outcome"];
    let mut described = BTreeSet::new();
    choices(outcome, &mut described);
    let names = outcome["properties"].as_object().expect("it has fields");
    described.extend(names.keys().cloned());
    let mut unseen: Vec<_> = described.difference(&seen).collect();
    // The parts that a written pattern may leave to us; the made-up socks follow none.
    unseen.retain(|word| !["cuff", "leg", "heel", "foot", "toe"].contains(&word.as_str()));
    assert!(unseen.is_empty(), "no plan has {unseen:?}");
}

#[tokio::test]
async fn the_description_is_handed_out_and_whole() {
    let server = Server::start();
    let answer = Client::new().get(server.url("/api/openapi.json")).send();
    let handed_out: Value = json_of(answer.await.expect("the server answers")).await;
    let document = document();
    assert_eq!(handed_out, document);
    let mut references = BTreeSet::new();
    all_references(&document, &mut references);
    assert!(references.len() > 8);
    for reference in references {
        let pointer = reference.trim_start_matches('#');
        assert!(document.pointer(pointer).is_some(), "{reference}");
    }
}

fn all_references(value: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Array(all) => all.iter().for_each(|inner| all_references(inner, found)),
        Value::Object(all) => {
            strings(&all.get("$ref").cloned().unwrap_or_default(), found);
            all.values().for_each(|inner| all_references(inner, found));
        }
        _ => {}
    }
}

fn post(server: &Server, kind: &str, body: impl Into<reqwest::Body>) -> RequestBuilder {
    Client::new()
        .post(server.url("/api/plan"))
        .header("content-type", kind)
        .body(body)
}

async fn json_of(response: Response) -> Value {
    let text = response.text().await.expect("it has a body");
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{error}: {text}"))
}

/// What was asked and what came back.
struct Seen {
    path: String,
    status: u16,
    headers: Vec<(String, String)>,
    body: String,
}

/// Sends raw bytes and reads to the end of the answer.
fn raw(address: SocketAddr, path: &str, request: &str) -> Seen {
    let mut stream = flood::connect(address);
    stream
        .write_all(request.as_bytes())
        .expect("the server reads");
    read(path, &flood::read_all(stream))
}

/// What an answer says.
fn read(path: &str, answer: &str) -> Seen {
    let (head, body) = answer.split_once("\r\n\r\n").expect("an answer has a head");
    let mut lines = head.lines();
    let status = lines
        .next()
        .and_then(|line| line.split(' ').nth(1)?.parse().ok());
    Seen {
        path: path.to_owned(),
        status: status.expect("an answer has a status"),
        headers: lines
            .filter_map(|line| line.split_once(": "))
            .map(|(name, value)| (name.to_lowercase(), value.to_owned()))
            .collect(),
        body: body.to_owned(),
    }
}

fn request(method: &str, path: &str, headers: &str, body: impl Display) -> String {
    let body = body.to_string();
    let length = match method {
        "POST" => format!("Content-Length: {}\r\n", body.len()),
        _ => String::new(),
    };
    format!(
        "{method} {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n{length}{headers}\r\n{body}"
    )
}

/// Calls for every answer that is described.
fn call_for_all(server: &Server, document: &Value) -> Vec<Seen> {
    const JSON: &str = "Content-Type: application/json\r\n";
    let address = server.address();
    let recipe = document["paths"]["/api/plan"]["post"]["requestBody"]["content"]
        ["application/json"]["example"]
        .to_string();
    let mut seen = Vec::new();
    let huge = format!("X: {}\r\n", "x".repeat(70_000));
    let mut ask = |method: &str, path: &str, headers: &str, body: &str| {
        let bare = path.split('?').next().unwrap_or(path);
        seen.push(raw(address, bare, &request(method, path, headers, body)));
        let last = seen.last().expect("it was just put there");
        let tag = last.headers.iter().find(|(name, _)| name == "etag");
        tag.map(|(_, tag)| tag.clone())
    };
    let paths = document["paths"].as_object().expect("it has paths");
    for path in paths.keys().filter(|path| *path != "/api/plan") {
        if let Some(tag) = ask("GET", path, "", "") {
            ask("GET", path, &format!("If-None-Match: {tag}\r\n"), "");
            ask("GET", path, "If-Match: \"another\"\r\n", "");
            ask("GET", path, "Range: bytes=0-9\r\n", "");
            ask("GET", path, "Range: bytes=99999999-\r\n", "");
        }
        ask("GET", path, &huge, "");
    }
    ask("GET", "/plan?r=nothing", "", "");
    ask("POST", "/api/plan", JSON, &recipe);
    ask("POST", "/api/plan", JSON, "{");
    ask("POST", "/api/plan", JSON, "{}");
    ask("POST", "/api/plan", JSON, &" ".repeat(17_000));
    ask("POST", "/api/plan", "Content-Type: text/plain\r\n", &recipe);
    ask("POST", "/api/plan", &huge, &recipe);
    // More at once than there are turns, until some of both kinds are refused.
    let page = "/plan?r=nothing";
    let page = request("GET", page, "", "");
    for _ in 0..10 {
        let others = vec![page.as_str(); 100];
        let (plans, pages) = flood::overload(address, &recipe, &others);
        let refused = |answers: &[String]| {
            let refused = |answer: &&String| answer.starts_with("HTTP/1.1 503 ");
            answers.iter().find(refused).cloned()
        };
        if let (Some(plan), Some(page)) = (refused(&plans), refused(&pages)) {
            seen.push(read("/api/plan", &plan));
            seen.push(read("/plan", &page));
            break;
        }
    }
    // The connection is left open, so that the server has to lose patience.
    let unfinished =
        format!("POST /api/plan HTTP/1.1\r\nHost: x\r\n{JSON}Content-Length: 9\r\n\r\n{{");
    seen.push(raw(address, "/api/plan", &unfinished));
    seen
}

#[test]
fn every_answer_described_is_given_as_described() {
    let document = document();
    let server = Server::start();
    let mut described = BTreeSet::new();
    for (path, item) in document["paths"].as_object().expect("it has paths") {
        for operation in item.as_object().expect("a path has operations").values() {
            let responses = operation["responses"].as_object().expect("it answers");
            for status in responses.keys() {
                described.insert((path.clone(), status.clone()));
            }
        }
    }
    let mut given = BTreeSet::new();
    for answer in call_for_all(&server, &document) {
        let Seen {
            path,
            status,
            headers,
            body,
        } = answer;
        given.insert((path.clone(), status.to_string()));
        let operation = document["paths"][&path]
            .as_object()
            .expect("it is described");
        let operation = operation.values().next().expect("a path has an operation");
        let mut response = &operation["responses"][status.to_string()];
        if let Some(reference) = response["$ref"].as_str() {
            let pointer = reference.trim_start_matches('#');
            response = document.pointer(pointer).expect("it is described");
        }
        let header = |name: &str| {
            let found = headers.iter().find(|(there, _)| there == name);
            found.map(|(_, value)| value.split(';').next().unwrap_or_default().to_owned())
        };
        let Some(content) = response["content"].as_object() else {
            assert_eq!(body, "", "{path} {status}");
            continue;
        };
        let kind = header("content-type").unwrap_or_default();
        let schema = &content
            .get(&kind)
            .unwrap_or_else(|| panic!("{path} {status} is {kind:?}"))["schema"];
        let mut schema = schema.clone();
        schema["components"] = document["components"].clone();
        let check = jsonschema::draft202012::new(&schema).expect("the schema is one");
        // Of JSON a part is only text.
        let value = if kind.ends_with("json") && status != 206 {
            serde_json::from_str(&body).expect("it is JSON")
        } else {
            Value::String(body)
        };
        assert_fits(&check, &value);
        for (name, described) in response["headers"].as_object().into_iter().flatten() {
            let needed = described["required"] == true;
            assert!(
                !needed || header(name).is_some(),
                "{path} {status} lacks {name}"
            );
        }
    }
    // A mistake in planning is described, but no request that we know brings it about.
    let unprovoked = BTreeSet::from([("/api/plan".to_owned(), "500".to_owned())]);
    assert!(described.is_superset(&unprovoked));
    assert_eq!(given, &described - &unprovoked);
}
