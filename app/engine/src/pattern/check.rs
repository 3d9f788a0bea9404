//! A pattern knitted by the simulator, line by line: what does not come out is found at its line.
//!
//! Knows statements, pieces on needles and findings; must not know how a line is written.

use std::collections::{BTreeMap, BTreeSet};

use super::finding::{Finding, Found};
use super::followed::{FollowedLine, FollowedPart, Form, Part};
use super::heights::Heights;
use super::measured::Measured;
use super::piece::{Counted, Extent, Piece, Placed, Spot, Stop, Times};
use super::statement::{Label, Rounds, Says, Statement, Until};
use super::work::{NeedleEnds, Worker};
use crate::knit::Refusal;
use crate::needles::{Facing, Item, Needles};
use crate::stitch::{Count, Op};

/// Most rounds of a pattern: a bound against repeats without an end.
const MOST_ROUNDS: usize = 2_000;

/// Most rounds that a repeat until a count may take.
const MOST_REPEATS: u16 = 400;

/// How many statements are looked at to see which of two counts the pattern goes on with.
const AHEAD: usize = 8;

/// Most stitches that a toe is drawn closed with where a pattern does not say how it is closed: more would
/// pucker (common practice, no source).
const MOST_DRAWN: u16 = 12;

/// How many of the rounds before a line a guess may come back to.
const BACK: usize = 40;

/// A round or row as it is worked, wherever it is repeated.
#[derive(Debug, Clone)]
struct Body {
    spot: Spot,
    /// Where its words stand, wherever it is worked.
    origin: Spot,
    row: bool,
    facing: Option<Facing>,
    pieces: Vec<Placed>,
}

impl Body {
    /// The same worked again where another line asks for it: a count in it was the first time's.
    fn again_at(&self, spot: Spot) -> Self {
        Self {
            spot,
            pieces: without_counts(&self.pieces),
            ..self.clone()
        }
    }

