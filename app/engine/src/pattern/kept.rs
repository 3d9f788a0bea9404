//! What was found in a line, as it is kept with the plan of its pattern: a word and its numbers, so that whoever
//! shows the plan tells it without reading the pattern again.
//!
//! Knows findings; must not know how they are found or said, nor how a plan is stored. A word is never changed:
//! half-knitted socks carry it. One that is not known was written by a newer Evenloop, and is kept as it is.

use serde::{Deserialize, Serialize};

use super::finding::FindingKind;
use super::piece::Stop;
use super::vocabulary::{Expected, known_word};
use super::work::Trouble;
use crate::knit::Refusal;
use crate::needles::{Facing, FlapEdge};
use crate::stitch::Marker;

/// Something that was found, and in which line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LineFinding {
    /// The line of the text on which the words begin that it was found in, from 1.
    pub line: u32,
    what: String,
}

/// What can be expected, by its stored word.
const EXPECTED: [(Expected, &str); 6] = [
    (Expected::Instruction, "instruction"),
    (Expected::Number, "number"),
    (Expected::ClosingBracket, "bracket"),
    (Expected::ClosingStar, "star"),
    (Expected::Times, "times"),
    (Expected::End, "end"),
];

/// Where work can stop, by its stored word.
const STOPS: [(Stop, &str); 7] = [
    (Stop::End, "end"),
    (Stop::NeedleEnd, "needle"),
    (Stop::Marker, "marker"),
    (Stop::RoundMarker, "round-marker"),
    (Stop::Gap, "gap"),
    (Stop::Double, "double"),
    (Stop::Wrapped, "wrapped"),
];

/// Why the needles refuse something, by its stored word; which marker or edge it was is not told.
const REFUSALS: [(Refusal, &str); 13] = [
    (Refusal::MarkerInTheWay(Marker::Round), "marker"),
    (Refusal::NeedleEnds, "needle"),
    (Refusal::DoubleInTheWay, "double"),
    (Refusal::NoDouble, "no-double"),
    (Refusal::NoWrapped, "no-wrapped"),
    (Refusal::GapInTheWay, "gap"),
    (Refusal::EdgeOpen(FlapEdge::Left), "edge"),
    (Refusal::NothingToPickUp, "no-edge"),
    (Refusal::TooMany, "many"),
    (Refusal::WrongSideFacing, "side"),
    (Refusal::NotAtTheStart, "start"),
    (Refusal::StitchesLeft, "left"),
    (Refusal::NotReadyToGraft, "other"),
];

/// Which side faces, by its stored word.
const SIDES: [(Facing, &str); 2] = [(Facing::RightSide, "right"), (Facing::WrongSide, "wrong")];

impl LineFinding {
    /// Keeps what was found in a line.
    pub fn of(line: u32, found: &FindingKind) -> Self {
        Self {
            line,
            what: written(found),
        }
    }

    /// What was found; nothing where a newer Evenloop found it.
    pub fn found(&self) -> Option<FindingKind> {
        let mut words = self.what.split(' ');
        let found = read(&mut words)?;
        words.next().is_none().then_some(found)
    }
}

