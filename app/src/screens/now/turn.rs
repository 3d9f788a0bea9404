//! What is said of two at a time: whose turn it is and why, what the second sock does where it
//! is not the same, what comes after a change of socks.

use evenloop_engine::needles::{Facing, Needles};
use evenloop_engine::plan::StepForm;
use evenloop_engine::text as engine_text;
use evenloop_engine::text::{Instructions, Wording};
use evenloop_engine::together::{PairFit, Sock, WhoseTurn, fit};
use evenloop_engine::trace::Position;
use evenloop_engine::within_round::WithinRound;

use super::practice;
use crate::in_hand::Session;
use crate::text;

/// Whose turn it is and in which order; nothing where socks are knitted one after the other.
pub(super) fn said(session: Session, wording: Wording) -> Option<String> {
    let turn = session.turn()?;
    let sock = turn.sock();
    let other = session.with_sock(sock.other(), |pair| {
        let at = pair.journal.position();
        engine_text::place(pair.plan, pair.trace, at, wording.english)
    });
    session.with_sock(sock, |pair| {
        let step = pair.plan.step(pair.journal.position().step);
        let form = step.map_or(StepForm::Walk, |step| step.form);
        Some(text::now::turn(turn, form, &other, wording.english))
    })
}

/// In which order two socks come on a needle. Worked round and round, the second needle is come to from its
/// other end; a row back begins with the sock at which the row there ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Order {
    /// A round, or a row with the right side facing.
    There,
    /// A row with the wrong side facing.
    Back,
}

impl Order {
    /// Whether the second sock comes first on a needle, counted from 0.
    pub(super) const fn second_is_first(self, needle: usize) -> bool {
        match self {
            Self::There => needle % 2 == 1,
            Self::Back => true,
        }
    }
}

/// The order of two socks that are worked with one touch; nothing where one is worked.
pub(super) fn order_on_needle(session: Session) -> Option<Order> {
    if session.turn()? != WhoseTurn::Both {
        return None;
    }
    let at = session.at();
    let back = session.with(|pair| {
        let step = pair.plan.step(at.step);
        step.is_some_and(|step| step.form == StepForm::Row(Facing::WrongSide))
    });
    Some(if back { Order::Back } else { Order::There })
}

/// How things are said while both socks hang on the needles: a sock ends before its needle does.
pub(super) fn wording(session: Session, style: Wording) -> Wording {
    Wording {
        two_socks: is_shared(session),
        ..style
    }
}

/// What the second sock does in a round of both, where it is not what the first one does.
pub(super) fn beside(session: Session, style: Wording) -> Option<Instructions> {
    if session.turn()? != WhoseTurn::Both {
        return None;
    }
    let style = wording(session, style);
    let of = |sock| {
        session.with_sock(sock, |pair| {
            engine_text::instructions(pair.plan, pair.trace, pair.journal.position(), style)
        })
    };
    let [first, second] = Sock::BOTH.map(of);
    second.filter(|second| first.is_none_or(|first| first.lines != second.lines))
}

/// What of the second sock is on the needles, while a touch counts for both.
pub(super) fn second_needles(session: Session) -> Option<Needles> {
    if session.turn()? != WhoseTurn::Both {
        return None;
    }
    session.with_sock(Sock::Second, |pair| {
        let needles = usize::from(pair.journal.needles());
        let at = pair.journal.position();
        let place = WithinRound { at, needles };
        pair.trace.needles_within(place).cloned()
    })
}

/// Whether the other sock has stitches on the needles, too.
pub(super) fn is_shared(session: Session) -> bool {
    session.turn().is_some_and(|turn| {
        session.with_sock(turn.sock().other(), |pair| {
            let needles = pair.trace.needles_at(pair.journal.position());
            needles.is_some_and(|needles| needles.stitches() > 0)
        })
    })
}

/// What comes next, where it is another sock's turn then; its place.
pub(super) fn changes_to(session: Session) -> Option<(WhoseTurn, Position)> {
    let now = session.turn()?;
    session
        .turn_after()
        .filter(|(then, _)| then.socks() != now.socks())
}

/// Whether what is to be done is the round or row that was done before it in the same section, by every
/// sock whose turn it is.
pub(super) fn is_the_same_again(session: Session) -> bool {
    let turn = session.turn();
    let turn = turn.unwrap_or_else(|| WhoseTurn::InTurn(session.sock()));
    turn.socks().iter().all(|sock| {
        session.with_sock(*sock, |pair| {
            let at = pair.journal.position();
            let steps = &pair.trace.steps;
            let Some(before) = at.step.checked_sub(1) else {
                return false;
            };
            let section = |step: usize| steps.get(step).map(|seen| seen.section);
            let (here, earlier) = (pair.plan.step(at.step), pair.plan.step(before));
            let round = here.is_some_and(|step| step.form != StepForm::Walk);
            round && here == earlier && section(at.step) == section(before)
        })
    })
}

/// Whether it is the moment to offer two at a time: nothing is cast on, the needles would hold both, and it is not
/// the tiny sock to try things out.
pub(super) fn is_offered(session: Session) -> bool {
    !session.is_together()
        && !session.can_undo()
        && session.sock() == Sock::First
        && !practice::is_in_hand(session)
        && session.with(|pair| fit(pair.plan) != PairFit::OneSock)
}
