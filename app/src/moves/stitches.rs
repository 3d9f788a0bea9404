//! Stitches on two needles as they are seen while one is worked: rows of loops, each drawn out of the one
//! below it, the needle that holds them at the left, the one that takes them at the right. A picture for
//! a knitter whose left hand takes them is the mirror image.
//!
//! Two rows are told of: the stitches that are worked into, and the new ones that come out of them.

use evenloop_engine::sort::sort;

use super::strand::{HIDDEN, Ink, Knot, Strand, k};

/// Where the needles' tips meet; to both sides of it they fall, as they do in the hands.
const MIDDLE: f32 = 118.0;
const FALL_LEFT: f32 = 0.18;
const FALL_RIGHT: f32 = 0.5;

/// How far down the needles lie in the middle.
pub(crate) const HOLDS: f32 = 48.0;
pub(crate) const TAKES: f32 = 66.0;
/// Feet of the stitches that are worked into, and where their heads lie once they are off.
const FEET: f32 = 116.0;
const HEADS: f32 = 92.0;
/// Feet of the new stitches.
const NEW_FEET: f32 = 101.0;

/// Depths, the needle that holds the stitches at 0.
pub(crate) mod at {
    /// Yarn behind everything.
    pub(crate) const YARN_BEHIND: i8 = -6;
    /// The strand between two stitches, behind the fabric.
    pub(crate) const BETWEEN: i8 = -5;
    /// Yarn behind the needle that is behind.
    pub(crate) const BEHIND_TAKES: i8 = -4;
    /// The needle that takes stitches, behind the other.
    pub(crate) const TAKES_BEHIND: i8 = -3;
    /// Yarn between the two needles, while the one that takes is behind.
    pub(crate) const WRAP: i8 = -2;
    /// The leg behind a needle.
    pub(crate) const LEG_BEHIND: i8 = -1;
    /// The needle that holds stitches.
    pub(crate) const HOLDS: i8 = 0;
    /// The head of a stitch that is off the needle; yarn between the needles, while the one that takes is in front.
    pub(crate) const HEAD: i8 = 1;
    /// The needle that takes stitches, in front of the other and behind the leg that is in front.
    pub(crate) const TAKES_IN_LEG: i8 = 2;
    /// Where a stitch comes out of the one below.
    pub(crate) const FOOT: i8 = 3;
    /// The leg in front of the needle.
    pub(crate) const LEG: i8 = 4;
    /// The needle that takes stitches, in front.
    pub(crate) const TAKES: i8 = 6;
    /// The leg in front of that.
    pub(crate) const NEW_LEG: i8 = 8;
    /// Yarn before everything.
    pub(crate) const YARN: i8 = 10;
    /// Arrows.
    pub(crate) const ARROW: i8 = 12;
}

/// Which leg of a stitch is in front of its needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Front {
    /// The right one, as is usual.
    Right,
    /// The left one.
    Left,
}

/// Where a stitch's head is.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Seat {
    /// On a needle of that height.
    On(Front, f32, i8),
    /// Off the needle, its head at that height and depth.
    Free(f32, i8),
}

/// A stitch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct DrawnStitch {
    foot: f32,
    foot_y: f32,
    head: f32,
    half: f32,
    /// Half the way between its feet.
    spread: f32,
    seat: Seat,
    /// How deep the leg behind the needle lies.
    behind: i8,
    /// Whether both legs lie over the needle.
    doubled: bool,
    /// Whether its legs lie as deep as its head.
    flat: bool,
    /// Which leg is in front where they cross below the head.
    crossed: Option<Front>,
    /// Whether it is a purl stitch in fabric seen from the right side.
    purl: bool,
    ink: Ink,
    /// The strand to the next stitch.
    strand: Ink,
}

/// A stitch on the needle that holds, at that place.
pub(crate) const fn held(x: f32) -> DrawnStitch {
    DrawnStitch {
        foot: x,
        foot_y: FEET,
        head: x,
        half: 8.0,
        spread: 3.2,
        seat: Seat::On(Front::Right, HOLDS, at::LEG),
        behind: at::LEG_BEHIND,
        doubled: false,
        flat: false,
        crossed: None,
        purl: false,
        ink: Ink::Fabric,
        strand: Ink::Fabric,
    }
}

/// A stitch that is off the needle.
pub(crate) const fn off(x: f32) -> DrawnStitch {
    DrawnStitch {
        half: 7.0,
        seat: Seat::Free(HEADS, at::HEAD),
        ..held(x)
    }
}

