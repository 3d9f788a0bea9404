//! What of a recipe can be handed on.

use evenloop_engine::link::LINK_LIMIT;

/// How a recipe is handed on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Handed {
    /// By this link.
    Recipe(String),
    /// By this link, with a pattern that is not sent.
    Pattern(String),
    /// Its pattern is longer than a link may be.
    TooLong,
}

impl Handed {
    /// `follows` says whether the recipe has a pattern.
    pub(super) fn of(link: String, follows: bool) -> Self {
        match (follows, link.len() <= LINK_LIMIT) {
            (false, _) => Self::Recipe(link),
            (true, true) => Self::Pattern(link),
            (true, false) => Self::TooLong,
        }
    }
}
