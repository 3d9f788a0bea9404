//! Small line drawings that say what a measure or a choice means. None carries a meaning that the
//! words beside it do not.

use evenloop_engine::units::Length;
use leptos::prelude::*;

use super::Desk;
use crate::text::measure as text;

/// The foot with its three measures.
#[component]
pub(super) fn FootDrawing() -> impl IntoView {
    view! {
        <svg class="foot-drawing" viewBox="0 0 320 170" role="img" aria-label=text::FOOT_DRAWING>
            <path
                class="skin"
                d="M64 10c2 26 0 44-8 62-9 20-12 36-6 50 4 10 14 14 28 14h182c16 0 26-8 26-20 0-13-10-20-26-24
                -38-8-70-22-92-44-12-12-16-24-16-38"
            ></path>
            <path class="toes" d="M266 136c7-3 10-9 9-16M246 136c5-3 8-8 8-14"></path>
            <g class="measure">
                <path d="M47 156h239M47 150v12M286 150v12"></path>
                <path class="round" d="M214 86c-9 12-11 32-6 50"></path>
                <path class="round" d="M56 134c20-18 56-54 84-86"></path>
            </g>
            <g class="letter">
                <text x="166" y="150">"A"</text>
                <text x="222" y="116">"B"</text>
                <text x="92" y="80">"C"</text>
            </g>
        </svg>
    }
}

/// The leg and the places at which it is measured round, to scale; the sock's top is dashed.
#[component]
pub(super) fn LegDrawing(desk: Desk) -> impl IntoView {
    let drawing = move || {
        let form = desk.form.read();
        let girths = form.girths_read();
        if girths.is_empty() {
            return None;
        }
        let label = text::calf_drawing(&girths, desk.wording());
        let shape = LegShape::of(form.foot_round(), form.leg_length(), &girths);
        let places = girths
            .iter()
            .zip(&shape.places)
            .map(|((place, ..), (x, y))| {
                let [left, right] = [100.0 - x, 100.0 + x];
                view! {
                    <path class="measure" d=format!("M{left:.1} {y:.1}H{right:.1}")></path>
                    <text x=format!("{:.1}", right + 12.0) y=format!("{:.1}", y + 6.0)>
                        {(place + 1).to_string()}
                    </text>
                }
            })
            .collect_view();
        let drawing = view! {
            <svg class="leg-drawing" viewBox="0 0 200 220" role="img" aria-label=label>
                <path class="skin" d=shape.outline></path>
                <path class="top" d=format!("M20 {:.1}H180", shape.top)></path>
                {places}
            </svg>
        };
        Some(drawing)
    };
    drawing.into_any()
}

/// The leg on paper: a field of 200 by 220, the heel at the bottom.
struct LegShape {
    outline: String,
    top: f64,
    /// Half width and height on paper of each place.
    places: Vec<(f64, f64)>,
}

impl LegShape {
    fn of(foot: Length, leg: Option<Length>, girths: &[(u8, Length, Length)]) -> Self {
        let heights = girths.iter().map(|(_, height, _)| *height).chain(leg);
        let tallest = heights.max().unwrap_or_default().as_cm().max(1.0);
        let widest = girths.iter().map(|(_, _, round)| *round).max();
        let widest = widest.unwrap_or_default().max(foot).as_cm() / std::f64::consts::PI;
        let scale = (200.0 / tallest).min(150.0 / widest.max(1.0));
        let half = |round: Length| round.as_cm() / std::f64::consts::PI / 2.0 * scale;
        let up = |height: Length| 212.0 - height.as_cm() * scale;
        let places: Vec<(f64, f64)> = girths
            .iter()
            .map(|(_, height, round)| (half(*round), up(*height)))
            .collect();
        let side = || std::iter::once((half(foot), 212.0)).chain(places.iter().copied());
        let left: Vec<String> = side()
            .map(|(x, y)| format!("{:.1} {y:.1}", 100.0 - x))
            .collect();
        let right: Vec<String> = side()
            .map(|(x, y)| format!("{:.1} {y:.1}", 100.0 + x))
            .collect();
        let right: Vec<String> = right.into_iter().rev().collect();
        let outline = format!("M{}L{}", left.join("L"), right.join("L"));
        Self {
            outline,
            top: up(leg.unwrap_or_default()),
            places,
        }
    }
}

