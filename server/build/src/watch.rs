//! The loop of the one who changes the app: builds, serves, and does so again whenever a file was saved.
//! Open pages reload themselves.
//!
//! May start the build and the server and look at files. Nothing else here may know it.

use std::collections::BTreeMap;
use std::env;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::thread;
use std::time::{Duration, Instant, SystemTime};

use anyhow::{Context, Result, anyhow, ensure};
use walkdir::WalkDir;

use crate::compile::Profile;
use crate::front::front;

/// What is looked at, from the repository's root.
const WATCHED: [&str; 6] = [
    "app",
    "server/src",
    "style",
    "public",
    "Cargo.toml",
    "Cargo.lock",
];
/// Below these, only packing is needed.
const PACKED: [&str; 2] = ["style", "public"];
/// Between two looks.
const PAUSE: Duration = Duration::from_millis(200);

/// Has a page reload itself once the server has another build. Put before the boot script.
const RELOAD: &str = include_str!("reload.js");
/// In the service worker's place, so that nothing is stored. The server's own tests pack it.
const WORKER: &str = include_str!("development_worker.js");

/// When each of the files was changed.
type Times = BTreeMap<PathBuf, SystemTime>;

/// Builds and serves until it is stopped. What does not build is said, and tried again when something has
/// changed; the server goes on with what it has.
///
/// # Errors
/// When files cannot be read.
pub fn watch(root: &Path) -> Result<()> {
    let mut server: Option<Child> = None;
    let mut seen = Times::new();
    let mut compiled = false;
    loop {
        let now = times(root)?;
        let changed: Vec<&Path> = now
            .iter()
            .filter(|(path, time)| seen.get(*path) != Some(time))
            .map(|(path, _)| path.as_path())
            .chain(
                seen.keys()
                    .filter(|path| !now.contains_key(*path))
                    .map(PathBuf::as_path),
            )
            .collect();
        if changed.is_empty() {
            thread::sleep(PAUSE);
            continue;
        }
        let begin = Instant::now();
        let built = if compiled && packing_is_enough(&changed) {
            pack(root)
        } else {
            compiled = false;
            build(root)
        };
        match built {
            Ok(()) => {
                compiled = true;
                if let Some(mut old) = server.take() {
                    // It may have ended by itself.
                    let _ = old.kill();
                    old.wait()?;
                }
                server = Some(serve(root)?);
                eprintln!("Built in {:.1} s.", begin.elapsed().as_secs_f32());
            }
            Err(error) => eprintln!("{error:#}"),
        }
        seen = now;
    }
}

/// When each of the watched files was changed.
fn times(root: &Path) -> Result<Times> {
    let mut times = Times::new();
    for place in WATCHED {
        for entry in WalkDir::new(root.join(place)) {
            let Some(entry) = unless_gone(entry)? else {
                continue;
            };
            if entry.file_type().is_file() {
                let path = entry.path().strip_prefix(root)?.to_owned();
                if let Some(metadata) = unless_gone(entry.metadata())? {
                    times.insert(path, metadata.modified()?);
                }
            }
        }
    }
    Ok(times)
}

/// What was found of a file, or nothing if the file is gone: editors and Git replace a file by taking the old one
/// away first, and that may be in between.
fn unless_gone<T>(found: walkdir::Result<T>) -> Result<Option<T>> {
    match found {
        Ok(found) => Ok(Some(found)),
        Err(error) if error.io_error().map(io::Error::kind) == Some(io::ErrorKind::NotFound) => {
            Ok(None)
        }
        Err(error) => Err(error.into()),
    }
}

/// Whether compiling can be left out.
fn packing_is_enough(changed: &[&Path]) -> bool {
    changed
        .iter()
        .all(|path| PACKED.iter().any(|folder| path.starts_with(folder)))
}

/// Both halves at once: neither keeps two processors busy by itself.
fn build(root: &Path) -> Result<()> {
    thread::scope(|scope| {
        let app = scope.spawn(|| front(root, Profile::Dev));
        let server = cargo_build(root);
        let app = app.join();
        server?;
        app.map_err(|_| anyhow!("building the app has stopped"))?
    })?;
    pack(root)
}

