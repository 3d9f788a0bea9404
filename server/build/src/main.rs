//! `evenloop-build release` makes the browser's half as it is served, `evenloop-build dev` as it is
//! changed, `evenloop-build made-up` in the made-up language. All are run in the repository's root, by `server/front.sh`.

use std::env;
use std::process::ExitCode;

use anyhow::{Result, bail};
use evenloop_build::compile::Profile;
use evenloop_build::front::front;

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
        ["dev"] => front(&root, Profile::Dev),
        ["made-up"] => front(&root, Profile::MadeUp),
        _ => bail!("evenloop-build release, dev or made-up"),
    }
}
