//! What to do on one needle, as a line.

use crate::stitch::{Cross, Decrease, Increase, Lean, RareStitch};
use crate::text::knitting_hand::KnittingHand;
use crate::text::messages::{Piece, Run, Stop, Times};
use crate::text::wording::{WordForm, Wording};

/// A whole line, and where in it each thing to do begins, but the first; in plain words it begins with a
/// capital.
pub(crate) fn line(pieces: &[Piece], wording: Wording) -> (String, Vec<usize>) {
    in_order(pieces, wording, wording.form != WordForm::Short)
}

/// A part of a line.
pub(crate) fn part_of_line(pieces: &[Piece], wording: Wording) -> String {
    in_order(pieces, wording, false).0
}

fn in_order(pieces: &[Piece], wording: Wording, capital: bool) -> (String, Vec<usize>) {
    let mut line = String::new();
    let mut begins = Vec::new();
    let mut named = false;
    for (nth, piece) in pieces.iter().enumerate() {
        if nth > 0 {
            // what names a round is followed by the round itself
            line.push_str(if named { " " } else { ", " });
            if !named {
                begins.push(line.len());
            }
        }
        named = matches!(piece, Piece::MotifRound(_));
        line.push_str(&match wording.form {
            WordForm::Plain | WordForm::Spoken => plain(piece, wording, capital && nth == 0),
            WordForm::Short => short(piece, wording),
        });
    }
    (line, begins)
}

