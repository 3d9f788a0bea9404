//! Lays the picture out: which shape goes where on the field, and what is written beside it.
//!
//! Everything is placed along the needles by [`super::course`], in widths shared out by
//! [`super::spread`]; the result is plain values that can be compared and drawn.

use std::fmt::Write as _;

use evenloop_engine::needles::{Needles, Origin};
use evenloop_engine::stitch::Marker;
use evenloop_engine::words::origin_name;

use super::course::{BAND, Course, Field, HIGH, Place, Spot, WIDE};
use super::seats::{Part, Seat, Seats, Tip};
use super::spread::{self, Share, settle, widths};
use super::{Look, copy};

/// A needle is never shown fuller than if it held so many stitches: a toe looks as small as it is.
const FULL: f32 = 22.0;
/// Width of an open edge, of a marker, of a turned gap, and of the parting at the working tip.
const EDGE: f32 = 34.0;
const BARE_EDGE: f32 = 12.0;
const MARKER: f32 = 9.0;
const GAP: f32 = 9.0;
const PARTING: f32 = 9.0;
/// How long the working tip is drawn, and how large the ball of yarn.
const TIP: f32 = 34.0;
const BALL: f32 = 6.5;
/// Width of one letter of a name and height of its line, on the generous side.
const LETTER: f32 = 6.4;
const LINE: f32 = 14.0;

/// Where a text is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    /// By its beginning.
    Start,
    /// By its middle.
    Middle,
    /// By its end.
    End,
}

/// A text on the field.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// What is written.
    pub text: String,
    /// Where it is held.
    pub x: f32,
    /// The middle of its line.
    pub y: f32,
    /// Degrees it is turned by, clockwise.
    pub turn: f32,
    /// Which part of it lies there.
    pub hold: Hold,
}

/// One group of stitches.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Where they belong.
    pub origin: Origin,
    /// Whether they wait while the heel is worked.
    pub rests: bool,
    /// Outline of the fabric.
    pub fabric: String,
    /// One loop over the needle for each stitch.
    pub loops: String,
    /// Its count.
    pub count: Text,
}

/// An open edge of the flap.
#[derive(Debug, Clone, PartialEq)]
pub struct Opening {
    /// Outline of what is missing.
    pub outline: String,
    /// How many loops wait along it.
    pub count: Option<Text>,
}

/// A marker.
#[derive(Debug, Clone, PartialEq)]
pub struct Bead {
    /// Which one.
    pub marker: Marker,
    /// The line across the fabric.
    pub across: String,
    /// Where the bead hangs.
    pub x: f32,
    /// Where the bead hangs.
    pub y: f32,
}

/// A needle's shaft.
#[derive(Debug, Clone, PartialEq)]
pub struct Shaft {
    /// Its line.
    pub line: String,
    /// Whether it is a stiff needle here, not a cable.
    pub stiff: bool,
    /// Whether its stitches are worked next.
    pub works: bool,
}

/// The working tip with the yarn.
#[derive(Debug, Clone, PartialEq)]
pub struct Working {
    /// Outline of the needle's tip.
    pub needle: String,
    /// The yarn from the last stitch to the ball.
    pub yarn: String,
    /// The ball.
    pub ball: (f32, f32),
}

/// The total of one needle.
#[derive(Debug, Clone, PartialEq)]
pub struct Total {
    /// Its number from 1, where there is more than one.
    pub number: Option<usize>,
    /// Stitches on it.
    pub stitches: u16,
    /// How it is written.
    pub text: String,
    /// Width of the plate it stands on.
    pub wide: f32,
    /// Where.
    pub x: f32,
    /// Where.
    pub y: f32,
    /// Whether it works next.
    pub works: bool,
}

/// The whole picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Picture {
    /// Cables and hanging ends.
    pub cables: Vec<String>,
    /// Needles.
    pub shafts: Vec<Shaft>,
    /// Groups of stitches, in ring order.
    pub bands: Vec<Band>,
    /// Open edges.
    pub openings: Vec<Opening>,
    /// Gaps of turned rows.
    pub gaps: Vec<String>,
    /// Markers.
    pub beads: Vec<Bead>,
    /// What groups, edges and markers are called.
    pub names: Vec<Text>,
    /// One total for each needle.
    pub totals: Vec<Total>,
    /// The working tip.
    pub working: Option<Working>,
    /// Whether the wrong side faces.
    pub wrong_side: bool,
    /// Whether there is nothing on the needles.
    pub empty: bool,
    /// Where the round begins, while the tip is elsewhere.
    pub start: Option<String>,
}

