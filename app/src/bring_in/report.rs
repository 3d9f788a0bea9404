//! What is said of a file that is brought in, and where it is told.

use std::sync::Arc;

use leptos::prelude::*;

use crate::parts::Tone;

/// What is said of a file that was brought in or saved.
#[derive(Clone)]
pub enum FileReport {
    /// How much it matters, and each sentence.
    Lines(Tone, Vec<String>),
    /// What bringing it in would do, with buttons.
    Asked(Arc<dyn Fn() -> AnyView + Send + Sync>),
}

impl FileReport {
    /// One sentence.
    pub fn line(tone: Tone, line: &str) -> Self {
        Self::Lines(tone, vec![line.to_owned()])
    }
}

/// Shows what came of a file. Not tied to the button, which may be gone by then.
pub(super) type Tell = Arc<dyn Fn(FileReport) + Send + Sync>;
