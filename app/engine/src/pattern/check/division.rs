//! How stitches lie on the pattern's needles where it names those but never divides the stitches over them.
//!
//! Knows bodies and needles; must not know how a line is worked.

use super::body::Body;
use super::goes_on::AHEAD;
use super::knitter::Knitter;
use super::pieces::by_needle;
use crate::needles::{Item, Needles};
use crate::pattern::statement::Statement;
use crate::pattern::work::NeedleEnds;
use crate::stitch::Op;

impl Knitter {
    /// Where needles end for a line. Ends that were only thought of give way to words that speak of no needle.
    pub(super) fn ends_for(&self, body: &Body) -> NeedleEnds {
        if self.divided > 0 && !by_needle(&body.pieces) {
            NeedleEnds::Anywhere
        } else {
            self.ends
        }
    }

    /// Divides the stitches for a round that is worked needle by needle: in the way by which least is found in it and
    /// in the lines after it.
    pub(super) fn divide(&mut self, body: &Body, next: &dyn Fn() -> Vec<Statement>) {
        let many = self.needles.per_needle().len();
        let whole = self.needles.joined() && self.needles.tip() == 0 && !self.has_edges();
        let ends = self.needles.items().any(|item| item == Item::End);
        let undivided = if self.divided > 0 {
            many != self.divided
        } else {
            !ends
        };
        if !whole || !undivided || !by_needle(&body.pieces) {
            return;
        }
        let bare = without_ends(&self.needles);
        let around = bare.stitches();
        let ways = self.own.divisions(around, self.needles_named);
        let mut ways = ways.iter().filter_map(|sizes| with_ends(&bare, sizes));
        let chosen = if self.guessing {
            ways.find(|needles| self.worked_on(needles, body).is_some())
        } else {
            let mut lines = vec![body.statement()];
            lines.extend(next().into_iter().take(AHEAD));
            let all: Vec<Needles> = ways.chain([bare.clone()]).collect();
            all.into_iter()
                .min_by_key(|needles| self.wrong_after(needles, None, &lines))
        };
        if let Some(needles) = chosen {
            self.divided = needles.per_needle().len();
            self.needles = needles;
        }
    }
}

fn without_ends(needles: &Needles) -> Needles {
    let mut bare = needles.clone();
    let mut at = 0;
    for size in needles.per_needle() {
        at += size;
        // one that is not there need not go
        let _ = bare.apply(&Op::LoopIn(at));
    }
    bare
}

/// The same with needles that end after so many stitches each, the last one where the round does.
fn with_ends(needles: &Needles, sizes: &[u16]) -> Option<Needles> {
    let mut divided = needles.clone();
    let mut at = 0;
    for size in sizes {
        at += size;
        divided.apply(&Op::LoopOut(at)).ok()?;
    }
    Some(divided)
}
