//! No files of the house import each other in a loop: each can be understood from those below it. And rooms know
//! only what is below them (`direction`).
//!
//! The imports are read from the source as text (`imports`). What counts: every path of the code that
//! leads into another file, written in a `use` or where it is used; code that only tests is left out. A
//! name that a module hands on belongs to the file that defines it, but not for files inside that
//! module: a file that imports from its own `mod.rs` looks up, and what `mod.rs` hands on looks down.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

mod direction;
mod imports;
mod scan;
mod stored_forms;

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use imports::{Imports, Sources};

/// The crates of the house and where their files are.
const CRATES: [&str; 4] = [
    "app/engine/src",
    "app/src",
    "server/src",
    "server/build/src",
];

pub(crate) fn root() -> &'static Path {
    Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/.."))
}

/// All Rust files below a folder, by their path in it.
pub(crate) fn sources(folder: &Path) -> Sources {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_path_buf()];
    while let Some(here) = open.pop() {
        for entry in fs::read_dir(&here).expect("a folder of sources") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|e| e == "rs") {
                let name = path.strip_prefix(folder).expect("it lies in there");
                let name = name.to_str().expect("a readable name").to_owned();
                found.insert(name, fs::read_to_string(&path).expect("a source"));
            }
        }
    }
    found
}

#[test]
fn no_files_import_each_other_in_a_loop() {
    let mut told = Vec::new();
    for folder in CRATES {
        let imports = Imports::of(&sources(&root().join(folder)));
        assert!(imports.count() > 10, "{folder}: hardly any import was read");
        let circles = imports.circles();
        told.extend(circles.iter().map(|circle| imports.tell(folder, circle)));
    }
    assert!(
        told.is_empty(),
        "{} circles:\n{}",
        told.len(),
        told.join("\n")
    );
}

pub(crate) fn planted(files: &[(&str, &str)]) -> Imports {
    let files = files
        .iter()
        .map(|(name, text)| ((*name).into(), (*text).into()));
    Imports::of(&files.collect())
}

#[test]
fn two_files_that_use_each_other_are_found_and_named() {
    let imports = planted(&[
        ("lib.rs", "mod a;\nmod b;\nmod c;"),
        ("a.rs", "use crate::b::{self, Two};\npub struct One(Two);"),
        (
            "b.rs",
            "pub struct Two;\nfn f() -> usize { super::a::one() }",
        ),
        ("c.rs", "use super::{a::One, b::Two};"),
    ]);
    assert_eq!(imports.circles(), [["a.rs", "b.rs"]]);
    assert_eq!(
        imports.tell("src", &imports.circles()[0]),
        "src/a.rs, src/b.rs\n  src/a.rs -> src/b.rs: Two, b\n  src/b.rs -> src/a.rs: one\n"
    );
}

#[test]
fn a_file_that_imports_from_its_own_mod_looks_up() {
    let child = |import: &str| {
        planted(&[
            ("lib.rs", "mod room;\nmod out;"),
            ("out.rs", "use crate::room::{One, Two};"),
            (
                "room/mod.rs",
                "mod one;\nmod two;\npub use one::One;\npub use two::*;",
            ),
            ("room/one.rs", "pub struct One;"),
            (
                "room/two.rs",
                &format!("use {import};\npub struct Two(One);"),
            ),
        ])
        .circles()
    };
    assert_eq!(child("super::One"), [["room/mod.rs", "room/two.rs"]]);
    assert_eq!(child("crate::room::One"), [["room/mod.rs", "room/two.rs"]]);
    assert_eq!(child("super::one::One"), [[""; 2]; 0]);
}

#[test]
fn what_a_module_hands_on_belongs_to_the_file_that_defines_it() {
    let imports = planted(&[
        ("lib.rs", "mod low;\nmod room;"),
        ("low.rs", "use crate::room::Word;\npub struct Low;"),
        (
            "room/mod.rs",
            "mod high;\nmod word;\npub use high::High;\npub use word::{Word};",
        ),
        (
            "room/high.rs",
            "use crate::low::Low;\npub struct High(Low);",
        ),
        ("room/word.rs", "pub struct Word;"),
    ]);
    assert_eq!(imports.circles(), [[""; 2]; 0]);
}

#[test]
fn tests_comments_and_texts_do_not_count() {
    let imports = planted(&[
        ("lib.rs", "mod a;\nmod b;"),
        (
            "a.rs",
            "//! See [`crate::b`].\n/* crate::b */\nconst T: &str = \"} crate::b\";\nconst C: char = '{';\n\
             #[cfg(test)]\nmod tests {\n    use crate::b::Two;\n}\n#[cfg(test)]\nmod more;\npub struct One;",
        ),
        ("a/more.rs", "use crate::b::Two;"),
        ("b.rs", "use crate::a::One;\npub struct Two<'a>(&'a One);"),
    ]);
    assert_eq!(imports.circles(), [[""; 2]; 0]);
    assert_eq!(imports.count(), 1);
}

#[test]
fn modules_within_a_file_and_at_another_path_are_followed() {
    let imports = planted(&[
        ("lib.rs", "mod a;\nmod text;"),
        (
            "a.rs",
            "pub mod inner {\n    use super::super::text::HELLO;\n}\npub struct One;",
        ),
        (
            "text/mod.rs",
            "#[path = \"english/mod.rs\"]\nmod language;\npub use language::*;",
        ),
        (
            "text/english/mod.rs",
            "pub mod more;\npub const HELLO: &str = \"\";",
        ),
        ("text/english/more.rs", "use crate::a::One;"),
    ]);
    assert_eq!(imports.circles(), [[""; 2]; 0]);
    let tied = imports.tell("", &["a.rs".into(), "text/english/mod.rs".into()]);
    assert!(
        tied.contains("a.rs -> /text/english/mod.rs: HELLO"),
        "{tied}"
    );
}
