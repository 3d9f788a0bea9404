//! Decides which of the many modules of the app's parts go into which file.
//!
//! What two or more parts share is a module of its own, most of them tiny. A file for each would be asked
//! for one by one; here each part has one file with everything that it needs, and where the largest of
//! the shared modules lie several parts share one more. The modules of a file are then joined
//! ([`crate::join`]).
//!
//! Pure: sizes and names in, a division out. Must not read or write wasm.

use std::collections::{BTreeMap, BTreeSet};

use anyhow::{Result, ensure};
use wasmparser::{Parser, Payload};

use crate::split::own_module;

/// Which modules lie in which file.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Bundles {
    /// The modules of each file, by the file's name.
    pub files: BTreeMap<String, Vec<String>>,
    /// The names of the files that each part needs, by the part's name.
    pub parts: BTreeMap<String, Vec<String>>,
}

/// The same with stems in place of the files' names.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Plan {
    files: BTreeMap<String, Vec<String>>,
    parts: BTreeMap<String, Vec<String>>,
}

/// Bundles the modules of all parts. Each of `over` is a part that is only ever shown over another one,
/// whose files are there by then: what the two have in common need not lie in both.
///
/// # Errors
/// When one of `over` is no part, or a module cannot be read.
pub fn bundle(
    modules: &BTreeMap<String, Vec<u8>>,
    parts: &BTreeMap<String, Vec<String>>,
    over: &[(&str, &str)],
) -> Result<Bundles> {
    for name in over.iter().flat_map(|(above, below)| [above, below]) {
        ensure!(parts.contains_key(*name), "the app has no part {name}");
    }
    let mut sizes = BTreeMap::new();
    for (name, module) in modules {
        sizes.insert(name.as_str(), size(module)?);
    }
    let Plan { files, parts } = plan(&sizes, parts, over);
    let with_ending = |file: &String| format!("{file}.wasm");
    Ok(Bundles {
        files: files
            .iter()
            .map(|(file, held)| (with_ending(file), held.clone()))
            .collect(),
        parts: parts
            .into_iter()
            .map(|(part, files)| (part, files.iter().map(with_ending).collect()))
            .collect(),
    })
}

/// How large a module is without the names of its functions, which no browser gets.
fn size(module: &[u8]) -> Result<usize> {
    let mut size = module.len();
    for payload in Parser::new(0).parse_all(module) {
        if let Payload::CustomSection(section) = payload? {
            size -= section.data().len();
        }
    }
    Ok(size)
}

/// How large a shared module must be, before it is made small, for its parts to have one more file. Below it
/// a copy in each part's file costs a browser less than another request.
const LARGE: usize = 96 * 1024;

/// The most shared files of a part: with its own, the page, the scripts and the style its screen asks for
/// twelve files then.
const MOST_SHARED: usize = 2;

/// Decides where the modules go.
fn plan(
    sizes: &BTreeMap<&str, usize>,
    parts: &BTreeMap<String, Vec<String>>,
    over: &[(&str, &str)],
) -> Plan {
    let below = |part: &str| over.iter().find(|(above, _)| *above == part);
    let mut users: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    // What is shown over another part has the rest for itself.
    for (part, needed) in parts.iter().filter(|(part, _)| below(part).is_none()) {
        for module in needed {
            users.entry(module).or_default().insert(part);
        }
    }
    let mut large: Vec<(&str, &BTreeSet<&str>)> = users
        .iter()
        .filter(|(module, users)| users.len() > 1 && sizes.get(*module) >= Some(&LARGE))
        .map(|(module, users)| (*module, users))
        .collect();
    // Those that more parts need are taken first, and take along what is smaller.
    large.sort_by_key(|(module, users)| (std::cmp::Reverse(users.len()), *module));
    let mut plan = Plan::default();
    for (module, sharing) in large {
        let all_have = |module: &str| sharing.iter().all(|part| plan.has(part, module));
        let has_most = |part: &str| {
            plan.parts
                .get(part)
                .is_some_and(|files| files.len() >= MOST_SHARED)
        };
        if all_have(module) || sharing.iter().any(|part| has_most(part)) {
            continue;
        }
        let held = users
            .iter()
            .filter(|(module, users)| users.is_superset(sharing) && !all_have(module))
            .map(|(module, _)| (*module).to_owned())
            .collect();
        let file = format!("shared_{}", plan.files.len() + 1);
        for part in sharing {
            plan.give(part, &file);
        }
        plan.files.insert(file, held);
    }
    let (above, others): (Vec<_>, Vec<_>) =
        parts.iter().partition(|(part, _)| below(part).is_some());
    for (part, needed) in others.into_iter().chain(above) {
        if let Some((_, below)) = below(part) {
            let files = plan.parts.get(*below).cloned().unwrap_or_default();
            plan.parts.insert(part.clone(), files);
        }
        let held: Vec<String> = needed
            .iter()
            .filter(|module| !plan.has(part, module))
            .cloned()
            .collect();
        if !held.is_empty() {
            let own = own_module(part);
            plan.give(part, &own);
            plan.files.insert(own, held);
        }
    }
    plan
}

