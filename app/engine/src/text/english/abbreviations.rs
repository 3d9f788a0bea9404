//! Abbreviations, and what they stand for in a key.

use super::line::{plain_cross, short_cross, short_decrease, short_increase};
use crate::stitch::{Decrease, Increase, Lean, RareStitch};
use crate::text::messages::{Abbreviation, LinePiece, LineRepeat, Run, Stop};
use crate::text::variety::English;
use crate::text::wording::{WordForm, Wording};

impl Abbreviation {
    /// As it stands in the words.
    pub fn short(self, wording: Wording) -> String {
        match self {
            Self::Knit => "k",
            Self::Purl => "p",
            Self::Slip => "sl",
            Self::Knitwise => "kwise",
            Self::Purlwise => "pwise",
            Self::ThroughBackLoop => "tbl",
            Self::YarnInFront => "wyif",
            Self::YarnInBack => "wyib",
            Self::YarnOver => "yo",
            Self::K2tog => "k2tog",
            Self::Ssk => "ssk",
            Self::P2tog => "p2tog",
            Self::Decrease(decrease) => short_decrease(decrease),
            Self::Increase(increase) => short_increase(increase),
            Self::Make(Lean::Left) => "m1l",
            Self::Make(Lean::Right) => "m1r",
            Self::Cross(cross) => return short_cross(cross, wording.hand),
            Self::Double => "DS",
            Self::WrapAndTurn => "w&t",
            Self::Marker => "m",
            Self::PlaceMarker => "pm",
            Self::SlipMarker => "sm",
            Self::CastOn => "CO",
            Self::BindOff => wording.english.bind_off_short(),
            Self::Chain => "ch",
            Self::Stitch => "st",
            Self::Stitches => "sts",
            Self::Round => "rnd",
            Self::Repeat => "* … *",
        }
        .into()
    }

    /// What it stands for, in plain words. Common practice, no source.
    pub fn meaning(self, wording: Wording) -> String {
        let slipped = "slipped as if to knit, one by one";
        match self {
            Self::Knit => "knit".into(),
            Self::Purl => "purl".into(),
            Self::Slip => "slip, as if to purl where it does not say otherwise".into(),
            Self::Knitwise => "as if to knit".into(),
            Self::Purlwise => "as if to purl".into(),
            Self::ThroughBackLoop => "through the back loop".into(),
            Self::YarnInFront => "with the yarn in front".into(),
            Self::YarnInBack => "with the yarn in back".into(),
            Self::YarnOver => "yarn over".into(),
            Self::K2tog => "knit 2 together".into(),
            Self::Ssk => {
                format!("2 stitches {slipped}, then knitted together through their back loops")
            }
            Self::P2tog => "purl 2 together".into(),
            Self::Decrease(decrease) => match decrease {
                Decrease::K3tog => "knit 3 together".into(),
                Decrease::P3tog => "purl 3 together".into(),
                Decrease::K2togThroughBackLoops => "knit 2 together through the back loops".into(),
                Decrease::P2togThroughBackLoops => "purl 2 together through the back loops".into(),
                Decrease::Skp => {
                    "slip 1 as if to knit, knit 1, pass the slipped stitch over it".into()
                }
                Decrease::Ssp => format!(
                    "2 stitches {slipped}, put back and purled together through their back loops"
                ),
                Decrease::Sssk => {
                    format!("3 stitches {slipped}, then knitted together through their back loops")
                }
                Decrease::Sk2p => {
                    "slip 1 as if to knit, knit 2 together, pass the slipped stitch over it".into()
                }
                Decrease::S2kp => {
                    "slip 2 together as if to knit, knit 1, pass both slipped stitches over it"
                        .into()
                }
            },
            Self::Increase(increase) => match increase {
                Increase::Kfb => "knit into the front and the back of one stitch".into(),
                Increase::Pfb => "purl into the front and the back of one stitch".into(),
                Increase::MakePurl => {
                    "make 1 by purling the strand between two stitches, twisted".into()
                }
            },
            Self::Make(lean) => {
                let side = match lean {
                    Lean::Left => "left",
                    Lean::Right => "right",
                };
                format!(
                    "make 1 {side}: knit the strand between two stitches, twisted so that it leans to the {side}"
                )
            }
            Self::Cross(cross) => plain_cross("slip", cross),
            Self::Double => "double stitch: both its legs are worked as one".into(),
            Self::WrapAndTurn => "wrap the next stitch and turn".into(),
            Self::Marker => "marker".into(),
            Self::PlaceMarker => "place a marker".into(),
            Self::SlipMarker => "slip the marker".into(),
            Self::CastOn => "cast on".into(),
            Self::BindOff => wording.english.bind_off().into(),
            Self::Chain => "chain, with the crochet hook".into(),
            Self::Stitch => "stitch".into(),
            Self::Stitches => "stitches".into(),
            Self::Round => "round".into(),
            Self::Repeat => "what stands between the stars, again and again".into(),
        }
    }
}

/// Adds the abbreviations with which these pieces are said: those of [`mod@super::line`].
pub(crate) fn abbreviated(pieces: &[LinePiece], wording: Wording, out: &mut Vec<Abbreviation>) {
    for piece in pieces {
        match wording.form {
            WordForm::Plain | WordForm::Spoken => in_plain(piece, wording, out),
            WordForm::Short => in_short(piece, wording, out),
        }
    }
}

