//! Numbers of rounds and rows: where one of them does not come next it is told, and the line goes on under the number
//! that does, so that what refers to it by that finds it.
//!
//! Knows statements; must not know needles.

use std::collections::BTreeSet;

use crate::pattern::finding::{Finding, FindingKind};
use crate::pattern::statement::{Label, Rounds, Says, Statement, Until};

/// The least number that no single misprint makes of 1: so high a number may go on from rounds that were not counted.
const NOT_ONE: u16 = 3;

/// Puts numbers right that do not come next, and tells them.
pub(super) fn put_right(statements: &mut [Statement]) -> Vec<Finding> {
    let mut so_far = SoFar::default();
    let mut findings = Vec::new();
    for at in 0..statements.len() {
        let following = statements.get(at + 1).and_then(printed).map(next_of);
        let Statement { spot, says } = &mut statements[at];
        let spot = *spot;
        match says {
            Says::Work {
                label: Some(label), ..
            }
            | Says::As { label, .. }
            | Says::Unread {
                label: Some(label), ..
            } if label.printed && !label.numbers.is_empty() => {
                let following = following.filter(|(row, _)| *row == label.row);
                let following = following.map(|(_, number)| number);
                if let Some(next) = so_far.misprinted(label, following) {
                    let number = label.numbers[0];
                    findings.push(Finding {
                        spot,
                        what: FindingKind::OutOfOrder { number, next },
                    });
                    renumber(label, next);
                }
                so_far.passes(label);
            }
            other => so_far.meets(other),
        }
    }
    findings
}

/// The label of a line that has its number in the pattern.
fn printed(statement: &Statement) -> Option<&Label> {
    let label = match &statement.says {
        Says::Work { label, .. } | Says::Unread { label, .. } => label.as_ref(),
        Says::As { label, .. } => Some(label),
        _ => None,
    };
    label.filter(|label| label.printed && !label.numbers.is_empty())
}

/// Whether it is a row, and its first number.
fn next_of(label: &Label) -> (bool, u16) {
    (label.row, label.numbers.first().copied().unwrap_or(0))
}

/// Numbers that follow each other, and nothing but them.
fn plain(label: &Label) -> bool {
    let one_by_one = |pair: &[u16]| pair[1] == pair[0].saturating_add(1);
    !label.every_second && label.numbers.windows(2).all(one_by_one)
}

/// The same line from that number on: a range ends where it is said to, where it can.
fn renumber(label: &mut Label, first: u16) {
    let many = label.numbers.len();
    let last = label.numbers.last().copied().unwrap_or(first);
    label.numbers = if many > 1 && last > first {
        (first..=last).collect()
    } else {
        (first..).take(many).collect()
    };
}

/// Rounds that were worked; some of them may not be counted in numbers.
#[derive(Debug, Clone, Copy, Default)]
struct Counted {
    rounds: u16,
    /// Instructions outside of rounds, each of which may be called one.
    walks: u16,
    /// Rounds were worked, and how many is not said.
    unknown: bool,
}

impl Counted {
    /// Whether a round of that number may come after these.
    const fn may_go_on(self, number: u16) -> bool {
        let next = self.rounds.saturating_add(1);
        number >= next && number <= next.saturating_add(self.walks)
    }

    fn add(&mut self, rounds: Option<u16>) {
        match rounds {
            Some(rounds) => self.rounds = self.rounds.saturating_add(rounds),
            None => self.unknown = true,
        }
    }
}

#[derive(Debug, Default)]
struct SoFar {
    /// The last number, whatever stood after it.
    last: u16,
    /// The numbers of lines that stand one after another; none where something else came between.
    run: BTreeSet<u16>,
    /// Whether those are rows.
    rows: bool,
    /// Some of them are not in their order: "Rnd 2 and all even rounds".
    out_of_order: bool,
    /// Since the part began.
    part: Counted,
    /// Since the edge.
    edge: Counted,
}

impl SoFar {
    /// The number that a line should have, where its own one does not come next. `following`: the number of the line
    /// right after it.
    fn misprinted(&self, label: &Label, following: Option<u16>) -> Option<u16> {
        let number = label.numbers.first().copied()?;
        if !plain(label) {
            return None;
        }
        let many = u16::try_from(label.numbers.len()).unwrap_or(u16::MAX);
        let goes_on_from = |first: u16| following == first.checked_add(many);
        let next = self.last.saturating_add(1);
        if !self.run.is_empty() && self.rows == label.row {
            if self.out_of_order || number == next {
                return None;
            }
            // stands there twice, by a slip of one
            let twice = self.run.contains(&number) && number.abs_diff(next) <= 1;
            return (goes_on_from(next) || twice).then_some(next);
        }
        if number == 1 || goes_on_from(number) && self.may_begin(number) {
            return None;
        }
        let others = [1, next, self.part.rounds.saturating_add(1)];
        let better = others.into_iter().find(|first| goes_on_from(*first));
        match better {
            Some(first) => Some(first),
            None if self.may_begin(number) => None,
            None => Some(1),
        }
    }

    /// Whether numbers may begin there after something else than a numbered line.
    fn may_begin(&self, number: u16) -> bool {
        number == 1
            || number == self.last.saturating_add(1)
            || self.part.unknown
            || self.part.may_go_on(number)
            || self.edge.may_go_on(number)
            || self.edge.unknown && number >= NOT_ONE
    }

