//! A sock that is begun: the form stands as the sock was planned, and what is changed in it is
//! planned anew for the rest. What is knitted stays; the engine sees to that.

use std::sync::Arc;

use evenloop_engine::error::FieldError;
use evenloop_engine::plan::{Plan, SectionKind, changes, replan, replan_second};
use evenloop_engine::together::is_together;
use evenloop_engine::units::LengthUnit;
use evenloop_engine::{wire, words};
use leptos::prelude::*;

use super::form::Form;
use super::steps::Step;
use super::{Desk, copy};
use crate::parts::{Notice, Stepper, Tone, Words};
use crate::store::{self, PairId, StoreError};

/// The sock on the needles.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Begun {
    id: PairId,
    /// What the pair is called.
    pub(super) name: String,
    /// Which of the two, 1 or 2.
    pub(super) sock: u8,
    /// Where it is, in words.
    pub(super) place: String,
    /// What it is knitted by.
    plan: Plan,
    /// What the second one is knitted by, while this is the first and they are knitted one after the
    /// other.
    second: Option<Plan>,
    /// Steps of it that are done or begun; where the other sock follows the same plan, of the one that
    /// is further.
    done: usize,
    /// The other sock, where both are knitted two at a time and it has a plan of its own: its number,
    /// its plan and its steps that are done or begun.
    beside: Option<(u8, Plan, usize)>,
}

/// Why a change could not be taken up.
pub(super) enum Refused {
    /// It could not be stored.
    Store(StoreError),
    /// The second sock cannot follow.
    Second(Vec<FieldError>),
}

impl From<StoreError> for Refused {
    fn from(error: StoreError) -> Self {
        Self::Store(error)
    }
}

impl Begun {
    /// The sock at hand of a pair.
    ///
    /// # Errors
    /// When the pair is not there or cannot be read.
    pub(super) fn open(id: &str) -> Result<Self, StoreError> {
        let id = PairId::read(id).ok_or(StoreError::NotThere)?;
        let pair = store::open(&id)?;
        let sock = pair.place().sock;
        let which = usize::from(sock.saturating_sub(1)).min(1);
        let (pattern, journal) = (&pair.patterns[which], &pair.journals[which]);
        let at = journal.position();
        let begun = |which: usize| {
            let at = pair.journals[which].position();
            at.step + usize::from(at.mv > 0)
        };
        let other = 1 - which;
        let shared = Arc::ptr_eq(pattern, &pair.patterns[other]);
        let together = is_together(pair.on_needles());
        let number = if other == 0 { 1 } else { 2 };
        let beside = (together && !shared)
            .then(|| (number, pair.patterns[other].plan.clone(), begun(other)));
        Ok(Self {
            id,
            name: pair.head.name.clone(),
            sock,
            place: words::place(&pattern.plan, &pattern.trace, at),
            plan: pattern.plan.clone(),
            second: (which == 0 && !together).then(|| pair.patterns[1].plan.clone()),
            done: if shared {
                begun(0).max(begun(1))
            } else {
                begun(which)
            },
            beside,
        })
    }

    /// The form that means this sock.
    pub(super) fn form(&self, unit: LengthUnit) -> Form {
        Form::of(&self.plan.recipe, unit)
    }

    /// The rest of the sock as the form wants it.
    ///
    /// # Errors
    /// What is wrong with it, line by line.
    pub(super) fn anew(&self, form: &Form) -> Result<Plan, Vec<FieldError>> {
        replan(&self.plan, self.done, &form.recipe()?).map_err(|wrong| form.in_my_unit(wrong))
    }

    /// Knits the rest by that plan; of two socks at a time the other one too, as far as it can be so.
    ///
    /// # Errors
    /// When it cannot be stored; then both socks go on as they were.
    pub(super) fn accept(&self, plan: &Plan) -> Result<(), Refused> {
        let doc = wire::write_plan(plan);
        if let Some(second) = &self.second {
            let second = replan_second(plan, second, self.done).map_err(Refused::Second)?;
            let own = (second != *plan).then(|| wire::write_plan(&second));
            store::set_both_plans(&self.id, &doc, own.as_deref())?;
            return Ok(store::set_current(&self.id)?);
        }
        if let Some((sock, own, done)) = &self.beside {
            let recipe = &plan.recipe;
            let recipe = recipe.second_sock().unwrap_or_else(|| recipe.clone());
            if let Ok(beside) = replan(own, *done, &recipe) {
                store::set_own_plan(&self.id, *sock, &wire::write_plan(&beside))?;
            }
        }
        store::set_own_plan(&self.id, self.sock, &doc)?;
        Ok(store::set_current(&self.id)?)
    }

