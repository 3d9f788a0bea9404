//! `evenloop-build release` makes the browser's half as it is served, `evenloop-build made-up` in the made-up
//! language; `evenloop-build dev` makes all as it is changed, serves it, and does so again whenever a file
//! was saved. All are run in the repository's root, by `server/start` and `tests/run`.

use std::env;
use std::process::ExitCode;

use anyhow::{Result, bail};
use evenloop_build::compile::Profile;
use evenloop_build::front::front;
use evenloop_build::watch::watch;

fn main() -> ExitCode {
    match run() {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<()> {
    let arguments: Vec<String> = env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let root = env::current_dir()?;
    match arguments.as_slice() {
        ["release"] => front(&root, Profile::Release),
        ["made-up"] => front(&root, Profile::MadeUp),
        ["dev"] => watch(&root),
        _ => bail!("evenloop-build release, dev or made-up"),
    }
}
