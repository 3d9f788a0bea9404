//! What is written beside the needles, and where it is held.

use evenloop_engine::needles::Origin;
use evenloop_engine::text::origin_name;

use super::cells::Cell;
use super::course::{BAND, CoursePoint, PicturePoint, WIDE};
use super::scene::{Hold, PictureText};
use super::seats::SeatItem;
use crate::text;

/// Width of one letter of a name, on the generous side.
const LETTER: f32 = 6.4;

/// A name and where along the needle it belongs.
pub(super) struct Called {
    full: String,
    short: String,
    pub at: f32,
}

impl Called {
    pub(super) fn text(&self, short: bool) -> &str {
        if short { &self.short } else { &self.full }
    }

    pub(super) fn width(&self, short: bool) -> f32 {
        width(self.text(short))
    }
}

pub(super) fn width(text: &str) -> f32 {
    LETTER * f32::from(u16::try_from(text.chars().count()).unwrap_or(u16::MAX))
}

/// Neighbouring groups of one origin are called once.
pub(super) fn called(row: &[Cell]) -> Vec<Called> {
    let mut out: Vec<(Called, Option<Origin>, f32)> = Vec::with_capacity(row.len());
    for cell in row {
        match cell.part {
            SeatItem::Group { origin, .. } => {
                if let Some((name, last, from)) = out.last_mut()
                    && *last == Some(origin)
                {
                    name.at = f32::midpoint(*from, cell.to);
                    continue;
                }
                let name = Called {
                    full: origin_name(origin).to_owned(),
                    short: text::picture::group_short(origin).to_owned(),
                    at: cell.middle(),
                };
                out.push((name, Some(origin), cell.from));
            }
            SeatItem::Edge(_) => {
                let name = Called {
                    full: text::picture::EDGE.to_owned(),
                    short: text::picture::EDGE.to_owned(),
                    at: cell.middle(),
                };
                out.push((name, None, cell.from));
            }
            SeatItem::Between => {
                if let Some((_, origin, _)) = out.last_mut() {
                    *origin = None;
                }
            }
            SeatItem::Marker(_) | SeatItem::Gap => {}
        }
    }
    out.into_iter().map(|(name, ..)| name).collect()
}

pub(super) fn upright(words: String, at: PicturePoint) -> PictureText {
    PictureText {
        words,
        x: at.x,
        y: at.y,
        turn: 0.0,
        hold: Hold::Middle,
    }
}

/// A name outside its needle, held on the side that faces the needle.
pub(super) fn outward(name: &Called, place: &CoursePoint) -> PictureText {
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
    PictureText {
        words: name.text(name.width(false) > room).to_owned(),
        x: spot.x,
        y: spot.y,
        turn: 0.0,
        hold,
    }
}

/// A name inside the ring.
pub(super) fn inward(text: &str, place: &CoursePoint) -> PictureText {
    let (gap, hold) = match place.out.x {
        x if x < -0.5 => (13.0, Hold::Start),
        x if x > 0.5 => (13.0, Hold::End),
        _ => (17.0, Hold::Middle),
    };
    let spot = place.at.go(place.out, -gap);
    PictureText {
        words: text.to_owned(),
        x: spot.x,
        y: spot.y,
        turn: 0.0,
        hold,
    }
}

/// Degrees by which a text is turned to run along a needle and still read from left to right.
pub(super) fn level(along: PicturePoint) -> f32 {
    let degrees = along.y.atan2(along.x).to_degrees();
    if degrees > 90.0 {
        degrees - 180.0
    } else if degrees < -90.0 {
        degrees + 180.0
    } else {
        degrees
    }
}
