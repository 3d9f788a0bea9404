//! Where a motif's repeats lie on half of the stitches, and where a needle may end between them.

use evenloop_engine::recipe::{Motif, MotifPlacement};

/// What lies on half of the stitches, from its beginning: plain stitches, edge stitches, whole repeats, as
/// many first stitches of the repeat as balance them, edge stitches, plain stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Panel {
    /// Stitches of that half.
    half: u32,
    /// Stitches of one repeat.
    wide: u32,
    /// Whole repeats.
    pub repeats: u32,
    /// Plain stitches before the edge.
    pub margin: u32,
    /// Edge stitches on either side.
    pub edge: u32,
    /// Balancing stitches after the last repeat.
    pub balance: u32,
    /// Whether the back of the leg has them too.
    pub all_round: bool,
}

impl Panel {
    /// As many repeats as fit between what lies beside them, in the middle.
    pub fn of(half: u32, wide: u32, motif: &Motif) -> Self {
        let all_round = motif.place == MotifPlacement::AllRound;
        // All round the repeats join, and nothing lies beside them.
        let (balance, edge) = if all_round {
            (0, 0)
        } else {
            (u32::from(motif.balance), u32::from(motif.edge))
        };
        let repeats = half.saturating_sub(balance + 2 * edge) / wide;
        let (balance, edge) = if repeats == 0 {
            (0, 0)
        } else {
            (balance, edge)
        };
        let taken = repeats * wide + balance + 2 * edge;
        Self {
            half,
            wide,
            repeats,
            margin: (half - taken) / 2,
            edge,
            balance,
            all_round,
        }
    }

    /// One repeat with nothing beside it.
    #[cfg(test)]
    pub(super) fn alone(wide: usize) -> Self {
        let wide = u32::try_from(wide).unwrap_or(0);
        let motif = Motif {
            place: MotifPlacement::Front,
            ..Motif::default()
        };
        Self::of(wide, wide, &motif)
    }

    /// Stitches of one repeat.
    pub const fn wide(self) -> u32 {
        self.wide
    }

    /// Stitches before the first repeat.
    pub const fn first(self) -> u32 {
        self.margin + self.edge
    }

    /// Whether a needle may end after so many stitches.
    fn may_end(self, at: u32) -> bool {
        let repeats = self.repeats * self.wide;
        match at.checked_sub(self.first()) {
            None => true,
            Some(into) if into <= repeats => into.is_multiple_of(self.wide),
            Some(into) => into >= repeats + self.balance,
        }
    }

    /// The place nearest to one, of two as near the earlier, where a needle may end; stitches are
    /// left on both sides of it.
    pub fn nearest(self, to: u32) -> u32 {
        self.nearest_from(1, to)
    }

    /// The same, from so many stitches on.
    pub fn nearest_from(self, least: u32, to: u32) -> u32 {
        (least..self.half)
            .filter(|at| self.may_end(*at))
            .min_by_key(|at| at.abs_diff(to))
            .unwrap_or(0)
    }

    /// Whether that is no farther from the middle than a quarter of all.
    pub fn near_middle(self) -> bool {
        let at = self.nearest(self.half / 2);
        at > 0 && 4 * at.abs_diff(self.half / 2) <= self.half
    }
}
