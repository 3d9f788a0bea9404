//! Plans the tiny sock to try things out and puts it in the basket. In the part that draws small socks, which holds all
//! that plans one.
//!
//! May use the store and the engine; must not know any screen.

// The attribute that marks where to split writes foreign functions, which the tool puts in.
#![allow(unsafe_code)]

use evenloop_engine::plan::make;
use evenloop_engine::wire::{read_recipe, write_plan};
use leptos::wasm_split::wasm_split;

use crate::store::{self, StoreError, StoredPart};
use crate::text;

/// The smallest sock with all that a sock has: two rounds of ribbing, two of leg, a heel with its corners and a gusset, a
/// toe that is drawn shut. A touch for each round makes about a minute.
const TINY: &str = r#"{"foot":{"length":1150,"circumference":1700},"stitches":32,"swatch":{"stitches":15,"width":1000,"rounds":18,"height":1000},"cuff":{"edge":{"rib":"2x2"},"length":100},"leg":200,"heel":{"kind":"flap-and-gusset","texture":"slipped-stitch","turn":"round","rows":8},"toe":{"kind":"round"}}"#;

/// The text of its plan.
fn plan_text() -> Option<String> {
    let recipe = read_recipe(TINY).ok()?;
    make(&recipe).ok().map(|plan| write_plan(&plan))
}

/// Puts the tiny sock in the basket and takes it in hand.
///
/// # Errors
/// When the storage refuses, or this cannot be had; nothing was changed then.
#[wasm_split(pictures, wasm_split_path = ::leptos::wasm_split, fallible)]
pub(crate) fn begin() -> Result<(), StoreError> {
    let plan = plan_text().ok_or(StoreError::Damaged {
        what: StoredPart::Plan,
        kept: 0,
    })?;
    store::here().begin_practice(text::practice::NAME, &plan, store::now())
}

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use evenloop_engine::plan::SectionKind;
    use evenloop_engine::trace::{Position, Trace};
    use evenloop_engine::wire::read_plan;

    use super::*;

    #[test]
    fn the_tiny_sock_has_all_of_a_sock_and_takes_about_a_minute() {
        use SectionKind::{CastOn, Close, Cuff, Gusset, HeelFlap, HeelTurn, Leg, PickUp, Toe};
        let text = plan_text().unwrap_or_default();
        let plan = read_plan(&text).unwrap_or_else(|why| panic!("{why:?}"));
        let kinds: HashSet<SectionKind> = plan.sections.iter().map(|one| one.kind).collect();
        for kind in [
            CastOn, Cuff, Leg, HeelFlap, HeelTurn, PickUp, Gusset, Toe, Close,
        ] {
            assert!(kinds.contains(&kind), "{kind:?}");
        }
        let trace = Trace::of(&plan).unwrap_or_else(|why| panic!("{why}"));
        let (mut at, mut touches) = (Position::default(), 0);
        while at != trace.end() {
            at = trace.advance(at);
            touches += 1;
        }
        // A touch every second and a half.
        assert!((25..=44).contains(&touches), "{touches}");
        let left = trace.steps.last().map(|step| step.after().stitches());
        assert_eq!(left, Some(0));
    }
}
