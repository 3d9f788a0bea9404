//! The whole sock on the table: its stitches as paths, and its outline.

use evenloop_engine::plan::Plan;
use evenloop_engine::sort::sort;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::trace::{Position, Trace};

use super::knitting::Fabric;
use super::lie::{Lie, Lying};
use super::path::Path;
use super::point::{Point, number, point};
use super::shapes::{PartShape, RowShape};
use super::stitch::{CableLayer, FabricStitch, Region, StitchKind, Zone};
use super::yarn_paths::{Detail, Drawn, FabricPaths};

/// A sock that can be drawn.
#[derive(Debug, Clone)]
pub struct SockPicture {
    fabric: Fabric,
    lie: Lie,
    /// Where each stitch lies; none on the side that is turned away.
    lying: Vec<Option<Lying>>,
    /// Which stitches lie in front of others.
    front: Vec<bool>,
    /// The parts of the sock in the order knitted.
    parts: Vec<PartShape>,
}

impl SockPicture {
    /// Of a plan; `None` where the trace is not the plan's.
    pub fn of(plan: &Plan, trace: &Trace) -> Option<Self> {
        let fabric = Fabric::of(plan, trace)?;
        let lie = Lie::of(plan, &fabric);
        let mut lying: Vec<Option<Lying>> = fabric.stitches.iter().map(|s| lie.lying(s)).collect();
        even_out(&fabric, &mut lying);
        recede(&fabric, &mut lying);
        cross(&fabric, &mut lying);
        let front = in_front(&fabric);
        let mut picture = Self {
            fabric,
            lie,
            lying,
            front,
            parts: Vec::new(),
        };
        picture.parts = picture.shape_parts();
        Some(picture)
    }

    /// So many of its stitches, in the order in which they are made.
    pub(crate) fn paths(&self, made: usize, detail: Detail) -> FabricPaths {
        let mut paths = FabricPaths::new(detail);
        let all = self
            .fabric
            .stitches
            .iter()
            .zip(&self.lying)
            .zip(&self.front);
        for ((stitch, lying), front) in all.take(made) {
            if let Some(lying) = lying {
                paths.draw(&self.drawn(stitch, *lying), *front);
            }
        }
        paths
    }

    /// The parts of the sock in the order knitted.
    pub(crate) fn parts(&self) -> &[PartShape] {
        &self.parts
    }

    fn shape_parts(&self) -> Vec<PartShape> {
        let mut parts: Vec<PartShape> = Vec::new();
        let all: Vec<(usize, &FabricStitch)> = self.fabric.stitches.iter().enumerate().collect();
        for row in all.chunk_by(|(_, a), (_, b)| a.made.step == b.made.step && a.region == b.region)
        {
            let Some(((last, _), (_, stitch))) = row.last().zip(row.first()) else {
                continue;
            };
            let region = stitch.region;
            let Some(shape) = self.row_shape(row, *last + 1) else {
                continue;
            };
            match parts.iter_mut().find(|part| part.region == region) {
                Some(part) => part.rows.push(shape),
                None => parts.push(PartShape {
                    region,
                    yarn: stitch.yarn,
                    rows: vec![shape],
                }),
            }
        }
        parts
    }

