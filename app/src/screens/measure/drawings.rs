//! Small line drawings that say what a choice means. None carries a meaning that the words beside it do
//! not.

use leptos::prelude::*;

use crate::text::measure as text;

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