fn small(wide: &'static str, parts: AnyView) -> AnyView {
    view! {
        <svg class="small-drawing" viewBox=wide aria-hidden="true" focusable="false">
            {parts}
        </svg>
    }
    .into_any()
}

/// One cable, pulled out to a loop.
pub(super) fn magic_loop() -> AnyView {
    let parts = view! {
        <path class="cable" d="M78 14c30-14 34 34 0 22M20 14C0 14 0 36 20 36"></path>
        <path class="needle" d="M16 14h66M16 36h66"></path>
        <path class="loops" d="M28 9v10M36 9v10M44 9v10M52 9v10M60 9v10M28 31v10M36 31v10M44 31v10M52 31v10M60 31v10"></path>
    };
    small("0 0 110 50", parts.into_any())
}

/// Two circulars, end by end.
pub(super) fn two_circulars() -> AnyView {
    let parts = view! {
        <path class="cable" d="M26 14C-4 2 4 26 26 18M84 14c30-12 22 12 0 4M26 36C-4 48 4 24 26 32M84 36c30 12 22-12 0-4"></path>
        <path class="needle" d="M22 16h66M22 34h66"></path>
        <path class="loops" d="M34 11v10M42 11v10M50 11v10M58 11v10M66 11v10M34 29v10M42 29v10M50 29v10M58 29v10M66 29v10"></path>
    };
    small("0 0 110 50", parts.into_any())
}

/// Three in a triangle, one free.
pub(super) fn four_dpns() -> AnyView {
    let parts = view! {
        <path class="needle" d="M14 42h60M18 47 46 3M70 47 42 3"></path>
        <path class="needle free" d="M84 46 100 6"></path>
    };
    small("0 0 110 50", parts.into_any())
}

/// Four in a square, one free.
pub(super) fn five_dpns() -> AnyView {
    let parts = view! {
        <path class="needle" d="M16 9h56M16 41h56M22 3v44M66 3v44"></path>
        <path class="needle free" d="M84 46 100 6"></path>
    };
    small("0 0 110 50", parts.into_any())
}

/// A ring.
pub(super) fn short_circular() -> AnyView {
    let parts = view! {
        <path class="cable" d="M36 40C10 30 20 5 55 5s45 25 19 35"></path>
        <path class="needle" d="M34 39l26 6M76 39l-22 3"></path>
        <path class="loops" d="M27 14l7 6M40 4l3 9M55 0v10M70 4l-3 9M83 14l-7 6"></path>
    };
    small("0 0 110 50", parts.into_any())
}

fn seating(cut: &'static str, first: &'static str, second: &'static str) -> AnyView {
    let parts = view! {
        <path class="half one" d=first></path>
        <path class="half two" d=second></path>
        <path class="cut" d=cut></path>
        <text x="60" y="22">{text::INSTEP}</text>
        <text x="60" y="67">{text::SOLE}</text>
    };
    small("0 0 120 80", parts.into_any())
}

/// A foot seen from the toe, divided from top to bottom.
pub(super) fn even_halves() -> AnyView {
    seating(
        "M60 0v8M60 72v8",
        "M57 8C20 8 10 24 10 40s10 32 47 32",
        "M63 8c37 0 47 16 47 32s-10 32-47 32",
    )
}

/// A foot seen from the toe, divided from side to side.
pub(super) fn instep_and_sole() -> AnyView {
    seating(
        "M2 40h8M110 40h8",
        "M10 37C10 20 25 8 60 8s50 12 50 29",
        "M10 43c0 17 15 29 50 29s50-12 50-29",
    )
}