    /// One whose words cannot be followed, with no more than the count that it gives.
    fn of_no_words(spot: Spot, label: Option<&Label>, said: Option<u16>) -> Self {
        let count = said.map(|all| Placed {
            spot,
            piece: Piece::Count(Counted {
                all: Some(all),
                needles: Vec::new(),
            }),
        });
        Self {
            spot,
            origin: spot,
            row: label.is_some_and(|label| label.row),
            facing: label.and_then(|label| label.facing),
            pieces: count.into_iter().collect(),
        }
    }

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
    /// Where words stand that do not come out, and by how many stitches more or fewer in each run of stitches
    /// the pattern goes on after them; nothing before they are worked. What is repeated is told once.
    flawed: BTreeMap<Spot, Option<Vec<i32>>>,
    /// Numbers of rounds that were asked for in this part and are not there.
    lacking: BTreeSet<u16>,
    /// Something was told, and the counts have not come to the pattern's own again since: that they differ
    /// is not told anew.
    adrift: bool,
    /// Stitches that the next row begins to work back and forth.
    flat: Option<u16>,
    /// The last line ended with a turn that begins rows.
    turning: bool,
    guessing: bool,
    heights: Heights,
    /// Where the pattern's needles end.
    ends: NeedleEnds,
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
        ends: if statements.iter().any(names_needles_in) {
            NeedleEnds::AsTheyAre
        } else {
            NeedleEnds::Anywhere
        },
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
        self.tell(None, vec![Finding { spot, what }]);
    }

    /// Tells what was found in words that stand there, unless that was told before or comes of what was told
    /// before.
    fn tell(&mut self, origin: Option<Spot>, mut found: Vec<Finding>) {
        if origin.is_some_and(|origin| self.flawed.contains_key(&origin)) {
            return;
        }
        if self.adrift {
            found.retain(|finding| !finding.what.is_of_counts());
        }
        self.adrift |= !found.is_empty() && !self.guessing;
        self.findings.append(&mut found);
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
            | Says::Unread {
                label: Some(label), ..
            } if !label.numbers.is_empty() => {
                return self.block(rest);
            }
            Says::Work { label, pieces } => {
                let body = Body {
                    spot,
                    origin: spot,
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
            Says::As { label, rounds } => {
                let known = self.known(spot, rounds.first().copied().unwrap_or(0));
                let body = known.unwrap_or_else(|| {
                    self.flawed.insert(spot, None);
                    Body::of_no_words(spot, Some(label), None)
                });
                self.round(&body, &|| ahead(&rest[1..]));
            }
            Says::Again { rounds, until } => self.again(spot, rounds, *until),
            Says::Flat(n) => self.flat = Some(*n),
            Says::Join => {
                if !self.needles.joined() {
                    self.apply(spot, &Op::Join);
                }
            }
            Says::Measured(measured) => self.measured(spot, *measured),
            Says::Draw => self.draw(spot),
            Says::Close if self.needles.stitches() <= MOST_DRAWN => self.draw(spot),
            Says::Graft | Says::Close => {
                let n = self.needles.stitches();
                if n % 2 == 1 {
                    self.find(spot, Found::DoesNotGraft(n));
                    // halves that can be grafted are the knitter's to make
                    self.come_to(spot, n - 1);
                }
                self.close();
                self.record(spot, Form::Graft, Vec::new(), false);
            }
            Says::Heading(part) => {
                self.numbered.clear();
                self.lacking.clear();
                self.begin(*part);
            }
            Says::Remark => {}
            Says::Unread {
                label,
                said,
                text,
                found,
            } => {
                self.find(spot, found.clone());
                self.flawed.insert(spot, None);
                let body = Body::of_no_words(spot, label.as_ref(), *said);
                if label.is_none() {
                    self.unread(&body, text, &rest[1..]);
                } else {
                    self.round(&body, &|| ahead(&rest[1..]));
                }
            }
        }
        1
    }

    // ------------------------------------------------------------ what is worked

    fn draw(&mut self, spot: Spot) {
        self.close();
        self.record(spot, Form::Draw, Vec::new(), false);
    }

    /// No stitch is left; what keeps the place of a later heel is.
    fn close(&mut self) {
        if self.needles.waste() > 0 || self.needles.to_snip() > 0 {
            self.needles.clear();
        } else {
            self.needles = Needles::new();
        }
    }

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
    fn unread(&mut self, body: &Body, text: &str, rest: &[Statement]) {
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
                    origin: spot,
                    row: false,
                    facing: None,
                    pieces: placed(&[piece]),
                }]
            }
            None => self.as_set(),
        };
        if bodies.is_empty() {
            self.find(spot, Found::NoSuchRound(1));
            self.record(spot, Form::Walk, Vec::new(), true);
            return;
        }
        for nth in 0..usize::from(times.max(1)) {
            self.round(&bodies[nth % bodies.len()].again_at(spot), &Vec::new);
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
            self.lacks(spot, number);
        }
        found
    }

    /// There is no round of that number: told once.
    fn lacks(&mut self, spot: Spot, number: u16) {
        if self.lacking.insert(number) {
            self.find(spot, Found::NoSuchRound(number));
        }
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
                | Says::As { label, .. }
                | Says::Unread {
                    label: Some(label), ..
                } => (label, &statement.says),
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
            self.lacking.clear();
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
                self.lacks(next, n);
            }
        }
        used
    }

    fn bodies(&mut self, spot: Spot, label: &Label, says: &Says, bodies: &mut BTreeMap<u16, Body>) {
        let body = |pieces: &Vec<Placed>| Body {
            spot,
            origin: spot,
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
            Says::Unread { said, found, .. } => {
                self.find(spot, found.clone());
                self.flawed.insert(spot, None);
                for n in &label.numbers {
                    bodies.insert(*n, Body::of_no_words(spot, Some(label), *said));
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
                        self.lacks(spot, *as_round);
                        self.flawed.insert(spot, None);
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
                    self.record(spot, Form::Walk, Vec::new(), true);
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
            self.record(spot, Form::Walk, Vec::new(), true);
            return;
        }
        let flawed = bodies.iter().any(|b| self.flawed.contains_key(&b.origin));
        let times = match until {
            Until::Times(n) => n.min(MOST_REPEATS),
            Until::Stitches(_) => MOST_REPEATS,
        };
        let before = self.needles.stitches();
        for _ in 0..times {
            if let Until::Stitches(wanted) = until
                && (self.needles.stitches() == wanted)
            {
                self.adrift = false;
                return;
            }
            let stitches = self.needles.stitches();
            for body in &bodies {
                self.round(&body.again_at(spot), &Vec::new);
            }
            if let Until::Stitches(wanted) = until {
                let now = self.needles.stitches();
                let past = (before >= wanted) != (now >= wanted) || now == stitches;
                if past && now != wanted {
                    // where the rounds themselves do not come out, that was told
                    if !flawed {
                        self.find(spot, Found::NeverReached(wanted));
                    }
                    self.come_to(spot, wanted);
                    return;
                }
            }
        }
    }

    // ------------------------------------------------------------ lines on the needles

    fn has_edges(&self) -> bool {
        has_edges(&self.needles)
    }

    /// Instructions outside any round: they go on from where the last ones ended.
    fn walk(&mut self, body: &Body) {
        let mut pieces = body.pieces.clone();
        let turns = matches!(pieces.last().map(|p| &p.piece), Some(Piece::Turn));
        if turns && self.needles.joined() && !self.has_edges() {
            pieces.pop();
            self.turning = true;
        }
        let begun = self.needles.clone();
        let mut worker = Worker::new(begun.clone(), true);
        worker.knows_corners = false;
        worker.ends = self.ends;
        let result = worker.work(&pieces);
        let ops = std::mem::take(&mut worker.ops);
        let mut found = self.take(worker);
        let stopped = result.is_err();
        if let Err(stopped) = result {
            found.push(stopped.into());
        }
        let troubled = !found.is_empty();
        self.tell(Some(body.origin), found);
        if stopped && has_edges(&begun) && picks_up(&pieces) {
            self.needles = begun;
            if self.picked_up(body.spot, &pieces) {
                return;
            }
        }
        // a count of the heel alone tells nothing of the rest
        if !troubled && said(&pieces) == Some(self.needles.stitches()) {
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
        let flat = super::work::flat_stitches(&self.needles).unwrap_or(heel);
        let instep = self.needles.stitches().saturating_sub(flat);
        let gap = ahead_in_row(&self.needles, true) < heel;
        let over = |n: u16| Piece::Run(super::piece::Stitch::Knit, Extent::Counted(n));
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

    /// What the worker came to; the counts in it that differ.
    fn take(&mut self, worker: Worker) -> Vec<Finding> {
        self.needles = worker.needles;
        let differs = |differing: super::work::Differing| Finding {
            spot: differing.spot,
            what: Found::CountDiffers {
                said: differing.said,
                found: differing.found,
            },
        };
        worker.differing.into_iter().map(differs).collect()
    }

    fn begin_rows(&mut self, body: &Body) {
        if !self.needles.joined() || self.has_edges() || !(body.row || self.turning) {
            return;
        }
        let short = short_rows(&self.needles);
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

    /// Brings the needles to where a round or row begins; whether it is worked in rows.
    fn reach_beginning(&mut self, body: &Body) -> bool {
        let in_rows = body.row || self.needles.facing() == Facing::WrongSide;
        if self.adrift && !in_rows && self.has_edges() && !picks_up(&body.pieces) {
            // the line that picks up could not be followed
            self.picked_up(body.spot, &[]);
        }
        // what is counted just to the end of the round ends the one that was begun
        let ends_round = width(&body.pieces) == Some(ahead_in_row(&self.needles, false));
        if !in_rows && !self.has_edges() && !refers_to_gap(&body.pieces) {
            self.needles.close_gaps();
        }
        // short rows begin where the work has come to; those that follow go back over them
        let begins_rows = in_rows && self.needles.joined() && !short_rows(&self.needles);
        let begins = if in_rows { begins_rows } else { !ends_round };
        let forth = self.needles.facing() == Facing::RightSide;
        if begins && forth && self.needles.tip() > 0 && !self.has_edges() {
            self.apply(body.spot, &Op::BeginHere);
        }
        in_rows
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
        let in_rows = self.reach_beginning(body);
        let before = self.needles.stitches();
        let facing = self.needles.facing();
        let begun = self.needles.clone();
        // picking up goes over the end of the round to the flap's other edge
        let mut worker = Worker::new(self.needles.clone(), self.has_edges() && !in_rows);
        worker.knows_corners = false;
        worker.ends = self.ends;
        let result = worker.work(&body.pieces);
        let rest = worker
            .needles
            .upcoming()
            .filter(|_| !in_rows)
            .map(Item::width)
            .sum::<u16>();
        let has_ops = !worker.ops.is_empty();
        let ops = std::mem::take(&mut worker.ops);
        let mut found = self.take(worker);
        let left_over = |left: u16, of: u16| Finding {
            spot: body.spot,
            what: Found::StitchesLeft {
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
        for finding in found.iter_mut().filter(|f| f.spot == Spot::default()) {
            finding.spot = body.spot;
        }
        let any_done = has_ops || before == 0;
        let as_read = any_done && found.is_empty();
        let counts_only = any_done && worked_whole(&found);
        let was_adrift = self.adrift;
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
        } else if self.has_edges() {
            // the flap's edges are still open
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

    /// After a round that does not come out, and the needles on which it began: those that the pattern goes on
    /// with, and how that is worked where its words do not say it. `adrift`: nor did a round before it, so that
    /// a count that the pattern gives is believed.
    fn as_the_pattern_goes_on(
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
                let flat = super::work::flat_stitches(begun).unwrap_or(ahead);
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
    fn come_to(&mut self, spot: Spot, wanted: u16) {
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
        ahead_in_row(&self.needles, false)
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
    fn wrong_after(
        &self,
        needles: &Needles,
        again: Option<(Spot, Vec<i32>)>,
        next: &[Statement],
    ) -> usize {
        let mut guess = Self {
            needles: needles.clone(),
            findings: Vec::new(),
            guessing: true,
            parts: Vec::new(),
            worked: self.worked[self.worked.len().saturating_sub(BACK)..].to_vec(),
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

/// The count that pieces end with.
fn said(pieces: &[Placed]) -> Option<u16> {
    pieces.iter().rev().find_map(|p| match &p.piece {
        Piece::Count(counted) => counted.all,
        _ => None,
    })
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

fn picks_up(pieces: &[Placed]) -> bool {
    pieces.iter().any(|p| matches!(p.piece, Piece::PickUp(_)))
}

/// The same needles with so many stitches, where that can be: as many more or fewer in the first run of
/// stitches as in the last, since most shapings lie alike on both sides.
fn resized(needles: &Needles, all: u16) -> Needles {
    let last = run_widths(needles).len().saturating_sub(1);
    let now = needles.stitches();
    let half = if all > now {
        now + (all - now).div_ceil(2)
    } else {
        now - (now - all).div_ceil(2)
    };
    needles
        .with_run_resized(0, half)
        .and_then(|n| n.with_run_resized(last, all))
        .or_else(|| (0..=last).find_map(|nth| needles.with_run_resized(nth, all)))
        .unwrap_or_else(|| needles.clone())
}

fn run_widths(needles: &Needles) -> Vec<u16> {
    let runs = needles.items().filter_map(|item| match item {
        Item::Stitches(_, _, n) => Some(n),
        _ => None,
    });
    runs.collect()
}

/// By how many stitches each run differs; where those are not the same runs, the first has it all.
fn run_changes(before: &Needles, after: &Needles) -> Vec<i32> {
    let (a, b) = (run_widths(before), run_widths(after));
    if a.len() == b.len() {
        let pairs = a.iter().zip(&b);
        return pairs.map(|(a, b)| i32::from(*b) - i32::from(*a)).collect();
    }
    vec![i32::from(after.stitches()) - i32::from(before.stitches())]
}

/// The same needles with so many stitches more or fewer in each run.
fn changed(needles: &Needles, runs: &[i32]) -> Option<Needles> {
    let mut out = needles.clone();
    for (nth, change) in runs.iter().enumerate().filter(|(_, change)| **change != 0) {
        let all = u16::try_from(i32::from(out.stitches()) + change).ok()?;
        out = out.with_run_resized(nth, all)?;
    }
    Some(out)
}

/// Stitches ahead before the edge, or before a gap that comes first.
fn ahead_in_row(needles: &Needles, to_gap: bool) -> u16 {
    needles
        .upcoming()
        .take_while(|item| match item {
            Item::Edge { .. } => false,
            Item::Gap => !to_gap,
            _ => true,
        })
        .map(Item::width)
        .sum()
}

/// Whether pieces are worked up to the gap of a turned row.
fn refers_to_gap(pieces: &[Placed]) -> bool {
    pieces.iter().any(|p| match &p.piece {
        Piece::Run(_, Extent::To(_, Stop::Gap)) => true,
        Piece::Repeat(inner, times) => {
            matches!(times, Times::To(_, Stop::Gap)) || refers_to_gap(inner)
        }
        _ => false,
    })
}

fn names_needles_in(statement: &Statement) -> bool {
    matches!(&statement.says, Says::Work { pieces, .. } if names_needles(pieces))
}

/// Whether pieces say on which needle they are worked, or how many stitches each one has.
fn names_needles(pieces: &[Placed]) -> bool {
    pieces.iter().any(|p| match &p.piece {
        Piece::Needle(_)
        | Piece::Run(_, Extent::To(_, Stop::NeedleEnd))
        | Piece::Repeat(_, Times::To(_, Stop::NeedleEnd)) => true,
        Piece::Repeat(inner, _) => names_needles(inner),
        Piece::Count(counted) => counted.needles.len() > 1,
        _ => false,
    })
}

/// Whether a row was turned that no round has closed since.
fn short_rows(needles: &Needles) -> bool {
    needles
        .items()
        .any(|i| matches!(i, Item::Gap | Item::Double(_) | Item::Wrapped(..)))
}

fn has_edges(needles: &Needles) -> bool {
    needles.items().any(|i| matches!(i, Item::Edge { .. }))
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
