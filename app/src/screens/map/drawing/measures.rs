//! The lengths the drawing is made of, and where on it a section lies: what is knitted up to a share of
//! it, and the area between two.

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::recipe::Direction;

use super::points::{Point, mm, point};

/// Sine and cosine of the foot's angle.
pub(super) const SLANT: f32 = std::f32::consts::FRAC_1_SQRT_2;

/// The lengths the drawing is made of. Without a flap the heel is a wedge between leg and foot.
#[derive(Debug, Clone, Copy)]
pub(super) struct Measures {
    pub(super) wide: f32,
    /// How far the leg reaches out behind the heel's line, at most.
    pub(super) out: f32,
    pub(super) cuff: f32,
    pub(super) leg: f32,
    pub(super) flap: f32,
    pub(super) turn: f32,
    pub(super) gusset: f32,
    pub(super) foot: f32,
    pub(super) toe: f32,
    /// Whether knitting began at the toe.
    pub(super) toe_up: bool,
}

impl Measures {
    pub(super) fn of(plan: &Plan) -> Self {
        let outcome = &plan.outcome;
        let length = |kind| {
            outcome
                .sections
                .iter()
                .find(|s| s.kind == kind)
                .map_or(0.0, |s| mm(s.length))
        };
        Self {
            wide: mm(outcome.circumference) / 2.0,
            out: 0.0,
            cuff: length(SectionKind::Cuff),
            leg: mm(outcome.leg_length),
            flap: length(SectionKind::HeelFlap),
            turn: length(SectionKind::HeelTurn),
            gusset: length(SectionKind::Gusset),
            foot: length(SectionKind::Foot),
            toe: length(SectionKind::Toe),
            toe_up: plan.recipe.direction == Direction::ToeUp,
        }
    }

    /// A place on the foot: so far along it from the ankle, and so much of its width from the
    /// instep's edge to the sole's.
    pub(super) fn on_foot(&self, far: f32, across: f32) -> Point {
        let down = across * self.wide;
        point(
            self.wide + (far - down) * SLANT,
            self.leg + (far + down) * SLANT,
        )
    }

    /// From the ankle to the tip.
    pub(super) fn whole_foot(&self) -> f32 {
        self.gusset + self.foot + self.toe
    }

    pub(super) const fn ankle(&self) -> Point {
        point(self.wide, self.leg)
    }

    pub(super) const fn back(&self) -> Point {
        point(0.0, self.leg)
    }

    /// The middle of the leg's end, where instep and heel part.
    pub(super) const fn parting(&self) -> Point {
        point(self.wide / 2.0, self.leg)
    }

    /// The back of the heel: under the flap, or out of the wedge.
    pub(super) fn heel(&self) -> Point {
        if self.flap > 0.0 {
            point(0.0, self.leg + self.flap)
        } else {
            point(0.0, self.leg + self.wide * 0.6)
        }
    }

    /// Where the turn ends on the sole.
    pub(super) fn turned(&self) -> Point {
        let end = self.on_foot(self.gusset, 1.0);
        let heel = self.heel();
        let way = (end.x - heel.x).hypot(end.y - heel.y).max(1.0);
        heel.toward(end, (self.turn / way).min(0.6))
    }

    /// Where flap, turn and gusset meet.
    pub(super) fn corner(&self) -> Point {
        point(self.wide / 2.0, self.leg + self.flap)
    }
}

/// The line up to which a share of a section is knitted.
pub(super) fn front(m: &Measures, kind: SectionKind, share: f32) -> Vec<Point> {
    // A heel knitted last grows outward whichever way the sock was knitted.
    let share = if m.toe_up && kind != SectionKind::LateHeel {
        1.0 - share
    } else {
        share
    };
    let level = |from: f32, length: f32, (left, right): (f32, f32)| {
        let y = from + length * share;
        vec![point(right, y), point(left, y)]
    };
    // The leg's parts reach as far as it is wide anywhere, and are cut to the outline.
    let around = (-m.out, m.wide);
    let across_foot = |from: f32, length: f32| {
        let far = from + length * share;
        vec![m.on_foot(far, 0.0), m.on_foot(far, 1.0)]
    };
    match kind {
        SectionKind::Leg => level(m.cuff, m.leg - m.cuff, around),
        SectionKind::HeelFlap => level(m.leg, m.flap, (0.0, m.wide / 2.0)),
        SectionKind::HeelTurn => vec![m.corner(), m.heel().toward(m.turned(), share)],
        // It borders on the instep, the flap's edge and the turn; its other end is straight.
        SectionKind::Gusset => {
            let begin = [m.ankle(), m.parting(), m.corner(), m.turned()];
            let end = [0.0, 0.5, 0.8, 1.0].map(|across| m.on_foot(m.gusset, across));
            begin
                .iter()
                .zip(end)
                .map(|(from, to)| from.toward(to, share))
                .collect()
        }
        // Round the ankle, from the back of the leg over the heel to the sole.
        SectionKind::ShortHeel => {
            let (half, rest) = ((share * 2.0).min(1.0), (share * 2.0 - 1.0).max(0.0));
            let edge = m
                .back()
                .toward(m.heel(), half)
                .toward(m.on_foot(0.0, 1.0), rest);
            vec![m.ankle(), edge]
        }
        // From the slit between leg and sole outward.
        SectionKind::LateHeel => {
            let inner = m.parting().toward(m.on_foot(0.0, 0.5), 0.5);
            let from = [m.back(), inner, m.on_foot(0.0, 1.0)];
            from.map(|point| point.toward(m.heel(), share * 0.85))
                .to_vec()
        }
        SectionKind::Foot => across_foot(m.gusset, m.foot),
        SectionKind::Toe => across_foot(m.gusset + m.foot, m.toe),
        _ => level(0.0, m.cuff, around),
    }
}

/// The area of a section from one share of it to another.
pub(super) fn stretch(m: &Measures, kind: SectionKind, from: f32, to: f32) -> Vec<Point> {
    let mut around = front(m, kind, from);
    let mut end = front(m, kind, to);
    if kind == SectionKind::ShortHeel && from < 0.5 && to > 0.5 {
        // both halves lie round the back of the heel
        around.extend(front(m, kind, 0.5).last());
    } else if kind == SectionKind::LateHeel && to >= 1.0 {
        end = vec![m.back(), m.heel(), m.on_foot(0.0, 1.0)];
    }
    around.extend(end.into_iter().rev());
    around
}