/// A part with its stretch along the needle.
#[derive(Clone, Copy)]
struct Cell {
    part: Part,
    from: f32,
    to: f32,
}

impl Cell {
    fn middle(&self) -> f32 {
        f32::midpoint(self.from, self.to)
    }
}

impl Picture {
    /// The width and height of the field everything is placed on.
    pub const SIZE: (f32, f32) = (WIDE, HIGH);

    /// Lays out the needles. While the heel is worked `flat`, all else waits.
    pub fn of(needles: &Needles, look: Look, flat: bool) -> Self {
        let seats = Seats::of(needles, flat);
        if seats.stitches() == 0 {
            return Self {
                empty: true,
                ..Self::default()
            };
        }
        let field = Field::new(look, seats.seats.len(), seats.joined, seats.wrong_side);
        let rows = cells(&seats, &field);
        let mut picture = Self {
            wrong_side: seats.wrong_side,
            ..Self::default()
        };
        for (n, row) in rows.iter().enumerate() {
            picture.fabric(&field, n, row);
            picture.names(&field, n, row);
            picture.total(&field, n, &seats);
        }
        let ends: Vec<(f32, f32)> = rows.iter().map(|row| ends(row)).collect();
        let tip = seats.tip.map(|tip| (tip, tip_at(&rows, tip)));
        picture.needles(&field, look, &seats, &ends);
        if seats.flat && seats.wrong_side {
            picture
                .names
                .push(upright(copy::WRONG_SIDE.to_owned(), field.side()));
        }
        picture.start(&field, &seats, &ends);
        if let Some((tip, s)) = tip {
            picture.working(&field, &seats, &ends, tip, s);
        }
        picture
    }

    /// Groups, edges, gaps and markers of one needle.
    fn fabric(&mut self, field: &Field, n: usize, row: &[Cell]) {
        for cell in row {
            let outline = || block(field, n, cell.from, cell.to, 0.0, BAND);
            let middle = field.place(n, cell.middle());
            let inside = middle.at.go(middle.out, BAND / 2.0);
            match cell.part {
                Part::Group {
                    origin,
                    stitches,
                    rests,
                } => self.bands.push(Band {
                    origin,
                    rests,
                    fabric: outline(),
                    loops: loops(field, n, cell, stitches),
                    count: upright(stitches.to_string(), inside),
                }),
                Part::Edge(loops) => self.openings.push(Opening {
                    outline: outline(),
                    count: (loops > 0).then(|| upright(loops.to_string(), inside)),
                }),
                Part::Gap => self.gaps.push(notch(field, n, cell)),
                Part::Marker(marker) => {
                    let bead = middle.at.go(middle.out, -6.0);
                    self.beads.push(Bead {
                        marker,
                        across: path(&[bead, middle.at.go(middle.out, BAND + 2.0)], false),
                        x: bead.x,
                        y: bead.y,
                    });
                    self.names.push(inward(copy::marker(marker), &middle));
                }
            }
        }
    }

    /// The names beside one needle: each called once, moved so that none lies on another.
    fn names(&mut self, field: &Field, n: usize, row: &[Cell]) {
        let called = called(row);
        let lies = |s: f32| field.place(n, s);
        let straight = matches!(field.courses.get(n), Some(Course::Line { .. }));
        let Some((first, last)) = called.first().zip(called.last()) else {
            return;
        };
        let flat = straight && lies(first.at).along.y.abs() < 0.6;
        if flat {
            let reach = if lies(0.0).along.y.abs() < 0.01 {
                26.0
            } else {
                4.0
            };
            let room = (-reach, field.length(n) + reach);
            let settled = |short: bool| {
                let wished: Vec<(f32, f32)> =
                    called.iter().map(|c| (c.at, c.width(short))).collect();
                settle(&wished, room.0, room.1, 5.0).map(|at| (short, at))
            };
            let (short, at) = settled(false)
                .or_else(|| settled(true))
                .unwrap_or_else(|| (true, called.iter().map(|c| c.at).collect()));
            for (name, s) in called.iter().zip(at) {
                let place = lies(s);
                let spot = place.at.go(place.out, BAND + 10.0);
                self.names.push(Text {
                    text: name.text(short).to_owned(),
                    x: spot.x,
                    y: spot.y,
                    turn: level(place.along),
                    hold: Hold::Middle,
                });
            }
        } else if straight {
            let steep = lies(first.at).along.y.abs().max(0.1);
            let wished: Vec<(f32, f32)> = called.iter().map(|c| (c.at, LINE / steep)).collect();
            let at = settle(
                &wished,
                first.at.min(0.0),
                last.at.max(field.length(n)),
                1.0,
            )
            .unwrap_or_else(|| called.iter().map(|c| c.at).collect());
            for (name, s) in called.iter().zip(at) {
                self.names.push(outward(name, &lies(s)));
            }
        } else {
            for name in &called {
                self.names.push(outward(name, &lies(name.at)));
            }
        }
    }

