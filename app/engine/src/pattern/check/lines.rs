//! One line on the needles it meets: a round, a row, or instructions outside of any.
//!
//! Knows bodies and needles; must not know which line comes next.

use std::sync::Arc;

use super::body::Body;
use super::knitter::{Knitter, Time};
use super::pieces::{
    begins_with_double, goes_on_to_end, picks_up, placed, refers_to_gap, said, width,
    without_counts,
};
use super::runs::{ahead_in_row, as_written, has_edges, short_rows};
use crate::needles::{Facing, Item, Needles};
use crate::pattern::finding::{Finding, FindingKind};
use crate::pattern::followed::Form;
use crate::pattern::piece::{Extent, Piece, Placed, Spot, Stitch};
use crate::pattern::statement::Statement;
use crate::pattern::work::{Worker, flat_stitches};
use crate::stitch::{Count, Op};

/// Most rounds of a pattern: a bound against repeats without an end.
const MOST_ROUNDS: usize = 2_000;

impl Knitter {
    /// Instructions outside any round: they go on from where the last ones ended.
    pub(super) fn walk(&mut self, body: &Body) {
        let after_turn = self.doubles_first(body);
        let body = after_turn.as_ref().unwrap_or(body);
        let mut pieces = &*body.pieces;
        let turns = matches!(pieces.last().map(|p| &p.piece), Some(Piece::Turn));
        if turns && self.needles.joined() && !self.has_edges() {
            pieces = &pieces[..pieces.len().saturating_sub(1)];
            self.turning = true;
        }
        let begun = self.needles.clone();
        let mut worker = Worker::new(begun.clone(), true);
        worker.knows_corners = false;
        worker.ends = self.ends;
        worker.begins_after = self.back_over;
        let result = worker.work(pieces);
        if result.is_ok() {
            self.comes_to_beginning(&mut worker);
        }
        let ops = std::mem::take(&mut worker.ops);
        let mut found = self.take(worker);
        let stopped = result.is_err();
        if let Err(stopped) = result {
            found.push(stopped.into());
        }
        let troubled = !found.is_empty();
        let found = self.cause_of(found, body, &begun, None);
        self.tell(Some(body.origin), found);
        let edge = ops
            .iter()
            .any(Op::casts_on)
            .then(|| self.needles.stitches());
        self.said_first = edge.map(|stitches| (body.spot, stitches));
        if stopped && has_edges(&begun) && picks_up(pieces) {
            self.needles = begun;
            if self.picked_up(body.spot, pieces) {
                return;
            }
        }
        // a count of the heel alone tells nothing of the rest
        if !troubled && said(pieces) == Some(self.needles.stitches()) {
            self.adrift = false;
        }
        if stopped || !ops.is_empty() || !self.before.is_empty() {
            self.record(body.spot, Form::Walk, ops, stopped);
        }
    }

    /// Picks up along both edges, over as many stitches as there are: as many along each as the words say, or
    /// as the edge has chains. Whether that can be.
    fn picked_up(&mut self, spot: Spot, pieces: &[Placed]) -> bool {
        if self.needles.facing() == Facing::WrongSide {
            // the heel's last row is worked back first
            let ahead = ahead_in_row(&self.needles, false);
            let mut back = as_written(ahead, ahead);
            back.push(Op::Turn);
            let mut needles = self.needles.clone();
            if needles.apply_all(&back).is_ok() {
                self.needles = needles;
                self.record(spot, Form::Row(Facing::WrongSide), back, true);
            }
        }
        let mut picks = pieces.iter().filter_map(|p| match p.piece {
            Piece::PickUp(n) => Some(n),
            _ => None,
        });
        let last = pieces
            .iter()
            .rposition(|p| matches!(p.piece, Piece::PickUp(_)));
        let tail = last.and_then(|last| width(&without_counts(&pieces[last + 1..])));
        let chains = |nth: usize| {
            let edges = self.needles.items().filter_map(|item| match item {
                Item::Edge { loops, .. } => Some(loops.max(1)),
                _ => None,
            });
            edges.collect::<Vec<_>>().get(nth).copied().unwrap_or(1)
        };
        let (left, right) = (
            picks.next().unwrap_or_else(|| chains(1)),
            picks.next().unwrap_or_else(|| chains(0)),
        );
        let heel = ahead_in_row(&self.needles, false);
        let flat = flat_stitches(&self.needles).unwrap_or(heel);
        let instep = self.needles.stitches().saturating_sub(flat);
        let gap = ahead_in_row(&self.needles, true) < heel;
        let over = |n: u16| Piece::Run(Stitch::Knit, Extent::Counted(n));
        let pieces = [
            if gap {
                Piece::AsWritten(heel, heel)
            } else {
                over(heel)
            },
            Piece::PickUp(left),
            Piece::PlaceMarker,
            over(instep),
            Piece::PlaceMarker,
            Piece::PickUp(right),
            over(tail.unwrap_or(heel / 2).min(heel)),
        ];
        let mut worker = Worker::new(self.needles.clone(), true);
        if heel == 0 || instep == 0 || worker.work(&placed(&pieces)).is_err() {
            return false;
        }
        self.needles = worker.needles;
        self.record(spot, Form::Walk, worker.ops, true);
        true
    }

