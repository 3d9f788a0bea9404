//! How a sock lies on the table: on its side, folded along the middle of its front and of its back, the
//! leg upright and the foot turned out of it. Says where a stitch lies by its region, its place in the
//! round and its row. Millimetres, from the simulator's counts and the plan's lengths; the origin is where
//! leg, instep and heel meet.

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::recipe::Direction;
use evenloop_engine::units::Length;

use super::knitting::Fabric;
use super::point::{Point, point};
use super::stitch::{FabricStitch, PlaceInRound, Region, Zone};

/// The foot's direction: 60 degrees out of the leg's. A flap with its gusset lies flat at about that angle.
const TOES: Point = point(0.866, 0.5);

/// From the instep to the sole, square to the foot.
const SOLE: Point = point(-0.5, 0.866);

/// From the front of the leg to its back.
const BACK: Point = point(-1.0, 0.0);

/// Out of the middle of the heel: half way between the leg's back and the sole.
const HEEL: Point = point(-0.866, 0.5);

/// Where the front edges of leg and foot would meet, in widths of half the front: the tangent of half of 60
/// degrees.
const MITRE: f32 = 0.577;

const ORIGIN: Point = point(0.0, 0.0);

/// Where a stitch lies and how its round runs there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Lying {
    /// Its upper end, where the next row is worked into it.
    pub(crate) head: Point,
    /// One stitch further toward the back.
    pub(crate) across: Point,
    /// How many stitches it is away from where front and back meet; negative on the front.
    pub(crate) place: f32,
}

/// A sock on the table.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Lie {
    toe_up: bool,
    /// How wide a stitch is.
    pub(crate) stitch: f32,
    /// How high a row is.
    pub(crate) row: f32,
    /// Half of the front, half of the back.
    half: f32,
    cuff: f32,
    leg: f32,
    flap: f32,
    gusset: f32,
    foot: f32,
    toe: f32,
    /// Stitches along the flap's edge.
    along_flap: f32,
    /// Stitches of the turned heel that can be seen.
    turned: f32,
    /// Stitches of the heel before it is turned.
    heel: u16,
    /// Rows of a short-row heel in the middle.
    heel_rows: f32,
}

impl Lie {
    /// Of a plan and its fabric.
    pub(crate) fn of(plan: &Plan, fabric: &Fabric) -> Self {
        let outcome = &plan.outcome;
        let length = |kind| {
            let section = outcome.sections.iter().find(|s| s.kind == kind);
            section.map_or(0.0, |s| mm(s.length))
        };
        let toe_up = plan.recipe.direction == Direction::ToeUp;
        let around = f32::from(outcome.stitches.max(1));
        let stitch = mm(outcome.circumference) / around;
        let back = fabric
            .stitches
            .iter()
            .filter(|s| s.region == Region::Gusset && s.place.zone == Zone::Back)
            .map(|s| s.place.of);
        let (along_flap, turned) = if toe_up {
            let (least, most) = back.fold((u16::MAX, 0), |(least, most), of| {
                (least.min(of), most.max(of))
            });
            (
                f32::from(most.saturating_sub(least)) / 2.0,
                f32::from(outcome.heel_stitches) / 2.0,
            )
        } else {
            (
                f32::from(outcome.picked_up),
                f32::from(outcome.turned) / 2.0,
            )
        };
        let swatch = &plan.recipe.swatch;
        let heel_rows = fabric
            .stitches
            .iter()
            .filter(|s| {
                matches!(
                    s.region,
                    Region::ShortHeel | Region::Turn | Region::LateHeel
                )
            })
            .map(|s| s.rows)
            .max();
        let cuff = length(SectionKind::Cuff);
        Self {
            toe_up,
            stitch,
            row: mm(swatch.height) / f32::from(swatch.rounds.max(1)),
            half: stitch * around / 4.0,
            cuff,
            leg: (mm(outcome.leg_length) - cuff).max(1.0),
            flap: length(SectionKind::HeelFlap),
            gusset: length(SectionKind::Gusset),
            foot: length(SectionKind::Foot),
            toe: length(SectionKind::Toe),
            along_flap,
            turned,
            heel: outcome.heel_stitches,
            heel_rows: f32::from(heel_rows.unwrap_or(0)),
        }
    }

    /// Whether it was begun at the toe.
    pub(crate) const fn is_toe_up(&self) -> bool {
        self.toe_up
    }

    /// Where a stitch lies; `None` on the side that is turned away.
    pub(crate) fn lying(&self, stitch: &FabricStitch) -> Option<Lying> {
        let across = self.across_of(stitch)?;
        let part = done(stitch);
        let [front, back] = [across - 0.5, across + 0.5]
            .map(|across| self.at(stitch.region, stitch.place, across, part));
        Some(Lying {
            head: front.toward(back, 0.5),
            across: front.to(back),
            place: across,
        })
    }

