//! The whole plan as a document.

use std::fmt::Write as _;

use evenloop_engine::materials::Material;
use evenloop_engine::recipe::{Direction, Method, Motif, MotifPlacement, Seating, Yarns};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::text::{CARRIED, KnittingHand, Wording};
use evenloop_engine::units::LengthUnit;
use evenloop_engine::yarn_amount::{show_decigrams, show_metres};

pub(crate) const MIND: &str = "To think about";
pub(crate) const TABLE: &str = "Section by section";
pub(crate) const COLUMNS: [&str; 4] = ["Section", "Rounds, rows", "Height", "Yarn"];
/// Above the text of the knitter's own pattern.
pub(crate) const PATTERN: &str = "The pattern, as it was typed";
pub(crate) const YARN_NOTE: &str = "Yarn is an estimate, for one sock and without reserve here; a washed swatch and the foot itself decide.";
pub(crate) const CHART: &str = "The stitch pattern’s chart, the same rounds as in the list";
/// How the motif's rounds and its chart are read.
pub(crate) fn motif_note(hand: KnittingHand) -> String {
    let (right, left) = (hand.right(), hand.left());
    format!(
        "Each line is one repeat of a round, read in the order knitted; a chart is read from {right} to {left}, upward."
    )
}
/// Which hand it is for, where that is not the usual one.
pub(crate) const LEFT_HANDED: &str = "For left-handed knitting: words, chart and drawings are the mirror image, stitches go from the right needle to the left one.";
pub(crate) const KNITTING: &str = "Knitting";
pub(crate) const KNIT_TWO: &str =
    "All of it is for one sock; the second is knitted like the first. Tick what is done.";
pub(crate) const KNIT_MIRRORED: &str = "All of it is for one sock; the second is its mirror image, for the other foot. Tick what is done.";
pub(crate) const CHART_TICKS: &str = "In a round “the chart” is the next round of the stitch pattern above. A box holds the number of its round and, smaller, the chart’s round.";

/// What the sheet is called where the pair has no name.
pub(crate) fn title(stitches: u16) -> String {
    format!("A pair of socks, {stitches} stitches around")
}

/// A round, several rounds, a row or several rows by their numbers.
pub(crate) fn round(number: usize) -> String {
    format!("Round {number}")
}
pub(crate) fn rounds(numbers: &str) -> String {
    format!("Rounds {numbers}")
}
pub(crate) fn row(number: usize) -> String {
    format!("Row {number}")
}
pub(crate) fn rows(numbers: &str) -> String {
    format!("Rows {numbers}")
}

/// Rounds or rows that repeat: all of them, which are worked first, and how often.
pub(crate) fn repeated(all: &str, are_rows: bool, once: &str, times: usize) -> String {
    let rounds = if are_rows { "rows" } else { "rounds" };
    format!("{all}: {rounds} {once}, {times} times")
}

/// Two numbers.
pub(crate) fn both(one: usize, other: usize) -> String {
    format!("{one} and {other}")
}

/// Counts that change by the same from one to the next.
pub(crate) fn counts_to(first: u16, second: u16, last: u16) -> String {
    format!("{first}, {second} and so on to {last}")
}

/// Which round or row it reads like.
pub(crate) fn like(is_row: bool, number: usize) -> String {
    let round = if is_row { "row" } else { "round" };
    format!("Like {round} {number}.")
}

/// The rounds of a leg between those that shape it.
pub(crate) const ALL_OTHER_ROUNDS: &str = "All other rounds";

/// What stands beside a box's number: the chart's round and the yarn, where there are such.
pub(crate) fn beside(chart: Option<u16>, yarn: Option<Yarn>) -> String {
    match (chart, yarn) {
        (None, None) => String::new(),
        (Some(round), None) => round.to_string(),
        (None, Some(yarn)) => yarn.letter().to_string(),
        (Some(round), Some(yarn)) => format!("{round} {}", yarn.letter()),
    }
}

pub(crate) const YARNS: &str = "Yarns";

