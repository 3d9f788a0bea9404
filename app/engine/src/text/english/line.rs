//! What to do on one needle, as a line.

use crate::stitch::{Cross, Decrease, Increase, Lean, RareStitch};
use crate::text::knitting_hand::KnittingHand;
use crate::text::messages::{GraftNeedle, GraftPass, LinePiece, LineRepeat, Run, Stop};
use crate::text::wording::{WordForm, Wording};

/// A whole line, and where in it each thing to do begins, but the first; in plain words it begins with a
/// capital.
pub(crate) fn line(pieces: &[LinePiece], wording: Wording) -> (String, Vec<usize>) {
    in_order(pieces, wording, wording.form != WordForm::Short)
}

/// A part of a line.
pub(crate) fn part_of_line(pieces: &[LinePiece], wording: Wording) -> String {
    in_order(pieces, wording, false).0
}

fn in_order(pieces: &[LinePiece], wording: Wording, capital: bool) -> (String, Vec<usize>) {
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
        named = matches!(piece, LinePiece::MotifRound(_));
        line.push_str(&match wording.form {
            WordForm::Plain | WordForm::Spoken => plain(piece, wording, capital && nth == 0),
            WordForm::Short => short(piece, wording),
        });
    }
    (line, begins)
}

#[allow(clippy::too_many_lines)] // one arm for each piece
fn plain(piece: &LinePiece, wording: Wording, capital: bool) -> String {
    let begin = |upper: &'static str, lower: &'static str| if capital { upper } else { lower };
    let knit = begin("Knit", "knit");
    let purl = begin("Purl", "purl");
    let hand = wording.hand;
    match piece {
        LinePiece::KnitToEnd { of_needle, markers } => {
            let end = if *of_needle {
                plain_stop(Stop::NeedleEnd, wording)
            } else {
                "the end of the round"
            };
            let markers = if *markers { "markers" } else { "the marker" };
            format!("{knit} to {end}, slipping {markers}")
        }
        LinePiece::Knit(run) => plain_run(knit, *run, wording),
        LinePiece::Purl(run) => plain_run(purl, *run, wording),
        LinePiece::KnitThroughBackLoop(n) => format!("{knit} {n} through the back loop"),
        LinePiece::YarnOver => begin("Yarn over", "yarn over").into(),
        LinePiece::FoldJoin(n) => {
            format!("{knit} {n}, each together with the cast-on loop below it")
        }
        LinePiece::Slip(n) => format!("{} {n}", begin("Slip", "slip")),
        LinePiece::SlipYarnInFront(n) => {
            format!("{} {n} with the yarn in front", begin("Slip", "slip"))
        }
        LinePiece::K2tog => format!("{knit} 2 together"),
        LinePiece::Ssk => begin("Slip-slip-knit", "slip-slip-knit").into(),
        LinePiece::P2tog => format!("{purl} 2 together"),
        LinePiece::PickUp(n) => format!(
            "{} {n} along the edge",
            begin("Pick up and knit", "pick up and knit")
        ),
        LinePiece::PickUpCorner => begin(
            "Pick up and knit 1 in the corner",
            "pick up and knit 1 in the corner",
        )
        .into(),
        LinePiece::KnitCorner { double } => {
            let stitch = if *double { "the double stitch" } else { "1" };
            format!("{knit} {stitch} together with a loop lifted from the corner")
        }
        LinePiece::Turn => begin("Turn", "turn").into(),
        LinePiece::TurnDouble => {
            begin("Turn, make a double stitch", "turn, make a double stitch").into()
        }
        LinePiece::KnitDouble(n) => plain_doubles(knit, *n),
        LinePiece::PurlDouble(n) => plain_doubles(purl, *n),
        LinePiece::MakeLeft => format!("{} 1 {}", begin("Make", "make"), hand.left()),
        LinePiece::MakeRight => format!("{} 1 {}", begin("Make", "make"), hand.right()),
        LinePiece::CastOnWrapped(n) => format!(
            "{} {n} times round both needles",
            begin("Wind the yarn", "wind the yarn")
        ),
        LinePiece::CastOnMagic(n) => format!(
            "{} {n} loops on each of the two needles",
            begin("Lay", "lay")
        ),
        LinePiece::CastOnTubular(n) => format!(
            "{} {n} knit and purl loops alternately",
            begin("Cast on", "cast on")
        ),
        LinePiece::CastOnProvisional(n) => format!(
            "{} {n} over the needle with the waste yarn",
            begin("Chain", "chain")
        ),
        LinePiece::SewDown(n) => format!("{} {n} inside", begin("Sew down", "sew down")),
        LinePiece::KnitToSnip(n) => format!("{knit} {n} and pin the middle one"),
        LinePiece::BindOff(n) => {
            let english = wording.english;
            format!(
                "{} {n}",
                begin(english.bind_off_capital(), english.bind_off())
            )
        }
        LinePiece::Waste(n) => format!(
            "{knit} {n} with the waste yarn, slide them back and knit them with the working yarn"
        ),
        LinePiece::PlaceMarker => begin("Place a marker", "place a marker").into(),
        LinePiece::SlipMarker => begin("Slip the marker", "slip the marker").into(),
        LinePiece::CastOn(n) => format!("{} {n}", begin("Cast on", "cast on")),
        LinePiece::Cross(cross) => plain_cross(begin("Slip", "slip"), *cross),
        LinePiece::Decrease(decrease) => match decrease {
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
        LinePiece::Increase(increase) => match increase {
            Increase::Kfb => format!("{knit} into the front and back"),
            Increase::Pfb => format!("{purl} into the front and back"),
            Increase::MakePurl => begin("Make 1 purlwise", "make 1 purlwise").into(),
        },
        LinePiece::Rare(stitch, n) => {
            let slip = begin("Slip", "slip");
            match stitch {
                RareStitch::PurlThroughBackLoop => format!("{purl} {n} through the back loop"),
                RareStitch::SlipKnitwise => format!("{slip} {n} knitwise"),
                RareStitch::SlipYarnInBack => format!("{slip} {n} with the yarn in back"),
            }
        }
        LinePiece::TurnWrapped => begin("Wrap and turn", "wrap and turn").into(),
        LinePiece::KnitWrapped(n) => plain_wrapped(knit, *n),
        LinePiece::PurlWrapped(n) => plain_wrapped(purl, *n),
        LinePiece::AsWritten(from, to) => format!(
            "{} {from} as the pattern says, leaving {to}",
            begin("Work", "work")
        ),
        LinePiece::MotifRound(n) => format!("{} {n}:", begin("Pattern round", "pattern round")),
        LinePiece::WithYarn(yarn) => {
            format!("{} {}", begin("With yarn", "with yarn"), yarn.letter())
        }
        LinePiece::Graft(pass) => {
            let stitch = grafted_stitch(*pass, begin("Front", "front"), begin("Back", "back"));
            let way = if pass.knitwise { "knit" } else { "purl" };
            let then = if pass.off {
                "slip it off"
            } else {
                "leave it on"
            };
            format!("{stitch}: as if to {way}, {then}")
        }
        LinePiece::Chart(times) => {
            let chart = begin("The chart", "the chart");
            match times {
                1 => format!("{chart} once"),
                n => format!("{chart} {n} times"),
            }
        }
        LinePiece::ChartBegun(n) => {
            let first = begin("The first", "the first");
            match n {
                1 => format!("{first} stitch of the chart once more"),
                n => format!("{first} {n} stitches of the chart once more"),
            }
        }
        LinePiece::Repeat(inner, times) => {
            let spoken = wording.form == WordForm::Spoken;
            let inner = in_order(inner, wording, capital && !spoken).0;
            let inner = if spoken {
                format!("{} {inner}", begin("Repeat", "repeat"))
            } else {
                format!("*{inner}*")
            };
            match times {
                LineRepeat::Counted(n) => format!("{inner} {n} times"),
                LineRepeat::To(stop) => format!("{inner} to {}", plain_stop(*stop, wording)),
            }
        }
    }
}

/// Which stitch of a graft is met.
const fn grafted_stitch(pass: GraftPass, front: &'static str, back: &'static str) -> &'static str {
    match (pass.next, pass.needle) {
        (true, _) => "next",
        (false, GraftNeedle::Front) => front,
        (false, GraftNeedle::Back) => back,
    }
}

