//! Hard moves: which operation needs which explanation. The language has their names and says
//! how they are done; the app draws them.

use crate::plan::Cue;
use crate::recipe::{BindOff, CastOn, Method, Recipe};
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
    /// The two rounds of an edge that knit its knit and its purl stitches by themselves.
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
    /// The long-tail cast-on with a twist in each loop.
    TwistedLongTail,
    /// Each loop of a cast-on knitted out of the one before.
    KnittedOn,
    /// A cast-on of slip knots.
    SlipKnot,
    /// Knit and purl loops cast on by turns.
    TubularCastOn,
    /// Binding off: each stitch lifted over the next.
    PlainBindOff,
    /// A sewn bind-off.
    SewnBindOff,
    /// The knit and the purl stitches of an edge grafted to each other.
    TubularBindOff,
    /// A bind-off of two stitches worked together through the back loop, over and over.
    TogetherBindOff,
    /// A bind-off with a yarn over before each stitch.
    YarnOverBindOff,
    /// A hem's stitches knitted together with the loops of its cast-on edge.
    JoinedHem,
    /// A hem's last stitches sewn down inside.
    SewnHem,
}

impl Technique {
    /// All of them.
    pub const ALL: [Self; 38] = [
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
        Self::TwistedLongTail,
        Self::KnittedOn,
        Self::SlipKnot,
        Self::TubularCastOn,
        Self::PlainBindOff,
        Self::SewnBindOff,
        Self::TubularBindOff,
        Self::TogetherBindOff,
        Self::YarnOverBindOff,
        Self::JoinedHem,
        Self::SewnHem,
    ];
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
    if cue == Cue::Tubular {
        found.push(Technique::TubularEdge);
    }
    if cue == Cue::BindOffBegin {
        found.push(Technique::TubularBindOff);
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
            Op::CastOn(_) | Op::CastOnUneven(..) => found.push(cast_on(recipe.cast_on)),
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

const fn cast_on(how: CastOn) -> Technique {
    match how {
        CastOn::LongTail => Technique::LongTail,
        CastOn::TwistedLongTail => Technique::TwistedLongTail,
        CastOn::KnittedOn => Technique::KnittedOn,
        CastOn::SlipKnot => Technique::SlipKnot,
        CastOn::Tubular => Technique::TubularCastOn,
    }
}

/// How the last edge is bound off, where it is.
pub(super) fn last_steps(recipe: &Recipe, ops: &[Op]) -> Option<Technique> {
    let binds_off = ops.iter().any(|op| matches!(op, Op::BindOff(_)));
    binds_off.then_some(match recipe.bind_off {
        BindOff::Plain => Technique::PlainBindOff,
        BindOff::Sewn => Technique::SewnBindOff,
        BindOff::Tubular => Technique::TubularBindOff,
        BindOff::WorkedTogether => Technique::TogetherBindOff,
        BindOff::YarnOver => Technique::YarnOverBindOff,
    })
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
            Op::CastOnTubular(..) => Technique::TubularCastOn,
            Op::KnitToSnip(_) | Op::SnipRow(_) => Technique::SnippedRow,
            Op::Slip(_) | Op::SlipYarnInFront(_) => Technique::Slip,
            Op::YarnOver => Technique::YarnOver,
            Op::KnitThroughBackLoop(_) => Technique::Twisted,
            Op::DrawClosed(_) => Technique::DrawnClosed,
            Op::Waste(_) | Op::OpenWaste(_) => Technique::Waste,
            Op::Cross(_) => Technique::Cable,
            Op::FoldJoin(_) => Technique::JoinedHem,
            Op::SewDown(_) => Technique::SewnHem,
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
    fn every_way_to_cast_on_and_to_bind_off_is_explained_by_its_own_name() {
        let ops = read_ops("co64").expect("operations");
        let mut told = Vec::new();
        for how in CastOn::ALL {
            let recipe = Recipe {
                cast_on: how,
                ..Recipe::default()
            };
            told.extend(first_steps(&recipe, &ops));
        }
        let ops = read_ops("m-L bo64").expect("operations");
        for how in BindOff::ALL {
            let recipe = Recipe {
                bind_off: how,
                ..Recipe::default()
            };
            told.extend(last_steps(&recipe, &ops));
        }
        assert_eq!(told.len(), CastOn::ALL.len() + BindOff::ALL.len());
        let names: std::collections::BTreeSet<&str> = told
            .iter()
            .map(|one| one.name(English::AsWritten, KnittingHand::Right))
            .collect();
        assert_eq!(names.len(), told.len());
        assert_eq!(last_steps(&Recipe::default(), &[]), None);
    }

    #[test]
    fn every_explanation_is_two_to_four_sentences() {
        for technique in Technique::ALL {
            let sentences = technique
                .text(English::AsWritten, KnittingHand::Right)
                .matches(['.'])
                .count();
            assert!((2..=4).contains(&sentences), "{technique:?}: {sentences}");
        }
    }
}