    /// A row from front to back; `None` where it covers only a piece of a round.
    fn row_shape(&self, row: &[(usize, &FabricStitch)], made: usize) -> Option<RowShape> {
        let mut seen: Vec<(usize, Lying, &FabricStitch)> = row
            .iter()
            .filter_map(|(at, stitch)| Some((*at, (*self.lying.get(*at)?)?, *stitch)))
            .collect();
        sort(&mut seen, |(at, a, _), (other, b, _)| {
            a.place.total_cmp(&b.place).then(at.cmp(other)).is_lt()
        });
        let ((_, first, front), (_, last, back)) = (seen.first()?, seen.last()?);
        let back_only = matches!(
            front.region,
            Region::Flap | Region::Turn | Region::ShortHeel | Region::ShortToe
        );
        let whole = self.lie.at_fold(front) && self.lie.at_fold(back);
        if !(back_only || whole) {
            return None;
        }
        // A flap's first stitch is slipped: none is made of it in this row.
        let (before, after) = front.place.outside;
        let beyond = match front.region {
            Region::Flap if self.lie.is_toe_up() => first.place - f32::from(before),
            Region::Flap => first.place - f32::from(after),
            _ => 0.5,
        };
        let ends = (
            first.head.on(first.across, -beyond),
            last.head.on(last.across, 0.5),
        );
        // An edge has nothing below it.
        let drawn = seen
            .iter()
            .map(|(_, lying, stitch)| self.drawn(stitch, *lying));
        let (bases, heads) = drawn
            .map(|drawn| match drawn.kind {
                StitchKind::CastOn | StitchKind::Opened => (drawn.head, drawn.head),
                _ => (drawn.base, drawn.head),
            })
            .unzip();
        Some(RowShape {
            yarn: front.yarn,
            ends,
            bases,
            heads,
            made,
        })
    }

    /// Each yarn that is used, and a place on its widest stripe.
    pub(crate) fn yarn_marks(&self) -> Vec<(Yarn, Point)> {
        let mark = |yarn| {
            let stripes = self.parts.iter().flat_map(|part| {
                let stripes = part.rows.chunk_by(|a, b| a.yarn == b.yarn);
                stripes.filter(|stripe| stripe.first().is_some_and(|row| row.yarn == yarn))
            });
            // The first of those that are equally wide.
            let widest = stripes.rev().max_by_key(|stripe| stripe.len())?;
            let row = widest.get(widest.len() / 2)?;
            // Beside the number of the part, which stands in its middle.
            Some((yarn, row.ends.0.toward(row.ends.1, 0.82)))
        };
        Yarn::ALL.into_iter().filter_map(mark).collect()
    }

    /// The line along which the last row or round before a position lies; nothing before the first.
    pub(crate) fn stand(&self, at: Position) -> Path {
        let mut path = Path::new(Detail::Legs.steps());
        if let Some(row) = self.last_row(at) {
            path.go(row.ends.0);
            row.heads.iter().for_each(|head| path.line(*head));
            path.line(row.ends.1);
        }
        path
    }

    /// The middle of that line; nothing before the first row.
    pub(crate) fn stand_middle(&self, at: Position) -> Option<Point> {
        let row = self.last_row(at)?;
        Some(*row.heads.get(row.heads.len() / 2).unwrap_or(&row.ends.0))
    }

    /// The last row that is made at a position.
    fn last_row(&self, at: Position) -> Option<&RowShape> {
        let made = self.fabric.made_before(at);
        let rows = self.parts.iter().flat_map(|part| &part.rows);
        rows.filter(|row| row.made <= made)
            .max_by_key(|row| row.made)
    }

    /// How many stitches are made before a position.
    pub(crate) fn made_before(&self, at: Position) -> usize {
        self.fabric.made_before(at)
    }

    fn drawn(&self, stitch: &FabricStitch, lying: Lying) -> Drawn {
        let across = lying.across;
        let turned = if self.lie.is_toe_up() {
            point(-across.y, across.x)
        } else {
            point(across.y, -across.x)
        };
        let up = point(0.0, 0.0).on(turned, self.lie.row / turned.length().max(0.1));
        let below = |id| {
            let lying: &Option<Lying> = self.lying.get(usize::try_from(id).ok()?)?;
            lying.map(|lying| lying.head)
        };
        let [base, second] = stitch.below.map(|id| id.and_then(below));
        let base = base.unwrap_or_else(|| lying.head.on(up, -1.0));
        // One that lies elsewhere (at the end of a part) is drawn short.
        let near = |from: Point| from.to(lying.head).length() < self.lie.stitch * 4.5;
        Drawn {
            kind: stitch.kind,
            yarn: stitch.yarn,
            double: stitch.double,
            base: if near(base) {
                base
            } else {
                lying.head.on(up, -1.0)
            },
            second: second.filter(|second| near(*second)),
            head: lying.head,
            across,
            up,
        }
    }