impl Plan {
    /// Whether one of a part's files holds a module.
    fn has(&self, part: &str, module: &str) -> bool {
        let files = self.parts.get(part).into_iter().flatten();
        files
            .filter_map(|file| self.files.get(file))
            .flatten()
            .any(|held| held == module)
    }

    fn give(&mut self, part: &str, file: &str) {
        let files = self.parts.entry(part.to_owned()).or_default();
        files.push(file.to_owned());
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ENGINE: usize = 200_000;

    fn parts(all: &[(&str, &[&str])]) -> BTreeMap<String, Vec<String>> {
        all.iter()
            .map(|(part, needed)| {
                let needed = needed.iter().map(|module| (*module).to_owned());
                ((*part).to_owned(), needed.collect())
            })
            .collect()
    }

    fn three() -> BTreeMap<String, Vec<String>> {
        parts(&[
            ("keep", &["chunk_1", "chunk_2", "split_keep"]),
            ("map", &["chunk_1", "chunk_2", "chunk_3", "split_map"]),
            ("now", &["chunk_1", "chunk_3", "chunk_4", "split_now"]),
            ("rest", &["chunk_4"]),
        ])
    }

    fn sizes() -> BTreeMap<&'static str, usize> {
        BTreeMap::from([
            ("chunk_1", 700),
            ("chunk_2", 90),
            ("chunk_3", ENGINE),
            ("chunk_4", 40),
            ("split_keep", ENGINE),
            ("split_map", 30_000),
            ("split_now", 90_000),
        ])
    }

    #[test]
    fn each_part_has_one_file_and_one_more_where_something_large_is_shared() {
        let plan = plan(&sizes(), &three(), &[]);
        assert_eq!(
            plan.parts,
            parts(&[
                ("keep", &["split_keep"]),
                ("map", &["shared_1", "split_map"]),
                ("now", &["shared_1", "split_now"]),
                ("rest", &["split_rest"]),
            ])
        );
        assert_eq!(
            plan.files,
            parts(&[
                // What both parts need besides goes along.
                ("shared_1", &["chunk_1", "chunk_3"]),
                ("split_keep", &["chunk_1", "chunk_2", "split_keep"]),
                ("split_map", &["chunk_2", "split_map"]),
                ("split_now", &["chunk_4", "split_now"]),
                ("split_rest", &["chunk_4"]),
            ])
        );
    }

    #[test]
    fn a_third_large_thing_that_parts_share_is_copied() {
        let all = parts(&[
            ("keep", &["chunk_1", "chunk_2", "chunk_3"]),
            ("map", &["chunk_1", "chunk_2"]),
            ("now", &["chunk_1", "chunk_2", "chunk_3"]),
            ("plan", &["chunk_1"]),
        ]);
        let large = ["chunk_1", "chunk_2", "chunk_3"].map(|module| (module, ENGINE));
        let plan = plan(&BTreeMap::from(large), &all, &[]);
        for part in ["keep", "now"] {
            let own = format!("split_{part}");
            assert_eq!(plan.parts[part], ["shared_1", "shared_2", own.as_str()]);
            assert_eq!(plan.files[&own], ["chunk_3"]);
        }
    }

    #[test]
    fn a_part_finds_each_of_its_modules_once() {
        let plan = plan(&sizes(), &three(), &[]);
        for (part, needed) in three() {
            let mut found: Vec<String> = plan.parts[&part]
                .iter()
                .flat_map(|file| plan.files[file].clone())
                .collect();
            found.sort();
            assert_eq!(found, needed, "{part}");
        }
    }

    #[test]
    fn what_is_shown_over_another_part_has_its_files() {
        let plan = plan(&sizes(), &three(), &[("map", "now")]);
        assert_eq!(
            plan.parts,
            parts(&[
                ("keep", &["split_keep"]),
                ("map", &["split_now", "split_map"]),
                ("now", &["split_now"]),
                ("rest", &["split_rest"]),
            ])
        );
        assert_eq!(plan.files["split_map"], ["chunk_2", "split_map"]);
    }

    #[test]
    fn a_part_that_is_not_there_is_shown_over_nothing() {
        let bundled = bundle(&BTreeMap::new(), &BTreeMap::new(), &[("map", "now")]);
        assert!(bundled.is_err_and(|error| error.to_string().contains("map")));
    }
}