    /// Whether a stitch is the last one before the fold.
    pub(crate) fn at_fold(&self, stitch: &FabricStitch) -> bool {
        let place = stitch.place;
        self.across(place).is_some_and(|across| {
            let fold = f32::from(self.beside(place)) + f32::from(place.of) / 2.0;
            across.abs() + 0.6 > fold
        })
    }

    /// Stitches between the back and the front that lie before a place, on the side that is seen.
    const fn beside(&self, place: PlaceInRound) -> u16 {
        match (place.zone, self.toe_up) {
            (Zone::Back, false) => place.gussets.0,
            (Zone::Back, true) => place.gussets.1,
            (Zone::Front | Zone::AfterBack | Zone::AfterFront, _) => 0,
        }
    }

    /// How many stitches away from the line where front and back meet: negative on the front.
    fn across_of(&self, stitch: &FabricStitch) -> Option<f32> {
        if stitch.region != Region::Turn || self.toe_up {
            return self.across(stitch.place);
        }
        // A turn that is decreased loses its columns on both sides in turn, first on the one that is seen:
        // its middle stays where it was.
        let gone = self.heel.saturating_sub(stitch.place.of) / 2;
        let half = f32::from(self.heel) / 2.0;
        let from_fold = f32::from(stitch.place.at) + f32::from(gone) + 0.5 - half;
        (from_fold > 0.0).then_some(half - from_fold)
    }

    fn across(&self, place: PlaceInRound) -> Option<f32> {
        // From the cuff down a round runs from the back to the front on the side that is seen; from the
        // toe up it is the other way round.
        let (last, at) = (
            f32::from(place.of) - 1.0 - f32::from(place.at),
            f32::from(place.at),
        );
        let (gusset, from_side, beside) = match (place.zone, self.toe_up) {
            (Zone::Front, false) => (0, -at - 0.5, false),
            (Zone::Front, true) => (0, -last - 0.5, false),
            (Zone::AfterBack, false) => (0, last + 0.5, true),
            (Zone::AfterFront, true) => (0, at + 0.5, true),
            (Zone::AfterBack, true) | (Zone::AfterFront, false) => return None,
            (Zone::Back, false) => (place.gussets.0, last + 0.5, false),
            (Zone::Back, true) => (place.gussets.1, at + 0.5, false),
        };
        if !beside && from_side.abs() > f32::from(place.of) / 2.0 + 0.1 {
            return None;
        }
        Some(f32::from(gusset) + from_side)
    }

    /// A place of a region: so many stitches from the side, and so much of its rows done.
    fn at(&self, region: Region, place: PlaceInRound, across: f32, done: f32) -> Point {
        // From the cuff toward the toe.
        let down = if self.toe_up { 1.0 - done } else { done };
        let far = across * self.stitch;
        match region {
            Region::Cuff => point(-far, -self.leg - self.cuff * (1.0 - down)),
            Region::Leg => {
                let along = -self.leg * (1.0 - down);
                if far < 0.0 {
                    self.front(along, -far)
                } else {
                    point(-far, along)
                }
            }
            Region::Gusset => self.tube(self.gusset * down, far, place),
            Region::Foot => self.tube(self.gusset + self.foot * down, far, place),
            Region::Toe => ORIGIN
                .on(TOES, self.gusset + self.foot + self.toe * down)
                .on(SOLE, far),
            Region::Flap => {
                let outside = if self.toe_up {
                    place.outside.0
                } else {
                    place.outside.1
                };
                let out = (across - f32::from(outside)) * self.stitch;
                point(-out, self.flap * down)
            }
            Region::Turn if self.toe_up => {
                // The gusset waits beside it.
                let wide = f32::from(place.of) / 2.0 - self.turned;
                self.fan((across - wide) * self.stitch, down, 0.14)
            }
            Region::Turn => {
                // Its rows hang from where they take up the flap's last row, further and further toward
                // the instep.
                let taken_up = f32::from(self.heel.saturating_sub(place.of).div_ceil(2));
                let waiting = f32::from(place.outside.1);
                let far = across - taken_up - waiting;
                let wide = (f32::from(self.heel) / 2.0 - taken_up - waiting).max(1.0);
                // The cup of the heel stands out, most in its middle.
                let out = 4.0 * down * (1.0 - down) * 0.2 * self.half * (far / wide).powi(2);
                point(-waiting * self.stitch, self.flap)
                    .on(BACK.between(SOLE, down), far * self.stitch + out)
            }
            Region::ShortToe => {
                let tip = ORIGIN.on(TOES, self.gusset + self.foot);
                if done <= 0.0 || across < 0.0 {
                    return tip.on(SOLE, if self.toe_up { -far.abs() } else { far });
                }
                // Round the tip, from the sole to the instep.
                let way = if down < 0.5 {
                    SOLE.between(TOES, down * 2.0)
                } else {
                    TOES.between(point(-SOLE.x, -SOLE.y), down * 2.0 - 1.0)
                };
                let out =
                    4.0 * down * (1.0 - down) * (self.toe.min(self.half * 0.9) / self.half - 1.0);
                tip.on(way, far * (1.0 + out))
            }
            Region::ShortHeel => {
                // As much further out as the rows are longer than the way round a corner.
                let way = self.half * 1.047;
                let bulge = ((self.heel_rows * self.row / way - 1.0) * 0.8).clamp(0.1, 0.75);
                self.fan(far, down, bulge)
            }
            Region::LateHeel => self.late_heel(across, done),
        }
    }

