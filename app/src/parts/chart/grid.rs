//! A chart to write in: a grid of cells to touch, to walk with the arrow keys, to hear.
//!
//! Cells stand in the page in the order in which they are knitted; the style sheet lays them out as
//! knitters read them, from right to left and upward; left-handed knitters from left to right. One cell at a time can be reached with Tab.

use evenloop_engine::recipe::{MOTIF_ROWS, Row};
use evenloop_engine::text::KnittingHand;
use leptos::ev::{KeyboardEvent, MouseEvent};
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

use super::cells::{Cells, Symbol};
use super::symbol::drawn;
use crate::parts::wording::use_wording;
use crate::text;

/// A round and a cell of it, from 0.
type CellIndex = (usize, usize);

/// The grid.
#[component]
pub fn ChartGrid(
    /// What it is, for the ear.
    label: &'static str,
    /// What stands in it.
    #[prop(into)]
    cells: Signal<Cells>,
    /// The round at hand, from 0: whole-round actions are about it.
    at_hand: RwSignal<usize>,
    /// A cell was touched; says in which one the focus stays.
    on_touch: Callback<CellIndex, usize>,
) -> impl IntoView {
    let wording = use_wording();
    let here = RwSignal::new((0_usize, 0_usize));
    let go = move |(round, cell): CellIndex| {
        let place = cells.with_untracked(|cells| {
            let round = round.min(cells.height() - 1);
            (round, cells.start_of(round, cell.min(cells.width() - 1)))
        });
        here.set(place);
        at_hand.set(place.0);
        focus(place);
    };
    let touch = move |event: MouseEvent| {
        if let Some(round) = number_at(&event, "data-number") {
            at_hand.set(round);
        } else if let Some(round) = number_at(&event, "data-round")
            && let Some(cell) = number_at(&event, "data-cell")
        {
            let stays = on_touch.run((round, cell));
            go((round, stays));
        }
    };
    let hand = Memo::new(move |_| wording.get().hand);
    let walk = move |event: KeyboardEvent| {
        let (round, cell) = here.get_untracked();
        let (onward, back) = match hand.get_untracked() {
            KnittingHand::Right => ("ArrowLeft", "ArrowRight"),
            KnittingHand::Left => ("ArrowRight", "ArrowLeft"),
        };
        let span = cells.with_untracked(|cells| span_at(cells, (round, cell)));
        let to = match event.key().as_str() {
            key if key == onward => (round, cell + span),
            key if key == back => (round, cell.saturating_sub(1)),
            "ArrowUp" => (round + 1, cell),
            "ArrowDown" => (round.saturating_sub(1), cell),
            "Home" => (round, 0),
            "End" => (round, usize::MAX),
            _ => return,
        };
        event.prevent_default();
        go(to);
    };
    let rounds = (0..usize::from(*MOTIF_ROWS.end()))
        .map(|nth| round(nth, cells, here, at_hand, hand))
        .collect_view();
    let numbers = move || {
        (1..=cells.read().width())
            .map(|number| view! { <span>{number.to_string()}</span> })
            .collect_view()
    };
    view! {
        <div class="chart-scroll">
            <div
                class="chart-grid"
                role="grid"
                aria-label=label
                on:click=touch
                on:keydown=walk
            >
                <div class="chart-numbers" aria-hidden="true">
                    {numbers}
                </div>
                {rounds}
            </div>
        </div>
    }
    .into_any()
}

/// One round; nothing where there is none. It is made again only when something in it changes.
fn round(
    nth: usize,
    cells: Signal<Cells>,
    here: RwSignal<CellIndex>,
    at_hand: RwSignal<usize>,
    hand: Memo<KnittingHand>,
) -> AnyView {
    let symbols = Memo::new(move |_| cells.with(|cells| cells.round(nth).to_vec()));
    let at = Memo::new(move |_| {
        // A chart that was made smaller still has a cell to be reached.
        let (round, cell) = here.get();
        cells.with(|cells| {
            let reached = round.min(cells.height() - 1) == nth;
            reached.then(|| cells.start_of(nth, cell.min(cells.width() - 1)))
        })
    });
    let chosen = Memo::new(move |_| at_hand.get() == nth);
    let made = move || {
        let symbols = symbols.get();
        if symbols.is_empty() {
            return None;
        }
        let counts = cells.with_untracked(|cells| cells.row(nth).as_ref().map(Row::counts));
        let counts = counts.filter(|(takes, makes)| takes != makes);
        let mut start = 0;
        let row = symbols
            .iter()
            .map(|&symbol| {
                let cell = start;
                start += symbol.span();
                let reached = at.get() == Some(cell);
                view! {
                    <button
                        type="button"
                        role="gridcell"
                        class=format!("chart-cell span-{}", symbol.span())
                        tabindex=if reached { "0" } else { "-1" }
                        data-round=nth.to_string()
                        data-cell=cell.to_string()
                        aria-label=cell_name(nth, cell, symbol, hand.get())
                    >
                        {drawn(symbol)}
                    </button>
                }
            })
            .collect_view();
        let number = view! {
            <div role="rowheader" class="chart-number">
                <button
                    type="button"
                    data-number=nth.to_string()
                    aria-pressed=if chosen.get() { "true" } else { "false" }
                    aria-label=round_name(nth, counts)
                >
                    {(nth + 1).to_string()}
                    <small>{counts.map(|(takes, makes)| format!("{takes}→{makes}"))}</small>
                </button>
            </div>
        };
        let class = if counts.is_some() {
            "chart-row wrong"
        } else {
            "chart-row"
        };
        Some(view! {
            <div class=class role="row">
                {number}
                {row}
            </div>
        })
    };
    made.into_any()
}

fn cell_name(round: usize, cell: usize, symbol: Symbol, hand: KnittingHand) -> String {
    let name = symbol.name(hand);
    text::chart::cell(round + 1, cell + 1, cell + symbol.span(), &name)
}

fn round_name(round: usize, counts: Option<(u32, u32)>) -> String {
    match counts {
        None => text::chart::round(round + 1),
        Some((takes, makes)) => text::chart::uneven_round(round + 1, takes, makes),
    }
}

fn span_at(cells: &Cells, (round, cell): CellIndex) -> usize {
    let mut at = 0;
    for symbol in cells.round(round) {
        if at + symbol.span() > cell {
            return at + symbol.span() - cell;
        }
        at += symbol.span();
    }
    1
}

/// A number that the touched element, or one it lies in, carries.
fn number_at(event: &MouseEvent, name: &str) -> Option<usize> {
    let target = event.target()?.dyn_into::<web_sys::Element>().ok()?;
    let carrier = target.closest(&format!("[{name}]")).ok().flatten()?;
    carrier.get_attribute(name)?.parse().ok()
}

/// Gives a cell the focus once it is there.
fn focus((round, cell): CellIndex) {
    request_animation_frame(move || {
        let css = format!("[data-round=\"{round}\"][data-cell=\"{cell}\"]");
        if let Ok(Some(element)) = document().query_selector(&css)
            && let Ok(element) = element.dyn_into::<web_sys::HtmlElement>()
        {
            // An element that is there takes the focus; should it not, the finger still does.
            let _ = element.focus();
        }
    });
}
