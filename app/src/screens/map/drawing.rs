//! The sock to scale, as it lies flat: the leg upright, the foot at half a right angle to it, as the
//! heel makes it lie. One region for each section, and how far each is knitted. A pure function of
//! the plan's lengths; millimetres throughout.
//!
//! Widths, and every length along leg, flap, sole and instep, are the plan's; only the rounding of
//! heel and toe is drawn by eye.

mod back;
mod bands;
mod measures;
mod motif;
mod points;

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::trace::{SectionProgress, Trace};

pub(super) use self::bands::YarnArea;
pub(super) use self::motif::Texture;
pub(super) use self::points::MARGIN;

use self::measures::{Measures, front, stretch};
use self::points::{Point, part, path, point, put};

/// So high must the free corner be, as a share of the field's width, for three lines of words.
const CORNER: f32 = 0.4;

/// One section's region.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Region {
    /// Which section.
    pub kind: SectionKind,
    /// Where it lies.
    pub area: String,
    /// What of it is knitted; nothing when it has not been begun.
    pub knitted: Option<String>,
    /// Its stripes, where there are several yarns; they cover it.
    pub bands: Vec<YarnArea>,
    /// Where its number stands.
    pub label: Point,
}

/// The whole drawing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drawing {
    /// Where the field begins at the left.
    pub left: f32,
    /// Width and height of the field.
    pub size: (f32, f32),
    /// Whether its upper right corner is free, for words.
    pub corner: bool,
    /// The sock's outline; regions reach beyond it and are cut to it.
    pub outline: String,
    /// The sections that have an extent, in the order knitted.
    pub regions: Vec<Region>,
    /// The line where knitting stands now.
    pub stand: Option<String>,
    /// Where instep and sole meet: along the gusset and down the side of the foot.
    pub side: String,
    /// The motif, where there is one.
    pub texture: Option<Texture>,
}

impl Drawing {
    /// Draws a sock; `at` is the index of the section at hand in `progress`.
    pub(super) fn of(
        plan: &Plan,
        trace: &Trace,
        progress: &[SectionProgress],
        at: Option<usize>,
    ) -> Self {
        let mut m = Measures::of(plan);
        let back = back::of(&m, plan, trace);
        m.out = back.iter().fold(0.0, |out, at| out.max(-at.x));
        let regions = progress
            .iter()
            .enumerate()
            .filter(|(_, p)| has_extent(p.kind))
            .map(|(section, p)| {
                let share = part(p.done, p.of);
                let up_to = |share| path(&stretch(&m, p.kind, 0.0, share), true);
                Region {
                    kind: p.kind,
                    area: up_to(1.0),
                    knitted: (share > 0.0).then(|| up_to(share)),
                    bands: match plan.recipe.yarns {
                        Some(_) => bands::of(&m, plan, trace, section, p),
                        None => Vec::new(),
                    },
                    label: label(&m, p.kind),
                }
            })
            .collect();
        let stand = at.and_then(|i| progress.get(i)).map(|p| {
            let (kind, share) = on_the_sock(p.kind, part(p.done, p.of), m.toe_up);
            path(&front(&m, kind, share), false)
        });
        let (right, low) = (
            m.on_foot(m.whole_foot(), 0.2),
            m.on_foot(m.whole_foot(), 0.8),
        );
        let wide = m.out + right.x.max(m.wide) + 2.0 * MARGIN;
        // where the foot is, below the middle of the field
        let foot = m.leg + (wide * 0.5 - MARGIN - m.out - m.wide).max(0.0);
        Self {
            texture: Texture::of(&m, plan),
            left: -m.out,
            size: (wide, low.y.max(m.heel().y) + 2.0 * MARGIN),
            corner: foot >= wide * CORNER,
            outline: outline(&m, &back),
            regions,
            stand,
            side: path(
                &[
                    m.parting(),
                    m.on_foot(m.gusset, 0.5),
                    m.on_foot(m.whole_foot(), 0.5),
                ],
                false,
            ),
        }
    }
}