/// In which yarns a sock is knitted, a line each.
pub(crate) fn yarns_in_order(yarns: &Yarns) -> Vec<String> {
    let stripes: Vec<String> = yarns
        .stripes
        .iter()
        .map(|stripe| match stripe.rounds {
            1 => format!("1 round {}", stripe.yarn.letter()),
            n => format!("{n} rounds {}", stripe.yarn.letter()),
        })
        .collect();
    let hide = if yarns.stripes.iter().any(|stripe| stripe.rounds > 1) {
        "; to hide it, slip the first stitch of each new yarn’s second round as if to purl, the yarn behind, if it is a knit stitch"
    } else {
        ""
    };
    vec![
        format!(
            "Leg, gusset and foot: {}; then from the first again.",
            stripes.join(", ")
        ),
        format!(
            "Cuff: {}. Heel: {}. Toe: {}.",
            yarns.cuff.letter(),
            yarns.heel.letter(),
            yarns.toe.letter()
        ),
        format!(
            "The letter in a box is the yarn of its round. For up to {CARRIED} rounds a waiting yarn is carried up inside, loosely; for more it is cut. Where the round begins, each stripe ends one round higher than it begins{hide}."
        ),
    ]
}

/// Moves of a walk that are the same, numbers from 1.
pub(crate) fn moves(first: usize, last: usize, of: usize) -> String {
    format!("Steps {first} to {last} of {of}")
}

/// A heading and what kind of round it is.
pub(crate) fn with_shape(heading: &str, shape: &str) -> String {
    format!("{heading}, {shape}")
}

/// Numbers that follow one another.
pub(crate) fn from_to(first: usize, last: usize) -> String {
    format!("{first} to {last}")
}

/// Numbers of which each is so much more than the one before.
pub(crate) fn every(first: usize, last: usize, every: usize) -> String {
    let ending = match (every % 100, every % 10) {
        (11..=13, _) => "th",
        (_, 1) => "st",
        (_, 2) => "nd",
        (_, 3) => "rd",
        _ => "th",
    };
    format!("{first} to {last}, every {every}{ending}")
}

/// Several numbers, and stretches of them.
pub(crate) fn listed(numbers: &[String]) -> String {
    numbers.join(", ")
}

/// The same numbers so many times.
pub(crate) fn times(numbers: &str, times: usize) -> String {
    format!("{numbers}, {times} times")
}

/// Which rounds of the chart are worked one after another.
pub(crate) fn of_chart(parts: &[String]) -> String {
    format!("Rounds of the chart: {}", parts.join(", then "))
}

/// What lines' needles are called.
pub(crate) fn needles_of_lines(numbers: &[u8]) -> String {
    match numbers {
        [] => String::new(),
        [one] => format!("Needle {one}:"),
        [many @ .., last] => {
            let many: Vec<String> = many.iter().map(ToString::to_string).collect();
            format!("Needles {} and {last}:", many.join(", "))
        }
    }
}

/// What is on all needles afterwards.
pub(crate) fn on_all(count: &str) -> String {
    format!("On all needles: {count}")
}

/// A length on the drawing by its letter.
pub(crate) fn measure(letter: char, name: &str) -> String {
    format!("{letter}: {name}")
}

/// A fact in one line.
pub(crate) fn fact(name: &str, value: &str) -> String {
    format!("{name}: {value}")
}

/// The motif's heading.
pub(crate) fn motif(place: &str) -> String {
    format!("Motif, {place}")
}

pub(crate) const MADE_FOR: &str = "Made for";
pub(crate) const FOOT: &str = "The wearer’s foot";
pub(crate) const BALL: &str = "Round the ball";
pub(crate) const SWATCH: &str = "Swatch, washed";
pub(crate) const GUESS: &str = "First guess, without a swatch";

/// A swatch by what was counted over which lengths.
pub(crate) fn swatch(stitches: u16, width: &str, rounds: u16, height: &str) -> String {
    format!("{stitches} stitches over {width}, {rounds} rounds over {height}")
}

pub(crate) const SOCK: &str = "The sock";
pub(crate) const KNITTED: &str = "Knitted";
pub(crate) const NEEDLES: &str = "Needles";
pub(crate) const AFTER_HEEL: &str = "After the heel";
pub(crate) const AROUND: &str = "Around";
pub(crate) const AT_TOP: &str = "At the top";
pub(crate) const HEEL: &str = "Heel";
pub(crate) const TOE: &str = "Toe";
pub(crate) const MOST: &str = "Most stitches at once";
pub(crate) const CAST_ON_TAIL: &str = "Tail for the cast-on";

/// The yarn that is left hanging to bind off with.
pub(crate) fn bind_off_tail(wording: Wording) -> String {
    format!("Tail for the {}", wording.english.bind_off_noun())
}

/// So many stitches.
pub(crate) fn stitches(stitches: u16) -> String {
    format!("{stitches} stitches")
}

