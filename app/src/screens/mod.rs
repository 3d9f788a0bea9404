//! One module a screen. A screen shows and asks; it never computes a count, and must not know another screen.

pub mod basket;
pub mod map;
pub mod measure;
pub mod now;
pub mod pattern;
pub mod plan;
pub mod settings;

pub use basket::BasketScreen;
pub use map::MapScreen;
pub use measure::MeasureScreen;
pub use now::NowScreen;
pub use pattern::PatternScreen;
pub use plan::PlanScreen;
pub use settings::SettingsScreen;

#[cfg(test)]
mod tests {
    //! Screens change alone: none names another, and nothing below them names one.

    use std::collections::BTreeSet;
    use std::fs;
    use std::io;
    use std::path::{Path, PathBuf};

    use crate::routes::Screen;

    /// What loads the screens when they are first shown, and has to know them.
    const LOADER: &str = "lazy_screens.rs";

    /// All sources of the app below a folder: the path within the app and the text.
    fn sources(folder: &Path) -> io::Result<Vec<(PathBuf, String)>> {
        let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
        let mut found = Vec::new();
        for entry in fs::read_dir(root.join(folder))? {
            let entry = entry?;
            let path = folder.join(entry.file_name());
            if entry.file_type()?.is_dir() {
                found.extend(sources(&path)?);
            } else if path.extension().is_some_and(|end| end == "rs") {
                let text = fs::read_to_string(root.join(&path))?;
                found.push((path, text));
            }
        }
        Ok(found)
    }

    /// What a text names in a room.
    fn named<'a>(text: &'a str, room: &'a str) -> impl Iterator<Item = &'a str> {
        let of_a_word = |c: char| c.is_alphanumeric() || c == '_';
        text.match_indices(room)
            .filter(move |(at, _)| !text[..*at].ends_with(of_a_word))
            .map(move |(at, _)| {
                let rest = &text[at + room.len()..];
                let end = rest.find(|c| !of_a_word(c));
                &rest[..end.unwrap_or(rest.len())]
            })
    }

    #[test]
    fn no_screen_names_another() -> io::Result<()> {
        let all = sources(Path::new("screens"))?;
        let room = |path: &Path| match path.iter().collect::<Vec<_>>()[..] {
            [_, room, _, ..] => room.to_str().map(str::to_owned),
            _ => None,
        };
        let rooms: BTreeSet<String> = all.iter().filter_map(|(path, _)| room(path)).collect();
        assert_eq!(rooms.len(), Screen::ALL.len());
        for (path, text) in &all {
            let Some(own) = room(path) else {
                continue;
            };
            // As many steps up as lead out of the screen.
            let file = usize::from(!path.ends_with("mod.rs"));
            let up = "super::".repeat(path.iter().count() - 2 + file);
            let others = named(text, "screens::").chain(named(text, &up));
            for other in others.filter(|name| rooms.contains(*name)) {
                assert_eq!(other, own, "{}", path.display());
            }
        }
        Ok(())
    }

    #[test]
    fn nothing_below_the_screens_names_one() -> io::Result<()> {
        let (loader, others): (Vec<_>, Vec<_>) = sources(Path::new(""))?
            .into_iter()
            .filter(|(path, _)| !path.starts_with("screens"))
            .partition(|(path, _)| path.ends_with(LOADER));
        let names = loader.iter().flat_map(|(_, text)| named(text, "screens::"));
        assert_eq!(names.count(), Screen::ALL.len());
        for (path, text) in others {
            assert_eq!(named(&text, "screens::").next(), None, "{}", path.display());
        }
        Ok(())
    }
}
