//! The format of a packed site: a folder, or an archive, with a build manifest and the files to serve.
//!
//! ```text
//! site.json               the build manifest
//! files/sw.js             served as /sw.js
//! files/pkg/boot.HASH.js  served as /pkg/boot.HASH.js; beside it its compressed forms, .br and .gz
//! ```
//!
//! Packing writes it, serving reads it; this file is all that they have in common.

use std::collections::BTreeMap;
use std::path::Path;

use evenloop_app::shell::Assets;
use serde::{Deserialize, Serialize};

/// The folder, within a site, of the files to serve.
pub const FILES: &str = "files";
/// The file, within a site, of the build manifest.
pub const BUILD_MANIFEST: &str = "site.json";
/// Every address that begins so contains a hash of the content.
pub const HASHED: &str = "/pkg/";

/// What packing tells the server about a build. (The web app manifest is another file.)
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct BuildManifest {
    /// The build's id: a hash over everything that is served.
    pub build: String,
    /// Address of the boot script.
    pub boot: String,
    /// Address of the script that shows Now before the app is awake.
    #[serde(default)]
    pub first: String,
    /// Addresses of the app's scripts.
    pub modules: Vec<String>,
    /// Address of the app's wasm.
    pub wasm: String,
    /// Addresses of the files of each part of the app, by the part's name.
    #[serde(default)]
    pub parts: BTreeMap<String, Vec<String>>,
    /// Address of the style sheet.
    pub style: String,
    /// Address of the icon.
    #[serde(default)]
    pub icon: String,
    /// Address of the icon for home screens.
    #[serde(default)]
    pub touch_icon: String,
    /// Hash of every page, by path, as it was when the build's id was made.
    pub pages: BTreeMap<String, String>,
}

impl BuildManifest {
    /// The manifest of a build of these assets, whose pages have these hashes.
    pub fn new(assets: Assets, pages: BTreeMap<String, String>) -> Self {
        Self {
            build: assets.build,
            boot: assets.boot,
            first: assets.first,
            modules: assets.modules,
            wasm: assets.wasm,
            parts: assets.parts,
            style: assets.style,
            icon: assets.icon,
            touch_icon: assets.touch_icon,
            pages,
        }
    }

    /// The assets that the pages refer to.
    pub fn assets(&self) -> Assets {
        Assets {
            build: self.build.clone(),
            boot: self.boot.clone(),
            first: self.first.clone(),
            modules: self.modules.clone(),
            wasm: self.wasm.clone(),
            parts: self.parts.clone(),
            style: self.style.clone(),
            icon: self.icon.clone(),
            touch_icon: self.touch_icon.clone(),
        }
    }
}

/// A packed site as it is stored: nothing is checked or interpreted yet.
#[derive(Debug)]
pub struct StoredSite {
    /// The build manifest, as JSON.
    pub(crate) manifest: Vec<u8>,
    /// The content of every file by its address, compressed forms among them.
    pub(crate) files: BTreeMap<String, Vec<u8>>,
}

/// The address of a file by its path within its folder: `pkg/a.js` is served as `/pkg/a.js`.
pub(crate) fn address(path: &Path) -> String {
    let parts: Vec<_> = path.iter().map(|part| part.to_string_lossy()).collect();
    format!("/{}", parts.join("/"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_the_path_below_the_folder() {
        assert_eq!(address(Path::new("pkg/a.js")), "/pkg/a.js");
        assert_eq!(address(Path::new("sw.js")), "/sw.js");
    }
}