    /// Makes a double stitch of the first one after the turn that the line before ended with, where a line begins
    /// with that: the rest of the line.
    fn doubles_first(&mut self, body: &Body) -> Option<Body> {
        let (first, rest) = body.pieces.split_first()?;
        if first.piece != Piece::MakeDouble {
            return None;
        }
        if std::mem::take(&mut self.turning) {
            self.apply(body.spot, &Op::TurnDouble);
        } else {
            self.needles.double_first().ok()?;
            let lines = self
                .parts
                .iter_mut()
                .rev()
                .flat_map(|part| Arc::make_mut(part).lines.iter_mut().rev());
            let turn = lines.take(1).filter_map(|line| line.ops.last_mut());
            turn.filter(|op| **op == Op::Turn)
                .for_each(|op| *op = Op::TurnDouble);
        }
        Some(Body {
            pieces: rest.into(),
            ..body.clone()
        })
    }

    /// `doubled`: the line after it begins with the double stitch that its turn makes.
    fn begin_rows(&mut self, body: &Body, doubled: impl Fn() -> bool) {
        if !self.needles.joined() || self.has_edges() || !(body.row || self.turning) {
            return;
        }
        let short = short_rows(&self.needles);
        let wrapped = body
            .pieces
            .iter()
            .any(|p| matches!(p.piece, Piece::TurnDouble | Piece::TurnWrapped));
        if !self.turning && self.flat.is_none() && (short || wrapped || doubled()) {
            return;
        }
        let Some(n) = self.flat.take().or_else(|| width(&body.pieces)) else {
            self.find(body.spot, FindingKind::FlatUnknown);
            return;
        };
        let Some(n) = Count::new(n) else { return };
        let behind = std::mem::take(&mut self.turning) || body.facing == Some(Facing::WrongSide);
        if behind {
            self.apply(body.spot, &Op::WorkFlatBehind(n));
            self.apply(body.spot, &Op::Turn);
        } else {
            self.apply(body.spot, &Op::WorkFlat(n));
        }
    }

    /// Brings the needles to where a round or row begins; whether it is worked in rows.
    fn reach_beginning(&mut self, body: &Body) -> bool {
        let in_rows = body.row || self.needles.facing() == Facing::WrongSide;
        if self.adrift && !in_rows && self.has_edges() && !picks_up(&body.pieces) {
            // the line that picks up could not be followed
            self.picked_up(body.spot, &[]);
        }
        // what is counted just to the end of the round ends the one that was begun
        let short = short_rows(&self.needles);
        let ends_round = width(&body.pieces) == Some(self.left_of_round());
        if !in_rows && !self.has_edges() && !refers_to_gap(&body.pieces) {
            self.needles.close_gaps();
        }
        // short rows begin where the work has come to; those that follow go back over them
        let begins_rows = in_rows && self.needles.joined() && !short_rows(&self.needles);
        let begins = if in_rows { begins_rows } else { !ends_round };
        let forth = self.needles.facing() == Facing::RightSide;
        let goes_on = !in_rows && short && goes_on_to_end(&body.pieces);
        if begins && !goes_on && forth && self.needles.tip() > 0 && !self.has_edges() {
            self.apply(body.spot, &Op::BeginHere);
            self.back_over = 0;
            self.heel_before = 0;
        }
        in_rows
    }