    /// A numbered line.
    fn passes(&mut self, label: &Label) {
        if self.rows != label.row {
            self.run.clear();
            self.out_of_order = false;
        }
        self.rows = label.row;
        self.out_of_order |= !plain(label);
        self.run.extend(&label.numbers);
        self.last = label.numbers.iter().copied().max().unwrap_or(self.last);
        self.count(u16::try_from(label.numbers.len()).ok());
    }

    fn count(&mut self, rounds: Option<u16>) {
        self.part.add(rounds);
        self.edge.add(rounds);
    }

    /// Anything else.
    fn meets(&mut self, says: &Says) {
        self.run.clear();
        self.out_of_order = false;
        match says {
            Says::Work {
                label: Some(label), ..
            }
            | Says::Unread {
                label: Some(label), ..
            }
            | Says::As { label, .. } => {
                self.count(u16::try_from(label.numbers.len().max(1)).ok());
            }
            Says::Work { label: None, .. } | Says::Unread { label: None, .. } => {
                self.part.walks = self.part.walks.saturating_add(1);
                self.edge.walks = self.edge.walks.saturating_add(1);
            }
            Says::Again { rounds, until } => {
                let many = match rounds {
                    Rounds::Last(n) => *n,
                    Rounds::Numbered(numbers) => u16::try_from(numbers.len()).unwrap_or(u16::MAX),
                    Rounds::Shaping => 1,
                };
                self.count(match until {
                    Until::Times(times) => many.checked_mul(*times),
                    Until::Stitches(_) | Until::AllWorked => None,
                });
            }
            Says::Measured(_) => self.count(None),
            Says::Heading(_) => self.part = Counted::default(),
            Says::Flat(_) | Says::Join | Says::Graft | Says::Draw | Says::Close | Says::Remark => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pattern::page::lines;
    use crate::pattern::statement::statements;

    /// What is told of a text: the line, the number that stands there, and the one that comes next.
    fn told(text: &str) -> Vec<(u32, u16, u16)> {
        let mut all: Vec<Statement> = lines(text, None).iter().flat_map(statements).collect();
        let told = put_right(&mut all)
            .into_iter()
            .map(|finding| match finding.what {
                FindingKind::OutOfOrder { number, next } => (finding.spot.line, number, next),
                other => panic!("{other:?}"),
            });
        told.collect()
    }

    #[test]
    fn a_number_that_stands_twice_is_told_at_the_line_that_has_it_wrongly() {
        assert_eq!(told("Rnd 1: k4\nRnd 1: p4"), [(2, 1, 2)]);
        assert_eq!(told("TOE\nRnd 2: k4\nRnd 2: p4\nRnd 3: k4"), [(2, 2, 1)]);
        assert_eq!(
            told("Rnd 1: k4\nRnd 2: p4\nRnd 2: k4\nRnd 4: k4"),
            [(3, 2, 3)]
        );
        assert_eq!(told("Rnd 1: k4\nRnd 20: p4\nRnd 3: k4"), [(2, 20, 2)]);
        assert_eq!(told("Rnd 1: k4\nRnds 1-16: rep rnd 1"), [(2, 1, 2)]);
        assert_eq!(
            told("HEEL\nRow 2 (RS): k4, turn\nRow 2 (WS): p4, turn"),
            [(2, 2, 1)]
        );
        assert_eq!(
            told("LEG\nRnd 1: k4\nRnd 2: k4\nTOE\nRnd 2: k4"),
            [(5, 2, 1)]
        );
    }

    #[test]
    fn numbers_in_the_manners_of_printed_patterns_are_not_told() {
        for text in [
            "Rnd 1: k4\nRnd 2: p4\nRnds 3-8: k4",
            "Rnd 1: k4\nRnd 2 and all even rnds: k4\nRnd 3: k4\nRnd 5: k4",
            "Rnds 1, 3 and 5: k4\nRnds 2, 4 and 6: p4\nRnd 7: k4",
            "Rnd 1: k4\nRnd 3: k4\nRnd 2: p4",
            "Rnd 1: k4\nRnd 2: k4\nRnd 1: k4\nRnd 2: p4",
            "Knit 5 rnds.\nRnd 6: k4\nKnit 5 rnds.\nRnd 7: k4",
            "Rnd 1: k4\nKnit 4 rnds.\nRnd 6: k4\nKnit 4 rnds.\nRnd 1: p4",
            "CO 4 sts. Join.\nRnd 2: k4",
            "CUFF\nRnds 1-16: k4\nLEG\nRnds 17-60: k4",
            "LEG\nWork even for 15 cm.\nFOOT\nRnd 41: k4",
            "GUSSET\nK4, pick up and knit 4.\nRnd 2: k4",
            "Rep last rnd until 4 sts rem.\nRnd 12: k4",
            "Row 1: k4, turn.\nRow 2: p4, turn.\nRnd 1: k4",
            "Dec rnd: k4\nRnd 2: k4",
        ] {
            assert_eq!(told(text), [], "{text}");
        }
    }

    #[test]
    fn what_is_put_right_has_the_number_that_comes_next() {
        let text = "Rnd 1: k4\nRnds 1-16: rep rnd 1\nRnd 17: k4";
        let mut all: Vec<Statement> = lines(text, None).iter().flat_map(statements).collect();
        put_right(&mut all);
        let label = printed(&all[1]).expect("it has a number");
        assert_eq!(label.numbers, (2..=16).collect::<Vec<_>>());
    }
}
