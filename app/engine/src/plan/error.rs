//! Why there is no plan, or why a stored one cannot be knitted.
//!
//! What a knitter can mend is a field with a problem; what only Evenloop can mend is a [`PlanBug`].

use std::fmt;

use super::section_kind::SectionKind;
use crate::error::FieldError;
use crate::knit::Refusal;

/// Why a sock could not be planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlanError {
    /// There is no such sock: the fields that say so, at least one.
    Impossible(Vec<FieldError>),
    /// A section wrote what cannot be knitted. No choice of the knitter's is wrong.
    Bug(PlanBug),
}

impl PlanError {
    /// The fields that make the sock impossible; none where Evenloop is mistaken.
    pub fn fields(&self) -> &[FieldError] {
        match self {
            Self::Impossible(fields) => fields,
            Self::Bug(_) => &[],
        }
    }
}

impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Impossible(fields) => {
                let fields: Vec<&str> = fields.iter().map(|error| &*error.field).collect();
                write!(f, "no sock has these: {}", fields.join(", "))
            }
            Self::Bug(bug) => bug.fmt(f),
        }
    }
}

impl std::error::Error for PlanError {}

impl From<Vec<FieldError>> for PlanError {
    fn from(fields: Vec<FieldError>) -> Self {
        Self::Impossible(fields)
    }
}

impl From<FieldError> for PlanError {
    fn from(field: FieldError) -> Self {
        Self::Impossible(vec![field])
    }
}

impl From<PlanBug> for PlanError {
    fn from(bug: PlanBug) -> Self {
        Self::Bug(bug)
    }
}

/// A mistake of Evenloop's own: the simulator refused a step that a section wrote.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PlanBug {
    /// The section that wrote it.
    pub section: SectionKind,
    /// Index of the step in the section.
    pub step: usize,
    /// Why it was refused.
    pub refusal: Refusal,
}

impl fmt::Display for PlanBug {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (section, step) = (self.section.key(), self.step + 1);
        write!(f, "{section}, step {step}: {}", self.refusal)
    }
}

impl std::error::Error for PlanBug {}

/// A plan the simulator refuses: which step, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unknittable {
    /// Index of the section.
    pub section: usize,
    /// Which part of the sock it is.
    pub kind: SectionKind,
    /// Index of the step in the section.
    pub step: usize,
    /// Index of the move in the step.
    pub mv: usize,
    /// Why.
    pub why: Refusal,
}

impl fmt::Display for Unknittable {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
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

/// A plan made a moment ago that cannot be knitted is a mistake too.
impl From<Unknittable> for PlanBug {
    fn from(why: Unknittable) -> Self {
        Self {
            section: why.kind,
            step: why.step,
            refusal: why.why,
        }
    }
}
