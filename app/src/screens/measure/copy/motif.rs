//! What Measure says of a pattern and its chart.

use evenloop_engine::recipe::Place;
use evenloop_engine::stitch::{Cross, Lean};

use crate::parts::{Choice, Symbol};

pub(in crate::screens::measure) const MOTIF: &str = "Pattern";
pub(in crate::screens::measure) const PATTERNED: Choice = Choice::with_note(
    "A pattern on leg and instep",
    "One repeat as a chart. Toe, heel and sole stay plain.",
);
pub(in crate::screens::measure) const PLACE: &str = "Where it is knitted";
pub(in crate::screens::measure) const PLACES: [Choice; 2] = [
    Choice::with_note(
        "All round the leg",
        "And on the instep. The number of stitches becomes one that holds whole repeats.",
    ),
    Choice::with_note(
        "On the front",
        "Of the leg, and on the instep: as many repeats as fit, in the middle.",
    ),
];
pub(in crate::screens::measure) const BEGIN_WITH: &str = "Begin with";
pub(in crate::screens::measure) const CHART: &str = "The chart";
pub(in crate::screens::measure) const CHART_TEXT: &str = "One repeat as it looks from outside, read from right to left and from the bottom up. Choose a symbol, then touch cells; touching again makes them knit. Touch a round's number to do something with the whole round.";
pub(in crate::screens::measure) const CHART_EAR: &str =
    "Chart of one repeat. Arrow keys walk through it; Enter puts the chosen symbol.";
pub(in crate::screens::measure) const SYMBOLS: &str = "The symbol to put";
pub(in crate::screens::measure) const WIDTH_OF: &str = "Stitches wide";
pub(in crate::screens::measure) const HEIGHT_OF: &str = "Rounds high";
pub(in crate::screens::measure) const OVER: &str = "Stitches on top";
pub(in crate::screens::measure) const UNDER: &str = "Stitches behind";
pub(in crate::screens::measure) const PURLED: Choice = Choice::with_note(
    "Purl the ones behind",
    "For cables that travel over a purled ground.",
);
pub(in crate::screens::measure) const TOO_NARROW: &str =
    "The chart is narrower than this cross. Make it wider first.";
pub(in crate::screens::measure) const COPY: &str = "Knit it twice";
pub(in crate::screens::measure) const COPY_TWO: &str = "Repeat it with the one before";
pub(in crate::screens::measure) const CLEAR: &str = "Make it plain";
pub(in crate::screens::measure) const TAKE_OUT_ROUND: &str = "Take it out";

/// The heading of what can be done with a round, from 0.
pub(in crate::screens::measure) fn round(nth: usize) -> String {
    format!("Round {}", nth + 1)
}

/// A symbol's short name, below its drawing.
pub(in crate::screens::measure) const fn symbol(symbol: Symbol) -> &'static str {
    match symbol {
        Symbol::Knit => "knit",
        Symbol::Purl => "purl",
        Symbol::YarnOver => "yo",
        Symbol::K2tog => "k2tog",
        Symbol::Ssk => "ssk",
        Symbol::Twisted => "k tbl",
        Symbol::Slipped => "slip",
        Symbol::Cross(Cross {
            lean: Lean::Right, ..
        }) => "cross right",
        Symbol::Cross(Cross {
            lean: Lean::Left, ..
        }) => "cross left",
    }
}

/// The pattern in a few words.
pub(in crate::screens::measure) fn motif_now(
    patterned: bool,
    width: usize,
    height: usize,
    place: Place,
) -> String {
    if !patterned {
        return "plain knitting".to_owned();
    }
    let place = match place {
        Place::AllRound => "all round",
        Place::Front => "on the front",
    };
    format!("{width} stitches by {height} rounds, {place}")
}

/// Repeats to begin with: common stitches, put together by ourselves.
pub(in crate::screens::measure) const STARTERS: [(&str, &[&str]); 5] = [
    ("Seed stitch", &["k1 p1", "p1 k1"]),
    ("Broken rib", &["k1 p1", "k2"]),
    ("Twisted rib", &["kt1 p1"]),
    (
        "Small lace",
        &["k1 yo ssk k1 k2tog yo", "k6", "k1 k2tog yo k1 yo ssk", "k6"],
    ),
    (
        "Cable, 2 over 2",
        &[
            "p1 k4 p1",
            "p1 k4 p1",
            "p1 cr2/2 p1",
            "p1 k4 p1",
            "p1 k4 p1",
            "p1 k4 p1",
        ],
    ),
];
