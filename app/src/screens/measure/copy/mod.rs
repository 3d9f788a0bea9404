//! Every sentence of Measure. Another language needs another of these files and nothing else.

mod arrival;
mod foot;
mod leg;
mod motif;
mod shape;
mod yarn;

use evenloop_engine::plan::{Outcome, SectionKind};
use evenloop_engine::units::LengthUnit;

pub(super) use self::arrival::*;
pub(super) use self::foot::*;
pub(super) use self::leg::*;
pub(super) use self::motif::*;
pub(super) use self::shape::*;
pub(super) use self::yarn::*;
use super::entry::{Entry, Spot};
use crate::parts::Choice;

pub(super) const TITLE: &str = "Measure";
pub(super) const LEAD: &str = "A foot, a swatch and a few choices. The plan follows every change.";
pub(super) const NAME: &str = "What to call this pair";
pub(super) const NAME_HINT: &str = "Whose feet, which yarn: whatever tells it from the others.";
pub(super) const FIRST_NAME: &str = "Everyday socks";
pub(super) const UNIT: &str = "Lengths in";
pub(super) const UNITS: [Choice; 2] = [Choice::plain("cm"), Choice::plain("inches")];

pub(super) const LEG: &str = "Cuff and leg";
pub(super) const HEEL: &str = "Heel";
pub(super) const TOE_STEP: &str = "Toe";
pub(super) const NEEDLES: &str = "Needles";
pub(super) const FIT: &str = "Fit";
pub(super) const FIT_LEAD: &str =
    "These suit most plain socks. Change them if you know that you like it otherwise.";
pub(super) const BEGUN_TITLE: &str = "Change what comes";
pub(super) const BEGUN_HEAD: &str =
    "What is knitted stays as it is. The rest of the sock follows what you change here.";
pub(super) const BEGUN: &str = "The sock on the needles";
pub(super) const BEGUN_LEAD: &str = "More rounds or fewer, here or by the lengths below. A gauge measured in the sock goes into the swatch's lines.";
pub(super) const CHANGES: &str = "What will be different:";
pub(super) const NO_CHANGE: &str = "Nothing is different yet.";
pub(super) const OTHER_STAYS: &str =
    "The other sock is too far on for this: it is knitted as it was planned.";
pub(super) const CHANGE_REST: &str = "Knit on like this";
pub(super) const NOT_OPENED: &str =
    "This sock could not be opened for a change. It goes on as it was; nothing is lost.";
/// Which sock, and where it is.
pub(super) fn begun(name: &str, sock: u8, place: &str) -> String {
    let which = if sock == 2 { "second" } else { "first" };
    format!("{name}, {which} sock: {place} comes next.")
}
/// How much will be different, in a line.
pub(super) fn differences(count: usize) -> String {
    match count {
        0 => "No change yet".to_owned(),
        1 => "1 change".to_owned(),
        _ => format!("{count} changes"),
    }
}
/// What a stepper counts.
pub(super) const fn rounds_of(kind: SectionKind) -> &'static str {
    match kind {
        SectionKind::Leg => "Rounds of the leg",
        _ => "Rounds of the foot",
    }
}
pub(super) const CAST_ON: &str = "Cast on";
pub(super) const SEE_PLAN: &str = "See the plan: ";
pub(super) const AFRESH: &str = "Start the form afresh";
pub(super) const WILL_NOT_LAST: &str = "This window stores nothing (a private window, or storage is switched off). You can knit along, but everything is forgotten when it closes.";
pub(super) const FULL: &str = "There is no room left on this device for another pair. A backup in Keep, and then taking finished pairs out of the basket, makes room. What you typed here is still here.";
pub(super) const REFUSED: &str =
    "The browser did not store the pair. What you typed here is still here; please try again.";

pub(super) const PLAN: &str = "The plan";
pub(super) const NO_PLAN: &str = "No plan yet";
pub(super) const NO_PLAN_LEAD: &str = "This is not yet a sock:";
pub(super) const AROUND: &str = "Stitches around";
pub(super) const WIDTH: &str = "Round the sock";
pub(super) const EASE: &str = "Against the foot";
pub(super) const LEG_LENGTH: &str = "Leg";
pub(super) const FOOT_LENGTH: &str = "Foot";
pub(super) const FLAP: &str = "Heel flap";
pub(super) const TURNED: &str = "Left after the turn";
pub(super) const PICKED_UP: &str = "Picked up each side";
pub(super) const PEAK: &str = "Most at once";
pub(super) const GRAFTED: &str = "Grafted at the toe";
pub(super) const DRAWN: &str = "Drawn closed at the toe";
pub(super) const TAIL: &str = "Tail for the cast-on";
pub(super) const BIND_OFF_TAIL: &str = "Tail for the bind-off";
pub(super) const BIND_OFF_NEEDLE: &str = "Needle for the bind-off";
pub(super) const TOP: &str = "Stitches at the top";
pub(super) const YARN_ONE: &str = "Yarn for one sock";
pub(super) const YARN_NOTE: &str =
    "Yarn is an estimate with a tenth to spare, and so are sizes: swatch and foot decide.";