    fn total(&mut self, field: &Field, n: usize, seats: &Seats) {
        let count = seats.seats.len();
        let spot = field.total(n);
        let stitches = seats.seats.get(n).map_or(0, |s| s.stitches);
        self.totals.push(Total {
            number: (count > 1).then_some(n + 1),
            stitches,
            text: copy::total(stitches, count > 2),
            wide: match count {
                1 => 56.0,
                2 => 74.0,
                _ => 46.0,
            },
            x: spot.x,
            y: spot.y,
            works: seats.works == Some(n),
        });
    }

    /// Shafts and cables.
    fn needles(&mut self, field: &Field, look: Look, seats: &Seats, ends: &[(f32, f32)]) {
        let count = ends.len();
        for (n, (from, to)) in ends.iter().copied().enumerate() {
            let works = seats.works == Some(n);
            let whole = (-13.0, field.length(n) + 13.0);
            let (line, stiff) = match (look, count) {
                (_, 1) if seats.joined => (along(field, n, 0.0, field.length(n)), false),
                (Look::Points, _) => (along(field, n, whole.0, whole.1), true),
                (Look::Ring, 3..) => (along(field, n, whole.0, whole.1), true),
                _ => (along(field, n, from - 3.0, to + 3.0), works),
            };
            self.shafts.push(Shaft { line, stiff, works });
            if look == Look::Points || (look == Look::Ring && count > 1) {
                continue;
            }
            if look == Look::Pair || !seats.joined {
                let tip_here = |s: f32| {
                    seats
                        .tip
                        .is_some_and(|tip| tip.seat == n && (tip.part == 0) == (s < 0.0))
                };
                for (s, away) in [(from, -1.0), (to, 1.0)] {
                    if !tip_here(away) {
                        self.cables.push(hanging(field, n, s, away));
                    }
                }
            } else if count > 1 {
                // from this half's end to where the next one, or the working tip, begins
                let next = (n + 1) % count;
                let start = field.place(n, to + 3.0);
                let at_tip = seats.tip
                    == Some(Tip {
                        seat: next,
                        part: 0,
                    })
                    && !seats.wrong_side;
                let end = field.place(next, ends[next].0 - if at_tip { TIP } else { 3.0 });
                self.cables
                    .push(cable(&start, &end, if at_tip { 8.0 } else { 36.0 }));
            }
        }
    }

    fn working(&mut self, field: &Field, seats: &Seats, ends: &[(f32, f32)], tip: Tip, s: f32) {
        let count = ends.len();
        let place = field.place(tip.seat, s);
        let forward = if seats.wrong_side { -1.0 } else { 1.0 };
        let lead = Spot::new(place.along.x * forward, place.along.y * forward);
        // the tip lies on the stitches' loops and reaches a little into the next one
        let point = place.at.go(place.out, -3.0).go(lead, 5.0);
        let at_start = tip.part == 0 && seats.joined && !seats.wrong_side;
        // Needles that meet in a corner leave no room behind the first stitch.
        let cornered = at_start && count > 2 && field.squeezed.is_none();
        let body = if cornered {
            Spot::new(
                lead.x * 0.35 - place.out.x * 0.94,
                lead.y * 0.35 - place.out.y * 0.94,
            )
        } else {
            Spot::new(-lead.x, -lead.y)
        };
        let near = |back: f32, inward: f32| point.go(lead, -back).go(place.out, -inward);
        let places = [
            (24.0, 31.0),
            (24.0, 22.0),
            (44.0, 22.0),
            (4.0, 22.0),
            (-22.0, 22.0),
            (64.0, 22.0),
            (16.0, 40.0),
            (-30.0, 32.0),
            (40.0, 44.0),
            (0.0, 52.0),
        ];
        let ball = places
            .map(|(back, inward)| near(back, inward))
            .into_iter()
            .find(|spot| field.is_inside(*spot, BALL + 8.0) && self.is_clear(*spot))
            .unwrap_or(near(24.0, 31.0));
        // From the last stitch worked: on the other half when this one is about to begin.
        let before = (tip.seat + count - 1) % count;
        let last = field.place(before, ends[before].1);
        let across = at_start && turns_back(&last, &place);
        let (from, bend) = if across {
            (last.at, last.at.go(last.along, 26.0))
        } else {
            (point.go(lead, -7.0), near(6.0, 12.0))
        };
        let mut yarn = String::new();
        begin(&mut yarn, from);
        let come = if across {
            ball.go(place.out, -24.0)
        } else {
            ball.go(lead, 9.0)
        };
        curve(&mut yarn, bend, come, ball);
        let length = if cornered { TIP - 12.0 } else { TIP };
        self.working = Some(Working {
            needle: pointed(point, body, length),
            yarn,
            ball: (ball.x, ball.y),
        });
    }

