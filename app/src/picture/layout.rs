//! Lays the picture out: which shape goes where on the field, and what is written beside it.
//!
//! Everything is placed along the needles by [`super::course`], in widths shared out by
//! [`super::cells`]; the result is plain values that can be compared and drawn.

use evenloop_engine::needles::Needles;

use super::cells::{Cell, cells, ends, tip_at};
use super::course::{BAND, Course, HIGH, NeedleCourses, PicturePoint, WIDE};
use super::look::Look;
use super::names::{called, inward, level, outward, upright, width};
use super::scene::{Bead, Hold, Opening, Picture, PictureText, Shaft, StitchBand, Total, Working};
use super::seats::{SeatItem, Seats, Tip};
use super::shapes::{
    along, begin, block, cable, curve, hanging, hooks, loops, notch, path, pointed, turns_back,
};
use super::side_by_side;
use super::spread::settle;
use crate::text;

/// How long the working tip is drawn, and how large the ball of yarn.
const TIP: f32 = 34.0;
const BALL: f32 = 6.5;
/// Height of a line of names, on the generous side.
const LINE: f32 = 14.0;

impl Picture {
    /// The width and height of the field everything is placed on.
    pub const SIZE: (f32, f32) = (WIDE, HIGH);

    /// Lays out the needles. While the heel is worked `flat`, all else waits.
    pub fn of(needles: &Needles, look: Look, flat: bool) -> Self {
        let seats = Seats::of(needles, flat);
        if seats.stitches() == 0 {
            return Self {
                empty: Some(text::picture::empty(needles.waste(), needles.to_snip())),
                ..Self::default()
            };
        }
        Self::lay(&seats, look)
    }

    /// What comes onto needles on which nothing is yet.
    pub fn coming(needles: &Needles, look: Look) -> Self {
        let seats = Seats::of(needles, false);
        let field = NeedleCourses::new(look, seats.each.len(), seats.joined, seats.wrong_side);
        let mut picture = Self::lay(&seats, look);
        picture.to_come = true;
        let words = text::picture::TO_COME.to_owned();
        picture.names.push(upright(words, field.side()));
        picture
    }

    /// Lays out what lies on the needles.
    pub(super) fn lay(seats: &Seats, look: Look) -> Self {
        let field = NeedleCourses::new(look, seats.each.len(), seats.joined, seats.wrong_side);
        let rows = cells(seats, &field);
        let mut picture = Self {
            wrong_side: seats.wrong_side,
            ..Self::default()
        };
        let mut seen = [0; 2];
        for (n, row) in rows.iter().enumerate() {
            picture.fabric(&field, n, row, &mut seen);
            picture.names(&field, n, row);
            picture.total(&field, n, seats, look);
            picture.socks(&field, n, row);
        }
        let ends: Vec<(f32, f32)> = rows.iter().map(|row| ends(row)).collect();
        let tip = seats.tip.map(|tip| (tip, tip_at(&rows, tip)));
        picture.needles(&field, look, seats, &ends);
        if seats.flat && seats.wrong_side {
            picture
                .names
                .push(upright(text::picture::WRONG_SIDE.to_owned(), field.side()));
        }
        picture.start(&field, seats, &ends);
        if let Some((tip, s)) = tip {
            picture.working(&field, seats, &ends, tip, s);
        }
        picture
    }

    /// Groups, edges, gaps and markers of one needle; `seen` counts the stitches of each sock.
    fn fabric(&mut self, field: &NeedleCourses, n: usize, row: &[Cell], seen: &mut [usize; 2]) {
        let two = row.iter().any(|cell| cell.part == SeatItem::Between);
        let mut sock = side_by_side::begins(n, two);
        for cell in row {
            let outline = || block(field, n, cell.from, cell.to, 0.0, BAND);
            let middle = field.place(n, cell.middle());
            let inside = middle.at.go(middle.out, BAND / 2.0);
            match cell.part {
                SeatItem::Group {
                    origin,
                    stitches,
                    rests,
                } => {
                    let first = &mut seen[sock.index()];
                    self.bands.push(StitchBand {
                        origin,
                        rests,
                        fabric: outline(),
                        loops: loops(field, n, cell, stitches),
                        count: upright(stitches.to_string(), inside),
                        sock,
                        first: *first,
                        hooks: hooks(field, n, cell, stitches),
                    });
                    *first += usize::from(stitches);
                }
                SeatItem::Edge(loops) => self.openings.push(Opening {
                    outline: outline(),
                    count: (loops > 0).then(|| upright(loops.to_string(), inside)),
                }),
                SeatItem::Gap => self.gaps.push(notch(field, n, cell)),
                SeatItem::Marker(marker) => {
                    let bead = middle.at.go(middle.out, -6.0);
                    self.beads.push(Bead {
                        marker,
                        across: path(&[bead, middle.at.go(middle.out, BAND + 2.0)], false),
                        x: bead.x,
                        y: bead.y,
                    });
                    // between two socks their names are worth more than the beads'
                    if !two {
                        self.names
                            .push(inward(text::picture::marker(marker), &middle));
                    }
                }
                SeatItem::Between => sock = sock.other(),
            }
        }
    }

