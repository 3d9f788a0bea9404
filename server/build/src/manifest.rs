//! What packing has to know of the browser's build: a file beside it.
//!
//! The other side is `server/src/site/pack/front.rs`. Must not know how the files are made.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

/// The name of that file. `server/src/pack/front.rs` reads it.
pub const FILE: &str = "front.json";
/// The app's script.
pub const SCRIPT: &str = "evenloop.js";
/// The wasm that the script starts.
pub const WASM: &str = "evenloop_bg.wasm";

/// The names of the build's files.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Manifest {
    /// The app's script.
    pub script: String,
    /// The wasm that the script starts.
    pub wasm: String,
    /// The files of each part of the app, by the part's name.
    pub parts: BTreeMap<String, Vec<String>>,
}
