//! What to do: a card for each needle, a line for each thing, with the count after it. Needles that do the
//! same share a card.

use evenloop_engine::text::{Instructions, Line, Technique, Wording};
use evenloop_engine::together::Sock;
use leptos::html;
use leptos::prelude::*;

use super::fit::fit;
use super::in_pattern;
use super::notes::Above;
use super::strip::strip;
use super::turn;
use crate::base::to;
use crate::in_hand::{Session, remarks_at};
use crate::parts::plain::{button, link, paragraph};
use crate::preferences::use_preferences;
use crate::routes;
use crate::text;

#[component]
pub(super) fn Instruction(
    /// The pair.
    session: Session,
    /// What to do now.
    at_hand: Memo<Option<Instructions>>,
    /// What stands above it.
    above: Memo<Above>,
    /// What is to be explained was touched.
    on_how: Callback<Vec<Technique>>,
    /// Two at a time was touched.
    on_offer: Callback<()>,
) -> impl IntoView {
    let preferences = use_preferences();
    // Of two socks at a time: whose turn it is, and what the second does where it is not the same.
    let turn = Memo::new(move |_| turn::said(session, preferences.get().style));
    let beside = Memo::new(move |_| turn::beside(session, preferences.get().style));
    let cards = Memo::new(move |_| {
        at_hand
            .with(|now| {
                let now = now.as_ref()?;
                Some(match turn::order_on_needle(session) {
                    Some(order) => cards_of_two(now, beside.read().as_ref().unwrap_or(now), order),
                    None => cards_of(now),
                })
            })
            .unwrap_or_default()
    });
    // In a plain round none of this is another from touch to touch, and nothing of it is made anew.
    let around = Memo::new(move |_| at_hand.with(|now| now.as_ref().map(Around::of)));
    let second_note = second_note(at_hand, beside);
    // Which needle of the round is on: told where a touch counts it, or where the round was put down within.
    let on_needle = Memo::new(move |_| {
        let by_needle = preferences.get().by_needle;
        let (nth, of) = session.needle_at_hand()?;
        let told = at_hand.with(|now| now.as_ref().is_some_and(|now| now.lines.len() == of));
        (told && (by_needle || nth > 1)).then_some(nth - 1)
    });
    let offered = Memo::new(move |_| turn::is_offered(session));
    // What is measured here can be otherwise: the way to change the rest is at hand.
    let measures =
        Memo::new(move |_| at_hand.with(|now| now.as_ref().is_some_and(|now| now.measure)));
    let node = NodeRef::<html::Div>::new();
    // Which needle is shown where there is room for one only.
    let shown_needle = RwSignal::new(untrack(|| on_needle.get()).unwrap_or(0));
    Effect::new(move || {
        at_hand.track();
        let needle = on_needle.get().unwrap_or(0);
        // Whoever follows it looks for room again.
        if shown_needle.get_untracked() != needle {
            shown_needle.set(needle);
        }
    });
    // The next text is read from its beginning. Unless it was scrolled it is there already, and asking would cost
    // another layout of the page in the middle of a touch.
    let scrolled = StoredValue::new(false);
    Effect::new(move || {
        at_hand.track();
        if scrolled.get_value()
            && let Some(node) = node.get()
        {
            scrolled.set_value(false);
            node.set_scroll_top(0);
        }
    });
    let typed = in_pattern::typed(session);
    let found_is_told = RwSignal::new(false);
    let remarks = Memo::new(move |_| remarks_at(session, session.at(), preferences.get().style));
    fit(node, above, move || {
        shown_needle.track();
        at_hand.track();
        beside.track();
        turn.track();
        typed.track();
        found_is_told.track();
        remarks.track();
        preferences.get();
    });
    view! {
        <div
            class="instruction"
            node_ref=node
            role="region"
            aria-label=text::now::INSTRUCTIONS
            tabindex="0"
            data-needle=move || shown_needle.get()
            on:scroll=move |_| scrolled.set_value(true)
        >
            {move || turn.get().map(|text| paragraph("turn", text))}
            {strip(session)}
            {move || needle_choice(&cards.read(), shown_needle)}
            {move || {
                let marks = Marks { shown_needle, on: on_needle.get() };
                around.with(|around| around.as_ref().map(|around| shown(around, &cards.read(), marks, on_how)))
            }}
            {move || second_note.get().map(|note| paragraph("note", note))}
            {move || typed.get().map(|typed| in_pattern::shown(&typed, found_is_told))}
            {move || {
                measures.get().then(|| {
                    let address = session.with(|pair| to(&routes::change_of(&pair.head.id)));
                    link("button change", address, text::pause::CHANGE)
                })
            }}
            {move || {
                offered.get().then(|| button("button offer", text::now::OFFER, None, on_offer))
            }}
            {move || {
                remarks
                    .get()
                    .into_iter()
                    .map(|remark| paragraph("remark", remark))
                    .collect::<Vec<_>>()
            }}
        </div>
    }
    .into_any()
}

