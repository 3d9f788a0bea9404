//! Splits a linked wasm: each part of the app becomes a module of its own, and so does what several
//! parts share.
//!
//! Must not know how the parts are put into files.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result, anyhow};
use wasm_split_cli_support::{Options, transform};

/// The module that the main wasm imports the parts' loaders from.
pub const LOADER_MODULE: &str = "./parts";
/// How the loader of a part is called, before the part's name.
pub const LOADER_PREFIX: &str = "__wasm_split_load_";

/// A wasm in pieces.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Split {
    /// What is needed from the start.
    pub main: Vec<u8>,
    /// Everything else, by name.
    pub modules: BTreeMap<String, Vec<u8>>,
    /// The names of the modules that each part is made of, by the part's name; the part's own comes
    /// last, if it has one.
    pub parts: BTreeMap<String, Vec<String>>,
}

/// The name of the module that only one part needs.
pub fn own_module(part: &str) -> String {
    format!("split_{part}")
}

/// Splits a wasm that was linked with `--emit-relocs`.
///
/// # Errors
/// When it cannot be split.
pub fn split(linked: &[u8]) -> Result<Split> {
    let folder = tempfile::tempdir().context("no room for the pieces of the wasm")?;
    let main = folder.path().join("main.wasm");
    let mut options = Options::new(linked);
    options.output_dir = folder.path();
    options.main_out_path = &main;
    options.link_name = LOADER_MODULE;
    let done =
        transform(options).map_err(|error| anyhow!("the wasm cannot be split: {error:#}"))?;
    let mut modules = BTreeMap::new();
    for path in done.split_modules {
        let name = path.file_stem().unwrap_or_default().to_string_lossy();
        modules.insert(name.into_owned(), read(&path)?);
    }
    Ok(Split {
        main: read(&main)?,
        modules,
        parts: done.prefetch_map.into_iter().collect(),
    })
}

fn read(path: &Path) -> Result<Vec<u8>> {
    fs::read(path).with_context(|| format!("cannot read {}", path.display()))
}
