//! What is on the needles, worked and found so far.
//!
//! Knows needles and findings; must not know how a line is worked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::body::Body;
use super::runs::{ahead_in_row, has_edges};
use crate::needles::{Item, Needles};
use crate::pattern::finding::{Finding, FindingKind};
use crate::pattern::followed::{FollowedLine, FollowedPart, Form, Part, RoundBegins};
use crate::pattern::knitters_own::KnittersOwn;
use crate::pattern::piece::Spot;
use crate::pattern::work::{Differing, NeedleEnds, Trouble, Worker};
use crate::stitch::Op;

/// Which of several times rounds are worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) enum Time {
    /// The first one, or any but the last.
    #[default]
    NotTheLast,
    /// The last one.
    TheLast,
}

#[derive(Debug, Clone, Default)]
pub(super) struct Knitter {
    pub(super) needles: Needles,
    pub(super) numbered: BTreeMap<u16, Body>,
    pub(super) worked: Vec<Body>,
    pub(super) findings: Vec<Finding>,
    /// Where words stand that do not come out, and by how many stitches more or fewer in each run of stitches
    /// the pattern goes on after them; nothing before they are worked. What is repeated is told once.
    pub(super) flawed: BTreeMap<Spot, Option<Vec<i32>>>,
    /// Numbers of rounds that were asked for in this part and are not there.
    pub(super) lacking: BTreeSet<u16>,
    /// Something was told, and the counts have not come to the pattern's own again since: that they differ
    /// is not told anew.
    pub(super) adrift: bool,
    /// Stitches that the next row begins to work back and forth.
    pub(super) flat: Option<u16>,
    /// The last line ended with a turn that begins rows.
    pub(super) turning: bool,
    pub(super) guessing: bool,
    pub(super) own: KnittersOwn,
    /// Where the pattern's needles end.
    pub(super) ends: NeedleEnds,
    /// The highest number of a needle that the pattern names.
    pub(super) needles_named: u16,
    /// How stitches were divided over needles where the pattern does not say it.
    pub(super) divided: usize,
    /// What was worked; nothing while guessing.
    pub(super) parts: Vec<Arc<FollowedPart>>,
    /// The beginning of the round lies so many stitches after the place where the needles have it: short rows went back
    /// over those.
    pub(super) back_over: u16,
    /// So many stitches of the heel lay before the beginning of the round, where short rows went back over it.
    pub(super) heel_before: u16,
    /// Which of several times rounds are worked.
    pub(super) time: Time,
    /// The line that said how many stitches there are, and how many, until one after it has been worked over them.
    pub(super) said_first: Option<(Spot, u16)>,
    /// The first two rows that were turned before an open edge, and the stitches that each of them left.
    pub(super) turns: [Option<(Spot, u16)>; 2],
    /// The part that is worked, where the pattern names it.
    pub(super) part: Option<Part>,
    /// Rounds since the heel's turn began, each twice, and rows.
    pub(super) from_heel: u16,
    /// How many rounds and rows were worked before the part began.
    pub(super) part_from: usize,
    /// The beginning of the part in which it was told that a row is worked on the other side than it says.
    pub(super) other_side_told: Option<usize>,
    /// Operations that belong to the next line.
    pub(super) before: Vec<Op>,
    /// Rounds since the part began, and since the edge.
    pub(super) rounds: (u16, u16),
}

impl Knitter {
    /// Whether nothing but the statements decides how another one goes on that has worked nothing yet.
    pub(super) fn begins_like(&self, other: &Self) -> bool {
        self.needles == other.needles
            && self.own == other.own
            && self.ends == other.ends
            && self.needles_named == other.needles_named
    }

    pub(super) fn find(&mut self, spot: Spot, what: FindingKind) {
        self.tell(None, vec![Finding { spot, what }]);
    }

