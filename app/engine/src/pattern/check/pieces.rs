//! What pieces ask for, whatever lies on the needles: their stitches, their count, whether they pick up or name a
//! needle.
//!
//! Knows pieces and statements; must not know needles.

use crate::pattern::piece::{Extent, Piece, Placed, Spot, Stop, Times};
use crate::pattern::statement::{Says, Statement};

/// The count that pieces end with.
pub(super) fn said(pieces: &[Placed]) -> Option<u16> {
    pieces.iter().rev().find_map(|p| match &p.piece {
        Piece::Count(counted) => counted.all,
        _ => None,
    })
}

pub(super) fn picks_up(pieces: &[Placed]) -> bool {
    pieces.iter().any(|p| matches!(p.piece, Piece::PickUp(_)))
}

/// Whether pieces make stitches more or fewer.
pub(super) fn shapes(pieces: &[Placed]) -> bool {
    pieces.iter().any(|p| match &p.piece {
        Piece::Together(_)
        | Piece::Decrease(_)
        | Piece::Increase(_)
        | Piece::MakeLeft
        | Piece::MakeRight => true,
        Piece::Repeat(inner, _) => shapes(inner),
        _ => false,
    })
}

/// Whether pieces are worked up to the gap of a turned row.
pub(super) fn refers_to_gap(pieces: &[Placed]) -> bool {
    pieces.iter().any(|p| match &p.piece {
        Piece::Run(_, Extent::To(_, Stop::Gap)) => true,
        Piece::Repeat(inner, times) => {
            matches!(times, Times::To(_, Stop::Gap)) || refers_to_gap(inner)
        }
        _ => false,
    })
}

pub(super) fn names_needles_in(statement: &Statement) -> bool {
    matches!(&statement.says, Says::Work { pieces, .. } if names_needles(pieces))
}

/// Whether pieces say on which needle they are worked, or how many stitches each one has.
fn names_needles(pieces: &[Placed]) -> bool {
    pieces.iter().any(|p| match &p.piece {
        Piece::Needle(_)
        | Piece::Run(_, Extent::To(_, Stop::NeedleEnd))
        | Piece::Repeat(_, Times::To(_, Stop::NeedleEnd)) => true,
        Piece::Repeat(inner, _) => names_needles(inner),
        Piece::Count(counted) => counted.needles.len() > 1,
        _ => false,
    })
}

/// Whether pieces are worked needle by needle.
pub(super) fn by_needle(pieces: &[Placed]) -> bool {
    let without_counts = without_counts(pieces);
    names_needles(&without_counts)
}

/// The highest number of a needle that is named.
pub(super) fn needles_named_in(statement: &Statement) -> u16 {
    match &statement.says {
        Says::Work { pieces, .. } => needles_named(pieces),
        _ => 0,
    }
}

fn needles_named(pieces: &[Placed]) -> u16 {
    let numbers = pieces.iter().map(|p| match &p.piece {
        Piece::Needle(n) => *n,
        Piece::Repeat(inner, _) => needles_named(inner),
        _ => 0,
    });
    numbers.max().unwrap_or(0)
}

/// Whether a line goes on from where the work is to the end of the round, and says no more: "knit to end".
pub(super) fn goes_on_to_end(pieces: &[Placed]) -> bool {
    let worked: Vec<&Piece> = pieces
        .iter()
        .map(|p| &p.piece)
        .filter(|piece| !matches!(piece, Piece::Count(_)))
        .collect();
    let run = |piece: &&Piece| matches!(piece, Piece::Run(..));
    matches!(worked.last(), Some(Piece::Run(_, Extent::To(_, Stop::End)))) && worked.iter().all(run)
}

/// Whether a line begins with the double stitch that a turn before it makes.
pub(super) fn begins_with_double(statement: &Statement) -> bool {
    let Says::Work { pieces, .. } = &statement.says else {
        return false;
    };
    pieces.first().is_some_and(|p| p.piece == Piece::MakeDouble)
}

pub(super) fn placed(pieces: &[Piece]) -> Vec<Placed> {
    let place = |piece: &Piece| Placed {
        spot: Spot::default(),
        piece: piece.clone(),
    };
    pieces.iter().map(place).collect()
}

pub(super) fn without_counts(pieces: &[Placed]) -> Vec<Placed> {
    let counts = |p: &&Placed| !matches!(p.piece, Piece::Count(_));
    pieces.iter().filter(counts).cloned().collect()
}

/// Stitches that pieces take, where that does not depend on what lies on the needles.
pub(super) fn width(pieces: &[Placed]) -> Option<u16> {
    let mut sum: u16 = 0;
    for placed in pieces {
        let takes = match &placed.piece {
            Piece::Run(_, Extent::Counted(n)) => *n,
            Piece::KnitCorner => 1,
            Piece::Together(_) => 2,
            Piece::Decrease(decrease) => decrease.takes(),
            Piece::Increase(increase) => increase.takes(),
            Piece::Cross(cross) => cross.width(),
            Piece::AsWritten(from, _) => *from,
            Piece::Repeat(inner, Times::Counted(n)) => width(inner)?.checked_mul(*n)?,
            Piece::Run(..) | Piece::Repeat(..) | Piece::BindOff(_) | Piece::Charted => {
                return None;
            }
            _ => 0,
        };
        sum = sum.checked_add(takes)?;
    }
    Some(sum)
}