    /// Whether a stitch lies on the side that is seen.
    #[cfg(test)]
    pub(crate) fn is_seen(&self, id: usize) -> bool {
        self.lying.get(id).is_some_and(Option::is_some)
    }

    /// How far a stitch lies from another, in widths of a stitch.
    #[cfg(test)]
    pub(crate) fn way(&self, from: usize, to: usize) -> Option<f32> {
        let head = |id: usize| {
            self.lying
                .get(id)
                .copied()
                .flatten()
                .map(|lying| lying.head)
        };
        Some(head(from)?.to(head(to)?).length() / self.lie.stitch)
    }

    /// The corners of the rectangle that everything drawn lies in.
    pub(crate) fn frame(&self) -> (Point, Point) {
        let heads = self.lying.iter().flatten().map(|lying| lying.head);
        let mut frame = (point(0.0, 0.0), point(0.0, 0.0));
        for head in heads {
            frame.0 = point(frame.0.x.min(head.x), frame.0.y.min(head.y));
            frame.1 = point(frame.1.x.max(head.x), frame.1.y.max(head.y));
        }
        let room = self.lie.stitch * 1.5;
        (
            point(frame.0.x - room, frame.0.y - room),
            point(frame.1.x + room, frame.1.y + room),
        )
    }

    /// How wide a stitch is, in millimetres.
    pub(crate) const fn stitch(&self) -> f32 {
        self.lie.stitch
    }
}

/// Over so many rounds before and after, the width of a part that grows or shrinks is evened out: shaping
/// is no stair.
const EVEN_LEG: usize = 9;
const EVEN_TOE: usize = 3;

/// Draws legs and toes as wide as their rounds are on average of their neighbours.
fn even_out(fabric: &Fabric, lying: &mut [Option<Lying>]) {
    for (region, reach) in [(Region::Leg, EVEN_LEG), (Region::Toe, EVEN_TOE)] {
        for zone in [Zone::Front, Zone::Back] {
            let mine =
                |stitch: &&FabricStitch| stitch.region == region && stitch.place.zone == zone;
            let mut widths: Vec<(usize, f32)> = Vec::new();
            for stitch in fabric.stitches.iter().filter(mine) {
                if widths.last().map(|(step, _)| *step) != Some(stitch.made.step) {
                    widths.push((stitch.made.step, f32::from(stitch.place.of)));
                }
            }
            let even = |nth: usize| {
                let reach = reach.min(nth).min(widths.len() - 1 - nth);
                let around = &widths[nth - reach..=nth + reach];
                around.iter().map(|(_, of)| of).sum::<f32>() / (2.0 * number(reach) + 1.0)
            };
            let factors: Vec<(usize, f32)> = widths
                .iter()
                .enumerate()
                .map(|(nth, (step, of))| (*step, even(nth) / of.max(1.0)))
                .collect();
            let all = fabric.stitches.iter().zip(lying.iter_mut());
            for (stitch, lying) in all.filter(|(stitch, _)| mine(stitch)) {
                let step = stitch.made.step;
                let Ok(nth) = factors.binary_search_by_key(&step, |(step, _)| *step) else {
                    continue;
                };
                let factor = factors[nth].1;
                if let Some(lying) = lying {
                    lying.head = lying.head.on(lying.across, lying.place * (factor - 1.0));
                    lying.across = point(0.0, 0.0).on(lying.across, factor);
                }
            }
        }
    }
}

/// How much of its width a purl stitch gives up to a knit stitch beside it: ribs draw together, and what is
/// purled lies behind.
const RECEDES: f32 = 0.16;

