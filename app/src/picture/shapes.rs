//! Lines and areas as path data.

use std::fmt::Write as _;

use super::cells::Cell;
use super::course::{BAND, Course, CoursePoint, NeedleCourses, PicturePoint};
use crate::fabric::Hook;
use crate::tenths::tenths;

fn put(d: &mut String, at: PicturePoint) {
    // Writing to a string cannot fail.
    let _ = write!(d, "{} {}", tenths(at.x), tenths(at.y));
}

pub(super) fn begin(d: &mut String, at: PicturePoint) {
    d.push('M');
    put(d, at);
}

fn line(d: &mut String, to: PicturePoint) {
    d.push('L');
    put(d, to);
}

pub(super) fn curve(d: &mut String, a: PicturePoint, b: PicturePoint, to: PicturePoint) {
    d.push('C');
    put(d, a);
    d.push(' ');
    put(d, b);
    d.push(' ');
    put(d, to);
}

pub(super) fn path(spots: &[PicturePoint], close: bool) -> String {
    let mut d = String::with_capacity(spots.len() * 12 + 1);
    for (i, spot) in spots.iter().enumerate() {
        if i == 0 {
            begin(&mut d, *spot);
        } else {
            line(&mut d, *spot);
        }
    }
    if close {
        d.push('Z');
    }
    d
}

/// Stops along a stretch: its two ends on a straight needle, as many as make a bend smooth else.
fn stops(field: &NeedleCourses, n: usize, from: f32, to: f32) -> Vec<f32> {
    if matches!(field.courses.get(n), Some(Course::Line { .. })) {
        return vec![from, to];
    }
    let pieces = (1..=200_u16)
        .find(|p| (to - from) / f32::from(*p) <= 5.0)
        .unwrap_or(200);
    (0..=pieces)
        .map(|i| from + (to - from) * f32::from(i) / f32::from(pieces))
        .collect()
}

/// A stretch of a needle as an area between two distances outward from it.
pub(super) fn block(
    field: &NeedleCourses,
    n: usize,
    from: f32,
    to: f32,
    near: f32,
    far: f32,
) -> String {
    let stops = stops(field, n, from, to);
    let side = |s: f32, out: f32| {
        let place = field.place(n, s);
        place.at.go(place.out, out)
    };
    let mut spots: Vec<PicturePoint> = stops.iter().map(|s| side(*s, near)).collect();
    spots.extend(stops.iter().rev().map(|s| side(*s, far)));
    path(&spots, true)
}

pub(super) fn along(field: &NeedleCourses, n: usize, from: f32, to: f32) -> String {
    let spots: Vec<PicturePoint> = stops(field, n, from, to)
        .iter()
        .map(|s| field.place(n, *s).at)
        .collect();
    path(&spots, false)
}

/// One loop over the needle for each stitch.
pub(super) fn loops(field: &NeedleCourses, n: usize, cell: &Cell, stitches: u16) -> String {
    let each = (cell.to - cell.from) / f32::from(stitches.max(1));
    let mut d = String::with_capacity(usize::from(stitches) * 26 + 12);
    begin(&mut d, field.place(n, cell.from).at);
    let mut s = cell.from;
    for _ in 0..stitches {
        let top = field.place(n, s + each / 2.0);
        let to = field.place(n, s + each).at;
        d.push('Q');
        put(&mut d, top.at.go(top.out, -9.0));
        d.push(' ');
        put(&mut d, to);
        s += each;
    }
    d
}

/// The places between a group's stitches, along the needle.
pub(super) fn hooks(field: &NeedleCourses, n: usize, cell: &Cell, stitches: u16) -> Vec<Hook> {
    let each = (cell.to - cell.from) / f32::from(stitches.max(1));
    let hook = |nth: u16| {
        let place = field.place(n, cell.from + each * f32::from(nth));
        Hook {
            at: (place.at.x, place.at.y),
            down: (place.out.x, place.out.y),
        }
    };
    (0..=stitches).map(hook).collect()
}

/// The gap of a turned row: a notch between two groups.
pub(super) fn notch(field: &NeedleCourses, n: usize, cell: &Cell) -> String {
    let (a, b) = (
        field.place(n, cell.from + 1.5),
        field.place(n, cell.to - 1.5),
    );
    let low = field.place(n, cell.middle());
    path(
        &[
            a.at.go(a.out, -5.0),
            low.at.go(low.out, BAND),
            b.at.go(b.out, -5.0),
        ],
        false,
    )
}

/// The cable between two halves, pulled out beyond both; it comes to the second one from so far.
pub(super) fn cable(from: &CoursePoint, to: &CoursePoint, last: f32) -> String {
    // round a corner of the ring less loop is needed than back into the opposite direction
    let pull = if turns_back(from, to) { 1.0 } else { 0.6 };
    let mut d = String::with_capacity(48);
    begin(&mut d, from.at);
    curve(
        &mut d,
        from.at.go(from.along, 42.0 * pull),
        to.at.go(to.along, -last * pull),
        to.at,
    );
    d
}

pub(super) fn turns_back(from: &CoursePoint, to: &CoursePoint) -> bool {
    from.along.x * to.along.x + from.along.y * to.along.y < -0.5
}

/// The end of a circular that hangs while it is not at work.
pub(super) fn hanging(field: &NeedleCourses, n: usize, s: f32, away: f32) -> String {
    let place = field.place(n, s + 3.0 * away);
    let way = PicturePoint::new(place.along.x * away, place.along.y * away);
    let mut d = String::with_capacity(48);
    begin(&mut d, place.at);
    curve(
        &mut d,
        place.at.go(way, 14.0),
        place.at.go(way, 22.0).go(place.out, 6.0),
        place.at.go(way, 24.0).go(place.out, 26.0),
    );
    d
}

/// A needle's tip: its point at `point`, its body going back along `body`.
pub(super) fn pointed(point: PicturePoint, body: PicturePoint, length: f32) -> String {
    let side = PicturePoint::new(-body.y, body.x);
    let neck = point.go(body, 11.0);
    let tail = point.go(body, length + 5.0);
    path(
        &[
            point,
            neck.go(side, 3.4),
            tail.go(side, 3.4),
            tail.go(side, -3.4),
            neck.go(side, -3.4),
        ],
        true,
    )
}
