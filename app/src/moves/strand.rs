//! Yarn, needles and arrows as lines with depth: what lies in front hides what lies behind, so that every
//! crossing is drawn as it lies in the hands. Knows nothing of knitting.

use core::fmt::Write as _;

use evenloop_engine::sort::sort;

/// A point that a line runs through, and how far in front the piece of it lies that begins there.
/// x to the right and y downward, in units of the picture (a stitch is some 16 of them wide); of two pieces the one with the higher depth is in front.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Knot {
    pub(crate) x: f32,
    pub(crate) y: f32,
    pub(crate) depth: i8,
}

/// The depth of a piece that is not drawn: it only says which way the line comes or goes on.
pub(crate) const HIDDEN: i8 = i8::MIN;

/// A knot, in short.
pub(crate) const fn k(x: f32, y: f32, depth: i8) -> Knot {
    Knot { x, y, depth }
}

/// What a line is of; the style sheet gives it colour and thickness.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Ink {
    /// Stitches that nothing happens to.
    Fabric,
    /// The stitch that is worked.
    Subject,
    /// The yarn that is worked with, and the stitches it has just made.
    Yarn,
    /// Yarn that is taken out again.
    Waste,
    /// A needle.
    Needle,
    /// A needle for sewing.
    Sewing,
    /// The cable between two needle tips.
    Cable,
    /// A finger.
    Hand,
    /// Which way something goes.
    Arrow,
}

impl Ink {
    /// The class in the style sheet.
    const fn class(self) -> &'static str {
        match self {
            Self::Fabric => "fab",
            Self::Subject => "sub",
            Self::Yarn => "yar",
            Self::Waste => "was",
            Self::Needle => "ndl",
            Self::Sewing => "sew",
            Self::Cable => "cab",
            Self::Hand => "han",
            Self::Arrow => "arr",
        }
    }
}

/// A line.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strand {
    pub(crate) ink: Ink,
    pub(crate) knots: Vec<Knot>,
    /// Whether it bends smoothly through its knots.
    pub(crate) smooth: bool,
}

/// Steps of the written picture in a unit of the drawn one.
pub(crate) const STEPS: f32 = 10.0;

/// Half the thickness of a needle, and of its point.
const NEEDLE: f32 = 4.4;
const SEWING: f32 = 2.6;
const POINT: f32 = 1.3;
/// How far the point tapers.
const TAPER: f32 = 20.0;
/// What bounds a needle.
const EDGE: f32 = 1.2;
/// How long the legs of an arrow's head are.
const HEAD: f32 = 8.0;

impl Strand {
    /// Writes its pieces at that depth: what bounds it into `under`, itself into `over`.
    fn pieces(&self, depth: i8, path: &mut String) {
        let mut open = false;
        for (i, pair) in self.knots.windows(2).enumerate() {
            let [from, to] = pair else { continue };
            if from.depth != depth {
                open = false;
                continue;
            }
            if !open {
                write_point(path, 'M', from.x, from.y);
                open = true;
            }
            if self.smooth {
                let before = i.checked_sub(1).and_then(|i| self.knots.get(i));
                let after = self.knots.get(i + 2);
                let (out, into) = (way(before, *from, Some(to)), way(Some(from), *to, after));
                let far = 0.36 * length(to.x - from.x, to.y - from.y);
                write_point(path, 'C', from.x + out.0 * far, from.y + out.1 * far);
                write_point(path, ' ', to.x - into.0 * far, to.y - into.1 * far);
                write_point(path, ' ', to.x, to.y);
            } else {
                write_point(path, 'L', to.x, to.y);
            }
        }
    }

    /// The tapered end of a needle, wider by so much on every side.
    fn tip(&self, wider: f32) -> Option<String> {
        let [.., from, to] = self.knots.as_slice() else {
            return None;
        };
        let length = length(to.x - from.x, to.y - from.y);
        let (x, y) = ((to.x - from.x) / length, (to.y - from.y) / length);
        let base = TAPER.min(length);
        let thick = if self.ink == Ink::Sewing {
            SEWING
        } else {
            NEEDLE
        };
        let (half, end) = (thick + wider, POINT + wider);
        let at =
            |along: f32, aside: f32| (to.x - x * along - y * aside, to.y - y * along + x * aside);
        let mut path = String::new();
        let corners = [
            at(base, half),
            at(1.0, end),
            at(-wider, 0.0),
            at(1.0, -end),
            at(base, -half),
        ];
        for (i, (x, y)) in corners.into_iter().enumerate() {
            write_point(&mut path, if i == 0 { 'M' } else { 'L' }, x, y);
        }
        path.push('Z');
        Some(path)
    }