fn word<T: PartialEq>(all: &[(T, &'static str)], wanted: &T) -> &'static str {
    let found = all.iter().find(|(one, _)| one == wanted);
    found.map_or("other", |(_, word)| word)
}

fn meant<T: Copy>(all: &[(T, &str)], word: &str) -> Option<T> {
    let found = all.iter().find(|(_, known)| *known == word);
    found.map(|(one, _)| *one)
}

fn written(found: &FindingKind) -> String {
    match found {
        FindingKind::Unread { expected, nearest } => {
            let expected = word(&EXPECTED, expected);
            match nearest {
                Some(nearest) => format!("unread {expected} {nearest}"),
                None => format!("unread {expected}"),
            }
        }
        FindingKind::Unworkable(trouble) => match trouble {
            Trouble::TooFew { wanted, left } => format!("few {wanted} {left}"),
            Trouble::NoMarker => "no-marker".to_owned(),
            Trouble::NoSuchPlace(stop) => format!("no-place {}", word(&STOPS, stop)),
            Trouble::RepeatUneven { over, rest } => format!("uneven {over} {rest}"),
            Trouble::NothingToPickUp => "no-edge".to_owned(),
            Trouble::NeedleLeft(n) => format!("needle-left {n}"),
            Trouble::TooLong => "line-long".to_owned(),
            Trouble::Refused(refusal) => {
                let refusal = match refusal {
                    Refusal::MarkerInTheWay(_) => Refusal::MarkerInTheWay(Marker::Round),
                    Refusal::EdgeOpen(_) => Refusal::EdgeOpen(FlapEdge::Left),
                    Refusal::RoundNotWhole => Refusal::StitchesLeft,
                    other => *other,
                };
                format!("refused {}", word(&REFUSALS, &refusal))
            }
        },
        FindingKind::StitchesLeft { worked, of } => format!("left {worked} {of}"),
        FindingKind::CountDiffers { said, found } => format!("count {said} {found}"),
        FindingKind::TooLong(most) => format!("text-long {most}"),
        FindingKind::NoSuchRound(n) => format!("no-round {n}"),
        FindingKind::OutOfOrder { number, next } => format!("number {number} {next}"),
        FindingKind::RepeatsTooMany { asked, there } => format!("too-many {asked} {there}"),
        FindingKind::WorkedOver { said, over } => format!("over {said} {over}"),
        FindingKind::TurnsUneven { first, second } => format!("turns {first} {second}"),
        FindingKind::OtherSideFaces(said) => format!("side {}", word(&SIDES, said)),
        FindingKind::NeverReached(n) => format!("never {n}"),
        FindingKind::DoesNotGraft(n) => format!("no-halves {n}"),
        FindingKind::FlatUnknown => "flat-unknown".to_owned(),
    }
}

fn number<'a>(words: &mut impl Iterator<Item = &'a str>) -> Option<u16> {
    words.next()?.parse().ok()
}

fn read<'a>(words: &mut impl Iterator<Item = &'a str>) -> Option<FindingKind> {
    let first = words.next()?;
    let unworkable = match first {
        "few" => Trouble::TooFew {
            wanted: number(words)?,
            left: number(words)?,
        },
        "no-marker" => Trouble::NoMarker,
        "no-place" => Trouble::NoSuchPlace(meant(&STOPS, words.next()?)?),
        "uneven" => Trouble::RepeatUneven {
            over: number(words)?,
            rest: number(words)?,
        },
        "no-edge" => Trouble::NothingToPickUp,
        "needle-left" => Trouble::NeedleLeft(number(words)?),
        "line-long" => Trouble::TooLong,
        "refused" => Trouble::Refused(meant(&REFUSALS, words.next()?)?),
        _ => {
            return Some(match first {
                "unread" => FindingKind::Unread {
                    expected: meant(&EXPECTED, words.next()?)?,
                    nearest: match words.next() {
                        Some(word) => Some(known_word(word)?),
                        None => None,
                    },
                },
                "left" => FindingKind::StitchesLeft {
                    worked: number(words)?,
                    of: number(words)?,
                },
                "count" => FindingKind::CountDiffers {
                    said: number(words)?,
                    found: number(words)?,
                },
                "text-long" => FindingKind::TooLong(words.next()?.parse().ok()?),
                "no-round" => FindingKind::NoSuchRound(number(words)?),
                "number" => FindingKind::OutOfOrder {
                    number: number(words)?,
                    next: number(words)?,
                },
                "too-many" => FindingKind::RepeatsTooMany {
                    asked: number(words)?,
                    there: number(words)?,
                },
                "over" => FindingKind::WorkedOver {
                    said: number(words)?,
                    over: number(words)?,
                },
                "turns" => FindingKind::TurnsUneven {
                    first: number(words)?,
                    second: number(words)?,
                },
                "side" => FindingKind::OtherSideFaces(meant(&SIDES, words.next()?)?),
                "never" => FindingKind::NeverReached(number(words)?),
                "no-halves" => FindingKind::DoesNotGraft(number(words)?),
                "flat-unknown" => FindingKind::FlatUnknown,
                _ => return None,
            });
        }
    };
    Some(FindingKind::Unworkable(unworkable))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::pattern_finding;

    /// One of each kind, with each of its words.
    fn all() -> Vec<FindingKind> {
        let mut all = vec![
            FindingKind::StitchesLeft { worked: 23, of: 24 },
            FindingKind::CountDiffers {
                said: 64,
                found: 62,
            },
            FindingKind::TooLong(200_000),
            FindingKind::NoSuchRound(7),
            FindingKind::OutOfOrder { number: 3, next: 4 },
            FindingKind::RepeatsTooMany { asked: 3, there: 2 },
            FindingKind::WorkedOver { said: 65, over: 64 },
            FindingKind::TurnsUneven {
                first: 11,
                second: 13,
            },
            FindingKind::OtherSideFaces(Facing::RightSide),
            FindingKind::OtherSideFaces(Facing::WrongSide),
            FindingKind::NeverReached(12),
            FindingKind::DoesNotGraft(13),
            FindingKind::FlatUnknown,
        ];
        for (nth, (expected, _)) in EXPECTED.into_iter().enumerate() {
            let nearest = (nth % 2 == 0).then(|| known_word("k2tog")).flatten();
            all.push(FindingKind::Unread { expected, nearest });
        }
        let troubles = [
            Trouble::TooFew { wanted: 4, left: 1 },
            Trouble::NoMarker,
            Trouble::RepeatUneven { over: 30, rest: 2 },
            Trouble::NothingToPickUp,
            Trouble::NeedleLeft(3),
            Trouble::TooLong,
            Trouble::Refused(Refusal::MarkerInTheWay(Marker::Left)),
            Trouble::Refused(Refusal::EdgeOpen(FlapEdge::Right)),
            Trouble::Refused(Refusal::RoundNotWhole),
            Trouble::Refused(Refusal::SameYarn),
        ];
        let places = STOPS.map(|(stop, _)| Trouble::NoSuchPlace(stop));
        let refused = REFUSALS.map(|(refusal, _)| Trouble::Refused(refusal));
        let troubles = troubles.into_iter().chain(places).chain(refused);
        all.extend(troubles.map(FindingKind::Unworkable));
        all
    }

    #[test]
    fn what_is_kept_is_told_in_the_same_words() {
        for found in all() {
            let kept = LineFinding::of(3, &found);
            let again = kept.found().unwrap_or_else(|| panic!("{kept:?}"));
            assert_eq!(pattern_finding(&again), pattern_finding(&found), "{kept:?}");
            assert_eq!(LineFinding::of(3, &again), kept);
        }
    }

    #[test]
    fn what_a_newer_evenloop_found_is_not_guessed_at() {
        for what in [
            "",
            "wool",
            "left 3",
            "left 3 4 5",
            "few 3 x",
            "unread end wool",
        ] {
            let kept = LineFinding {
                line: 1,
                what: what.to_owned(),
            };
            assert_eq!(kept.found(), None, "{what}");
        }
    }
}
