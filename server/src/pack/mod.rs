//! Packs a build into a site: every file named by its content, compressed once and for all, one
//! id over the whole, and a service worker that knows the list.
//!
//! Reads what the build of the browser's half made, the style sheets and the public files; writes one folder.

pub(crate) mod compress;
mod css;
mod front;
pub mod hash;
mod source;
mod write;

use std::collections::BTreeMap;
use std::io;
use std::path::PathBuf;

use evenloop_app::shell::Assets;

use crate::pages;
use crate::site::Note;
use crate::start::StartError;
use source::Sources;

/// Where packing reads and writes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folders {
    /// The browser's build, as `server/build` made it.
    pub front: PathBuf,
    /// The style sheets.
    pub style: PathBuf,
    /// Files served under their own names, the worker and the boot script with what it loads.
    pub public: PathBuf,
    /// The site to write.
    pub site: PathBuf,
    /// Whether files are also written in their compressed forms, which takes its time.
    pub compressed: bool,
}

/// Why packing stopped.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum PackError {
    /// The command line is wrong.
    #[error("Usage: evenloop-server pack FRONT STYLE PUBLIC SITE [plain]")]
    Usage,
    /// A file could not be read or written.
    #[error("Packing cannot use {path}: {source}.")]
    File {
        /// Which.
        path: PathBuf,
        /// What the system said.
        source: io::Error,
    },
    /// A template lacks a mark that packing has to fill in.
    #[error("{file} does not mention {mark}, which packing has to replace.")]
    Mark {
        /// The template.
        file: &'static str,
        /// What is missing.
        mark: &'static str,
    },
}

/// A file of the site: its address and its content.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct File {
    pub(crate) url: String,
    pub(crate) content: Vec<u8>,
}

impl File {
    /// A file under `/pkg/`, with a hash of its content in its name.
    fn hashed(stem: &str, extension: &str, content: Vec<u8>) -> Self {
        let hash = hash::of(&content);
        Self {
            url: format!("/pkg/{stem}.{hash}.{extension}"),
            content,
        }
    }
}

/// The `pack` command.
///
/// # Errors
/// When the arguments are not four folders, with or without `plain` behind them, or packing fails.
pub fn run(arguments: &[&str]) -> Result<(), StartError> {
    let (folders, compressed) = match arguments {
        [folders @ .., "plain"] => (folders, false),
        folders => (folders, true),
    };
    let Ok(folders) = <[&str; 4]>::try_from(folders) else {
        return Err(PackError::Usage.into());
    };
    let [front, style, public, site] = folders.map(PathBuf::from);
    let note = pack(&Folders {
        front,
        style,
        public,
        site,
        compressed,
    })?;
    println!("packed build {}", note.build);
    Ok(())
}

/// Packs, unless the site already holds this very build.
///
/// # Errors
/// When something cannot be read, is not as expected, or cannot be written.
pub fn pack(folders: &Folders) -> Result<Note, PackError> {
    let sources = Sources::read(folders)?;
    let front = sources.front;
    let style = File::hashed("evenloop", "css", css::join(&sources.styles).into_bytes());
    let echo = File::hashed("echo", "js", sources.echo);
    let boot = fill(
        "boot.js",
        &sources.boot,
        &[
            ("./evenloop.js", &beside_boot(&front.script)),
            ("./evenloop_bg.wasm", &beside_boot(&front.wasm)),
            ("./echo.js", &beside_boot(&echo.url)),
        ],
    )?;
    let boot = File::hashed("boot", "js", boot.into_bytes());
    let mut assets = Assets {
        build: String::new(),
        boot: boot.url.clone(),
        modules: vec![front.script, echo.url.clone()],
        wasm: front.wasm,
        parts: front.parts,
        style: style.url.clone(),
    };
    let pages = pages::hashes(&assets);
    let mut files = vec![boot, echo, style];
    files.extend(front.files);
    files.extend(sources.public);
    let build = build_id(&files, &pages, &sources.worker);
    files.push(worker(&sources.worker, &build, &files)?);
    assets.build.clone_from(&build);
    let note = Note {
        build,
        boot: assets.boot,
        modules: assets.modules,
        wasm: assets.wasm,
        parts: assets.parts,
        style: assets.style,
        pages,
    };
    write::site(folders, &note, &files)?;
    Ok(note)
}

/// An address under `/pkg/` as the boot script, which lies there too, writes it.
fn beside_boot(url: &str) -> String {
    url.replacen("/pkg/", "./", 1)
}

/// One hash over everything a phone will store.
fn build_id(files: &[File], pages: &BTreeMap<String, String>, worker: &str) -> String {
    let mut lines: Vec<String> = files
        .iter()
        .map(|file| format!("{} {}", file.url, hash::of(&file.content)))
        .collect();
    lines.extend(pages.iter().map(|(path, page)| format!("{path} {page}")));
    lines.push(worker.to_owned());
    let text = lines.join("\n");
    hash::of(text.as_bytes())
}

/// The service worker, told its build and what belongs to it.
fn worker(template: &str, build: &str, files: &[File]) -> Result<File, PackError> {
    let known: Vec<String> = files
        .iter()
        .map(|file| format!("['{}', '{}']", file.url, hash::of(&file.content)))
        .collect();
    let content = fill(
        "sw.js",
        template,
        &[
            ("'__BUILD__'", &quoted(&[build])),
            ("'__PAGES__'", &quoted(&pages::paths())),
            ("'__FILES__'", &known.join(", ")),
        ],
    )?;
    Ok(File {
        url: "/sw.js".to_owned(),
        content: content.into_bytes(),
    })
}

/// Strings as they stand in a script. The addresses are our own and hold no quotes.
fn quoted(items: &[impl AsRef<str>]) -> String {
    let items: Vec<String> = items
        .iter()
        .map(|item| format!("'{}'", item.as_ref()))
        .collect();
    items.join(", ")
}

/// Replaces each mark in a template; a mark that is missing is an error, not a silent nothing.
fn fill(
    file: &'static str,
    template: &str,
    marks: &[(&'static str, &str)],
) -> Result<String, PackError> {
    let mut text = template.to_owned();
    for &(mark, value) in marks {
        if !text.contains(mark) {
            return Err(PackError::Mark { file, mark });
        }
        text = text.replace(mark, value);
    }
    Ok(text)
}

#[cfg(test)]
mod tests;
