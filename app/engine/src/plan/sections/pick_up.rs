//! Picking up along the flap, and the rearrangement that goes with it: where the round begins from
//! here on, and which stitches sit on which needle.

use super::heel_turn;
use crate::knit::Refusal;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::plan::numbers::FlapNumbers;
use crate::recipe::{Method, Seating};
use crate::stitch::{Count, Marker, Op, run};

/// How many rounds high the pick-up is: where the round begins at a side, the heel and the instep
/// are knitted across before and after the second edge.
pub(in crate::plan) const fn rounds(method: Method) -> u16 {
    match method.seating() {
        Some(Seating::InstepAndSole) => 2,
        Some(Seating::EvenHalves) | None => 1,
    }
}

/// An operation over so many stitches.
pub(in crate::plan) type CountedOp = fn(Count) -> Op;

/// Counts that the walk needs; half a turned heel is rounded up on the side that is left first.
pub(in crate::plan) struct Counts {
    /// The half that is left first.
    pub first: u16,
    /// The other half.
    pub second: u16,
    /// Along the left edge and along the right one, corners not counted.
    pub along_edge: (u16, u16),
    /// How they are picked up there: from the chains, or along an edge that has another number of them.
    pub from: (CountedOp, CountedOp),
    /// Whether a corner is picked up on each side.
    pub corners: bool,
    /// Stitches of the instep.
    pub instep: u16,
    /// Stitches of the instep before a needle's end in it.
    pub half: u16,
}

pub(in crate::plan) fn write(m: &mut Maker<'_>, numbers: FlapNumbers) -> Result<(), Refusal> {
    let turned = heel_turn::turned(m.numbers.heel, numbers.turn, m.recipe.fit.narrow_heel);
    let c = Counts {
        first: turned.div_ceil(2),
        second: turned / 2,
        along_edge: (numbers.rows / 2, numbers.rows / 2),
        from: (Op::PickUp, Op::PickUp),
        corners: numbers.corners,
        instep: m.numbers.around - m.numbers.heel,
        half: m.numbers.half_top(),
    };
    cross(m, &c, &[], true)
}

/// The pick-up with these counts, on the needles of the recipe; `first` is done before anything else and
/// works no stitch. Where the round begins at a side, `to_the_side` works on to there.
pub(in crate::plan) fn cross(
    m: &mut Maker<'_>,
    c: &Counts,
    first: &[Op],
    to_the_side: bool,
) -> Result<(), Refusal> {
    let begun = |mut step: Step| {
        if let Some(mv) = step.moves.first_mut() {
            mv.ops.splice(0..0, first.iter().cloned());
        }
        step
    };
    match m.recipe.needles {
        Method::MagicLoop {
            seating: Seating::InstepAndSole,
        }
        | Method::TwoCirculars {
            seating: Seating::InstepAndSole,
        } => {
            let there = begun(to_the_instep(c));
            m.step(there)?;
            if to_the_side {
                m.step(back_to_the_side(c))
            } else {
                m.step(Step::walk(vec![(Cue::PickUpRight, right_edge(c))]))
            }
        }
        Method::MagicLoop {
            seating: Seating::EvenHalves,
        }
        | Method::TwoCirculars {
            seating: Seating::EvenHalves,
        } => m.step(begun(cross_even_halves(c))),
        Method::FourDpns => m.step(begun(cross_dpns(c, &[c.instep]))),
        Method::FiveDpns => m.step(begun(cross_dpns(c, &[c.half, c.instep - c.half]))),
        Method::ShortCircular { .. } => m.step(begun(cross_short_circular(c))),
    }
}

fn left_edge(c: &Counts) -> Vec<Op> {
    let mut ops = Vec::with_capacity(4);
    run(&mut ops, c.from.0, c.along_edge.0);
    if c.corners {
        ops.push(Op::PickUpCorner);
    }
    ops
}

fn right_edge(c: &Counts) -> Vec<Op> {
    let mut ops = Vec::with_capacity(4);
    if c.corners {
        ops.push(Op::PickUpCorner);
    }
    run(&mut ops, c.from.1, c.along_edge.1);
    ops
}

fn knit(n: u16) -> Vec<Op> {
    let mut ops = Vec::with_capacity(3);
    run(&mut ops, Op::Knit, n);
    ops
}