/// What is to be said of the second sock alone.
fn second_note(
    at_hand: Memo<Option<Instructions>>,
    beside: Memo<Option<Instructions>>,
) -> Memo<Option<String>> {
    Memo::new(move |_| {
        let note_of =
            |told: &Option<Instructions>| told.as_ref().and_then(|told| told.note.clone());
        let first = at_hand.with(note_of);
        beside
            .with(note_of)
            .filter(|note| Some(note) != first.as_ref())
    })
}

/// What stands around the cards.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Around {
    note: Option<String>,
    /// Whether the note comes first: where nothing is worked it is the instruction.
    note_first: bool,
    /// What is hard about the whole move.
    hard: Vec<Technique>,
}

impl Around {
    fn of(now: &Instructions) -> Self {
        let is_silent = now.lines.iter().all(|line| line.text.is_empty());
        Self {
            note: now.note.clone(),
            note_first: now.note_first || is_silent,
            hard: now.hard.clone(),
        }
    }
}

/// What is done on a needle, or alike on several, by one sock or alike by both.
#[derive(Debug, Clone, PartialEq)]
struct Card {
    /// Whose it is, of two socks on the needles; `None` where only one is shown.
    whose: Option<&'static str>,
    /// One line for each needle, all with the same text.
    lines: Vec<Line>,
    /// Where it is shown, where there is room for one needle only.
    group: usize,
}

/// The cards of one sock. Lines that say the same are one card, if all of them do.
fn cards_of(now: &Instructions) -> Vec<Card> {
    let same = |a: &Line, b: &Line| a.text == b.text && !a.text.is_empty();
    let one = |group, lines: &[Line]| Card {
        whose: None,
        lines: lines.to_vec(),
        group,
    };
    match now.lines.split_first() {
        Some((first, rest)) if rest.iter().all(|line| same(first, line)) => {
            vec![one(0, &now.lines)]
        }
        _ => {
            let lines = now.lines.chunks(1).enumerate();
            lines.map(|(group, line)| one(group, line)).collect()
        }
    }
}

/// The cards of two socks on the same needles, in the order in which their stitches come: each sock on each
/// needle by itself, unless both do the same there. `second_first` says for each needle which comes first.
fn cards_of_two(first: &Instructions, second: &Instructions, order: turn::Order) -> Vec<Card> {
    let needles = first.lines.len().max(second.lines.len());
    let mut cards = Vec::with_capacity(2 * needles);
    for group in 0..needles {
        let card = |whose, line: Option<&Line>| {
            line.map(|line| Card {
                whose: Some(whose),
                lines: vec![line.clone()],
                group,
            })
        };
        let (one, other) = (first.lines.get(group), second.lines.get(group));
        if one == other {
            cards.extend(card(text::now::EACH_SOCK, one));
            continue;
        }
        let mut two = [
            card(text::now::sock(Sock::First), one),
            card(text::now::sock(Sock::Second), other),
        ];
        if order.second_is_first(group) {
            two.reverse();
        }
        cards.extend(two.into_iter().flatten());
    }
    cards
}

/// What tells the cards of a round from one another.
#[derive(Clone, Copy)]
struct Marks {
    /// Which needle is shown, where there is room for one only.
    shown_needle: RwSignal<usize>,
    /// Which needle is on, counted from 0; nothing where that is not told.
    on: Option<usize>,
}

