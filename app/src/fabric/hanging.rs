//! The fabric that hangs from the needles: below every loop the last rows that were knitted, as the needle picture
//! shows them. Follows the knitting from touch to touch, so that a touch costs one round and not the whole sock.
//!
//! Pure: may use the plan's operations and the trace; the places of loops are given by whoever lays the needles out.

use evenloop_engine::plan::Plan;
use evenloop_engine::stitch::{Lean, Yarn};
use evenloop_engine::trace::{Position, Trace};

use super::knitting::Hands;
use super::loops::StitchId;
use super::path::Path;
use super::point::{Point, number, point};
use super::stitch::StitchKind;
use super::svg::{Drawing, stitches_markup};
use super::yarn_paths::{Detail, Drawn, FabricPaths};

/// How high a row is, in widths of a stitch: a knit stitch is wider than high.
const ROW: f32 = 0.78;

/// How far an edge that was cast on reaches below its loops, in rows.
const EDGE: f32 = 0.25;

/// Rows are followed down so far at most; more have no room in any picture.
const ROWS: usize = 24;

/// Between two loops of a needle, or at its end: where that is, and which way the fabric hangs there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hook {
    /// Where it is.
    pub at: (f32, f32),
    /// The way down from the needle, of length 1.
    pub down: (f32, f32),
}

/// Neighbouring loops of one needle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HangingPiece<'a> {
    /// The first of its loops, counted in ring order.
    pub first: usize,
    /// The places between its loops, one more than there are loops.
    pub hooks: &'a [Hook],
    /// How far down there is room, in units of the places.
    pub room: f32,
}

/// The knitting of one sock, at one place of its plan.
#[derive(Debug)]
pub struct HangingFabric {
    hands: Hands,
    at: Position,
    /// Steps that were begun.
    begun: usize,
}

/// A stitch in the picture.
#[derive(Debug, Clone, Copy)]
struct Hung {
    id: StitchId,
    /// How many rows its head lies below the needle.
    depth: f32,
    /// Its middle along the piece, from 0 to 1.
    place: f32,
}

impl HangingFabric {
    /// Nothing of a plan is knitted yet.
    pub fn of(plan: &Plan) -> Self {
        Self {
            hands: Hands::of(plan),
            at: Position::default(),
            begun: 0,
        }
    }

    /// Knits on to a place, or starts again for one that lies before. `None` where the trace is not the plan's; what
    /// hangs there must not be shown then.
    pub fn follow(&mut self, plan: &Plan, trace: &Trace, to: Position) -> Option<()> {
        if to < self.at {
            *self = Self::of(plan);
        }
        let steps = plan.sections.iter().flat_map(|section| &section.steps);
        let all = steps.zip(&trace.steps).enumerate();
        for (nth, (step, seen)) in all.skip(self.at.step) {
            if nth > to.step || (nth == to.step && to.mv == 0) {
                break;
            }
            if self.begun <= nth {
                self.begun = nth + 1;
                self.hands.begin(seen.kind);
            }
            let done = if nth == self.at.step { self.at.mv } else { 0 };
            let upto = if nth == to.step { to.mv } else { usize::MAX };
            let moves = step.moves.iter().zip(&seen.moves).enumerate();
            for (mv, (one, after)) in moves.skip(done).take_while(|(mv, _)| *mv < upto) {
                self.hands
                    .work_move(Position { step: nth, mv }, one, &after.after)?;
            }
        }
        self.at = to;
        (self.hands.ring().count()
            == trace
                .needles_at(to)
                .map_or(0, |n| usize::from(n.stitches())))
        .then_some(())
    }

    /// What hangs from some neighbouring loops, as text of SVG in the units of their places.
    pub fn markup(&self, piece: &HangingPiece<'_>, drawing: &Drawing<'_>) -> Option<String> {
        let loops = piece.hooks.len().checked_sub(1)?;
        let ids: Vec<StitchId> = self.hands.ring().skip(piece.first).take(loops).collect();
        if loops == 0 || ids.len() < loops {
            return None;
        }
        let (begin, end) = (piece.hooks.first()?, piece.hooks.last()?);
        let wide = on(begin).to(on(end)).length() / number(loops);
        // A piece that bends is longer than the way between its ends.
        let wide = piece.hooks.windows(2).fold(wide, |wide, two| {
            wide.max(on(&two[0]).to(on(&two[1])).length())
        });
        let row = (wide * ROW).max(2.6);
        let detail = Detail::Legs;
        let mut paths = FabricPaths::new(detail);
        let rows = self.rows(ids, piece.room / row);
        for (nth, level) in rows.iter().enumerate() {
            let below = rows.get(nth + 1).map_or(&[][..], Vec::as_slice);
            for hung in level {
                if let Some(drawn) = self.drawn(*hung, below, level.len(), piece, row) {
                    paths.draw(&drawn, matches!(drawn.kind, StitchKind::Decrease(_)));
                }
            }
        }
        let edge = |hung: &Hung| {
            let stitch = self.hands.stitch(hung.id);
            stitch.is_some_and(|stitch| stitch.kind == StitchKind::CastOn)
        };
        let deepest = rows.iter().flatten();
        let deepest = deepest.map(|hung| hung.depth + if edge(hung) { EDGE } else { 1.0 });
        let low = (deepest.fold(0.0, f32::max) * row).min(piece.room);
        let drawing = Drawing { detail, ..*drawing };
        let ground = ground(piece.hooks, low, detail);
        Some(stitches_markup(
            self.yarn(piece.first)?,
            &ground,
            &paths,
            &drawing,
            wide,
        ))
    }