#[allow(clippy::too_many_lines)] // one arm for each piece
fn plain(piece: &Piece, wording: Wording, capital: bool) -> String {
    let begin = |upper: &'static str, lower: &'static str| if capital { upper } else { lower };
    let knit = begin("Knit", "knit");
    let purl = begin("Purl", "purl");
    let hand = wording.hand;
    match piece {
        Piece::KnitToEnd { of_needle, markers } => {
            let end = if *of_needle {
                plain_stop(Stop::NeedleEnd, wording)
            } else {
                "the end of the round"
            };
            let markers = if *markers { "markers" } else { "the marker" };
            format!("{knit} to {end}, slipping {markers}")
        }
        Piece::Knit(run) => plain_run(knit, *run, wording),
        Piece::Purl(run) => plain_run(purl, *run, wording),
        Piece::KnitThroughBackLoop(n) => format!("{knit} {n} through the back loop"),
        Piece::YarnOver => begin("Yarn over", "yarn over").into(),
        Piece::FoldJoin(n) => {
            format!("{knit} {n}, each together with the cast-on loop below it")
        }
        Piece::Slip(n) => format!("{} {n}", begin("Slip", "slip")),
        Piece::SlipYarnInFront(n) => {
            format!("{} {n} with the yarn in front", begin("Slip", "slip"))
        }
        Piece::K2tog => format!("{knit} 2 together"),
        Piece::Ssk => begin("Slip-slip-knit", "slip-slip-knit").into(),
        Piece::P2tog => format!("{purl} 2 together"),
        Piece::PickUp(n) => format!(
            "{} {n} along the edge",
            begin("Pick up and knit", "pick up and knit")
        ),
        Piece::PickUpCorner => begin(
            "Pick up and knit 1 in the corner",
            "pick up and knit 1 in the corner",
        )
        .into(),
        Piece::KnitCorner { double } => {
            let stitch = if *double { "the double stitch" } else { "1" };
            format!("{knit} {stitch} together with a loop lifted from the corner")
        }
        Piece::Turn => begin("Turn", "turn").into(),
        Piece::TurnDouble => {
            begin("Turn, make a double stitch", "turn, make a double stitch").into()
        }
        Piece::KnitDouble(n) => plain_doubles(knit, *n),
        Piece::PurlDouble(n) => plain_doubles(purl, *n),
        Piece::MakeLeft => format!("{} 1 {}", begin("Make", "make"), hand.left()),
        Piece::MakeRight => format!("{} 1 {}", begin("Make", "make"), hand.right()),
        Piece::CastOnWrapped(n) => format!(
            "{} {n} times round both needles",
            begin("Wind the yarn", "wind the yarn")
        ),
        Piece::CastOnMagic(n) => format!(
            "{} {n} loops on each of the two needles",
            begin("Lay", "lay")
        ),
        Piece::CastOnTubular(n) => format!(
            "{} {n} knit and purl loops by turns",
            begin("Cast on", "cast on")
        ),
        Piece::CastOnProvisional(n) => format!(
            "{} {n} over the needle with the waste yarn",
            begin("Chain", "chain")
        ),
        Piece::SewDown(n) => format!("{} {n} inside", begin("Sew down", "sew down")),
        Piece::KnitToSnip(n) => format!("{knit} {n} and pin the middle one"),
        Piece::BindOff(n) => {
            let english = wording.english;
            format!(
                "{} {n}",
                begin(english.bind_off_capital(), english.bind_off())
            )
        }
        Piece::Waste(n) => format!(
            "{knit} {n} with the waste yarn, slide them back and knit them with the working yarn"
        ),
        Piece::PlaceMarker => begin("Place a marker", "place a marker").into(),
        Piece::SlipMarker => begin("Slip the marker", "slip the marker").into(),
        Piece::CastOn(n) => format!("{} {n}", begin("Cast on", "cast on")),
        Piece::Cross(cross) => plain_cross(begin("Slip", "slip"), *cross),
        Piece::Decrease(decrease) => match decrease {
            Decrease::K3tog => format!("{knit} 3 together"),
            Decrease::P3tog => format!("{purl} 3 together"),
            Decrease::K2togThroughBackLoops => format!("{knit} 2 together through the back loops"),
            Decrease::P2togThroughBackLoops => format!("{purl} 2 together through the back loops"),
            Decrease::Skp => begin("Skp", "skp").into(),
            Decrease::Ssp => begin("Ssp", "ssp").into(),
            Decrease::Sssk => begin("Sssk", "sssk").into(),
            Decrease::Sk2p => begin("Sk2p", "sk2p").into(),
            Decrease::S2kp => begin("S2kp", "s2kp").into(),
        },
        Piece::Increase(increase) => match increase {
            Increase::Kfb => format!("{knit} into the front and back"),
            Increase::Pfb => format!("{purl} into the front and back"),
            Increase::MakePurl => begin("Make 1 purlwise", "make 1 purlwise").into(),
        },
        Piece::Rare(stitch, n) => {
            let slip = begin("Slip", "slip");
            match stitch {
                RareStitch::PurlThroughBackLoop => format!("{purl} {n} through the back loop"),
                RareStitch::SlipKnitwise => format!("{slip} {n} knitwise"),
                RareStitch::SlipYarnInBack => format!("{slip} {n} with the yarn in back"),
            }
        }
        Piece::TurnWrapped => begin("Wrap and turn", "wrap and turn").into(),
        Piece::KnitWrapped(n) => plain_wrapped(knit, *n),
        Piece::PurlWrapped(n) => plain_wrapped(purl, *n),
        Piece::AsWritten(from, to) => format!(
            "{} {from} as the pattern says, leaving {to}",
            begin("Work", "work")
        ),
        Piece::MotifRound(n) => format!("{} {n}:", begin("Pattern round", "pattern round")),
        Piece::WithYarn(yarn) => {
            format!("{} {}", begin("With yarn", "with yarn"), yarn.letter())
        }
        Piece::Chart(times) => {
            let chart = begin("The chart", "the chart");
            match times {
                1 => format!("{chart} once"),
                n => format!("{chart} {n} times"),
            }
        }
        Piece::ChartBegun(n) => {
            let first = begin("The first", "the first");
            match n {
                1 => format!("{first} stitch of the chart once more"),
                n => format!("{first} {n} stitches of the chart once more"),
            }
        }
        Piece::Repeat(inner, times) => {
            let spoken = wording.form == WordForm::Spoken;
            let inner = in_order(inner, wording, capital && !spoken).0;
            let inner = if spoken {
                format!("{} {inner}", begin("Repeat", "repeat"))
            } else {
                format!("*{inner}*")
            };
            match times {
                Times::Counted(n) => format!("{inner} {n} times"),
                Times::To(stop) => format!("{inner} to {}", plain_stop(*stop, wording)),
            }
        }
    }
}

/// Which stitches go to the cable needle, where it is held, and what is worked then (common practice,
/// no source). `slip` begins it.
fn plain_cross(slip: &str, cross: Cross) -> String {
    let Cross {
        lean,
        over,
        under,
        purl,
    } = cross;
    let behind = if purl { "purl" } else { "knit" };
    match lean {
        Lean::Left => format!(
            "{slip} {over} to the cable needle, hold it in front, {behind} {under}, knit {over} from the cable needle"
        ),
        Lean::Right => format!(
            "{slip} {under} to the cable needle, hold it in back, knit {over}, {behind} {under} from the cable needle"
        ),
    }
}

/// A stitch made of the strand between two, by the way it leans in the fabric.
const fn short_make(hand: KnittingHand, lean: Lean) -> &'static str {
    match hand.lean(lean) {
        Lean::Left => "m1l",
        Lean::Right => "m1r",
    }
}

