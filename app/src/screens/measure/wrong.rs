//! What is wrong with the form: what the engine finds in it, and lines that cannot be read. And what
//! is wrong with Evenloop, where it planned what cannot be knitted.

use std::borrow::Cow;

use evenloop_engine::error::{FieldError, Problem};
use evenloop_engine::plan::{PlanBug, PlanError};
use evenloop_engine::text::{self, ProblemText, Wording};

use crate::text::mistake;

/// One thing wrong with one line or choice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Wrong {
    /// Dotted path of the field in the recipe.
    pub(super) field: Cow<'static, str>,
    what: What,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum What {
    /// Found by the engine.
    Found(Problem),
    /// A line could not be read.
    Unread(ProblemText),
    /// Nothing is wrong with the form, but with what was planned from it.
    Mistake(PlanBug),
}

impl Wrong {
    /// A line that cannot be read.
    pub(super) fn unread(
        field: impl Into<Cow<'static, str>>,
        (message, help): (String, String),
    ) -> Self {
        Self {
            field: field.into(),
            what: What::Unread(ProblemText { message, help }),
        }
    }

    /// What is said about it.
    pub(super) fn text(&self, wording: Wording) -> ProblemText {
        match &self.what {
            What::Found(problem) => text::problem(problem, wording),
            What::Unread(text) => text.clone(),
            What::Mistake(bug) => ProblemText {
                message: mistake::mistake(bug),
                help: String::new(),
            },
        }
    }

    /// Whether it is Evenloop's own, and nothing the knitter could mend.
    pub(super) const fn is_mistake(&self) -> bool {
        matches!(self.what, What::Mistake(_))
    }
}

impl From<FieldError> for Wrong {
    fn from(error: FieldError) -> Self {
        Self {
            field: error.field,
            what: What::Found(error.problem),
        }
    }
}

/// Why the engine makes no plan.
pub(super) fn found(error: PlanError) -> Vec<Wrong> {
    match error {
        PlanError::Impossible(fields) => fields.into_iter().map(Wrong::from).collect(),
        PlanError::Bug(bug) => vec![Wrong {
            // of no line
            field: Cow::Borrowed(""),
            what: What::Mistake(bug),
        }],
    }
}

#[cfg(test)]
mod tests {
    use evenloop_engine::knit::Refusal;
    use evenloop_engine::plan::SectionKind;

    use super::*;
    use crate::screens::measure::entry::Spot;

    #[test]
    fn a_mistake_in_planning_is_no_advice() {
        let bug = PlanBug {
            section: SectionKind::HeelTurn,
            step: 2,
            refusal: Refusal::GapInTheWay,
        };
        let wrong = found(bug.into());
        assert_eq!(wrong.len(), 1);
        assert!(wrong[0].is_mistake());
        assert_eq!(Spot::of_field(&wrong[0].field), None);
        let said = wrong[0].text(Wording::default());
        assert_eq!(said.message, mistake::mistake(&bug));
        assert!(said.message.contains("(heel-turn, 3)"), "{}", said.message);
        assert_eq!(said.help, "");
    }

    #[test]
    fn what_the_knitter_can_mend_is_no_mistake() {
        let error = FieldError::new("heel.rows", Problem::FlapRowsOdd { rows: 31 });
        let wrong = found(error.into());
        assert!(wrong.iter().all(|wrong| !wrong.is_mistake()));
        assert_eq!(wrong[0].field, "heel.rows");
    }
}
