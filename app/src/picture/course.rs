//! Where needles run on the picture's field, and which way is forward and outward on them.
//!
//! Round the ring one goes clockwise: along the bottom from right to left, as right-side knitting
//! goes, and back along the top. The bottom is nearest to the knitter. With the wrong side facing
//! everything is seen from the other side, so the field is mirrored and work still runs from right
//! to left.

use super::look::Look;
use crate::circle::sin_cos;

/// Width of the field.
pub(super) const WIDE: f32 = 336.0;
/// Height of the field.
pub(super) const HIGH: f32 = 178.0;
/// The height at which the lower of two needles runs.
const LOW: f32 = 135.0;
/// How much of a needle stays free at a corner where it meets another.
const CLEAR: f32 = 11.0;
/// How far the fabric reaches outward from a needle.
pub(super) const BAND: f32 = 25.0;
/// How much further it hangs from the needle that is nearest, where there is room below the field.
pub(super) const FALL: f32 = 72.0;

/// A place or a direction on the field.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct PicturePoint {
    pub x: f32,
    pub y: f32,
}

impl PicturePoint {
    pub(super) const fn new(x: f32, y: f32) -> Self {
        Self { x, y }
    }

    /// This place, moved `far` in a direction.
    pub(super) fn go(self, way: Self, far: f32) -> Self {
        Self {
            x: self.x + way.x * far,
            y: self.y + way.y * far,
        }
    }

    /// Part of the way to another place.
    pub(super) fn toward(self, other: Self, part: f32) -> Self {
        Self {
            x: self.x + (other.x - self.x) * part,
            y: self.y + (other.y - self.y) * part,
        }
    }

    fn mirrored(self) -> Self {
        Self {
            x: WIDE - self.x,
            y: self.y,
        }
    }
}

/// A place on a needle with its directions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct CoursePoint {
    pub at: PicturePoint,
    /// The way right-side knitting goes.
    pub along: PicturePoint,
    /// Away from the inside of the ring.
    pub out: PicturePoint,
}

/// How one needle runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Course {
    /// Straight.
    Line {
        from: PicturePoint,
        along: PicturePoint,
        length: f32,
    },
    /// All the way round: two straights joined by half circles, beginning at the middle of the
    /// right end.
    Round {
        half: f32,
        radius: f32,
        middle: PicturePoint,
    },
}

/// All needles of a picture.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NeedleCourses {
    pub courses: Vec<Course>,
    pub mirrored: bool,
    /// Needles whose stitches are not shown at the scale of the others.
    pub squeezed: Option<usize>,
    middle: PicturePoint,
}

impl NeedleCourses {
    /// The field for so many needles.
    pub(super) fn new(look: Look, needles: usize, joined: bool, mirrored: bool) -> Self {
        let mut middle = PicturePoint::new(WIDE / 2.0, HIGH / 2.0);
        let mut squeezed = None;
        let courses = match needles {
            0 => Vec::new(),
            1 if joined => vec![Course::Round {
                half: 54.0,
                radius: 43.0,
                middle,
            }],
            1 => vec![line(
                PicturePoint::new(300.0, 100.0),
                PicturePoint::new(36.0, 100.0),
                0.0,
            )],
            2 => vec![
                line(
                    PicturePoint::new(288.0, LOW),
                    PicturePoint::new(34.0, LOW),
                    0.0,
                ),
                line(
                    PicturePoint::new(34.0, HIGH - LOW),
                    PicturePoint::new(288.0, HIGH - LOW),
                    0.0,
                ),
            ],
            // A long circular on its way from one seating to the other: the instep waits at the
            // left, where its middle will be.
            3 if matches!(look, Look::Loop | Look::Pair) => {
                squeezed = Some(1);
                vec![
                    line(
                        PicturePoint::new(288.0, LOW),
                        PicturePoint::new(96.0, LOW),
                        0.0,
                    ),
                    line(
                        PicturePoint::new(68.0, LOW - 3.0),
                        PicturePoint::new(68.0, HIGH - LOW + 3.0),
                        0.0,
                    ),
                    line(
                        PicturePoint::new(96.0, HIGH - LOW),
                        PicturePoint::new(288.0, HIGH - LOW),
                        0.0,
                    ),
                ]
            }
            3 => {
                middle.y = 80.0;
                closed(&[
                    PicturePoint::new(168.0, 166.0),
                    PicturePoint::new(40.0, 43.0),
                    PicturePoint::new(296.0, 43.0),
                ])
            }
            4 => closed(&[
                PicturePoint::new(168.0, 147.0),
                PicturePoint::new(12.0, 89.0),
                PicturePoint::new(168.0, 31.0),
                PicturePoint::new(324.0, 89.0),
            ]),
            more => {
                let corners: Vec<PicturePoint> = (0..more).map(|i| corner(i, more)).collect();
                closed(&corners)
            }
        };
        Self {
            courses,
            mirrored,
            squeezed,
            middle,
        }
    }

