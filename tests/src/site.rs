//! Sites of other builds than the one `server/start --build` packed, and what a site's worker knows of it.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use tempfile::TempDir;
use walkdir::WalkDir;

use crate::server::{command, root};

/// What the other build brings, beside all that this one's changelog says.
pub const OTHER_NEWS: &str = "The other build has another style.";

/// A site of another build: the same app with a few more bytes of style, another sheet of drawings and another
/// boot script. It is packed into `target/other` once; packing it again while nothing has changed costs
/// next to nothing. Not to be written to.
pub fn other() -> &'static Path {
    static SITE: OnceLock<PathBuf> = OnceLock::new();
    SITE.get_or_init(|| pack_another("other", OTHER_NEWS))
}

/// A third build, as [`other`] is another.
pub fn third() -> &'static Path {
    static SITE: OnceLock<PathBuf> = OnceLock::new();
    SITE.get_or_init(|| pack_another("third", "The third build has a style of its own."))
}

/// Packs the app with a few more bytes of style, of drawings and of the boot script, so that no page of it runs
/// with another build's.
fn pack_another(name: &str, news: &str) -> PathBuf {
    let folder = root().join("target").join(name);
    fs::create_dir_all(&folder).expect("target is writable");
    // The programs of the outside tests run side by side; the lock ends with its file's handle.
    let turn = File::create(folder.join("lock")).expect("target is writable");
    turn.lock().expect("files can be locked");
    let (style, public, site) = (
        folder.join("style"),
        folder.join("public"),
        folder.join("site"),
    );
    for (name, copied) in [("style", &style), ("public", &public)] {
        if copied.exists() {
            fs::remove_dir_all(copied).expect("our own copies can be removed");
        }
        copy(&root().join(name), copied);
    }
    let rule = format!(".{name} {{ order: 0 }}");
    fs::write(style.join(format!("zz-{name}.css")), rule).expect("a copy is writable");
    let icon = public.join("icons/icon.svg");
    let drawn = fs::read_to_string(&icon).expect("there is an icon");
    fs::write(&icon, format!("{drawn}<!-- {name} -->")).expect("a copy is writable");
    let boot = public.join("boot.js");
    let script = fs::read_to_string(&boot).expect("there is a boot script");
    fs::write(&boot, format!("{script}void '{name}';\n")).expect("a copy is writable");
    let worker = public.join("sw.js");
    let script = fs::read_to_string(&worker).expect("there is a worker");
    let with_news = script.replace("['__NEWS__']", &format!("['{news}', '__NEWS__']"));
    assert_ne!(script, with_news, "the worker says what is new");
    fs::write(&worker, with_news).expect("a copy is writable");
    let packed = command()
        .arg("pack")
        .args([&root().join("target/front"), &style, &public, &site])
        .output()
        .expect("the server can be started");
    let said = String::from_utf8_lossy(&packed.stderr);
    assert!(packed.status.success(), "packing failed: {said}");
    site
}

/// Copies a folder with all that is in it.
pub fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("target is writable");
    for entry in fs::read_dir(from).expect("there is such a folder") {
        let entry = entry.expect("the folder can be read");
        let (from, to) = (entry.path(), to.join(entry.file_name()));
        if from.is_dir() {
            copy(&from, &to);
        } else {
            fs::copy(from, to).expect("files can be copied");
        }
    }
}

/// A copy of [`other`] that may be spoilt, removed when dropped.
#[derive(Debug)]
pub struct OtherSite {
    folder: TempDir,
}

impl OtherSite {
    /// A whole one.
    pub fn copied() -> Self {
        let folder = tempfile::tempdir().expect("there is room for a site");
        copy(other(), folder.path());
        Self { folder }
    }

    /// Where it is.
    pub fn path(&self) -> &Path {
        self.folder.path()
    }

    /// Takes away a part of the app, in all its forms: what is loaded when one of its screens is
    /// first shown.
    pub fn lose_the_part(&self, name: &str) {
        let part = format!("split_{name}.wasm");
        let mut lost = 0;
        for entry in WalkDir::new(self.path().join("files/pkg")) {
            let entry = entry.expect("the folder can be read");
            if entry.file_name().to_string_lossy().contains(&part) {
                fs::remove_file(entry.path()).expect("our own files can be removed");
                lost += 1;
            }
        }
        assert_ne!(lost, 0, "no file is called {part}");
    }
}

/// The site that `server/start --build` packed.
pub fn packed() -> PathBuf {
    root().join("target/site")
}

/// The id of a site's build.
pub fn build_of(site: &Path) -> String {
    let manifest = fs::read_to_string(site.join("site.json")).expect("a site has a manifest");
    let manifest: serde_json::Value = serde_json::from_str(&manifest).expect("it is JSON");
    manifest["build"]
        .as_str()
        .expect("it has a build")
        .to_owned()
}

/// The files that a site's worker stores: address, and the beginning of their SHA-256.
pub fn known_files(site: &Path) -> Vec<(String, String)> {
    let worker = fs::read_to_string(site.join("files/sw.js")).expect("a site has a worker");
    let (_, list) = worker.split_once("FILES = new Map(").expect("it has files");
    let (list, _) = list.split_once(".map(").expect("the list ends");
    serde_json::from_str(&list.replace('\'', "\"")).expect("the list is one of pairs")
}

/// The address of one of a site's files that are named by their content, by the name of its source: `icon` for
/// `icon.svg`.
pub fn file_named(site: &Path, name: &str) -> String {
    let begin = format!("/pkg/{name}.");
    known_files(site)
        .into_iter()
        .map(|(url, _)| url)
        .find(|url| url.starts_with(&begin))
        .unwrap_or_else(|| panic!("no {begin}"))
}

/// The address of the first file of a site that ends so.
pub fn file_of(site: &Path, end: &str) -> String {
    known_files(site)
        .into_iter()
        .map(|(url, _)| url)
        .find(|url| url.ends_with(end))
        .unwrap_or_else(|| panic!("no {end}"))
}
