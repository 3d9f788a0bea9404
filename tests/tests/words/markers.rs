//! Markers, by what the words say: each that is taken off is looked for on the needles where the words
//! have it, each that is placed has to hang where they say.
//!
//! A marker at a needle's tip falls off (common practice, no source).

use std::collections::VecDeque;

use evenloop_tests::model::hands::{Cell, Hands, Part};
use evenloop_tests::model::page::Do;

/// What a note says of the markers, in its order.
pub(crate) struct Told {
    deeds: VecDeque<(Deed, Option<String>)>,
}

enum Deed {
    TakeOff(char),
    PlaceHere,
    Hang(u32),
}

impl Told {
    /// Reads a note with the needles before the eyes.
    pub(crate) fn read(note: &str, hands: &Hands) -> Result<Self, String> {
        let mut deeds = VecDeque::new();
        for sentence in note.split(['.', ':']).map(str::trim) {
            if sentence == "Take all markers off" {
                for marker in hanging(hands) {
                    deeds.push_back((Deed::TakeOff(marker), None));
                }
            } else if let Some(places) = sentence.strip_prefix("Take off the marker") {
                let places = places.strip_prefix('s').unwrap_or(places).trim();
                for place in each_place(places) {
                    deeds.push_back((Deed::TakeOff(find(place, hands)?), None));
                }
            } else if sentence == "Place a marker here" {
                deeds.push_back((Deed::PlaceHere, None));
            } else if let Some(all) =
                sentence.strip_prefix("Counted from here, place a marker after ")
            {
                for one in all.split(", and one after ") {
                    let (n, place) = one
                        .split_once(" stitches, ")
                        .ok_or_else(|| format!("{one:?} is not a place"))?;
                    let n = n.parse().map_err(|_| format!("{n:?} is no number"))?;
                    deeds.push_back((Deed::Hang(n), Some(place.to_owned())));
                }
            } else if sentence.to_lowercase().contains("hang a marker") {
                return Err(format!("{sentence:?} is not understood"));
            }
        }
        Ok(Self { deeds })
    }

    /// The next deed has to be this one.
    pub(crate) fn next_is(&mut self, op: &Do) -> Result<(), String> {
        let told = self.deeds.pop_front();
        match (told, op) {
            (Some((Deed::TakeOff(said), _)), Do::TakeOff(marker)) if said == *marker => Ok(()),
            (Some((Deed::PlaceHere, _)), Do::Place(_)) => Ok(()),
            (Some((Deed::Hang(n), place)), Do::Hang(marker, at)) if n == *at => {
                self.deeds
                    .extend(place.map(|place| (Deed::TakeOff(*marker), Some(place))));
                Ok(())
            }
            _ => Err(format!("the words do not tell {op:?}")),
        }
    }

    /// Nothing is left to do, and what was placed hangs where it was to hang.
    pub(crate) fn finished(self, hands: &Hands) -> Result<(), String> {
        for (deed, place) in self.deeds {
            match (deed, place) {
                (Deed::TakeOff(marker), Some(place)) if find(&place, hands)? == marker => {}
                _ => return Err("the words tell more of markers than is done".into()),
            }
        }
        Ok(())
    }
}

/// No marker hangs at a needle's tip, where it falls off; between two moves of one walk the working
/// tip is held.
pub(crate) fn none_falls_off(hands: &Hands, between_moves: bool) -> Result<(), String> {
    if hands.endless {
        return Ok(());
    }
    let live = |c: &Cell| matches!(c, Cell::Live(_));
    for (number, cells) in hands.needles.iter().enumerate() {
        for (i, cell) in cells.iter().enumerate() {
            let Cell::Marker(marker) = cell else { continue };
            let held =
                between_moves && number == hands.needle && (i == hands.at || i + 1 == hands.at);
            let enclosed = cells[..i].iter().any(live) && cells[i..].iter().any(live);
            if !enclosed && !held {
                return Err(format!("marker {marker} falls off its needle's tip"));
            }
        }
    }
    Ok(())
}

fn hanging(hands: &Hands) -> Vec<char> {
    let cells = from_begin(hands).into_iter();
    cells
        .filter_map(|cell| match cell {
            Cell::Marker(marker) => Some(marker),
            _ => None,
        })
        .collect()
}

fn from_begin(hands: &Hands) -> Vec<Cell> {
    let mut cells: Vec<Cell> = hands.needles.iter().flatten().copied().collect();
    let begin = cells.iter().position(|c| *c == Cell::Begin).unwrap_or(0);
    cells.rotate_left(begin);
    cells
}

/// "in the middle of the sole and where the instep begins" is two places.
fn each_place(text: &str) -> Vec<&str> {
    match text {
        "at both ends of the instep" => vec!["where the instep begins", "where the instep ends"],
        text => text.split(" and ").flat_map(|t| t.split(", ")).collect(),
    }
}

/// The one marker that hangs at a place.
fn find(place: &str, hands: &Hands) -> Result<char, String> {
    use Part::{Back, Front, GussetLeft, GussetRight, Heel, Instep, Sole};
    let cells = from_begin(hands);
    let part = |cell: &Cell| match cell {
        Cell::Live(id) => Some(hands.made[*id].part),
        _ => None,
    };
    let mut found = Vec::new();
    for (i, cell) in cells.iter().enumerate() {
        let Cell::Marker(marker) = cell else { continue };
        let before = cells[..i]
            .iter()
            .rev()
            .chain(cells[i..].iter().rev())
            .find_map(part);
        let after = cells[i..].iter().chain(&cells[..i]).find_map(part);
        let (Some(before), Some(after)) = (before, after) else {
            continue;
        };
        let sole = |p| matches!(p, Sole | Heel | GussetLeft | GussetRight);
        let here = match place {
            "in the middle of the sole" => sole(before) && sole(after),
            "where the instep begins" => sole(before) && after == Instep,
            "where the instep ends" => before == Instep && sole(after),
            "where the heel ends" => before == Heel && after != Heel,
            "where the back of the leg ends" => before == Back && after == Front,
            "where the front of the leg ends" => before == Front && after == Back,
            _ => return Err(format!("{place:?} is no place")),
        };
        if here {
            found.push(*marker);
        }
    }
    match found[..] {
        [one] => Ok(one),
        _ => Err(format!("{found:?} hang {place:?}")),
    }
}
