//! What Measure says of a recipe that came with the address.

use evenloop_engine::plan::Outcome;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::units::LengthUnit;

pub(in crate::screens::measure) const TAKE_RECIPE: &str = "Put it in the form";
pub(in crate::screens::measure) const LEAVE_FORM: &str = "Leave the form as it is";
pub(in crate::screens::measure) const TAKEN: &str =
    "The form holds a recipe that came with an address. What stood there before is kept.";
pub(in crate::screens::measure) const TAKE_BACK: &str = "Take back what stood there";
pub(in crate::screens::measure) const LET_GO: &str = "It is not needed any more";
pub(in crate::screens::measure) const FORM_AS_IT_WAS: &str = "The form is as it was.";

/// Asks whether the recipe may be put in the form.
pub(in crate::screens::measure) fn came(
    outcome: Option<Outcome>,
    recipe: &Recipe,
    unit: LengthUnit,
) -> String {
    let foot = recipe.foot.length.show(unit);
    let sock = match outcome {
        Some(outcome) => format!("{} stitches around, for a foot of {foot}", outcome.stitches),
        None => format!("for a foot of {foot}"),
    };
    format!(
        "A recipe came with the address: {sock}. Shall it be put in the form? What stands there now can be taken back."
    )
}
