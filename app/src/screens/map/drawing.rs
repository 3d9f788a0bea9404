//! The sock to scale, as it lies flat: the leg upright, the foot at half a right angle to it, as the
//! heel makes it lie. One region for each section, and how far each is knitted. A pure function of
//! the plan's lengths; millimetres throughout.
//!
//! Widths, and every length along leg, flap, sole and instep, are the plan's; only the rounding of
//! heel and toe is drawn by eye.

mod back;
mod bands;
mod motif;

use std::fmt::Write as _;

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::recipe::Direction;
use evenloop_engine::trace::{SectionProgress, Trace};

pub(super) use self::bands::Band;
pub(super) use self::motif::Texture;

/// Room around the sock.
pub(super) const MARGIN: f32 = 6.0;
/// So high must the free corner be, as a share of the field's width, for three lines of words.
const CORNER: f32 = 0.4;
/// Sine and cosine of the foot's angle.
const SLANT: f32 = std::f32::consts::FRAC_1_SQRT_2;

/// A place on the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Spot {
    pub x: f32,
    pub y: f32,
}

const fn spot(x: f32, y: f32) -> Spot {
    Spot { x, y }
}

impl Spot {
    /// Part of the way to another place.
    fn toward(self, other: Self, part: f32) -> Self {
        spot(
            self.x + (other.x - self.x) * part,
            self.y + (other.y - self.y) * part,
        )
    }
}

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
    pub bands: Vec<Band>,
    /// Where its number stands.
    pub label: Spot,
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

/// The lengths the drawing is made of. Without a flap the heel is a wedge between leg and foot.
#[derive(Debug, Clone, Copy)]
struct Measures {
    wide: f32,
    /// How far the leg reaches out behind the heel's line, at most.
    out: f32,
    cuff: f32,
    leg: f32,
    flap: f32,
    turn: f32,
    gusset: f32,
    foot: f32,
    toe: f32,
    /// Whether knitting began at the toe.
    toe_up: bool,
}

impl Measures {
    fn of(plan: &Plan) -> Self {
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
    fn on_foot(&self, far: f32, across: f32) -> Spot {
        let down = across * self.wide;
        spot(
            self.wide + (far - down) * SLANT,
            self.leg + (far + down) * SLANT,
        )
    }

    /// From the ankle to the tip.
    fn whole_foot(&self) -> f32 {
        self.gusset + self.foot + self.toe
    }

    const fn ankle(&self) -> Spot {
        spot(self.wide, self.leg)
    }

    const fn back(&self) -> Spot {
        spot(0.0, self.leg)
    }

    /// The middle of the leg's end, where instep and heel part.
    const fn parting(&self) -> Spot {
        spot(self.wide / 2.0, self.leg)
    }

    /// The back of the heel: under the flap, or out of the wedge.
    fn heel(&self) -> Spot {
        if self.flap > 0.0 {
            spot(0.0, self.leg + self.flap)
        } else {
            spot(0.0, self.leg + self.wide * 0.6)
        }
    }

    /// Where the turn ends on the sole.
    fn turned(&self) -> Spot {
        let end = self.on_foot(self.gusset, 1.0);
        let heel = self.heel();
        let way = (end.x - heel.x).hypot(end.y - heel.y).max(1.0);
        heel.toward(end, (self.turn / way).min(0.6))
    }

    /// Where flap, turn and gusset meet.
    fn corner(&self) -> Spot {
        spot(self.wide / 2.0, self.leg + self.flap)
    }
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

/// The line up to which a share of a section is knitted.
fn front(m: &Measures, kind: SectionKind, share: f32) -> Vec<Spot> {
    // A heel knitted last grows outward whichever way the sock was knitted.
    let share = if m.toe_up && kind != SectionKind::LateHeel {
        1.0 - share
    } else {
        share
    };
    let level = |from: f32, length: f32, (left, right): (f32, f32)| {
        let y = from + length * share;
        vec![spot(right, y), spot(left, y)]
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
            from.map(|spot| spot.toward(m.heel(), share * 0.85))
                .to_vec()
        }
        SectionKind::Foot => across_foot(m.gusset, m.foot),
        SectionKind::Toe => across_foot(m.gusset + m.foot, m.toe),
        _ => level(0.0, m.cuff, around),
    }
}

/// The area of a section from one share of it to another.
fn stretch(m: &Measures, kind: SectionKind, from: f32, to: f32) -> Vec<Spot> {
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

fn label(m: &Measures, kind: SectionKind) -> Spot {
    match kind {
        SectionKind::Cuff => spot(m.wide / 2.0, m.cuff / 2.0),
        SectionKind::Leg => spot(m.wide / 2.0, f32::midpoint(m.cuff, m.leg)),
        SectionKind::HeelFlap => spot(m.wide / 4.0, m.leg + m.flap * 0.45),
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

fn outline(m: &Measures, back: &[Spot]) -> String {
    let toe = m.gusset + m.foot;
    let foot = |far: f32, across: f32| m.on_foot(far, across);
    let bend = (m.gusset * 0.4).max(m.wide * 0.12);
    let mut d = String::with_capacity(260);
    put(&mut d, "M", &[spot(m.wide, 0.0)]);
    put(&mut d, "L", &[spot(m.wide, m.leg - bend)]);
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
        put(&mut d, "Q", &[m.heel(), spot(0.0, m.leg + m.flap * 0.6)]);
    } else {
        put(&mut d, "Q", &[m.heel(), m.back()]);
    }
    for at in back.iter().rev() {
        put(&mut d, "L", &[*at]);
    }
    d.push('Z');
    d
}

fn path(spots: &[Spot], close: bool) -> String {
    let mut d = String::with_capacity(spots.len() * 12);
    for (i, at) in spots.iter().enumerate() {
        put(&mut d, if i == 0 { "M" } else { "L" }, &[*at]);
    }
    if close {
        d.push('Z');
    }
    d
}

fn put(d: &mut String, command: &str, spots: &[Spot]) {
    d.push_str(command);
    for at in spots {
        // Writing to a string cannot fail.
        let _ = write!(d, "{:.1} {:.1} ", at.x + MARGIN, at.y + MARGIN);
    }
}

fn mm(length: evenloop_engine::units::Length) -> f32 {
    // Lengths of socks are far below what a small float holds exactly.
    #[allow(clippy::cast_possible_truncation)]
    let mm = (length.as_cm() * 10.0) as f32;
    mm
}

fn part(done: usize, of: usize) -> f32 {
    if of == 0 {
        0.0
    } else {
        (number(done) / number(of)).min(1.0)
    }
}

fn number(n: usize) -> f32 {
    f32::from(u16::try_from(n).unwrap_or(u16::MAX))
}

#[cfg(test)]
mod tests;
