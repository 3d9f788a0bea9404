//! Which room of a crate may know which: dependencies point down.
//!
//! A room is a folder or a file right below a crate's `src`, and each screen is one. What stands here is the
//! order of the rooms; a room that is not named here is found, so that its place is decided and not left to
//! chance.

use std::collections::BTreeSet;
use std::fs;

use crate::imports::{Imports, Sources};
use crate::{planted, root, sources};

/// Rooms from the lowest to the highest. A room may use those of its own row and of the rows before it; loops
/// within a row are found file by file.
type Rows = &'static [&'static [&'static str]];

const ENGINE: Rows = &[
    &["json", "needle_size", "sort", "units"],
    &["document_shape"],
    &["foot", "shoe", "stitch", "yarn_amount", "yarn_weight"],
    &["needles", "swatch", "written_ops"],
    &["recipe"],
    &[
        "error",
        "first_guess",
        "knit",
        "leg_length",
        "sequence",
        "usual",
    ],
    &["document", "pattern"],
    &["check", "journal", "plan", "trace", "yarn"],
    &[
        "hand",
        "materials",
        "merge",
        "pace",
        "reach",
        "refit",
        "sock",
        "tally",
        "together",
        "touch",
        "within_round",
    ],
    &["link", "wire"],
    &["text"],
    &["read_back", "refused"],
];

const APP: Rows = &[
    &[
        "after_paint",
        "slices",
        "base",
        "circle",
        "clipboard",
        "files",
        "first_paint",
        "moment",
        "offline",
        "tenths",
        "text",
    ],
    &["hands", "hue", "moves", "starters"],
    &["fabric", "store"],
    &[
        "lazy_pattern",
        "lazy_pictures",
        "lazy_practice",
        "pair_place",
        "picture",
        "preferences",
        "routes",
    ],
    &["lazy_store", "parts"],
    &["recovery"],
    &["bring_in", "in_hand", "practice", "sheet"],
    &[
        "screens/basket",
        "screens/settings",
        "screens/map",
        "screens/measure",
        "screens/now",
        "screens/pattern",
        "screens/plan",
    ],
    &["bars", "lazy_screens"],
    &["app"],
    &["shell"],
];

const SERVER: Rows = &[&["error"], &["site"], &["http"], &["command"]];

/// The room that a file stands in; none for the crate's root, which only names its rooms.
fn room(file: &str) -> Option<String> {
    let mut parts = file.trim_end_matches(".rs").split('/');
    match (parts.next()?, parts.next()) {
        ("lib" | "main", None) | ("screens", None | Some("mod")) => None,
        ("screens", Some(screen)) => Some(format!("screens/{screen}")),
        (room, _) => Some(room.to_owned()),
    }
}

/// Imports that go up, and rooms without a place.
fn against(rows: &[&[&str]], files: &Sources, imports: &Imports) -> Vec<String> {
    let row = |room: &str| rows.iter().position(|row| row.contains(&room));
    let rooms: BTreeSet<String> = files.keys().filter_map(|file| room(file)).collect();
    let placeless = rooms.iter().filter(|room| row(room).is_none());
    let mut told: Vec<String> = placeless
        .map(|room| format!("{room} has no place in the order of the rooms"))
        .collect();
    for (from, to, names) in imports.all() {
        let (Some(here), Some(there)) = (room(from), room(to)) else {
            continue;
        };
        let is_other_screen = here.starts_with("screens/") && there.starts_with("screens/");
        let goes_up = here != there && (is_other_screen || row(&here) < row(&there));
        if goes_up {
            told.push(format!("{from} may not use {to}: {names:?}"));
        }
    }
    told
}

#[test]
fn rooms_know_only_what_is_below_them() {
    let mut told = Vec::new();
    for (folder, rows) in [
        ("app/engine/src", ENGINE),
        ("app/src", APP),
        ("server/src", SERVER),
    ] {
        let files = sources(&root().join(folder));
        let found = against(rows, &files, &Imports::of(&files));
        told.extend(found.into_iter().map(|one| format!("{folder}: {one}")));
        let rooms: BTreeSet<String> = files.keys().filter_map(|file| room(file)).collect();
        let gone = rows.iter().copied().flatten();
        let gone = gone.filter(|room| !rooms.contains(**room));
        told.extend(gone.map(|room| format!("{folder}: there is no {room} any more")));
    }
    assert!(told.is_empty(), "{}", told.join("\n"));
}

#[test]
fn a_screen_in_a_screen_a_store_in_a_part_and_a_new_room_are_found() {
    let files = [
        ("lib.rs", "mod screens;\nmod parts;\nmod store;\nmod attic;"),
        ("screens/mod.rs", "pub mod now;\npub mod map;"),
        (
            "screens/now/mod.rs",
            "use crate::parts::Icon;\npub struct Now;",
        ),
        ("screens/map/mod.rs", "use crate::screens::now::Now;"),
        ("parts/mod.rs", "use crate::store::Store;\npub struct Icon;"),
        ("store/mod.rs", "use crate::parts::Icon;\npub struct Store;"),
        ("attic.rs", ""),
    ];
    let sources = files.map(|(name, text)| (name.to_owned(), text.to_owned()));
    assert_eq!(
        against(APP, &sources.into_iter().collect(), &planted(&files)),
        [
            "attic has no place in the order of the rooms",
            "screens/map/mod.rs may not use screens/now/mod.rs: {\"Now\"}",
            "store/mod.rs may not use parts/mod.rs: {\"Icon\"}",
        ]
    );
}

/// What the engine depends on, as its manifest has it: nothing with a screen, a clock, a network or chance.
#[test]
fn the_engine_knows_nothing_but_socks() {
    let manifest = fs::read_to_string(root().join("app/engine/Cargo.toml")).expect("a manifest");
    let (_, after) = manifest
        .split_once("\n[dependencies]\n")
        .expect("dependencies");
    let list = after.split("\n[").next().unwrap_or_default();
    let names = list
        .lines()
        .filter_map(|line| line.split(['.', ' ', '=']).next());
    let names: Vec<&str> = names.filter(|name| !name.is_empty()).collect();
    let allowed = [
        "evenloop-engine-derive",
        "schemars",
        "serde",
        "serde_json",
        "winnow",
    ];
    assert_eq!(names, allowed);
    let outside = ["env", "fs", "io", "net", "process", "thread", "time"];
    for (file, text) in sources(&root().join("app/engine/src")) {
        for module in outside {
            let used = text.contains(&format!("std::{module}"));
            assert!(!used, "{file} uses std::{module}");
        }
    }
}