fn short_cross(cross: Cross, hand: KnittingHand) -> String {
    let lean = match (hand.lean(cross.lean), cross.purl) {
        (Lean::Left, false) => "LC",
        (Lean::Right, false) => "RC",
        (Lean::Left, true) => "LPC",
        (Lean::Right, true) => "RPC",
    };
    format!("{}/{} {lean}", cross.over, cross.under)
}

/// What the abbreviation of a cross stands for: "2/2 LC: sl2 to cn, hold in front, k2, k2 from cn". Its
/// name says how it leans in the fabric: held in front it leans to the right for who knits left-handed.
pub(crate) fn cross_key(cross: Cross, hand: KnittingHand) -> String {
    let name = short_cross(cross, hand);
    let Cross {
        lean,
        over,
        under,
        purl,
    } = cross;
    let behind = if purl { "p" } else { "k" };
    match lean {
        Lean::Left => {
            format!("{name}: sl{over} to cn, hold in front, {behind}{under}, k{over} from cn")
        }
        Lean::Right => {
            format!("{name}: sl{under} to cn, hold in back, k{over}, {behind}{under} from cn")
        }
    }
}

fn plain_run(verb: &str, run: Run, wording: Wording) -> String {
    match run {
        Run::Counted(n) => format!("{verb} {n}"),
        Run::To(stop) => format!("{verb} to {}", plain_stop(stop, wording)),
        Run::Before(n, stop) => format!("{verb} to {n} before {}", plain_stop(stop, wording)),
    }
}

fn plain_doubles(verb: &str, n: u16) -> String {
    match n {
        1 => format!("{verb} the double stitch"),
        n => format!("{verb} {n} double stitches"),
    }
}

fn plain_wrapped(verb: &str, n: u16) -> String {
    match n {
        1 => format!("{verb} the wrapped stitch with its wrap"),
        n => format!("{verb} {n} wrapped stitches with their wraps"),
    }
}

const fn plain_stop(stop: Stop, wording: Wording) -> &'static str {
    match stop {
        Stop::RoundMarker => "the round's marker",
        Stop::Marker => "the marker",
        Stop::NeedleEnd if wording.two_socks => "the end of this sock",
        Stop::NeedleEnd => "the end of the needle",
        Stop::RowEnd => "the end of the row",
        Stop::Gap => "the gap",
        Stop::MiddleOfBack => "the middle of the back",
        Stop::Double => "the double stitch",
        Stop::Wrapped => "the wrapped stitch",
    }
}