    /// Whether a small round thing can lie there without covering anything written.
    fn is_clear(&self, spot: Spot) -> bool {
        let apart = |x: f32, y: f32, half: f32, low: f32| {
            (spot.x - x).abs() > half + BALL + 1.0 || (spot.y - y).abs() > low + BALL
        };
        let within = (BALL..WIDE - BALL).contains(&spot.x) && (BALL..HIGH - BALL).contains(&spot.y);
        within
            && self
                .totals
                .iter()
                .all(|t| apart(t.x, t.y, t.wide / 2.0, 9.0))
            && self.names.iter().all(|name| {
                let half = width(&name.text) / 2.0;
                let middle = match name.hold {
                    Hold::Start => name.x + half,
                    Hold::Middle => name.x,
                    Hold::End => name.x - half,
                };
                apart(middle, name.y, half, LINE / 2.0 - 1.0)
            })
    }

    /// The beginning of the round is marked where neither the tip nor anything else shows it.
    fn start(&mut self, field: &Field, seats: &Seats, ends: &[(f32, f32)]) {
        let at_start = seats.tip == Some(Tip { seat: 0, part: 0 });
        if !seats.joined || at_start || seats.flat || ends.len() < 2 {
            return;
        }
        // A flag beside the first stitch, or in the corner where the needles meet.
        let (foot, top, back, inward) = if let Some((corner, inward)) = field.first_corner() {
            (
                corner.go(inward, 4.0),
                corner.go(inward, 20.0),
                Spot::new(inward.y, -inward.x),
                inward,
            )
        } else {
            let place = field.place(0, ends[0].0 - 5.0);
            let inward = Spot::new(-place.out.x, -place.out.y);
            let back = Spot::new(-place.along.x, -place.along.y);
            (
                place.at.go(place.out, BAND),
                place.at.go(inward, 11.0),
                back,
                inward,
            )
        };
        let pennant = [
            foot,
            top,
            top.go(back, 9.0).go(inward, -4.5),
            top.go(inward, -9.0),
        ];
        self.start = Some(path(&pennant, false));
        let spot = top.go(inward, 7.0);
        self.names.push(Text {
            text: copy::START.to_owned(),
            x: spot.x,
            y: spot.y,
            turn: 0.0,
            hold: Hold::Middle,
        });
    }
}

/// Shares every needle out, all at one scale, each in the middle of its course.
fn cells(seats: &Seats, field: &Field) -> Vec<Vec<Cell>> {
    let ring = seats.seats.len() == 1 && seats.joined;
    let shares: Vec<Vec<Share>> = seats
        .seats
        .iter()
        .enumerate()
        .map(|(n, seat)| shares(seat, n, seats.tip))
        .collect();
    let full = |n: usize| field.length(n) / FULL;
    let scale = shares
        .iter()
        .enumerate()
        .filter(|(n, row)| field.squeezed != Some(*n) && row.iter().any(|s| s.stitches > 0))
        .map(|(n, row)| {
            spread::scale(row, field.length(n)).min(if ring { f32::MAX } else { full(n) })
        })
        .fold(f32::MAX, f32::min);
    seats
        .seats
        .iter()
        .zip(&shares)
        .enumerate()
        .map(|(n, (seat, shares))| {
            let room = field.length(n);
            let scale = if field.squeezed == Some(n) {
                spread::scale(shares, room).min(scale)
            } else {
                scale
            };
            let widths = widths(shares, room, scale);
            let all: f32 = widths.iter().sum();
            let mut s = (room - all) / 2.0;
            let mut row = Vec::with_capacity(seat.parts.len());
            let mut widths = widths.into_iter();
            for (i, part) in seat.parts.iter().enumerate() {
                if parted(seat, n, seats.tip) == Some(i) {
                    s += widths.next().unwrap_or(0.0);
                }
                let width = widths.next().unwrap_or(0.0);
                row.push(Cell {
                    part: *part,
                    from: s,
                    to: s + width,
                });
                s += width;
            }
            row
        })
        .collect()
}

