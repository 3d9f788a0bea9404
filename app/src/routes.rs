//! Where each screen lives and what it is called: the one list that navigation, titles and the
//! router share, and every address with a query.
//!
//! Must not know what a screen shows.

use crate::store::PairId;

use crate::text;

/// A screen of the app.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Screen {
    /// All pairs.
    Basket,
    /// Foot, swatch and choices, with the plan beside them.
    Measure,
    /// The round at hand.
    Now,
    /// The whole sock, drawn to scale.
    Map,
    /// Backup, restore, settings.
    Settings,
    /// A whole sock as a document; no place of its own in the navigation.
    Plan,
    /// A pattern of the knitter's own; reached from Basket and Measure.
    Pattern,
}

impl Screen {
    /// The screens of the navigation, in its order.
    pub const PLACES: [Self; 5] = [
        Self::Basket,
        Self::Measure,
        Self::Now,
        Self::Map,
        Self::Settings,
    ];

    /// Every screen.
    pub const ALL: [Self; 7] = [
        Self::Basket,
        Self::Measure,
        Self::Now,
        Self::Map,
        Self::Settings,
        Self::Plan,
        Self::Pattern,
    ];

    /// The path's only segment, empty for the start page.
    pub const fn segment(self) -> &'static str {
        match self {
            Self::Basket => "",
            Self::Measure => "measure",
            Self::Now => "now",
            Self::Map => "map",
            // Older than the name of the screen; links and installed apps have it.
            Self::Settings => "keep",
            Self::Plan => "plan",
            Self::Pattern => "pattern",
        }
    }

    /// The absolute path.
    pub const fn path(self) -> &'static str {
        match self {
            Self::Basket => "/",
            Self::Measure => "/measure",
            Self::Now => "/now",
            Self::Map => "/map",
            Self::Settings => "/keep",
            Self::Plan => "/plan",
            Self::Pattern => "/pattern",
        }
    }

    /// The name shown in the navigation and in the window's title.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Basket => text::frame::BASKET,
            Self::Measure => text::frame::MEASURE,
            Self::Now => text::frame::NOW,
            Self::Map => text::frame::MAP,
            Self::Settings => text::frame::KEEP,
            Self::Plan => text::frame::PLAN,
            Self::Pattern => text::frame::PATTERN,
        }
    }

    /// The screen at a path, if there is one. A static host may answer with a folder's path, which
    /// ends in a slash.
    pub fn at(path: &str) -> Option<Self> {
        let segment = path.strip_prefix('/')?;
        let segment = segment.strip_suffix('/').unwrap_or(segment);
        Self::ALL
            .into_iter()
            .find(|screen| screen.segment() == segment)
    }
}

/// In an address: a recipe's link.
pub const RECIPE: &str = "r";
/// In an address: a pair's id.
pub const PAIR: &str = "pair";

/// The path that puts a recipe into the form. A recipe's link is written in letters that an address can
/// hold as they are.
pub fn measure_recipe(link: &str) -> String {
    format!("{}?{RECIPE}={link}", Screen::Measure.path())
}

/// In an address: the link of a ready recipe, which is not made for a certain foot.
pub const READY: &str = "ready";

/// The path that puts the choices of a ready recipe into the form; foot and swatch are the knitter's.
pub fn measure_ready(link: &str) -> String {
    format!("{}?{READY}={link}", Screen::Measure.path())
}

/// The path of a recipe's plan.
pub fn plan_of_recipe(link: &str) -> String {
    format!("{}?{RECIPE}={link}", Screen::Plan.path())
}

/// The path of a pair's plan.
pub fn plan_of(pair: &PairId) -> String {
    format!("{}?{PAIR}={pair}", Screen::Plan.path())
}

/// Where in an address a recipe with a pattern stands: behind the mark after which nothing is sent to the
/// server.
const UNSENT: &str = "r=";

/// The path that opens a recipe with a pattern. Its text is not sent.
pub fn pattern_recipe(link: &str) -> String {
    format!("{}#{UNSENT}{link}", Screen::Pattern.path())
}

/// The recipe's link in what an address does not send.
pub fn recipe_in(unsent: &str) -> Option<&str> {
    let unsent = unsent.strip_prefix('#').unwrap_or(unsent);
    unsent.strip_prefix(UNSENT).filter(|link| !link.is_empty())
}

/// The path that opens a pair's pattern for another pair.
pub fn pattern_of(pair: &impl std::fmt::Display) -> String {
    format!("{}?{PAIR}={pair}", Screen::Pattern.path())
}

/// The path that changes the needles of a begun pair that follows a pattern.
pub fn pattern_change(pair: &impl std::fmt::Display) -> String {
    format!("{}?{CHANGE}={pair}", Screen::Pattern.path())
}

/// In an address: the pair whose sock is to be changed.
pub const CHANGE: &str = "change";

/// The path that opens the form for a change of a pair's sock.
pub fn change_of(pair: &impl std::fmt::Display) -> String {
    format!("{}?{CHANGE}={pair}", Screen::Measure.path())
}

/// The window title of a screen, or of the page where none lives.
pub fn title(screen: Option<Screen>) -> String {
    text::frame::title(screen.map_or(text::frame::NOT_FOUND_TITLE, Screen::name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn path_and_segment_agree() {
        for screen in Screen::ALL {
            assert_eq!(screen.path(), format!("/{}", screen.segment()));
            assert_eq!(Screen::at(screen.path()), Some(screen));
        }
        assert_eq!(Screen::at("/now/"), Some(Screen::Now));
        assert_eq!(Screen::at("/nowhere"), None);
        assert_eq!(Screen::at("now"), None);
    }

    #[test]
    fn a_pattern_in_an_address_is_not_sent() {
        let path = pattern_recipe("4abc");
        let (sent, unsent) = path.split_at(path.find('#').unwrap_or(0));
        assert_eq!(Screen::at(sent), Some(Screen::Pattern));
        assert_eq!(recipe_in(unsent), Some("4abc"));
        assert_eq!(recipe_in("r=4abc"), Some("4abc"));
        assert_eq!(recipe_in(""), None);
        assert_eq!(recipe_in("#plan"), None);
    }
}
