//! A pattern knitted by the simulator, line by line: what does not come out is found at its line.
//!
//! Knows statements, pieces on needles and findings; must not know how a line is written.

use std::collections::BTreeMap;

use super::finding::{Finding, Found};
use super::followed::{FollowedLine, FollowedPart, Form, Part};
use super::heights::Heights;
use super::measured::Measured;
use super::piece::{Extent, Piece, Placed, Spot, Times};
use super::statement::{Label, Rounds, Says, Statement, Until};
use super::work::Worker;
use crate::knit::Refusal;
use crate::needles::{Facing, Item, Needles};
use crate::stitch::{Count, Op};

/// Most rounds of a pattern: a bound against repeats without an end.
const MOST_ROUNDS: usize = 2_000;

/// Most rounds that a repeat until a count may take.
const MOST_REPEATS: u16 = 400;

/// How many statements are looked at to see which of two counts the pattern goes on with.
const AHEAD: usize = 3;

/// A round or row as it is worked, wherever it is repeated.
#[derive(Debug, Clone)]
struct Body {
    spot: Spot,
    row: bool,
    facing: Option<Facing>,
    pieces: Vec<Placed>,
}

impl Body {
    /// As a line of its own, without a number.
    fn statement(&self) -> Statement {
        Statement {
            spot: self.spot,
            says: Says::Work {
                label: Some(Label {
                    row: self.row,
                    facing: self.facing,
                    numbers: Vec::new(),
                    every_second: false,
                }),
                pieces: self.pieces.clone(),
            },
        }
    }
}

#[derive(Debug, Clone, Default)]
struct Knitter {
    needles: Needles,
    numbered: BTreeMap<u16, Body>,
    worked: Vec<Body>,
    findings: Vec<Finding>,
    /// Stitches that the next row begins to work back and forth.
    flat: Option<u16>,
    /// The last line ended with a turn that begins rows.
    turning: bool,
    guessing: bool,
    heights: Heights,
    /// What was worked; nothing while guessing.
    parts: Vec<FollowedPart>,
    /// Operations that belong to the next line.
    before: Vec<Op>,
    /// Rounds since the part began, and since the edge.
    rounds: (u16, u16),
}

/// Knits statements through: what that comes to, and what is found, in the order of the lines.
pub(super) fn knit(
    statements: &[Statement],
    begun: Option<Count>,
    heights: &Heights,
) -> (Vec<FollowedPart>, Vec<Finding>) {
    let mut knitter = Knitter {
        heights: *heights,
        ..Knitter::default()
    };
    if let Some(n) = begun {
        // on empty needles neither can be refused
        let begun = knitter.needles.apply_all(&[Op::CastOn(n), Op::Join]);
        debug_assert!(begun.is_ok());
    }
    knitter.all(statements);
    let mut findings = knitter.findings;
    findings.sort_by_key(|finding| finding.spot);
    findings.dedup();
    let parts = knitter.parts;
    (
        parts.into_iter().filter(|p| !p.lines.is_empty()).collect(),
        findings,
    )
}

impl Knitter {
    fn find(&mut self, spot: Spot, what: Found) {
        self.findings.push(Finding { spot, what });
    }

    fn all(&mut self, statements: &[Statement]) {
        let mut at = 0;
        while let Some(statement) = statements.get(at) {
            let rest = &statements[at..];
            at += self.statement(statement, rest).max(1);
        }
    }

    /// Works one statement, or a block of numbered rounds; how many statements that were.
    fn statement(&mut self, statement: &Statement, rest: &[Statement]) -> usize {
        let spot = statement.spot;
        match &statement.says {
            Says::Work {
                label: Some(label), ..
            }
            | Says::As { label, .. }
                if !label.numbers.is_empty() =>
            {
                return self.block(rest);
            }
            Says::Work { label, pieces } => {
                let body = Body {
                    spot,
                    row: label.as_ref().is_some_and(|l| l.row),
                    facing: label.as_ref().and_then(|l| l.facing),
                    pieces: pieces.clone(),
                };
                if label.is_some() {
                    self.round(&body, &|| ahead(&rest[1..]));
                } else {
                    self.walk(&body);
                }
            }
            Says::As { rounds, .. } => {
                if let Some(body) = self.known(spot, rounds.first().copied().unwrap_or(0)) {
                    self.round(&body, &|| ahead(&rest[1..]));
                }
            }
            Says::Again { rounds, until } => self.again(spot, rounds, *until),
            Says::Flat(n) => self.flat = Some(*n),
            Says::Join => {
                if !self.needles.joined() {
                    self.apply(spot, &Op::Join);
                }
            }
            Says::Measured(measured) => self.measured(spot, *measured),
            Says::Graft => {
                let n = self.needles.stitches();
                if n % 2 == 1 {
                    self.find(spot, Found::DoesNotGraft(n));
                }
                self.needles = Needles::new();
                self.record(spot, Form::Graft, Vec::new(), false);
            }
            Says::Draw => {
                self.needles = Needles::new();
                self.record(spot, Form::Draw, Vec::new(), false);
            }
            Says::Heading(part) => {
                self.numbered.clear();
                self.begin(*part);
            }
            Says::Remark => {}
            Says::Unread {
                expected,
                nearest,
                text,
            } => {
                self.find(
                    spot,
                    Found::Unread {
                        expected: *expected,
                        nearest: *nearest,
                        text: text.clone(),
                    },
                );
                self.unread(spot, &rest[1..]);
            }
        }
        1
    }

