//! The motif on the drawing: one repeat in the size it is knitted in, laid over the parts that carry it
//! and turned as they lie. The sock is seen from its side, so half of the front shows, and half of
//! the back.
//!
//! A repeat is drawn in its own field: from the left as the right side shows it, upward as it grows.

use std::fmt::Write as _;

use evenloop_engine::plan::{Plan, Section, SectionKind, StepForm};
use evenloop_engine::recipe::{Direction, Motif, MotifPlacement};
use evenloop_engine::stitch::{Cross, Lean};

use super::measures::{Measures, SLANT};
use super::points::{MARGIN, Point, mm, number, part, path, point};
use crate::parts::{Symbol, symbols};

/// The motif, and where it lies.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::screens::map) struct Texture {
    /// Width and height of a repeat.
    pub tile: (f32, f32),
    /// The lines of a repeat.
    pub marks: String,
    /// The parts that carry it.
    pub parts: Vec<Patch>,
}

/// The motif on one part of the sock.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::screens::map) struct Patch {
    /// Which part.
    pub kind: SectionKind,
    /// Where on it the motif is.
    pub area: String,
    /// How the field of a repeat lies on the drawing: the six numbers of an SVG matrix.
    pub lie: [f32; 6],
}

impl Texture {
    /// `None` without a motif.
    pub(super) fn of(m: &Measures, plan: &Plan) -> Option<Self> {
        let motif = plan.recipe.motif.as_ref()?;
        let swatch = &plan.recipe.swatch;
        let stitch = mm(swatch.width) / f32::from(swatch.stitches.max(1));
        let round = mm(swatch.height) / f32::from(swatch.rounds.max(1));
        let repeats = plan.motif_repeats()?;
        let tile = (
            stitch * f32::from(motif.width()),
            round * number(motif.rows.len()),
        );
        // so much of the front shows as lies on this side of its middle
        let front = (tile.0 * f32::from(repeats) / 2.0).min(m.wide / 2.0);
        let patch = |section: &Section| {
            let kind = section.kind;
            let area = area(m, kind, front, motif.place)?;
            let first = first(section)?;
            Some(Patch {
                kind,
                area: path(&area, true),
                lie: lie(m, plan, kind, front, begin(m, kind, first, round)?),
            })
        };
        Some(Self {
            tile,
            marks: marks(motif, (stitch, round)),
            parts: plan.sections.iter().filter_map(patch).collect(),
        })
    }
}

/// The first round of a section that carries the motif: its number among the section's rounds, from
/// 0, how many there are, and the motif's round, from 0.
struct First {
    nth: usize,
    of: usize,
    row: u16,
}

fn first(section: &Section) -> Option<First> {
    let rounds = || section.steps.iter().filter(|s| s.form == StepForm::Round);
    let (nth, row) = rounds().enumerate().find_map(|(nth, step)| {
        let row = step.moves.first()?.motif_round()?;
        Some((nth, row.saturating_sub(1)))
    })?;
    let of = rounds().count();
    Some(First { nth, of, row })
}

/// How far down the leg, or along the foot, the repeat begins that a section begins in.
fn begin(m: &Measures, kind: SectionKind, first: First, round: f32) -> Option<f32> {
    let (start, length) = match kind {
        SectionKind::Leg => (m.cuff, m.leg - m.cuff),
        SectionKind::Gusset => (0.0, m.gusset),
        SectionKind::Foot => (m.gusset, m.foot),
        _ => return None,
    };
    let before = f32::from(first.row) * round;
    let share = part(first.nth, first.of);
    Some(if m.toe_up {
        start + length * (1.0 - share) + before
    } else {
        start + length * share - before
    })
}

/// Where a section carries the motif; `None` where it does not.
fn area(m: &Measures, kind: SectionKind, front: f32, place: MotifPlacement) -> Option<Vec<Point>> {
    let across = front / m.wide.max(1.0);
    let along_foot = |from: f32, to: f32| {
        vec![
            m.on_foot(from, 0.0),
            m.on_foot(from, across),
            m.on_foot(to, across),
            m.on_foot(to, 0.0),
        ]
    };
    match kind {
        SectionKind::Leg => {
            let left = match place {
                MotifPlacement::AllRound => 0.0,
                MotifPlacement::Front => m.wide - front,
            };
            Some(vec![
                point(m.wide, m.cuff),
                point(left, m.cuff),
                point(left, m.leg),
                point(m.wide, m.leg),
            ])
        }
        SectionKind::Gusset => Some(vec![
            m.ankle(),
            point(m.wide - front, m.leg),
            m.on_foot(m.gusset, across),
            m.on_foot(m.gusset, 0.0),
        ]),
        SectionKind::Foot => Some(along_foot(m.gusset, m.gusset + m.foot)),
        _ => None,
    }
}

