//! Where stitches are moved to and where the round begins: each is said where it is done, and what is
//! said of it is so. The counts that go with it `numbers` holds.

use evenloop_tests::model::hands::{Cell, Hands, Id, only_moves_stitches};
use evenloop_tests::model::page::Do;

/// How stitches lie before a move, from the beginning of the round, and which of them comes next.
pub(crate) struct Lay {
    ring: Vec<Id>,
    next: Option<Id>,
}

impl Lay {
    pub(crate) fn of(hands: &Hands) -> Self {
        let needles = hands.needles.len();
        let ahead = (0..=needles).flat_map(|n| {
            let cells = &hands.needles[(hands.needle + n) % needles];
            let from = if n == 0 { hands.at } else { 0 };
            cells[from.min(cells.len())..].iter()
        });
        let mut live = ahead.filter_map(|cell| match cell {
            Cell::Live(id) => Some(*id),
            _ => None,
        });
        Self {
            ring: hands.from_begin(),
            next: live.next(),
        }
    }

    /// Where a move only shifts stitches: what a knitter does who reads the note and nothing else. She lets
    /// the round begin where it says, and deals the stitches out from there in the numbers that it gives.
    pub(crate) fn carried_out(self, note: &str, ops: &[Do], hands: &Hands) -> Result<(), String> {
        let moved = ops
            .iter()
            .any(|op| matches!(op, Do::Split(_) | Do::Merge(_) | Do::BeginHere));
        if !moved || !only_moves_stitches(ops) || hands.endless || !hands.joined {
            return Ok(());
        }
        let mut ring = self.ring;
        // For the graft the yarn hangs where instep and sole meet.
        let here = [
            "egins here",
            "begin here",
            "begins at",
            "instep lies on one needle and the sole on the other",
        ];
        if here.iter().any(|words| note.contains(words))
            && let Some(next) = self
                .next
                .and_then(|id| ring.iter().position(|one| *one == id))
        {
            ring.rotate_left(next);
        }
        let needles = hands.needles.len();
        let elsewhere = |op: &Do| matches!(op, Do::Split(1..) | Do::Merge(_));
        let Some(counts) = dealt(note, needles, ring.len()) else {
            return if ops.iter().any(elsewhere) {
                Err("the words do not say how many lie on each needle".into())
            } else {
                Ok(())
            };
        };
        let first = super::first_needle(hands);
        let mut left = &ring[..];
        for (nth, count) in counts.into_iter().enumerate() {
            let (mine, rest) = left.split_at(count);
            left = rest;
            let cells = &hands.needles[(first + nth) % needles];
            let lie: Vec<Id> = cells
                .iter()
                .filter_map(|cell| match cell {
                    Cell::Live(id) => Some(*id),
                    _ => None,
                })
                .collect();
            if lie != mine {
                return Err(format!(
                    "dealt out as it is said, other stitches lie on needle {}",
                    nth + 1
                ));
            }
        }
        Ok(())
    }
}

/// The numbers of a note that are as many as there are needles and come to all the stitches.
fn dealt(note: &str, needles: usize, all: usize) -> Option<Vec<usize>> {
    note.split(". ").find_map(|sentence| {
        let sentence = sentence
            .replace("needle 1", "the first needle")
            .replace("needle 2", "the second needle");
        let counts: Vec<usize> = sentence
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|n| n.parse().ok())
            .collect();
        (counts.len() == needles && counts.iter().sum::<usize>() == all).then_some(counts)
    })
}

/// After a move of these operations, told with that note.
pub(crate) fn told(note: &str, ops: &[Do], hands: &Hands) -> Result<(), String> {
    let begins = ops.contains(&Do::BeginHere);
    let says_begin = note.contains("egins here")
        || note.contains("begin here")
        || note.contains("begins at")
        || note.contains("still begins in")
        // the graft has no rounds to begin
        || note.contains("instep lies on one needle and the sole on the other");
    if begins && !says_begin {
        return Err("the round begins anew, and nobody says so".into());
    }
    if says_begin && only_moves_stitches(ops) && hands.joined && !at_the_begin(hands) {
        return Err("the words let the round begin here, but it does not".into());
    }
    let shifts = ops
        .iter()
        .any(|op| matches!(op, Do::Split(_) | Do::Merge(_)));
    let says_shift = [
        "lide",
        "lip ",
        "ull the cable",
        "go on with",
        "ivide",
        "Spread",
    ];
    if shifts && !says_shift.iter().any(|word| note.contains(word)) && !carries_on(note) {
        return Err("stitches move to another needle, and nobody says so".into());
    }
    Ok(())
}

/// Where a needle's end is gone over without a word of moving: the round is said to be whole, or the
/// needle that carries the stitches is named.
fn carries_on(note: &str) -> bool {
    note.contains("on needle 2")
}

fn at_the_begin(hands: &Hands) -> bool {
    let cells = &hands.needles[hands.needle];
    let live = |c: &Cell| matches!(c, Cell::Live(_));
    let begin = |c: &Cell| *c == Cell::Begin;
    // Nothing live lies between the tip and the beginning, on either side of it.
    let ahead = cells[hands.at..].iter().find(|c| live(c) || begin(c));
    let behind = cells[..hands.at].iter().rev().find(|c| live(c) || begin(c));
    ahead.is_some_and(begin) || behind.is_some_and(begin)
}
