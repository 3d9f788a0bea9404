//! The back of the leg: straight, or further out where the leg follows the calf. How wide the leg is at
//! a height, the simulator's counts say.

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::trace::{StepTrace, Trace};

use super::measures::Measures;
use super::points::{Point, number, point};

/// The back from the upper edge down to the heel; left of 0 where the leg is wider than the foot.
pub(super) fn of(m: &Measures, plan: &Plan, trace: &Trace) -> Vec<Point> {
    let stitch = m.wide / f32::from(plan.outcome.stitches.max(1));
    let left = |step: &StepTrace| {
        let more = step
            .after()
            .stitches()
            .saturating_sub(plan.outcome.stitches);
        -stitch * f32::from(more)
    };
    let steps = |kind| trace.steps.iter().filter(move |step| step.kind == kind);
    let edge = steps(SectionKind::Cuff).next().map_or(0.0, left);
    let mut leg: Vec<f32> = steps(SectionKind::Leg).map(left).collect();
    if m.toe_up {
        leg.reverse();
    }
    let mut back = vec![point(edge, 0.0), point(edge, m.cuff)];
    let down = |rounds: f32| m.cuff + rounds / number(leg.len()) * (m.leg - m.cuff);
    back.extend(
        slopes(&leg)
            .into_iter()
            .map(|(rounds, left)| point(left, down(rounds))),
    );
    back.push(point(0.0, m.leg));
    back
}

/// Where the line of these rounds bends, in rounds from the first. Shaping is no stair: what is equally
/// wide on the way from one width to another lies in the middle of a slope, and only a stretch with no
/// such neighbour on one side, or between two wider or two narrower ones, stays upright.
fn slopes(leg: &[f32]) -> Vec<(f32, f32)> {
    let alike: Vec<&[f32]> = leg.chunk_by(|a, b| (a - b).abs() < f32::EPSILON).collect();
    let mut bends = Vec::with_capacity(alike.len() + 2);
    let mut from = 0;
    for (nth, stretch) in alike.iter().enumerate() {
        let to = from + stretch.len();
        let beside = |other: Option<usize>| Some(alike.get(other?)?[0] < stretch[0]);
        let (above, below) = (beside(nth.checked_sub(1)), beside(nth.checked_add(1)));
        if above.is_some() && below.is_some() && above != below {
            bends.push((number(from + to) / 2.0, stretch[0]));
        } else {
            bends.extend([from, to].map(|rounds| (number(rounds), stretch[0])));
        }
        from = to;
    }
    bends
}
