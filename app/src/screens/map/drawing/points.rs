//! Points of the drawing, in millimetres, and paths through them.

use std::fmt::Write as _;

/// Room around the sock.
pub(in crate::screens::map) const MARGIN: f32 = 6.0;

/// A point of the drawing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::screens::map) struct Point {
    pub x: f32,
    pub y: f32,
}

pub(super) const fn point(x: f32, y: f32) -> Point {
    Point { x, y }
}

impl Point {
    /// Part of the way to another point.
    pub(super) fn toward(self, other: Self, part: f32) -> Self {
        point(
            self.x + (other.x - self.x) * part,
            self.y + (other.y - self.y) * part,
        )
    }
}

pub(super) fn path(points: &[Point], close: bool) -> String {
    let mut d = String::with_capacity(points.len() * 12);
    for (i, at) in points.iter().enumerate() {
        put(&mut d, if i == 0 { "M" } else { "L" }, &[*at]);
    }
    if close {
        d.push('Z');
    }
    d
}

pub(super) fn put(d: &mut String, command: &str, points: &[Point]) {
    d.push_str(command);
    for at in points {
        // Writing to a string cannot fail.
        let _ = write!(d, "{:.1} {:.1} ", at.x + MARGIN, at.y + MARGIN);
    }
}

pub(super) fn mm(length: evenloop_engine::units::Length) -> f32 {
    // Lengths of socks are far below what a small float holds exactly.
    #[allow(clippy::cast_possible_truncation)]
    let mm = (length.as_cm() * 10.0) as f32;
    mm
}

pub(super) fn part(done: usize, of: usize) -> f32 {
    if of == 0 {
        0.0
    } else {
        (number(done) / number(of)).min(1.0)
    }
}

pub(super) fn number(n: usize) -> f32 {
    f32::from(u16::try_from(n).unwrap_or(u16::MAX))
}
