//! When something is done that may wait until the eye has its answer.
//!
//! May talk to the browser; must not know any screen.

use std::time::Duration;

use leptos::prelude::*;

/// Does something once the next frame is painted.
pub fn after_paint(then: impl FnOnce() + 'static) {
    request_animation_frame(move || set_timeout(then, Duration::ZERO));
}