/// Draws purl stitches together and knit stitches apart, row by row.
fn recede(fabric: &Fabric, lying: &mut [Option<Lying>]) {
    let width = |stitch: &FabricStitch| match stitch.kind {
        StitchKind::Purl | StitchKind::PurlDecrease => 1.0 - RECEDES,
        StitchKind::Knit | StitchKind::Twisted => 1.0 + RECEDES,
        _ => 1.0,
    };
    let mut begin = 0;
    for row in fabric
        .stitches
        .chunk_by(|a, b| a.made.step == b.made.step && a.region == b.region)
    {
        let ids = begin..begin + row.len();
        begin = ids.end;
        let is = |kind| row.iter().any(|stitch| stitch.kind == kind);
        if !is(StitchKind::Purl) || !(is(StitchKind::Knit) || is(StitchKind::Twisted)) {
            continue;
        }
        let mut seen: Vec<(f32, usize, f32)> = ids
            .zip(row)
            .filter_map(|(id, stitch)| {
                let place = lying.get(id)?.as_ref()?.place;
                Some((place, id, width(stitch)))
            })
            .collect();
        sort(&mut seen, |a, b| {
            a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).is_lt()
        });
        let (Some(first), Some(last)) = (seen.first(), seen.last()) else {
            continue;
        };
        let all: f32 = seen.iter().map(|(_, _, width)| width).sum();
        let scale = (last.0 - first.0 + 1.0) / all;
        let mut at = first.0 - 0.5;
        for (place, id, width) in &seen {
            let wide = width * scale;
            let to = at + wide / 2.0;
            at += wide;
            if let Some(Some(lying)) = lying.get_mut(*id) {
                lying.head = lying.head.on(lying.across, to - place);
                lying.across = point(0.0, 0.0).on(lying.across, wide);
            }
        }
    }
}

/// How far the stitches of a cross lie on their way in the row below it, and in the one above still: it
/// pulls at its neighbours.
const PULLED: f32 = 0.34;
const PULLED_NEXT: f32 = 0.12;

/// Spreads what crosses over the rows around it.
fn cross(fabric: &Fabric, lying: &mut [Option<Lying>]) {
    let index = |id: u32| usize::try_from(id).unwrap_or(usize::MAX);
    let mut ways: Vec<(usize, f32)> = Vec::new();
    for (id, stitch) in fabric.stitches.iter().enumerate() {
        let [Some(below), _] = stitch.below.map(|id| id.map(index)) else {
            continue;
        };
        let place = |id: usize| lying.get(id).copied().flatten().map(|lying| lying.place);
        let below_that = |id: usize| fabric.stitches.get(id)?.below[0].map(index);
        if stitch.cable.is_some() {
            let (Some(to), Some(from)) = (place(id), place(below)) else {
                continue;
            };
            let way = to - from;
            ways.push((id, -way * PULLED));
            ways.push((below, way * PULLED));
            ways.extend(below_that(below).map(|id| (id, way * PULLED_NEXT)));
        } else if fabric
            .stitches
            .get(below)
            .is_some_and(|s| s.cable.is_some())
            && let (Some(to), Some(from)) = (place(below), below_that(below).and_then(place))
        {
            ways.push((id, (from - to) * PULLED_NEXT));
        }
    }
    for (id, way) in ways {
        if let Some(Some(lying)) = lying.get_mut(id) {
            lying.head = lying.head.on(lying.across, way);
        }
    }
}

/// Whether a stitch lies in front of others: one that crosses, and what is worked into it and was before.
fn in_front(fabric: &Fabric) -> Vec<bool> {
    let mut front = vec![false; fabric.stitches.len()];
    for (id, stitch) in fabric.stitches.iter().enumerate() {
        let below = stitch.below[0].and_then(|id| usize::try_from(id).ok());
        let crosses = |id: usize| {
            let stitch = fabric.stitches.get(id);
            stitch.is_some_and(|s| s.cable == Some(CableLayer::Front))
        };
        if crosses(id) {
            front[id] = true;
            if let Some(below) = below {
                front[below] = true;
            }
        } else if below.is_some_and(crosses) {
            front[id] = true;
        }
    }
    front
}