pub(super) const SECTION: &str = "Section";
pub(super) const ROUNDS: &str = "Rounds";
pub(super) const HEIGHT: &str = "Height";
pub(super) const TABLE: &str = "Section by section";

/// The line's label.
pub(super) const fn label(entry: Entry) -> &'static str {
    match entry {
        Entry::FootLength => "A. Length of the foot",
        Entry::FootCircumference => "B. Round the ball",
        Entry::HeelDiagonal => "C. Round heel and instep",
        Entry::SwatchStitches => "Stitches",
        Entry::SwatchWidth => "over a width of",
        Entry::SwatchRounds | Entry::StripeRounds(_) => "Rounds",
        Entry::SwatchHeight => "over a height of",
        Entry::UnwashedWidth => "Width before washing",
        Entry::UnwashedHeight => "Height before washing",
        Entry::CuffLength => "Height of the cuff",
        Entry::Leg => "Leg, cast-on to heel flap",
        Entry::GirthHeight(_) => "Height above the heel",
        Entry::GirthRound(_) => "Round the leg there",
        Entry::HeelRows => "Rows of the heel flap",
        Entry::HeelHeight => "Height of the heel flap",
        Entry::Between => "Rounds between its halves",
        Entry::Ease => "Smaller than the foot by",
        Entry::LengthEase => "Shorter than the foot by",
        Entry::Stitches => "Stitches around",
        Entry::BallGrams => "Grams in a ball",
        Entry::BallMetres => "Metres in a ball",
    }
}

/// What is wrong there, for the list of all that is to be mended.
pub(super) fn spot(spot: Spot) -> String {
    match spot {
        Spot::Line(entry @ (Entry::GirthHeight(place) | Entry::GirthRound(place))) => {
            format!("Place {}, {}", place + 1, label(entry).to_lowercase())
        }
        Spot::Line(Entry::StripeRounds(place)) => format!("Stripe {}", place + 1),
        Spot::Line(entry) => label(entry).to_owned(),
        Spot::Toe => TOE.to_owned(),
        Spot::HighInstep => HIGH_INSTEP.name.to_owned(),
        Spot::WideToes => WIDE_TOES.name.to_owned(),
        Spot::Calf => "Round the leg".to_owned(),
        Spot::Motif => "The pattern".to_owned(),
        Spot::Stripes => "The stripes".to_owned(),
        Spot::Needles => METHOD.to_owned(),
        Spot::Seating => "Where stitches sit".to_owned(),
    }
}

/// What the line asks for; the range follows it.
const fn asks(entry: Entry) -> &'static str {
    match entry {
        Entry::FootLength => "Back of the heel to the longest toe.",
        Entry::FootCircumference => "Where it is widest. Empty: estimated from the length.",
        Entry::HeelDiagonal => "Under the heel, over the bend of the ankle. Empty: estimated.",
        Entry::Leg => "The cuff is part of it.",
        Entry::HeelRows => {
            "An even number. Empty: as many as the flap has stitches, so that it is square."
        }
        Entry::Between => "2 or 3 give a high instep room.",
        Entry::Ease => "A sock stretches a little to stay up.",
        Entry::LengthEase => "Half as much for small children.",
        Entry::Stitches => "A multiple of 4. Empty: worked out from foot and swatch.",
        Entry::HeelHeight => {
            "From the floor to the hollow under the ankle bone; ‹500› to ‹700› is usual. Empty: square."
        }
        Entry::SwatchStitches
        | Entry::SwatchWidth
        | Entry::SwatchRounds
        | Entry::SwatchHeight
        | Entry::UnwashedWidth
        | Entry::UnwashedHeight
        | Entry::CuffLength
        | Entry::GirthHeight(_)
        | Entry::GirthRound(_)
        | Entry::StripeRounds(_)
        | Entry::BallGrams
        | Entry::BallMetres => "",
    }
}

/// The line's hint: what it asks for and what it can be.
pub(super) fn hint(entry: Entry, unit: LengthUnit) -> String {
    let asks = asks(entry);
    match entry.range(unit) {
        Some((low, high)) if asks.is_empty() => format!("{low} to {high}"),
        Some((low, high)) => format!("{asks} {low} to {high}."),
        None => asks.to_owned(),
    }
}