/// Which needle is shown, where there is room for one only; the style sheet hides it where there is more.
fn needle_choice(cards: &[Card], shown_needle: RwSignal<usize>) -> Option<AnyView> {
    let mut needles: Vec<(usize, u8)> = cards
        .iter()
        .filter_map(|card| Some((card.group, card.lines.first()?.needle?)))
        .collect();
    needles.dedup_by_key(|(group, _)| *group);
    if needles.len() < 2 {
        return None;
    }
    let buttons: Vec<AnyView> = needles
        .into_iter()
        .map(|(group, number)| {
            let pressed = Signal::derive(move || shown_needle.get() == group);
            let choose = Callback::new(move |()| shown_needle.set(group));
            button("button", text::now::needle(number), Some(pressed), choose)
        })
        .collect();
    Some(
        view! {
            <div class="needle-choice" role="group" aria-label=text::now::WHICH_NEEDLE>
                {buttons}
            </div>
        }
        .into_any(),
    )
}

fn shown(
    around: &Around,
    cards: &[Card],
    marks: Marks,
    on_how: Callback<Vec<Technique>>,
) -> impl IntoView + use<> {
    let note = around.note.clone();
    let cards = cards
        .iter()
        .map(|one| card(one, marks, on_how))
        .collect_view();
    // What is hard about the whole move is explained beside its note.
    let whole = how(&around.hard, on_how);
    let note =
        (note.is_some() || whole.is_some()).then(|| view! { <p class="note">{whole} {note}</p> });
    let (first, last) = if around.note_first {
        (note, None)
    } else {
        (None, note)
    };
    view! {
        {first}
        <ol class="lines">{cards}</ol>
        {last}
    }
}

/// One needle, or several that do the same.
fn card(card: &Card, marks: Marks, on_how: Callback<Vec<Technique>>) -> Option<AnyView> {
    let (lines, group) = (&card.lines, card.group);
    let Marks { shown_needle, on } = marks;
    let first = lines.first()?;
    let whose = card
        .whose
        .map(|whose| view! { <span class="whose-card">{whose}</span> });
    // Needles that do the same share a card, and each has its own mark.
    let numbers = (group..)
        .zip(lines)
        .filter_map(|(nth, line)| Some((nth, line.needle?)))
        .map(|(nth, number)| {
            let (is_on, is_done) = (on == Some(nth), on.is_some_and(|on| nth < on));
            let spoken = if is_done {
                text::now::needle_done_spoken(number)
            } else if is_on {
                text::now::needle_now_spoken(number)
            } else {
                text::now::needle_spoken(number)
            };
            view! {
                <span class="needle" class:on=is_on class:done=is_done>
                    <span class="unseen">{spoken}</span>
                    <span aria-hidden="true">{number}</span>
                </span>
            }
        })
        .collect_view();
    let last = group + lines.len();
    let is_other = move || !(group..last).contains(&shown_needle.get());
    let is_done = on.is_some_and(|on| last <= on);
    let things: Vec<_> = if first.text.is_empty() {
        vec![view! { <span class="thing">{text::now::ON_IT.to_owned()}</span> }]
    } else {
        let thing = |thing: &str| view! { <span class="thing">{thing.to_owned()}</span> };
        first.things().map(thing).collect()
    };
    // Where something is worked the count is not that of the picture, which shows the needles before it.
    let caption = (!first.text.is_empty())
        .then(|| view! { <span class="caption" aria-hidden="true">{text::now::AFTER}</span> });
    let counts = lines
        .iter()
        .map(|line| {
            view! {
                <span class="after">
                    {line.count_after} <span class="unseen">{text::now::STITCHES_AFTER}</span>
                </span>
            }
        })
        .collect_view();
    let card = view! {
        <li class:other=is_other class:done=is_done>
            {whose}
            <span class="needles-of">{numbers}</span>
            <span class="text">{things}</span>
            <span class="counts">{counts} {caption} {how(&first.hard, on_how)}</span>
        </li>
    };
    Some(card.into_any())
}

/// Asks how something hard is worked; nothing where nothing is hard.
fn how(hard: &[Technique], on_how: Callback<Vec<Technique>>) -> Option<AnyView> {
    if hard.is_empty() {
        return None;
    }
    let Wording { english, hand, .. } = use_preferences().get_untracked().style;
    let names: Vec<&str> = hard.iter().map(|one| one.name(english, hand)).collect();
    let (spoken, hard) = (text::now::how(&names), hard.to_vec());
    let button = view! {
        <button
            type="button"
            class="how"
            data-hands="how"
            aria-label=spoken
            on:click=move |_| on_how.run(hard.clone())
        >
            "?"
        </button>
    };
    Some(button.into_any())
}
