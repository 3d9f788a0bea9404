//! The browser's build: the script, the main wasm and the parts that were split off, which name each
//! other. They lie in one folder that is named by the content of all of them, so that the names
//! within stay as the tools wrote them.

use std::collections::BTreeMap;
use std::path::Path;

use crate::error::Error;
use crate::site::hash;
use crate::site::pack::folders;
use crate::site::pack::packed_file::PackedFile;

/// What wasm-bindgen names the script and the main wasm.
const SCRIPT: &str = "evenloop.js";
const WASM: &str = "evenloop_bg.wasm";
/// The script that loads parts.
const LINK: &str = "__wasm_split.js";

/// The browser's build with the addresses it will have.
#[derive(Debug)]
pub(super) struct Front {
    pub(super) script: String,
    /// The script that loads parts, which the other script loads; a build that was not split has none.
    pub(super) link: Option<String>,
    pub(super) wasm: String,
    /// Addresses of the wasm files of each part, by the part's name.
    pub(super) parts: BTreeMap<String, Vec<String>>,
    pub(super) files: Vec<PackedFile>,
}

impl Front {
    /// Reads the build.
    ///
    /// # Errors
    /// When a file cannot be read, or the script that loads parts is not as expected.
    pub(super) fn read(folder: &Path) -> Result<Self, Error> {
        let snippets = folder.join("snippets");
        if snippets.exists() {
            return Err(Error::Snippets(snippets));
        }
        let mut named = Vec::new();
        for (url, path) in folders::walk(folder)? {
            if [".js", ".wasm"].iter().any(|end| url.ends_with(end)) {
                named.push((url, folders::bytes(&path)?));
            }
        }
        for name in [SCRIPT, WASM] {
            if !named.iter().any(|(url, _)| url[1..] == *name) {
                // To say what is missing as the system says it.
                folders::bytes(&folder.join(name))?;
            }
        }
        let within = format!("/pkg/{}", hash_of(&named));
        let link = named.iter().find(|(url, _)| url[1..] == *LINK);
        let parts = match link {
            Some((_, script)) => parts(&String::from_utf8_lossy(script), &within)?,
            None => BTreeMap::new(),
        };
        Ok(Self {
            script: format!("{within}/{SCRIPT}"),
            link: link.map(|_| format!("{within}/{LINK}")),
            wasm: format!("{within}/{WASM}"),
            parts,
            files: named
                .into_iter()
                .map(|(url, content)| PackedFile {
                    url: format!("{within}{url}"),
                    content,
                })
                .collect(),
        })
    }
}

/// A hash over names and contents.
fn hash_of(named: &[(String, Vec<u8>)]) -> String {
    let lines: Vec<String> = named
        .iter()
        .map(|(url, content)| format!("{url} {}", hash::of(content)))
        .collect();
    hash::of(lines.join("\n").as_bytes())
}

/// What each part needs, read from the script that loads them:
///
/// ```text
/// export const __wasm_split_load_NAME = wrapAsyncCb(makeLoad(... "./split_NAME.wasm" ..., [__chunk_7, __chunk_9]))
/// ```
///
/// where `__chunk_7` is what `chunk_7.wasm` holds. A part may have no file of its own.
fn parts(script: &str, within: &str) -> Result<BTreeMap<String, Vec<String>>, Error> {
    const LOADER: &str = "export const __wasm_split_load_";
    let mut parts = BTreeMap::new();
    for loader in script.split(LOADER).skip(1) {
        let (name, rest) = loader.split_once(" = ").ok_or(Error::Parts)?;
        let end = rest.rfind("]))").ok_or(Error::Parts)?;
        let begin = rest[..end].rfind('[').ok_or(Error::Parts)?;
        let chunks = rest[begin + 1..end]
            .split(", ")
            .filter(|chunk| !chunk.is_empty())
            .map(|chunk| chunk.strip_prefix("__").ok_or(Error::Parts));
        let mut files = Vec::new();
        for chunk in chunks {
            files.push(format!("{within}/{}.wasm", chunk?));
        }
        let own = format!("split_{name}.wasm");
        if rest[..begin].contains(&own) {
            files.push(format!("{within}/{own}"));
        }
        parts.insert(name.to_owned(), files);
    }
    Ok(parts)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TWO: &str = r#"import { initSync } from "./evenloop.js";
/* now, paper */
const __chunk_3 = makeLoad(() => {
    const src = fetch(new URL("./chunk_3.wasm", import.meta.url));
    return async (imports) => (WebAssembly.instantiateStreaming(src, imports));
}
, []);
export const __wasm_split_load_now = wrapAsyncCb(makeLoad(() => {
    const src = fetch(new URL("./split_now.wasm", import.meta.url));
    return async (imports) => (WebAssembly.instantiateStreaming(src, imports));
}
, [__chunk_3, __chunk_4]));
export const __wasm_split_load_paper = wrapAsyncCb(makeLoad(() => async (_imp) => ({}), [__chunk_3]));
export const __wasm_split_load_home = wrapAsyncCb(makeLoad(() => {
    const src = fetch(new URL("./split_home.wasm", import.meta.url));
}
, []));
"#;

    #[test]
    fn a_part_is_its_own_file_and_what_it_shares() {
        let files = |names: &[&str]| {
            names
                .iter()
                .map(|name| format!("/pkg/h/{name}.wasm"))
                .collect()
        };
        assert_eq!(
            parts(TWO, "/pkg/h").ok(),
            Some(BTreeMap::from([
                ("home".to_owned(), files(&["split_home"])),
                (
                    "now".to_owned(),
                    files(&["chunk_3", "chunk_4", "split_now"])
                ),
                ("paper".to_owned(), files(&["chunk_3"])),
            ]))
        );
    }

    #[test]
    fn another_form_of_the_script_is_refused() {
        assert!(matches!(
            parts(
                "export const __wasm_split_load_now = load('./now.wasm');",
                "/pkg/h"
            ),
            Err(Error::Parts)
        ));
    }
}
