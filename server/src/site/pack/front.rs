//! The browser's build: the script, the main wasm and the files of the app's parts, which name each
//! other. They lie in one folder that is named by the content of all of them, so that the names within
//! stay as the build (`server/build`) wrote them. What they are for stands in a file beside them.

use std::collections::BTreeMap;
use std::path::Path;

use serde::Deserialize;

use crate::error::Error;
use crate::site::hash;
use crate::site::pack::folders;
use crate::site::pack::packed_file::PackedFile;

/// The file that says what the others are for.
const MANIFEST: &str = "front.json";

/// What it says.
#[derive(Debug, Deserialize)]
struct Manifest {
    script: String,
    wasm: String,
    parts: BTreeMap<String, Vec<String>>,
}

/// The browser's build with the addresses it will have.
#[derive(Debug)]
pub(super) struct Front {
    pub(super) script: String,
    pub(super) wasm: String,
    /// Addresses of the wasm files of each part, by the part's name.
    pub(super) parts: BTreeMap<String, Vec<String>>,
    pub(super) files: Vec<PackedFile>,
}

impl Front {
    /// Reads the build.
    ///
    /// # Errors
    /// When a file cannot be read, or one is missing that should be there.
    pub(super) fn read(folder: &Path) -> Result<Self, Error> {
        let path = folder.join(MANIFEST);
        let manifest: Manifest =
            serde_json::from_slice(&folders::bytes(&path)?).map_err(|error| Error::File {
                path,
                source: error.into(),
            })?;
        let parts = manifest.parts.values().flatten();
        let mut named = Vec::new();
        for name in [&manifest.script, &manifest.wasm].into_iter().chain(parts) {
            // Several parts may share a file.
            if !named.iter().any(|(known, _)| known == name) {
                named.push((name.clone(), folders::bytes(&folder.join(name))?));
            }
        }
        named.sort();
        let within = format!("/pkg/{}", hash_of(&named));
        let address = |name: &String| format!("{within}/{name}");
        Ok(Self {
            script: address(&manifest.script),
            wasm: address(&manifest.wasm),
            parts: manifest
                .parts
                .into_iter()
                .map(|(part, files)| (part, files.iter().map(address).collect()))
                .collect(),
            files: named
                .into_iter()
                .map(|(name, content)| PackedFile {
                    url: address(&name),
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

#[cfg(test)]
mod tests {
    use std::fs;
    use std::io;

    use super::*;

    fn folder(manifest: &str) -> io::Result<tempfile::TempDir> {
        let folder = tempfile::tempdir()?;
        for name in ["a.js", "a.wasm", "shared.wasm", "now.wasm", "unnamed.wasm"] {
            fs::write(folder.path().join(name), name)?;
        }
        fs::write(folder.path().join(MANIFEST), manifest)?;
        Ok(folder)
    }

    #[test]
    fn what_is_named_is_packed_once() -> io::Result<()> {
        let folder = folder(
            r#"{ "script": "a.js", "wasm": "a.wasm",
                "parts": { "now": ["shared.wasm", "now.wasm"], "map": ["shared.wasm"] } }"#,
        )?;
        let front = Front::read(folder.path()).map_err(io::Error::other)?;
        let within = front.script.trim_end_matches("/a.js");
        let address = |name: &str| format!("{within}/{name}");
        assert!(within.starts_with("/pkg/"));
        assert_eq!(front.wasm, address("a.wasm"));
        assert_eq!(
            front.parts,
            BTreeMap::from([
                ("map".to_owned(), vec![address("shared.wasm")]),
                (
                    "now".to_owned(),
                    vec![address("shared.wasm"), address("now.wasm")]
                ),
            ])
        );
        let urls: Vec<&str> = front.files.iter().map(|file| file.url.as_str()).collect();
        assert_eq!(
            urls,
            ["a.js", "a.wasm", "now.wasm", "shared.wasm"].map(address)
        );
        Ok(())
    }

    #[test]
    fn what_is_named_and_missing_is_said() -> io::Result<()> {
        let folder = folder(r#"{ "script": "a.js", "wasm": "b.wasm", "parts": {} }"#)?;
        let missing = Front::read(folder.path()).err();
        assert!(missing.is_some_and(|error| error.to_string().contains("b.wasm")));
        Ok(())
    }

    #[test]
    fn something_else_than_a_manifest_is_refused() -> io::Result<()> {
        let folder = folder("[]")?;
        let wrong = Front::read(folder.path()).err();
        assert!(wrong.is_some_and(|error| error.to_string().contains(MANIFEST)));
        Ok(())
    }
}
