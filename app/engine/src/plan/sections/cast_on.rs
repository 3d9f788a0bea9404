//! Casting on, dividing, joining.

use crate::knit::Refusal;
use crate::plan::division::leg_sizes;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step};
use crate::recipe::ToeCastOn;
use crate::stitch::{Count, Marker, Op, run};

/// The edge of the cuff: cast on, divided, joined.
pub(in crate::plan) fn at_the_cuff(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let (back, front) = (m.numbers.top_back(), m.numbers.heel);
    let mut cast = Vec::new();
    match (Count::new(back), Count::new(front)) {
        (Some(back), Some(front)) if m.recipe.tubular_rib().is_some() => {
            cast.push(Op::CastOnTubular(back, front));
        }
        (Some(back), Some(front)) if back != front => cast.push(Op::CastOnUneven(back, front)),
        _ => run(&mut cast, Op::CastOn, back + front),
    }
    let sizes = leg_sizes(m.recipe, m.numbers.cuff_panel(m.recipe), back, front);
    let divide = if sizes.is_empty() {
        // The marker at the beginning of the round lies where the instep will end.
        vec![Op::Place(Marker::Right)]
    } else {
        // The tip is at the end of the edge: places are counted round from its first stitch.
        let mut ops = Vec::with_capacity(sizes.len());
        let mut sum = 0;
        for n in &sizes[..sizes.len() - 1] {
            sum += n;
            ops.push(Op::LoopOut(sum));
        }
        ops.push(Op::LoopOut(0));
        ops
    };
    m.step(Step::walk(vec![
        (Cue::CastOn, cast),
        (Cue::Divide, divide),
        (Cue::Join, vec![Op::Join]),
    ]))
}

/// The tip of the toe: loops on two needles, closed from the start, or over a chain that is undone
/// later. Each round of both needles is a pair, so that nothing is shaped yet.
pub(in crate::plan) fn at_the_toe(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let mut cast = Vec::with_capacity(1);
    let loops = match m.recipe.toe_cast_on {
        ToeCastOn::Magic => Op::CastOnMagic,
        ToeCastOn::Wrapped => Op::CastOnWrapped,
        ToeCastOn::Provisional => Op::CastOnProvisional,
    };
    run(&mut cast, loops, m.numbers.toe_left / 2);
    if m.recipe.toe_cast_on == ToeCastOn::Provisional {
        return m.step(Step::walk(vec![
            (Cue::ChainBegin, Vec::new()),
            (Cue::Chain, cast),
            (Cue::ChainEnd, Vec::new()),
        ]));
    }
    m.step(Step::walk(vec![
        // holding the needles; the tail and the first loop
        (Cue::CastOnClosedBegin, Vec::new()),
        (Cue::CastOnClosedBegin, Vec::new()),
        (Cue::CastOnClosed, cast),
        (Cue::CastOnClosedTurn, Vec::new()),
        (Cue::CastOnClosedPart, Vec::new()),
    ]))
}
