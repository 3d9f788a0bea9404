//! Which rounds are worked: by their numbers, again, and up to a height.
//!
//! Knows bodies and labels; must not know how one is worked.

use std::collections::BTreeMap;

use super::body::Body;
use super::goes_on::AHEAD;
use super::knitter::{Knitter, Time};
use super::pieces::{placed, shapes};
use crate::needles::Facing;
use crate::pattern::finding::FindingKind;
use crate::pattern::followed::Form;
use crate::pattern::measured::Measured;
use crate::pattern::piece::{Extent, Piece, Pieces, Spot, Stop};
use crate::pattern::statement::{Label, Rounds, Says, Statement, Until};

/// Most rounds that a repeat until a count may take.
const MOST_REPEATS: u16 = 400;

impl Knitter {
    /// Rounds up to a height.
    pub(super) fn measured(&mut self, spot: Spot, measured: Measured) {
        let done = if measured.from_heel {
            // a row of the heel is half as long in the foot as a round
            self.from_heel / 2
        } else if measured.from_edge {
            self.rounds.1
        } else if measured.whole_part {
            self.rounds.0
        } else {
            0
        };
        let times = self.own.rounds_in(measured.height).saturating_sub(done);
        let bodies: Vec<Body> = match measured.stitch {
            Some(stitch) => {
                let piece = Piece::Run(stitch, Extent::To(0, Stop::End));
                vec![Body {
                    spot,
                    origin: spot,
                    row: false,
                    facing: None,
                    pieces: placed(&[piece]).into(),
                }]
            }
            None => self.as_set(),
        };
        if bodies.is_empty() {
            self.find(spot, FindingKind::NoSuchRound(1));
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

    pub(super) fn known(&mut self, spot: Spot, number: u16) -> Option<Body> {
        let found = self.numbered.get(&number).cloned();
        if found.is_none() {
            self.lacks(spot, number);
        }
        found
    }

    /// There is no round of that number: told once.
    fn lacks(&mut self, spot: Spot, number: u16) {
        if self.lacking.insert(number) {
            self.find(spot, FindingKind::NoSuchRound(number));
        }
    }

    /// Numbered rounds, in the order of their numbers whatever the order of their lines.
    pub(super) fn block(&mut self, rest: &[Statement]) -> usize {
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
        let body = |pieces: &Pieces| Body {
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
            Says::Unread {
                said, at, found, ..
            } => {
                self.find(*at, found.clone());
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
                        bodies.insert(*n, body(&Pieces::default()));
                    }
                }
            }
            _ => {}
        }
    }

    /// How many of the last so many rounds or rows belong together: rounds and rows are not repeated as one, nor what
    /// ended a part together with what begins the next.
    fn belong_together(&self, asked: u16) -> u16 {
        let last = self.worked.iter().rev().take(usize::from(asked));
        let row = self.worked.last().is_some_and(|body| body.row);
        let alike = last.take_while(|body| body.row == row).count();
        let in_part = self.worked.len() - self.part_from.min(self.worked.len());
        let there = match in_part {
            0 => alike,
            some => alike.min(some),
        };
        u16::try_from(there).unwrap_or(asked)
    }

    /// Rows are written for the side that faces when they are worked first; repeated by odd numbers above one they would
    /// come to be worked on the other.
    fn other_side_of(&self, asked: u16) -> Option<Facing> {
        let rows = self.worked.last().is_some_and(|body| body.row);
        let turned = rows && asked > 1 && asked % 2 == 1;
        // the first of them was worked on the other side than the one that faces now
        let other = match self.needles.facing() {
            Facing::RightSide => Facing::WrongSide,
            Facing::WrongSide => Facing::RightSide,
        };
        turned.then_some(other)
    }

