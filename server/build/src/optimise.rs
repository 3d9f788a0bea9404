//! Makes wasm smaller with wasm-opt, as many at a time as there are processors, and never the same one
//! twice.
//!
//! wasm-opt comes from npm, in the version that `package-lock.json` beside this crate names with its
//! hash: what an older one makes of an app with two tables does not run.
//!
//! May start wasm-opt and keep what it made. Must not know what a module is for.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::{Duration, SystemTime};

use anyhow::{Context, Result, ensure};
use rayon::prelude::*;

use crate::digest;

/// What says which version, and where to put it.
const NPM_FILES: [(&str, &str); 3] = [
    ("package.json", include_str!("../package.json")),
    ("package-lock.json", include_str!("../package-lock.json")),
    (".npmrc", include_str!("../.npmrc")),
];

/// Size above all; and what every browser that can run the app can do, as rustc assumes it.
const ARGUMENTS: [&str; 9] = [
    "-Oz",
    "--enable-bulk-memory",
    "--enable-multivalue",
    "--enable-mutable-globals",
    "--enable-nontrapping-float-to-int",
    "--enable-reference-types",
    "--enable-sign-ext",
    "--strip-debug",
    "--strip-producers",
];

/// What has not been asked for in so long is thrown away.
const KEPT: Duration = Duration::from_hours(14 * 24);

/// A wasm-opt, and what it has made before.
#[derive(Debug)]
pub struct Optimiser {
    program: PathBuf,
    cache: PathBuf,
}

impl Optimiser {
    /// Fetches wasm-opt below a folder, unless it is there.
    ///
    /// # Errors
    /// When it cannot be had.
    pub fn fetch(tools: &Path) -> Result<Self> {
        let folder = tools.join("wasm-opt");
        let program = folder.join("node_modules/.bin/wasm-opt");
        let mark = folder.join("installed");
        let version = version();
        if !program.exists() || fs::read_to_string(&mark).unwrap_or_default() != version {
            eprintln!("Fetching wasm-opt ...");
            fs::create_dir_all(&folder)?;
            for (name, content) in NPM_FILES {
                fs::write(folder.join(name), content)?;
            }
            let status = Command::new("npm")
                .args(["ci", "--silent", "--no-audit", "--no-fund"])
                .current_dir(&folder)
                .status()
                .context("npm, which fetches wasm-opt, cannot be started")?;
            ensure!(status.success(), "npm could not fetch wasm-opt");
            fs::write(&mark, version)?;
        }
        let cache = tools.join("wasm-opt-made");
        fs::create_dir_all(&cache)?;
        Ok(Self { program, cache })
    }

    /// All of these made small, in their order.
    ///
    /// # Errors
    /// When wasm-opt fails, or files cannot be written.
    pub fn all(&self, wasm: &[&[u8]]) -> Result<Vec<Vec<u8>>> {
        // The largest first: none is left to run alone at the end.
        let mut order: Vec<usize> = (0..wasm.len()).collect();
        order.sort_by_key(|index| std::cmp::Reverse(wasm[*index].len()));
        let mut made: Vec<(usize, Vec<u8>)> = order
            .into_par_iter()
            .with_max_len(1)
            .map(|index| Ok((index, self.one(wasm[index])?)))
            .collect::<Result<_>>()?;
        made.sort_unstable_by_key(|(index, _)| *index);
        self.tidy();
        Ok(made.into_iter().map(|(_, made)| made).collect())
    }

    fn one(&self, wasm: &[u8]) -> Result<Vec<u8>> {
        let name = digest::of(&[wasm, version().as_bytes(), ARGUMENTS.join(" ").as_bytes()]);
        let made = self.cache.join(&name);
        if let Ok(known) = fs::read(&made) {
            // So that it is not taken for one that is no longer used.
            if let Ok(file) = File::options().append(true).open(&made) {
                let _ = file.set_modified(SystemTime::now());
            }
            return Ok(known);
        }
        let folder = tempfile::tempdir_in(&self.cache)?;
        let (from, to) = (
            folder.path().join("from.wasm"),
            folder.path().join("to.wasm"),
        );
        fs::write(&from, wasm)?;
        let done = Command::new(&self.program)
            .args(ARGUMENTS)
            .arg(&from)
            .arg("-o")
            .arg(&to)
            .output()
            .context("wasm-opt cannot be started; it needs node")?;
        let said = String::from_utf8_lossy(&done.stderr);
        ensure!(done.status.success(), "wasm-opt failed: {said}");
        fs::rename(&to, &made)?;
        fs::read(&made).context("what wasm-opt made cannot be read")
    }

    /// Throws away what has not been asked for in a long time. A file that cannot be removed only takes space.
    fn tidy(&self) {
        for entry in fs::read_dir(&self.cache).into_iter().flatten().flatten() {
            let modified = entry.metadata().and_then(|about| about.modified());
            let age = modified.ok().and_then(|at| at.elapsed().ok());
            if age.is_some_and(|age| age > KEPT) {
                let _ = fs::remove_file(entry.path());
            }
        }
    }
}

/// What tells one wasm-opt from another.
pub fn version() -> String {
    digest::of(&NPM_FILES.map(|(_, content)| content.as_bytes()))
}
