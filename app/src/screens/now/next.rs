//! What comes next, in one line: as it is worked and, where that takes more than a line and what is to be knitted
//! now needs the room, by its name.

use evenloop_engine::plan::StepForm;
use evenloop_engine::text as engine_text;
use evenloop_engine::text::{Instructions, Wording};
use leptos::prelude::*;

use super::turn;
use crate::in_hand::Session;
use crate::text;

/// About how many letters fit on one line of a phone.
const ONE_LINE: usize = 44;

/// What comes next.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Next {
    /// As it is worked.
    whole: String,
    /// By its name; nothing where the whole is hardly longer.
    brief: Option<String>,
}

impl Next {
    fn short(whole: impl Into<String>) -> Self {
        Self {
            whole: whole.into(),
            brief: None,
        }
    }

    fn named(whole: String, brief: impl FnOnce() -> String) -> Self {
        let long = whole.chars().count() > ONE_LINE;
        Self {
            whole,
            brief: long.then(brief),
        }
    }

    /// As it is worked.
    pub(super) fn whole(&self) -> &str {
        &self.whole
    }

    /// Both; the style sheet shows the one that has room.
    pub(super) fn shown(self) -> impl IntoView {
        let class = if self.brief.is_some() { "whole" } else { "" };
        view! {
            <b class=class>{self.whole}</b>
            {self.brief.map(|brief| view! { <b class="brief">{brief}</b> })}
        }
        .into_any()
    }
}

/// What comes next.
pub(super) fn next(session: Session, style: Wording) -> Next {
    let at = session.at();
    if let Some((then, place)) = turn::changes_to(session) {
        return session.with_sock(then.sock(), |pair| {
            let now = engine_text::instructions(pair.plan, pair.trace, place, style);
            let whole = now.as_ref().map(Instructions::one_line).unwrap_or_default();
            Next::named(text::now::on_sock(then, &whole), || {
                text::now::on_sock(then, &now.map(name).unwrap_or_default())
            })
        });
    }
    session.with(|pair| {
        let then = pair.trace.advance(at);
        let (here, there) = (
            pair.trace.steps.get(at.step),
            pair.trace.steps.get(then.step),
        );
        let now = || engine_text::instructions(pair.plan, pair.trace, then, style);
        let (Some(here), Some(there)) = (here, there) else {
            return Next::short(text::now::NEXT_NOTHING);
        };
        if here.section != there.section {
            let section = engine_text::section_name(there.kind, style.english);
            let whole = now().map(|now| now.one_line()).unwrap_or_default();
            return Next::named(text::now::next_section(section, &whole), || {
                section.to_owned()
            });
        }
        if let (Some((step, a)), Some((_, b))) = (pair.plan.move_at(at), pair.plan.move_at(then))
            && a == b
            && step.form != StepForm::Walk
        {
            return Next::short(text::now::next_same(step.form));
        }
        let now = now();
        let whole = now.as_ref().map(Instructions::one_line).unwrap_or_default();
        Next::named(whole, || now.map(name).unwrap_or_default())
    })
}

/// What a round or a move is called.
fn name(now: Instructions) -> String {
    text::now::next_in_brief(&now.heading, now.shape)
}
