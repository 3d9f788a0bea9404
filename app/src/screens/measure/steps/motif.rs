//! A pattern: where it is knitted, and the chart it is written in.

use evenloop_engine::recipe::{MOTIF_ROWS, MOTIF_WIDTH, NumberField};
use evenloop_engine::stitch::{Count, Cross, Lean};
use evenloop_engine::text::{KnittingHand, ProblemText};
use leptos::prelude::*;

use super::bound::{Lines, Only, Questions, Trouble};
use super::fold::Fold;
use crate::after_paint::after_paint;
use crate::parts::plain::{button, paragraph};
use crate::parts::{Cells, ChartGrid, Stepper, Switch, Symbol, drawn, said, use_wording};
use crate::screens::measure::desk::Desk;
use crate::screens::measure::fields::FormPlace;
use crate::screens::measure::form::choice;
use crate::screens::measure::form::{FieldGroup, MeasureStep};
use crate::screens::measure::wrong::Wrong;
use crate::text::Sentence;
use crate::text::measure as text;

/// The step.
#[component]
pub(super) fn MotifStep(desk: Desk) -> impl IntoView {
    view! {
        <Fold
            desk
            step=MeasureStep::Motif
            title=text::MOTIF
            now=|form, _| {
                let motif = (form.chart.width(), form.chart.height(), form.place);
                text::motif_now(form.patterned.then_some(motif))
            }
            body=motif
        />
    }
    .into_any()
}

/// What is folded away in it.
fn motif(desk: Desk) -> AnyView {
    view! {
            <Questions desk group=FieldGroup::Patterned />
            <Questions desk group=FieldGroup::MotifPlace />
            <Only desk when=|form| form.patterned>
                <Starters desk />
                {editor(desk)}
                <div class="fields">
                    <Lines desk group=FieldGroup::MotifSides />
                    <Lines desk group=FieldGroup::PatternSwatch />
                </div>
                <Questions desk group=FieldGroup::RoundsBy />
            </Only>
    }
    .into_any()
}

/// Repeats to begin with, each with the balancing stitches that make both sides of a panel alike: common
/// stitches, put together by ourselves.
const REPEATS: [(Sentence, &[&str], &str); 5] = [
    (text::REPEAT_SEED, &["k1 p1", "p1 k1"], "1"),
    (text::REPEAT_BROKEN_RIB, &["k1 p1", "k2"], "1"),
    (text::REPEAT_TWISTED_RIB, &["kt1 p1"], "1"),
    (
        text::REPEAT_LACE,
        &["k1 yo ssk k1 k2tog yo", "k6", "k1 k2tog yo k1 yo ssk", "k6"],
        "1",
    ),
    (
        text::REPEAT_CABLE,
        &[
            "p1 k4 p1",
            "p1 k4 p1",
            "p1 cr2/2 p1",
            "p1 k4 p1",
            "p1 k4 p1",
            "p1 k4 p1",
        ],
        "",
    ),
];

/// Buttons for the repeats to begin with.
#[component]
fn Starters(desk: Desk) -> impl IntoView {
    let starters = REPEATS.map(|(name, rows, balance)| {
        let begin = Callback::new(move |()| {
            let texts: Vec<String> = rows.iter().map(|&row| row.to_owned()).collect();
            if let Ok(chart) = Cells::try_from(texts) {
                desk.form.update(|form| {
                    form.chart = chart;
                    form.type_into(NumberField::MotifBalance, balance.to_owned());
                });
            }
        });
        button("button", name, None, begin)
    });
    view! {
        <fieldset class="choice-group">
            <legend>{text::BEGIN_WITH}</legend>
            <div class="buttons">{Vec::from(starters)}</div>
        </fieldset>
    }
    .into_any()
}

/// The chart's desk has many pieces: it is made once the choice itself was seen, or at once where the
/// knitter is led to it.
fn editor(desk: Desk) -> AnyView {
    let seen = RwSignal::new(desk.sought.get_untracked() == Some(FormPlace::Motif));
    if !seen.get_untracked() {
        after_paint(move || {
            // It may have been folded away in between.
            let _ = seen.try_set(true);
        });
    }
    (move || seen.get().then(|| view! { <Editor desk /> })).into_any()
}

