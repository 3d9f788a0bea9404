//! The command: `evenloop-server` serves; its other commands prepare what is served.

use std::path::Path;
use std::process::ExitCode;

use evenloop_server::config::Config;
use evenloop_server::source::Source;
use evenloop_server::start::{self, StartError};
use evenloop_server::{bundle, export, pack};

const HELP: &str = "\
evenloop-server          serve the packed site
evenloop-server --code   the same, and draw its address as a code for a phone's camera
evenloop-server pack FRONT STYLE PUBLIC SITE
                         pack the browser's build into a site
evenloop-server export [--base PATH] FOLDER
                         write the packed site for any static host, to be served below PATH
evenloop-server bundle FILE
                         write program and packed site as one program

Environment
  EVENLOOP_ADDR        address to listen on           127.0.0.1:3000
  EVENLOOP_SITE        folder of the packed site      the one bundled, else target/site
  EVENLOOP_BASE        path below which to serve      /
  EVENLOOP_TLS_CERT    certificate file, PEM          none: plain http
  EVENLOOP_TLS_KEY     its private key, PEM           (SIGHUP reads both anew)
  EVENLOOP_URL         address that --code shows      that of this machine
  EVENLOOP_RETIRE      yes: end the service workers of phones
                                                      no
  EVENLOOP_LOG         what to log                    info
  EVENLOOP_LOG_FORMAT  text or json                   text
";

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let outcome = match *arguments {
        [] => serve(false),
        ["--code"] => serve(true),
        ["pack", ref folders @ ..] => pack::run(folders),
        ["export", folder] => export_to(Path::new(folder), None),
        ["export", "--base", base, folder] => export_to(Path::new(folder), Some(base)),
        ["export", ..] => Err(StartError::ExportUsage),
        ["bundle", file] => bundle_to(Path::new(file)),
        ["bundle", ..] => Err(StartError::BundleUsage),
        ["--help" | "-h" | "help", ..] => {
            print!("{HELP}");
            Ok(())
        }
        [other, ..] => Err(StartError::Command(other.to_owned())),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn serve(show_code: bool) -> Result<(), StartError> {
    start::serve(&Config::from_env()?, show_code)
}

fn export_to(folder: &Path, base: Option<&str>) -> Result<(), StartError> {
    let mut config = Config::from_env()?;
    if let Some(text) = base {
        config.base = text
            .parse()
            .map_err(|_| StartError::Base(text.to_owned()))?;
    }
    let site = start::site(&config)?;
    export::run(&site, folder)?;
    println!(
        "The site is in {}. Any static host can serve it at {}; phones want HTTPS.",
        folder.display(),
        config.base.of("/")
    );
    Ok(())
}

fn bundle_to(file: &Path) -> Result<(), StartError> {
    bundle::run(&Source::choose(Config::from_env()?.site)?, file)?;
    println!("{} is all of it: program and site.", file.display());
    Ok(())
}