/// Picked-up stitches, knitted for the first time: through the back loop, which closes them.
fn closed(n: u16) -> Vec<Op> {
    let mut ops = Vec::with_capacity(2);
    run(&mut ops, Op::KnitThroughBackLoop, n);
    ops
}

fn and(mut ops: Vec<Op>, more: impl IntoIterator<Item = Op>) -> Vec<Op> {
    ops.extend(more);
    ops
}

/// Both halves get half the heel, a gusset and half the instep; the round begins mid-heel.
fn cross_even_halves(c: &Counts) -> Step {
    Step::walk(vec![
        (Cue::CrossFirstHalf, knit(c.first)),
        (
            Cue::CrossBegin,
            vec![Op::LoopOut(0), Op::Next, Op::BeginHere],
        ),
        (Cue::CrossSecondHalf, knit(c.second)),
        (
            Cue::PickUpLeft,
            and(left_edge(c), [Op::Place(Marker::Left)]),
        ),
        (
            Cue::CrossInstepFirst,
            and(
                and(vec![Op::LoopIn(0)], knit(c.half)),
                [Op::LoopOut(0), Op::Next],
            ),
        ),
        (
            Cue::CrossInstepSecond,
            and(
                knit(c.instep - c.half),
                [Op::LoopIn(0), Op::Place(Marker::Right)],
            ),
        ),
        (Cue::PickUpRight, right_edge(c)),
        (Cue::CrossClose, and(knit(c.first), [Op::Next])),
    ])
}

/// The sole is split on two needles; the instep sits on one of three or two of four. There is always
/// one needle free to work with.
fn cross_dpns(c: &Counts, instep: &[u16]) -> Step {
    let mut moves = vec![
        (Cue::CrossFirstHalf, knit(c.first)),
        (
            Cue::CrossBegin,
            vec![Op::LoopOut(0), Op::Next, Op::BeginHere],
        ),
        (Cue::CrossSecondHalf, knit(c.second)),
        (Cue::PickUpLeft, and(left_edge(c), [Op::Next])),
    ];
    for (cue, n) in [Cue::CrossInstepFirst, Cue::CrossInstepSecond]
        .into_iter()
        .zip(instep)
    {
        moves.push((cue, and(knit(*n), [Op::Next])));
    }
    moves.push((Cue::PickUpRight, right_edge(c)));
    moves.push((Cue::CrossClose, and(knit(c.first), [Op::Next])));
    Step::walk(moves)
}

/// Markers alone say where things are; the marker of the leg's round becomes the instep's end.
fn cross_short_circular(c: &Counts) -> Step {
    Step::walk(vec![
        (Cue::CrossFirstHalf, knit(c.first)),
        (
            Cue::CrossBegin,
            vec![Op::Place(Marker::Round), Op::BeginHere],
        ),
        (Cue::CrossSecondHalf, knit(c.second)),
        (
            Cue::PickUpLeft,
            and(left_edge(c), [Op::Place(Marker::Left)]),
        ),
        (
            Cue::CrossInstepFirst,
            and(knit(c.instep), [Op::SlipMarker(Marker::Right)]),
        ),
        (Cue::PickUpRight, right_edge(c)),
        (
            Cue::CrossClose,
            and(knit(c.first), [Op::SlipMarker(Marker::Round)]),
        ),
    ])
}

/// Heel and left edge on the first needle, then the instep on the second.
fn to_the_instep(c: &Counts) -> Step {
    Step::walk(vec![
        (Cue::CrossHeel, knit(c.first + c.second)),
        (Cue::PickUpLeft, and(left_edge(c), [Op::Next])),
        (Cue::CrossInstepFirst, and(knit(c.instep), [Op::Next])),
    ])
}

/// The right edge, then the first whole round: the round begins at the right gusset.
fn back_to_the_side(c: &Counts) -> Step {
    let corner = u16::from(c.corners);
    let left_gusset = c.along_edge.0 + corner;
    Step::walk(vec![
        (Cue::PickUpRight, right_edge(c)),
        (
            Cue::CrossSole,
            and(
                and(knit(c.first + c.second), closed(left_gusset)),
                [Op::Next],
            ),
        ),
        (Cue::CrossInstepFirst, and(knit(c.instep), [Op::Next])),
    ])
}
