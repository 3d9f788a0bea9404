//! British or American words.

use serde::{Deserialize, Serialize};

/// Whose words are used where knitters' words differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum English {
    /// Words that both understand, for where the reader is not known.
    #[default]
    AsWritten,
    /// Casting off, tension, stocking stitch.
    British,
    /// Binding off, gauge, stockinette; color and meters.
    American,
}

impl English {
    /// By a browser's language, such as "en-GB": American where America's is asked for, British for
    /// all others, who mostly learn it.
    pub fn of_language(tag: &str) -> Self {
        let mut parts = tag.split(['-', '_']);
        let english = parts.next().is_some_and(|p| p.eq_ignore_ascii_case("en"));
        let american = parts.any(|p| ["us", "ca", "ph"].iter().any(|c| p.eq_ignore_ascii_case(c)));
        if english && american {
            Self::American
        } else {
            Self::British
        }
    }

    /// What browsers and voices call it.
    pub const fn tag(self) -> &'static str {
        match self {
            Self::American => "en-US",
            Self::British | Self::AsWritten => "en-GB",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_browsers_language_decides() {
        for (tag, english) in [
            ("en-US", English::American),
            ("en_CA", English::American),
            ("en-GB", English::British),
            ("en", English::British),
            ("de-US", English::British),
            ("", English::British),
        ] {
            assert_eq!(English::of_language(tag), english, "{tag}");
        }
    }
}