    /// Whether a place lies within the ring, so far from every straight needle.
    pub(super) fn is_inside(&self, spot: PicturePoint, clear: f32) -> bool {
        (0..self.courses.len()).all(|n| {
            let place = self.place(n, 0.0);
            let out = (spot.x - place.at.x) * place.out.x + (spot.y - place.at.y) * place.out.y;
            self.is_round() || out <= -clear
        })
    }

    /// Where the total of needle `n` stands.
    pub(super) fn total(&self, n: usize) -> PicturePoint {
        let spot = match (self.courses.len(), n) {
            (1, _) if self.is_round() => self.middle,
            (1, _) => self.middle.go(PicturePoint::new(0.0, -1.0), 30.0),
            (2, 0) => PicturePoint::new(161.0, 100.0),
            (2, _) => PicturePoint::new(161.0, 78.0),
            (3, n) if self.squeezed.is_some() => [
                PicturePoint::new(194.0, 100.0),
                PicturePoint::new(104.0, 89.0),
                PicturePoint::new(194.0, 78.0),
            ][n.min(2)],
            (3, n) => [
                PicturePoint::new(114.0, 80.0),
                PicturePoint::new(168.0, 62.0),
                PicturePoint::new(222.0, 80.0),
            ][n.min(2)],
            (4, n) => [
                PicturePoint::new(124.0, 100.0),
                PicturePoint::new(124.0, 78.0),
                PicturePoint::new(212.0, 78.0),
                PicturePoint::new(212.0, 100.0),
            ][n.min(3)],
            _ => {
                let half = self
                    .courses
                    .get(n)
                    .map_or(self.middle, |c| c.place(self.length(n) / 2.0).at);
                half.toward(self.middle, 0.5)
            }
        };
        if self.mirrored { spot.mirrored() } else { spot }
    }

    /// Where it is said that the wrong side faces.
    pub(super) fn side(&self) -> PicturePoint {
        match self.courses.len() {
            1 if self.is_round() => PicturePoint::new(WIDE / 2.0, 110.0),
            // above what lies on a needle that is no ring yet
            1 => PicturePoint::new(WIDE / 2.0, 38.0),
            2 => PicturePoint::new(WIDE - 161.0, 118.0),
            3 => PicturePoint::new(WIDE / 2.0, 100.0),
            _ => self.middle,
        }
    }

    /// Where the round begins, where needles meet in corners: the corner and the way into the ring.
    pub(super) fn first_corner(&self) -> Option<(PicturePoint, PicturePoint)> {
        if self.courses.len() < 3 || self.squeezed.is_some() {
            return None;
        }
        let corner = self.place(0, -CLEAR).at;
        let (x, y) = (self.middle.x - corner.x, self.middle.y - corner.y);
        let far = x.hypot(y).max(1.0);
        Some((corner, PicturePoint::new(x / far, y / far)))
    }

    /// Whether one needle runs all the way round.
    pub(super) fn is_round(&self) -> bool {
        matches!(self.courses.first(), Some(Course::Round { .. }))
    }

    /// The place `s` along needle `n`.
    pub(super) fn place(&self, n: usize, s: f32) -> CoursePoint {
        let place = self.courses.get(n).map_or(NOWHERE, |c| c.place(s));
        if self.mirrored {
            let turned = |way: PicturePoint| PicturePoint::new(-way.x, way.y);
            CoursePoint {
                at: place.at.mirrored(),
                along: turned(place.along),
                out: turned(place.out),
            }
        } else {
            place
        }
    }

    /// How long needle `n` is.
    pub(super) fn length(&self, n: usize) -> f32 {
        match self.courses.get(n) {
            Some(Course::Line { length, .. }) => *length,
            Some(Course::Round { half, radius, .. }) => 4.0 * half + std::f32::consts::TAU * radius,
            None => 0.0,
        }
    }
}

const NOWHERE: CoursePoint = CoursePoint {
    at: PicturePoint::new(0.0, 0.0),
    along: PicturePoint::new(-1.0, 0.0),
    out: PicturePoint::new(0.0, 1.0),
};

