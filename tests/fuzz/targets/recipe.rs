//! Any recipe document is planned, and then every stitch can be knitted; or it is refused with a
//! field, a reason and something that helps.
#![no_main]

use std::sync::LazyLock;

use arbitrary::Unstructured;
use evenloop_engine::text::{Wording, problem};
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::{plan_document, read_plan, read_recipe, write_plan, write_recipe};
use evenloop_fuzz::{RECIPES, spoiled, values};
use libfuzzer_sys::fuzz_target;
use serde_json::Value;

static VALUES: LazyLock<Vec<Value>> = LazyLock::new(|| values(&RECIPES));

fuzz_target!(|data: &[u8]| {
    match data {
        [0, raw @ ..] => {
            if let Ok(text) = std::str::from_utf8(raw) {
                look_at(text);
            }
        }
        [_, rest @ ..] => {
            if let Ok(text) = spoiled(&VALUES, &mut Unstructured::new(rest)) {
                look_at(&text);
            }
        }
        [] => {}
    }
});

fn look_at(text: &str) {
    match plan_document(text) {
        Ok(document) => {
            let plan = read_plan(&document).expect("what was written can be read");
            assert_eq!(write_plan(&plan), document);
            let trace = Trace::of(&plan).expect("what was planned can be knitted");
            assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
            assert_eq!(
                read_recipe(&write_recipe(&plan.recipe)).as_ref(),
                Ok(&plan.recipe)
            );
        }
        Err(why) => {
            assert!(!why.fields().is_empty(), "{why}");
            for e in why.fields() {
                let said = problem(&e.problem, Wording::default());
                assert!(
                    !e.field.is_empty() && !said.message.is_empty() && !said.help.is_empty(),
                    "{e:?}"
                );
            }
        }
    }
}
