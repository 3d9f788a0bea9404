//! The choices that shape the sock: which end first, heel, toe, needles.

use evenloop_engine::recipe::{Direction, LeftRight, Toe};
use leptos::prelude::*;

use super::bound::{Flip, Line, Only, Pick, Trouble, change, name, pick, place};
use super::fold::Fold;
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
            body=direction
        />
    }
    .into_any()
}

/// What is folded away in it.
fn direction(desk: Desk) -> AnyView {
    view! {
            <Pick
                desk
                name="direction"
                legend=copy::DIRECTION
                choices=&copy::DIRECTIONS
                width=Width::Long
                get=|form| place(&DIRECTIONS, &form.direction)
                set=change(desk, |form, index| pick(&DIRECTIONS, index, &mut form.direction))
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
            body=heel
        />
    }
    .into_any()
}

/// What is folded away in it.
fn heel(desk: Desk) -> AnyView {
    view! {
            <Pick
                desk
                name="heel"
                legend=copy::HEEL_KIND
                choices=&copy::HEEL_KINDS
                width=Width::Long
                get=|form| place(&HeelKind::ALL, &form.heel)
                set=change(desk, |form, index| pick(&HeelKind::ALL, index, &mut form.heel))
            />
            <Only desk when=|form| form.heel == HeelKind::ShortRow>
                <Line desk entry=Entry::Between />
            </Only>
            <Only desk when=|form| form.heel == HeelKind::Flap>
                <Flap desk />
            </Only>
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
            body=toe
        />
    }
    .into_any()
}

/// What is folded away in it.
fn toe(desk: Desk) -> AnyView {
    view! {
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
            <Only desk when=|form| foot_of(form.toe).is_some()>
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
            body=needles
        />
    }
    .into_any()
}

/// What is folded away in it.
fn needles(desk: Desk) -> AnyView {
    view! {
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
            <Only desk when=|form| form.needles.has_halves()>
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
            </Only>
    }
    .into_any()
}

/// What a heel flap can be asked for. Turn and corners are asked from the cuff down only: from the
/// toe up the heel is turned in short rows and nothing is picked up.
#[component]
fn Flap(desk: Desk) -> impl IntoView {
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
        <Only desk when=|form| form.direction == Direction::CuffDown>
            <Pick
                desk
                name="turn"
                legend=copy::TURN
                choices=&copy::TURNS
                width=Width::Long
                get=|form| place(&TURNS, &form.turn)
                set=change(desk, |form, index| pick(&TURNS, index, &mut form.turn))
            />
        </Only>
        <Pick
            desk
            name="flap-by"
            legend=copy::FLAP_BY
            choices=&copy::FLAP_BYS
            width=Width::Short
            get=|form| place(&FlapBy::ALL, &form.flap_by)
            set=change(desk, |form, index| pick(&FlapBy::ALL, index, &mut form.flap_by))
        />
        <Only desk when=|form| form.flap_by == FlapBy::Rows>
            <Line desk entry=Entry::HeelRows />
        </Only>
        <Only desk when=|form| form.flap_by == FlapBy::Height>
            <Line desk entry=Entry::HeelHeight />
        </Only>
        <Only desk when=|form| form.direction == Direction::CuffDown>
            <Flip
                desk
                name="corners"
                choice=copy::CORNERS
                get=|form| form.corners
                set=|form, on| form.corners = on
            />
        </Only>
    }
    .into_any()
}
