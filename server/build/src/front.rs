//! The whole way from the app's crate to the files for the browser.
//!
//! May use every other module here and write files; none of them may know this one.

use std::collections::BTreeMap;
use std::env;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result};

use crate::bind::{self, Names};
use crate::bundle::{self, Bundles};
use crate::compile::{self, Profile};
use crate::digest;
use crate::graph::Graph;
use crate::join::{self, Joined, Known};
use crate::locations;
use crate::manifest::{FILE, Manifest, SCRIPT, WASM};
use crate::optimise::{self, Optimiser};
use crate::prune::{self, DEAD};
use crate::split;

/// Remembers, beside the files, what they were made from.
const MADE_FROM: &str = ".made-from";

/// Parts that are only shown over another part: the needles at rest over the pair in hand.
const OVER: [(&str, &str); 1] = [("pause", "now")];

/// Builds the browser's half in the repository at `root`: into `target/front`, `target/dev/front` for the one
/// who changes the app, or `target/made-up/front` in the made-up language. Does nothing where nothing has changed.
///
/// # Errors
/// When a tool fails, or what one of them made is not as expected.
pub fn front(root: &Path, profile: Profile) -> Result<()> {
    let linked = compile::compile(root, profile)?;
    let linked = fs::read(&linked).with_context(|| format!("no {}", linked.display()))?;
    let out = root.join(match profile {
        Profile::Release => "target/front",
        Profile::Dev => "target/dev/front",
        Profile::MadeUp => "target/made-up/front",
    });
    let program = fs::read(env::current_exe()?)?;
    let stamp = digest::of(&[&linked, &program, optimise::version().as_bytes()]);
    if fs::read_to_string(out.join(MADE_FROM)).is_ok_and(|made| made == stamp) {
        return Ok(());
    }
    let files = match profile {
        Profile::Release => released(&linked, &Optimiser::fetch(&root.join("target/tools"))?)?,
        Profile::Dev | Profile::MadeUp => quick(&linked)?,
    };
    if out.exists() {
        fs::remove_dir_all(&out)?;
    }
    fs::create_dir_all(&out)?;
    for (name, content) in files {
        let path = out.join(name);
        fs::write(&path, content).with_context(|| format!("cannot write {}", path.display()))?;
    }
    fs::write(out.join(MADE_FROM), stamp)?;
    Ok(())
}

/// Files by their names.
type Files = BTreeMap<String, Vec<u8>>;

/// As small as it gets.
fn released(linked: &[u8], optimiser: &Optimiser) -> Result<Files> {
    let (linked, places, left) = locations::merge(linked)?;
    eprintln!("Left {left} of {places} places in messages of panics: one for each file.");
    let (pruned, emptied) = prune::prune(&linked, &DEAD)?;
    eprintln!(
        "Emptied {} functions of {} bytes, which nobody can call.",
        emptied.functions, emptied.bytes
    );
    let (joined, parts) = in_files(&pruned)?;
    let mut bound = bind::bind(joined.main, Names::Shortened)?;
    let modules: Vec<&[u8]> = [bound.wasm.as_slice()]
        .into_iter()
        .chain(joined.files.values().map(Vec::as_slice))
        .collect();
    let mut made = optimiser.all(&modules)?.into_iter();
    bound.wasm = made.next().context("wasm-opt made nothing")?;
    let names = joined.files.into_keys();
    files(bound, names.zip(made).collect(), parts)
}

/// As soon as it gets: everything is kept, and names can be read.
fn quick(linked: &[u8]) -> Result<Files> {
    let (joined, parts) = in_files(linked)?;
    let bound = bind::bind(joined.main, Names::Kept)?;
    files(bound, joined.files, parts)
}

/// A wasm split into parts and put into files, with the names of the files of each part.
fn in_files(wasm: &[u8]) -> Result<(Joined, BTreeMap<String, Vec<String>>)> {
    let split = split::split(wasm)?;
    let Bundles { files, parts } = bundle::bundle(&split.modules, &split.parts, &OVER)?;
    let graph = Graph::read(wasm)?;
    let known = Known {
        pointed: graph.pointed(),
        read_only_end: graph.read_only_end(),
    };
    Ok((
        join::join(&split.main, &split.modules, &files, &known)?,
        parts,
    ))
}

fn files(
    bound: bind::Bound,
    mut files: Files,
    parts: BTreeMap<String, Vec<String>>,
) -> Result<Files> {
    let script = bind::with_loader(&bound, &parts)?;
    let manifest = Manifest {
        script: SCRIPT.to_owned(),
        wasm: WASM.to_owned(),
        parts,
    };
    files.insert(FILE.to_owned(), serde_json::to_vec_pretty(&manifest)?);
    files.insert(SCRIPT.to_owned(), script.into_bytes());
    files.insert(WASM.to_owned(), bound.wasm);
    Ok(files)
}
