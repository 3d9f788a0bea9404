//! What a recipe meant that was written while other choices were usual: what it leaves out is what was
//! usual then; and whether it has a choice that an earlier Evenloop does not know. For stored plans and
//! links; knows the recipe, and nothing of how it is stored.

use serde::Deserialize;

use super::{BindOff, CastOn, Heel, HeelOpening, Recipe, ToeCastOn};

/// The choices that another one has become usual for, as a document has them or not.
#[derive(Debug, Deserialize)]
pub(crate) struct EarlierChoices {
    bind_off: Option<BindOff>,
    heel: Option<EarlierHeel>,
}

#[derive(Debug, Deserialize)]
struct EarlierHeel {
    corners: Option<bool>,
}

impl EarlierChoices {
    /// Gives a recipe that was read with today's usual choices those of the time when corners were
    /// picked up, and a stretchy edge bound off, only on request.
    pub(crate) fn or_as_before(&self, recipe: &mut Recipe) {
        if self.bind_off.is_none() {
            recipe.bind_off = BindOff::Plain;
        }
        let said = self.heel.as_ref().and_then(|heel| heel.corners);
        if let (None, Heel::FlapAndGusset { corners, .. }) = (said, &mut recipe.heel) {
            *corners = false;
        }
    }
}

/// Whether a recipe has a choice that came with the fourth form of plans and links. One without is
/// written in the third, which an earlier Evenloop reads.
pub(crate) fn needs_fourth_form(recipe: &Recipe) -> bool {
    recipe.written.is_some()
        || recipe.cast_on == CastOn::Tubular
        || recipe.toe_cast_on == ToeCastOn::Provisional
        || recipe.bind_off == BindOff::Tubular
        || matches!(
            recipe.heel,
            Heel::Afterthought {
                opening: HeelOpening::Snipped
            }
        )
}