/// Which stitches go to the cable needle, where it is held, and what is worked then (common practice,
/// no source). `slip` begins it.
pub(super) fn plain_cross(slip: &str, cross: Cross) -> String {
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

/// The abbreviation of a decrease that a pattern may have.
pub(super) const fn short_decrease(decrease: Decrease) -> &'static str {
    match decrease {
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
}

/// The abbreviation of an increase that a pattern may have.
pub(super) const fn short_increase(increase: Increase) -> &'static str {
    match increase {
        Increase::Kfb => "kfb",
        Increase::Pfb => "pfb",
        Increase::MakePurl => "m1p",
    }
}

pub(super) fn short_cross(cross: Cross, hand: KnittingHand) -> String {
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
pub(super) fn cross_key(cross: Cross, hand: KnittingHand) -> String {
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
        Run::Before(n, stop) => format!(
            "{verb} to {n} {} before {}",
            if n == 1 { "stitch" } else { "stitches" },
            plain_stop(stop, wording)
        ),
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
        Stop::RoundMarker => "the start marker",
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

fn short(piece: &LinePiece, wording: Wording) -> String {
    match piece {
        LinePiece::KnitToEnd { of_needle, markers } => {
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
        LinePiece::Knit(run) => short_run("k", *run, wording),
        LinePiece::Purl(run) => short_run("p", *run, wording),
        LinePiece::KnitThroughBackLoop(n) => format!("k{n} tbl"),
        LinePiece::YarnOver => "yo".into(),
        LinePiece::FoldJoin(n) => format!("join hem over {n}"),
        LinePiece::Slip(n) => format!("sl{n}"),
        LinePiece::SlipYarnInFront(n) => format!("sl{n} wyif"),
        LinePiece::K2tog => "k2tog".into(),
        LinePiece::Ssk => "ssk".into(),
        LinePiece::P2tog => "p2tog".into(),
        LinePiece::PickUp(n) => format!("pick up and k{n}"),
        LinePiece::PickUpCorner => "pick up and k1 in the corner".into(),
        LinePiece::KnitCorner { double: true } => "k DS + corner".into(),
        LinePiece::KnitCorner { double: false } => "k1 + corner".into(),
        LinePiece::Turn => "turn".into(),
        LinePiece::TurnDouble => "turn, DS".into(),
        LinePiece::KnitDouble(n) => short_doubles("k", *n),
        LinePiece::PurlDouble(n) => short_doubles("p", *n),
        LinePiece::MakeLeft => short_make(wording.hand, Lean::Left).into(),
        LinePiece::MakeRight => short_make(wording.hand, Lean::Right).into(),
        LinePiece::CastOnWrapped(n) => format!("wrap {n} + {n}"),
        LinePiece::CastOnMagic(n) => format!("CO {n} + {n}"),
        LinePiece::CastOnTubular(n) => format!("CO {n} k and p alternately"),
        LinePiece::CastOnProvisional(n) => format!("ch {n} over needle with waste yarn"),
        LinePiece::SewDown(n) => format!("sew down {n}"),
        LinePiece::KnitToSnip(n) => format!("k{n} and pin the middle one"),
        LinePiece::BindOff(n) => format!("{} {n}", wording.english.bind_off_short()),
        LinePiece::Waste(n) => {
            format!("k{n} with waste yarn, slide back, k again with working yarn")
        }
        LinePiece::PlaceMarker => "pm".into(),
        LinePiece::SlipMarker => "sm".into(),
        LinePiece::CastOn(n) => format!("CO {n}"),
        LinePiece::Cross(cross) => short_cross(*cross, wording.hand),
        LinePiece::Decrease(decrease) => short_decrease(*decrease).into(),
        LinePiece::Increase(increase) => short_increase(*increase).into(),
        LinePiece::Rare(stitch, n) => match stitch {
            RareStitch::PurlThroughBackLoop => format!("p{n} tbl"),
            RareStitch::SlipKnitwise => format!("sl{n} kwise"),
            RareStitch::SlipYarnInBack => format!("sl{n} wyib"),
        },
        LinePiece::TurnWrapped => "w&t".into(),
        LinePiece::KnitWrapped(n) => format!("k{n} with wraps"),
        LinePiece::PurlWrapped(n) => format!("p{n} with wraps"),
        LinePiece::AsWritten(from, to) => format!("work {from} as in the pattern, to {to}"),
        LinePiece::MotifRound(n) => format!("rnd {n}:"),
        LinePiece::WithYarn(yarn) => format!("with {}", yarn.letter()),
        LinePiece::Graft(pass) => {
            let stitch = grafted_stitch(*pass, "front", "back");
            let way = if pass.knitwise { "kwise" } else { "pwise" };
            let then = if pass.off { "off" } else { "on" };
            format!("{stitch} {way} {then}")
        }
        LinePiece::Chart(1) => "chart once".into(),
        LinePiece::Chart(times) => format!("chart {times} times"),
        LinePiece::ChartBegun(1) => "first st of chart".into(),
        LinePiece::ChartBegun(n) => format!("first {n} sts of chart"),
        LinePiece::Repeat(inner, times) => {
            let inner = in_order(inner, wording, false).0;
            match times {
                LineRepeat::Counted(n) => format!("*{inner}* {n} times"),
                LineRepeat::To(stop) => format!("*{inner}* to {}", short_stop(*stop, wording)),
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
        Stop::RoundMarker => "start marker",
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
        let repeat = |times| {
            LinePiece::Repeat(
                vec![LinePiece::Slip(1), LinePiece::Knit(Run::Counted(1))],
                times,
            )
        };
        let spoken = Wording {
            form: WordForm::Spoken,
            ..Wording::default()
        };
        let row = [repeat(LineRepeat::To(Stop::RowEnd)), LinePiece::Turn];
        assert_eq!(
            line(&row, spoken).0,
            "Repeat slip 1, knit 1 to the end of the row, turn"
        );
        assert_eq!(
            line(&row, Wording::default()).0,
            "*Slip 1, knit 1* to the end of the row, turn"
        );
        let within = [
            LinePiece::Knit(Run::Counted(1)),
            repeat(LineRepeat::Counted(2)),
        ];
        assert_eq!(
            line(&within, spoken).0,
            "Knit 1, repeat slip 1, knit 1 2 times"
        );
    }
}
