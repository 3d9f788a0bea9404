//! Work that takes longer than a touch or a letter may wait, done in slices: between two of them the browser answers
//! whatever has come.
//!
//! May talk to the browser; must not know any screen.

use std::time::Duration;

use leptos::prelude::*;

/// The most milliseconds of one slice, but for the one thing that is done last in it: on a phone four times slower than
/// a desk computer a frame still has room beside it.
const SLICE: f64 = 8.0;

/// Does one thing after the other until `go_on` says that nothing is left. It is asked again in a later slice, when the
/// screen may have been left.
pub fn in_slices(mut go_on: impl FnMut() -> bool + 'static) {
    set_timeout(
        move || {
            let end = now() + SLICE;
            while go_on() {
                if now() >= end {
                    return in_slices(go_on);
                }
            }
        },
        Duration::ZERO,
    );
}

/// Milliseconds since the page was opened.
fn now() -> f64 {
    window().performance().map_or(0.0, |clock| clock.now())
}
