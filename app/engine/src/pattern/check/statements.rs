//! The whole pattern, statement by statement.

use std::sync::Arc;

use super::body::Body;
use super::goes_on::{AHEAD, ahead};
use super::knitter::Knitter;
use super::numbers::put_right;
use super::pieces::{names_needles_in, needles_named_in};
use crate::pattern::finding::{Finding, FindingKind};
use crate::pattern::followed::{FollowedPart, Form, Part};
use crate::pattern::knitters_own::KnittersOwn;
use crate::pattern::piece::Piece;
use crate::pattern::statement::{Says, Statement};
use crate::pattern::work::NeedleEnds;
use crate::stitch::{Count, Op};

/// Most stitches that a toe is drawn closed with where a pattern does not say how it is closed: more would
/// pucker (common practice, no source).
const MOST_DRAWN: u16 = 12;

/// After about so many statements it is kept what lies on the needles, for a text that goes on otherwise.
const EVERY: usize = 16;

/// A pattern that is knitted through some statements at a time.
#[derive(Debug, Clone)]
pub(in crate::pattern) struct Knitting {
    knitter: Knitter,
    /// What is worked, its numbers put right.
    statements: Vec<Statement>,
    /// What was found in the numbers.
    misnumbered: Vec<Finding>,
    /// How many statements are worked.
    worked: usize,
    /// What was on the needles on the way, if it is kept.
    marks: Option<Vec<Mark>>,
}

/// What is on the needles after so many statements.
#[derive(Debug, Clone)]
struct Mark {
    worked: usize,
    knitter: Knitter,
}

/// What was knitted of a text, for one that begins with the same statements.
#[derive(Debug, Clone)]
pub(in crate::pattern) struct KnittedBefore {
    /// The needles that it was begun on.
    begun: Knitter,
    statements: Vec<Statement>,
    marks: Vec<Mark>,
}

impl Knitting {
    /// Begins on empty needles, or with so many stitches joined on them. Whether the pattern's needles end where it
    /// says, and whether its numbers follow each other, is told from all of its statements.
    pub(in crate::pattern) fn begin(
        mut statements: Vec<Statement>,
        begun: Option<Count>,
        own: &KnittersOwn,
    ) -> Self {
        let misnumbered = put_right(&mut statements);
        let mut knitter = Knitter {
            own: *own,
            ends: if statements.iter().any(names_needles_in) {
                NeedleEnds::AsTheyAre
            } else {
                NeedleEnds::Anywhere
            },
            needles_named: statements.iter().map(needles_named_in).max().unwrap_or(0),
            ..Knitter::default()
        };
        // a pattern that casts on begins by itself
        if let Some(n) = begun.filter(|_| !statements.iter().any(casts_on)) {
            // on empty needles neither can be refused
            let begun = knitter.needles.apply_all(&[Op::CastOn(n), Op::Join]);
            debug_assert!(begun.is_ok());
        }
        Self {
            knitter,
            statements,
            misnumbered,
            worked: 0,
            marks: None,
        }
    }

    /// The same, begun where a text knitted before becomes another one: a statement is worked as it was where the next
    /// ones that are looked at with it are the same, too. What is knitted is kept for the next text.
    pub(in crate::pattern) fn after(mut self, before: Option<KnittedBefore>) -> Self {
        let before = before.filter(|before| before.begun.begins_like(&self.knitter));
        let Some(KnittedBefore {
            statements,
            mut marks,
            ..
        }) = before
        else {
            let (worked, knitter) = (0, self.knitter.clone());
            self.marks = Some(vec![Mark { worked, knitter }]);
            return self;
        };
        let both = statements.iter().zip(&self.statements);
        let common = both.take_while(|(old, new)| old == new).count();
        let all = common == statements.len() && common == self.statements.len();
        let safe = if all {
            common
        } else {
            common.saturating_sub(AHEAD + 1)
        };
        marks.retain(|mark| mark.worked <= safe);
        if let Some(mark) = marks.last() {
            self.worked = mark.worked;
            self.knitter = mark.knitter.clone();
        }
        self.marks = Some(marks);
        self
    }