    // ------------------------------------------------------------ what is worked

    /// A part begins.
    fn begin(&mut self, part: Option<Part>) {
        self.rounds.0 = 0;
        if !self.guessing {
            self.parts.push(FollowedPart {
                part,
                lines: Vec::new(),
            });
        }
    }

    fn record(&mut self, spot: Spot, form: Form, ops: Vec<Op>, unread: bool) {
        if matches!(form, Form::Round | Form::Row(_)) {
            self.rounds = (
                self.rounds.0.saturating_add(1),
                self.rounds.1.saturating_add(1),
            );
        }
        let mut all = std::mem::take(&mut self.before);
        if self.guessing {
            return;
        }
        all.extend(ops);
        if self.parts.is_empty() {
            self.begin(None);
        }
        if let Some(part) = self.parts.last_mut() {
            part.lines.push(FollowedLine {
                line: spot.line,
                form,
                ops: all,
                after: self.needles.stitches(),
                unread,
            });
        }
    }

    /// A line that cannot be read is followed by hand: the stitches are as many then as the lines after
    /// it want, or as they were.
    fn unread(&mut self, spot: Spot, rest: &[Statement]) {
        let before = self.needles.stitches();
        if before == 0 || self.has_edges() || self.needles.facing() == Facing::WrongSide {
            self.record(spot, Form::Walk, Vec::new(), true);
            return;
        }
        self.go_on_with(&[], before, &ahead(rest));
        let after = self.needles.stitches();
        self.record(spot, Form::Round, as_written(before, after), true);
    }

    /// Rounds up to a height.
    fn measured(&mut self, spot: Spot, measured: Measured) {
        let done = if measured.from_edge {
            self.rounds.1
        } else if measured.whole_part {
            self.rounds.0
        } else {
            0
        };
        let times = self.heights.rounds_in(measured.height).saturating_sub(done);
        let bodies: Vec<Body> = match measured.stitch {
            Some(stitch) => {
                let piece = Piece::Run(stitch, Extent::To(0, super::piece::Stop::End));
                vec![Body {
                    spot,
                    row: false,
                    facing: None,
                    pieces: placed(&[piece]),
                }]
            }
            None => self.as_set(),
        };
        if bodies.is_empty() {
            self.find(spot, Found::NoSuchRound(1));
            return;
        }
        for nth in 0..usize::from(times.max(1)) {
            let findings = self.findings.len();
            let body = &bodies[nth % bodies.len()];
            let uncounted = Body {
                spot,
                pieces: without_counts(&body.pieces),
                ..body.clone()
            };
            self.round(&uncounted, &Vec::new);
            if self.findings.len() > findings {
                return;
            }
        }
    }

    /// The rounds that "as set" repeats: those numbered in this part, in their order, or the last one.
    fn as_set(&self) -> Vec<Body> {
        if self.numbered.is_empty() {
            return self.worked.last().cloned().into_iter().collect();
        }
        self.numbered.values().cloned().collect()
    }

    fn apply(&mut self, spot: Spot, op: &Op) {
        let before = self.needles.clone();
        if let Err(refusal) = self.needles.apply(op) {
            self.needles = before;
            self.find(
                spot,
                Found::Unworkable(super::work::Trouble::Refused(refusal)),
            );
        } else {
            self.before.push(op.clone());
        }
    }

    fn known(&mut self, spot: Spot, number: u16) -> Option<Body> {
        let found = self.numbered.get(&number).cloned();
        if found.is_none() {
            self.find(spot, Found::NoSuchRound(number));
        }
        found
    }

