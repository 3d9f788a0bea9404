//! What the parts of the screen share: the form, the sock that it makes, and what is wrong with it.

use std::borrow::Cow;
use std::sync::Arc;

use evenloop_engine::plan::{Outcome, Plan};
use evenloop_engine::recipe::NumberField;
use evenloop_engine::text::Wording;
use evenloop_engine::units::LengthUnit;
use leptos::prelude::*;

use super::begun::Begun;
use super::fields::{FormPlace, numbers_in_form};
use super::form::{MeasureForm, MeasureStep};
use super::wrong::Wrong;
use crate::parts::use_wording;

/// What the parts of the screen share.
#[derive(Clone, Copy)]
pub(super) struct Desk {
    pub(super) form: RwSignal<MeasureForm>,
    /// The sock whose rest is being changed; none for a new pair.
    pub(super) begun: RwSignal<Option<Arc<Begun>>>,
    /// Lines that the knitter has left at least once: only there is something said.
    pub(super) left: RwSignal<Vec<NumberField>>,
    /// Where the knitter is led: what is folded away there has to be made.
    pub(super) sought: RwSignal<Option<FormPlace>>,
    /// The sock, made once for all that is said of it, or all that is wrong.
    pub(super) plan: Memo<Result<Arc<Plan>, Vec<Wrong>>>,
    /// The sock with examples for what is still empty, while only that keeps it from being one.
    pub(super) sketch: Memo<Option<Arc<Plan>>>,
    /// What the sock comes to, or all that is wrong.
    pub(super) verdict: Memo<Result<Outcome, Vec<Wrong>>>,
    /// How things are said here.
    pub(super) wording: Signal<Wording>,
}

impl Desk {
    pub(super) fn new() -> Self {
        let form = RwSignal::new(MeasureForm::default());
        let begun = RwSignal::new(None::<Arc<Begun>>);
        let plan = Memo::new(move |_| {
            let form = form.read();
            let plan = match &*begun.read() {
                Some(begun) => begun.anew(&form),
                None => form.plan(),
            };
            plan.map(Arc::new)
        });
        let sketch = Memo::new(move |_| match &*plan.read() {
            Err(wrong) if wrong.iter().all(Wrong::is_empty) => {
                form.with(MeasureForm::sketch).map(Arc::new)
            }
            Ok(_) | Err(_) => None,
        });
        let verdict = Memo::new(move |_| match &*plan.read() {
            Ok(plan) => Ok(plan.outcome.clone()),
            Err(wrong) => Err(wrong.clone()),
        });
        Self {
            form,
            begun,
            left: RwSignal::new(Vec::new()),
            sought: RwSignal::new(None),
            plan,
            sketch,
            verdict,
            wording: use_wording(),
        }
    }

    pub(super) fn unit(self) -> LengthUnit {
        self.form.read().unit
    }

    /// The same where nothing follows it; the form is free again when it is said.
    pub(super) fn unit_untracked(self) -> LengthUnit {
        self.form.read_untracked().unit
    }

    /// How things are said, with lengths in the form's unit.
    pub(super) fn wording(self) -> Wording {
        Wording {
            unit: self.unit(),
            ..self.wording.get()
        }
    }

    /// What is still to be filled in, the first line of each step; `None` where something else is wrong.
    pub(super) fn needed(self) -> Option<Vec<FormPlace>> {
        let verdict = self.verdict.read();
        let wrong = verdict.as_ref().err()?;
        if !wrong.iter().all(Wrong::is_empty) {
            return None;
        }
        let mut places: Vec<FormPlace> = wrong.iter().filter_map(|wrong| wrong.field).collect();
        places.dedup_by_key(|place| place.step());
        Some(places)
    }

    pub(super) fn leave(self, field: NumberField) {
        if !self.left.read_untracked().contains(&field) {
            self.left.update(|left| left.push(field));
        }
    }

    /// What is wrong with a field: of a choice at once, of a line when the knitter has left it.
    pub(super) fn said_of(self, field: FormPlace) -> Option<Wrong> {
        let verdict = self.verdict.read();
        let mut wrong = verdict.as_ref().err()?.iter();
        wrong
            .find(|wrong| wrong.field == Some(field) && self.speaks(field))
            .cloned()
    }

    /// How much is said to be wrong in a step.
    pub(super) fn said_in(self, step: MeasureStep) -> usize {
        let verdict = self.verdict.read();
        let wrong = verdict.as_ref().err().into_iter().flatten();
        wrong
            .filter_map(|wrong| wrong.field)
            .filter(|field| field.step() == Some(step) && self.speaks(*field))
            .count()
    }

    fn speaks(self, field: FormPlace) -> bool {
        match field {
            FormPlace::Number(number) => self.left.read().contains(&number),
            FormPlace::Question(_) | FormPlace::Calf | FormPlace::Motif | FormPlace::Stripes => {
                true
            }
        }
    }
}

/// Says everything that is wrong at its line and goes to the first of them.
pub(super) fn show_errors(desk: Desk, errors: &[Wrong]) {
    desk.left.set(numbers_in_form().collect());
    let first = errors.iter().find_map(|error| error.field);
    desk.sought.set(first);
    go_to(first.map_or("plan".into(), FormPlace::id));
}

/// Unfolds all that an element lies in and gives it the focus.
pub(super) fn go_to(id: Cow<'static, str>) {
    use wasm_bindgen::JsCast as _;

    request_animation_frame(move || {
        let Some(element) = document().get_element_by_id(&id) else {
            return;
        };
        // Where any of this fails, the errors are still said in the plan's panel.
        let mut around = element.closest("details");
        while let Ok(Some(fold)) = around {
            let _ = fold.set_attribute("open", "");
            around = fold
                .parent_element()
                .map_or(Ok(None), |parent| parent.closest("details"));
        }
        if let Ok(element) = element.dyn_into::<web_sys::HtmlElement>() {
            let _ = element.focus();
        }
    });
}
