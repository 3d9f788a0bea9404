//! The top of the sock and its leg.

use evenloop_engine::leg_length::LegName;
use evenloop_engine::recipe::Direction;
use evenloop_engine::units::Length;
use leptos::prelude::*;

use super::bound::{Line, More, Only, Pick, change, length, name, pick, place};
use super::calf::Calf;
use super::fold::Fold;
use crate::parts::Width;
use crate::screens::measure::entry::{Entry, Spot};
use crate::screens::measure::form::{BIND_OFFS, CAST_ONS, EDGES, plain_number};
use crate::screens::measure::{Desk, copy};

/// The top and the leg.
#[component]
pub(super) fn LegStep(desk: Desk) -> impl IntoView {
    view! {
           <Fold
               desk
               title=copy::LEG
               holds=|spot| {matches!(
                       spot,
                       Spot::Calf
                       | Spot::Line(
                           Entry::CuffLength
                           | Entry::Leg
                           | Entry::GirthHeight(_)
                           | Entry::GirthRound(_),
                       )
                   )}
               now=|form| {
                   let edge = name(&copy::EDGES, place(&EDGES, &form.edge));
                   copy::leg_now(
    edge, &length(form, Entry::CuffLength), &length(form, Entry::Leg), form.girths > 0)
               }
               body=leg
           />
       }
    .into_any()
}

/// What is folded away in it.
fn leg(desk: Desk) -> AnyView {
    view! {
               <Pick
                   desk
                   name="edge"
                   legend=copy::EDGE
                   choices=&copy::EDGES
                   get=|form| place(&EDGES, &form.edge)
                   set=change(desk, |form, index| pick(&EDGES, index, &mut form.edge))
               />
               <div class="fields">
                   <Line desk entry=Entry::CuffLength />
                   <Line desk entry=Entry::Leg />
                   <NamedLegs desk />
               </div>
               <Calf desk />
               <Beginning desk />
               <More title=copy::COURTESY>
                   <p>{copy::COURTESY_TEXT}</p>
               </More>
    }
    .into_any()
}

/// Buttons that fill in the leg: what knitters call it, and how long that is for this foot.
#[component]
fn NamedLegs(desk: Desk) -> impl IntoView {
    let foot = Memo::new(move |_| desk.form.read().foot_length());
    let button = move |name: LegName| {
        let leg = move || name.leg(foot.get());
        let fill = move |_| {
            let leg: Length = name.leg(foot.get_untracked());
            desk.form.update(|form| {
                form.typed.insert(Entry::Leg, plain_number(leg, form.unit));
            });
        };
        view! {
            <button type="button" class="button" on:click=fill>
                {copy::leg_name(name)}
                <span class="soft">{move || leg().show(desk.unit())}</span>
            </button>
        }
    };
    view! {
        <More title=copy::LEGS>
            <p class="soft">{copy::LEGS_TEXT}</p>
            <div class="buttons">{LegName::ALL.map(button)}</div>
        </More>
    }
    .into_any()
}

/// How the cuff is cast on, or bound off.
#[component]
fn Beginning(desk: Desk) -> impl IntoView {
    view! {
        <Only desk when=|form| form.direction == Direction::CuffDown>
            <More title=copy::CAST_ON_HOW>
                <Pick
                    desk
                    name="cast-on"
                    legend=copy::CAST_ON_KIND
                    choices=&copy::CAST_ONS
                    width=Width::Long
                    get=|form| place(&CAST_ONS, &form.cast_on)
                    set=change(desk, |form, index| pick(&CAST_ONS, index, &mut form.cast_on))
                />
            </More>
        </Only>
        <Only desk when=|form| form.direction == Direction::ToeUp>
            <More title=copy::BIND_OFF_HOW>
                <Pick
                    desk
                    name="bind-off"
                    legend=copy::BIND_OFF_KIND
                    choices=&copy::BIND_OFFS
                    width=Width::Long
                    get=|form| place(&BIND_OFFS, &form.bind_off)
                    set=change(desk, |form, index| pick(&BIND_OFFS, index, &mut form.bind_off))
                />
            </More>
        </Only>
    }
    .into_any()
}