/// The symbols, the grid, and what can be done with a whole round.
#[component]
fn Editor(desk: Desk) -> impl IntoView {
    let chart = Memo::new(move |_| desk.form.read().chart.clone());
    let chosen = RwSignal::new(Symbol::Purl);
    let at_hand = RwSignal::new(0_usize);
    let narrow = RwSignal::new(false);
    let touch = Callback::new(move |(round, cell)| {
        let mut stays = cell;
        desk.form.update(|form| {
            let chart = &mut form.chart;
            let symbol = chosen.get_untracked();
            let again = chart.symbol_at(round, cell) == Some(symbol);
            let put = if again { Symbol::Knit } else { symbol };
            let laid = chart.put(round, cell, put);
            narrow.set(laid.is_none());
            stays = laid.unwrap_or(cell);
        });
        stays
    });
    let size = move |of: fn(&Cells) -> usize| {
        Signal::derive(move || chart.with(|chart| u16::try_from(of(chart)).unwrap_or(u16::MAX)))
    };
    // Whoever types 12 passes through 1: sizes are cut from the chart as it was before the first of
    // them, until something else is changed.
    let before = StoredValue::new(None::<(Cells, Cells)>);
    let resize = move |set: fn(&Cells, usize) -> (usize, usize)| {
        Callback::new(move |number: u16| {
            narrow.set(false);
            desk.form.update(|form| {
                let (width, height) = set(&form.chart, number.into());
                let whole = match before.get_value() {
                    Some((whole, cut)) if cut == form.chart => whole,
                    _ => form.chart.clone(),
                };
                form.chart = whole.clone();
                form.chart.resize(width, height);
                before.set_value(Some((whole, form.chart.clone())));
            });
        })
    };
    view! {
        <div class="chart-desk">
            <header>
                <h3>{text::CHART}</h3>
                <p class="soft">{said(text::chart_text)}</p>
            </header>
            <div class="chart-size">
                <Stepper
                    id="chart-width".to_owned()
                    label=text::WIDTH_OF
                    value=size(Cells::width)
                    on_change=resize(|chart, width| (width, chart.height()))
                    least=*MOTIF_WIDTH.start()
                    most=*MOTIF_WIDTH.end()
                />
                <Stepper
                    id="chart-height".to_owned()
                    label=text::HEIGHT_OF
                    value=size(Cells::height)
                    on_change=resize(|chart, height| (chart.width(), height))
                    least=*MOTIF_ROWS.start()
                    most=*MOTIF_ROWS.end()
                />
            </div>
            <Palette chosen />
            <div class="said" aria-live="polite">
                {move || narrow.get().then(|| paragraph("error", text::TOO_NARROW))}
            </div>
            <ChartGrid label=text::CHART_EAR cells=chart at_hand on_touch=touch />
            <Trouble desk field=FormPlace::Motif />
            <RoundDesk desk chart at_hand />
        </div>
    }
    .into_any()
}

/// The symbols to choose from; for a cross, what it is made of.
#[component]
fn Palette(chosen: RwSignal<Symbol>) -> impl IntoView {
    let two = Count::MIN.saturating_add(1);
    let cross = RwSignal::new(Cross {
        lean: Lean::Right,
        over: two,
        under: two,
        purl: false,
    });
    let wording = use_wording();
    let hand = Memo::new(move |_| wording.get().hand);
    let symbol = move |of: Signal<Symbol>| {
        let on = move || chosen.get() == of.get();
        view! {
            <button
                type="button"
                class="symbol"
                aria-pressed=move || if on() { "true" } else { "false" }
                aria-label=move || of.get().name(hand.get())
                on:click=move |_| chosen.set(of.get_untracked())
            >
                {move || drawn(of.get())}
                <span>{move || short_name(of.get(), hand.get())}</span>
            </button>
        }
        .into_any()
    };
    let crossed = |lean| {
        Signal::derive(move || {
            Symbol::Cross(Cross {
                lean,
                ..cross.get()
            })
        })
    };
    let singles = Symbol::SINGLE.into_iter().map(Signal::stored);
    let crosses = [Lean::Right, Lean::Left].into_iter().map(crossed);
    let symbols: Vec<AnyView> = singles.chain(crosses).map(symbol).collect();
    let change = move |change: fn(&mut Cross, Count)| {
        Callback::new(move |number: u16| {
            let Some(number) = Count::new(number) else {
                return;
            };
            cross.update(|cross| change(cross, number));
            follow(chosen, cross);
        })
    };
    let crossing = move || matches!(chosen.get(), Symbol::Cross(_));
    let most = Cross::MOST - 1;
    view! {
        <fieldset class="choice-group">
            <legend>{text::SYMBOLS}</legend>
            <div class="symbols">{symbols}</div>
        </fieldset>
        <div class="chart-size" hidden=move || !crossing()>
            <Stepper
                id="cross-over".to_owned()
                label=text::OVER
                value=Signal::derive(move || cross.get().over.get())
                on_change=change(|cross, over| {
                    cross.over = over;
                    cross.under = cross.under.min(rest(over));
                })
                least=1
                most
            />
            <Stepper
                id="cross-under".to_owned()
                label=text::UNDER
                value=Signal::derive(move || cross.get().under.get())
                on_change=change(|cross, under| {
                    cross.under = under;
                    cross.over = cross.over.min(rest(under));
                })
                least=1
                most
            />
            <Switch
                name="cross-purl"
                choice=choice(text::PURLED)
                on=Signal::derive(move || cross.get().purl)
                on_change=Callback::new(move |on| {
                    cross.update(|cross| cross.purl = on);
                    follow(chosen, cross);
                })
            />
        </div>
    }
    .into_any()
}

