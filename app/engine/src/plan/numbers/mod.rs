//! The numbers of a sock: stitches, rows and rounds, known before its first stitch.
//!
//! What the sections are written from. [`super::decide`] decides them; this room only holds them.
//!
//! May use the recipe and units. Must not know sections, nor needles at work.

mod around;
mod calf;
mod fabric;
mod fit;
mod flap;
mod heel;
mod panel;
mod round_gauge;

pub(super) use around::{Around, LITTLE_EASE, MUCH_EASE, Tubes};
pub use around::{count_that_fits, is_good_fit};
pub(super) use calf::Profile;
pub(super) use fabric::Fabric;
pub(super) use fit::{check_fit, check_needles, front_only, nearest_fit};
pub(super) use flap::{even_rows_in, height_of_rows};
pub(super) use heel::{FlapNumbers, Gusset, HeelNumbers, ToeUpFlapNumbers};
pub(super) use panel::{Panel, PanelPiece, panel, unit};
pub(super) use round_gauge::Rounds;

use crate::recipe::Recipe;

/// Stitches, rows and rounds of one sock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Numbers {
    /// Stitches around; a multiple of 4.
    pub around: u16,
    /// Rounds of the finished cuff's height; a folded hem is knitted in more.
    pub cuff: u16,
    /// Rounds of the leg under the cuff.
    pub leg: u16,
    /// How it widens towards the cuff.
    pub calf: Profile,
    /// Stitches of the heel: half of those around.
    pub heel: u16,
    /// Where the motif lies on front and instep.
    pub panel: Option<Panel>,
    /// What the heel asks for.
    pub shape: HeelNumbers,
    /// Plain rounds of the foot.
    pub foot: u16,
    /// Rounds that the pick-up was lower (or, negative, higher) than these needles would have it,
    /// where it was knitted on others.
    pub pick_up_more: i16,
    /// Rounds from the back of the heel to the toe's end.
    pub whole_foot: u16,
    /// Those of them at heel and toe, where nothing carries a motif.
    pub plain_foot: u16,
    /// Live stitches at the toe's end, all needles together.
    pub toe_left: u16,
}

impl Numbers {
    /// Stitches of the back of the leg at the cuff.
    pub(super) fn top_back(&self) -> u16 {
        self.heel + 2 * self.calf.top()
    }

    /// Stitches of the instep, or of the leg's front, before a needle's end in its middle: no repeat
    /// of the motif is cut there.
    pub(super) fn half_top(&self) -> u16 {
        let middle = self.heel / 2;
        self.panel.map_or(middle, |p| p.cut(middle))
    }

    /// What keeps needles from ending anywhere in the cuff: where a motif follows they lie as it
    /// wants them from the start, but not if that divides what takes two stitches at a time.
    pub(super) fn cuff_panel(&self, recipe: &Recipe) -> Option<Panel> {
        self.panel.filter(|_| !recipe.pairs_in_cuff())
    }

    /// Rounds of gusset and foot together.
    pub(super) fn foot_and_gusset(&self) -> u16 {
        (self.foot + self.shape.gusset_rounds()).saturating_add_signed(self.pick_up_more)
    }
}
