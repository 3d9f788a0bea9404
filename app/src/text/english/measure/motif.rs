//! A pattern and its chart.

use evenloop_engine::recipe::MotifPlacement;
use evenloop_engine::text::Wording;

use crate::text::{Named, Sentence};

pub(crate) const MOTIF: &str = "Stitch pattern";
pub(crate) const BEGIN_WITH: &str = "Begin with";
pub(crate) const CHART: &str = "The chart";
pub(crate) fn chart_text(wording: Wording) -> String {
    let (right, left) = (wording.hand.right(), wording.hand.left());
    format!(
        "One repeat as it looks from outside, read from {right} to {left} and from the bottom up. Choose a symbol, then touch cells; touching again makes them knit. Touch a round’s number to do something with the whole round."
    )
}
pub(crate) const CHART_EAR: &str =
    "Chart of one repeat. Arrow keys walk through it; Enter puts the chosen symbol.";
pub(crate) const SYMBOLS: &str = "The symbol to put";
pub(crate) const WIDTH_OF: &str = "Stitches wide";
pub(crate) const HEIGHT_OF: &str = "Rounds high";
pub(crate) const OVER: &str = "Stitches on top";
pub(crate) const UNDER: &str = "Stitches behind";
pub(crate) const PURLED: Named = Named {
    name: "Purl the ones behind",
    note: "For cables that travel over a purled ground.",
};
pub(crate) const TOO_NARROW: &str = "The chart is narrower than this cross. Make it wider first.";
pub(crate) const COPY: &str = "Duplicate this round";
pub(crate) const COPY_TWO: &str = "Duplicate it with the round before";
pub(crate) const CLEAR: &str = "Make this round all knit";
pub(crate) const TAKE_OUT_ROUND: &str = "Delete this round";

pub(crate) const REPEAT_SEED: Sentence =
    Sentence::Worded(|wording| wording.english.seed_stitch_capital().to_owned());
pub(crate) const REPEAT_BROKEN_RIB: Sentence = Sentence::Fixed("Broken rib");
pub(crate) const REPEAT_TWISTED_RIB: Sentence = Sentence::Fixed("Twisted rib");
pub(crate) const REPEAT_LACE: Sentence = Sentence::Fixed("Small lace");
pub(crate) const REPEAT_CABLE: Sentence = Sentence::Fixed("Cable, 2 over 2");

/// The heading of what can be done with a round, from 0.
pub(crate) fn round(nth: usize) -> String {
    format!("Round {}", nth + 1)
}

/// A symbol's short name, below its drawing.
pub(crate) const SYMBOL_KNIT: &str = "knit";
pub(crate) const SYMBOL_PURL: &str = "purl";
pub(crate) const SYMBOL_YARN_OVER: &str = "yo";
pub(crate) const SYMBOL_K2TOG: &str = "k2tog";
pub(crate) const SYMBOL_SSK: &str = "ssk";
pub(crate) const SYMBOL_TWISTED: &str = "k tbl";
pub(crate) const SYMBOL_SLIPPED: &str = "slip";
pub(crate) const SYMBOL_CROSS_RIGHT: &str = "cross right";
pub(crate) const SYMBOL_CROSS_LEFT: &str = "cross left";

/// The pattern in a few words: its width, height and place, or none.
pub(crate) fn motif_now(motif: Option<(usize, usize, MotifPlacement)>) -> String {
    let Some((width, height, place)) = motif else {
        return "plain knitting".to_owned();
    };
    let place = match place {
        MotifPlacement::AllRound => "all round",
        MotifPlacement::Front => "on the front",
    };
    format!("{width} stitches by {height} rounds, {place}")
}