/// A new stitch, on the needle that takes.
pub(crate) const fn new(x: f32) -> DrawnStitch {
    DrawnStitch {
        foot_y: NEW_FEET,
        ..moved(x)
    }
}

/// A stitch that was moved to the needle that takes, unworked.
pub(crate) const fn moved(x: f32) -> DrawnStitch {
    DrawnStitch {
        seat: Seat::On(Front::Right, TAKES, at::NEW_LEG),
        behind: at::BEHIND_TAKES,
        ..held(x)
    }
}

impl DrawnStitch {
    /// In another ink.
    pub(crate) const fn ink(self, ink: Ink) -> Self {
        Self { ink, ..self }
    }

    /// The stitch that is worked.
    pub(crate) const fn subject(self) -> Self {
        self.ink(Ink::Subject)
    }

    /// With the strand to its right neighbour in another ink.
    pub(crate) const fn strand(self, strand: Ink) -> Self {
        Self { strand, ..self }
    }

    /// With the leg behind the needle so deep.
    pub(crate) const fn behind(self, behind: i8) -> Self {
        Self { behind, ..self }
    }

    /// On a needle of its own, in front of all others, at that height.
    pub(crate) const fn in_front(self, needle: f32) -> Self {
        Self {
            seat: Seat::On(Front::Right, needle, at::YARN + 1),
            behind: at::NEW_LEG,
            ..self
        }
    }

    /// With its feet so far to both sides.
    pub(crate) const fn spread(self, spread: f32) -> Self {
        Self { spread, ..self }
    }

    /// With its foot at that height.
    pub(crate) const fn foot_y(self, foot_y: f32) -> Self {
        Self { foot_y, ..self }
    }

    /// Twisted: the legs cross below the head, that one in front.
    pub(crate) const fn crossed(self, front: Front) -> Self {
        Self {
            crossed: Some(front),
            ..self
        }
    }

    /// A purl stitch, where the others are knit ones.
    pub(crate) const fn purl(self) -> Self {
        Self { purl: true, ..self }
    }

    /// The double stitch of a German short row.
    pub(crate) const fn doubled(self) -> Self {
        Self {
            doubled: true,
            half: 10.0,
            ..self
        }
    }

    /// With its head elsewhere than above its foot.
    pub(crate) const fn head(self, head: f32) -> Self {
        Self { head, ..self }
    }

    /// Opened wide, for a needle to go in.
    pub(crate) const fn wide(self, half: f32) -> Self {
        Self { half, ..self }
    }

    /// With its left leg in front.
    pub(crate) const fn turned(self) -> Self {
        match self.seat {
            Seat::On(_, y, depth) => Self {
                seat: Seat::On(Front::Left, y, depth),
                ..self
            },
            Seat::Free(..) => self,
        }
    }

    /// With its head so far lower; off the needle so far in front.
    pub(crate) const fn lower(self, by: f32) -> Self {
        let seat = match self.seat {
            Seat::On(front, y, depth) => Seat::On(front, y + by, depth),
            Seat::Free(y, depth) => Seat::Free(y + by, depth),
        };
        Self { seat, ..self }
    }

    /// Off the needle, the whole of it at that depth.
    pub(crate) const fn flat(self, depth: i8) -> Self {
        match self.seat {
            Seat::Free(y, _) => Self {
                seat: Seat::Free(y, depth),
                flat: true,
                ..self
            },
            Seat::On(..) => self,
        }
    }

