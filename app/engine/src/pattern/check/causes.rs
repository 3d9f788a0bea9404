//! Where the cause of what does not come out lies, when it is not the line itself: a number that was said before, or the
//! turns of a heel's first rows.
//!
//! Knows bodies, needles and findings; must not know how a line is worked on.

use super::body::Body;
use super::goes_on::AHEAD;
use super::knitter::Knitter;
use super::pieces::said;
use super::runs::{ahead_in_row, has_edges, resized};
use crate::needles::{Item, Needles};
use crate::pattern::finding::{Finding, FindingKind};
use crate::pattern::piece::Piece;
use crate::pattern::statement::Statement;
use crate::pattern::work::Worker;

/// By so many stitches a number is taken to be misprinted at most.
const OFF: u16 = 2;

impl Knitter {
    /// What was found in a line, or its cause in an earlier one. `begun`: the needles on which the line begins.
    /// `next`: the lines after it, where it is a round or row.
    pub(super) fn cause_of(
        &self,
        found: Vec<Finding>,
        body: &Body,
        begun: &Needles,
        next: Option<&dyn Fn() -> Vec<Statement>>,
    ) -> Vec<Finding> {
        let of_counts = found.iter().all(|finding| finding.what.is_of_counts());
        if found.is_empty() || !of_counts || self.adrift || self.guessing {
            return found;
        }
        let cause = next
            .and_then(|next| self.misprinted_before(body, begun, next))
            .or_else(|| self.uneven_turns(begun));
        cause.map_or(found, |cause| vec![cause])
    }

    /// A line that said how many stitches there are, where just one other number close to it lets this line and those
    /// after it come out, and they do not agree with the one it says.
    fn misprinted_before(
        &self,
        body: &Body,
        begun: &Needles,
        next: &dyn Fn() -> Vec<Statement>,
    ) -> Option<Finding> {
        let (spot, number) = self.said_first?;
        let next: Vec<Statement> = next().into_iter().take(AHEAD).collect();
        let with = |stitches: u16| -> Option<Needles> {
            if has_edges(begun) {
                // the rows are worked over so many, and what is more or less waits
                let all = (begun.stitches() + stitches).checked_sub(number)?;
                let runs = begun
                    .items()
                    .filter(|item| matches!(item, Item::Stitches(..)));
                let last = runs.count().checked_sub(1)?;
                let other = begun.with_run_resized(0, all)?;
                other.with_run_resized(last, begun.stitches())
            } else {
                Some(resized(begun, stitches)).filter(|other| other.stitches() == stitches)
            }
        };
        let near = (number.saturating_sub(OFF).max(1)..=number + OFF).filter(|n| *n != number);
        let mut fitting = near.filter(|stitches| {
            let Some(other) = with(*stitches) else {
                return false;
            };
            self.worked_on(&other, body)
                .is_some_and(|after| self.wrong_after(&after, None, &next) == 0)
        });
        let over = fitting.next()?;
        if fitting.next().is_some() {
            return None;
        }
        // the line itself, or one after it, says so too
        let mut skipped = Self {
            needles: begun.clone(),
            guessing: true,
            ..Self::default()
        };
        skipped.finish(has_edges(begun), begun.facing());
        // what repeats the line is as wrong as it is
        let again = Some((body.origin, Vec::new()));
        let agrees = said(&body.pieces) != Some(over)
            && self.wrong_after(&skipped.needles, again, &next) == 0;
        (!agrees).then_some(Finding {
            spot,
            what: FindingKind::WorkedOver { said: number, over },
        })
    }

    /// The needles after a round or row, where it comes out on these.
    pub(super) fn worked_on(&self, needles: &Needles, body: &Body) -> Option<Needles> {
        let in_row = has_edges(needles);
        let facing = needles.facing();
        let mut worker = Worker::new(needles.clone(), false);
        worker.knows_corners = false;
        worker.ends = self.ends_for(body);
        worker.work(&body.pieces).ok()?;
        let sound = worker.differing.is_empty();
        let mut after = Self {
            needles: worker.needles,
            guessing: true,
            ..Self::default()
        };
        let whole = if in_row {
            after.needles.facing() != facing || ahead_in_row(&after.needles, false) == 0
        } else {
            after.needles.upcoming().all(|item| item.width() == 0)
        };
        after.finish(in_row, facing);
        (sound && whole).then_some(after.needles)
    }

    /// Which of a heel's first two rows was turned at the wrong stitch: a turn has as many stitches on one side as on
    /// the other. Turned too late or too early, row 1 moves the middle, and takes from one side what it gives to the
    /// other; row 2 changes its own side only.
    fn uneven_turns(&self, begun: &Needles) -> Option<Finding> {
        if !has_edges(begun) {
            return None;
        }
        let [Some((one, first)), Some((two, second))] = self.turns else {
            return None;
        };
        let spot = match first.abs_diff(second) {
            1 => two,
            2 => one,
            _ => return None,
        };
        Some(Finding {
            spot,
            what: FindingKind::TurnsUneven { first, second },
        })
    }

    /// How many stitches a row that has turned leaves before the open edge.
    pub(super) fn left_to_the_edge(&self) -> u16 {
        let mut back = self.needles.clone();
        back.flip();
        back.upcoming()
            .take_while(|item| !matches!(item, Item::Edge { .. }))
            .map(Item::width)
            .sum()
    }

    /// Keeps how many stitches the first two turns before an open edge leave.
    pub(super) fn keep_turns(&mut self, body: &Body) {
        let turned = body.pieces.last().is_some_and(|p| p.piece == Piece::Turn);
        if !turned || self.needles.last() != Some(Item::Gap) || !self.has_edges() {
            return;
        }
        let left = self.left_to_the_edge();
        if let Some(turn) = self.turns.iter_mut().find(|turn| turn.is_none()) {
            *turn = Some((body.spot, left));
        }
    }
}