    /// The names beside one needle: each called once, moved so that none lies on another.
    fn names(&mut self, field: &NeedleCourses, n: usize, row: &[Cell]) {
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
                self.names.push(PictureText {
                    words: name.text(short).to_owned(),
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

    fn total(&mut self, field: &NeedleCourses, n: usize, seats: &Seats, look: Look) {
        let count = seats.each.len();
        let shares = seats.shares.and_then(|all| all.get(n).copied());
        let mut spot = field.total(n);
        if shares.is_some() {
            spot = side_by_side::total(spot, field.mirrored);
        }
        let stitches = seats.each.get(n).map_or(0, |s| s.stitches);
        self.totals.push(Total {
            number: look.number(n, count),
            stitches,
            text: shares.map_or_else(
                || text::picture::total(stitches, count > 2),
                text::picture::total_of_two,
            ),
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
    fn needles(&mut self, field: &NeedleCourses, look: Look, seats: &Seats, ends: &[(f32, f32)]) {
        let count = ends.len();
        for (n, (from, to)) in ends.iter().copied().enumerate() {
            let works = seats.works == Some(n);
            let whole = (-13.0, field.length(n) + 13.0);
            let (line, stiff) = match (look, count) {
                (_, 1) if seats.joined => (along(field, n, 0.0, field.length(n)), false),
                (Look::Points, _) | (Look::Ring, 3..) => (along(field, n, whole.0, whole.1), true),
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

    fn working(
        &mut self,
        field: &NeedleCourses,
        seats: &Seats,
        ends: &[(f32, f32)],
        tip: Tip,
        s: f32,
    ) {
        let count = ends.len();
        let place = field.place(tip.seat, s);
        let forward = if seats.wrong_side { -1.0 } else { 1.0 };
        let lead = PicturePoint::new(place.along.x * forward, place.along.y * forward);
        // the tip lies on the stitches' loops and reaches a little into the next one
        let point = place.at.go(place.out, -3.0).go(lead, 5.0);
        let at_start = tip.part == 0 && seats.joined && !seats.wrong_side;
        // Needles that meet in a corner leave no room behind the first stitch.
        let cornered = at_start && count > 2 && field.squeezed.is_none();
        let body = if cornered {
            PicturePoint::new(
                lead.x * 0.35 - place.out.x * 0.94,
                lead.y * 0.35 - place.out.y * 0.94,
            )
        } else {
            PicturePoint::new(-lead.x, -lead.y)
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
    fn is_clear(&self, spot: PicturePoint) -> bool {
        let apart = |x: f32, y: f32, half: f32, low: f32| {
            (spot.x - x).abs() > half + BALL + 1.0 || (spot.y - y).abs() > low + BALL
        };
        let within = (BALL..WIDE - BALL).contains(&spot.x) && (BALL..HIGH - BALL).contains(&spot.y);
        within
            && self
                .totals
                .iter()
                .all(|t| apart(t.x, t.y, t.wide / 2.0, 9.0))
            && self
                .waiting
                .iter()
                .all(|w| apart(w.ball.0, w.ball.1, BALL, BALL))
            && self.names.iter().all(|name| {
                let half = width(&name.words) / 2.0;
                let middle = match name.hold {
                    Hold::Start => name.x + half,
                    Hold::Middle => name.x,
                    Hold::End => name.x - half,
                };
                apart(middle, name.y, half, LINE / 2.0 - 1.0)
            })
    }

    /// The beginning of the round is marked where neither the tip nor anything else shows it.
    fn start(&mut self, field: &NeedleCourses, seats: &Seats, ends: &[(f32, f32)]) {
        let at_start = seats.tip == Some(Tip { seat: 0, part: 0 });
        if !seats.joined || at_start || seats.flat || ends.len() < 2 {
            return;
        }
        // A flag beside the first stitch, or in the corner where the needles meet.
        let (foot, top, back, inward) = if let Some((corner, inward)) = field.first_corner() {
            (
                corner.go(inward, 4.0),
                corner.go(inward, 20.0),
                PicturePoint::new(inward.y, -inward.x),
                inward,
            )
        } else {
            let place = field.place(0, ends[0].0 - 5.0);
            let inward = PicturePoint::new(-place.out.x, -place.out.y);
            let back = PicturePoint::new(-place.along.x, -place.along.y);
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
        self.names.push(PictureText {
            words: text::picture::START.to_owned(),
            x: spot.x,
            y: spot.y,
            turn: 0.0,
            hold: Hold::Middle,
        });
    }
}

#[cfg(test)]
mod tests;
