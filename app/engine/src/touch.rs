//! What a touch of the pad and a touch of Undo add to the logs of a pair: which sock's, and which event.
//!
//! May use logs, plans and whose turn it is; stores nothing and knows no clock.

use crate::journal::{Event, Seconds};
use crate::together::{OnNeedles, Sock, WhoseTurn, is_together, turn};
use crate::within_round::needles_of_round;

/// What one touch of the pad counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TouchCounts {
    /// A round, a row or a move.
    #[default]
    Round,
    /// A needle, where a round is worked on several; else the same.
    Needle,
}

impl TouchCounts {
    /// Whether a needle is counted, as it is stored.
    pub const fn of(by_needle: bool) -> Self {
        if by_needle { Self::Needle } else { Self::Round }
    }
}

/// What a touch of the pad adds. `looked_at` is the sock that is worked where both are not knitted two at a time.
/// Nothing where there is nothing left to do.
pub fn touched(
    pair: [OnNeedles<'_>; 2],
    looked_at: Sock,
    counts: TouchCounts,
    now: Seconds,
) -> Vec<(Sock, Event)> {
    let together = is_together(pair);
    let socks = if together {
        turn(pair).map_or(&[][..], WhoseTurn::socks)
    } else {
        let sock = pair[looked_at.index()];
        if sock.journal.position() == sock.trace.end() {
            return Vec::new();
        }
        WhoseTurn::InTurn(looked_at).socks()
    };
    let needle = match counts {
        TouchCounts::Round => None,
        TouchCounts::Needle => needle_at_hand(pair, socks).filter(|(nth, of)| nth < of),
    };
    let event = |sock: Sock| match needle {
        Some((nth, _)) => {
            let at = pair[sock.index()].journal.position();
            Event::Needles(now, at, u8::try_from(nth).unwrap_or(u8::MAX))
        }
        None => Event::Done(now),
    };
    socks.iter().map(|sock| (*sock, event(*sock))).collect()
}

/// Which needle of the round these socks work next, counted from 1, and of how many; `None` where the round is
/// not worked needle by needle, or not alike by both.
pub fn needle_at_hand(pair: [OnNeedles<'_>; 2], socks: &[Sock]) -> Option<(usize, usize)> {
    let mut needles = socks.iter().map(|sock| {
        let sock = pair[sock.index()];
        let many = needles_of_round(sock.plan, sock.trace, sock.journal.position());
        (usize::from(sock.journal.needles()), many)
    });
    let (mut worked, many) = needles.next()?;
    for (other, others) in needles {
        if others != many {
            return None;
        }
        worked = worked.min(other);
    }
    (many > 1).then_some(((worked + 1).min(many), many))
}

/// What Undo adds to the logs of these socks, each of which takes back what moved it last.
pub fn taken_back(pair: [OnNeedles<'_>; 2], socks: &[Sock], now: Seconds) -> Vec<(Sock, Event)> {
    let mut events = Vec::new();
    for sock in socks {
        for event in pair[sock.index()].journal.undo(now) {
            events.push((*sock, event));
        }
    }
    events
}