fn in_plain(piece: &LinePiece, wording: Wording, out: &mut Vec<Abbreviation>) {
    match piece {
        LinePiece::Decrease(
            decrease @ (Decrease::Skp
            | Decrease::Ssp
            | Decrease::Sssk
            | Decrease::Sk2p
            | Decrease::S2kp),
        ) => out.push(Abbreviation::Decrease(*decrease)),
        LinePiece::Repeat(inner, _) => {
            if wording.form != WordForm::Spoken {
                out.push(Abbreviation::Repeat);
            }
            abbreviated(inner, wording, out);
        }
        _ => {}
    }
}

fn in_short(piece: &LinePiece, wording: Wording, out: &mut Vec<Abbreviation>) {
    use Abbreviation as A;
    match piece {
        LinePiece::KnitToEnd { .. } => out.extend([A::Knit, A::Marker]),
        LinePiece::Knit(run) => in_run(A::Knit, *run, out),
        LinePiece::Purl(run) => in_run(A::Purl, *run, out),
        LinePiece::KnitThroughBackLoop(_) => out.extend([A::Knit, A::ThroughBackLoop]),
        LinePiece::YarnOver => out.push(A::YarnOver),
        LinePiece::Slip(_) => out.push(A::Slip),
        LinePiece::SlipYarnInFront(_) => out.extend([A::Slip, A::YarnInFront]),
        LinePiece::K2tog => out.push(A::K2tog),
        LinePiece::Ssk => out.push(A::Ssk),
        LinePiece::P2tog => out.push(A::P2tog),
        LinePiece::PickUp(_)
        | LinePiece::PickUpCorner
        | LinePiece::KnitCorner { double: false }
        | LinePiece::KnitToSnip(_)
        | LinePiece::KnitWrapped(_)
        | LinePiece::Waste(_) => out.push(A::Knit),
        LinePiece::KnitCorner { double: true } | LinePiece::KnitDouble(_) => {
            out.extend([A::Knit, A::Double]);
        }
        LinePiece::PurlDouble(_) => out.extend([A::Purl, A::Double]),
        LinePiece::PurlWrapped(_) => out.push(A::Purl),
        LinePiece::TurnDouble => out.push(A::Double),
        LinePiece::MakeLeft => out.push(A::Make(wording.hand.lean(Lean::Left))),
        LinePiece::MakeRight => out.push(A::Make(wording.hand.lean(Lean::Right))),
        LinePiece::CastOn(_) | LinePiece::CastOnMagic(_) => out.push(A::CastOn),
        LinePiece::CastOnTubular(_) => out.extend([A::CastOn, A::Knit, A::Purl]),
        LinePiece::CastOnProvisional(_) => out.push(A::Chain),
        LinePiece::BindOff(_) => {
            // British words write it out.
            if wording.english != English::British {
                out.push(A::BindOff);
            }
        }
        LinePiece::PlaceMarker => out.push(A::PlaceMarker),
        LinePiece::SlipMarker => out.push(A::SlipMarker),
        LinePiece::Cross(cross) => out.push(A::Cross(*cross)),
        LinePiece::Decrease(decrease) => out.push(A::Decrease(*decrease)),
        LinePiece::Increase(increase) => out.push(A::Increase(*increase)),
        LinePiece::Rare(stitch, _) => out.extend(match stitch {
            RareStitch::PurlThroughBackLoop => [A::Purl, A::ThroughBackLoop],
            RareStitch::SlipKnitwise => [A::Slip, A::Knitwise],
            RareStitch::SlipYarnInBack => [A::Slip, A::YarnInBack],
        }),
        LinePiece::TurnWrapped => out.push(A::WrapAndTurn),
        LinePiece::Graft(pass) => out.push(if pass.knitwise {
            A::Knitwise
        } else {
            A::Purlwise
        }),
        LinePiece::MotifRound(_) => out.push(A::Round),
        LinePiece::ChartBegun(1) => out.push(A::Stitch),
        LinePiece::ChartBegun(_) => out.push(A::Stitches),
        LinePiece::Repeat(inner, times) => {
            out.push(A::Repeat);
            abbreviated(inner, wording, out);
            if let LineRepeat::To(stop) = times {
                at_stop(*stop, out);
            }
        }
        LinePiece::FoldJoin(_)
        | LinePiece::Turn
        | LinePiece::CastOnWrapped(_)
        | LinePiece::SewDown(_)
        | LinePiece::AsWritten(..)
        | LinePiece::WithYarn(_)
        | LinePiece::Chart(_) => {}
    }
}

fn in_run(verb: Abbreviation, run: Run, out: &mut Vec<Abbreviation>) {
    out.push(verb);
    if let Run::To(stop) | Run::Before(_, stop) = run {
        at_stop(stop, out);
    }
}

fn at_stop(stop: Stop, out: &mut Vec<Abbreviation>) {
    match stop {
        Stop::Marker => out.push(Abbreviation::Marker),
        Stop::Double => out.push(Abbreviation::Double),
        Stop::Wrapped => out.push(Abbreviation::Stitch),
        Stop::RoundMarker | Stop::NeedleEnd | Stop::RowEnd | Stop::Gap | Stop::MiddleOfBack => {}
    }
}
