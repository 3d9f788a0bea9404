//! What was found in a written pattern, in sentences.

use crate::knit::Refusal;
use crate::needles::Facing;
use crate::pattern::{Expected, FindingKind, Stop, Trouble};

/// What was found in a line of a pattern.
pub fn pattern_finding(found: &FindingKind) -> String {
    match found {
        FindingKind::Unread {
            expected, nearest, ..
        } => {
            if let Some(word) = nearest {
                return format!("This word is not known. “{word}” may be meant.");
            }
            match expected {
                Expected::Instruction => {
                    "This is not understood: no stitch and nothing else to do begins like this."
                }
                Expected::Number => "A number of stitches is missing here.",
                Expected::ClosingBracket => "The bracket that closes the group is missing here.",
                Expected::ClosingStar => "The star that closes the repeat is missing here.",
                Expected::Times => "How often the group is worked is missing here.",
                Expected::End => "This is not understood: the line could have ended before it.",
            }
            .to_owned()
        }
        FindingKind::Unworkable(trouble) => trouble_said(*trouble),
        FindingKind::StitchesLeft { worked, of } => {
            let left = of.saturating_sub(*worked);
            let left = match left {
                1 => "one stitch is left".to_owned(),
                n => format!("{n} stitches are left"),
            };
            format!(
                "This works {worked} of {of} stitches: {left} at the end. A stitch of the line may be missing, or a number in it is too small."
            )
        }
        FindingKind::CountDiffers { said, found } => {
            let off = said.abs_diff(*found);
            let than = if found > said { "more" } else { "fewer" };
            format!(
                "The pattern says {said} stitches, but there are {found}: {off} {than}. A line above may be worked otherwise than it is meant, or the number is misprinted."
            )
        }
        FindingKind::TooLong(most) => {
            format!("This is longer than any pattern: only its first {most} characters are read.")
        }
        FindingKind::NoSuchRound(n) => format!("There is no round {n} before this."),
        FindingKind::OutOfOrder { number, next } => format!(
            "This has the number {number}, where {next} comes next. The number may be misprinted, or a line may be missing."
        ),
        FindingKind::RepeatsTooMany { asked, there } => format!(
            "The last {asked} are to be repeated, but only {there} of them belong together: something else was worked before. The number may be misprinted."
        ),
        FindingKind::WorkedOver { said, over } => format!(
            "This says {said} stitches, but the lines after it are worked over {over}. The number may be misprinted."
        ),
        FindingKind::TurnsUneven { first, second } => format!(
            "Row 1 of this turn leaves {first} stitches on its side and row 2 leaves {second} on the other, and the rows after them do not come out. A number in this row may be misprinted."
        ),
        FindingKind::OtherSideFaces(said) => {
            let (said, faces) = match said {
                Facing::RightSide => ("right", "wrong"),
                Facing::WrongSide => ("wrong", "right"),
            };
            format!(
                "This row is said to be worked with the {said} side facing, but the {faces} side faces here. A row may be missing, or there is one too many."
            )
        }
        FindingKind::NeverReached(n) => {
            format!("However often this is repeated, there are never {n} stitches.")
        }
        FindingKind::DoesNotGraft(n) => {
            format!("{n} stitches cannot be grafted: there are no two equal halves.")
        }
        FindingKind::FlatUnknown => {
            "Rows begin here, and over how many stitches they go is not said.".into()
        }
    }
}

fn trouble_said(trouble: Trouble) -> String {
    match trouble {
        Trouble::TooFew { wanted, left } => {
            let needs = match wanted {
                1 => "one stitch".to_owned(),
                n => format!("{n} stitches"),
            };
            match left {
                0 => format!("This needs {needs}, but none is left."),
                1 => format!("This needs {needs}, but only one is left."),
                n => format!("This needs {needs}, but only {n} are left."),
            }
        }
        Trouble::NoMarker => "There is no marker ahead.".into(),
        Trouble::NoSuchPlace(stop) => {
            let place = match stop {
                Stop::End => "no end of the round",
                Stop::NeedleEnd => "no end of a needle",
                Stop::Marker | Stop::RoundMarker => "no marker",
                Stop::Gap => "no gap of a turned row",
                Stop::Double => "no double stitch",
                Stop::Wrapped => "no wrapped stitch",
            };
            format!("There is {place} ahead.")
        }
        Trouble::RepeatUneven { over, rest } => format!(
            "The repeat does not come out even over {over} stitches: {rest} remain."
        ),
        Trouble::NothingToPickUp => "There is no edge here to pick up from.".into(),
        Trouble::NeedleLeft(n) => {
            format!("The needle before is not finished: {n} of its stitches are left.")
        }
        Trouble::TooLong => "This comes to more than any round has.".into(),
        Trouble::Refused(refusal) => match refusal {
            Refusal::MarkerInTheWay(_) => "A marker hangs between these stitches.".into(),
            Refusal::NeedleEnds => "A needle ends between these stitches.".into(),
            Refusal::DoubleInTheWay => "A double stitch comes first: work both its legs together.".into(),
            Refusal::NoDouble => "There is no double stitch here.".into(),
            Refusal::NoWrapped => "There is no wrapped stitch here.".into(),
            Refusal::GapInTheWay => "The gap of a turned row lies before these stitches.".into(),
            Refusal::EdgeOpen(_) => "The edge of the heel flap comes first: the row ends there, or stitches are picked up.".into(),
            Refusal::NothingToPickUp => "There is no edge here to pick up from.".into(),
            Refusal::TooMany => "There would be more stitches than the needles carry.".into(),
            Refusal::WrongSideFacing => "This is done with the right side facing.".into(),
            Refusal::NotAtTheStart => "Stitches are on the needles already.".into(),
            Refusal::StitchesLeft | Refusal::RoundNotWhole => "Stitches are left.".into(),
            _ => "The needles do not allow this.".into(),
        },
    }
}
