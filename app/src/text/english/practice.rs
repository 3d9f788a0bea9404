//! The tiny sock that is knitted to try things out.

use evenloop_engine::plan::SectionKind;

/// What it is called in the basket.
pub(crate) const NAME: &str = "A tiny sock";

pub(crate) const OFFER: &str = "New here? Knit a tiny sock in a minute: a touch is a round, no yarn is needed, and then it is thrown away.";
pub(crate) const BEGIN: &str = "Knit the tiny sock";
pub(crate) const DECLINE: &str = "No, thank you";
pub(crate) const IN_BASKET: &str = "The tiny sock to try things out is still in your basket.";
pub(crate) const THROW_AWAY: &str = "Throw it away";
pub(crate) const TO_MEASURE: &str = "Throw it away and measure for mine";

/// In Settings.
pub(crate) const TITLE: &str = "Try it out";
pub(crate) const TEXT: &str =
    "A tiny sock, knitted with touches and without yarn in a minute, and then thrown away.";

pub(crate) const LABEL: &str = "The tiny sock";

/// What can be tried where the tiny sock is.
pub(crate) const fn told(at: SectionKind) -> &'static str {
    match at {
        SectionKind::CastOn => "No yarn needed: read, and touch the large pad as if it were done.",
        SectionKind::Cuff => {
            "A touch is a round: the number turns, the knitting grows. Undo takes it back."
        }
        SectionKind::Leg => "Hold the pad to count several rounds at once.",
        SectionKind::HeelFlap => {
            "The heel: rows back and forth over half of the stitches. The picture turns along."
        }
        SectionKind::HeelTurn => "Touch “?” to see a hard move stitch by stitch.",
        SectionKind::PickUp => "The corner, one thing at a time, each with a touch.",
        SectionKind::Gusset => {
            "What to do on each needle, and how many stitches it has afterwards."
        }
        SectionKind::Toe => "Map shows all of the sock; Now brings you back here.",
        _ => "Nearly done. “Check and note” finds a mistake or a lost place.",
    }
}

pub(crate) const FINISHED: &str = "That was a whole sock. Yours begins with a foot and a swatch.";

pub(crate) const NOT_LOADED: &str = "What plans the tiny sock is not stored on this device yet. Please try again when there is a signal.";
pub(crate) const NOT_STORED: &str = "The browser did not store that. Please try again.";
