//! Packing a small site of made-up files.

use std::fs;
use std::io;
use std::path::Path;

use super::*;
use evenloop_app::base::Base;

use crate::site::format::{BUILD_MANIFEST, FILES};
use crate::site::open::Site;
use crate::site::source::SiteSource;

type Outcome = Result<(), Box<dyn std::error::Error>>;

fn folders(root: &Path) -> io::Result<Folders> {
    let folders = Folders {
        front: root.join("front"),
        style: root.join("style"),
        public: root.join("public"),
        site: root.join("site"),
        compressed: true,
    };
    for folder in [
        &folders.front,
        &folders.style,
        &folders.public.join("icons"),
    ] {
        fs::create_dir_all(folder)?;
    }
    fs::write(
        folders.front.join("evenloop.js"),
        "export const a = 1; ".repeat(50),
    )?;
    fs::write(folders.front.join("evenloop_bg.wasm"), b"\0asm".repeat(100))?;
    fs::write(
        folders.front.join("front.json"),
        r#"{ "script": "evenloop.js", "wasm": "evenloop_bg.wasm", "parts": {} }"#,
    )?;
    fs::write(folders.style.join("now.css"), "now {}")?;
    fs::write(folders.style.join("base.css"), "base {}")?;
    fs::write(folders.style.join("tokens.css"), "tokens {}")?;
    fs::write(folders.style.join("basket.css"), "basket {}")?;
    fs::write(
        folders.public.join("boot.js"),
        "'__KEY_PAIR__', '__KEY_OPENED__', '__KEY_CURRENT__', '__KEY_SETTINGS__', '__KEY_VERSION__'; import('./evenloop.js'); './evenloop_bg.wasm'; import('./listening.js'); import('./image.js'); import('./echo.js')",
    )?;
    fs::write(
        folders.public.join("listening.js"),
        "export const able = () => true;",
    )?;
    fs::write(
        folders.public.join("image.js"),
        "export const keep = () => false;",
    )?;
    fs::write(
        folders.public.join("echo.js"),
        "export const b = ['__KEY_ROOT__', '__KEY_ASIDE__', '__KEY_NUMBER__', '__KEY_VERSION__', '__KEY_PAIR__', '__KEY_PARTED__', '__KEY_COMPARED__'], after = Number('__COMPARED_AFTER__');",
    )?;
    fs::write(
        folders.public.join("first.js"),
        "const K = ['__KEY_SHOWN__', '__KEY_TOUCHED__'], B = [__BOUNCE__, __LIFTED__, __SPOT__, __HELD__], O = '__OWN__', C = \"__CONTROLS__\";",
    )?;
    fs::write(
        folders.public.join("sw.js"),
        "const B = '__BUILD__', P = ['__PAGES__'], F = ['__FILES__'], N = ['__NEWS__'], S = ['__NO_SIGNAL__'];",
    )?;
    for (file, content) in [
        ("icons/icon.svg", "<svg/>"),
        ("icons/apple-touch-icon.png", "a picture"),
        (
            "manifest.webmanifest",
            r#"{ "icons": [{ "src": "icons/icon.svg" }] }"#,
        ),
    ] {
        fs::write(folders.public.join(file), content)?;
    }
    Ok(folders)
}

fn served(folders: &Folders, url: &str) -> io::Result<String> {
    fs::read_to_string(folders.site.join(FILES).join(url.trim_start_matches('/')))
}

