//! Packing a small site of made-up files.

use std::error::Error;
use std::fs;
use std::path::Path;

use super::*;
use evenloop_app::base::Base;

use crate::site::{FILES, NOTE, Site, SiteError};
use crate::source::Source;

type Outcome = Result<(), Box<dyn Error>>;

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
        "import('./evenloop.js'); './evenloop_bg.wasm'; import('./echo.js')",
    )?;
    fs::write(folders.public.join("echo.js"), "export const b = 2;")?;
    fs::write(
        folders.public.join("sw.js"),
        "const B = '__BUILD__', P = ['__PAGES__'], F = ['__FILES__'];",
    )?;
    fs::write(folders.public.join("icons/icon.svg"), "<svg/>")?;
    Ok(folders)
}

fn served(folders: &Folders, url: &str) -> io::Result<String> {
    fs::read_to_string(folders.site.join(FILES).join(url.trim_start_matches('/')))
}

#[test]
fn names_are_written_everywhere() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let note = pack(&folders)?;
    let boot = served(&folders, &note.boot)?;
    let script = note.modules[0].replace("/pkg/", "./");
    let wasm = note.wasm.replace("/pkg/", "./");
    let begin = format!("import('{script}'); '{wasm}'; import('./echo.");
    assert!(boot.starts_with(&begin), "{boot}");
    let worker = served(&folders, "/sw.js")?;
    assert!(
        worker.contains(&format!("B = '{}'", note.build)),
        "{worker}"
    );
    assert!(
        worker.contains("'/', '/measure', '/now', '/map', '/keep', '/plan'"),
        "{worker}"
    );
    let echo = boot
        .rsplit('/')
        .next()
        .map(|name| format!("/pkg/{}", name.trim_end_matches("')")))
        .unwrap_or_default();
    assert_eq!(served(&folders, &echo)?, "export const b = 2;");
    for url in [
        &echo,
        &note.boot,
        &note.modules[0],
        &note.modules[1],
        &note.wasm,
        &note.style,
        "/icons/icon.svg",
    ] {
        let known = format!(
            "['{url}', '{}']",
            hash::of(served(&folders, url)?.as_bytes())
        );
        assert!(worker.contains(&known), "{known} in {worker}");
    }
    Ok(())
}

#[test]
fn sheets_stand_in_a_fixed_order() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let note = pack(&folders)?;
    assert_eq!(
        served(&folders, &note.style)?,
        "tokens {}\nbase {}\nbasket {}\nnow {}\n"
    );
    Ok(())
}

#[test]
fn compressed_forms_lie_beside() -> Outcome {
    let root = tempfile::tempdir()?;
    let folders = folders(root.path())?;
    let note = pack(&folders)?;
    for suffix in ["", ".br", ".gz"] {
        let file = folders
            .site
            .join(FILES)
            .join(&format!("{}{suffix}", note.wasm)[1..]);
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
    let written = fs::metadata(folders.site.join(NOTE))?.modified()?;
    assert_eq!(pack(&folders)?, first);
    assert_eq!(fs::metadata(folders.site.join(NOTE))?.modified()?, written);
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
            "// new\nconst B = '__BUILD__', P = ['__PAGES__'], F = ['__FILES__'];",
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
fn old_files_do_not_linger() -> Outcome {
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

#[test]
fn a_template_without_its_mark_is_refused() -> Outcome {
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
        Site::open(&Source::Folder(folders.site.clone()), &Base::default()),
        Err(SiteError::Missing(_))
    ));
    let mut note = pack(&folders)?;
    let site = Site::open(&Source::Folder(folders.site.clone()), &Base::default())?;
    let page = site.pages.at("/now").ok_or("no page")?.plain();
    assert!(String::from_utf8_lossy(page).contains(&note.build));
    note.pages.insert("/now".into(), "another".into());
    fs::write(folders.site.join(NOTE), serde_json::to_vec(&note)?)?;
    assert!(matches!(
        Site::open(&Source::Folder(folders.site.clone()), &Base::default()),
        Err(SiteError::Stranger(_))
    ));
    Ok(())
}
