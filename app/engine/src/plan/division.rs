//! How the leg's stitches are divided over the needles.

use super::numbers::Panel;
use crate::recipe::{Method, MotifPlacement, Recipe};

/// Stitches on each needle in the leg, whose back and front have so many. Two halves; thirds in
/// whole repeats of the cuff or of a motif all round, the larger first; or quarters. A leg that
/// widens has needles that end in the middle of its back, where it does. No needle ends within a
/// repeat of the motif. One short circular has no divisions.
pub(super) fn leg_sizes(recipe: &Recipe, panel: Option<Panel>, back: u16, front: u16) -> Vec<u16> {
    let all_round = panel.filter(|_| {
        recipe
            .motif
            .as_ref()
            .is_some_and(|m| m.place == MotifPlacement::AllRound)
    });
    match recipe.needles {
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => vec![back, front],
        Method::FourDpns if recipe.shapes_leg() => {
            let near = part(recipe, None, back);
            vec![near, back - near, front]
        }
        Method::FourDpns => {
            let repeat = all_round.map_or(recipe.cuff.edge.repeat(), Panel::width);
            let repeats = (back + front) / repeat;
            let [first, second] =
                [0, 1].map(|i| (repeats / 3 + u16::from(i < repeats % 3)) * repeat);
            // the second needle ends on the front
            let end = (first + second).saturating_sub(back);
            let end = panel.map_or(end, |p| p.cut(end));
            vec![first, back + end - first, front - end]
        }
        Method::FiveDpns => {
            let (near, up) = (part(recipe, all_round, back), part(recipe, panel, front));
            vec![near, back - near, up, front - up]
        }
        Method::ShortCircular { .. } => Vec::new(),
    }
}

/// Stitches of a half before the needle's end in its middle. What takes two stitches of the cuff at a time
/// lies on one needle.
fn part(recipe: &Recipe, panel: Option<Panel>, half: u16) -> u16 {
    let whole = if recipe.pairs_in_cuff() { 2 } else { 1 };
    panel.map_or((half / 2).next_multiple_of(whole), |p| p.cut(half / 2))
}
