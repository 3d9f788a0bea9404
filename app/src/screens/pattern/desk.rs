//! What the parts of the screen share: what stands in it, and what that comes to. A pattern is read and
//! knitted through only once the knitter pauses, so that typing never waits for it.

use std::mem::take;
use std::sync::Arc;
use std::time::Duration;

use evenloop_engine::pattern::{Finding, ReadBefore, size_names};
use evenloop_engine::plan::{Plan, PlanError, SectionKind};
use evenloop_engine::recipe::{Direction, SockPart};
use evenloop_engine::sock::{Looked, Looking};
use evenloop_engine::text::{Typed, Wording};
use leptos::ev;
use leptos::html::Textarea;
use leptos::prelude::*;

use super::form::{GivenNumber, NumberWrong, PatternForm};
use crate::parts::use_wording;
use crate::slices::in_slices;
use crate::store;

/// So long a pause is no more typing.
const PAUSE: Duration = Duration::from_millis(350);

/// So many lines are read, or rounds knitted, before it is asked whether something else waits.
pub(super) const AT_ONCE: usize = 4;

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
        let mut checking = Checking::begin(form, ReadBefore::default())?;
        loop {
            if let Some(checked) = checking.go_on(usize::MAX) {
                return Some(checked);
            }
        }
    }
}

/// A pattern that is being read, a little at a time.
struct Checking {
    looking: Looking,
    sizes: Vec<Typed>,
    direction: Direction,
    wrong: Vec<(GivenNumber, NumberWrong)>,
}

impl Checking {
    /// Nothing where there is no text. `before`: what was read of another one.
    fn begin(form: &PatternForm, before: ReadBefore) -> Option<Self> {
        if form.is_empty() {
            return None;
        }
        let sizes: Vec<Typed> = size_names(&form.text).into_iter().map(Typed::new).collect();
        let (recipe, wrong) = form.recipe(sizes.len().max(1));
        Some(Self {
            sizes,
            direction: recipe.direction,
            wrong,
            looking: Looking::begin_after(before, recipe),
        })
    }

    /// Reads so many lines more, or does what comes after; nothing while anything is left.
    fn go_on(&mut self, most: usize) -> Option<Checked> {
        let Looked { plan, findings } = self.looking.go_on(most)?;
        let missing = plan.as_ref().map_or_else(|_| Vec::new(), missing);
        Some(Checked {
            plan: plan.map(Arc::new),
            findings,
            sizes: take(&mut self.sizes),
            missing,
            direction: self.direction,
            wrong: take(&mut self.wrong),
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
    /// Where the text is typed. What is typed there is taken up into the form once the knitter pauses, or sooner where
    /// it is asked for: a letter wakes nothing that looks at the form.
    pub(super) area: NodeRef<Textarea>,
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
    /// Whether something was typed that is not taken up yet.
    typed: StoredValue<bool>,
    /// What was read of the text that stood there before.
    read: StoredValue<ReadBefore>,
}

impl Desk {
    pub(super) fn new() -> Self {
        let desk = Self {
            form: RwSignal::new(PatternForm::default()),
            area: NodeRef::new(),
            checked: RwSignal::new(None),
            pending: RwSignal::new(false),
            before: RwSignal::new(None),
            replaced: Trigger::new(),
            wording: use_wording(),
            changes: StoredValue::new(0),
            typed: StoredValue::new(false),
            read: StoredValue::new(ReadBefore::default()),
        };
        // A page may be closed, or the phone put away, before there is a pause.
        let going = window_event_listener(ev::visibilitychange, move |_| {
            if document().hidden() {
                desk.keep();
            }
        });
        on_cleanup(move || {
            going.remove();
            desk.keep();
        });
        desk
    }

    /// Changes what stands there.
    pub(super) fn change(self, change: impl FnOnce(&mut PatternForm)) {
        self.form.update(change);
        self.look_later();
    }

    /// A letter was typed.
    pub(super) fn letter(self) {
        self.typed.set_value(true);
        self.look_later();
    }

    /// Takes up what was typed into the text.
    pub(super) fn take_up(self) {
        if self.typed.try_get_value() != Some(true) {
            return;
        }
        self.typed.set_value(false);
        let area = self.area.try_get_untracked().flatten();
        let Some(typed) = area.map(|area| area.value()) else {
            return;
        };
        let new = self.form.try_with_untracked(|form| form.text != typed);
        if new == Some(true) {
            self.form.try_update(|form| form.text = typed);
        }
    }

    /// Looks at what stands there at the next pause.
    fn look_later(self) {
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
                    self.look_in_slices(now);
                }
            },
            PAUSE,
        );
    }

    /// Looks at what stands there after so many changes, so that a letter that comes meanwhile is answered at once: what is
    /// left of this is left undone then.
    fn look_in_slices(self, changes: u32) {
        self.take_up();
        let before = self.read.try_update_value(take).unwrap_or_default();
        let mut checking = self
            .form
            .with_untracked(|form| Checking::begin(form, before));
        let goes_on = move || self.changes.try_get_value() == Some(changes);
        in_slices(move || {
            if !goes_on() {
                self.keep_read(checking.take());
                return false;
            }
            let checked = match &mut checking {
                Some(checking) => match checking.go_on(AT_ONCE) {
                    Some(checked) => Some(Arc::new(checked)),
                    None => return true,
                },
                None => None,
            };
            self.keep_read(checking.take());
            self.show(checked);
            // What it comes to is put on the screen first.
            in_slices(move || {
                if goes_on() {
                    self.keep();
                    self.pending.set(false);
                }
                false
            });
            false
        });
    }

    /// Keeps what was read for the text that stands there next.
    fn keep_read(self, checking: Option<Checking>) {
        if let Some(checking) = checking {
            self.read
                .try_update_value(|read| *read = checking.looking.kept());
        }
    }

    /// Puts another text in the place of the one that stands there, which is kept to be put back.
    pub(super) fn replace(self, text: String) {
        self.put(text, |form| form.size = 0);
    }

    /// The same for a text of the same pattern: its size stays.
    pub(super) fn mend(self, text: String) {
        self.put(text, |_| ());
    }

    fn put(self, text: String, change: impl FnOnce(&mut PatternForm)) {
        self.take_up();
        let before = self.form.with_untracked(|form| form.text.clone());
        self.before
            .set((!before.trim().is_empty() && before != text).then_some(before));
        self.change(|form| {
            form.text = text;
            change(form);
        });
        self.replaced.notify();
        self.look();
    }

    /// Looks at what stands there now, and keeps it.
    pub(super) fn look(self) {
        self.take_up();
        self.show(self.form.with_untracked(Checked::of).map(Arc::new));
        self.keep();
        self.pending.set(false);
    }

    fn show(self, checked: Option<Arc<Checked>>) {
        if self.checked.with_untracked(|before| *before != checked) {
            self.checked.set(checked);
        }
    }

    /// Keeps what stands there for another visit, where it is not kept yet.
    fn keep(self) {
        if self.pending.try_get_untracked() != Some(true) {
            return;
        }
        self.take_up();
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
