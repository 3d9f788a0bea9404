//! Packs a build into a site: every file named by its content, compressed once and for all, one
//! id over the whole, and a service worker that knows the list.
//!
//! Reads what the build of the browser's half made, the style sheets and the public files; writes one folder.
//! Fills in what the app's store and hands are called by; must not know who serves the site.

mod css;
pub mod folders;
mod front;
mod inputs;
mod news;
mod output;
mod packed_file;
mod pictures;
mod script;
mod template;

use std::collections::BTreeMap;

use evenloop_app::hands;
use evenloop_app::shell::{Assets, NO_SIGNAL};
use evenloop_app::store::{COMPARED_AFTER, keys};

use crate::error::Error;
use crate::site::format::{BuildManifest, HASHED};
use crate::site::{hash, pages};
use folders::Folders;
use inputs::Inputs;
use packed_file::PackedFile;
use pictures::Pictures;
use template::{Template, any_strings, quoted};

/// Packs, unless the site already holds this very build.
///
/// # Errors
/// When something cannot be read, is not as expected, or cannot be written.
pub fn pack(folders: &Folders) -> Result<BuildManifest, Error> {
    let inputs = Inputs::read(folders)?;
    let front = inputs.front;
    let style = css::join(&inputs.styles).into_bytes();
    let style = PackedFile::hashed("evenloop", "css", style);
    let echo = Template {
        file: "echo.js",
        text: &script::without_comments(&inputs.echo),
    };
    let echo = echo.fill(&[
        ("__KEY_ROOT__", keys::ROOT),
        ("__KEY_ASIDE__", keys::QUARANTINE),
        ("__KEY_NUMBER__", keys::ECHO_NUMBER),
        ("__KEY_VERSION__", keys::VERSION),
        ("__KEY_PAIR__", keys::PAIR),
        ("__KEY_PARTED__", keys::PARTED),
        ("__KEY_COMPARED__", keys::COMPARED),
        (
            "__COMPARED_AFTER__",
            &COMPARED_AFTER.as_millis().to_string(),
        ),
    ])?;
    let echo = PackedFile::hashed("echo", "js", echo.into_bytes());
    let listening = script::without_comments(&inputs.listening).into_bytes();
    let listening = PackedFile::hashed("listening", "js", listening);
    let image = script::without_comments(&inputs.image).into_bytes();
    let image = PackedFile::hashed("image", "js", image);
    let boot = Template {
        file: "boot.js",
        text: &script::without_comments(&inputs.boot),
    };
    let boot = boot.fill(&[
        ("./evenloop.js", &beside_boot(&front.script)),
        ("./evenloop_bg.wasm", &beside_boot(&front.wasm)),
        ("./echo.js", &beside_boot(&echo.url)),
        ("./listening.js", &beside_boot(&listening.url)),
        ("./image.js", &beside_boot(&image.url)),
        ("__KEY_PAIR__", keys::PAIR),
        ("__KEY_CURRENT__", keys::CURRENT),
        ("__KEY_OPENED__", keys::OPENED),
        ("__KEY_SETTINGS__", keys::SETTINGS),
        ("__KEY_VERSION__", keys::VERSION),
    ])?;
    let boot = PackedFile::hashed("boot", "js", boot.into_bytes());
    let pictures = Pictures::name(inputs.public)?;
    let first = first_script(&inputs.first)?;
    let mut assets = Assets {
        build: String::new(),
        boot: boot.url.clone(),
        first: first.url.clone(),
        modules: vec![front.script, echo.url.clone()],
        wasm: front.wasm,
        parts: front.parts,
        style: style.url.clone(),
        icon: pictures.icon,
        touch_icon: pictures.touch_icon,
    };
    let pages = pages::hashes(&assets);
    let mut files = vec![boot, first, echo, image, listening, style];
    files.extend(front.files);
    files.extend(pictures.files);
    let build = build_id(&files, &pages, &inputs.worker);
    files.push(worker(&inputs.worker, &build, &files)?);
    assets.build = build;
    let manifest = BuildManifest::new(assets, pages);
    output::write_site(folders, &manifest, &files)?;
    Ok(manifest)
}

/// The script that shows Now before the app is awake: it goes by the app's keys and by its rule of bounces.
fn first_script(text: &str) -> Result<PackedFile, Error> {
    let template = Template {
        file: "first.js",
        text: &script::without_comments(text),
    };
    let content = template.fill(&[
        ("__KEY_SHOWN__", keys::SHOWN),
        ("__KEY_TOUCHED__", keys::TOUCHED),
        ("__BOUNCE__", &hands::BOUNCE.to_string()),
        ("__LIFTED__", &hands::LIFTED.to_string()),
        ("__SPOT__", &hands::SPOT.to_string()),
        ("__HELD__", &hands::HELD.as_millis().to_string()),
        ("__OWN__", hands::OWN),
        ("__CONTROLS__", hands::CONTROLS),
    ])?;
    Ok(PackedFile::hashed("first", "js", content.into_bytes()))
}

/// An address under `/pkg/` relative to the boot script, which lies there too.
fn beside_boot(url: &str) -> String {
    url.replacen(HASHED, "./", 1)
}

/// One hash over everything a phone will store.
fn build_id(files: &[PackedFile], pages: &BTreeMap<String, String>, worker: &str) -> String {
    let mut lines: Vec<String> = files
        .iter()
        .map(|file| format!("{} {}", file.url, hash::of(&file.content)))
        .collect();
    lines.extend(pages.iter().map(|(path, page)| format!("{path} {page}")));
    lines.push(worker.to_owned());
    let text = lines.join("\n");
    hash::of(text.as_bytes())
}

/// The service worker with its build's id, pages and files filled in.
fn worker(script: &str, build: &str, files: &[PackedFile]) -> Result<PackedFile, Error> {
    let known: Vec<String> = files
        .iter()
        .map(|file| format!("['{}', '{}']", file.url, hash::of(&file.content)))
        .collect();
    let template = Template {
        file: "sw.js",
        text: &script::without_comments(script),
    };
    let content = template.fill(&[
        ("'__BUILD__'", &quoted(&[build])),
        ("'__PAGES__'", &quoted(&pages::paths())),
        ("'__FILES__'", &known.join(", ")),
        ("'__NEWS__'", &any_strings(&news::of_this_build())),
        ("'__NO_SIGNAL__'", &any_strings(&NO_SIGNAL)),
    ])?;
    Ok(PackedFile {
        url: "/sw.js".to_owned(),
        content: content.into_bytes(),
    })
}

#[cfg(test)]
mod tests;
