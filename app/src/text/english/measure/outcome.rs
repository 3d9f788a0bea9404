//! What the sock comes to.

use evenloop_engine::text::Wording;
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::yarn_amount::{show_decigrams, show_metres};

use crate::text::Sentence;

pub(crate) const PLAN: &str = "The plan";
pub(crate) const NO_PLAN: &str = "No plan yet";
pub(crate) const NO_PLAN_LEAD: &str = "This is not yet a sock:";
pub(crate) const AROUND: &str = "Stitches around";
pub(crate) const FACT_NEEDLES: Sentence = Sentence::Fixed("Needles");
pub(crate) const WIDTH: Sentence = Sentence::Fixed("Around the sock");
pub(crate) const EASE: Sentence = Sentence::Fixed("Compared with the foot");
pub(crate) const LEG_LENGTH: Sentence = Sentence::Fixed("The sock’s leg, with its cuff");
pub(crate) const FOOT_LENGTH: Sentence = Sentence::Fixed("The sock’s foot, heel to toe");
pub(crate) const FLAP: Sentence = Sentence::Fixed("Heel flap");
pub(crate) const TURNED: Sentence = Sentence::Fixed("Stitches after the heel turn");
pub(crate) const PICKED_UP: Sentence = Sentence::Fixed("Picked up on each side");
pub(crate) const PEAK: Sentence = Sentence::Fixed("Most stitches at once");
pub(crate) const GRAFTED: Sentence = Sentence::Fixed("Grafted at the toe");
pub(crate) const DRAWN: Sentence = Sentence::Fixed("Drawn closed at the toe");
pub(crate) const TAIL: Sentence = Sentence::Fixed("Tail for the cast-on");
pub(crate) const BIND_OFF_TAIL: Sentence =
    Sentence::Worded(|wording| format!("Tail for the {}", wording.english.bind_off_noun()));
pub(crate) const BIND_OFF_NEEDLE: Sentence =
    Sentence::Worded(|wording| format!("Needle for the {}", wording.english.bind_off_noun()));
pub(crate) const TOP: Sentence = Sentence::Fixed("Stitches at the top");
pub(crate) const YARN_ONE: Sentence = Sentence::Fixed("Yarn for one sock");
pub(crate) const YARN_NOTE: &str =
    "Yarn is an estimate with a tenth to spare, and so are sizes: swatch and foot decide.";
pub(crate) const SECTION: &str = "Section";
pub(crate) const ROUNDS: &str = "Rounds, rows";
pub(crate) const HEIGHT: &str = "Height";
pub(crate) const TABLE: &str = "Section by section";

/// How the sock compares with the foot.
pub(crate) fn ease(permille: i32) -> String {
    let (size, word) = (
        permille.unsigned_abs(),
        if permille < 0 { "wider" } else { "smaller" },
    );
    match (size / 10, size % 10) {
        (0, 0) => "just as wide".to_owned(),
        (whole, 0) => format!("{whole}% {word}"),
        (whole, part) => format!("{whole}.{part}% {word}"),
    }
}

/// Stitches and rows of the flap.
pub(crate) fn flap(stitches: u16, rows: u16) -> String {
    format!("{stitches} stitches, {rows} rows")
}

/// A finished length, and what it measures before washing.
pub(crate) fn length(finished: Length, on_needles: Option<Length>, wording: Wording) -> String {
    let finished = finished.show(wording.unit);
    match on_needles {
        Some(on_needles) => {
            format!(
                "{finished} ({} on the needles)",
                on_needles.show(wording.unit)
            )
        }
        None => finished,
    }
}

/// A number of stitches.
pub(crate) fn stitches(count: u16) -> String {
    format!("{count} stitches")
}

/// Pairs of stitches to graft.
pub(crate) fn grafted(pairs: u16) -> String {
    format!("{pairs} and {pairs}")
}

/// Metres, and grams where they are known.
pub(crate) fn yarn(metres: u32, grams: Option<u32>, unit: LengthUnit) -> String {
    let metres = show_metres(metres, unit);
    match grams {
        Some(grams) => format!(
            "{metres}, {}",
            show_decigrams(grams.saturating_mul(10), unit)
        ),
        None => metres,
    }
}