    /// How much would be different.
    pub(super) fn differences(&self, plan: &Plan) -> usize {
        changes(&self.plan, plan).len()
    }

    /// What would be different, in sentences.
    fn said(&self, plan: &Plan, unit: LengthUnit) -> Vec<String> {
        let all = changes(&self.plan, plan).into_iter();
        all.map(|one| words::change(one, plan, unit)).collect()
    }

    /// Rounds of a section that are knitted.
    fn knitted(&self, kind: SectionKind) -> u16 {
        let Some(section) = self.plan.sections.iter().find(|s| s.kind == kind) else {
            return 0;
        };
        let steps = self.plan.steps_among(self.done, kind);
        let number = (0..steps).rev().find_map(|index| section.number(index));
        u16::try_from(number.unwrap_or(0)).unwrap_or(u16::MAX)
    }
}

/// Rounds of a section of a plan.
fn rounds(plan: &Plan, kind: SectionKind) -> u16 {
    let section = plan.sections.iter().find(|s| s.kind == kind);
    section.map_or(0, |s| u16::try_from(s.counted()).unwrap_or(u16::MAX))
}

/// Where the sock is, and the rounds of leg and foot.
#[component]
pub(super) fn BegunStep(desk: Desk, begun: Arc<Begun>) -> impl IntoView {
    let lead = copy::begun(&begun.name, begun.sock, &begun.place);
    let parts = [SectionKind::Leg, SectionKind::Foot];
    let steppers: Vec<_> = parts
        .into_iter()
        .filter(|kind| rounds(&begun.plan, *kind) > 0)
        .map(|kind| {
            let planned = rounds(&begun.plan, kind);
            let least = begun.knitted(kind);
            // While something else is wrong the last number stands.
            let value = Memo::new(move |before: Option<&u16>| {
                let usual = before.copied().unwrap_or(planned);
                let plan = desk.plan.read();
                plan.as_ref().map_or(usual, |plan| rounds(plan, kind))
            });
            let on_change = Callback::new(move |wanted: u16| {
                let more = i32::from(wanted) - i32::from(value.get_untracked());
                desk.form.update(|form| form.add_rounds(kind, more));
            });
            view! {
                <Stepper
                    id=format!("rounds-{}", kind.key())
                    label=copy::rounds_of(kind).to_owned()
                    value=Signal::from(value)
                    on_change
                    least
                    most=999
                />
            }
            .into_any()
        })
        .collect();
    view! {
        <Step title=copy::BEGUN lead=copy::BEGUN_LEAD>
            <p>{lead}</p>
            <div class="steppers">{steppers}</div>
        </Step>
    }
    .into_any()
}

/// What would be different, above the plan.
#[component]
pub(super) fn Differences(desk: Desk, begun: Arc<Begun>) -> impl IntoView {
    let said = Memo::new(move |_| {
        let plan = desk.plan.read();
        Some(begun.said(plan.as_ref().ok()?, desk.unit()))
    });
    let words = Words::here();
    move || {
        said.get().map(|said| {
            let lines: Vec<_> = said
                .into_iter()
                .map(|line| view! { <li>{words.say(&line)}</li> })
                .collect();
            let body = if lines.is_empty() {
                view! { <p>{copy::NO_CHANGE}</p> }.into_any()
            } else {
                view! {
                    <p>
                        <strong>{copy::CHANGES}</strong>
                    </p>
                    <ul>{lines}</ul>
                }
                .into_any()
            };
            view! { <Notice tone=Tone::Mind>{body}</Notice> }
        })
    }
}

/// Why the sock could not be opened for a change.
#[component]
pub(super) fn NotOpened() -> impl IntoView {
    view! {
        <Notice tone=Tone::Wrong>
            <p>{copy::NOT_OPENED}</p>
        </Notice>
    }
}
