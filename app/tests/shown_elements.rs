//! What becomes elements from text passes the boot script's check where the browser guards that (Trusted Types): the
//! parts of views without anything that changes, of which the framework makes a text, and what the app writes as text
//! itself, such as the plan on paper. All other elements of views are made one by one, past any text.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

mod assets;

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

use evenloop_app::base::Base;
use evenloop_app::routes::{self, Screen};
use evenloop_app::shell;
use evenloop_app::starters::STARTERS;

const BOOT: &str = include_str!("../../public/boot.js");

/// The elements that the boot script lets through.
fn let_through() -> BTreeSet<String> {
    let list = BOOT.split("const SHOWN =").nth(1).unwrap_or_default();
    let list = list.split(';').next().unwrap_or_default();
    let names = list
        .split('\'')
        .skip(1)
        .step_by(2)
        .flat_map(|part| part.split('|'));
    let mut all: BTreeSet<String> = names
        .filter(|name| !name.is_empty())
        .map(str::to_owned)
        .collect();
    if all.remove("h[1-6]") {
        all.extend((1..=6).map(|level| format!("h{level}")));
    }
    all
}

/// Whether the boot script lets an attribute through.
fn passes(name: &str, value: &str) -> bool {
    const REFUSED: [&str; 6] = ["on", "src", "style", "href", "form", "action"];
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-';
    let to_this_place = name == "href"
        && value.starts_with(['#', '?', '/'])
        && !value[1..].starts_with(['/', '\\']);
    to_this_place || name.chars().all(plain) && !REFUSED.iter().any(|begin| name.starts_with(begin))
}

/// The names of all elements of some markup.
fn elements(html: &str) -> BTreeSet<String> {
    let names = html.split('<').skip(1).map(|tag| {
        let name = tag.trim_start_matches('/');
        let end = name
            .find(|c: char| !c.is_ascii_alphanumeric())
            .unwrap_or(name.len());
        name[..end].to_owned()
    });
    // A renderer's marks have none.
    names.filter(|name| !name.is_empty()).collect()
}

/// Reads an element of a view in which nothing changes: the names of its elements, its attributes, and what comes
/// after it. Nothing where something in it does change.
fn unchanging<'a>(text: &'a str, found: &mut Found<'a>) -> Option<&'a str> {
    let text = text.strip_prefix('<')?;
    let (name, mut rest) = word(text)?;
    if !name.starts_with(|c: char| c.is_ascii_lowercase()) {
        return None;
    }
    found.elements.push(name);
    loop {
        rest = rest.trim_start();
        if let Some(after) = rest.strip_prefix("/>") {
            return Some(after);
        }
        if let Some(children) = rest.strip_prefix('>') {
            rest = children;
            break;
        }
        let (attribute, after) = word(rest)?;
        rest = after;
        let mut value = "";
        if let Some(after) = rest.strip_prefix("=\"") {
            (value, rest) = after.split_once('"')?;
        }
        found.attributes.push((attribute, value));
    }
    loop {
        rest = &rest[rest.find(['<', '{', '}'])?..];
        if let Some(after) = rest.strip_prefix("</") {
            let (closed, after) = word(after)?;
            return after.strip_prefix('>').filter(|_| closed == name);
        }
        rest = unchanging(rest, found)?;
    }
}

/// A name at the beginning of a text, and what comes after it.
fn word(text: &str) -> Option<(&str, &str)> {
    let of_name = |c: char| c.is_ascii_alphanumeric() || c == '-';
    let end = text.find(|c| !of_name(c))?;
    (end > 0).then(|| text.split_at(end))
}

#[derive(Default)]
struct Found<'a> {
    elements: Vec<&'a str>,
    attributes: Vec<(&'a str, &'a str)>,
}

/// All source files below a folder, but for tests and the document itself, which the server alone writes.
fn sources(folder: &Path) -> Vec<PathBuf> {
    let mut all = Vec::new();
    for entry in fs::read_dir(folder).expect("the sources are there") {
        let path = entry.expect("they can be read").path();
        let name = path
            .file_name()
            .and_then(|name| name.to_str())
            .unwrap_or_default();
        if path.is_dir() && name != "tests" {
            all.extend(sources(&path));
        } else if path.extension().is_some_and(|extension| extension == "rs")
            && !["tests.rs", "shell.rs"].contains(&name)
        {
            all.push(path);
        }
    }
    all
}

#[test]
fn every_unchanging_part_of_a_view_is_let_through() {
    let let_through = let_through();
    let mut parts = 0;
    for path in sources(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/src"))) {
        let source = fs::read_to_string(&path).expect("a source");
        for (at, _) in source.match_indices('<') {
            let mut found = Found::default();
            if unchanging(&source[at..], &mut found).is_none() {
                continue;
            }
            parts += 1;
            for name in found.elements {
                assert!(let_through.contains(name), "{name} in {}", path.display());
            }
            for (name, value) in found.attributes {
                assert!(passes(name, value), "{name} in {}", path.display());
            }
        }
    }
    assert!(parts > 20, "only {parts} unchanging parts were found");
}

/// Pictures are written piece by piece: each piece that begins with an element is a text of its own in the source.
#[test]
fn every_element_that_the_app_writes_is_let_through() {
    let let_through = let_through();
    let mut pieces = 0;
    for path in sources(Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/src"))) {
        let source = fs::read_to_string(&path).expect("a source");
        for begin in ["\"<", "\"</"] {
            for (at, _) in source.match_indices(begin) {
                let Some((name, _)) = word(&source[at + begin.len()..]) else {
                    continue;
                };
                pieces += 1;
                assert!(let_through.contains(name), "{name} in {}", path.display());
            }
        }
    }
    assert!(pieces > 20, "only {pieces} pieces were found");
}

/// The plan on paper has more kinds of elements than one place in the source shows.
#[test]
fn every_element_of_a_sheet_is_let_through() {
    let assets = assets::some();
    let let_through = let_through();
    assert!(
        let_through.contains("h4") && let_through.contains("use"),
        "{let_through:?}"
    );
    assert!(!let_through.contains("script"));
    for starter in &STARTERS {
        let query = format!("{}={}", routes::RECIPE, starter.link());
        let page = shell::render(
            &assets,
            &Base::default(),
            Screen::Plan.path(),
            Some(&query),
            None,
        );
        let sheet = page.split("plan-sheet\">").nth(1).unwrap_or_default();
        let sheet = sheet.split("</article>").next().unwrap_or_default();
        let found = elements(sheet);
        assert!(found.len() > 10, "{found:?}");
        let missing: Vec<_> = found.difference(&let_through).collect();
        assert!(missing.is_empty(), "{missing:?}");
    }
}
