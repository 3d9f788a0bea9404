//! Whether a sock that is started again would fit at all: one far larger or smaller than the foot is
//! refused, with the nearest number of stitches that fits.

use super::around::{Around, Tubes};
use super::panel::unit;
use crate::error::{FieldError, Problem};
use crate::recipe::{CircularLength, Method, Motif, MotifPlacement, NearestFit, Recipe, STITCHES};

/// How much larger than the foot a tube may be that the knitter's own number of stitches gives, in
/// tenths of a percent: half as large again (from memory).
const CHOSEN_LARGER: i64 = -500;
/// The same where the motif's repeat gives it, which the knitter did not choose (from memory).
const REPEAT_LARGER: i64 = -100;
/// How much smaller than the foot a tube may be that the motif's repeat gives.
const REPEAT_SMALLER: i64 = 300;

/// Looks whether the sock stays on and goes on, and whether its needles carry it.
pub(in crate::plan) fn check_fit(recipe: &Recipe, around: u16) -> Result<(), FieldError> {
    let tubes = Tubes::of(recipe, around);
    let by_repeat = recipe.stitches.is_none() && unit(recipe) > 4;
    let far_off = if by_repeat {
        tubes.foot_ease() < REPEAT_LARGER || tubes.leg_ease() > REPEAT_SMALLER
    } else {
        recipe.stitches.is_some() && tubes.foot_ease() < CHOSEN_LARGER
    };
    if far_off {
        let field = if by_repeat { "motif.place" } else { "stitches" };
        let problem = Problem::FarFromFoot {
            stitches: around,
            tube: tubes.foot,
            foot: recipe.foot.round_ball(),
            by_repeat,
            nearest: nearest_fit(recipe),
        };
        return Err(FieldError::new(field, problem));
    }
    check_needles(recipe, around)
}

/// Looks whether stitches reach round a short circular.
pub(in crate::plan) fn check_needles(recipe: &Recipe, around: u16) -> Result<(), FieldError> {
    if let Method::ShortCircular { length } = recipe.needles {
        let tubes = Tubes::of(recipe, around);
        let narrowest = tubes.narrowest();
        // Where its length is not given, it may be the shortest that there is.
        let needle = length.unwrap_or(CircularLength::Cm20);
        if narrowest < needle.narrowest_tube() {
            let mut shorter = CircularLength::ALL.into_iter().rev();
            return Err(FieldError::new(
                "needles.length",
                Problem::ShortCircularTooLong {
                    tube: narrowest,
                    needle: needle.length(),
                    fits: shorter
                        .find(|other| narrowest >= other.narrowest_tube())
                        .map(CircularLength::length),
                },
            ));
        }
    }
    Ok(())
}

/// The number of stitches nearest to the wish that fits: with the motif as it is placed, else with the
/// motif on the front only. None where no number does.
pub(in crate::plan) fn nearest_fit(recipe: &Recipe) -> Option<NearestFit> {
    let stitches = fitting(recipe);
    let as_it_is = stitches.map(|stitches| NearestFit {
        stitches,
        front_only: false,
    });
    as_it_is.or_else(|| front_only(recipe))
}

/// The number of stitches that fits with the motif on the front only, where it is all round.
pub(in crate::plan) fn front_only(recipe: &Recipe) -> Option<NearestFit> {
    let mut front = recipe.clone();
    let Some(Motif { place, .. }) = &mut front.motif else {
        return None;
    };
    if *place == MotifPlacement::Front {
        return None;
    }
    *place = MotifPlacement::Front;
    fitting(&front).map(|stitches| NearestFit {
        stitches,
        front_only: true,
    })
}

/// The number of stitches that the wish comes to, where such a sock is no wider than the foot and can
/// be knitted in that motif.
fn fitting(recipe: &Recipe) -> Option<u16> {
    let around = Around::decide(recipe).stitches;
    let ease = Tubes::of(recipe, around).foot_ease();
    let narrow = recipe
        .motif
        .as_ref()
        .is_none_or(|motif| motif.width() + motif.balancing() + 2 * motif.edging() <= around / 2);
    let fits = narrow && STITCHES.contains(&around) && (0..=REPEAT_SMALLER).contains(&ease);
    fits.then_some(around)
}
