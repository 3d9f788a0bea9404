//! What was noted and weighed on the way, and where the first sock went another way than planned:
//! told beside the rounds it belongs to.

use evenloop_engine::journal::{Journal, Remark};
use evenloop_engine::text as engine_text;
use evenloop_engine::text::{Typed, Wording};
use evenloop_engine::together::WhoseTurn;
use evenloop_engine::trace::Position;

use super::session::{Session, SockInHand};
use crate::text;

/// Everything there is to tell at a place: of this sock, and while the second one is on the needles,
/// of the first.
pub(crate) fn remarks_at(session: Session, place: Position, wording: Wording) -> Vec<String> {
    if let Some(turn) = session.turn() {
        return of_both(session, turn);
    }
    session.with(|pair| {
        let own = pair.journal.remark_at(place);
        let own = own.map(|remark| text::now::noted_here(&contents(remark)));
        own.into_iter()
            .chain(of_the_first(pair, place, wording))
            .collect()
    })
}

/// What was noted and weighed, as it stands.
fn contents(remark: &Remark) -> String {
    let note = (!remark.note.is_empty()).then(|| text::now::note(&Typed::new(&*remark.note)));
    let weights = remark
        .weights()
        .map(|(yarn, grams)| text::now::weighed(&engine_text::grams(grams), yarn));
    text::now::noted(&note.into_iter().chain(weights).collect::<Vec<_>>())
}

/// What was noted at the place of each sock that is worked now.
fn of_both(session: Session, turn: WhoseTurn) -> Vec<String> {
    let noted = turn.socks().iter().filter_map(|sock| {
        session.with_sock(*sock, |pair| {
            let remark = pair.journal.remark_at(pair.journal.position())?;
            Some(text::now::noted_here_on(*sock, &contents(remark)))
        })
    });
    noted.collect()
}

fn of_the_first(pair: SockInHand<'_>, place: Position, wording: Wording) -> Vec<String> {
    let Some((pattern, journal)) = pair.first else {
        return Vec::new();
    };
    let Some(there) = pattern.trace.counterpart(pair.trace, place) else {
        return Vec::new();
    };
    let noted = journal.remark_at(there);
    let noted = noted.map(|remark| text::now::noted_here_on_first(&contents(remark)));
    let jumps = journal.jumps(&pattern.trace);
    let went = jumps
        .iter()
        .filter(|jump| jump.from == there)
        .map(|jump| engine_text::jump(&pattern.plan, &pattern.trace, *jump, wording.english))
        .map(|jump| text::now::first_went(&jump));
    noted.into_iter().chain(went).collect()
}

/// Remarks of some moves (step and move), each with the place it belongs to: of this sock, then of the first.
pub(super) fn along(
    pair: SockInHand<'_>,
    moves: &[(usize, usize)],
    wording: Wording,
) -> Vec<String> {
    let mut told = within(
        pair,
        pair.journal,
        moves,
        |remark| Some(remark.place),
        text::now::noted_at,
        wording,
    );
    if let Some((pattern, journal)) = pair.first {
        let here = |remark: &Remark| pair.trace.counterpart(&pattern.trace, remark.place);
        let tell = text::now::noted_on_first_at;
        told.extend(within(pair, journal, moves, here, tell, wording));
    }
    told
}

fn within(
    pair: SockInHand<'_>,
    journal: &Journal,
    moves: &[(usize, usize)],
    here: impl Fn(&Remark) -> Option<Position>,
    tell: fn(&str, &str) -> String,
    wording: Wording,
) -> Vec<String> {
    let told = journal.remarks().iter().filter_map(|remark| {
        let place = here(remark)?;
        let name = engine_text::place(pair.plan, pair.trace, place, wording.english);
        moves
            .contains(&(place.step, place.mv))
            .then(|| tell(&name, &contents(remark)))
    });
    told.collect()
}
