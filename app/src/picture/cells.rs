//! Shares a needle's length out among what lies on it.

use super::course::NeedleCourses;
use super::seats::{NeedleSeat, SeatItem, Seats, Tip};
use super::spread::{self, Share, widths};

/// A needle is never shown fuller than if it held so many stitches: a toe looks as small as it is.
const FULL: f32 = 22.0;
/// Width of an open edge, of a marker, of a turned gap, and of the parting at the working tip.
const EDGE: f32 = 34.0;
const BARE_EDGE: f32 = 12.0;
const MARKER: f32 = 9.0;
const GAP: f32 = 9.0;
const PARTING: f32 = 9.0;
/// Room between two socks on one needle.
const BETWEEN: f32 = 22.0;

/// A part with its stretch along the needle.
#[derive(Clone, Copy)]
pub(super) struct Cell {
    pub part: SeatItem,
    pub from: f32,
    pub to: f32,
}

impl Cell {
    pub(super) fn middle(&self) -> f32 {
        f32::midpoint(self.from, self.to)
    }
}

/// Shares every needle out, all at one scale, each in the middle of its course.
pub(super) fn cells(seats: &Seats, field: &NeedleCourses) -> Vec<Vec<Cell>> {
    let ring = seats.each.len() == 1 && seats.joined;
    let shares: Vec<Vec<Share>> = seats
        .each
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
        .each
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
fn parted(seat: &NeedleSeat, n: usize, tip: Option<Tip>) -> Option<usize> {
    let tip = tip.filter(|t| t.seat == n)?;
    (tip.part > 0 && tip.part < seat.parts.len()).then_some(tip.part)
}

fn shares(seat: &NeedleSeat, n: usize, tip: Option<Tip>) -> Vec<Share> {
    let parted = parted(seat, n, tip);
    let fixed = |least| Share { stitches: 0, least };
    let mut row = Vec::with_capacity(seat.parts.len() + 1);
    for (i, part) in seat.parts.iter().enumerate() {
        if parted == Some(i) {
            row.push(fixed(PARTING));
        }
        row.push(match part {
            SeatItem::Group { stitches, .. } => Share {
                stitches: *stitches,
                least: match stitches {
                    0..=9 => 16.0,
                    10..=99 => 23.0,
                    _ => 32.0,
                },
            },
            SeatItem::Edge(0) => fixed(BARE_EDGE),
            SeatItem::Edge(_) => fixed(EDGE),
            SeatItem::Marker(_) => fixed(MARKER),
            SeatItem::Gap => fixed(GAP),
            SeatItem::Between => fixed(BETWEEN),
        });
    }
    row
}

pub(super) fn ends(row: &[Cell]) -> (f32, f32) {
    (
        row.first().map_or(0.0, |c| c.from),
        row.last().map_or(0.0, |c| c.to),
    )
}

/// How far along its needle the tip is: between what lies before and after it.
pub(super) fn tip_at(rows: &[Vec<Cell>], tip: Tip) -> f32 {
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
