//! Sites of other builds than the one `server/build` packed.

use std::fs;
use std::path::PathBuf;

use tempfile::TempDir;
use walkdir::WalkDir;

use crate::server::{command, root};

/// A packed site in a folder of its own, removed when dropped.
#[derive(Debug)]
pub struct OtherSite {
    folder: TempDir,
}

impl OtherSite {
    /// The same app with a few more bytes of style, and therefore another build.
    pub fn pack(mark: &str) -> Self {
        let folder = tempfile::tempdir().expect("there is room for a site");
        let style = folder.path().join("style");
        fs::create_dir(&style).expect("a new folder is writable");
        for entry in fs::read_dir(root().join("style")).expect("there are styles") {
            let entry = entry.expect("the folder can be read");
            fs::copy(entry.path(), style.join(entry.file_name())).expect("styles can be copied");
        }
        fs::write(
            style.join("zz-other.css"),
            format!(".{mark} {{ order: 0 }}"),
        )
        .expect("a new folder is writable");
        let packed = command()
            .arg("pack")
            .args([&root().join("target/front"), &style, &root().join("public")])
            .arg(folder.path().join("site"))
            .output()
            .expect("the server can be started");
        let said = String::from_utf8_lossy(&packed.stderr);
        assert!(packed.status.success(), "packing failed: {said}");
        Self { folder }
    }

    /// Where it is.
    pub fn path(&self) -> PathBuf {
        self.folder.path().join("site")
    }

    /// Takes away the style sheet, as a half-finished deployment might.
    pub fn lose_the_style(&self) {
        self.lose(".css");
    }

    /// Takes away a part of the app: what is loaded when one of its screens is first shown.
    pub fn lose_the_part(&self, name: &str) {
        self.lose(&format!("split_{name}.wasm"));
    }

    /// Takes away the packed files, in all their forms, whose name holds some text.
    fn lose(&self, part_of_name: &str) {
        let mut lost = 0;
        for entry in WalkDir::new(self.path().join("files/pkg")) {
            let entry = entry.expect("the folder can be read");
            if entry.file_name().to_string_lossy().contains(part_of_name) {
                fs::remove_file(entry.path()).expect("our own files can be removed");
                lost += 1;
            }
        }
        assert_ne!(lost, 0, "no file is called {part_of_name}");
    }
}
