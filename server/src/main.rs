//! The command: `evenloop-server` serves, `evenloop-server pack` prepares what is served.

use std::path::Path;
use std::process::ExitCode;

use evenloop_server::{config::Config, export, pack, site::Site, start};

const HELP: &str = "\
evenloop-server          serve the packed site
evenloop-server pack     pack the browser's build into a site
evenloop-server export FOLDER
                         write the packed site for any static host

Environment
  EVENLOOP_ADDR        address to listen on           127.0.0.1:3000
  EVENLOOP_SITE        folder of the packed site      target/site
  EVENLOOP_LOG         what to log                    info
  EVENLOOP_LOG_FORMAT  text or json                   text
";

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let outcome = match arguments.next().as_deref() {
        None => Config::from_env().and_then(|config| start::serve(&config)),
        Some("pack") => pack::run(arguments),
        Some("export") => match (arguments.next(), arguments.next()) {
            (Some(folder), None) => export_to(Path::new(&folder)),
            _ => Err(start::StartError::ExportUsage),
        },
        Some("--help" | "-h" | "help") => {
            print!("{HELP}");
            Ok(())
        }
        Some(other) => Err(start::StartError::Command(other.to_owned())),
    };
    match outcome {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn export_to(folder: &Path) -> Result<(), start::StartError> {
    let site = Site::open(&Config::from_env()?.site)?;
    export::run(&site, folder)?;
    println!(
        "The site is in {}. Any static host can serve it; phones want HTTPS.",
        folder.display()
    );
    Ok(())
}
