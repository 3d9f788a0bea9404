//! What is wrong with the form: what the engine finds in it, and lines that cannot be read. And what
//! is wrong with Evenloop, where it planned what cannot be knitted. Data until it is shown.

use evenloop_engine::error::{FieldError, Problem};
use evenloop_engine::plan::{PlanBug, PlanError};
use evenloop_engine::recipe::{NumberField, Unit};
use evenloop_engine::text::{self, ProblemText, Typed, Wording};
use evenloop_engine::units::NotALength;

use super::fields::{FormPlace, line};
use crate::text::{Sentence, measure, mistake};

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Wrong {
    /// Where in the form, if it stands there.
    pub(super) field: Option<FormPlace>,
    what: What,
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum What {
    /// Found by the engine.
    Found(Problem),
    /// A line may not stay empty.
    Empty(NumberField),
    /// A line cannot be read: what was typed, and what is expected.
    Unread(Typed, ExpectedEntry),
    /// Nothing is wrong with the form, but with what was planned from it.
    Mistake(PlanBug),
}

/// What is expected of a line that cannot be read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum ExpectedEntry {
    /// A length.
    Length(NotALength),
    /// A whole number.
    Whole(Unit),
    /// A smaller number.
    Smaller,
}

impl Wrong {
    /// A line that may not stay empty.
    pub(super) const fn empty(field: NumberField) -> Self {
        Self {
            field: Some(FormPlace::Number(field)),
            what: What::Empty(field),
        }
    }

    /// A line that cannot be read.
    pub(super) fn unread(field: NumberField, typed: &str, expected: ExpectedEntry) -> Self {
        // Whatever was pasted in, the sentence stays a sentence.
        let short: String = typed.trim().chars().take(20).collect();
        Self {
            field: Some(FormPlace::Number(field)),
            what: What::Unread(Typed::new(short), expected),
        }
    }

    /// What is said about it.
    pub(super) fn text(&self, wording: Wording) -> ProblemText {
        match &self.what {
            What::Found(problem) => text::problem(problem, wording),
            What::Empty(field) => {
                let help = line(*field).map_or(Sentence::Fixed(""), |line| line.text.empty);
                measure::empty(help, wording)
            }
            What::Unread(typed, expected) => {
                let expected = match expected {
                    ExpectedEntry::Length(why) => text::length_expected(*why).to_owned(),
                    ExpectedEntry::Whole(unit) => measure::whole_number(*unit, wording),
                    ExpectedEntry::Smaller => measure::SMALLER.to_owned(),
                };
                measure::unreadable(typed, &expected)
            }
            What::Mistake(bug) => ProblemText {
                message: mistake::mistake(bug),
                help: String::new(),
            },
        }
    }

    /// Whether a line is only still empty.
    pub(super) const fn is_empty(&self) -> bool {
        matches!(self.what, What::Empty(_))
    }

    /// Whether it is Evenloop's own, and nothing the knitter could mend.
    pub(super) const fn is_mistake(&self) -> bool {
        matches!(self.what, What::Mistake(_))
    }
}

impl From<FieldError> for Wrong {
    fn from(error: FieldError) -> Self {
        Self {
            field: FormPlace::at(&error.field),
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
            field: None,
            what: What::Mistake(bug),
        }],
    }
}

#[cfg(test)]
mod tests {
    use evenloop_engine::knit::Refusal;
    use evenloop_engine::plan::SectionKind;

    use super::*;

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
        assert_eq!(wrong[0].field, None);
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
        assert_eq!(wrong[0].field, FormPlace::at("heel.rows"));
    }
}
