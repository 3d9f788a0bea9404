//! Two at a time, as far as it is told: whose turn it is and why, what the second sock does where it
//! is not the same, what comes after a change of socks.

use evenloop_engine::needles::Needles;
use evenloop_engine::plan::Form;
use evenloop_engine::together::{Fit, Sock, Turn, fit};
use evenloop_engine::trace::Position;
use evenloop_engine::words::{self, Instructions, Style};

use super::copy;
use super::session::Session;

/// Whose turn it is and in which order; nothing where socks are knitted one after the other.
pub(super) fn said(session: Session) -> Option<String> {
    let turn = session.turn()?;
    let sock = turn.sock();
    let other = session.with_sock(sock.other(), |pair| {
        words::place(pair.plan, pair.trace, pair.journal.position())
    });
    session.with_sock(sock, |pair| {
        let step = pair.plan.step(pair.journal.position().step);
        let form = step.map_or(Form::Walk, |step| step.form);
        Some(copy::turn(turn, form, &other))
    })
}

/// What the second sock does in a round of both, where it is not what the first one does.
pub(super) fn beside(session: Session, style: Style) -> Option<Instructions> {
    if session.turn()? != Turn::Both {
        return None;
    }
    let of = |sock| {
        session.with_sock(sock, |pair| {
            words::instructions(pair.plan, pair.trace, pair.journal.position(), style)
        })
    };
    let [first, second] = Sock::BOTH.map(of);
    second.filter(|second| first.is_none_or(|first| first.lines != second.lines))
}

/// What of the second sock is on the needles, while a touch counts for both.
pub(super) fn second_needles(session: Session) -> Option<Needles> {
    if session.turn()? != Turn::Both {
        return None;
    }
    session.with_sock(Sock::Second, |pair| {
        pair.trace.needles_at(pair.journal.position()).cloned()
    })
}

/// What comes next, where it is another sock's turn then; its place.
pub(super) fn changes_to(session: Session) -> Option<(Turn, Position)> {
    let now = session.turn()?;
    session
        .turn_after()
        .filter(|(then, _)| then.socks() != now.socks())
}

/// Whether it is the moment to offer two at a time: nothing is cast on, and the needles would hold
/// both.
pub(super) fn is_offered(session: Session) -> bool {
    !session.is_together()
        && !session.can_undo()
        && session.sock() == Sock::First
        && session.with(|pair| fit(pair.plan) != Fit::OneSock)
}