/// How the field of a repeat lies on the drawing, with its beginning there.
fn lie(m: &Measures, plan: &Plan, kind: SectionKind, front: f32, begin: f32) -> [f32; 6] {
    // From the cuff down rounds follow one another downward, and the sock is seen upside down: the
    // right of the knitting is at the left.
    let way = match plan.recipe.direction {
        Direction::CuffDown => 1.0,
        Direction::ToeUp => -1.0,
    };
    let (right, up, at) = if kind == SectionKind::Leg {
        (
            point(-way, 0.0),
            point(0.0, way),
            point(m.wide - front, begin),
        )
    } else {
        (
            point(-way * SLANT, way * SLANT),
            point(way * SLANT, way * SLANT),
            m.on_foot(begin, front / m.wide.max(1.0)),
        )
    };
    [right.x, right.y, up.x, up.y, at.x + MARGIN, at.y + MARGIN]
}

/// The lines of one repeat.
fn marks(motif: &Motif, cell: (f32, f32)) -> String {
    let mut d = String::new();
    for (nth, row) in motif.rows.iter().enumerate() {
        let low = cell.1 * number(nth);
        let mut left = cell.0 * f32::from(motif.width());
        for alike in symbols(row).chunk_by(|a, b| a == b) {
            let wide = cell.0 * number(alike.iter().map(|s| s.span()).sum());
            left -= wide;
            // Writing to a string cannot fail.
            let _ = match alike[0] {
                // purl stitches side by side are one ridge
                Symbol::Purl => ridge(&mut d, point(left, low), (wide, cell.1)),
                one => {
                    let step = wide / number(alike.len());
                    (0..alike.len()).try_for_each(|n| {
                        mark(&mut d, one, point(left + step * number(n), low), cell)
                    })
                }
            };
        }
    }
    d
}

fn ridge(d: &mut String, at: Point, (wide, high): (f32, f32)) -> std::fmt::Result {
    let (x, y) = (at.x + 0.3, at.y + high * 0.5);
    write!(d, "M{x:.2} {y:.2}h{:.2}", wide - 0.6)
}

/// A symbol as it looks from afar: what lies across, what leans, what is a hole.
fn mark(d: &mut String, symbol: Symbol, at: Point, (wide, high): (f32, f32)) -> std::fmt::Result {
    let (x, y) = (
        |share: f32| at.x + wide * share,
        |share: f32| at.y + high * share,
    );
    match symbol {
        Symbol::Knit => Ok(()),
        Symbol::Purl => ridge(d, at, (wide, high)),
        Symbol::Twisted => write!(d, "M{:.2} {:.2}v{:.2}", x(0.5), y(0.2), high * 0.6),
        Symbol::Slipped => write!(d, "M{:.2} {:.2}v{:.2}", x(0.5), y(0.0), high),
        Symbol::YarnOver => {
            let r = wide.min(high) * 0.3;
            write!(
                d,
                "M{:.2} {:.2}a{r:.2} {r:.2} 0 1 0 {2:.2} 0a{r:.2} {r:.2} 0 1 0 -{2:.2} 0",
                x(0.5) - r,
                y(0.5),
                2.0 * r
            )
        }
        Symbol::K2tog => write!(
            d,
            "M{:.2} {:.2}L{:.2} {:.2}",
            x(0.1),
            y(0.1),
            x(0.9),
            y(0.9)
        ),
        Symbol::Ssk => write!(
            d,
            "M{:.2} {:.2}L{:.2} {:.2}",
            x(0.9),
            y(0.1),
            x(0.1),
            y(0.9)
        ),
        Symbol::Cross(cross) => crossed(d, cross, at, (wide, high)),
    }
}

/// The edges of the stitches that lie on top.
fn crossed(d: &mut String, cross: Cross, at: Point, (wide, high): (f32, f32)) -> std::fmt::Result {
    let all = f32::from(cross.width());
    let (over, under) = (f32::from(cross.over.get()), f32::from(cross.under.get()));
    let x = |cells: f32| match cross.lean {
        Lean::Right => at.x + wide * cells,
        Lean::Left => at.x + wide * (all - cells),
    };
    for (from, to) in [(0.0, under), (over, all)] {
        write!(
            d,
            "M{:.2} {:.2}L{:.2} {:.2}",
            x(from),
            at.y,
            x(to),
            at.y + high
        )?;
    }
    Ok(())
}
