//! Two at a time: both socks of a pair on one long circular, or on the same two circulars, each with
//! its own ball. Whose turn is it, and which socks did the last touch move?
//!
//! Each sock keeps its own plan, trace and log; this room only reads them. The order is the trade's:
//! on needle 1 the first sock comes before the second, on needle 2 the second before the first, so
//! one round is front, front, turn, back, back. A round is counted for both with one touch, and so
//! is a row of a flap. Where a row turns in the middle or a walk rearranges stitches, one sock is
//! worked first and the other after it. A sock that is behind, however that came, catches up alone.
//!
//! Pure. Must not know what is stored, nor words.

use crate::journal::{Event, Journal};
use crate::plan::{Plan, SectionKind, StepForm};
use crate::recipe::{Direction, Method, Seating};
use crate::trace::{Position, Trace};

/// One of the two socks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sock {
    /// The first: nearest to the tips where a round begins.
    First,
    /// The second.
    Second,
}

impl Sock {
    /// Both of them.
    pub const BOTH: [Self; 2] = [Self::First, Self::Second];

    /// Its place in a list of both.
    pub const fn index(self) -> usize {
        match self {
            Self::First => 0,
            Self::Second => 1,
        }
    }

    /// The number it is stored under, 1 or 2.
    pub const fn number(self) -> u8 {
        match self {
            Self::First => 1,
            Self::Second => 2,
        }
    }

    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::First => Self::Second,
            Self::Second => Self::First,
        }
    }
}

/// What the next touch counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WhoseTurn {
    /// A round, or a row of the flap, of both socks.
    Both,
    /// This one alone: here they are worked one after the other.
    InTurn(Sock),
    /// This one alone: it is behind the other.
    CatchUp(Sock),
}

impl WhoseTurn {
    /// The socks that it moves, in order.
    pub const fn socks(self) -> &'static [Sock] {
        match self {
            Self::Both => &Sock::BOTH,
            Self::InTurn(Sock::First) | Self::CatchUp(Sock::First) => &[Sock::First],
            Self::InTurn(Sock::Second) | Self::CatchUp(Sock::Second) => &[Sock::Second],
        }
    }

    /// The one that is looked at: the first where both move.
    pub const fn sock(self) -> Sock {
        match self {
            Self::Both => Sock::First,
            Self::InTurn(sock) | Self::CatchUp(sock) => sock,
        }
    }
}

/// The needles a plan asks for, so far as two socks at a time are concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PairFit {
    /// Both socks fit on them as the plan stands.
    Fits,
    /// They would, with instep and sole on a needle each: half of one sock cannot be moved past the
    /// other to divide them in the middle.
    Seated(Method),
    /// Double-pointed needles and a short circular hold one sock.
    OneSock,
}

/// Whether two socks fit on a plan's needles.
pub const fn fit(plan: &Plan) -> PairFit {
    let seating = Seating::InstepAndSole;
    match plan.recipe.needles {
        Method::MagicLoop {
            seating: Seating::InstepAndSole,
        }
        | Method::TwoCirculars {
            seating: Seating::InstepAndSole,
        } => PairFit::Fits,
        Method::MagicLoop { .. } => PairFit::Seated(Method::MagicLoop { seating }),
        Method::TwoCirculars { .. } => PairFit::Seated(Method::TwoCirculars { seating }),
        Method::FourDpns | Method::FiveDpns | Method::ShortCircular { .. } => PairFit::OneSock,
    }
}

/// A sock with what it is knitted by.
#[derive(Debug, Clone, Copy)]
pub struct OnNeedles<'a> {
    /// Its plan.
    pub plan: &'a Plan,
    /// The same, knitted through.
    pub trace: &'a Trace,
    /// Its log.
    pub journal: &'a Journal,
}

