//! Why a recipe's link cannot be read.

use crate::link::LinkError;

/// What is wrong with a link.
pub const fn link_error(error: &LinkError) -> &'static str {
    match error {
        LinkError::TooLong => "This link is too long to hold a recipe.",
        LinkError::Newer => {
            "This link was made by a newer Evenloop. Once this one is brought up to date, it can be read."
        }
        LinkError::Damaged => {
            "This link is not whole: a part of it is missing or was changed on the way. Please copy all of it once more."
        }
        LinkError::NoRecipe => "This link holds no recipe that can be read.",
    }
}