fn short(piece: &Piece, wording: Wording) -> String {
    match piece {
        Piece::KnitToEnd { of_needle, markers } => {
            let end = if *of_needle {
                short_stop(Stop::NeedleEnd, wording)
            } else {
                "end of round"
            };
            let markers = if *markers {
                "slipping m as they come"
            } else {
                "slipping m"
            };
            format!("k to {end}, {markers}")
        }
        Piece::Knit(run) => short_run("k", *run, wording),
        Piece::Purl(run) => short_run("p", *run, wording),
        Piece::KnitThroughBackLoop(n) => format!("k{n} tbl"),
        Piece::YarnOver => "yo".into(),
        Piece::FoldJoin(n) => format!("join hem over {n}"),
        Piece::Slip(n) => format!("sl{n}"),
        Piece::SlipYarnInFront(n) => format!("sl{n} wyif"),
        Piece::K2tog => "k2tog".into(),
        Piece::Ssk => "ssk".into(),
        Piece::P2tog => "p2tog".into(),
        Piece::PickUp(n) => format!("pick up and k{n}"),
        Piece::PickUpCorner => "pick up and k1 in the corner".into(),
        Piece::KnitCorner { double: true } => "k DS + corner".into(),
        Piece::KnitCorner { double: false } => "k1 + corner".into(),
        Piece::Turn => "turn".into(),
        Piece::TurnDouble => "turn, DS".into(),
        Piece::KnitDouble(n) => short_doubles("k", *n),
        Piece::PurlDouble(n) => short_doubles("p", *n),
        Piece::MakeLeft => short_make(wording.hand, Lean::Left).into(),
        Piece::MakeRight => short_make(wording.hand, Lean::Right).into(),
        Piece::CastOnWrapped(n) => format!("wrap {n} + {n}"),
        Piece::CastOnMagic(n) => format!("CO {n} + {n}"),
        Piece::CastOnTubular(n) => format!("CO {n} k and p by turns"),
        Piece::CastOnProvisional(n) => format!("ch {n} over needle with waste yarn"),
        Piece::SewDown(n) => format!("sew down {n}"),
        Piece::KnitToSnip(n) => format!("k{n} and pin the middle one"),
        Piece::BindOff(n) => format!("{} {n}", wording.english.bind_off_short()),
        Piece::Waste(n) => {
            format!("k{n} with waste yarn, slide back, k again with working yarn")
        }
        Piece::PlaceMarker => "pm".into(),
        Piece::SlipMarker => "sm".into(),
        Piece::CastOn(n) => format!("CO {n}"),
        Piece::Cross(cross) => short_cross(*cross, wording.hand),
        Piece::Decrease(decrease) => match decrease {
            Decrease::K3tog => "k3tog",
            Decrease::P3tog => "p3tog",
            Decrease::K2togThroughBackLoops => "k2tog tbl",
            Decrease::P2togThroughBackLoops => "p2tog tbl",
            Decrease::Skp => "skp",
            Decrease::Ssp => "ssp",
            Decrease::Sssk => "sssk",
            Decrease::Sk2p => "sk2p",
            Decrease::S2kp => "s2kp",
        }
        .into(),
        Piece::Increase(increase) => match increase {
            Increase::Kfb => "kfb",
            Increase::Pfb => "pfb",
            Increase::MakePurl => "m1p",
        }
        .into(),
        Piece::Rare(stitch, n) => match stitch {
            RareStitch::PurlThroughBackLoop => format!("p{n} tbl"),
            RareStitch::SlipKnitwise => format!("sl{n} kwise"),
            RareStitch::SlipYarnInBack => format!("sl{n} wyib"),
        },
        Piece::TurnWrapped => "w&t".into(),
        Piece::KnitWrapped(n) => format!("k{n} with wraps"),
        Piece::PurlWrapped(n) => format!("p{n} with wraps"),
        Piece::AsWritten(from, to) => format!("work {from} as in the pattern, to {to}"),
        Piece::MotifRound(n) => format!("rnd {n}:"),
        Piece::WithYarn(yarn) => format!("with {}", yarn.letter()),
        Piece::Chart(times) => format!("chart x {times}"),
        Piece::ChartBegun(1) => "first st of chart".into(),
        Piece::ChartBegun(n) => format!("first {n} sts of chart"),
        Piece::Repeat(inner, times) => {
            let inner = in_order(inner, wording, false).0;
            match times {
                Times::Counted(n) => format!("*{inner}* {n} times"),
                Times::To(stop) => format!("*{inner}* to {}", short_stop(*stop, wording)),
            }
        }
    }
}

fn short_run(verb: &str, run: Run, wording: Wording) -> String {
    match run {
        Run::Counted(n) => format!("{verb}{n}"),
        Run::To(stop) => format!("{verb} to {}", short_stop(stop, wording)),
        Run::Before(n, stop) => format!("{verb} to {n} before {}", short_stop(stop, wording)),
    }
}

fn short_doubles(verb: &str, n: u16) -> String {
    match n {
        1 => format!("{verb} DS"),
        n => format!("{verb} {n} DS"),
    }
}

const fn short_stop(stop: Stop, wording: Wording) -> &'static str {
    match stop {
        Stop::RoundMarker => "BOR marker",
        Stop::Marker => "m",
        Stop::NeedleEnd if wording.two_socks => "end of this sock",
        Stop::NeedleEnd => "end of needle",
        Stop::RowEnd => "end of row",
        Stop::Gap => "gap",
        Stop::MiddleOfBack => "middle of back",
        Stop::Double => "DS",
        Stop::Wrapped => "wrapped st",
    }
}

#[cfg(all(test, not(feature = "made-up-language")))]
mod tests {
    use super::*;

    #[test]
    fn the_ear_hears_a_repeat_where_the_eye_sees_stars() {
        let repeat =
            |times| Piece::Repeat(vec![Piece::Slip(1), Piece::Knit(Run::Counted(1))], times);
        let spoken = Wording {
            form: WordForm::Spoken,
            ..Wording::default()
        };
        let row = [repeat(Times::To(Stop::RowEnd)), Piece::Turn];
        assert_eq!(
            line(&row, spoken).0,
            "Repeat slip 1, knit 1 to the end of the row, turn"
        );
        assert_eq!(
            line(&row, Wording::default()).0,
            "*Slip 1, knit 1* to the end of the row, turn"
        );
        let within = [Piece::Knit(Run::Counted(1)), repeat(Times::Counted(2))];
        assert_eq!(
            line(&within, spoken).0,
            "Knit 1, repeat slip 1, knit 1 2 times"
        );
    }
}