/// Whether a pair is knitted two at a time: the first sock's log says so, and both fit.
pub fn is_together(pair: [OnNeedles<'_>; 2]) -> bool {
    pair[0].journal.together() && pair.iter().all(|sock| fit(sock.plan) == PairFit::Fits)
}

/// Whose turn it is; `None` when both socks are finished.
pub fn turn(pair: [OnNeedles<'_>; 2]) -> Option<WhoseTurn> {
    turn_at(pair, pair.map(|sock| sock.journal.position()))
}

/// Whose turn it would be at these places.
pub fn turn_at(pair: [OnNeedles<'_>; 2], at: [Position; 2]) -> Option<WhoseTurn> {
    if pair.iter().zip(at).all(|(sock, at)| at == sock.trace.end()) {
        return None;
    }
    let stretch = |sock: Sock, at| JointWork::of(pair, sock, at);
    let [first, second] = Sock::BOTH.map(|sock| stretch(sock, at[sock.index()]));
    let (sock, own, other) = match first.key.cmp(&second.key) {
        std::cmp::Ordering::Equal if first.joint && second.joint => return Some(WhoseTurn::Both),
        std::cmp::Ordering::Equal => return Some(WhoseTurn::InTurn(first.leader)),
        std::cmp::Ordering::Less => (Sock::First, first, at[1]),
        std::cmp::Ordering::Greater => (Sock::Second, second, at[0]),
    };
    // The other one had to do the same stretch first, and waits.
    let waits = before(pair[sock.other().index()].trace, other)
        .map(|before| stretch(sock.other(), before))
        .is_some_and(|before| !own.joint && own.leader != sock && before.key == own.key);
    Some(if waits {
        WhoseTurn::InTurn(sock)
    } else {
        WhoseTurn::CatchUp(sock)
    })
}

/// The socks whose last move an undo takes back: both where one touch moved both. Empty when there is
/// nothing to take back.
pub fn last_moved(pair: [OnNeedles<'_>; 2]) -> &'static [Sock] {
    if let Some(within) = within_round(pair) {
        return within;
    }
    let last = pair.map(|sock| sock.journal.last_move());
    let now = pair.map(|sock| sock.journal.position());
    let earlier = pair.map(|sock| sock.journal.position_before());
    let (first, second) = match last {
        [None, None] => return &[],
        [Some(_), None] => return WhoseTurn::InTurn(Sock::First).socks(),
        [None, Some(_)] => return WhoseTurn::InTurn(Sock::Second).socks(),
        [Some(first), Some(second)] => (first, second),
    };
    if first.at() == second.at() {
        let both = match (first, second) {
            (Event::GoTo(..), Event::GoTo(..)) => true,
            (Event::Done(_), Event::Done(_)) => turn_at(pair, earlier) == Some(WhoseTurn::Both),
            _ => false,
        };
        if both {
            return &Sock::BOTH;
        }
    }
    // Seconds are coarse and clocks go back: a move belongs where it was that sock's turn.
    let likely = |sock: Sock| {
        let other = sock.other();
        let mut places = now;
        places[sock.index()] = earlier[sock.index()];
        match turn_at(pair, places) {
            Some(WhoseTurn::InTurn(one)) if one == sock => {
                let waits = now[other.index()];
                let key = |at| JointWork::of(pair, other, at).key;
                let begun = before(pair[other.index()].trace, waits)
                    .is_some_and(|before| key(before) == key(waits));
                u8::from(!begun) + 1
            }
            Some(WhoseTurn::CatchUp(one)) if one == sock => 1,
            _ => 0,
        }
    };
    let latest = match likely(Sock::First).cmp(&likely(Sock::Second)) {
        std::cmp::Ordering::Greater => Sock::First,
        std::cmp::Ordering::Equal if first.at() > second.at() => Sock::First,
        _ => Sock::Second,
    };
    WhoseTurn::InTurn(latest).socks()
}

/// The socks that are in the middle of a round since their last touch.
fn within_round(pair: [OnNeedles<'_>; 2]) -> Option<&'static [Sock]> {
    let turn = turn(pair)?;
    let since = pair.map(|sock| sock.journal.needles_since());
    let both = since[0].is_some() && since[0] == since[1];
    if turn == WhoseTurn::Both && both {
        return Some(turn.socks());
    }
    // The other one may have been moved since, by a change of place.
    let last = |sock: &&Sock| {
        let other = pair[sock.other().index()].journal;
        let other = other.last_move().map(Event::at);
        since[sock.index()].is_some_and(|since| other.is_none_or(|other| other <= since))
    };
    let sock = turn.socks().iter().rev().find(last)?;
    Some(WhoseTurn::InTurn(*sock).socks())
}

/// The place before one; `None` at the beginning.
fn before(trace: &Trace, at: Position) -> Option<Position> {
    if let Some(mv) = at.mv.checked_sub(1) {
        return Some(Position { step: at.step, mv });
    }
    let step = at.step.checked_sub(1)?;
    let mv = trace.steps.get(step)?.moves.len().saturating_sub(1);
    Some(Position { step, mv })
}

/// A piece of work that one sock does before the other may go past it, ordered as it is knitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct JointWork {
    /// Section as both plans have it, step in it, part of a walk.
    key: (usize, usize, usize),
    /// Whether both socks do it with one touch.
    joint: bool,
    /// Which sock does it first.
    leader: Sock,
}

impl JointWork {
    fn of(pair: [OnNeedles<'_>; 2], sock: Sock, at: Position) -> Self {
        let own = pair[sock.index()];
        let lead = |key, leader| Self {
            key,
            joint: false,
            leader,
        };
        let found = own
            .trace
            .steps
            .get(at.step)
            .and_then(|seen| Some((seen, own.plan.sections.get(seen.section)?)));
        let Some((seen, section)) = found else {
            return lead((usize::MAX, 0, 0), Sock::First);
        };
        let (rank, shared) = rank(own.plan, pair[sock.other().index()].plan, seen.section);
        if !shared {
            // The plans part here: one sock after the other until they meet again.
            return lead((rank, 0, 0), Sock::First);
        }
        let index = seen.index;
        let form = |index: usize| section.steps.get(index).map(|step| step.form);
        match form(index) {
            Some(StepForm::Walk) if seen.kind == SectionKind::PickUp => {
                let needle = |mv: usize| {
                    let passes = seen.moves.get(mv).map(|one| &one.passes);
                    passes.and_then(|all| all.first()).map(|pass| pass.needle)
                };
                let part = (0..at.mv).filter(|mv| needle(*mv) != needle(mv + 1));
                let leader = match needle(at.mv) {
                    Some(1) => Sock::Second,
                    _ => Sock::First,
                };
                lead((rank, index, part.count()), leader)
            }
            Some(StepForm::Row(_)) if !is_to_the_edge(own.plan, seen.kind) => {
                let run = (0..index)
                    .rev()
                    .take_while(|before| matches!(form(*before), Some(StepForm::Row(_))));
                lead((rank, index - run.count(), 0), Sock::First)
            }
            Some(StepForm::Round | StepForm::Row(_)) => Self {
                key: (rank, index, 0),
                joint: true,
                leader: Sock::First,
            },
            Some(StepForm::Walk) | None => lead((rank, index, 0), Sock::First),
        }
    }
}

/// Whether rows of a section are worked from edge to edge, so that the other sock's can follow in the
/// same row: those of a flap from the cuff down. All others turn before stitches that wait.
fn is_to_the_edge(plan: &Plan, kind: SectionKind) -> bool {
    kind == SectionKind::HeelFlap && plan.recipe.direction == Direction::CuffDown
}

/// Where a section stands among those that both plans have, and whether it is one of them.
fn rank(own: &Plan, other: &Plan, section: usize) -> (usize, bool) {
    let shared = |kind: SectionKind| other.sections.iter().any(|s| s.kind == kind);
    let upto = own.sections.iter().take(section + 1);
    let common = upto.filter(|s| shared(s.kind)).count();
    let is_shared = own.sections.get(section).is_some_and(|s| shared(s.kind));
    (2 * common + usize::from(!is_shared), is_shared)
}