#[test]
fn names_are_filled_in_everywhere() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let manifest = pack(&folders)?;
    let boot = served(&folders, &manifest.boot)?;
    let script = manifest.modules[0].replace("/pkg/", "./");
    let wasm = manifest.wasm.replace("/pkg/", "./");
    let begin = format!(
        "'evenloop:pair:', 'evenloop-opened', 'evenloop:current', 'evenloop:settings', '{}'; import('{script}'); '{wasm}'; import('./listening.",
        keys::VERSION
    );
    assert!(boot.starts_with(&begin), "{boot}");
    let worker = served(&folders, "/sw.js")?;
    assert!(
        worker.contains(&format!("B = '{}'", manifest.build)),
        "{worker}"
    );
    assert!(
        worker.contains("'/', '/measure', '/now', '/map', '/keep', '/plan', '/pattern'"),
        "{worker}"
    );
    let echo = boot
        .rsplit('/')
        .next()
        .map(|name| format!("/pkg/{}", name.trim_end_matches("')")))
        .unwrap_or_default();
    assert_eq!(
        served(&folders, &echo)?,
        format!(
            "export const b = ['evenloop:', 'evenloop:aside:', 'evenloop:number', 'evenloop-version:', 'evenloop:pair:', 'evenloop:parted:', 'evenloop-compared'], after = Number('{}');",
            COMPARED_AFTER.as_millis()
        )
    );
    assert_eq!(
        served(&folders, &manifest.first)?,
        format!(
            "const K = ['evenloop-shown', 'evenloop:touched'], B = [120, 50, 24, 550], O = '{}', C = \"{}\";",
            hands::OWN,
            hands::CONTROLS
        )
    );
    for url in [
        &echo,
        &manifest.boot,
        &manifest.first,
        &manifest.modules[0],
        &manifest.modules[1],
        &manifest.wasm,
        &manifest.style,
        &manifest.icon,
        &manifest.touch_icon,
        "/manifest.webmanifest",
    ] {
        let known = format!(
            "['{url}', '{}']",
            hash::of(served(&folders, url)?.as_bytes())
        );
        assert!(worker.contains(&known), "{known} in {worker}");
    }
    Ok(())
}

/// The scripts as they are written and as they are packed, by the name each is written under.
fn own_scripts(folders: &Folders) -> Result<Vec<[String; 3]>, Box<dyn std::error::Error>> {
    let note = pack(folders)?;
    let echo = note.modules.iter().find(|url| url.contains("/echo."));
    let packed = [
        ("boot.js", note.boot.as_str()),
        ("first.js", note.first.as_str()),
        ("echo.js", echo.ok_or("no echo")?),
        ("sw.js", "/sw.js"),
    ];
    packed
        .into_iter()
        .map(|(name, url)| {
            let written = fs::read_to_string(folders.public.join(name))?;
            Ok([name.to_owned(), written, served(folders, url)?])
        })
        .collect()
}

#[test]
fn scripts_have_their_keys_from_the_store_alone() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = Folders {
        public: Path::new(env!("CARGO_MANIFEST_DIR")).join("../public"),
        ..folders(root.path())?
    };
    for entry in fs::read_dir(&folders.public)? {
        let path = entry?.path();
        if path.extension().is_some_and(|end| end == "js") {
            let script = fs::read_to_string(&path)?;
            assert!(!script.contains(keys::ROOT), "a key in {}", path.display());
        }
    }
    let mut keys_of = BTreeMap::new();
    for [name, written, packed] in own_scripts(&folders)? {
        assert!(written.contains("'__"), "{name} has a mark to fill");
        assert!(!packed.contains("'__"), "a mark is left in {name}");
        let keys = packed
            .split('\'')
            .filter(|text| text.starts_with(keys::ROOT));
        keys_of.insert(name, keys.map(str::to_owned).collect::<Vec<_>>());
    }
    let expected = [
        ("boot.js", vec![keys::PAIR, keys::SETTINGS, keys::CURRENT]),
        ("first.js", vec![keys::TOUCHED]),
        (
            "echo.js",
            vec![
                keys::ROOT,
                keys::QUARANTINE,
                keys::PAIR,
                keys::PARTED,
                keys::ECHO_NUMBER,
            ],
        ),
        ("sw.js", vec![]),
    ];
    for (name, keys) in expected {
        assert_eq!(keys_of[name], keys, "{name}");
    }
    Ok(())
}

#[test]
fn sheets_stand_in_a_fixed_order() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let manifest = pack(&folders)?;
    assert_eq!(
        served(&folders, &manifest.style)?,
        "tokens {}\nbase {}\nbasket {}\nnow {}\n"
    );
    Ok(())
}

