//! Hard moves: which operation needs which explanation. The language says what they are called and how they are
//! done; the screen that shows them keeps its drawings under the same keys.

use crate::plan::Cue;
use crate::recipe::{CastOn, Method, Recipe};
use crate::stitch::Op;

/// A hard move.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Technique {
    /// Knit two together.
    K2tog,
    /// Slip, slip, knit.
    Ssk,
    /// Purl two together.
    P2tog,
    /// Pick up and knit.
    PickUp,
    /// Make one, leaning left.
    MakeLeft,
    /// Make one, leaning right.
    MakeRight,
    /// The double stitch of a German short row.
    Double,
    /// Working both legs of a double stitch as one.
    DoubleWorked,
    /// Grafting.
    Graft,
    /// The magic closed cast-on of a toe.
    ClosedCastOn,
    /// The wrapped closed cast-on of a toe.
    WrappedCastOn,
    /// A cast-on over a chain that is undone later.
    ProvisionalCastOn,
    /// An edge that knits knit and purl stitches by themselves.
    TubularEdge,
    /// The round that makes a sock whole again after its heel.
    Crossing,
    /// Slipping a stitch.
    Slip,
    /// Yarn over.
    YarnOver,
    /// Knitting through the back loop.
    Twisted,
    /// Drawing the last stitches closed.
    DrawnClosed,
    /// Closing the corner between heel and instep.
    Corner,
    /// Waste yarn that keeps the place of a heel.
    Waste,
    /// A strand that is snipped for a heel.
    SnippedRow,
    /// A cable.
    Cable,
    /// Knitting a stitch.
    Knit,
    /// Purling a stitch.
    Purl,
    /// The long-tail cast-on.
    LongTail,
    /// Closing the ring after casting on.
    Join,
    /// Half a round on one long circular needle.
    MagicLoop,
}

impl Technique {
    /// All of them.
    pub const ALL: [Self; 27] = [
        Self::K2tog,
        Self::Ssk,
        Self::P2tog,
        Self::PickUp,
        Self::MakeLeft,
        Self::MakeRight,
        Self::Double,
        Self::DoubleWorked,
        Self::Graft,
        Self::ClosedCastOn,
        Self::WrappedCastOn,
        Self::ProvisionalCastOn,
        Self::TubularEdge,
        Self::Crossing,
        Self::Slip,
        Self::YarnOver,
        Self::Twisted,
        Self::DrawnClosed,
        Self::Corner,
        Self::Waste,
        Self::SnippedRow,
        Self::Cable,
        Self::Knit,
        Self::Purl,
        Self::LongTail,
        Self::Join,
        Self::MagicLoop,
    ];

    /// The key of its drawing.
    pub const fn key(self) -> &'static str {
        match self {
            Self::K2tog => "k2tog",
            Self::Ssk => "ssk",
            Self::P2tog => "p2tog",
            Self::PickUp => "pick-up",
            Self::MakeLeft => "m1-left",
            Self::MakeRight => "m1-right",
            Self::Double => "double",
            Self::DoubleWorked => "double-worked",
            Self::Graft => "graft",
            Self::ClosedCastOn => "closed-cast-on",
            Self::WrappedCastOn => "wrapped-cast-on",
            Self::ProvisionalCastOn => "provisional-cast-on",
            Self::TubularEdge => "tubular-edge",
            Self::Crossing => "crossing",
            Self::Slip => "slip",
            Self::YarnOver => "yarn-over",
            Self::Twisted => "twisted",
            Self::DrawnClosed => "drawn-closed",
            Self::Corner => "corner",
            Self::Waste => "waste",
            Self::SnippedRow => "snipped-row",
            Self::Cable => "cable",
            Self::Knit => "knit",
            Self::Purl => "purl",
            Self::LongTail => "long-tail",
            Self::Join => "join",
            Self::MagicLoop => "magic-loop",
        }
    }
}

/// What is hard in some operations, each once, in the order met.
pub(super) fn hard(ops: &[Op], cue: Cue) -> Vec<Technique> {
    let mut found = Vec::new();
    if matches!(
        cue,
        Cue::CrossFirstHalf
            | Cue::CrossBegin
            | Cue::CrossSecondHalf
            | Cue::CrossHeel
            | Cue::CrossInstepFirst
            | Cue::CrossInstepSecond
            | Cue::CrossClose
            | Cue::CrossSole
    ) {
        found.push(Technique::Crossing);
    }
    if matches!(cue, Cue::Tubular | Cue::BindOffBegin) {
        found.push(Technique::TubularEdge);
    }
    gather(ops, &mut found);
    found
}

