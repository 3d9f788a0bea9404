//! Stitches as strokes of yarn: the legs of a V, the bump of a purl stitch, what lies across others. All of
//! a yarn and kind go into one path.

use evenloop_engine::stitch::Yarn;

use super::path::Path;
use super::point::Point;
use super::stitch::StitchKind;

/// How closely stitches are drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// Each leg of each stitch, with its shade.
    Legs,
    /// Each stitch as one stroke, for a picture no larger than a thumb.
    Strokes,
}

impl Detail {
    /// Steps of a path in a millimetre.
    pub(crate) const fn steps(self) -> f32 {
        match self {
            Self::Legs => 10.0,
            Self::Strokes => 4.0,
        }
    }
}

/// Everything that is drawn of one yarn, from the ground up.
#[derive(Debug, Clone)]
pub(crate) struct YarnPaths {
    /// Bumps of purl stitches.
    pub(crate) bumps: Path,
    /// Legs of V's on the side of the front.
    pub(crate) legs: Path,
    /// Legs of V's on the side of the back.
    pub(crate) other_legs: Path,
    /// Legs that lie on top of others: cables and decreases, twisted stitches.
    pub(crate) upper: Path,
    /// Threads over a hole, loops along an edge.
    pub(crate) threads: Path,
}

/// The paths of all yarns, and the holes between them.
#[derive(Debug, Clone)]
pub(crate) struct FabricPaths {
    detail: Detail,
    /// Yarns A to D.
    pub(crate) yarns: [YarnPaths; 4],
    /// Where one looks through the fabric.
    pub(crate) holes: Path,
}

/// A stitch where it lies.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Drawn {
    /// What it is.
    pub(crate) kind: StitchKind,
    /// Its yarn.
    pub(crate) yarn: Yarn,
    /// Whether a turn pulled it up to a double stitch.
    pub(crate) double: bool,
    /// Where it comes out of the row below.
    pub(crate) base: Point,
    /// The one it is worked together with, below.
    pub(crate) second: Option<Point>,
    /// Where the next row is worked into it.
    pub(crate) head: Point,
    /// One stitch further toward the back of the sock.
    pub(crate) across: Point,
    /// One row further in the direction of work.
    pub(crate) up: Point,
}

impl YarnPaths {
    const fn new(detail: Detail) -> Self {
        let steps = detail.steps();
        Self {
            bumps: Path::new(steps),
            legs: Path::new(steps),
            other_legs: Path::new(steps),
            upper: Path::new(steps),
            threads: Path::new(steps),
        }
    }
}

impl YarnPaths {
    /// Whether nothing is drawn with it.
    pub(crate) const fn is_empty(&self) -> bool {
        self.bumps.is_empty()
            && self.legs.is_empty()
            && self.other_legs.is_empty()
            && self.upper.is_empty()
            && self.threads.is_empty()
    }
}

impl FabricPaths {
    /// Nothing yet.
    pub(crate) fn new(detail: Detail) -> Self {
        Self {
            detail,
            yarns: Yarn::ALL.map(|_| YarnPaths::new(detail)),
            holes: Path::new(detail.steps()),
        }
    }

    /// The paths of a yarn.
    pub(crate) const fn of(&self, yarn: Yarn) -> &YarnPaths {
        let [a, b, c, d] = &self.yarns;
        match yarn {
            Yarn::A => a,
            Yarn::B => b,
            Yarn::C => c,
            Yarn::D => d,
        }
    }

    const fn of_mut(&mut self, yarn: Yarn) -> &mut YarnPaths {
        let [a, b, c, d] = &mut self.yarns;
        match yarn {
            Yarn::A => a,
            Yarn::B => b,
            Yarn::C => c,
            Yarn::D => d,
        }
    }

