//! Why there is no plan, or why a stored one cannot be knitted.

use crate::knit::Refusal;

/// A plan the simulator refuses: which step, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unknittable {
    /// Index of the section.
    pub section: usize,
    /// Index of the step in the section.
    pub step: usize,
    /// Index of the move in the step.
    pub mv: usize,
    /// Why.
    pub why: Refusal,
}

impl std::fmt::Display for Unknittable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "section {}, step {}, move {}: {}",
            self.section + 1,
            self.step + 1,
            self.mv + 1,
            self.why
        )
    }
}

impl std::error::Error for Unknittable {}