    /// Rows that lie round the corner of the heel.
    fn fan(&self, far: f32, down: f32, bulge: f32) -> Point {
        let out = 4.0 * down * (1.0 - down) * bulge * (far / self.half).clamp(0.0, 1.2);
        let way = BACK.between(SOLE, down);
        point(0.0, self.flap).on(way, far * (1.0 + out))
    }

    /// From the slit between leg and sole outward, until both sides meet.
    fn late_heel(&self, across: f32, done: f32) -> Point {
        let side = if across < 0.0 { BACK } else { SOLE };
        ORIGIN
            .on(HEEL, done * self.heel_rows * self.row * 0.8)
            .on(side.between(HEEL, done), across.abs() * self.stitch)
    }

    /// Instep and sole: `along` is measured from where leg and instep meet.
    fn tube(&self, along: f32, far: f32, place: PlaceInRound) -> Point {
        if far < 0.0 {
            return self.front(along, -far);
        }
        let side = ORIGIN.on(TOES, along);
        let gussets = f32::from(if self.toe_up {
            place.gussets.1
        } else {
            place.gussets.0
        });
        let of = match place.zone {
            Zone::Back => gussets + f32::from(place.of) / 2.0,
            // The heel's own stitches are as many as were turned.
            _ => gussets + self.turned,
        };
        let part = far / self.stitch / of.max(1.0);
        let sole = self.sole(along);
        if along >= self.gusset {
            return side.toward(sole, part);
        }
        let turn = self.along_flap / (self.along_flap + self.turned).max(1.0);
        let begin = point(0.0, self.flap);
        let end = ORIGIN
            .on(TOES, self.gusset)
            .toward(self.sole(self.gusset), turn);
        let corner = begin.toward(end, along / self.gusset.max(1.0));
        if part < turn {
            side.toward(corner, part / turn)
        } else {
            corner.toward(sole, (part - turn) / (1.0 - turn))
        }
    }

    /// The lower edge of the foot. The sole is shorter than the instep where a flap stands on it: its rows
    /// make that up on the way to the toe.
    fn sole(&self, along: f32) -> Point {
        let whole = (self.gusset + self.foot).max(1.0);
        let begin = point(0.0, self.flap).on(SOLE, self.turned * self.stitch);
        if self.flap <= 0.0 {
            return ORIGIN.on(TOES, along).on(SOLE, self.half);
        }
        let (ahead, deep) = (
            begin.x * TOES.x + begin.y * TOES.y,
            begin.x * SOLE.x + begin.y * SOLE.y,
        );
        let part = along / whole;
        let part_narrow = (along / (self.gusset * 1.8).min(whole).max(1.0)).min(1.0);
        let narrow = part_narrow * (1.0 + 0.6 * (1.0 - part_narrow));
        ORIGIN
            .on(TOES, ahead + (whole - ahead) * part)
            .on(SOLE, deep + (self.half - deep) * narrow)
    }

    /// The front half, bent at the ankle: its rows spread like a fan.
    fn front(&self, along: f32, far: f32) -> Point {
        let bend = self.half * 1.5;
        let side = if along < 0.0 {
            point(0.0, along)
        } else {
            ORIGIN.on(TOES, along)
        };
        if along <= -bend {
            return point(far, along);
        }
        if along >= bend {
            return side.on(SOLE, -far);
        }
        let corner = point(self.half, -self.half * MITRE);
        let (begin, end) = (
            point(self.half, -bend),
            ORIGIN.on(TOES, bend).on(SOLE, -self.half),
        );
        let part = (along + bend) / (2.0 * bend);
        let edge = begin
            .toward(corner, part)
            .toward(corner.toward(end, part), part);
        side.toward(edge, far / self.half)
    }
}

/// How much of a stitch's column is knitted once it is.
fn done(stitch: &FabricStitch) -> f32 {
    f32::from(stitch.row) / f32::from(stitch.rows.max(1))
}

fn mm(length: Length) -> f32 {
    // Lengths of socks are far below what a small float holds exactly.
    #[allow(clippy::cast_possible_truncation)]
    let mm = (length.as_cm() * 10.0) as f32;
    mm
}