    /// What is kept for the next text; nothing where that was not asked for.
    pub(in crate::pattern) fn kept(&mut self) -> Option<KnittedBefore> {
        let marks = self.marks.take()?;
        Some(KnittedBefore {
            begun: marks.first()?.knitter.clone(),
            statements: self.statements.clone(),
            marks,
        })
    }

    /// Works so many statements, or a few more: a block of numbered rounds is worked in one go. Says whether any are
    /// left.
    pub(in crate::pattern) fn go_on(&mut self, most: usize) -> bool {
        let until = self.worked.saturating_add(most);
        while self.worked < until.min(self.statements.len()) {
            let some = match &self.marks {
                Some(_) => until.min(self.worked.saturating_add(EVERY)),
                None => until,
            };
            self.worked = self.knitter.from(&self.statements, self.worked, some);
            self.mark();
        }
        self.worked < self.statements.len()
    }

    fn mark(&mut self) {
        let Some(marks) = &mut self.marks else { return };
        let last = marks.last().map_or(0, |mark| mark.worked);
        if self.worked >= last + EVERY {
            let (worked, knitter) = (self.worked, self.knitter.clone());
            marks.push(Mark { worked, knitter });
        }
    }

    /// What was worked comes to, and what was found in it, in the order of the lines.
    pub(in crate::pattern) fn end(self) -> (Vec<FollowedPart>, Vec<Finding>) {
        let Knitter {
            mut findings,
            parts,
            ..
        } = self.knitter;
        findings.extend(self.misnumbered);
        findings.sort_by_key(|finding| finding.spot);
        findings.dedup();
        let parts = parts.into_iter().map(Arc::unwrap_or_clone);
        (
            parts.filter(|part| !part.lines.is_empty()).collect(),
            findings,
        )
    }
}

/// Whether a line casts on the first stitches.
fn casts_on(statement: &Statement) -> bool {
    let Says::Work { pieces, .. } = &statement.says else {
        return false;
    };
    pieces.iter().any(|placed| {
        matches!(
            placed.piece,
            Piece::CastOn(_)
                | Piece::CastOnWrapped(_)
                | Piece::CastOnMagic(_)
                | Piece::CastOnTubular(_)
                | Piece::CastOnProvisional(_)
        )
    })
}

impl Knitter {
    pub(super) fn all(&mut self, statements: &[Statement]) {
        self.from(statements, 0, usize::MAX);
    }

    /// Works the statements from one on until that many are worked, or a few more; how many are worked then.
    fn from(&mut self, statements: &[Statement], first: usize, until: usize) -> usize {
        let mut at = first;
        while at < until
            && let Some(rest) = statements.get(at..)
            && let Some(statement) = rest.first()
        {
            at += self.statement(statement, rest).max(1);
        }
        at
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
            Says::Again { rounds, until } => {
                self.again(spot, rounds, *until, &|| ahead(&rest[1..]));
            }
            Says::Flat(n) => {
                self.flat = Some(*n);
                self.turns = [None; 2];
                self.said_first = Some((spot, *n));
            }
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
                    self.find(spot, FindingKind::DoesNotGraft(n));
                    // halves that can be grafted are the knitter's to make
                    self.come_to(spot, n - 1);
                }
                self.close();
                self.record(spot, Form::Graft, Vec::new(), false);
            }
            Says::Heading(part) => {
                self.numbered.clear();
                self.lacking.clear();
                if part.is_none() || *part != self.part {
                    self.part_from = self.worked.len();
                }
                self.part = *part;
                if matches!(part, Some(Part::HeelTurn | Part::ShortRowHeel)) {
                    self.from_heel = 0;
                }
                self.begin(*part);
            }
            Says::Remark => {}
            Says::Unread {
                label,
                said,
                text,
                at,
                found,
                ..
            } => {
                self.find(*at, found.clone());
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
}
