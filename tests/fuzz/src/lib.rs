//! What the targets share: real documents to start from, and a way to spoil them that knows they
//! are JSON. Uses nothing of the engine but what it shows to everyone.

#[path = "../../tests/snapshots/socks.rs"]
#[allow(dead_code, reason = "which hand knits changes words only")]
mod socks;

use std::sync::LazyLock;

use arbitrary::{Result, Unstructured};
use evenloop_engine::wire::{plan_document, write_recipe};
use serde_json::{Map, Number, Value};

/// One recipe document of each construction, by name.
pub static RECIPES: LazyLock<Vec<(String, String)>> = LazyLock::new(|| {
    let all = socks::socks();
    all.iter()
        .map(|sock| (sock.file(), write_recipe(&sock.recipe)))
        .collect()
});

/// Their plan documents.
pub static PLANS: LazyLock<Vec<(String, String)>> = LazyLock::new(|| {
    let plan = |(name, recipe): &(String, String)| match plan_document(recipe) {
        Ok(plan) => (name.clone(), plan),
        Err(why) => panic!("{name}: {why:?}"),
    };
    RECIPES.iter().map(plan).collect()
});

/// Documents read as JSON, once.
pub fn values(documents: &[(String, String)]) -> Vec<Value> {
    let read = |(name, text): &(String, String)| match serde_json::from_str(text) {
        Ok(value) => value,
        Err(why) => panic!("{name}: {why}"),
    };
    documents.iter().map(read).collect()
}

/// One of the documents with up to eight of its nodes replaced, removed or doubled.
pub fn spoiled(documents: &[Value], u: &mut Unstructured<'_>) -> Result<String> {
    let mut value = u.choose(documents)?.clone();
    for _ in 0..u.int_in_range(0..=8)? {
        let at = u.choose_index(nodes(&value))?;
        let mut at = at;
        if let Some(node) = node_mut(&mut value, &mut at) {
            spoil(node, documents, u)?;
        }
    }
    Ok(value.to_string())
}

fn nodes(value: &Value) -> usize {
    1 + match value {
        Value::Array(all) => all.iter().map(nodes).sum::<usize>(),
        Value::Object(all) => all.values().map(nodes).sum(),
        _ => 0,
    }
}

/// The node so many nodes after this one, depth first.
fn node_mut<'a>(value: &'a mut Value, at: &mut usize) -> Option<&'a mut Value> {
    if *at == 0 {
        return Some(value);
    }
    *at -= 1;
    match value {
        Value::Array(all) => all.iter_mut().find_map(|v| node_mut(v, at)),
        Value::Object(all) => all.values_mut().find_map(|v| node_mut(v, at)),
        _ => None,
    }
}

/// Numbers at which something may break.
const EDGES: [u64; 16] = [
    0,
    1,
    2,
    3,
    7,
    8,
    32,
    120,
    255,
    256,
    65_535,
    65_536,
    4_294_967_295,
    4_294_967_296,
    9_223_372_036_854_775_807,
    u64::MAX,
];

/// Operations, and pieces of them.
const WORDS: [&str; 42] = [
    "k1", "p2", "s1", "k2tog", "ssk", "p2tog", "pu4", "puc", "t", "/", "join", "flat8", "lo@4",
    "lc@0", "bor", "m+L", "m>R", "m-B", "m+L@3", "g0", "g2", "gx", "off", "kt2", "yo", "td", "kd1",
    "pd1", "m1l", "m1r", "cc4", "bo3", "w8", "ow8", "[k1 yo]4", "draw8", "cr2/2", "clp2/1", "row3",
    "yB", "co8+4", "fold4",
];

fn spoil(node: &mut Value, documents: &[Value], u: &mut Unstructured<'_>) -> Result<()> {
    match node {
        Value::Number(n) if u.ratio(3, 4)? => {
            let old = n.as_u64().unwrap_or(0);
            let new = match u.int_in_range(0..=3)? {
                0 => *u.choose(&EDGES)?,
                1 => old.wrapping_add(u.int_in_range(0..=4)?),
                2 => old.wrapping_sub(u.int_in_range(0..=4)?),
                _ => u64::from(u.arbitrary::<u16>()?),
            };
            *n = Number::from(new);
        }
        Value::String(text) if text.contains(' ') && u.ratio(3, 4)? => words(text, u)?,
        Value::Array(all) if !all.is_empty() && u.ratio(3, 4)? => {
            let at = u.choose_index(all.len())?;
            if u.arbitrary()? {
                all.remove(at);
            } else {
                let to = u.choose_index(all.len())?;
                let one = all[at].clone();
                all.insert(to, one);
            }
        }
        Value::Object(all) if !all.is_empty() && u.ratio(1, 2)? => {
            if u.arbitrary()? {
                let keys: Vec<String> = all.keys().cloned().collect();
                all.remove(u.choose(&keys)?);
            } else if let Value::Object(donor) = another(documents, u)? {
                all.extend(donor);
            }
        }
        _ => *node = another(documents, u)?,
    }
    Ok(())
}

/// One operation of a list taken out, put in or changed.
fn words(text: &mut String, u: &mut Unstructured<'_>) -> Result<()> {
    let mut all: Vec<&str> = text.split(' ').collect();
    let at = u.choose_index(all.len())?;
    match u.int_in_range(0..=2)? {
        0 => {
            all.remove(at);
        }
        1 => all.insert(at, u.choose(&WORDS)?),
        _ => all[at] = u.choose(&WORDS)?,
    }
    *text = all.join(" ");
    Ok(())
}

/// Something that stands elsewhere in a document, or nowhere.
fn another(documents: &[Value], u: &mut Unstructured<'_>) -> Result<Value> {
    Ok(match u.int_in_range(0..=5)? {
        0 => Value::Null,
        1 => Value::Bool(u.arbitrary()?),
        2 => Value::from(u.arbitrary::<i64>()?),
        3 => Value::from(u.arbitrary::<&str>()?),
        4 => Value::Object(Map::new()),
        _ => {
            let mut donor = u.choose(documents)?.clone();
            let mut at = u.choose_index(nodes(&donor))?;
            node_mut(&mut donor, &mut at).map_or(Value::Null, |v| v.take())
        }
    })
}