/// Before which part the tip parts two groups of one needle.
fn parted(seat: &Seat, n: usize, tip: Option<Tip>) -> Option<usize> {
    let tip = tip.filter(|t| t.seat == n)?;
    (tip.part > 0 && tip.part < seat.parts.len()).then_some(tip.part)
}

fn shares(seat: &Seat, n: usize, tip: Option<Tip>) -> Vec<Share> {
    let parted = parted(seat, n, tip);
    let fixed = |least| Share { stitches: 0, least };
    let mut row = Vec::with_capacity(seat.parts.len() + 1);
    for (i, part) in seat.parts.iter().enumerate() {
        if parted == Some(i) {
            row.push(fixed(PARTING));
        }
        row.push(match part {
            Part::Group { stitches, .. } => Share {
                stitches: *stitches,
                least: match stitches {
                    0..=9 => 16.0,
                    10..=99 => 23.0,
                    _ => 32.0,
                },
            },
            Part::Edge(0) => fixed(BARE_EDGE),
            Part::Edge(_) => fixed(EDGE),
            Part::Marker(_) => fixed(MARKER),
            Part::Gap => fixed(GAP),
        });
    }
    row
}

fn ends(row: &[Cell]) -> (f32, f32) {
    (
        row.first().map_or(0.0, |c| c.from),
        row.last().map_or(0.0, |c| c.to),
    )
}

/// How far along its needle the tip is: between what lies before and after it.
fn tip_at(rows: &[Vec<Cell>], tip: Tip) -> f32 {
    let Some(row) = rows.get(tip.seat) else {
        return 0.0;
    };
    let before = tip
        .part
        .checked_sub(1)
        .and_then(|i| row.get(i))
        .map(|c| c.to);
    let after = row.get(tip.part).map(|c| c.from);
    match (before, after) {
        (Some(a), Some(b)) => f32::midpoint(a, b),
        (Some(s), None) | (None, Some(s)) => s,
        (None, None) => 0.0,
    }
}

/// A name and where along the needle it belongs.
struct Called {
    full: String,
    short: String,
    at: f32,
}

impl Called {
    fn text(&self, short: bool) -> &str {
        if short { &self.short } else { &self.full }
    }

    fn width(&self, short: bool) -> f32 {
        width(self.text(short))
    }
}

fn width(text: &str) -> f32 {
    LETTER * f32::from(u16::try_from(text.chars().count()).unwrap_or(u16::MAX))
}

/// Neighbouring groups of one origin are called once.
fn called(row: &[Cell]) -> Vec<Called> {
    let mut out: Vec<(Called, Option<Origin>, f32)> = Vec::with_capacity(row.len());
    for cell in row {
        match cell.part {
            Part::Group { origin, .. } => {
                if let Some((name, last, from)) = out.last_mut()
                    && *last == Some(origin)
                {
                    name.at = f32::midpoint(*from, cell.to);
                    continue;
                }
                let name = Called {
                    full: origin_name(origin).to_owned(),
                    short: copy::group_short(origin).to_owned(),
                    at: cell.middle(),
                };
                out.push((name, Some(origin), cell.from));
            }
            Part::Edge(loops) => {
                let text = if loops > 0 {
                    copy::EDGE
                } else {
                    copy::EDGE_BARE
                };
                let name = Called {
                    full: text.to_owned(),
                    short: text.to_owned(),
                    at: cell.middle(),
                };
                out.push((name, None, cell.from));
            }
            Part::Marker(_) | Part::Gap => {}
        }
    }
    out.into_iter().map(|(name, ..)| name).collect()
}

