//! Has cargo compile and link the app for the browser.
//!
//! May start cargo and read its messages. Must not know what becomes of the wasm.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use anyhow::{Context, Result, ensure};

/// The app's crate.
const PACKAGE: &str = "evenloop-app";
/// What a browser runs.
const TARGET: &str = "wasm32-unknown-unknown";

/// What the build is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Profile {
    /// For phones: as small as it gets.
    Release,
    /// For the one who changes the app: as soon as it gets.
    Dev,
    /// For the tests that read every screen in a made-up language.
    MadeUp,
}

impl Profile {
    /// The profile's name in `Cargo.toml`.
    pub fn name(self) -> &'static str {
        match self {
            Self::Release => "wasm-release",
            Self::Dev | Self::MadeUp => "wasm-dev",
        }
    }

    /// The app's features.
    fn features(self) -> &'static str {
        match self {
            Self::Release | Self::Dev => "hydrate",
            Self::MadeUp => "hydrate,made-up-language",
        }
    }
}

/// Compiles the app, and gives the linked wasm's place.
///
/// `EVENLOOP_WASM_CARGO` names another cargo than the one in the path, and `EVENLOOP_WASM_FLAGS` what it is
/// given besides, separated by spaces: what a system's own Rust needs to compile for the browser.
///
/// # Errors
/// When cargo fails; it has said why by then.
pub fn compile(root: &Path, profile: Profile) -> Result<PathBuf> {
    let cargo = env::var_os("EVENLOOP_WASM_CARGO").unwrap_or_else(|| "cargo".into());
    let flags = env::var("EVENLOOP_WASM_FLAGS").unwrap_or_default();
    // Apart from the native build, so that neither waits for the other.
    let folder = root.join("target/wasm");
    run(Command::new(&cargo)
        .current_dir(root)
        .args(["fetch", "--locked", "--quiet", "--target", TARGET]))?;
    run(Command::new(&cargo)
        .current_dir(root)
        .arg("rustc")
        .args(flags.split_whitespace())
        .arg("--config")
        .arg(format!(
            "build.rustflags=[{}]",
            without_places()?.join(", ")
        ))
        .args([
            "--locked",
            "--package",
            PACKAGE,
            "--lib",
            "--crate-type",
            "cdylib",
        ])
        .args([
            "--features",
            profile.features(),
            "--profile",
            profile.name(),
            "--target",
            TARGET,
        ])
        .arg("--target-dir")
        .arg(&folder)
        // What needs what, for those who split the wasm.
        .args(["--", "-C", "link-arg=--emit-relocs"]))?;
    let name = format!("{}.wasm", PACKAGE.replace('-', "_"));
    Ok(folder.join(TARGET).join(profile.name()).join(name))
}

/// Keeps out of the app where on this machine its crates lie: a message of an error names them, and so
/// would differ from machine to machine.
fn without_places() -> Result<Vec<String>> {
    let home = match env::var_os("CARGO_HOME") {
        Some(home) => PathBuf::from(home),
        None => env::home_dir()
            .context("there is no home folder")?
            .join(".cargo"),
    };
    let sources = home.join("registry/src");
    let mut places = Vec::new();
    for entry in fs::read_dir(&sources).into_iter().flatten() {
        places.push(entry?.path());
    }
    places.sort();
    Ok(places
        .iter()
        .map(|place| format!("\"--remap-path-prefix={}=crates\"", place.display()))
        .collect())
}

fn run(command: &mut Command) -> Result<()> {
    let program = command.get_program().to_string_lossy().into_owned();
    let status = command
        .status()
        .with_context(|| format!("{program} cannot be started"))?;
    ensure!(status.success(), "{program} failed");
    Ok(())
}
