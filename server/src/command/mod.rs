//! The command line: reads the arguments, then serves or prepares what is served.
//!
//! May use everything else of the server; nothing else uses it.
//!
//! - `config`: the settings, from environment variables
//! - `logs`, `signals`: what a service manager sees and sends
//! - `serve`: from settings to a running server
//! - `threads`: how many threads there are
//! - `address`: the address that a phone can reach, and its QR code

pub mod address;
pub mod config;
pub mod logs;
pub mod serve;
pub mod signals;
mod threads;

use std::path::{Path, PathBuf};

use crate::error::Error;
use crate::site::source::SiteSource;
use crate::site::{bundle, export, open, pack};
use config::Config;

const HELP: &str = "\
evenloop-server          serve the packed site
evenloop-server --code   the same, and draw its address as a code for a phone's camera
evenloop-server pack FRONT STYLE PUBLIC SITE [plain]
                         pack the browser's build into a site; plain: without compressed forms
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
  EVENLOOP_CONNECTIONS open connections at once       4096, or as many as the system allows
  EVENLOOP_CONNECTIONS_PER_ADDRESS
                       those of one address (of IPv6 the first 64 bits);
                       unlimited: leave that to a proxy
                                                      256, but from this machine unlimited
  EVENLOOP_PROCESSORS  processors to use              as many as the system allows
  EVENLOOP_RETIRE      yes: end the service workers of phones
                                                      no
  EVENLOOP_LOG         what to log                    info
  EVENLOOP_LOG_FORMAT  text or json                   text
";

/// Runs the command that the arguments ask for.
///
/// # Errors
/// When the arguments cannot be understood, or the command fails.
pub fn run(arguments: &[&str]) -> Result<(), Error> {
    match *arguments {
        [] => serve::serve(&Config::from_env()?, false),
        ["--code"] => serve::serve(&Config::from_env()?, true),
        ["pack", ref folders @ ..] => run_pack(folders),
        ["export", folder] => run_export(Path::new(folder), None),
        ["export", "--base", base, folder] => run_export(Path::new(folder), Some(base)),
        ["export", ..] => Err(Error::ExportUsage),
        ["bundle", file] => run_bundle(Path::new(file)),
        ["bundle", ..] => Err(Error::BundleUsage),
        ["--help" | "-h" | "help", ..] => {
            print!("{HELP}");
            Ok(())
        }
        [other, ..] => Err(Error::UnknownCommand(other.to_owned())),
    }
}

fn run_pack(arguments: &[&str]) -> Result<(), Error> {
    let (folders, compressed) = match arguments {
        [folders @ .., "plain"] => (folders, false),
        folders => (folders, true),
    };
    let folders = <[&str; 4]>::try_from(folders).map_err(|_| Error::PackUsage)?;
    let [front, style, public, site] = folders.map(PathBuf::from);
    let manifest = pack::pack(&pack::folders::Folders {
        front,
        style,
        public,
        site,
        compressed,
    })?;
    println!("packed build {}", manifest.build);
    Ok(())
}

fn run_export(folder: &Path, base: Option<&str>) -> Result<(), Error> {
    let mut config = Config::from_env()?;
    if let Some(text) = base {
        config.base = text
            .parse()
            .map_err(|_| Error::InvalidBase(text.to_owned()))?;
    }
    export::export(&serve::open_site(&config)?, folder)?;
    println!(
        "The site is in {}. Any static host can serve it at {}; phones want HTTPS.",
        folder.display(),
        config.base.of("/")
    );
    Ok(())
}

fn run_bundle(file: &Path) -> Result<(), Error> {
    let source = SiteSource::choose(Config::from_env()?.site)?;
    bundle::write(&open::read_checked(&source)?.site, file)?;
    println!("{} is all of it: program and site.", file.display());
    Ok(())
}
