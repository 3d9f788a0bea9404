//! How the pattern goes on after a line that cannot be read or does not come out: on those needles with which least is
//! found in the lines after it.
//!
//! Knows bodies and needles; must not know why a line does not come out.

use std::collections::BTreeSet;

use super::body::Body;
use super::knitter::Knitter;
use super::pieces::{placed, said, width};
use super::runs::{ahead_in_row, as_written, changed, has_edges, resized, run_changes};
use crate::knit::Refusal;
use crate::needles::{Facing, Needles};
use crate::pattern::followed::Form;
use crate::pattern::piece::{Extent, Piece, Placed, Spot, Stitch, Stop};
use crate::pattern::statement::{Says, Statement};
use crate::pattern::work::{Worker, flat_stitches};
use crate::stitch::{Count, Op};

/// How many statements are looked at to see which of two counts the pattern goes on with.
pub(super) const AHEAD: usize = 8;

/// How many of the rounds before a line a guess may come back to.
const BACK: usize = 40;

impl Knitter {
    /// A line that cannot be read is followed by hand: the stitches are as many then as the lines after
    /// it want, or as they were.
    pub(super) fn unread(&mut self, body: &Body, text: &str, rest: &[Statement]) {
        let spot = body.spot;
        let before = self.needles.stitches();
        if before == 0 {
            // the edge has as many as the pattern goes on with
            if let Some(edge) = edge_of(text).or_else(|| goes_on_with(&body.pieces, rest)) {
                self.apply(spot, &edge);
                if !self.needles.joined() {
                    self.apply(spot, &Op::Join);
                }
            }
            self.record(spot, Form::Walk, Vec::new(), true);
            return;
        }
        if self.has_edges() || self.needles.facing() == Facing::WrongSide {
            self.record(spot, Form::Walk, Vec::new(), true);
            return;
        }
        self.go_on_with(&body.pieces, (before, true), None, &ahead(rest));
        let after = self.needles.stitches();
        self.record(spot, Form::Round, as_written(before, after), true);
    }

    /// After a round that does not come out, and the needles on which it began: those that the pattern goes on
    /// with, and how that is worked where its words do not say it. `adrift`: nor did a round before it, so that
    /// a count that the pattern gives is believed.
    pub(super) fn as_the_pattern_goes_on(
        &mut self,
        body: &Body,
        (begun, adrift): (&Needles, bool),
        next: &dyn Fn() -> Vec<Statement>,
    ) -> Vec<Op> {
        let before = begun.stitches();
        let told = self.flawed.get(&body.origin).cloned().flatten();
        let in_row = has_edges(begun) && (body.row || begun.facing() == Facing::WrongSide);
        if in_row {
            let change = told.and_then(|told| told.first().copied());
            let ops = self.row_goes_on(body, begun, change, next);
            let change = i32::from(self.needles.stitches()) - i32::from(before);
            self.flawed.insert(body.origin, Some(vec![change]));
            return ops;
        }
        let runs = match told {
            Some(runs) => {
                // on the needles as they were: what words came to was something else each time
                let again = changed(&Self::at_end(begun), &runs);
                self.needles = again.unwrap_or_else(|| self.needles.clone());
                runs
            }
            None if !self.guessing => {
                // so it is where nothing but a count can be read
                let believed = adrift || body.pieces.len() == 1;
                let again = Some((body.origin, begun));
                self.go_on_with(&body.pieces, (before, believed), again, &next());
                run_changes(begun, &self.needles)
            }
            None => run_changes(begun, &self.needles),
        };
        self.flawed.insert(body.origin, Some(runs));
        as_written(before, self.needles.stitches())
    }

    /// Needles as they are when a round over them is done, whatever was worked.
    fn at_end(begun: &Needles) -> Needles {
        let mut done = Self {
            needles: begun.clone(),
            guessing: true,
            ..Self::default()
        };
        done.finish(false, Facing::RightSide);
        done.needles
    }

    /// A row that does not come out is worked to its edge, or to the gap of a turned row.
    fn row_goes_on(
        &mut self,
        body: &Body,
        begun: &Needles,
        change: Option<i32>,
        next: &dyn Fn() -> Vec<Statement>,
    ) -> Vec<Op> {
        let ahead = ahead_in_row(begun, false);
        let to = |change: i32| {
            let mut ops = as_written(ahead, u16::try_from(i32::from(ahead) + change).ok()?);
            ops.push(Op::Turn);
            let mut needles = begun.clone();
            needles.apply_all(&ops).ok()?;
            Some((needles, ops))
        };
        let changes = match change {
            Some(change) => vec![change],
            None if self.guessing => vec![0],
            None => {
                let flat = flat_stitches(begun).unwrap_or(ahead);
                let said = said(&body.pieces).map(|said| i32::from(said) - i32::from(flat));
                [0, -1, -2, 1].into_iter().chain(said).collect()
            }
        };
        let next = if changes.len() > 1 {
            next()
        } else {
            Vec::new()
        };
        // a row of a heel turn is turned before that, with one stitch taken in
        let turns = (2..ahead).filter(|_| changes.len() > 1 && !begun.edges_grow());
        let turned = |n: u16| {
            let mut ops = as_written(n, n - 1);
            ops.push(Op::Turn);
            let mut needles = begun.clone();
            needles.apply_all(&ops).ok()?;
            Some((needles, ops))
        };
        let tried = changes.iter().copied().filter_map(to);
        let mut best: Option<(usize, (Needles, Vec<Op>))> = None;
        for row in tried.chain(turns.filter_map(turned)) {
            let wrong = self.wrong_after(&row.0, None, &next);
            if best.as_ref().is_none_or(|(least, _)| wrong < *least) {
                best = Some((wrong, row));
            }
            // none comes out better
            if wrong == 0 {
                break;
            }
        }
        match best {
            Some((_, (needles, ops))) => {
                self.needles = needles;
                ops
            }
            None => Vec::new(),
        }
    }