    /// Numbered rounds, in the order of their numbers whatever the order of their lines.
    fn block(&mut self, rest: &[Statement]) -> usize {
        let mut bodies: BTreeMap<u16, Body> = BTreeMap::new();
        let mut second: Option<(u16, Body)> = None;
        let mut used = 0;
        for statement in rest {
            let (label, says) = match &statement.says {
                Says::Work {
                    label: Some(label), ..
                }
                | Says::As { label, .. } => (label, &statement.says),
                _ => break,
            };
            let fresh =
                !label.numbers.is_empty() && label.numbers.iter().all(|n| !bodies.contains_key(n));
            if !fresh {
                break;
            }
            used += 1;
            self.bodies(statement.spot, label, says, &mut bodies);
            if label.every_second
                && let Some(first) = label.numbers.first()
            {
                second = bodies.get(first).cloned().map(|body| (*first, body));
            }
        }
        let first = bodies.keys().next().copied().unwrap_or(1);
        let last = bodies.keys().last().copied().unwrap_or(0);
        if let Some((from, body)) = second {
            let mut n = from;
            // "all even rounds" go one past the last that is written out
            while n <= last + 1 {
                bodies.entry(n).or_insert_with(|| body.clone());
                n += 2;
            }
        }
        let last = bodies.keys().last().copied().unwrap_or(0);
        if bodies.keys().next() == Some(&1) {
            self.numbered.clear();
        }
        self.numbered
            .extend(bodies.iter().map(|(n, body)| (*n, body.clone())));
        for n in first..=last {
            if let Some(body) = bodies.get(&n) {
                let next = || {
                    let bodies = bodies.range(n + 1..).map(|(_, body)| body.statement());
                    bodies
                        .chain(rest[used..].iter().cloned())
                        .take(AHEAD)
                        .collect()
                };
                self.round(body, &next);
            } else {
                let next = bodies
                    .range(n..)
                    .next()
                    .map_or(Spot::default(), |(_, body)| body.spot);
                self.find(next, Found::NoSuchRound(n));
            }
        }
        used
    }

    fn bodies(&mut self, spot: Spot, label: &Label, says: &Says, bodies: &mut BTreeMap<u16, Body>) {
        let body = |pieces: &Vec<Placed>| Body {
            spot,
            row: label.row,
            facing: label.facing,
            pieces: pieces.clone(),
        };
        match says {
            Says::Work { pieces, .. } => {
                for n in &label.numbers {
                    bodies.insert(*n, body(pieces));
                }
            }
            Says::As { rounds, .. } => {
                for (n, as_round) in label.numbers.iter().zip(rounds.iter().cycle()) {
                    let known = bodies
                        .get(as_round)
                        .or_else(|| self.numbered.get(as_round))
                        .cloned();
                    if let Some(known) = known {
                        bodies.insert(*n, Body { spot, ..known });
                    } else {
                        self.find(spot, Found::NoSuchRound(*as_round));
                        // it keeps its place among the others
                        bodies.insert(*n, body(&Vec::new()));
                    }
                }
            }
            _ => {}
        }
    }

    fn again(&mut self, spot: Spot, rounds: &Rounds, until: Until) {
        let bodies: Vec<Body> = match rounds {
            Rounds::Last(n) => {
                let from = self.worked.len().checked_sub(usize::from(*n));
                let Some(from) = from else {
                    self.find(spot, Found::NoSuchRound(*n));
                    return;
                };
                self.worked[from..].to_vec()
            }
            Rounds::Numbered(numbers) => numbers
                .iter()
                .filter_map(|n| self.known(spot, *n))
                .collect(),
        };
        if bodies.is_empty() {
            return;
        }
        let times = match until {
            Until::Times(n) => n.min(MOST_REPEATS),
            Until::Stitches(_) => MOST_REPEATS,
        };
        let before = self.needles.stitches();
        for _ in 0..times {
            if let Until::Stitches(wanted) = until
                && (self.needles.stitches() == wanted)
            {
                return;
            }
            let findings = self.findings.len();
            let stitches = self.needles.stitches();
            for body in &bodies {
                // a count in the line was the first time's
                let uncounted = Body {
                    spot,
                    pieces: without_counts(&body.pieces),
                    ..body.clone()
                };
                self.round(&uncounted, &Vec::new);
            }
            // one line tells what is wrong with all of them
            if self.findings.len() > findings {
                return;
            }
            if let Until::Stitches(wanted) = until {
                let now = self.needles.stitches();
                let past = (before >= wanted) != (now >= wanted) || now == stitches;
                if past && now != wanted {
                    self.find(spot, Found::NeverReached(wanted));
                    return;
                }
            }
        }
    }

