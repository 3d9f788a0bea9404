//! What the parts of the screen share: what stands in it, and what that comes to. A pattern is read and
//! knitted through only once the knitter pauses, so that typing never waits for it.

use std::sync::Arc;
use std::time::Duration;

use evenloop_engine::pattern::{Finding, size_names};
use evenloop_engine::plan::{Plan, PlanError, SectionKind};
use evenloop_engine::recipe::{Direction, SockPart};
use evenloop_engine::sock::{Looked, look};
use evenloop_engine::text::{Typed, Wording};
use leptos::prelude::*;

use super::form::{GivenNumber, NumberWrong, PatternForm};
use crate::parts::use_wording;
use crate::store;

/// So long a pause is no more typing.
const PAUSE: Duration = Duration::from_millis(350);

/// What a pattern comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Checked {
    /// The sock, or why there is none.
    pub(super) plan: Result<Arc<Plan>, PlanError>,
    /// What does not come out, in the order of the lines.
    pub(super) findings: Vec<Finding>,
    /// By what its sizes are told apart; none where it has one.
    pub(super) sizes: Vec<Typed>,
    /// Parts that nobody knits.
    pub(super) missing: Vec<SockPart>,
    /// Which end is begun with.
    pub(super) direction: Direction,
    /// Numbers that cannot be used.
    pub(super) wrong: Vec<(GivenNumber, NumberWrong)>,
}

impl Checked {
    /// Reads what stands in the form; nothing where there is no text.
    pub(super) fn of(form: &PatternForm) -> Option<Self> {
        if form.is_empty() {
            return None;
        }
        let sizes: Vec<Typed> = size_names(&form.text).into_iter().map(Typed::new).collect();
        let (recipe, wrong) = form.recipe(sizes.len().max(1));
        let Looked { plan, findings } = look(&recipe);
        let missing = plan.as_ref().map_or_else(|_| Vec::new(), missing);
        Some(Self {
            plan: plan.map(Arc::new),
            findings,
            sizes,
            missing,
            direction: recipe.direction,
            wrong,
        })
    }
}

/// Parts that a sock lacks.
fn missing(plan: &Plan) -> Vec<SockPart> {
    let has = |kinds: &[SectionKind]| plan.sections.iter().any(|s| kinds.contains(&s.kind));
    let heel = [
        SectionKind::HeelFlap,
        SectionKind::HeelTurn,
        SectionKind::ShortHeel,
        SectionKind::HeelPlace,
    ];
    let end = match plan.recipe.direction {
        Direction::CuffDown => (SockPart::Toe, [SectionKind::Close]),
        Direction::ToeUp => (SockPart::Cuff, [SectionKind::BindOff]),
    };
    [
        (SockPart::Heel, &heel[..]),
        (SockPart::Foot, &[SectionKind::Foot]),
        (end.0, &end.1),
    ]
    .into_iter()
    .filter(|(_, kinds)| !has(kinds))
    .map(|(part, _)| part)
    .collect()
}

/// What the parts of the screen share.
#[derive(Clone, Copy)]
pub(super) struct Desk {
    pub(super) form: RwSignal<PatternForm>,
    /// What it comes to, as far as it was looked at; none without a text.
    pub(super) checked: RwSignal<Option<Arc<Checked>>>,
    /// Whether something was changed since.
    pub(super) pending: RwSignal<bool>,
    /// The text that was replaced last, to be put back.
    pub(super) before: RwSignal<Option<String>>,
    /// Told when the text is another one that was not typed.
    pub(super) replaced: Trigger,
    /// How things are said here.
    pub(super) wording: Signal<Wording>,
    changes: StoredValue<u32>,
}

impl Desk {
    pub(super) fn new() -> Self {
        let desk = Self {
            form: RwSignal::new(PatternForm::default()),
            checked: RwSignal::new(None),
            pending: RwSignal::new(false),
            before: RwSignal::new(None),
            replaced: Trigger::new(),
            wording: use_wording(),
            changes: StoredValue::new(0),
        };
        on_cleanup(move || desk.keep());
        desk
    }

    /// Changes what stands there.
    pub(super) fn change(self, change: impl FnOnce(&mut PatternForm)) {
        self.form.update(change);
        if !self.pending.get_untracked() {
            self.pending.set(true);
        }
        self.changes
            .update_value(|count| *count = count.wrapping_add(1));
        let now = self.changes.get_value();
        set_timeout(
            move || {
                // The screen may have been left, or more have been typed meanwhile.
                if self.changes.try_get_value() == Some(now) {
                    self.look();
                }
            },
            PAUSE,
        );
    }

    /// Puts another text in the place of the one that stands there, which is kept to be put back.
    pub(super) fn replace(self, text: String) {
        let before = self.form.with_untracked(|form| form.text.clone());
        self.before
            .set((!before.trim().is_empty() && before != text).then_some(before));
        self.change(|form| {
            form.text = text;
            form.size = 0;
        });
        self.replaced.notify();
        self.look();
    }

    /// Looks at what stands there now, and keeps it.
    pub(super) fn look(self) {
        let checked = self.form.with_untracked(Checked::of).map(Arc::new);
        if self.checked.with_untracked(|before| *before != checked) {
            self.checked.set(checked);
        }
        self.keep();
        self.pending.set(false);
    }

    /// Keeps what stands there for another visit, where it is not kept yet.
    fn keep(self) {
        if self.pending.try_get_untracked() != Some(true) {
            return;
        }
        let draft = self.form.try_with_untracked(serde_json::to_string);
        if let Some(Ok(draft)) = draft {
            // A draft that cannot be stored still stands there.
            let _ = store::here().save_pattern_draft(&draft);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::pattern::EXAMPLE_TEXT;

    fn checked(text: &str, ours: &[SockPart]) -> Checked {
        let mut form = PatternForm::default();
        text.clone_into(&mut form.text);
        form.ours = ours.to_vec();
        Checked::of(&form).expect("a text")
    }

    #[test]
    #[cfg(not(feature = "made-up-language"))]
    fn the_example_is_a_whole_sock_without_a_finding() {
        let checked = checked(EXAMPLE_TEXT, &[]);
        assert_eq!(checked.findings, []);
        assert_eq!(checked.missing, []);
        assert_eq!(checked.wrong, []);
        assert!(checked.plan.is_ok());
    }

    #[test]
    fn what_a_pattern_leaves_out_is_told_and_can_be_planned() {
        let leg = "CUFF\nCO 64 sts. Join.\nKnit 12 rnds.\nLEG\nKnit 40 rnds.";
        let alone = checked(leg, &[]);
        assert_eq!(
            alone.missing,
            [SockPart::Heel, SockPart::Foot, SockPart::Toe]
        );
        let mixed = checked(leg, &alone.missing);
        assert_eq!(mixed.missing, []);
        assert_eq!(mixed.plan.map(|plan| plan.outcome.stitches), Ok(64));
    }

    #[test]
    fn nothing_is_no_pattern() {
        assert_eq!(Checked::of(&PatternForm::default()), None);
    }
}