/// The unit behind the number.
pub(super) const fn unit(entry: Entry, unit: LengthUnit) -> &'static str {
    match (entry, unit) {
        (Entry::Ease, _) => "%",
        (Entry::BallGrams, _) => "g",
        (Entry::BallMetres, _) => "m",
        (
            Entry::SwatchStitches
            | Entry::SwatchRounds
            | Entry::HeelRows
            | Entry::StripeRounds(_)
            | Entry::Between
            | Entry::Stitches,
            _,
        ) => "",
        (_, LengthUnit::Cm) => "cm",
        (_, LengthUnit::Inch) => "in",
    }
}

/// Said of a line that may not stay empty: message and help.
pub(super) fn empty(entry: Entry) -> (String, String) {
    let help = match entry {
        Entry::BallGrams | Entry::BallMetres => "Grams and metres belong together.",
        Entry::UnwashedWidth | Entry::UnwashedHeight => {
            "Width and height before washing belong together."
        }
        _ => "",
    };
    ("This is still empty.".to_owned(), help.to_owned())
}

/// Said of a line that cannot be read: message and help.
pub(super) fn unreadable(typed: &str, expected: &str) -> (String, String) {
    // Whatever was pasted in, the sentence stays a sentence.
    let short: String = typed.trim().chars().take(20).collect();
    (
        format!("“{short}” cannot be read."),
        format!("Please give {expected}."),
    )
}

/// What is expected where a whole number belongs.
pub(super) fn whole_number(of: &str, digits: &str) -> String {
    let is_number = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
    if is_number {
        "a smaller number".to_owned()
    } else {
        format!("a whole number of {of}")
    }
}

/// One line that says the whole sock, for the bar at hand.
pub(super) fn at_hand(outcome: &Outcome, unit: LengthUnit) -> (String, String) {
    (
        format!("{} stitches", outcome.stitches),
        format!("{} around", outcome.circumference.show(unit)),
    )
}

/// The cuff and leg in a few words.
pub(super) fn leg_now(edge: &str, cuff: &str, leg: &str, shaped: bool) -> String {
    let shaped = if shaped { ", shaped" } else { "" };
    format!("{edge}, {cuff}; leg {leg}{shaped}")
}

/// The fit in a few words.
pub(super) fn fit_now(
    ease: &str,
    length_ease: &str,
    stitches: &str,
    shape: impl Iterator<Item = &'static str>,
) -> String {
    let ease = ease.trim_end_matches([' ', '%']);
    let mut now = if stitches.is_empty() {
        format!("{ease} % smaller, {length_ease} shorter")
    } else {
        format!("{stitches} stitches; {length_ease} shorter")
    };
    for one in shape {
        now = two(&now, one);
    }
    now
}

/// Two choices in a few words.
pub(super) fn two(first: &str, second: &str) -> String {
    format!("{first}; {}", second.to_lowercase())
}

/// Said in the bar at hand while something is wrong.
pub(super) fn to_mend(count: usize) -> String {
    if count == 1 {
        "One thing to mend".to_owned()
    } else {
        format!("{count} things to mend")
    }
}

/// How the sock compares with the foot.
pub(super) fn ease(permille: i32) -> String {
    let (size, word) = (
        permille.unsigned_abs(),
        if permille < 0 { "wider" } else { "smaller" },
    );
    match (size / 10, size % 10) {
        (0, 0) => "just as wide".to_owned(),
        (whole, 0) => format!("{whole} % {word}"),
        (whole, part) => format!("{whole}.{part} % {word}"),
    }
}

/// Stitches and rows of the flap.
pub(super) fn flap(stitches: u16, rows: u16) -> String {
    format!("{stitches} stitches, {rows} rows")
}

/// A finished length, and what it measures before washing.
pub(super) fn length(finished: &str, on_needles: Option<String>) -> String {
    match on_needles {
        Some(on_needles) => format!("{finished} ({on_needles} on the needles)"),
        None => finished.to_owned(),
    }
}

/// A number of stitches.
pub(super) fn stitches(count: u16) -> String {
    format!("{count} stitches")
}

/// Pairs of stitches to graft.
pub(super) fn grafted(pairs: u16) -> String {
    format!("{pairs} and {pairs}")
}

/// Metres, and grams where they are known.
pub(super) fn yarn(metres: u32, grams: Option<u32>) -> String {
    match grams {
        Some(grams) => format!("{metres}\u{a0}m, {grams}\u{a0}g"),
        None => format!("{metres}\u{a0}m"),
    }
}
