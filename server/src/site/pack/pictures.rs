//! Pictures: named by their content, as scripts are, so that a page of one build never shows another's. The web
//! app manifest keeps its name, which browsers remember, names its icons by their content too, and gets its words
//! from the app.

use std::io;
use std::path::Path;

use evenloop_app::shell::MANIFEST_WORDS;

use crate::error::Error;
use crate::site::pack::packed_file::PackedFile;

/// The web app manifest.
const MANIFEST: &str = "/manifest.webmanifest";
/// The icon.
const ICON: &str = "/icons/icon.svg";
/// The icon for home screens that cannot show the other.
const TOUCH_ICON: &str = "/icons/apple-touch-icon.png";

/// The public files under the addresses at which they are served.
#[derive(Debug)]
pub(super) struct Pictures {
    pub(super) icon: String,
    pub(super) touch_icon: String,
    pub(super) files: Vec<PackedFile>,
}

impl Pictures {
    /// Names each file by its content but for the manifest, in which each name is put in the place of the old.
    ///
    /// # Errors
    /// When one that the app shows is not there.
    pub(super) fn name(public: Vec<PackedFile>) -> Result<Self, Error> {
        let (manifests, pictures): (Vec<_>, Vec<_>) =
            public.into_iter().partition(|file| file.url == MANIFEST);
        let mut named = Vec::new();
        for PackedFile { url, content } in pictures {
            let path = Path::new(&url);
            let part = |part: Option<&std::ffi::OsStr>| {
                part.map(|part| part.to_string_lossy().into_owned())
            };
            let (stem, end) = (part(path.file_stem()), part(path.extension()));
            let (stem, end) = (stem.unwrap_or_default(), end.unwrap_or_default());
            named.push((url, PackedFile::hashed(&stem, &end, content)));
        }
        let address = |url: &str| {
            let found = named.iter().find(|(old, _)| old == url);
            found
                .map(|(_, file)| file.url.clone())
                .ok_or_else(|| Error::File {
                    path: url.trim_start_matches('/').into(),
                    source: io::ErrorKind::NotFound.into(),
                })
        };
        let (icon, touch_icon) = (address(ICON)?, address(TOUCH_ICON)?);
        let manifests = manifests.into_iter().map(|manifest| {
            let mut text = String::from_utf8_lossy(&manifest.content).into_owned();
            for (placeholder, words) in MANIFEST_WORDS {
                let words = serde_json::Value::from(words).to_string();
                text = text.replace(&format!("\"{placeholder}\""), &words);
            }
            for (old, file) in &named {
                text = text.replace(&relative(old), &relative(&file.url));
            }
            PackedFile {
                url: manifest.url,
                content: text.into_bytes(),
            }
        });
        let mut files: Vec<_> = manifests.collect();
        files.extend(named.into_iter().map(|(_, file)| file));
        Ok(Self {
            icon,
            touch_icon,
            files,
        })
    }
}

/// An address as the manifest writes it: relative to the manifest, in quotes.
fn relative(url: &str) -> String {
    format!("\"{}\"", url.trim_start_matches('/'))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn public(icon: &str) -> Vec<PackedFile> {
        [
            (
                MANIFEST,
                r#"{ "lang": "__LANGUAGE__", "icons": [{ "src": "icons/icon.svg" }, { "src": "icons/icon.svg" }] }"#,
            ),
            (ICON, icon),
            (TOUCH_ICON, "png"),
        ]
        .map(|(url, content)| PackedFile {
            url: url.to_owned(),
            content: content.into(),
        })
        .into()
    }

    #[test]
    fn a_picture_is_named_by_its_content_in_the_manifest_too() -> Result<(), Error> {
        let (one, other) = (
            Pictures::name(public("<svg/>"))?,
            Pictures::name(public("<g/>"))?,
        );
        assert_ne!(one.icon, other.icon);
        assert_eq!(one.touch_icon, other.touch_icon);
        for pictures in [one, other] {
            let manifest = pictures.files.iter().find(|file| file.url == MANIFEST);
            let manifest = manifest.map(|file| String::from_utf8_lossy(&file.content).into_owned());
            let manifest = manifest.unwrap_or_default();
            assert_eq!(
                manifest.matches(&relative(&pictures.icon)).count(),
                2,
                "{manifest}"
            );
            assert!(!manifest.contains("icons/"), "{manifest}");
            assert!(manifest.contains(r#""lang": "en""#), "{manifest}");
        }
        Ok(())
    }

    #[test]
    fn a_picture_that_the_app_shows_must_be_there() {
        let lacking = public("<svg/>").into_iter().filter(|file| file.url != ICON);
        let error = Pictures::name(lacking.collect()).err();
        assert!(error.is_some_and(|error| error.to_string().contains("icon.svg")));
    }
}
