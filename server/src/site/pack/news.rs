//! What the newest version brings, as its changelog says it: an older build's page quotes it when it offers
//! the newer one.

/// What knitters notice, the newest version first.
const CHANGELOG: &str = include_str!("../../../../app/CHANGELOG.md");

/// The first sentence of each entry of the newest version that has any.
pub(super) fn of_this_build() -> Vec<String> {
    newest(CHANGELOG)
}

fn newest(changelog: &str) -> Vec<String> {
    let mut versions = changelog.split("\n## ").skip(1);
    versions
        .find_map(|version| Some(entries(version)).filter(|entries| !entries.is_empty()))
        .unwrap_or_default()
}

fn entries(version: &str) -> Vec<String> {
    let mut entries: Vec<String> = Vec::new();
    for line in version.lines() {
        if let Some(begin) = line.strip_prefix("- ") {
            entries.push(begin.trim().to_owned());
        } else if let (Some(more), Some(entry)) = (line.strip_prefix("  "), entries.last_mut()) {
            entry.push(' ');
            entry.push_str(more.trim());
        }
    }
    entries.iter().map(|entry| first_sentence(entry)).collect()
}

/// Up to the first full stop that ends a sentence, without Markdown's marks.
fn first_sentence(entry: &str) -> String {
    let end = entry.find(". ").map_or(entry.len(), |at| at + 1);
    entry[..end].replace(['*', '`'], "")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_sentence_of_each_entry_of_the_newest_version_is_quoted() {
        let changelog = "# Changelog\n\nWords.\n\n## [Unreleased]\n\n## [0.2.0]\n\n### Changed\n\n\
            - **Now** is read from\n  afar, at 2.5 cm a letter. More of it.\n- Fewer files.\n\n\
            ## [0.1.0]\n\n- All of it.\n";
        let expected = ["Now is read from afar, at 2.5 cm a letter.", "Fewer files."];
        assert_eq!(newest(changelog), expected);
        assert!(newest("# Changelog\n").is_empty());
    }

    #[test]
    fn the_changelog_of_this_build_can_be_quoted() {
        let news = of_this_build();
        assert!(!news.is_empty());
        for one in news {
            assert!(one.ends_with('.') && one.chars().count() <= 200, "{one}");
        }
    }
}