impl Course {
    fn place(self, s: f32) -> CoursePoint {
        match self {
            Self::Line { from, along, .. } => CoursePoint {
                at: from.go(along, s),
                along,
                out: PicturePoint::new(along.y, -along.x),
            },
            Self::Round {
                half,
                radius,
                middle,
            } => {
                let quarter = std::f32::consts::FRAC_PI_2 * radius;
                let bend = |centre: f32, angle: f32| {
                    let (sin, cos) = sin_cos(angle);
                    CoursePoint {
                        at: PicturePoint::new(
                            middle.x + centre + radius * cos,
                            middle.y + radius * sin,
                        ),
                        along: PicturePoint::new(-sin, cos),
                        out: PicturePoint::new(cos, sin),
                    }
                };
                let straight = |x: f32, down: f32| CoursePoint {
                    at: PicturePoint::new(middle.x + x, middle.y + down * radius),
                    along: PicturePoint::new(-down, 0.0),
                    out: PicturePoint::new(0.0, down),
                };
                let around = 4.0 * (half + quarter);
                let s = s.rem_euclid(around);
                let end = |n: f32, m: f32| n * quarter + m * 2.0 * half;
                if s < end(1.0, 0.0) {
                    bend(half, s / radius)
                } else if s < end(1.0, 1.0) {
                    straight(half - (s - quarter), 1.0)
                } else if s < end(3.0, 1.0) {
                    bend(
                        -half,
                        std::f32::consts::FRAC_PI_2 + (s - end(1.0, 1.0)) / radius,
                    )
                } else if s < end(3.0, 2.0) {
                    straight((s - end(3.0, 1.0)) - half, -1.0)
                } else {
                    bend(
                        half,
                        3.0 * std::f32::consts::FRAC_PI_2 + (s - end(3.0, 2.0)) / radius,
                    )
                }
            }
        }
    }
}

/// A straight needle between two corners, kept clear of both by `clear`.
fn line(from: PicturePoint, to: PicturePoint, clear: f32) -> Course {
    let (x, y) = (to.x - from.x, to.y - from.y);
    let all = x.hypot(y).max(1.0);
    let along = PicturePoint::new(x / all, y / all);
    Course::Line {
        from: from.go(along, clear),
        along,
        length: all - 2.0 * clear,
    }
}

/// Needles from corner to corner, the last one back to the first.
fn closed(corners: &[PicturePoint]) -> Vec<Course> {
    corners
        .iter()
        .zip(corners.iter().cycle().skip(1))
        .map(|(from, to)| line(*from, *to, CLEAR))
        .collect()
}

fn corner(i: usize, of: usize) -> PicturePoint {
    let small = |n: usize| f32::from(u16::try_from(n).unwrap_or(0));
    let angle = std::f32::consts::FRAC_PI_2 + std::f32::consts::TAU * small(i) / small(of);
    let (sin, cos) = sin_cos(angle);
    PicturePoint::new(168.0 + 150.0 * cos, 89.0 + 68.0 * sin)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_round_needle_closes_and_runs_clockwise() {
        let field = NeedleCourses::new(Look::Ring, 1, true, false);
        let around = field.length(0);
        let (start, end) = (field.place(0, 0.0), field.place(0, around - 0.001));
        assert!((start.at.x - end.at.x).abs() < 0.1 && (start.at.y - end.at.y).abs() < 0.1);
        // a quarter of the way on it is at the bottom, going left
        let bottom = field.place(0, around / 4.0);
        assert!(bottom.along.x < -0.99 && bottom.out.y > 0.99, "{bottom:?}");
        // no jump anywhere
        let mut before = start.at;
        for i in 1_u16..=600 {
            let at = field.place(0, around * f32::from(i) / 600.0).at;
            assert!(
                (at.x - before.x).hypot(at.y - before.y) < 1.2,
                "jump at {i}"
            );
            before = at;
        }
    }

    #[test]
    fn outward_is_away_from_the_middle() {
        for look in [Look::Loop, Look::Pair, Look::Points, Look::Ring] {
            for needles in 2..=6 {
                for mirrored in [false, true] {
                    let field = NeedleCourses::new(look, needles, true, mirrored);
                    let middle = PicturePoint::new(WIDE / 2.0, HIGH / 2.0);
                    for n in 0..needles {
                        let place = field.place(n, field.length(n) / 2.0);
                        let way = PicturePoint::new(place.at.x - middle.x, place.at.y - middle.y);
                        assert!(
                            way.x * place.out.x + way.y * place.out.y > 0.0,
                            "{look:?} {needles} {n}"
                        );
                    }
                }
            }
        }
    }
}