    /// Works rounds again. Where the line asks for the wrong ones that is told, and nothing that comes of it.
    pub(super) fn again(
        &mut self,
        spot: Spot,
        rounds: &Rounds,
        until: Until,
        next: &dyn Fn() -> Vec<Statement>,
    ) {
        let before = self.findings.len();
        let mut bodies = self.asked_for(spot, rounds);
        let asked = self.findings.len();
        if let (true, false, Rounds::Last(n)) = (asked > before, self.guessing, rounds) {
            let meant = self.meant_by(spot, *n, until, &next());
            bodies = self.last(meant.min(self.belong_together(meant)).max(1));
        }
        self.work_again(spot, &bodies, until);
        if asked > before {
            self.findings.truncate(asked);
        }
    }

    /// How many rounds a line means that asks for the wrong ones: one more or less, where least is found after it then.
    fn meant_by(&self, spot: Spot, asked: u16, until: Until, next: &[Statement]) -> u16 {
        let wrong = |rounds: u16| {
            let says = Says::Again {
                rounds: Rounds::Last(rounds),
                until,
            };
            let mut lines = vec![Statement { spot, says }];
            lines.extend(next.iter().cloned());
            self.wrong_after(&self.needles, None, &lines)
        };
        let near = [
            asked.saturating_sub(1).max(1),
            asked.saturating_add(1),
            asked,
        ];
        near.into_iter()
            .min_by_key(|rounds| wrong(*rounds))
            .unwrap_or(asked)
    }

    /// So many of the last rounds and rows, or as many as there are.
    fn last(&self, many: u16) -> Vec<Body> {
        let from = self.worked.len().saturating_sub(usize::from(many));
        self.worked[from..].to_vec()
    }

    /// The rounds that a line asks for again.
    fn asked_for(&mut self, spot: Spot, rounds: &Rounds) -> Vec<Body> {
        match rounds {
            Rounds::Last(n) => {
                if self.worked.len() < usize::from(*n) {
                    self.find(spot, FindingKind::NoSuchRound(*n));
                    return Vec::new();
                }
                let there = self.belong_together(*n);
                if let Some(said) = self.other_side_of(*n).filter(|_| there == *n) {
                    self.find(spot, FindingKind::OtherSideFaces(said));
                } else if there < *n {
                    let asked = *n;
                    self.find(spot, FindingKind::RepeatsTooMany { asked, there });
                }
                self.last(there.max(1))
            }
            Rounds::Shaping => {
                let mut last_first = self.worked.iter().rev();
                let shaping = last_first.find(|body| shapes(&body.pieces)).cloned();
                if shaping.is_none() {
                    self.find(spot, FindingKind::NoSuchRound(1));
                }
                shaping.into_iter().collect()
            }
            Rounds::Numbered(numbers) => numbers
                .iter()
                .filter_map(|n| self.known(spot, *n))
                .collect(),
        }
    }

    fn work_again(&mut self, spot: Spot, bodies: &[Body], until: Until) {
        if bodies.is_empty() {
            self.record(spot, Form::Walk, Vec::new(), true);
            return;
        }
        let flawed = bodies.iter().any(|b| self.flawed.contains_key(&b.origin));
        let times = match until {
            Until::Times(n) => n.min(MOST_REPEATS),
            Until::Stitches(_) | Until::AllWorked => MOST_REPEATS,
        };
        let before = self.needles.stitches();
        for nth in 1..=times {
            self.time = match until {
                Until::Times(_) if nth == times => Time::TheLast,
                _ => Time::NotTheLast,
            };
            if let Until::Stitches(wanted) = until
                && (self.needles.stitches() == wanted)
            {
                self.adrift = false;
                return;
            }
            if matches!(until, Until::AllWorked) && !self.has_gap() {
                return;
            }
            let stitches = self.needles.stitches();
            for body in bodies {
                self.round(&body.again_at(spot), &Vec::new);
            }
            self.time = Time::NotTheLast;
            if matches!(until, Until::AllWorked) && self.needles.stitches() == stitches {
                return;
            }
            if let Until::Stitches(wanted) = until {
                let now = self.needles.stitches();
                let past = (before >= wanted) != (now >= wanted) || now == stitches;
                if past && now != wanted {
                    // where the rounds themselves do not come out, that was told
                    if !flawed {
                        self.find(spot, FindingKind::NeverReached(wanted));
                    }
                    self.come_to(spot, wanted);
                    return;
                }
            }
        }
    }
}