    /// Goes on with so many stitches, whatever the words above came to.
    pub(super) fn come_to(&mut self, spot: Spot, wanted: u16) {
        let before = self.needles.stitches();
        if self.has_edges() || !self.needles.joined() {
            return;
        }
        self.needles = resized(&self.needles, wanted);
        let after = self.needles.stitches();
        if after != before {
            self.record(spot, Form::Round, as_written(before, after), true);
        }
    }

    /// Brings the round or row to its end, so that the next line begins where it should.
    pub(super) fn finish(&mut self, in_rows: bool, facing: Facing) {
        if in_rows {
            if self.needles.facing() == facing {
                let rest = [Piece::Run(Stitch::Knit, Extent::To(0, Stop::End))];
                let mut worker = Worker::new(self.needles.clone(), false);
                if worker.work(&placed(&rest)).is_ok() {
                    self.needles = worker.needles;
                }
                let mut turned = self.needles.clone();
                if turned.apply(&Op::Turn).is_ok() {
                    self.needles = turned;
                }
            }
            return;
        }
        if self.needles.facing() == Facing::WrongSide || self.has_edges() || !self.needles.joined()
        {
            return;
        }
        while let Some(item) = self.needles.pop() {
            self.needles.push(item);
        }
        // at the end of a whole round nothing can be refused
        let _: Result<(), Refusal> = self.needles.end_round();
    }

    /// After a round with a finding: whether the pattern goes on with what its words come to, or with
    /// the count it gives.
    fn go_on_with(
        &mut self,
        pieces: &[Placed],
        (before, believed): (u16, bool),
        again: Option<(Spot, &Needles)>,
        next: &[Statement],
    ) {
        let said = said(pieces);
        let mut tried = vec![self.needles.clone()];
        for count in said.into_iter().chain(expected(next)).chain([before]) {
            tried.push(resized(&self.needles, count));
            tried.extend((0..6).filter_map(|nth| self.needles.with_run_resized(nth, count)));
        }
        // as many as most shapings take, where the pattern says nothing
        let shaped = [1, 2, 4].into_iter().filter(|_| said.is_none());
        tried.extend(
            shaped.map(|taken| resized(&self.needles, before.saturating_sub(taken).max(1))),
        );
        let mut least: Option<((usize, bool), &Needles)> = None;
        for (nth, needles) in tried.iter().enumerate() {
            if tried[..nth].contains(needles) {
                continue;
            }
            let otherwise = believed && said.is_some_and(|said| needles.stitches() != said);
            let again = again.map(|(origin, begun)| (origin, run_changes(begun, needles)));
            let wrong = (self.wrong_after(needles, again, next), otherwise);
            if least.as_ref().is_none_or(|(least, _)| wrong < *least) {
                least = Some((wrong, needles));
            }
            // none comes out better
            if wrong == (0, false) {
                break;
            }
        }
        if let Some((_, needles)) = least {
            self.needles = needles.clone();
        }
    }

    /// How much would be found in the next lines on such needles.
    /// `again`: where words stand that do not come out, and what they are taken to come to when they are repeated.
    pub(super) fn wrong_after(
        &self,
        needles: &Needles,
        again: Option<(Spot, Vec<i32>)>,
        next: &[Statement],
    ) -> usize {
        let forgotten = self.worked.len().saturating_sub(BACK);
        let mut guess = Self {
            needles: needles.clone(),
            findings: Vec::new(),
            guessing: true,
            parts: Vec::new(),
            worked: self.worked[forgotten..].to_vec(),
            part_from: self.part_from.saturating_sub(forgotten),
            numbered: self.numbered.clone(),
            flawed: self.flawed.clone(),
            lacking: BTreeSet::new(),
            adrift: false,
            before: Vec::new(),
            ..*self
        };
        if let Some((origin, runs)) = again {
            guess.flawed.insert(origin, Some(runs));
        }
        guess.all(next);
        guess.findings.len()
    }
}

/// Stitches that lines begin with: as the first of them that tells it.
fn goes_on_with(pieces: &[Placed], rest: &[Statement]) -> Option<Op> {
    let tells = |statement: &Statement| match &statement.says {
        Says::Work { pieces, .. } => width(pieces).filter(|n| *n > 0).or_else(|| said(pieces)),
        _ => None,
    };
    let told = said(pieces).or_else(|| rest.iter().take(AHEAD).find_map(tells));
    told.and_then(Count::new).map(Op::CastOn)
}

/// An edge whose words cannot be read, by the first number in them.
fn edge_of(text: &str) -> Option<Op> {
    let digits = |c: &char| c.is_ascii_digit();
    let begins = text.trim_start().to_ascii_lowercase();
    let number: String = begins
        .chars()
        .skip_while(|c| !digits(c))
        .take_while(digits)
        .collect();
    let n = number.parse().ok()?;
    if !begins.starts_with("co ") && !begins.starts_with("cast on ") {
        return None;
    }
    Some(if begins.contains('+') {
        Op::CastOnMagic(n)
    } else {
        Op::CastOn(n)
    })
}

/// Stitches that the next line works, where its words say it.
fn expected(next: &[Statement]) -> Option<u16> {
    next.first().and_then(|s| match &s.says {
        Says::Work {
            label: Some(_),
            pieces,
        } => width(pieces),
        _ => None,
    })
}

pub(super) fn ahead(statements: &[Statement]) -> Vec<Statement> {
    statements.iter().take(AHEAD).cloned().collect()
}