    /// Its knots from the left to the right.
    fn knots(self, side: Side) -> Vec<Knot> {
        if self.doubled {
            return self.doubled_knots();
        }
        let (foot, head, half, spread) = (self.foot, self.head, self.half, self.spread);
        let side = if self.purl { Side::Purl } else { side };
        let (out, between) = match side {
            Side::Knit => (at::FOOT, at::BETWEEN),
            // Beside a knit stitch the yarn goes behind.
            Side::Purl if self.purl => (at::LEG_BEHIND, at::BETWEEN),
            Side::Purl => (at::LEG_BEHIND, at::FOOT),
        };
        let out = match self.seat {
            Seat::Free(_, depth) if self.flat => depth,
            _ => out,
        };
        // The first leg goes to the other side where the legs cross.
        let (aside, first, second) = match self.crossed {
            None => (1.0, out, out),
            Some(Front::Left) => (-1.0, out + 1, out),
            Some(Front::Right) => (-1.0, out, out + 1),
        };
        let (top, left, arch, right) = match self.seat {
            Seat::On(Front::Right, needle, leg) => (needle, self.behind, leg, leg),
            Seat::On(Front::Left, needle, leg) => (needle, leg, self.behind, self.behind),
            Seat::Free(top, depth) => {
                let depth = if side == Side::Purl && !self.flat {
                    at::FOOT
                } else {
                    depth
                };
                (top + 8.0, depth, depth, out)
            }
        };
        // A twisted leg on the right is the one that began at the left.
        let (left, arch, right) = match (self.crossed, self.seat) {
            (Some(_), Seat::On(..)) => (right, left, left),
            _ => (left, arch, right),
        };
        let rise = self.foot_y - top;
        let mid = self.foot_y - rise * 0.42;
        let lean = (head - foot) * 0.42;
        let wide = half.min(8.0) * 0.35 + half * 0.65;
        let (wide, half) = (wide * aside, half * aside);
        let (from_foot, to_foot) = match self.crossed {
            None => (left, out),
            Some(_) => (first, second),
        };
        let from_foot = match self.seat {
            Seat::On(..) => from_foot,
            Seat::Free(..) => first,
        };
        vec![
            k(foot - spread, self.foot_y, first),
            k(foot + lean - wide, mid, from_foot),
            k(head - half, top + 4.0, left),
            k(head, top - 9.0, arch),
            k(head + half, top + 4.0, right),
            k(foot + lean + wide, mid, to_foot),
            k(foot + spread, self.foot_y, between),
        ]
    }

    /// Pulled over the needle: both legs lie in front and over it, and only behind it do they meet.
    fn doubled_knots(self) -> Vec<Knot> {
        let (foot, head, half) = (self.foot, self.head, self.half);
        let (needle, leg) = match self.seat {
            Seat::On(_, needle, leg) => (needle, leg),
            Seat::Free(top, depth) => (top, depth),
        };
        let mid = self.foot_y - (self.foot_y - needle) * 0.4;
        vec![
            k(foot - self.spread, self.foot_y, at::FOOT),
            k(f32::midpoint(foot, head) - half, mid, leg),
            k(head - half, needle + 4.0, leg),
            k(head - half + 4.0, needle - 7.5, self.behind),
            k(head - 1.5, needle + 13.0, self.behind),
            k(head + 1.5, needle + 13.0, self.behind),
            k(head + half - 4.0, needle - 7.5, leg),
            k(head + half, needle + 4.0, leg),
            k(f32::midpoint(foot, head) + half, mid, at::FOOT),
            k(foot + self.spread, self.foot_y, at::BETWEEN),
        ]
    }

    /// Where its foot is.
    pub(crate) const fn foot_x(self) -> f32 {
        self.foot
    }

    /// How deep its front leg is, if it is on a needle: that tells on which.
    fn on(self) -> Option<i8> {
        match self.seat {
            Seat::On(_, _, leg) => Some(leg),
            Seat::Free(..) => None,
        }
    }
}

/// Which side of the fabric is seen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Side {
    /// The V's.
    Knit,
    /// The bumps.
    Purl,
}

/// One moment of a move.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Frame {
    side: Side,
    strands: Vec<Strand>,
    /// Stitches of the picture on the needle that holds and on the one that takes.
    pub(crate) on_needles: (usize, usize),
}

impl Frame {
    /// An empty one that shows that side of the fabric.
    pub(crate) const fn new(side: Side) -> Self {
        Self {
            side,
            strands: Vec::new(),
            on_needles: (0, 0),
        }
    }

    /// What is drawn.
    pub(crate) fn strands(&self) -> &[Strand] {
        &self.strands
    }

