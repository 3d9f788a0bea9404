//! The top of the sock and its leg.

use evenloop_engine::leg_length::LegName;
use evenloop_engine::recipe::{Direction, NumberField};
use leptos::prelude::*;

use super::bound::{Lines, More, Only, Questions, Troubles, length};
use super::calf::Calf;
use super::fold::Fold;
use crate::screens::measure::desk::Desk;
use crate::screens::measure::form::{Answer, plain_number};
use crate::screens::measure::form::{FieldGroup, MeasureStep};
use crate::text::measure as text;

/// The top and the leg.
#[component]
pub(super) fn LegStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            step=MeasureStep::Leg
            title=text::LEG
            now=|form, _| {
                let cuff = length(form, NumberField::CuffLength);
                let leg = length(form, NumberField::Leg);
                text::leg_now(form.edge.name(), &cuff, &leg, form.girths > 0)
            }
            body=leg
        />
    }
    .into_any()
}

/// What is folded away in it.
fn leg(desk: Desk) -> AnyView {
    view! {
        <Questions desk group=FieldGroup::Edge />
        <div class="fields">
            <Lines desk group=FieldGroup::LegLengths />
            <NamedLegs desk />
        </div>
        <Calf desk />
        <Only desk when=|form| form.direction == Direction::CuffDown>
            <More title=text::CAST_ON_HOW>
                <Questions desk group=FieldGroup::CastOn />
            </More>
        </Only>
        <Only desk when=|form| form.direction == Direction::ToeUp>
            <More title=text::BIND_OFF_HOW>
                <Questions desk group=FieldGroup::BindOff />
            </More>
        </Only>
        <More title=text::COURTESY>
            <div class="choices long">
                <Questions desk group=FieldGroup::TenderLegs />
            </div>
            <Troubles desk group=FieldGroup::TenderLegs />
            <p>{text::COURTESY_TEXT}</p>
        </More>
    }
    .into_any()
}

/// Buttons that fill in the leg: what knitters call it, and how long that is for this foot.
#[component]
fn NamedLegs(desk: Desk) -> impl IntoView {
    let foot = Memo::new(move |_| desk.form.read().foot_length());
    let button = move |name: LegName| {
        let leg = move || name.leg(foot.get(), desk.unit());
        let fill = move |_| {
            desk.form.update(|form| {
                let leg = name.leg(foot.get_untracked(), form.unit);
                form.type_into(NumberField::Leg, plain_number(leg, form.unit));
            });
        };
        view! {
            <button type="button" class="button" on:click=fill>
                {text::leg_name(name)}
                <span class="soft">{move || leg().show(desk.unit())}</span>
            </button>
        }
    };
    view! {
        <More title=text::LEGS>
            <p class="soft">{text::LEGS_TEXT}</p>
            <div class="buttons">{LegName::ALL.map(button)}</div>
        </More>
    }
    .into_any()
}