#[test]
fn compressed_forms_lie_beside_their_file() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let manifest = pack(&folders)?;
    for suffix in ["", ".br", ".gz"] {
        let file = folders
            .site
            .join(FILES)
            .join(&format!("{}{suffix}", manifest.wasm)[1..]);
        assert!(file.exists(), "{}", file.display());
    }
    Ok(())
}

#[test]
fn compressed_forms_can_be_left_out() -> Outcome {
    let root = tempfile::tempdir()?;
    let mut folders = folders(root.path())?;
    folders.compressed = false;
    let note = pack(&folders)?;
    let file = folders.site.join(FILES).join(&note.wasm[1..]);
    assert!(file.exists());
    assert!(!file.with_extension("wasm.br").exists());
    assert!(!file.with_extension("wasm.gz").exists());
    Ok(())
}

#[test]
fn the_same_sources_make_the_same_build_and_no_work() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let first = pack(&folders)?;
    let written = fs::metadata(folders.site.join(BUILD_MANIFEST))?.modified()?;
    assert_eq!(pack(&folders)?, first);
    assert_eq!(
        fs::metadata(folders.site.join(BUILD_MANIFEST))?.modified()?,
        written
    );
    Ok(())
}

#[test]
fn any_change_makes_another_build() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let mut builds = vec![pack(&folders)?.build];
    for (file, content) in [
        (folders.style.join("now.css"), "now { color: red }"),
        (folders.public.join("icons/icon.svg"), "<svg></svg>"),
        (folders.front.join("evenloop.js"), "export const a = 2;"),
        (
            folders.public.join("sw.js"),
            "// new\nconst B = '__BUILD__', P = ['__PAGES__'], F = ['__FILES__'], N = ['__NEWS__'], S = ['__NO_SIGNAL__'];",
        ),
    ] {
        fs::write(file, content)?;
        builds.push(pack(&folders)?.build);
    }
    let count = builds.len();
    builds.sort_unstable();
    builds.dedup();
    assert_eq!(builds.len(), count, "{builds:?}");
    Ok(())
}

#[test]
fn files_of_an_older_build_are_removed() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let first = pack(&folders)?;
    fs::write(folders.style.join("now.css"), "now { color: red }")?;
    let second = pack(&folders)?;
    assert_ne!(first.style, second.style);
    assert!(served(&folders, &first.style).is_err());
    assert!(served(&folders, &second.style).is_ok());
    Ok(())
}

/// The builder may not know the packer, whose marks its worker has to bear.
#[test]
fn the_worker_of_the_development_loop_can_be_packed() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let worker = include_str!("../../../build/src/development_worker.js");
    fs::write(folders.public.join("sw.js"), worker)?;
    let packed = pack(&folders)?;
    let served = served(&folders, "/sw.js")?;
    assert!(served.contains(&packed.build));
    Ok(())
}

#[test]
fn a_template_without_its_placeholder_is_refused() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    fs::write(folders.public.join("sw.js"), "const B = 1;")?;
    let error = pack(&folders).err().map(|error| error.to_string());
    assert!(error.unwrap_or_default().contains("__BUILD__"));
    Ok(())
}

#[test]
fn a_site_opens_only_for_the_pages_it_was_packed_with() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    assert!(matches!(
        Site::open(&SiteSource::Folder(folders.site.clone()), &Base::default()),
        Err(Error::SiteMissing(_))
    ));
    let mut manifest = pack(&folders)?;
    let site = Site::open(&SiteSource::Folder(folders.site.clone()), &Base::default())?;
    let (_, page) = site
        .pages
        .all()
        .find(|(path, _)| *path == "/now")
        .ok_or("no page")?;
    assert!(String::from_utf8_lossy(page.identity()).contains(&manifest.build));
    manifest.pages.insert("/now".into(), "another".into());
    fs::write(
        folders.site.join(BUILD_MANIFEST),
        serde_json::to_vec(&manifest)?,
    )?;
    assert!(matches!(
        Site::open(&SiteSource::Folder(folders.site.clone()), &Base::default()),
        Err(Error::SiteOfAnotherBuild(_))
    ));
    Ok(())
}