/// A length that is not sure.
pub(crate) fn about(length: &str) -> String {
    format!("about {length}")
}

/// A heel with a flap, by its stitches and rows, those left after the turn and those picked up.
pub(crate) fn flap(stitches: u16, rows: u16, turned: u16, picked_up: u16) -> String {
    format!(
        "flap of {stitches} stitches and {rows} rows, with a gusset; {turned} left after the turn, {picked_up} picked up on each side"
    )
}

/// A heel from the toe up: turned in short rows over its stitches, then a flap of so many rows that
/// takes in so many gusset stitches on each side.
pub(crate) fn flap_up(stitches: u16, rows: u16, each_side: u16) -> String {
    format!(
        "turned in short rows over {stitches} stitches, then a flap of {rows} rows that takes in {each_side} gusset stitches on each side"
    )
}

/// A heel in short rows.
pub(crate) fn short_rows(stitches: u16) -> String {
    format!("in short rows, over {stitches} stitches")
}

pub(crate) const AFTERTHOUGHT: &str = "afterthought, knitted last";

/// A toe whose last stitches are drawn closed.
pub(crate) fn drawn_closed(stitches: u16) -> String {
    format!("{stitches} stitches, drawn closed")
}

/// A toe whose last stitches are grafted, so many above and so many below.
pub(crate) fn grafted(pairs: u16) -> String {
    format!("{pairs} and {pairs} stitches at the tip")
}

/// The yarn of one sock.
pub(crate) const ITS_YARN: &str = "Its yarn, a tenth to spare";

/// Above the list of what a pair takes.
pub(crate) const NEEDED: &str = "What you need for the pair";

/// One thing that is needed: its name, and which one or what for. Lengths of needles are those that are sold for it,
/// common practice, no source.
#[allow(clippy::too_many_lines)] // one arm for each thing
pub(crate) fn material(one: Material, wording: Wording) -> (String, String) {
    let Wording { english, unit, .. } = wording;
    let (name, which) = match one {
        Material::Yarn {
            yarn: which,
            metres,
            grams,
            balls,
        } => {
            let name =
                which.map_or_else(|| "Yarn".into(), |which| format!("Yarn {}", which.letter()));
            let balls = match balls {
                None => String::new(),
                Some(1) => format!(": 1 {}", english.ball()),
                Some(many) => format!(": {many} {}s", english.ball()),
            };
            return (
                name,
                format!("{}, a tenth to spare{balls}", yarn(metres, grams, unit)),
            );
        }
        Material::Needles(method, size) => {
            let size = size.map_or_else(
                || format!("in the size that gives your {}", english.gauge()),
                |size| size.to_string(),
            );
            let which = match method {
                Method::MagicLoop { .. } => {
                    format!("one circular needle, {size}, {} long", long_circular(unit))
                }
                Method::TwoCirculars { .. } => {
                    let long = match unit {
                        LengthUnit::Cm => "40 to 60 cm",
                        LengthUnit::Inch => "16 to 24 in",
                    };
                    format!("two circular needles, {size}, {long} long")
                }
                Method::FourDpns => {
                    format!("four double-pointed needles, {size}, {} long", dpn(unit))
                }
                Method::FiveDpns => {
                    format!("five double-pointed needles, {size}, {} long", dpn(unit))
                }
                Method::ShortCircular { length } => {
                    let long = length.map_or_else(
                        || match unit {
                            LengthUnit::Cm => "20 to 30 cm".to_owned(),
                            LengthUnit::Inch => "8 to 12 in".to_owned(),
                        },
                        |length| length.length().show_about(unit),
                    );
                    format!("one circular needle, {size}, {long} long")
                }
            };
            ("Needles", which)
        }
        Material::ForTheToe => (
            "For the toe",
            format!(
                "a circular needle of the same size, {} long",
                long_circular(unit)
            ),
        ),
        Material::ToBindOff(size) => {
            let which = size.map_or_else(|| "a thicker needle".into(), |size| size.to_string());
            return (
                format!("To {}", english.bind_off()),
                format!("{which}, so that the edge stretches"),
            );
        }
        Material::Markers(many) => ("Markers", many.to_string()),
        Material::SafetyPin => ("Safety pin", "for the row that is snipped later".into()),
        Material::CableNeedle => ("Cable needle", "for the stitches that cross".into()),
        Material::WasteYarn { heel, cast_on } => {
            let what = match (heel, cast_on) {
                (true, true) => "for the cast-on and to keep the heel’s place",
                (false, true) => "for the cast-on",
                (_, false) => "to keep the heel’s place",
            };
            (
                "Waste yarn",
                format!("smooth and of another {}, {what}", english.colour()),
            )
        }
        Material::CrochetHook => ("Crochet hook", "for the cast-on’s chain".into()),
        Material::DarningNeedle { graft, draw, sew } => {
            let uses = [
                (graft, "to graft"),
                (draw, "to draw stitches closed"),
                (sew, "to sew the edge"),
                (true, "to weave in the ends"),
            ];
            let uses: Vec<&str> = uses
                .iter()
                .filter(|(used, _)| *used)
                .map(|(_, what)| *what)
                .collect();
            let which = match uses.split_last() {
                Some((last, [])) => (*last).to_owned(),
                Some((last, others)) => format!("{} and {last}", others.join(", ")),
                None => String::new(),
            };
            ("Tapestry needle", which)
        }
        Material::ReinforcingThread => (
            "Reinforcing thread",
            "a thin one for the heel, if you like".into(),
        ),
    };
    (name.to_owned(), which)
}

