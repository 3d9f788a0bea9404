//! A round or row as it is worked, wherever it is repeated.
//!
//! Knows pieces and labels; must not know needles.

use super::pieces::without_counts;
use crate::needles::Facing;
use crate::pattern::piece::{Counted, Piece, Pieces, Placed, Spot};
use crate::pattern::statement::{Label, Says, Statement};

/// A round or row as it is worked, wherever it is repeated.
#[derive(Debug, Clone)]
pub(super) struct Body {
    pub(super) spot: Spot,
    /// Where its words stand, wherever it is worked.
    pub(super) origin: Spot,
    pub(super) row: bool,
    pub(super) facing: Option<Facing>,
    pub(super) pieces: Pieces,
}

impl Body {
    /// The same worked again where another line asks for it: a count in it was the first time's.
    pub(super) fn again_at(&self, spot: Spot) -> Self {
        Self {
            spot,
            pieces: without_counts(&self.pieces).into(),
            ..self.clone()
        }
    }

    /// One whose words cannot be followed, with no more than the count that it gives.
    pub(super) fn of_no_words(spot: Spot, label: Option<&Label>, said: Option<u16>) -> Self {
        let count = said.map(|all| Placed {
            spot,
            piece: Piece::Count(Counted {
                all: Some(all),
                needles: Vec::new(),
            }),
        });
        Self {
            spot,
            origin: spot,
            row: label.is_some_and(|label| label.row),
            facing: label.and_then(|label| label.facing),
            pieces: count.into_iter().collect(),
        }
    }

    /// As a line of its own, without a number; where its words stand, so that those which do not come out are known
    /// again.
    pub(super) fn statement(&self) -> Statement {
        Statement {
            spot: self.origin,
            says: Says::Work {
                label: Some(Label {
                    row: self.row,
                    facing: self.facing,
                    numbers: Vec::new(),
                    every_second: false,
                    printed: false,
                }),
                pieces: self.pieces.clone(),
            },
        }
    }
}