    /// Draws one stitch, in front of others or among them.
    pub(crate) fn draw(&mut self, stitch: &Drawn, front: bool) {
        let detail = self.detail;
        let paths = self.of_mut(stitch.yarn);
        if detail == Detail::Strokes {
            return self.stroke(stitch, front);
        }
        match stitch.kind {
            StitchKind::Knit
            | StitchKind::Grafted
            | StitchKind::MakeOne(_)
            | StitchKind::PickedUp => {
                if front {
                    both_legs(&mut paths.upper, stitch, stitch.base);
                } else {
                    paths.legs.leg(stitch, stitch.base, -1.0);
                    paths.other_legs.leg(stitch, stitch.base, 1.0);
                }
                if stitch.double {
                    // Both legs of it were pulled over the needle.
                    let pulled = stitch.head.on(stitch.up, -0.3);
                    both_legs(&mut paths.upper, stitch, pulled);
                }
            }
            StitchKind::Twisted => {
                // The legs cross: one goes over to the other side.
                paths.legs.crossing(stitch, -1.0);
                paths.upper.crossing(stitch, 1.0);
            }
            StitchKind::Decrease(_) => {
                if let Some(second) = stitch.second {
                    paths.legs.leg(stitch, second, -1.0);
                    paths.other_legs.leg(stitch, second, 1.0);
                }
                // The one on top stands where both were.
                let own = stitch.head.on(stitch.up, -1.0);
                both_legs(&mut paths.upper, stitch, stitch.base.toward(own, 0.5));
            }
            StitchKind::Opened => {}
            StitchKind::Purl | StitchKind::PurlDecrease => paths.bumps.bump(stitch),
            StitchKind::CastOn | StitchKind::BoundOff => paths.threads.edge(stitch),
            StitchKind::YarnOver => {
                paths.threads.thread(stitch);
                self.holes.hole(stitch);
            }
        }
    }

    /// A stitch in one stroke.
    fn stroke(&mut self, stitch: &Drawn, front: bool) {
        let paths = self.of_mut(stitch.yarn);
        match stitch.kind {
            StitchKind::Opened => {}
            StitchKind::Purl | StitchKind::PurlDecrease => paths.bumps.flat(stitch, -0.3),
            StitchKind::CastOn | StitchKind::BoundOff => paths.threads.flat(stitch, 0.0),
            StitchKind::YarnOver => self.holes.hole(stitch),
            StitchKind::Decrease(_) => paths.upper.vee(stitch),
            _ if front => paths.upper.vee(stitch),
            _ => paths.legs.vee(stitch),
        }
    }
}

fn both_legs(path: &mut Path, stitch: &Drawn, base: Point) {
    path.leg(stitch, base, -1.0);
    path.leg(stitch, base, 1.0);
}

/// How far from a stitch's middle a leg begins and ends, in widths of a stitch.
const FOOT: f32 = 0.09;
const TOP: f32 = 0.39;

/// How far above a stitch's head its legs end, in rows: V's lie in one another.
const RISE: f32 = 0.16;

impl Path {
    /// One leg of a V; `side` is -1 toward the front, 1 toward the back.
    fn leg(&mut self, stitch: &Drawn, base: Point, side: f32) {
        self.go(base.on(stitch.across, side * FOOT).on(stitch.up, 0.12));
        self.line(
            stitch
                .head
                .on(stitch.across, side * TOP)
                .on(stitch.up, RISE),
        );
    }

    /// Both legs of a V in one stroke.
    fn vee(&mut self, stitch: &Drawn) {
        let top = |side: f32| stitch.head.on(stitch.across, side * TOP);
        self.go(top(-1.0));
        self.line(stitch.base);
        self.line(top(1.0));
    }

    fn flat(&mut self, stitch: &Drawn, above: f32) {
        let middle = stitch.head.on(stitch.up, above);
        self.go(middle.on(stitch.across, -0.4));
        self.line(middle.on(stitch.across, 0.4));
    }

    fn crossing(&mut self, stitch: &Drawn, side: f32) {
        self.go(stitch
            .base
            .on(stitch.across, -side * 0.22)
            .on(stitch.up, 0.1));
        self.line(
            stitch
                .head
                .on(stitch.across, side * TOP)
                .on(stitch.up, RISE),
        );
    }

    fn bump(&mut self, stitch: &Drawn) {
        let low = stitch.head.on(stitch.up, -0.62);
        self.go(low.on(stitch.across, -0.36));
        self.bend(stitch.head.on(stitch.up, 0.08), low.on(stitch.across, 0.36));
    }

    fn edge(&mut self, stitch: &Drawn) {
        self.go(stitch.head.on(stitch.across, -0.42).on(stitch.up, -0.12));
        self.line(stitch.head.on(stitch.across, 0.42).on(stitch.up, 0.12));
    }

    fn thread(&mut self, stitch: &Drawn) {
        self.go(stitch.head.on(stitch.across, -0.42).on(stitch.up, 0.05));
        self.bend(
            stitch.head.on(stitch.up, 0.45),
            stitch.head.on(stitch.across, 0.42).on(stitch.up, 0.05),
        );
    }

    fn hole(&mut self, stitch: &Drawn) {
        let middle = stitch.head.on(stitch.up, -0.3);
        let (front, back) = (
            middle.on(stitch.across, -0.5),
            middle.on(stitch.across, 0.5),
        );
        self.go(front);
        self.bend(middle.on(stitch.up, 1.5), back);
        self.bend(middle.on(stitch.up, -1.5), front);
        self.close(front);
    }
}