/// How long a circular needle is whose cable is pulled out.
const fn long_circular(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Cm => "80 to 100 cm",
        LengthUnit::Inch => "32 to 40 in",
    }
}

/// How long double-pointed needles for socks are.
const fn dpn(unit: LengthUnit) -> &'static str {
    match unit {
        LengthUnit::Cm => "15 to 20 cm",
        LengthUnit::Inch => "6 to 8 in",
    }
}

/// Above the key of what is abbreviated in the words.
pub(crate) const KEY: &str = "Abbreviations and signs";
/// Above the key of the chart.
pub(crate) const CHART_KEY: &str = "In the chart";
/// Above a picture of the needles, below what leads there.
pub(crate) const AFTERWARDS: &str = "On the needles then:";

/// So much yarn.
pub(crate) fn yarn(metres: u32, grams: Option<u32>, unit: LengthUnit) -> String {
    let metres = show_metres(metres, unit);
    match grams {
        Some(grams) => {
            let grams = show_decigrams(grams.saturating_mul(10), unit);
            format!("about {metres}, {grams}")
        }
        None => format!("about {metres}"),
    }
}

/// Which end comes first.
pub(crate) const fn direction(direction: Direction) -> &'static str {
    match direction {
        Direction::CuffDown => "from the cuff down",
        Direction::ToeUp => "from the toe up",
    }
}

/// What it is knitted on.
pub(crate) const fn needles(method: Method) -> &'static str {
    match method {
        Method::MagicLoop { .. } => "magic loop",
        Method::TwoCirculars { .. } => "two circular needles",
        Method::FourDpns => "four double-pointed needles",
        Method::FiveDpns => "five double-pointed needles",
        Method::ShortCircular { .. } => "one short circular needle",
    }
}

/// How the stitches lie after the heel.
pub(crate) const fn seating(seating: Seating) -> &'static str {
    match seating {
        Seating::EvenHalves => "in even halves, the round beginning in the middle of the sole",
        Seating::InstepAndSole => "instep and sole apart, the round beginning at the side",
    }
}

/// How the motif lies: where it is knitted, and what lies beside its repeats.
pub(crate) fn lies(motif: &Motif) -> String {
    let mut said = place(motif.place).to_owned();
    if motif.place == MotifPlacement::AllRound {
        return said;
    }
    match motif.balance {
        0 => {}
        1 => said.push_str("; after the last repeat its first stitch once more"),
        n => {
            let _ = write!(
                said,
                "; after the last repeat its first {n} stitches once more"
            );
        }
    }
    match motif.edge {
        0 => {}
        1 => said.push_str("; 1 stitch purled on each side"),
        n => {
            let _ = write!(said, "; {n} stitches purled on each side");
        }
    }
    said
}

/// Where the motif is knitted.
const fn place(place: MotifPlacement) -> &'static str {
    match place {
        MotifPlacement::AllRound => "all round the leg, and on the instep",
        MotifPlacement::Front => "on the front of the leg and on the instep",
    }
}

/// What the letters on the drawing stand for.
pub(crate) const SCHEMATIC: &str = "Finished measurements";
/// Names of the measured lengths, in the order of their letters.
pub(crate) const MEASURES: [&str; 4] = [
    "Around the sock",
    "Leg, with its cuff",
    "Cuff",
    "Foot, heel to toe",
];