/// What stands below a symbol's drawing.
fn short_name(symbol: Symbol, hand: KnittingHand) -> &'static str {
    match symbol {
        Symbol::Knit => text::SYMBOL_KNIT,
        Symbol::Purl => text::SYMBOL_PURL,
        Symbol::YarnOver => text::SYMBOL_YARN_OVER,
        Symbol::K2tog => text::SYMBOL_K2TOG,
        Symbol::Ssk => text::SYMBOL_SSK,
        Symbol::Twisted => text::SYMBOL_TWISTED,
        Symbol::Slipped => text::SYMBOL_SLIPPED,
        Symbol::Cross(cross) => match (cross.lean, hand) {
            (Lean::Right, KnittingHand::Right) | (Lean::Left, KnittingHand::Left) => {
                text::SYMBOL_CROSS_RIGHT
            }
            (Lean::Left, KnittingHand::Right) | (Lean::Right, KnittingHand::Left) => {
                text::SYMBOL_CROSS_LEFT
            }
        },
    }
}

/// The widest the other half of a cross can be.
fn rest(half: Count) -> Count {
    Count::new(Cross::MOST.saturating_sub(half.get())).unwrap_or(Count::MIN)
}

/// A cross that is chosen is the one that was just made.
fn follow(chosen: RwSignal<Symbol>, made: RwSignal<Cross>) {
    if let Symbol::Cross(Cross { lean, .. }) = chosen.get_untracked() {
        chosen.set(Symbol::Cross(Cross {
            lean,
            ..made.get_untracked()
        }));
    }
}

/// What can be done with a whole round.
#[component]
fn RoundDesk(desk: Desk, chart: Memo<Cells>, at_hand: RwSignal<usize>) -> impl IntoView {
    let at = move || at_hand.get().min(chart.read().height() - 1);
    let act = move |text: &'static str, act: fn(&mut Cells, usize)| {
        let act = Callback::new(move |()| {
            let at = at();
            desk.form.update(|form| act(&mut form.chart, at));
        });
        button("button", text, None, act)
    };
    let reason = move || {
        let row = chart.read().row(at())?;
        let wrong = row.check(at() + 1).err()?;
        // The first round that is wrong is said above already.
        let wrong = Wrong::from(wrong);
        if desk.said_of(FormPlace::Motif).as_ref() == Some(&wrong) {
            return None;
        }
        let ProblemText { message, help } = wrong.text(desk.wording());
        Some(paragraph("error", format!("{message} {help}")))
    };
    view! {
        <fieldset class="choice-group">
            <legend>{move || text::round(at())}</legend>
            <div class="said" aria-live="polite">
                {reason}
            </div>
            <div class="buttons">
                {act(text::COPY, |chart, at| chart.copy_after(at, 1))}
                {act(text::COPY_TWO, |chart, at| chart.copy_after(at, 2))}
                {act(text::CLEAR, Cells::clear)} {act(text::TAKE_OUT_ROUND, Cells::take_out)}
            </div>
        </fieldset>
    }
    .into_any()
}