    /// The yarn that is worked with.
    pub const fn working_yarn(&self) -> Yarn {
        self.hands.yarn()
    }

    /// The yarn of the first of some loops.
    pub fn yarn(&self, first: usize) -> Option<Yarn> {
        let id = self.hands.ring().nth(first)?;
        Some(self.hands.stitch(id)?.yarn)
    }

    /// The rows below some loops, from the needle down, each from end to end of the piece.
    fn rows(&self, ids: Vec<StitchId>, room: f32) -> Vec<Vec<Hung>> {
        let mut level: Vec<(StitchId, f32)> = ids.into_iter().map(|id| (id, 0.0)).collect();
        let mut rows = Vec::new();
        while !level.is_empty() && rows.len() < ROWS {
            let count = number(level.len());
            let hung = level.iter().enumerate().map(|(nth, (id, depth))| Hung {
                id: *id,
                depth: *depth,
                place: (number(nth) + 0.5) / count,
            });
            rows.push(hung.collect());
            // Round by round later stitches lie further on, back and forth in every other row the other way.
            let later = level.windows(2).filter(|two| two[0].0 < two[1].0).count();
            let forward = 2 * later >= level.len() - 1;
            let below = level.iter().flat_map(|(id, depth)| {
                let stitch = self.hands.stitch(*id);
                let depth = depth + 1.0 + stitch.map_or(0.0, |s| f32::from(s.slipped));
                let mut below: Vec<StitchId> = stitch
                    .map_or([None; 2], |s| s.below)
                    .into_iter()
                    .flatten()
                    .collect();
                below.sort_unstable();
                if !forward {
                    below.reverse();
                }
                below.into_iter().map(move |id| (id, depth))
            });
            level = below.filter(|(_, depth)| *depth < room).collect();
        }
        rows
    }

    /// A stitch where it hangs; `None` where it has no room at all.
    fn drawn(
        &self,
        hung: Hung,
        below: &[Hung],
        in_row: usize,
        piece: &HangingPiece<'_>,
        row: f32,
    ) -> Option<Drawn> {
        let stitch = self.hands.stitch(hung.id)?;
        let lowest = piece.room / row;
        let (at, down) = spot(piece.hooks, hung.place)?;
        let half = 0.5 / number(in_row);
        let across =
            spot(piece.hooks, hung.place - half)?
                .0
                .to(spot(piece.hooks, hung.place + half)?.0);
        let depth = |rows: f32| rows.min(lowest) * row;
        let head = at.on(down, depth(hung.depth));
        let into = |id: StitchId| {
            let one = below.iter().find(|one| one.id == id)?;
            let (at, down) = spot(piece.hooks, one.place)?;
            Some(at.on(down, depth(one.depth)))
        };
        let [first, second] = stitch.below.map(|id| id.and_then(into));
        let height = 1.0 + f32::from(stitch.slipped);
        let base = first.unwrap_or_else(|| at.on(down, depth(hung.depth + height)));
        Some(Drawn {
            kind: if self.hands.is_wrong_side() {
                from_behind(stitch.kind)
            } else {
                stitch.kind
            },
            yarn: stitch.yarn,
            double: stitch.double,
            base,
            second,
            head,
            across,
            up: point(-down.x * row, -down.y * row),
        })
    }
}

/// What a stitch looks like from the other side of the fabric.
const fn from_behind(kind: StitchKind) -> StitchKind {
    match kind {
        StitchKind::Knit
        | StitchKind::Twisted
        | StitchKind::Grafted
        | StitchKind::MakeOne(_)
        | StitchKind::PickedUp => StitchKind::Purl,
        StitchKind::Purl => StitchKind::Knit,
        StitchKind::Decrease(_) => StitchKind::PurlDecrease,
        StitchKind::PurlDecrease => StitchKind::Decrease(Lean::Right),
        StitchKind::CastOn | StitchKind::Opened | StitchKind::YarnOver | StitchKind::BoundOff => {
            kind
        }
    }
}

/// The area behind the stitches, down from the needle.
fn ground(hooks: &[Hook], low: f32, detail: Detail) -> Path {
    let mut path = Path::new(detail.steps());
    let Some(first) = hooks.first() else {
        return path;
    };
    path.go(on(first));
    hooks.iter().skip(1).for_each(|hook| path.line(on(hook)));
    let down = |hook: &Hook| on(hook).on(point(hook.down.0, hook.down.1), low);
    hooks.iter().rev().for_each(|hook| path.line(down(hook)));
    path.close(on(first));
    path
}

const fn on(hook: &Hook) -> Point {
    point(hook.at.0, hook.at.1)
}

/// A part of the way along the hooks: where it is and the way down.
fn spot(hooks: &[Hook], place: f32) -> Option<(Point, Point)> {
    let along = (place * number(hooks.len().checked_sub(1)?)).max(0.0);
    // No piece has more loops than fit a number of 16 bits.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
    let nth = (along as usize).min(hooks.len().checked_sub(2)?);
    let (from, to) = (hooks.get(nth)?, hooks.get(nth + 1)?);
    let part = along - number(nth);
    let down = |hook: &Hook| point(hook.down.0, hook.down.1);
    Some((
        on(from).toward(on(to), part),
        down(from).toward(down(to), part),
    ))
}
