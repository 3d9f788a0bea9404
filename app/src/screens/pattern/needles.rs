//! The needles, and where the stitches sit on them.

use evenloop_engine::recipe::{CircularLength, Method, Seating};
use leptos::prelude::*;

use super::desk::Desk;
use super::step::step;
use crate::parts::{Choice, ChoiceGroup, Width};
use crate::text::Named;
use crate::text::measure::{self, choices as text};
use crate::text::pattern::NEEDLES_LEAD;

const KINDS: [Named; 5] = [
    text::MAGIC_LOOP,
    text::TWO_CIRCULARS,
    text::FOUR_DPNS,
    text::FIVE_DPNS,
    text::SHORT_CIRCULAR,
];

const SEATINGS: [Seating; 2] = [Seating::EvenHalves, Seating::InstepAndSole];

/// Where a method stands among the kinds.
const fn kind(needles: Method) -> usize {
    match needles {
        Method::MagicLoop { .. } => 0,
        Method::TwoCirculars { .. } => 1,
        Method::FourDpns => 2,
        Method::FiveDpns => 3,
        Method::ShortCircular { .. } => 4,
    }
}

/// The method of a kind, seated as before where it can be.
fn method(kind: usize, before: Method) -> Method {
    let seating = before.seating().unwrap_or_default();
    match kind {
        0 => Method::MagicLoop { seating },
        1 => Method::TwoCirculars { seating },
        2 => Method::FourDpns,
        3 => Method::FiveDpns,
        _ => Method::ShortCircular {
            length: Some(CircularLength::default()),
        },
    }
}

#[component]
pub(super) fn NeedlesStep(desk: Desk) -> impl IntoView {
    let needles = Signal::derive(move || desk.form.read().needles);
    let set = Callback::new(move |needles| desk.change(|form| form.needles = needles));
    step(
        measure::NEEDLES,
        NEEDLES_LEAD,
        vec![choose_needles(needles, set)],
    )
}

/// Asks for needles and seating.
pub(super) fn choose_needles(needles: Signal<Method>, set: Callback<Method>) -> AnyView {
    let picked = Signal::derive(move || kind(needles.get()));
    let on_pick = Callback::new(move |nth| set.run(method(nth, needles.get_untracked())));
    let all: Vec<Choice> = KINDS
        .map(|named| Choice::with_note(named.name, named.note))
        .into();
    let halves = Memo::new(move |_| needles.get().seating().is_some());
    let seated = Signal::derive(move || {
        let seating = needles.get().seating().unwrap_or_default();
        SEATINGS.iter().position(|one| *one == seating).unwrap_or(0)
    });
    let on_seat = Callback::new(move |nth: usize| {
        let seating = SEATINGS.get(nth).copied().unwrap_or_default();
        set.run(match needles.get_untracked() {
            Method::MagicLoop { .. } => Method::MagicLoop { seating },
            Method::TwoCirculars { .. } => Method::TwoCirculars { seating },
            other => other,
        });
    });
    let seatings = move || {
        halves.get().then(|| {
            let all: Vec<Choice> = [text::EVEN_HALVES, text::INSTEP_AND_SOLE]
                .map(|named| Choice::with_note(named.name, named.note))
                .into();
            view! {
                <ChoiceGroup
                    name="seating"
                    legend=text::SEATING
                    choices=all
                    picked=seated
                    on_pick=on_seat
                    width=Width::Long
                />
            }
        })
    };
    let circular = Memo::new(move |_| kind(needles.get()) == 4);
    let long = Signal::derive(move || match needles.get() {
        Method::ShortCircular { length } => {
            let length = length.unwrap_or_default();
            CircularLength::ALL
                .iter()
                .position(|one| *one == length)
                .unwrap_or(0)
        }
        _ => 0,
    });
    let on_long = Callback::new(move |nth: usize| {
        let length = CircularLength::ALL.get(nth).copied();
        set.run(Method::ShortCircular { length });
    });
    let lengths = move || {
        circular.get().then(|| {
            let all: Vec<Choice> = [
                text::CIRCULAR_20,
                text::CIRCULAR_23,
                text::CIRCULAR_25,
                text::CIRCULAR_30,
            ]
            .map(|named| Choice::plain(named.name))
            .into();
            view! {
                <ChoiceGroup
                    name="circular-length"
                    legend=text::CIRCULAR_LENGTH
                    choices=all
                    picked=long
                    on_pick=on_long
                    width=Width::Short
                />
            }
        })
    };
    view! {
        <ChoiceGroup
            name="needles"
            legend=text::METHOD
            choices=all
            picked
            on_pick
            width=Width::Long
        />
        {seatings}
        {lengths}
    }
    .into_any()
}
