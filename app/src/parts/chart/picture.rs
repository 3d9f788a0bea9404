//! A chart to look at, with one round lit; and the same on paper.

use std::fmt::Write as _;

use leptos::prelude::*;

use super::cells::Cells;
use super::symbol::SIDE;

/// The chart: rounds upward, stitches from right to left, both numbered.
#[component]
pub fn Chart(
    /// What stands in it.
    cells: Cells,
    /// What it is, for the ear.
    #[prop(into)]
    label: Signal<String>,
    /// The round that is worked, from 0.
    #[prop(into, default = Signal::stored(None))]
    lit: Signal<Option<usize>>,
) -> impl IntoView {
    let side = usize::from(SIDE);
    let (wide, high) = (cells.width() * side, cells.height() * side);
    let (all_wide, all_high) = (wide + side, high + side);
    let round = |nth: usize| {
        let top = high - (nth + 1) * side;
        let mut right = wide;
        let cells = cells.round(nth).iter().map(|symbol| {
            let span = symbol.span() * side;
            right -= span;
            view! {
                <g transform=format!("translate({right} {top})")>
                    <path class="chart-box" d=format!("M0 0h{span}v{side}H0z")></path>
                    <path d=symbol.path()></path>
                </g>
            }
        });
        let cells = cells.collect_view();
        view! {
            <g class:lit=move || lit.get() == Some(nth)>
                {cells} {number(nth + 1, wide + side / 2, top + side / 2)}
            </g>
        }
    };
    let rounds = (0..cells.height()).map(round).collect_view();
    let stitches = (0..cells.width())
        .map(|nth| number(nth + 1, wide - nth * side - side / 2, high + side / 2))
        .collect_view();
    view! {
        <svg
            class="chart-picture"
            viewBox=format!("0 0 {all_wide} {all_high}")
            width=all_wide.to_string()
            role="img"
            aria-label=move || label.get()
        >
            {rounds}
            {stitches}
        </svg>
    }
    .into_any()
}

/// The same as text, for documents that are not made of views.
pub fn chart_svg(cells: &Cells, label: &str) -> String {
    let side = usize::from(SIDE);
    let (wide, high) = (cells.width() * side, cells.height() * side);
    let mut svg = format!(
        "<svg class=\"chart-picture\" viewBox=\"0 0 {0} {1}\" width=\"{0}\" role=\"img\" aria-label=\"{label}\">",
        wide + side,
        high + side
    );
    let number =
        |number: usize, x: usize, y: usize| format!("<text x=\"{x}\" y=\"{y}\">{number}</text>");
    for nth in 0..cells.height() {
        let top = high - (nth + 1) * side;
        let mut right = wide;
        for symbol in cells.round(nth) {
            let span = symbol.span() * side;
            right -= span;
            // Writing into a String cannot fail, here and below.
            let _ = write!(
                svg,
                "<g transform=\"translate({right} {top})\"><path class=\"chart-box\" d=\"M0 0h{span}v{side}H0z\"/><path d=\"{}\"/></g>",
                symbol.path()
            );
        }
        svg.push_str(&number(nth + 1, wide + side / 2, top + side / 2));
    }
    for nth in 0..cells.width() {
        svg.push_str(&number(
            nth + 1,
            wide - nth * side - side / 2,
            high + side / 2,
        ));
    }
    svg + "</svg>"
}

fn number(number: usize, x: usize, y: usize) -> AnyView {
    view! {
        <text x=x.to_string() y=y.to_string()>
            {number.to_string()}
        </text>
    }
    .into_any()
}