/// What a beginner needs with the first stitches of a sock: its cast-on, and where the ring is closed all that comes
/// round by round from then on.
pub(super) fn first_steps(recipe: &Recipe, ops: &[Op]) -> Vec<Technique> {
    let magic_loop = matches!(recipe.needles, Method::MagicLoop { .. });
    let round_by_round = magic_loop
        .then_some(Technique::MagicLoop)
        .into_iter()
        .chain([Technique::Knit, Technique::Purl]);
    let mut found = Vec::new();
    for op in ops {
        match op {
            Op::CastOn(_) | Op::CastOnUneven(..) if recipe.cast_on == CastOn::LongTail => {
                found.push(Technique::LongTail);
            }
            Op::Join => {
                found.push(Technique::Join);
                found.extend(round_by_round.clone());
            }
            Op::CastOnMagic(_) | Op::CastOnWrapped(_) => found.extend(round_by_round.clone()),
            _ => {}
        }
    }
    found
}

fn gather(ops: &[Op], found: &mut Vec<Technique>) {
    for op in ops {
        let hard = match op {
            Op::K2tog => Technique::K2tog,
            Op::Ssk => Technique::Ssk,
            Op::P2tog => Technique::P2tog,
            Op::PickUp(_) | Op::PickUpAlong(_) | Op::PickUpCorner => Technique::PickUp,
            Op::KnitCorner => Technique::Corner,
            Op::MakeLeft => Technique::MakeLeft,
            Op::MakeRight => Technique::MakeRight,
            Op::TurnDouble => Technique::Double,
            Op::KnitDouble(_) | Op::PurlDouble(_) => Technique::DoubleWorked,
            Op::GraftStart | Op::Graft(_) | Op::GraftEnd => Technique::Graft,
            Op::CastOnMagic(_) => Technique::ClosedCastOn,
            Op::CastOnWrapped(_) => Technique::WrappedCastOn,
            Op::CastOnProvisional(_) | Op::OpenProvisional(_) => Technique::ProvisionalCastOn,
            Op::CastOnTubular(..) => Technique::TubularEdge,
            Op::KnitToSnip(_) | Op::SnipRow(_) => Technique::SnippedRow,
            Op::Slip(_) | Op::SlipYarnInFront(_) => Technique::Slip,
            Op::YarnOver => Technique::YarnOver,
            Op::KnitThroughBackLoop(_) => Technique::Twisted,
            Op::DrawClosed(_) => Technique::DrawnClosed,
            Op::Waste(_) | Op::OpenWaste(_) => Technique::Waste,
            Op::Cross(_) => Technique::Cable,
            Op::Repeat(inner, _) => {
                gather(inner, found);
                continue;
            }
            _ => continue,
        };
        if !found.contains(&hard) {
            found.push(hard);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::{English, KnittingHand};
    use crate::written_ops::read_ops;

    #[test]
    fn a_round_names_what_is_hard_in_it_once() {
        let ops = read_ops("k10 k2tog k1 k2tog m>L [s1 k1]4 ssk").expect("operations");
        assert_eq!(
            hard(&ops, Cue::Shape),
            [Technique::K2tog, Technique::Slip, Technique::Ssk]
        );
        let plain = read_ops("k14 p2 / k3").expect("operations");
        assert_eq!(hard(&plain, Cue::Plain), []);
        assert_eq!(hard(&[], Cue::CrossBegin), [Technique::Crossing]);
    }

    #[test]
    fn every_explanation_is_two_to_four_sentences_with_a_key_of_its_own() {
        let mut keys: Vec<&str> = Technique::ALL.iter().map(|t| t.key()).collect();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), Technique::ALL.len());
        for technique in Technique::ALL {
            let sentences = technique
                .text(English::AsWritten, KnittingHand::Right)
                .matches(['.'])
                .count();
            assert!((2..=4).contains(&sentences), "{technique:?}: {sentences}");
        }
    }
}
