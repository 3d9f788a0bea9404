//! Stored forms are read by the engine's room `json`: each type that `serde_json` itself reads adds kilobytes to the
//! page that reads it.

use std::collections::BTreeMap;

use crate::imports::Sources;
use crate::scan::{Token, tokens};
use crate::{root, sources};

/// Files that have `serde_json` read a text themselves, and what they call.
fn reading(files: &Sources) -> BTreeMap<String, String> {
    let mut found = BTreeMap::new();
    for (file, text) in files.iter().filter(|(file, _)| !file.contains("tests")) {
        let all = tokens(text);
        for three in all.windows(3) {
            let [Token::Word(owner), Token::Path, Token::Word(called)] = three else {
                continue;
            };
            let reads = called.starts_with("from_") || called == "Deserializer";
            if owner == "serde_json" && reads {
                found.insert(file.clone(), called.clone());
            }
        }
    }
    found
}

#[test]
fn only_the_room_json_has_a_text_read() {
    let engine = reading(&sources(&root().join("app/engine/src")));
    // What is wrong with a document is looked for in the same tree.
    let readers: Vec<&String> = engine.keys().collect();
    assert_eq!(readers, ["document.rs", "json/mod.rs"]);
    assert_eq!(reading(&sources(&root().join("app/src"))), BTreeMap::new());
}

#[test]
fn a_file_that_reads_by_itself_is_named() {
    let files = [
        ("a.rs", "fn f() { serde_json::from_str::<One>(text) }"),
        ("b.rs", "fn f() { serde_json::to_string(&one) }"),
        (
            "c.rs",
            "#[cfg(test)]\nmod tests { fn f() { serde_json::from_str(text) } }",
        ),
    ];
    let files = files.map(|(name, text)| (name.to_owned(), text.to_owned()));
    let found = reading(&files.into_iter().collect());
    assert_eq!(
        found,
        BTreeMap::from([("a.rs".to_owned(), "from_str".to_owned())])
    );
}
