//! The foot and the leg drawn with what is measured on them. None carries a meaning that the words beside
//! it do not.

use evenloop_engine::units::Length;
use leptos::prelude::*;

use crate::screens::measure::desk::Desk;
use crate::tenths::tenths;
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
                let [left, right, beside] = [100.0 - x, 100.0 + x, 112.0 + x].map(tenths);
                let (under, y) = (tenths(y + 6.0), tenths(*y));
                view! {
                    <path class="measure" d=format!("M{left} {y}H{right}")></path>
                    <text x=beside.text() y=under.text()>
                        {(place + 1).to_string()}
                    </text>
                }
            })
            .collect_view();
        let drawing = view! {
            <svg class="leg-drawing" viewBox="0 0 200 220" role="img" aria-label=label>
                <path class="skin" d=shape.outline></path>
                <path class="top" d=format!("M20 {}H180", tenths(shape.top))></path>
                {places}
            </svg>
        };
        Some(drawing)
    };
    drawing.into_any()
}

/// A length in centimetres, as exactly as a drawing needs it.
fn cm(length: Length) -> f32 {
    #[allow(clippy::cast_possible_truncation)] // a tenth of a millimetre is far more than it has
    let cm = length.as_cm() as f32;
    cm
}

/// The leg on paper: a field of 200 by 220, the heel at the bottom.
struct LegShape {
    outline: String,
    top: f32,
    /// Half width and height on paper of each place.
    places: Vec<(f32, f32)>,
}

impl LegShape {
    fn of(foot: Length, leg: Option<Length>, girths: &[(u8, Length, Length)]) -> Self {
        let heights = girths.iter().map(|(_, height, _)| *height).chain(leg);
        let tallest = cm(heights.max().unwrap_or_default()).max(1.0);
        let widest = girths.iter().map(|(_, _, round)| *round).max();
        let widest = cm(widest.unwrap_or_default().max(foot)) / std::f32::consts::PI;
        let scale = (200.0 / tallest).min(150.0 / widest.max(1.0));
        let half = |round: Length| cm(round) / std::f32::consts::PI / 2.0 * scale;
        let up = |height: Length| 212.0 - cm(height) * scale;
        let places: Vec<(f32, f32)> = girths
            .iter()
            .map(|(_, height, round)| (half(*round), up(*height)))
            .collect();
        let side = || std::iter::once((half(foot), 212.0)).chain(places.iter().copied());
        let left: Vec<String> = side()
            .map(|(x, y)| format!("{} {}", tenths(100.0 - x), tenths(y)))
            .collect();
        let right: Vec<String> = side()
            .map(|(x, y)| format!("{} {}", tenths(100.0 + x), tenths(y)))
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
