//! Where stitches are moved to and where the round begins: each is said where it is done, and what is
//! said of it is so. The counts that go with it `numbers` holds.

use evenloop_tests::model::hands::{Cell, Hands, only_moves_stitches};
use evenloop_tests::model::page::Do;

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
