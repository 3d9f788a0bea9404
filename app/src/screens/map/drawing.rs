//! The sock to scale, as it lies flat: the leg upright, the foot at half a right angle to it, as the
//! heel makes it lie. One region for each section, and how far each is knitted. A pure function of
//! the plan's lengths; millimetres throughout.
//!
//! Widths, and every length along leg, flap, sole and instep, are the plan's; only the rounding of
//! heel and toe is drawn by eye.

use std::fmt::Write as _;

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::recipe::Direction;
use evenloop_engine::trace::SectionProgress;

/// Room around the sock.
pub(super) const MARGIN: f32 = 6.0;
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
    /// Where its number stands.
    pub label: Spot,
}

/// The whole drawing.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Drawing {
    /// Width and height of the field.
    pub size: (f32, f32),
    /// The sock's outline; regions reach beyond it and are cut to it.
    pub outline: String,
    /// The sections that have an extent, in the order knitted.
    pub regions: Vec<Region>,
    /// The line where knitting stands now.
    pub stand: Option<String>,
    /// Where instep and sole meet: along the gusset and down the side of the foot.
    pub side: String,
}

/// The lengths the drawing is made of. Without a flap the heel is a wedge between leg and foot.
#[derive(Debug, Clone, Copy)]
struct Measures {
    wide: f32,
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
    pub(super) fn of(plan: &Plan, progress: &[SectionProgress], at: Option<usize>) -> Self {
        let m = Measures::of(plan);
        let regions = progress
            .iter()
            .filter(|p| has_extent(p.kind))
            .map(|p| {
                let share = part(p.done, p.of);
                Region {
                    kind: p.kind,
                    area: path(&stretch(&m, p.kind, 1.0), true),
                    knitted: (share > 0.0).then(|| path(&stretch(&m, p.kind, share), true)),
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
        Self {
            size: (
                right.x.max(m.wide) + 2.0 * MARGIN,
                low.y.max(m.heel().y) + 2.0 * MARGIN,
            ),
            outline: outline(&m),
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
    let level = |from: f32, length: f32, wide: f32| {
        let y = from + length * share;
        vec![spot(wide, y), spot(0.0, y)]
    };
    let across_foot = |from: f32, length: f32| {
        let far = from + length * share;
        vec![m.on_foot(far, 0.0), m.on_foot(far, 1.0)]
    };
    match kind {
        SectionKind::Leg => level(m.cuff, m.leg - m.cuff, m.wide),
        SectionKind::HeelFlap => level(m.leg, m.flap, m.wide / 2.0),
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
        _ => level(0.0, m.cuff, m.wide),
    }
}

/// The area of a section from its beginning to a share of it.
fn stretch(m: &Measures, kind: SectionKind, share: f32) -> Vec<Spot> {
    let mut around = front(m, kind, 0.0);
    let mut end = front(m, kind, share);
    if kind == SectionKind::ShortHeel {
        // both halves lie round the back of the heel
        let halfway = front(m, kind, 0.5);
        if share > 0.5 {
            around.extend(halfway.last());
        }
    } else if kind == SectionKind::LateHeel && share >= 1.0 {
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

fn outline(m: &Measures) -> String {
    let toe = m.gusset + m.foot;
    let foot = |far: f32, across: f32| m.on_foot(far, across);
    let bend = (m.gusset * 0.4).max(m.wide * 0.12);
    let mut d = String::with_capacity(260);
    put(&mut d, "M", &[spot(0.0, 0.0)]);
    put(&mut d, "L", &[spot(m.wide, 0.0)]);
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
    let small = |n: usize| f32::from(u16::try_from(n).unwrap_or(u16::MAX));
    if of == 0 {
        0.0
    } else {
        (small(done) / small(of)).min(1.0)
    }
}

#[cfg(test)]
mod tests {
    use evenloop_engine::plan::make;
    use evenloop_engine::recipe::{Heel, Recipe};
    use evenloop_engine::trace::{Position, Trace};

    use super::*;

    /// One sock of each kind of heel, both ways, in several sizes.
    fn plans() -> Vec<Plan> {
        let heels = [
            Heel::default(),
            Heel::ShortRow { between: 1 },
            Heel::Afterthought,
        ];
        let mut plans = Vec::new();
        for stitches in [40, 64, 88] {
            for heel in heels {
                for direction in [Direction::CuffDown, Direction::ToeUp] {
                    let recipe = Recipe {
                        stitches: Some(stitches),
                        heel,
                        direction,
                        ..Recipe::default()
                    };
                    plans.extend(make(&recipe));
                }
            }
        }
        assert!(plans.len() >= 12, "{}", plans.len());
        plans
    }

    fn drawn(plan: &Plan, at: Position) -> Drawing {
        Drawing::of(plan, &plan.section_progress(at), None)
    }

    fn box_of(d: &str) -> [f32; 4] {
        let (xs, ys): (Vec<f32>, Vec<f32>) = spots(d).into_iter().unzip();
        let low = |v: &[f32]| v.iter().copied().fold(f32::MAX, f32::min);
        let high = |v: &[f32]| v.iter().copied().fold(f32::MIN, f32::max);
        [low(&xs), low(&ys), high(&xs), high(&ys)]
    }

    fn spots(d: &str) -> Vec<(f32, f32)> {
        let numbers: Vec<f32> = d
            .split(|c: char| c.is_ascii_alphabetic() || c == ' ')
            .filter(|p| !p.is_empty())
            .map(|p| p.parse().expect("paths hold numbers"))
            .collect();
        numbers.chunks(2).map(|p| (p[0], p[1])).collect()
    }

    #[test]
    fn it_is_to_scale() {
        for plan in plans() {
            let out = &plan.outcome;
            let half = mm(out.circumference) / 2.0;
            let length = |kind| {
                let found = out.sections.iter().find(|s| s.kind == kind);
                mm(found.unwrap_or_else(|| panic!("no {kind:?}")).length)
            };
            let apart = |d: (f32, f32), e: (f32, f32)| (d.0 - e.0).hypot(d.1 - e.1);
            for region in &drawn(&plan, Position::default()).regions {
                let corners = spots(&region.area);
                let wide = apart(corners[0], corners[1]);
                let long = apart(corners[0], corners[corners.len() - 1]);
                let (wide_wanted, long_wanted) = match region.kind {
                    // measured from the cast-on edge, not round by round
                    SectionKind::Leg => (half, mm(out.leg_length) - length(SectionKind::Cuff)),
                    SectionKind::HeelFlap => (half / 2.0, length(region.kind)),
                    SectionKind::Gusset => (wide, length(region.kind)),
                    SectionKind::Cuff | SectionKind::Foot | SectionKind::Toe => {
                        (half, length(region.kind))
                    }
                    // drawn by eye
                    _ => continue,
                };
                let kind = region.kind;
                assert!(
                    (wide - wide_wanted).abs() < 0.3,
                    "{kind:?}: {wide} for {wide_wanted}"
                );
                assert!(
                    (long - long_wanted).abs() < 0.3,
                    "{kind:?}: {long} for {long_wanted}"
                );
            }
        }
    }

    /// Twice the area, by the corners.
    fn area(d: &str) -> f32 {
        let spots = spots(d);
        let next = spots.iter().cycle().skip(1);
        spots
            .iter()
            .zip(next)
            .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
            .sum::<f32>()
            .abs()
    }

    #[test]
    fn what_is_knitted_only_grows_and_ends_with_everything() {
        for plan in plans() {
            let trace = Trace::of(&plan).expect("made plans can be knitted");
            let filled = |drawing: &Drawing| -> f32 {
                drawing
                    .regions
                    .iter()
                    .filter_map(|r| r.knitted.as_deref())
                    .map(area)
                    .sum()
            };
            let mut at = Position::default();
            let mut before = 0.0;
            while at != trace.end() {
                let now = filled(&drawn(&plan, at));
                assert!(now >= before - 20.0, "{at:?}: {now} after {before}");
                before = now;
                at = trace.advance(at);
            }
            let end = drawn(&plan, at);
            assert!(
                end.regions
                    .iter()
                    .all(|r| r.knitted.as_deref() == Some(r.area.as_str()))
            );
        }
    }

    #[test]
    fn the_first_stitches_are_where_knitting_begins() {
        for plan in plans() {
            let trace = Trace::of(&plan).expect("made plans can be knitted");
            let first = drawn(&plan, trace.advance(Position::default()));
            let begun = Drawing::of(&plan, &plan.section_progress(Position::default()), Some(0));
            let [_, top, _, low] = box_of(&begun.stand.expect("knitting stands somewhere"));
            let [_, high, _, deep] = box_of(&first.outline);
            if plan.recipe.direction == Direction::ToeUp {
                assert!(low > f32::midpoint(high, deep), "at the toe");
            } else {
                assert!((top - high).abs() < 0.2, "at the cuff");
            }
        }
    }

    #[test]
    fn the_place_lies_on_the_field() {
        for plan in plans() {
            let trace = Trace::of(&plan).expect("made plans can be knitted");
            let mut at = Position::default();
            // the toe's last rounds are cut to its rounding
            let slack = mm(plan.outcome.circumference) / 4.0;
            while at != trace.end() {
                let progress = plan.section_progress(at);
                let here = trace.steps[at.step].section;
                let drawing = Drawing::of(&plan, &progress, Some(here));
                let [a, b, c, d] = box_of(&drawing.stand.expect("knitting stands somewhere"));
                let (wide, high) = drawing.size;
                assert!(
                    a >= 0.0 && b >= 0.0 && c <= wide + slack && d <= high + slack,
                    "{at:?}"
                );
                at = trace.advance(at);
            }
        }
    }
}