    // ------------------------------------------------------------ lines on the needles

    fn has_edges(&self) -> bool {
        self.needles
            .items()
            .any(|item| matches!(item, Item::Edge { .. }))
    }

    /// Instructions outside any round: they go on from where the last ones ended.
    fn walk(&mut self, body: &Body) {
        let mut pieces = body.pieces.clone();
        let turns = matches!(pieces.last().map(|p| &p.piece), Some(Piece::Turn));
        if turns && self.needles.joined() && !self.has_edges() {
            pieces.pop();
            self.turning = true;
        }
        let mut worker = Worker::new(self.needles.clone(), true);
        let result = worker.work(&pieces);
        let ops = std::mem::take(&mut worker.ops);
        self.take(worker);
        let stopped = result.is_err();
        if let Err(stopped) = result {
            self.find(stopped.spot, Found::Unworkable(stopped.trouble));
        }
        if stopped || !ops.is_empty() || !self.before.is_empty() {
            self.record(body.spot, Form::Walk, ops, stopped);
        }
    }

    fn take(&mut self, worker: Worker) {
        self.needles = worker.needles;
        for differing in worker.differing {
            let what = Found::CountDiffers {
                said: differing.said,
                found: differing.found,
            };
            self.find(differing.spot, what);
        }
    }