fn upright(text: String, at: Spot) -> Text {
    Text {
        text,
        x: at.x,
        y: at.y,
        turn: 0.0,
        hold: Hold::Middle,
    }
}

/// A name outside its needle, held on the side that faces the needle.
fn outward(name: &Called, place: &Place) -> Text {
    let (gap, hold) = match place.out.x {
        x if x < -0.5 => (7.0, Hold::End),
        x if x > 0.5 => (7.0, Hold::Start),
        _ => (10.0, Hold::Middle),
    };
    let spot = place.at.go(place.out, BAND + gap);
    let room = match hold {
        Hold::End => spot.x,
        Hold::Start => WIDE - spot.x,
        Hold::Middle => WIDE,
    };
    let text = name.text(name.width(false) > room).to_owned();
    Text {
        text,
        x: spot.x,
        y: spot.y,
        turn: 0.0,
        hold,
    }
}

/// A name inside the ring.
fn inward(text: &str, place: &Place) -> Text {
    let (gap, hold) = match place.out.x {
        x if x < -0.5 => (13.0, Hold::Start),
        x if x > 0.5 => (13.0, Hold::End),
        _ => (17.0, Hold::Middle),
    };
    let spot = place.at.go(place.out, -gap);
    Text {
        text: text.to_owned(),
        x: spot.x,
        y: spot.y,
        turn: 0.0,
        hold,
    }
}

/// Degrees by which a text is turned to run along a needle and still read from left to right.
fn level(along: Spot) -> f32 {
    let degrees = along.y.atan2(along.x).to_degrees();
    if degrees > 90.0 {
        degrees - 180.0
    } else if degrees < -90.0 {
        degrees + 180.0
    } else {
        degrees
    }
}

fn put(d: &mut String, at: Spot) {
    // Writing to a string cannot fail.
    let _ = write!(d, "{:.1} {:.1}", at.x, at.y);
}

fn begin(d: &mut String, at: Spot) {
    d.push('M');
    put(d, at);
}

fn line(d: &mut String, to: Spot) {
    d.push('L');
    put(d, to);
}

fn curve(d: &mut String, a: Spot, b: Spot, to: Spot) {
    d.push('C');
    put(d, a);
    d.push(' ');
    put(d, b);
    d.push(' ');
    put(d, to);
}

fn path(spots: &[Spot], close: bool) -> String {
    let mut d = String::with_capacity(spots.len() * 12 + 1);
    for (i, spot) in spots.iter().enumerate() {
        if i == 0 {
            begin(&mut d, *spot)
        } else {
            line(&mut d, *spot)
        }
    }
    if close {
        d.push('Z');
    }
    d
}

/// Stops along a stretch: its two ends on a straight needle, as many as make a bend smooth else.
fn stops(field: &Field, n: usize, from: f32, to: f32) -> Vec<f32> {
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
fn block(field: &Field, n: usize, from: f32, to: f32, near: f32, far: f32) -> String {
    let stops = stops(field, n, from, to);
    let side = |s: f32, out: f32| {
        let place = field.place(n, s);
        place.at.go(place.out, out)
    };
    let mut spots: Vec<Spot> = stops.iter().map(|s| side(*s, near)).collect();
    spots.extend(stops.iter().rev().map(|s| side(*s, far)));
    path(&spots, true)
}

fn along(field: &Field, n: usize, from: f32, to: f32) -> String {
    let spots: Vec<Spot> = stops(field, n, from, to)
        .iter()
        .map(|s| field.place(n, *s).at)
        .collect();
    path(&spots, false)
}

/// One loop over the needle for each stitch.
fn loops(field: &Field, n: usize, cell: &Cell, stitches: u16) -> String {
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

/// The gap of a turned row: a notch between two groups.
fn notch(field: &Field, n: usize, cell: &Cell) -> String {
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
fn cable(from: &Place, to: &Place, last: f32) -> String {
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

fn turns_back(from: &Place, to: &Place) -> bool {
    from.along.x * to.along.x + from.along.y * to.along.y < -0.5
}

/// The end of a circular that hangs while it is not at work.
fn hanging(field: &Field, n: usize, s: f32, away: f32) -> String {
    let place = field.place(n, s + 3.0 * away);
    let way = Spot::new(place.along.x * away, place.along.y * away);
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
fn pointed(point: Spot, body: Spot, length: f32) -> String {
    let side = Spot::new(-body.y, body.x);
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

#[cfg(test)]
mod tests;
