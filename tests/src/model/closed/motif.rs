//! Where a motif's repeats lie on half of the stitches, and where a needle may end between them.

use evenloop_engine::recipe::{Method, Seating};

/// The least number of stitches around that carries whole repeats on both halves and is divisible
/// by four.
pub(super) fn multiple(wide: u32) -> u32 {
    let two = 2 * wide;
    if two.is_multiple_of(4) { two } else { 2 * two }
}

/// Whether an instep lies on two needles in the foot.
pub(super) fn divides_instep(method: Method) -> bool {
    method.seating() == Some(Seating::EvenHalves) || method == Method::FiveDpns
}

/// Repeats on half of the stitches.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Panel {
    /// Stitches of that half.
    half: u32,
    /// Stitches of one repeat.
    wide: u32,
    /// Whole repeats.
    pub(super) repeats: u32,
    /// Plain stitches before the first.
    pub(super) margin: u32,
    /// Whether the back of the leg has them too.
    pub(super) all_round: bool,
}

impl Panel {
    pub(super) const fn of(half: u32, wide: u32, all_round: bool) -> Self {
        let repeats = half / wide;
        Self {
            half,
            wide,
            repeats,
            margin: (half - repeats * wide) / 2,
            all_round,
        }
    }

    pub(super) const fn wide(self) -> u32 {
        self.wide
    }

    /// Whether a needle may end after so many stitches.
    fn may_end(self, at: u32) -> bool {
        let last = self.margin + self.repeats * self.wide;
        at <= self.margin || at >= last || (at - self.margin).is_multiple_of(self.wide)
    }

    /// The place nearest to one, of two as near the earlier, where a needle may end; stitches are
    /// left on both sides of it.
    pub(super) fn nearest(self, to: u32) -> u32 {
        self.nearest_from(1, to)
    }

    /// The same, from so many stitches on.
    pub(super) fn nearest_from(self, least: u32, to: u32) -> u32 {
        (least..self.half)
            .filter(|at| self.may_end(*at))
            .min_by_key(|at| at.abs_diff(to))
            .unwrap_or(0)
    }

    /// Whether that is no farther from the middle than a quarter of all.
    pub(super) fn near_middle(self) -> bool {
        let at = self.nearest(self.half / 2);
        at > 0 && 4 * at.abs_diff(self.half / 2) <= self.half
    }
}