    /// Tells what was found in words that stand there, unless that was told before or comes of what was told
    /// before.
    pub(super) fn tell(&mut self, origin: Option<Spot>, mut found: Vec<Finding>) {
        if origin.is_some_and(|origin| self.flawed.contains_key(&origin)) {
            return;
        }
        if self.adrift {
            found.retain(|finding| !finding.what.is_of_counts());
        }
        self.adrift |= !found.is_empty() && !self.guessing;
        self.findings.append(&mut found);
    }

    pub(super) fn draw(&mut self, spot: Spot) {
        self.close();
        self.record(spot, Form::Draw, Vec::new(), false);
    }

    /// No stitch is left; what keeps the place of a later heel is.
    pub(super) fn close(&mut self) {
        if self.needles.waste() > 0 || self.needles.to_snip() > 0 {
            self.needles.clear();
        } else {
            self.needles = Needles::new();
        }
    }

    /// A part begins.
    pub(super) fn begin(&mut self, part: Option<Part>) {
        self.rounds.0 = 0;
        if !self.guessing {
            let begins = RoundBegins::of(&self.needles);
            let about_the_heel = |begins| match self.heel_before {
                0 => begins,
                after => RoundBegins {
                    after,
                    of: self.needles.stitches() / 2,
                },
            };
            self.parts.push(Arc::new(FollowedPart {
                part,
                begins: begins.map(about_the_heel),
                lines: Vec::new(),
            }));
        }
    }

    pub(super) fn record(&mut self, spot: Spot, form: Form, ops: Vec<Op>, unread: bool) {
        if matches!(form, Form::Round | Form::Row(_)) {
            self.rounds = (
                self.rounds.0.saturating_add(1),
                self.rounds.1.saturating_add(1),
            );
        }
        self.from_heel = self.from_heel.saturating_add(match form {
            Form::Round => 2,
            Form::Row(_) => 1,
            Form::Walk | Form::Graft | Form::Draw => 0,
        });
        let mut all = std::mem::take(&mut self.before);
        if self.guessing {
            return;
        }
        all.extend(ops);
        if self.parts.is_empty() {
            self.begin(None);
        }
        if let Some(part) = self.parts.last_mut().map(Arc::make_mut) {
            part.lines.push(FollowedLine {
                line: spot.line,
                form,
                ops: all,
                after: self.needles.stitches(),
                back_over: 0,
                unread,
            });
        }
    }

    /// Short rows have gone back over so many stitches more before the beginning of the round. The line that began
    /// them says so, since they are seated from there.
    pub(super) fn goes_back_over(&mut self, stitches: u16) {
        self.back_over = self.back_over.saturating_add(stitches);
        self.heel_before = self.back_over;
        let lines = self
            .parts
            .iter_mut()
            .rev()
            .flat_map(|part| Arc::make_mut(part).lines.iter_mut().rev());
        let mut rows = lines.take_while(|line| matches!(line.form, Form::Row(_)));
        if let Some(first) = rows.by_ref().last() {
            first.back_over = self.back_over;
        }
    }

    pub(super) fn apply(&mut self, spot: Spot, op: &Op) {
        let before = self.needles.clone();
        if let Err(refusal) = self.needles.apply(op) {
            self.needles = before;
            self.find(spot, FindingKind::Unworkable(Trouble::Refused(refusal)));
        } else {
            self.before.push(op.clone());
        }
    }

    /// Whether the gap of a turned row is left to be worked over.
    pub(super) fn has_gap(&self) -> bool {
        self.needles.items().any(|item| item == Item::Gap)
    }

    pub(super) fn has_edges(&self) -> bool {
        has_edges(&self.needles)
    }

    /// What the worker came to; the counts in it that differ.
    pub(super) fn take(&mut self, worker: Worker) -> Vec<Finding> {
        self.needles = worker.needles;
        let differs = |differing: Differing| Finding {
            spot: differing.spot,
            what: FindingKind::CountDiffers {
                said: differing.said,
                found: differing.found,
            },
        };
        worker.differing.into_iter().map(differs).collect()
    }

    /// Stitches of the row that are not worked.
    pub(super) fn flat_rest(&self) -> u16 {
        ahead_in_row(&self.needles, false)
    }
}