    /// The same with its point's place taken by what tapers.
    fn without_tip(&self) -> Self {
        let mut short = self.clone();
        if let [.., from, to] = short.knots.as_mut_slice() {
            let length = length(to.x - from.x, to.y - from.y);
            let part = ((length - TAPER) / length).max(0.0);
            to.x = from.x + (to.x - from.x) * part;
            to.y = from.y + (to.y - from.y) * part;
        }
        short
    }
}

/// How long a way is.
fn length(x: f32, y: f32) -> f32 {
    (x * x + y * y).sqrt()
}

/// The direction at a knot: along its neighbours.
fn way(before: Option<&Knot>, at: Knot, after: Option<&Knot>) -> (f32, f32) {
    let (from, to) = (*before.unwrap_or(&at), *after.unwrap_or(&at));
    let (x, y) = (to.x - from.x, to.y - from.y);
    let length = length(x, y).max(0.001);
    (x / length, y / length)
}

/// A point, in whole steps of the picture: more is not seen, and whole numbers are written by little code.
fn write_point(path: &mut String, command: char, x: f32, y: f32) {
    // A picture is some thousands of steps wide.
    #[allow(clippy::cast_possible_truncation)]
    let steps = |n: f32| (n * STEPS).round() as i32;
    // Writing to a text cannot fail.
    let _ = write!(path, "{command}{} {}", steps(x), steps(y));
}

/// The lines as the inside of an SVG picture, the farthest first.
pub(crate) fn drawn(strands: &[Strand]) -> String {
    let mut depths: Vec<i8> = strands
        .iter()
        .flat_map(|strand| strand.knots.iter().map(|knot| knot.depth))
        .collect();
    sort(&mut depths, |a, b| a < b);
    depths.dedup();
    depths.retain(|depth| *depth != HIDDEN);
    let mut picture = String::new();
    let mut put = |class: &str, kind: &str, path: &str| {
        if !path.is_empty() {
            let _ = write!(picture, "<path class=\"{class}{kind}\" d=\"{path}\"/>");
        }
    };
    for depth in depths {
        for strand in strands {
            let class = strand.ink.class();
            let mut path = String::new();
            match strand.ink {
                Ink::Needle | Ink::Sewing => {
                    strand.without_tip().pieces(depth, &mut path);
                    let ends_here = strand.knots.len().checked_sub(2);
                    let ends_here = ends_here.and_then(|i| strand.knots.get(i));
                    let tip = |wider| {
                        ends_here
                            .filter(|knot| knot.depth == depth)
                            .and_then(|_| strand.tip(wider))
                            .unwrap_or_default()
                    };
                    put(class, " edge", &path);
                    put(class, " point edge", &tip(EDGE));
                    put(class, "", &path);
                    put(class, " point", &tip(0.0));
                }
                Ink::Arrow => {
                    strand.pieces(depth, &mut path);
                    if !path.is_empty() {
                        path.push_str(&strand.head());
                    }
                    put(class, " edge", &path);
                    put(class, "", &path);
                }
                _ => {
                    strand.pieces(depth, &mut path);
                    put(class, " edge", &path);
                    put(class, "", &path);
                }
            }
        }
    }
    picture
}

impl Strand {
    /// The head of an arrow.
    fn head(&self) -> String {
        let mut path = String::new();
        if let [rest @ .., from, to] = self.knots.as_slice() {
            let last = way(Some(from), *to, None);
            let (x, y) = match rest.last().filter(|_| self.smooth) {
                // A bent line comes in steeper than its last chord.
                Some(before) => {
                    let bend = way(Some(before), *from, Some(to));
                    (last.0 * 1.4 - bend.0 * 0.4, last.1 * 1.4 - bend.1 * 0.4)
                }
                None => last,
            };
            let (x, y) = way(None, k(0.0, 0.0, 0), Some(&k(x, y, 0)));
            for sin in [0.565_f32, -0.565] {
                let cos = 0.825;
                let (bx, by) = (x * cos - y * sin, x * sin + y * cos);
                write_point(&mut path, 'M', to.x - bx * HEAD, to.y - by * HEAD);
                write_point(&mut path, 'L', to.x, to.y);
            }
        }
        path
    }
}