    fn begin_rows(&mut self, body: &Body) {
        if !self.needles.joined() || self.has_edges() || !(body.row || self.turning) {
            return;
        }
        let short = self
            .needles
            .items()
            .any(|i| matches!(i, Item::Gap | Item::Double(_) | Item::Wrapped(..)));
        let wrapped = body
            .pieces
            .iter()
            .any(|p| matches!(p.piece, Piece::TurnDouble | Piece::TurnWrapped));
        if (short || wrapped) && !self.turning && self.flat.is_none() {
            return;
        }
        let Some(n) = self.flat.take().or_else(|| width(&body.pieces)) else {
            self.find(body.spot, Found::FlatUnknown);
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

    fn round(&mut self, body: &Body, next: &dyn Fn() -> Vec<Statement>) {
        if self.worked.len() >= MOST_ROUNDS {
            return;
        }
        self.worked.push(body.clone());
        if !self.needles.joined() && self.needles.stitches() > 0 && !body.row {
            self.apply(body.spot, &Op::Join);
        }
        self.begin_rows(body);
        let in_rows = body.row || self.needles.facing() == Facing::WrongSide;
        if !in_rows && self.needles.tip() > 0 && !self.has_edges() {
            self.apply(body.spot, &Op::BeginHere);
        }
        let before = self.needles.stitches();
        let facing = self.needles.facing();
        let findings = self.findings.len();
        // picking up goes over the end of the round to the flap's other edge
        let mut worker = Worker::new(self.needles.clone(), self.has_edges() && !in_rows);
        let result = worker.work(&body.pieces);
        let rest = worker
            .needles
            .upcoming()
            .filter(|_| !in_rows)
            .map(Item::width)
            .sum::<u16>();
        let has_ops = !worker.ops.is_empty();
        let ops = worker.ops.clone();
        let unworked = self.needles.clone();
        self.take(worker);
        if let Err(stopped) = result {
            self.find(stopped.spot, Found::Unworkable(stopped.trouble));
        } else if let Some(left) = self.turned_early(body, &unworked) {
            // the row is brought to its edge
            self.needles = unworked;
            let of = self.flat_rest();
            self.find(
                body.spot,
                Found::StitchesLeft {
                    worked: of.saturating_sub(left),
                    of,
                },
            );
        } else if in_rows {
            let left = self.flat_rest();
            if self.needles.facing() == facing && left > 0 {
                let of = before;
                self.find(
                    body.spot,
                    Found::StitchesLeft {
                        worked: of.saturating_sub(left),
                        of,
                    },
                );
            }
        } else if rest > 0 && has_ops && !self.has_edges() {
            let finished = before.saturating_sub(rest);
            self.find(
                body.spot,
                Found::StitchesLeft {
                    worked: finished,
                    of: before,
                },
            );
        }
        let as_read = self.findings.len() == findings;
        let turned = in_rows && self.needles.facing() == facing;
        self.finish(in_rows, facing);
        let come_to = self.needles.stitches();
        if self.findings.len() > findings && !self.guessing {
            self.go_on_with(&body.pieces, before, &next());
        }
        let form = if in_rows {
            Form::Row(facing)
        } else {
            Form::Round
        };
        let sound = as_read
            || (self.needles.stitches() == come_to && worked_whole(&self.findings[findings..]));
        if sound {
            let mut ops = ops;
            if turned {
                ops.push(Op::Turn);
            }
            self.record(body.spot, form, ops, false);
        } else {
            self.record(
                body.spot,
                form,
                as_written(before, self.needles.stitches()),
                true,
            );
        }
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
        let mut back = self.needles.clone();
        back.flip();
        let left = back
            .upcoming()
            .take_while(|item| !matches!(item, Item::Edge { .. }))
            .map(Item::width)
            .sum();
        (1..=3).contains(&left).then_some(left)
    }

    /// Stitches of the row that are not worked.
    fn flat_rest(&self) -> u16 {
        self.needles
            .upcoming()
            .take_while(|item| !matches!(item, Item::Edge { .. }))
            .map(Item::width)
            .sum()
    }

    /// Brings the round or row to its end, so that the next line begins where it should.
    fn finish(&mut self, in_rows: bool, facing: Facing) {
        if in_rows {
            if self.needles.facing() == facing {
                let rest = [Piece::Run(
                    super::piece::Stitch::Knit,
                    Extent::To(0, super::piece::Stop::End),
                )];
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
    fn go_on_with(&mut self, pieces: &[Placed], before: u16, next: &[Statement]) {
        let said = pieces.iter().rev().find_map(|p| match &p.piece {
            Piece::Count(counted) => counted.all,
            _ => None,
        });
        let mut best: Option<(usize, Needles)> = None;
        let mut tried = vec![self.needles.clone()];
        for said in said.into_iter().chain(expected(next)).chain([before]) {
            tried.extend((0..6).filter_map(|nth| self.needles.with_run_resized(nth, said)));
        }
        for needles in tried {
            let mut guess = Self {
                needles: needles.clone(),
                findings: Vec::new(),
                guessing: true,
                parts: Vec::new(),
                worked: self.worked.clone(),
                numbered: self.numbered.clone(),
                before: Vec::new(),
                ..*self
            };
            guess.all(next);
            let wrong = guess.findings.len();
            if best.as_ref().is_none_or(|(least, _)| wrong < *least) {
                best = Some((wrong, needles));
            }
        }
        if let Some((_, needles)) = best {
            self.needles = needles;
        }
    }
}

/// Whether every stitch was worked all the same: what was found is only that a count differs.
fn worked_whole(findings: &[Finding]) -> bool {
    findings
        .iter()
        .all(|finding| matches!(finding.what, Found::CountDiffers { .. }))
}

/// So many stitches become so many, by the pattern's own words.
fn as_written(before: u16, after: u16) -> Vec<Op> {
    match (Count::new(before), Count::new(after)) {
        (Some(before), Some(after)) => vec![Op::AsWritten(before, after)],
        _ => Vec::new(),
    }
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

fn ahead(statements: &[Statement]) -> Vec<Statement> {
    statements.iter().take(AHEAD).cloned().collect()
}

fn placed(pieces: &[Piece]) -> Vec<Placed> {
    let place = |piece: &Piece| Placed {
        spot: Spot::default(),
        piece: piece.clone(),
    };
    pieces.iter().map(place).collect()
}

fn without_counts(pieces: &[Placed]) -> Vec<Placed> {
    let counts = |p: &&Placed| !matches!(p.piece, Piece::Count(_));
    pieces.iter().filter(counts).cloned().collect()
}

/// Stitches that pieces take, where that does not depend on what lies on the needles.
fn width(pieces: &[Placed]) -> Option<u16> {
    let mut sum: u16 = 0;
    for placed in pieces {
        let takes = match &placed.piece {
            Piece::Run(_, Extent::Counted(n)) => *n,
            Piece::KnitCorner => 1,
            Piece::Together(_) => 2,
            Piece::Decrease(decrease) => decrease.takes(),
            Piece::Increase(increase) => increase.takes(),
            Piece::Cross(cross) => cross.width(),
            Piece::AsWritten(from, _) => *from,
            Piece::Repeat(inner, Times::Counted(n)) => width(inner)?.checked_mul(*n)?,
            Piece::Run(..) | Piece::Repeat(..) | Piece::BindOff(_) => return None,
            _ => 0,
        };
        sum = sum.checked_add(takes)?;
    }
    Some(sum)
}