fn pack(root: &Path) -> Result<()> {
    let public = root.join("target/dev/public");
    copy_public(&root.join("public"), &public)?;
    let front = root.join("target/dev/front");
    let status = Command::new(server(root))
        .arg("pack")
        .args([&front, &root.join("style"), &public, &site(root)])
        .arg("plain")
        .status()
        .context("the server, which packs, cannot be started")?;
    ensure!(status.success(), "packing failed");
    Ok(())
}

fn server(root: &Path) -> PathBuf {
    root.join("target/debug/evenloop-server")
}

fn cargo_build(root: &Path) -> Result<()> {
    let status = Command::new("cargo")
        .current_dir(root)
        .args(["build", "--locked", "--package", "evenloop-server"])
        .status()
        .context("cargo cannot be started")?;
    ensure!(status.success(), "building the server failed");
    Ok(())
}

fn site(root: &Path) -> PathBuf {
    root.join("target/dev/site")
}

/// The public files, with a boot script that looks for changes and a worker that stores nothing.
fn copy_public(from: &Path, to: &Path) -> Result<()> {
    if to.exists() {
        fs::remove_dir_all(to)?;
    }
    for entry in WalkDir::new(from) {
        let entry = entry?;
        let copied = to.join(entry.path().strip_prefix(from)?);
        if entry.file_type().is_dir() {
            fs::create_dir_all(copied)?;
        } else {
            fs::copy(entry.path(), copied)?;
        }
    }
    let boot = to.join("boot.js");
    let script = fs::read_to_string(&boot)?;
    fs::write(boot, format!("{RELOAD}{script}"))?;
    fs::write(to.join("sw.js"), WORKER)?;
    Ok(())
}

fn serve(root: &Path) -> Result<Child> {
    let address = env::var_os("EVENLOOP_ADDR").unwrap_or_else(|| "127.0.0.1:3000".into());
    Command::new(server(root))
        .env("EVENLOOP_ADDR", address)
        .env("EVENLOOP_SITE", site(root))
        .spawn()
        .context("the server cannot be started")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sheet_needs_no_compiling_and_a_screen_does() {
        let sheet = Path::new("style/now.css");
        let screen = Path::new("app/src/screens/now/mod.rs");
        assert!(packing_is_enough(&[sheet, Path::new("public/boot.js")]));
        assert!(!packing_is_enough(&[sheet, screen]));
    }

    #[test]
    fn a_file_that_goes_while_it_is_looked_at_ends_nothing() -> Result<()> {
        let root = tempfile::tempdir()?;
        let sheet = root.path().join("now.css");
        fs::write(&sheet, "now {}")?;
        for entry in WalkDir::new(&sheet) {
            let entry = entry?;
            fs::remove_file(&sheet)?;
            assert!(unless_gone(entry.metadata())?.is_none());
        }
        assert!(!sheet.exists());
        let missing = WalkDir::new(&sheet).into_iter().next();
        assert!(missing.map(unless_gone).transpose()?.flatten().is_none());
        Ok(())
    }

    #[test]
    fn pages_reload_themselves_and_nothing_is_stored() -> Result<()> {
        let root = tempfile::tempdir()?;
        let (from, to) = (root.path().join("public"), root.path().join("dev/public"));
        fs::create_dir_all(from.join("icons"))?;
        fs::write(from.join("boot.js"), "const build = 1;")?;
        fs::write(from.join("sw.js"), "caches")?;
        fs::write(from.join("icons/icon.svg"), "<svg/>")?;
        copy_public(&from, &to)?;
        let boot = fs::read_to_string(to.join("boot.js"))?;
        assert!(boot.contains("location.reload()") && boot.ends_with("const build = 1;"));
        let worker = fs::read_to_string(to.join("sw.js"))?;
        assert!(!worker.contains("caches"));
        assert_eq!(fs::read_to_string(to.join("icons/icon.svg"))?, "<svg/>");
        Ok(())
    }
}
