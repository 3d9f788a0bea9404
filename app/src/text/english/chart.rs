//! A chart for the ear.

use evenloop_engine::stitch::{Cross, Lean};
use evenloop_engine::text::KnittingHand;

pub(crate) const KNIT: &str = "knit";
pub(crate) const PURL: &str = "purl";
pub(crate) const TWISTED: &str = "knit through the back loop";
pub(crate) const SLIPPED: &str = "slip";
pub(crate) const YARN_OVER: &str = "yarn over";
pub(crate) const K2TOG: &str = "knit 2 together";
pub(crate) const SSK: &str = "slip, slip, knit";

/// Stitches that cross over one another.
pub(crate) fn cross(cross: Cross, hand: KnittingHand) -> String {
    let side = match cross.lean {
        Lean::Left => hand.left(),
        Lean::Right => hand.right(),
    };
    let purled = if cross.purl { ", purled behind" } else { "" };
    format!("{} over {} to the {side}{purled}", cross.over, cross.under)
}

/// A cell by its round, the stitches it stands for and its symbol; numbers from 1.
pub(crate) fn cell(round: usize, first: usize, last: usize, symbol: &str) -> String {
    if first == last {
        format!("round {round}, stitch {first}: {symbol}")
    } else {
        format!("round {round}, stitches {first} to {last}: {symbol}")
    }
}

/// A round by its number from 1.
pub(crate) fn round(number: usize) -> String {
    format!("round {number}")
}

/// A round that does not make as many stitches as it takes.
pub(crate) fn uneven_round(number: usize, takes: u32, makes: u32) -> String {
    format!("round {number}: makes {makes} stitches of {takes}")
}
