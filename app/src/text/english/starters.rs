//! The ready recipes: what each is, who it suits and what is special about it.

use evenloop_engine::text::Wording;

pub(crate) const PLAIN: &str = "Plain, from the cuff down";
pub(crate) const PLAIN_ABOUT: &str = "The sock most people learn on: 2 by 2 rib, a slipped-stitch flap, a round turn, a grafted toe. On magic loop.";
pub(crate) const STRIPES: &str = "Stripes, from the toe up";
pub(crate) const STRIPES_ABOUT: &str = "Two yarns in uneven stripes, with short-row heels and toes and a cuff in the second yarn. To be tried on as it grows.";
pub(crate) const LACE: &str = "Lace down the front";
pub(crate) const LACE_ABOUT: &str = "Eyelets slanting to the left and to the right in turn, on the front of the leg and on the instep; eye of partridge heel, picot hem.";
pub(crate) const CABLES: &str = "Cables all round, on five needles";
pub(crate) const CABLES_ABOUT: &str = "Four-stitch cables between purls, leaning one way, round the whole leg; a square heel that sits snugly. On double-pointed needles.";
pub(crate) const CHILD: &str = "For a child";
pub(crate) const LARGE: &str = "For large feet, in thick yarn";
pub(crate) const KNEE: &str = "To the knee";
pub(crate) const KNEE_ABOUT: &str = "A leg that follows the calf, measured at three heights; twisted rib, and toes shaped for the left and the right foot.";
pub(crate) const GUSSET: &str = "Gusset, from the toe up";
pub(crate) const GUSSET_ABOUT: &str = "A gusset that grows, a turn and a flap, all without counting from the cuff; the leg takes whatever yarn is left.";

/// A sock for a child with a foot of this length.
pub(crate) fn child_about(foot: &str, wording: Wording) -> String {
    format!(
        "For a foot of {foot}: a short leg with a rolled edge, four {}, and an afterthought heel that is easily knitted anew when it wears out.",
        wording.english.colours()
    )
}

/// A sock for a foot of this length, of so many stitches over a length.
pub(crate) fn large_about(foot: &str, stitches: &str, over: &str) -> String {
    format!(
        "For a foot of {foot} with a high instep, quickly knitted at {stitches} stitches in {over}: garter-edged flap, band heel, 3 by 1 rib. On four needles."
    )
}
