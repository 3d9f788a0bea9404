//! The choices that shape the sock: which end first, heel, toe, needles.

use evenloop_engine::recipe::{Direction, LeftRight, Toe};
use leptos::prelude::*;

use super::bound::{Flip, Fold, Line, Pick, Trouble, change, name, pick, place};
use crate::parts::{Choice, Width};
use crate::screens::measure::entry::{Entry, Spot};
use crate::screens::measure::form::{
    DIRECTIONS, FEET, FlapBy, HeelKind, Needles, SEATINGS, TEXTURES, TOES, TURNS, toe_place,
};
use crate::screens::measure::{Desk, copy, drawings};

static METHODS: [Choice; 5] = [
    copy::METHODS[0].drawn(drawings::magic_loop),
    copy::METHODS[1].drawn(drawings::two_circulars),
    copy::METHODS[2].drawn(drawings::four_dpns),
    copy::METHODS[3].drawn(drawings::five_dpns),
    copy::METHODS[4].drawn(drawings::short_circular),
];

static SEATING_CHOICES: [Choice; 2] = [
    copy::SEATINGS[0].drawn(drawings::even_halves),
    copy::SEATINGS[1].drawn(drawings::instep_and_sole),
];

/// Which end is begun with.
#[component]
pub(super) fn DirectionStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            title=copy::DIRECTION_STEP
            holds=|_| false
            now=|form| name(&copy::DIRECTIONS, place(&DIRECTIONS, &form.direction)).to_owned()
        >
            <Pick
                desk
                name="direction"
                legend=copy::DIRECTION
                choices=&copy::DIRECTIONS
                width=Width::Long
                get=|form| place(&DIRECTIONS, &form.direction)
                set=change(desk, |form, index| pick(&DIRECTIONS, index, &mut form.direction))
            />
        </Fold>
    }
    .into_any()
}

/// The heel.
#[component]
pub(super) fn HeelStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            title=copy::HEEL
            holds=|spot| {
                matches!(spot, Spot::Line(Entry::HeelRows | Entry::HeelHeight | Entry::Between))
            }
            now=|form| {
                let kind = name(&copy::HEEL_KINDS, place(&HeelKind::ALL, &form.heel));
                if form.heel == HeelKind::Flap {
                    copy::two(kind, name(&copy::TEXTURES, place(&TEXTURES, &form.texture)))
                } else {
                    kind.to_owned()
                }
            }
        >
            <Pick
                desk
                name="heel"
                legend=copy::HEEL_KIND
                choices=&copy::HEEL_KINDS
                width=Width::Long
                get=|form| place(&HeelKind::ALL, &form.heel)
                set=change(desk, |form, index| pick(&HeelKind::ALL, index, &mut form.heel))
            />
            <Show when=move || desk.form.read().heel == HeelKind::ShortRow>
                <Line desk entry=Entry::Between />
            </Show>
            <Show when=move || desk.form.read().heel == HeelKind::Flap>
                <Flap desk />
            </Show>
        </Fold>
    }
    .into_any()
}

/// The toe.
#[component]
pub(super) fn ToeStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            title=copy::TOE_STEP
            holds=|spot| spot == Spot::Toe
            now=|form| name(&copy::TOES, toe_place(form.toe)).to_owned()
        >
            <Pick
                desk
                name="toe"
                legend=copy::TOE
                choices=&copy::TOES
                width=Width::Long
                get=|form| toe_place(form.toe)
                set=change(desk, |form, index| pick(&TOES, index, &mut form.toe))
            />
            <Trouble desk spot=Spot::Toe />
            <Show when=move || foot_of(desk.form.read().toe).is_some()>
                <Pick
                    desk
                    name="first-foot"
                    legend=copy::FIRST_FOOT
                    choices=&copy::FEET
                    width=Width::Short
                    get=|form| foot_of(form.toe).map_or(0, |foot| place(&FEET, &foot))
                    set=change(
                        desk,
                        |form, index| {
                            if let Toe::Shaped { foot } = &mut form.toe {
                                pick(&FEET, index, foot);
                            }
                        },
                    )
                />
            </Show>
        </Fold>
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
    let halves = move || desk.form.read().needles.has_halves();
    view! {
        <Fold
            desk
            title=copy::NEEDLES
            holds=|spot| matches!(spot, Spot::Needles | Spot::Seating)
            now=|form| {
                let needles = name(&copy::METHODS, place(&Needles::ALL, &form.needles));
                if form.needles.has_halves() {
                    copy::two(needles, name(&copy::SEATINGS, place(&SEATINGS, &form.seating)))
                } else {
                    needles.to_owned()
                }
            }
        >
            <Pick
                desk
                name="needles"
                legend=copy::METHOD
                choices=&METHODS
                width=Width::Long
                get=|form| place(&Needles::ALL, &form.needles)
                set=change(desk, |form, index| pick(&Needles::ALL, index, &mut form.needles))
            />
            <Trouble desk spot=Spot::Needles />
            <Show when=halves>
                <Pick
                    desk
                    name="seating"
                    legend=copy::SEATING
                    choices=&SEATING_CHOICES
                    width=Width::Long
                    get=|form| place(&SEATINGS, &form.seating)
                    set=change(desk, |form, index| pick(&SEATINGS, index, &mut form.seating))
                />
                <Trouble desk spot=Spot::Seating />
            </Show>
        </Fold>
    }
    .into_any()
}

/// What a heel flap can be asked for. Turn and corners are asked from the cuff down only: from the
/// toe up the heel is turned in short rows and nothing is picked up.
#[component]
fn Flap(desk: Desk) -> impl IntoView {
    let down = move || desk.form.read().direction == Direction::CuffDown;
    view! {
        <Pick
            desk
            name="texture"
            legend=copy::TEXTURE
            choices=&copy::TEXTURES
            width=Width::Long
            get=|form| place(&TEXTURES, &form.texture)
            set=change(desk, |form, index| pick(&TEXTURES, index, &mut form.texture))
        />
        <Show when=down>
            <Pick
                desk
                name="turn"
                legend=copy::TURN
                choices=&copy::TURNS
                width=Width::Long
                get=|form| place(&TURNS, &form.turn)
                set=change(desk, |form, index| pick(&TURNS, index, &mut form.turn))
            />
        </Show>
        <Pick
            desk
            name="flap-by"
            legend=copy::FLAP_BY
            choices=&copy::FLAP_BYS
            width=Width::Short
            get=|form| place(&FlapBy::ALL, &form.flap_by)
            set=change(desk, |form, index| pick(&FlapBy::ALL, index, &mut form.flap_by))
        />
        <Show
            when=move || desk.form.read().flap_by == FlapBy::Height
            fallback=move || view! { <Line desk entry=Entry::HeelRows /> }
        >
            <Line desk entry=Entry::HeelHeight />
        </Show>
        <Show when=down>
            <Flip
                desk
                name="corners"
                choice=copy::CORNERS
                get=|form| form.corners
                set=|form, on| form.corners = on
            />
        </Show>
    }
    .into_any()
}