    pub(super) fn round(&mut self, body: &Body, next: &dyn Fn() -> Vec<Statement>) {
        if self.worked.len() >= MOST_ROUNDS {
            return;
        }
        self.worked.push(body.clone());
        if !self.needles.joined() && self.needles.stitches() > 0 && !body.row {
            self.apply(body.spot, &Op::Join);
        }
        // picking up goes on over the end of the round, whatever the line is called
        if !body.row && self.has_edges() && picks_up(&body.pieces) {
            self.walk(body);
            return;
        }
        let after_turn = self.doubles_first(body);
        let body = after_turn.as_ref().unwrap_or(body);
        self.begin_rows(body, || next().first().is_some_and(begins_with_double));
        let in_rows = self.reach_beginning(body);
        if !in_rows {
            self.divide(body, next);
        }
        let before = self.needles.stitches();
        let facing = self.needles.facing();
        let begun = self.needles.clone();
        self.tell_other_side(body, in_rows);
        // picking up goes over the end of the round to the flap's other edge
        let mut worker = Worker::new(self.needles.clone(), self.has_edges() && !in_rows);
        worker.knows_corners = false;
        worker.ends = self.ends_for(body);
        worker.begins_after = self.back_over;
        let result = worker.work(&body.pieces);
        let rest = if in_rows { 0 } else { worker.left_of_round() };
        let to_beginning = result.is_ok() && self.comes_to_beginning(&mut worker);
        let has_ops = !worker.ops.is_empty();
        let ops = std::mem::take(&mut worker.ops);
        let mut found = self.take(worker);
        let left_over = |left: u16, of: u16| Finding {
            spot: body.spot,
            what: FindingKind::StitchesLeft {
                worked: of.saturating_sub(left),
                of,
            },
        };
        let picking_up = result.is_err() && has_edges(&begun) && picks_up(&body.pieces);
        if let Err(stopped) = result {
            found.push(stopped.into());
        } else if let Some(left) = self.turned_early(body, &begun) {
            // the row is brought to its edge
            self.needles = begun.clone();
            found.push(left_over(left, self.flat_rest()));
        } else if in_rows {
            let left = self.flat_rest();
            if self.needles.facing() == facing && left > 0 {
                found.push(left_over(left, before));
            }
        } else if rest > 0 && has_ops && !self.has_edges() {
            found.push(left_over(rest, before));
        }
        self.place(&mut found, body);
        let any_done = has_ops || before == 0;
        let as_read = any_done && found.is_empty();
        let counts_only = any_done && worked_whole(&found);
        let was_adrift = self.adrift;
        if found.is_empty() {
            self.keep_turns(body);
        }
        let found = self.cause_of(found, body, &begun, Some(next));
        self.said_first = None;
        self.tell(Some(body.origin), found);
        if picking_up {
            self.needles = begun;
            self.picked_up(body.spot, &body.pieces);
            return;
        }
        let turned = in_rows && self.needles.facing() == facing;
        self.finish(in_rows, facing);
        let come_to = self.needles.stitches();
        let kept =
            (!as_read).then(|| self.as_the_pattern_goes_on(body, (&begun, was_adrift), next));
        let now = self.needles.stitches();
        let as_printed = match said(&body.pieces) {
            Some(said) => said == now,
            None => as_read && width(&body.pieces) == Some(before),
        };
        // where the words themselves are wrong, more than the count may be
        if as_printed && (as_read || counts_only) {
            self.adrift = false;
        }
        let form = if in_rows {
            Form::Row(facing)
        } else if self.has_edges() || to_beginning {
            // the flap's edges are still open, or the needles had the beginning of the round elsewhere
            Form::Walk
        } else {
            Form::Round
        };
        let sound = as_read || (self.needles.stitches() == come_to && counts_only);
        if sound {
            let mut ops = ops;
            if turned {
                ops.push(Op::Turn);
            }
            self.record(body.spot, form, ops, false);
        } else {
            self.record(body.spot, form, kept.unwrap_or_default(), true);
        }
    }

    /// Stitches that are left to work to the end of the round or row.
    fn left_of_round(&self) -> u16 {
        if self.back_over == 0 {
            return ahead_in_row(&self.needles, false);
        }
        let mut worker = Worker::new(self.needles.clone(), false);
        worker.begins_after = self.back_over;
        worker.left_of_round()
    }

    /// Tells a row that is worked on the other side than it says, once in each part.
    fn tell_other_side(&mut self, body: &Body, in_rows: bool) {
        let faces = self.needles.facing();
        let told = self.other_side_told == Some(self.part_from);
        if let Some(said) = body.facing.filter(|said| in_rows && *said != faces)
            && !self.adrift
            && !told
        {
            self.other_side_told = Some(self.part_from);
            // what does not come out after it comes of it
            self.adrift = !self.guessing;
            self.findings.push(Finding {
                spot: body.spot,
                what: FindingKind::OtherSideFaces(said),
            });
        }
    }

    /// Places what was found. What came out until it was worked for the last time is not wrong by itself: it is asked for
    /// once too often.
    fn place(&self, found: &mut [Finding], body: &Body) {
        let again = body.spot != body.origin && self.time == Time::TheLast;
        for finding in found {
            if again || finding.spot == Spot::default() {
                finding.spot = body.spot;
            }
        }
    }

    /// After short rows that went back over the beginning of the round: what they went back over now, or that the
    /// beginning is reached, where it is again from then on.
    fn comes_to_beginning(&mut self, worker: &mut Worker) -> bool {
        if worker.went_back > 0 {
            self.goes_back_over(worker.went_back);
        }
        let forth = worker.needles.facing() == Facing::RightSide;
        let there = self.back_over > 0 && forth && worker.left_of_round() == 0;
        if there && worker.needles.apply(&Op::BeginHere).is_ok() {
            worker.ops.push(Op::BeginHere);
            self.back_over = 0;
            return true;
        }
        false
    }

    /// Stitches that a row of a flap leaves when it is turned before its edge. A row that takes stitches
    /// together is one of a heel turn and may.
    fn turned_early(&self, body: &Body, before: &Needles) -> Option<u16> {
        let takes = |p: &Placed| matches!(p.piece, Piece::Together(_) | Piece::Decrease(_));
        if !before.edges_grow()
            || self.needles.last() != Some(Item::Gap)
            || body.pieces.iter().any(takes)
        {
            return None;
        }
        let left = self.left_to_the_edge();
        (1..=3).contains(&left).then_some(left)
    }
}

/// Whether every stitch was worked all the same: what was found is only that a count differs.
fn worked_whole(findings: &[Finding]) -> bool {
    findings
        .iter()
        .all(|finding| matches!(finding.what, FindingKind::CountDiffers { .. }))
}