    /// A row of stitches from the left to the right: one yarn, that comes in by `before` and goes on by
    /// `after`. The stitches fall with the needles; the other knots lie where they are.
    pub(crate) fn row(mut self, before: &[Knot], stitches: &[DrawnStitch], after: &[Knot]) -> Self {
        let mut line: Vec<(Knot, Ink)> = before.iter().map(|knot| (*knot, Ink::Yarn)).collect();
        for stitch in stitches {
            if let Some(leg) = stitch.on() {
                if leg == at::LEG {
                    self.on_needles.0 += 1;
                } else {
                    self.on_needles.1 += 1;
                }
            }
            let knots = stitch.knots(self.side);
            let count = knots.len();
            for (i, knot) in knots.into_iter().enumerate() {
                let ink = if i + 1 == count {
                    stitch.strand
                } else {
                    stitch.ink
                };
                let y = fallen(knot.x, knot.y);
                line.push((Knot { y, ..knot }, ink));
            }
        }
        line.extend(after.iter().map(|knot| (*knot, Ink::Fabric)));
        let mut inks: Vec<Ink> = line.iter().map(|(_, ink)| *ink).collect();
        sort(&mut inks, |a, b| a < b);
        inks.dedup();
        for ink in inks {
            let knots = line.iter().map(|(knot, own)| Knot {
                depth: if *own == ink { knot.depth } else { HIDDEN },
                ..*knot
            });
            self.strands.push(Strand {
                ink,
                knots: knots.collect(),
                smooth: true,
            });
        }
        self
    }

    /// A bent line through these knots, as they are.
    pub(crate) fn line(mut self, ink: Ink, knots: &[Knot]) -> Self {
        self.strands.push(Strand {
            ink,
            knots: knots.to_vec(),
            smooth: true,
        });
        self
    }

    /// Several bent lines of one ink. They do not cross each other at the same depth.
    pub(crate) fn lines(mut self, ink: Ink, lines: &[Vec<Knot>]) -> Self {
        let mut knots = Vec::new();
        for line in lines {
            // The pen is lifted between two lines, and neither bends towards the other.
            let hidden = |knot: Option<&Knot>| {
                knot.map(|knot| Knot {
                    depth: HIDDEN,
                    ..*knot
                })
            };
            knots.extend(hidden(line.first()));
            knots.extend(line);
            if let Some(last) = knots.last_mut() {
                last.depth = HIDDEN;
            }
            knots.extend(hidden(line.last()));
        }
        self.strands.push(Strand {
            ink,
            knots,
            smooth: true,
        });
        self
    }

    /// A straight one; of a needle, its point is the last knot.
    pub(crate) fn straight(mut self, ink: Ink, knots: &[Knot]) -> Self {
        self.strands.push(Strand {
            ink,
            knots: knots.to_vec(),
            smooth: false,
        });
        self
    }

    /// Which way something goes.
    pub(crate) fn arrow(self, knots: &[Knot]) -> Self {
        self.line(Ink::Arrow, knots)
    }

    /// The needle that holds stitches, its point at that x.
    pub(crate) fn holds(self, point: f32) -> Self {
        let at = |x: f32| k(x, HOLDS + (MIDDLE - x) * FALL_LEFT, at::HOLDS);
        self.straight(Ink::Needle, &[at(-12.0), at(point)])
    }

    /// The needle that holds stitches, led elsewhere: through these knots to its point, the last one.
    pub(crate) fn holds_along(self, knots: &[Knot]) -> Self {
        self.straight(Ink::Needle, knots)
    }

    /// The needle that takes stitches, so far lower than it rests, its point at that x. From each x on that is
    /// named (from the right to the left) it lies at the depth beside it.
    pub(crate) fn takes(self, lower: f32, point: f32, depths: &[(f32, i8)]) -> Self {
        let at = |x: f32, depth| k(x, takes_at(x) + lower, depth);
        let mut knots: Vec<Knot> = depths.iter().map(|(x, depth)| at(*x, *depth)).collect();
        knots.push(at(point, 0));
        self.straight(Ink::Needle, &knots)
    }

    /// The row below: stitches that hold those of `feet`, from the left to the right.
    pub(crate) fn below(self, feet: &[f32]) -> Self {
        let stitches: Vec<DrawnStitch> = feet
            .iter()
            .map(|x| DrawnStitch {
                foot_y: FEET + 46.0,
                seat: Seat::Free(FEET - 9.0, at::HEAD),
                ..off(*x)
            })
            .collect();
        self.row(&[], &stitches, &[])
    }
}

/// The height of the needle that takes stitches.
pub(crate) fn takes_at(x: f32) -> f32 {
    TAKES + (x - MIDDLE) * FALL_RIGHT
}

/// Where a point comes to lie when the needles fall to both sides.
pub(crate) fn fallen(x: f32, y: f32) -> f32 {
    if x < MIDDLE {
        y + (MIDDLE - x) * FALL_LEFT
    } else {
        y + (x - MIDDLE) * FALL_RIGHT
    }
}