const fn has_extent(kind: SectionKind) -> bool {
    match kind {
        SectionKind::Cuff
        | SectionKind::Leg
        | SectionKind::HeelFlap
        | SectionKind::HeelTurn
        | SectionKind::Gusset
        | SectionKind::ShortHeel
        | SectionKind::LateHeel
        | SectionKind::Foot
        | SectionKind::Toe => true,
        SectionKind::CastOn
        | SectionKind::PickUp
        | SectionKind::HeelPlace
        | SectionKind::Close
        | SectionKind::LateClose
        | SectionKind::BindOff => false,
    }
}

/// Sections without an extent stand at the beginning or the end of one that has.
const fn on_the_sock(kind: SectionKind, share: f32, toe_up: bool) -> (SectionKind, f32) {
    match (kind, toe_up) {
        (SectionKind::CastOn, false) => (SectionKind::Cuff, 0.0),
        (SectionKind::CastOn, true) => (SectionKind::Toe, 0.0),
        (SectionKind::PickUp, _) => (SectionKind::Gusset, 0.0),
        (SectionKind::HeelPlace, _) => (SectionKind::LateHeel, 0.0),
        (SectionKind::Close, _) => (SectionKind::Toe, 1.0),
        (SectionKind::LateClose, _) => (SectionKind::LateHeel, 1.0),
        (SectionKind::BindOff, _) => (SectionKind::Cuff, 1.0),
        (other, _) => (other, share),
    }
}

fn label(m: &Measures, kind: SectionKind) -> Point {
    match kind {
        SectionKind::Cuff => point(m.wide / 2.0, m.cuff / 2.0),
        SectionKind::Leg => point(m.wide / 2.0, f32::midpoint(m.cuff, m.leg)),
        SectionKind::HeelFlap => point(m.wide / 4.0, m.leg + m.flap * 0.45),
        SectionKind::HeelTurn => {
            let middle = m.heel().toward(m.turned(), 0.55);
            middle.toward(m.corner(), 0.4)
        }
        SectionKind::Gusset => m.on_foot(m.gusset * 0.3, 0.42),
        SectionKind::ShortHeel | SectionKind::LateHeel => m.heel().toward(m.ankle(), 0.3),
        SectionKind::Foot => m.on_foot(m.gusset + m.foot / 2.0, 0.5),
        _ => m.on_foot(m.gusset + m.foot + m.toe * 0.42, 0.5),
    }
}

fn outline(m: &Measures, back: &[Point]) -> String {
    let toe = m.gusset + m.foot;
    let foot = |far: f32, across: f32| m.on_foot(far, across);
    let bend = (m.gusset * 0.4).max(m.wide * 0.12);
    let mut d = String::with_capacity(260);
    put(&mut d, "M", &[point(m.wide, 0.0)]);
    put(&mut d, "L", &[point(m.wide, m.leg - bend)]);
    put(&mut d, "Q", &[m.ankle(), foot(bend, 0.0)]);
    put(&mut d, "L", &[foot(toe, 0.0)]);
    put(
        &mut d,
        "C",
        &[
            foot(toe + m.toe * 0.7, 0.0),
            foot(toe + m.toe, 0.22),
            foot(toe + m.toe, 0.5),
        ],
    );
    put(
        &mut d,
        "C",
        &[
            foot(toe + m.toe, 0.78),
            foot(toe + m.toe * 0.7, 1.0),
            foot(toe, 1.0),
        ],
    );
    put(&mut d, "L", &[foot(m.gusset, 1.0)]);
    if m.flap > 0.0 {
        put(&mut d, "L", &[m.turned()]);
        put(&mut d, "Q", &[m.heel(), point(0.0, m.leg + m.flap * 0.6)]);
    } else {
        put(&mut d, "Q", &[m.heel(), m.back()]);
    }
    for at in back.iter().rev() {
        put(&mut d, "L", &[*at]);
    }
    d.push('Z');
    d
}

#[cfg(test)]
mod tests;
