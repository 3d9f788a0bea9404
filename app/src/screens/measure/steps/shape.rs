//! The choices that shape the sock: which end first, heel, toe, needles.

use evenloop_engine::recipe::{LeftRight, Toe};
use leptos::prelude::*;

use super::bound::{Lines, Only, Questions};
use super::fold::Fold;
use crate::parts::{ChoiceGroup, Width};
use crate::screens::measure::desk::Desk;
use crate::screens::measure::form::{Answer, HeelKind};
use crate::screens::measure::form::{FieldGroup, MeasureStep};
use crate::text::measure::{self as text, choices};

/// Which end is begun with.
#[component]
pub(super) fn DirectionStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            step=MeasureStep::Direction
            title=text::DIRECTION_STEP
            now=|form, _| form.direction.name().to_owned()
            body=|desk| view! { <Questions desk group=FieldGroup::Direction /> }.into_any()
        />
    }
    .into_any()
}

/// The heel.
#[component]
pub(super) fn HeelStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            step=MeasureStep::Heel
            title=text::HEEL
            now=|form, _| match form.heel {
                HeelKind::Flap => text::two(form.heel.name(), form.texture.name()),
                HeelKind::ShortRow | HeelKind::Afterthought => form.heel.name().to_owned(),
            }
            body=heel
        />
    }
    .into_any()
}

/// What is folded away in it.
fn heel(desk: Desk) -> AnyView {
    view! {
        <Questions desk group=FieldGroup::HeelKind />
        <Lines desk group=FieldGroup::ShortRowHeel />
        <Questions desk group=FieldGroup::Flap />
        <Lines desk group=FieldGroup::FlapHeight />
        <Lines desk group=FieldGroup::FlapSwatch />
        <Questions desk group=FieldGroup::Corners />
    }
    .into_any()
}

/// The toe.
#[component]
pub(super) fn ToeStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            step=MeasureStep::Toe
            title=text::TOE
            now=|form, _| form.toe.name().to_owned()
            body=toe
        />
    }
    .into_any()
}

/// What is folded away in it. For which foot a shaped toe is, is part of the toe.
fn toe(desk: Desk) -> AnyView {
    // What is planned for one foot comes out for the other where the left hand knits.
    let hand = Memo::new(move |_| desk.wording().hand);
    let picked = Memo::new(move |_| {
        let foot = desk.form.with(|form| foot_of(form.toe));
        foot.map_or(0, |foot| hand.get().makes_for(foot).index())
    });
    let on_pick = Callback::new(move |index| {
        desk.form.update(|form| {
            if let Toe::Shaped { foot } = &mut form.toe {
                foot.pick(index);
                *foot = hand.get_untracked().makes_for(*foot);
            }
        });
    });
    view! {
        <Questions desk group=FieldGroup::Toe />
        <Only desk when=|form| foot_of(form.toe).is_some()>
            <ChoiceGroup
                name="first-foot"
                legend=choices::FIRST_FOOT
                choices=LeftRight::choices()
                width=Width::Short
                picked
                on_pick
            />
        </Only>
    }
    .into_any()
}

const fn foot_of(toe: Toe) -> Option<LeftRight> {
    match toe {
        Toe::Shaped { foot } => Some(foot),
        Toe::Wedge { .. } | Toe::Round | Toe::ShortRow => None,
    }
}

/// The needles, and where stitches sit on them.
#[component]
pub(super) fn NeedlesStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            step=MeasureStep::Needles
            title=text::NEEDLES
            now=|form, _| {
                if form.needles.has_halves() {
                    text::two(form.needles.name(), form.seating.name())
                } else {
                    form.needles.name().to_owned()
                }
            }
            body=|desk| view! { <Questions desk group=FieldGroup::Needles /> }.into_any()
        />
    }
    .into_any()
}
