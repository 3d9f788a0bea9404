//! Lines of a pattern as steps on the knitter's needles.

use super::crossing::{Crossing, crossing};
use super::fold::folded;
use super::reseat::{Stuck, bare, cuts, extent, reseated};
use crate::knit::Refusal;
use crate::needles::{Facing, FlapEdge, Item, Needles, Origin};
use crate::pattern::{FollowedLine, Form};
use crate::plan::division::leg_sizes;
use crate::plan::maker::Maker;
use crate::plan::model::{Cue, Step, StepForm};
use crate::plan::seating::{self, SeatingGoal, markers_off, move_to};
use crate::plan::sections::{bind_off, close, pick_up};
use crate::recipe::{Direction, Method, Seating};
use crate::stitch::{Count, Marker, Op, run};

/// Lines that are looked at for a place where a needle can end for longer than one round.
const AHEAD: usize = 12;

/// Which part of a needle's stitches its end is moved over for that.
const NEAR: u16 = 3;

/// From the needles of what is kept to others. Nothing is knitted for it, and the round begins where it
/// did: the pattern's lines go on from there.
pub(super) fn seat_anew(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let (top, bottom) = seating::halves(&m.needles);
    let method = m.recipe.needles;
    let even = Method::MagicLoop {
        seating: Seating::EvenHalves,
    };
    let worked_flat = m
        .needles
        .items()
        .any(|item| matches!(item, Item::Edge { .. }));
    if m.needles.stitches() == 0 || worked_flat || !m.needles.joined() {
        return Ok(());
    }
    let in_the_middle = seating::begins_in_the_middle(&m.needles);
    let goal = if in_the_middle {
        seating::middle(method, bottom, top, top / 2)
            .or_else(|| seating::middle(even, bottom, top, top / 2))
    } else {
        let sizes = leg_sizes(m.recipe, None, bottom, top);
        let markers = if sizes.is_empty() {
            vec![(Marker::Right, bottom + top)]
        } else {
            Vec::new()
        };
        Some(SeatingGoal { sizes, markers })
    };
    match goal {
        Some(goal) => move_to(m, 0, &goal, (Cue::ReachMiddle, Cue::SeatLeg)),
        None => Ok(()),
    }
}

/// Whether the round begins elsewhere than where a needle does.
fn begins_within_a_needle(needles: &Needles) -> bool {
    let ends = needles.items().any(|item| item == Item::End);
    let last = needles
        .items()
        .filter(|item| !matches!(item, Item::Marker(_)))
        .last();
    ends && needles.tip() == 0 && last != Some(Item::End)
}

/// A toe narrows past what a short circular reaches round: it goes on on other needles.
pub(super) fn seat_toe(m: &mut Maker<'_>) -> Result<(), Refusal> {
    let reaches_round = matches!(m.recipe.needles, Method::ShortCircular { .. });
    let widens = m.recipe.direction == Direction::ToeUp;
    if !reaches_round || widens || m.done.lines > 0 || m.needles.per_needle().len() != 1 {
        return Ok(());
    }
    let halves = Method::MagicLoop {
        seating: Seating::EvenHalves,
    };
    seating::change_needles(m, halves, Cue::ChangeNeedles)
}

/// Writes lines one after another; those that were worked before this plan was made are left out. A line that
/// does not go with what lies on the needles, after a misprint say, is followed by its counts.
pub(super) fn write(m: &mut Maker<'_>, lines: &[FollowedLine]) -> Result<(), Refusal> {
    let mut at = usize::from(m.done.lines);
    while let Some(line) = lines.get(at) {
        let last = m.sections.last().and_then(|section| section.steps.last());
        let after_rows = match at.checked_sub(1).and_then(|before| lines.get(before)) {
            Some(before) => matches!(before.form, Form::Row(_)),
            None => last.is_some_and(|step| matches!(step.form, StepForm::Row(_))),
        };
        at += one(m, line, &lines[at..])?.max(1);
        // rows that went back over the beginning of the round lay on one needle with it
        let reached = line.form == Form::Walk && line.ops.last() == Some(&Op::BeginHere);
        if after_rows && reached && begins_within_a_needle(&m.needles) {
            seat_anew(m)?;
        }
    }
    Ok(())
}

/// Writes a line, or several that belong together: how many.
fn one(m: &mut Maker<'_>, line: &FollowedLine, rest: &[FollowedLine]) -> Result<usize, Refusal> {
    let mut ops = bare(&line.ops);
    if let Some(edge) = casts_on(&ops) {
        cast_on(m, line, edge)?;
        return Ok(1);
    }
    if let (Form::Walk, Some(Form::Graft)) = (line.form, rest.get(1).map(|next| next.form))
        && m.needles.tip() == 0
        && let Some(n) = before_graft(&m.needles, &ops)
        && m.attempt(|m| graft_after(m, n)).is_ok()
    {
        return Ok(2);
    }
    match line.form {
        Form::Graft => {
            graft(m, line)?;
            return Ok(1);
        }
        Form::Draw => {
            let mut draw = named(line);
            draw.extend(markers_off(&m.needles));
            run(&mut draw, Op::DrawClosed, m.needles.stitches());
            m.step(Step::walk(vec![
                (Cue::DrawClosed, draw),
                (Cue::FastenOff, vec![Op::FastenOff]),
            ]))?;
            return Ok(1);
        }
        Form::Round | Form::Row(_) | Form::Walk => {}
    }
    if ops.iter().any(|op| matches!(op, Op::BindOff(_))) && m.needles.joined() {
        // after a misprint the needles may not lie as they do at a round's end
        let bound_off = m.attempt(bind_off::write);
        bound_off.or_else(|_| m.step(Step::walk(vec![(Cue::Plain, named(line))])))?;
        return Ok(1);
    }
    if picks_up(&ops) {
        let (all, used) = pick_up_lines(rest);
        if let Some((crossing, after)) = crossing(&all)
            && let Some(first) = half_or_none(m, &crossing, &after)
            && m.attempt(|m| cross(m, &rest[..used], crossing, first))
                .is_ok()
        {
            return Ok(used);
        }
    }
    let together = kept_together(&ops);
    let begins = (matches!(line.form, Form::Row(_)) || together.is_some())
        && worked_flat(&ops).is_none()
        && ops.first() == Some(&Op::BeginHere)
        && !worked_in_rows(&m.needles);
    // where they cannot be seated, after a misprint say, they are followed as they lie
    let seated = m.attempt(|m| {
        if let Some(flat) = worked_flat(&ops) {
            return seat_flat(m, flat);
        }
        if begins {
            let here = reseated(&m.needles, &[Op::BeginHere], false);
            let here = here.map_err(|Stuck(why)| why)?;
            m.step(Step::walk(vec![(Cue::ReachHeel, here)]))?;
        }
        match (line.form, together) {
            (Form::Row(_), _) => {
                let reach = reach_of_short_rows(rest);
                let sole = of_the_sole(&m.needles);
                // a flap takes in the gusset's stitches afterwards
                seat_together(m, if reach <= sole { sole } else { reach })
            }
            (_, Some(n)) => seat_together(m, n),
            _ => Ok(()),
        }
    });
    if seated.is_ok() && begins {
        ops.remove(0);
    }
    if let Err(refusal) = m.attempt(|m| plain(m, line, ops, rest)) {
        let by_count = m.attempt(|m| follow_by_count(m, line, refusal));
        by_count.or_else(|_| m.step(Step::walk(vec![(Cue::Plain, named(line))])))?;
    }
    Ok(1)
}

/// Stitches that a round begins with and that have to lie on one needle: those of a heel that is opened later.
fn kept_together(ops: &[Op]) -> Option<u16> {
    let first = ops.iter().find(|op| **op != Op::BeginHere);
    match first {
        Some(Op::Waste(n) | Op::KnitToSnip(n)) => Some(n.get()),
        _ => None,
    }
}

/// Says which line of the text is worked.
fn named(line: &FollowedLine) -> Vec<Op> {
    let number = u16::try_from(line.line).unwrap_or(u16::MAX);
    let mut ops = Vec::with_capacity(6);
    run(&mut ops, Op::PatternLine, number);
    ops
}

// ---------------------------------------------------------------- casting on

/// What casts on in the knitter's own yarn.
pub(super) fn casts_on(ops: &[Op]) -> Option<&Op> {
    ops.iter()
        .find(|op| op.casts_on() && !matches!(op, Op::CastOnProvisional(_)))
}

/// The yarns that a line changes to.
fn yarns_of(line: &FollowedLine) -> impl Iterator<Item = Op> + '_ {
    let yarns = line.ops.iter().filter(|op| matches!(op, Op::Yarn(_)));
    yarns.cloned()
}

fn cast_on(m: &mut Maker<'_>, line: &FollowedLine, edge: &Op) -> Result<(), Refusal> {
    let mut first = named(line);
    let (back, front) = match edge {
        Op::CastOn(n) => (n.get().div_ceil(2), n.get() / 2),
        Op::CastOnUneven(back, front) | Op::CastOnTubular(back, front) => (back.get(), front.get()),
        _ => {
            first.extend(yarns_of(line));
            first.push(edge.clone());
            return m.step(Step::walk(vec![
                (Cue::CastOnClosedBegin, Vec::new()),
                (Cue::CastOnClosed, first),
                (Cue::CastOnClosedTurn, Vec::new()),
                (Cue::CastOnClosedPart, Vec::new()),
            ]));
        }
    };
    first.extend(yarns_of(line));
    first.push(edge.clone());
    let mut sizes = leg_sizes(m.recipe, None, back, front);
    // few stitches lie on fewer needles
    sizes.retain(|n| *n > 0);
    let divide = if sizes.is_empty() {
        vec![Op::Place(Marker::Right)]
    } else {
        let mut ends = Vec::with_capacity(sizes.len());
        let mut sum = 0;
        for n in &sizes[..sizes.len() - 1] {
            sum += n;
            ends.push(Op::LoopOut(sum));
        }
        ends.push(Op::LoopOut(0));
        ends
    };
    m.step(Step::walk(vec![
        (Cue::CastOn, first),
        (Cue::Divide, divide),
        (Cue::Join, vec![Op::Join]),
    ]))
}

// ---------------------------------------------------------------- the graft

/// Sole to instep; where a misprint left them uneven, half of the stitches to the other half.
fn graft(m: &mut Maker<'_>, line: &FollowedLine) -> Result<(), Refusal> {
    let all = m.needles.stitches();
    let sole = m.needles.stitches_of(Origin::Sole);
    // where it was worked on to the side before, that is where the halves begin
    if 2 * sole == all && m.needles.tip() == 0 && m.attempt(close::graft).is_ok() {
        return Ok(());
    }
    let halves = m.attempt(|m| graft_halves(m, line));
    halves.or_else(|_| m.step(Step::walk(vec![(Cue::Plain, named(line))])))
}

/// Whether a line does no more than knit on to another place of the round.
pub(super) fn knits_on(line: &FollowedLine) -> bool {
    let on = |op: &Op| matches!(op, Op::Knit(_) | Op::BeginHere);
    line.form == Form::Walk && !line.unread && bare(&line.ops).iter().all(on)
}

/// Stitches that are knitted before the halves to be grafted begin: those of the line, or, where it ends at the
/// pattern's own beginning within the sole's needle, all of that needle.
fn before_graft(needles: &Needles, ops: &[Op]) -> Option<u16> {
    let (knitted, begins) = match ops {
        [knitted @ .., Op::BeginHere] => (knitted, true),
        _ => (ops, false),
    };
    if !knitted.iter().all(|op| matches!(op, Op::Knit(_))) {
        return None;
    }
    let n = knitted.iter().map(|op| extent(op).0).sum();
    match needles.per_needle()[..] {
        [sole, instep] if begins && sole == instep && n < sole => Some(sole),
        _ => (!begins).then_some(n),
    }
}

/// Knits on to where the halves to be grafted begin, and grafts them.
fn graft_after(m: &mut Maker<'_>, n: u16) -> Result<(), Refusal> {
    let half = m.needles.stitches() / 2;
    let goal = SeatingGoal {
        sizes: vec![half, half],
        markers: Vec::new(),
    };
    move_to(m, n, &goal, (Cue::ReachInstep, Cue::SeatForGraft))?;
    close::graft_seated(m)
}

fn graft_halves(m: &mut Maker<'_>, line: &FollowedLine) -> Result<(), Refusal> {
    let all = m.needles.stitches();
    if !m.needles.joined() || all < 2 {
        return Err(Refusal::NotReadyToGraft);
    }
    if m.needles.tip() > 0 {
        m.step(Step::walk(vec![(Cue::Plain, vec![Op::BeginHere])]))?;
    }
    if let (1, Some(odd), Some(even)) = (all % 2, Count::new(all), Count::new(all - 1)) {
        let mut ops = named(line);
        let one_less = reseated(&m.needles, &[Op::AsWritten(odd, even)], true);
        ops.extend(one_less.map_err(|Stuck(why)| why)?);
        m.step(Step::round(Cue::Shape, ops))?;
    }
    let half = m.needles.stitches() / 2;
    let goal = SeatingGoal {
        sizes: vec![half, half],
        markers: Vec::new(),
    };
    move_to(m, 0, &goal, (Cue::ReachInstep, Cue::SeatForGraft))?;
    close::graft_seated(m)
}

// ---------------------------------------------------------------- the heel

fn worked_flat(ops: &[Op]) -> Option<(u16, bool)> {
    ops.iter().find_map(|op| match op {
        Op::WorkFlat(n) => Some((n.get(), false)),
        Op::WorkFlatBehind(n) => Some((n.get(), true)),
        _ => None,
    })
}

/// The stitches that are going to be worked back and forth alone on a needle.
fn seat_flat(m: &mut Maker<'_>, (n, behind): (u16, bool)) -> Result<(), Refusal> {
    let around = m.needles.stitches();
    let rest = around.saturating_sub(n);
    let half = rest / 2;
    let others = match m.recipe.needles {
        Method::FiveDpns => vec![half, rest - half],
        _ => vec![rest],
    };
    if m.needles.tip() > 0 {
        m.step(Step::walk(vec![(Cue::ReachHeel, vec![Op::BeginHere])]))?;
    }
    let sizes = match m.recipe.needles {
        Method::ShortCircular { .. } => Vec::new(),
        _ if behind => others.into_iter().chain([n]).collect(),
        _ => std::iter::once(n).chain(others).collect(),
    };
    // where no needle ends, a marker says where the instep does
    let markers = match m.recipe.needles {
        Method::ShortCircular { .. } if behind => vec![(Marker::Right, rest)],
        Method::ShortCircular { .. } => vec![(Marker::Right, around)],
        _ => Vec::new(),
    };
    let goal = SeatingGoal { sizes, markers };
    move_to(m, 0, &goal, (Cue::ReachHeel, Cue::SeatHeel))
}

/// Stitches that the round begins with, up to the instep's.
fn of_the_sole(needles: &Needles) -> u16 {
    let stitches = needles.items().filter(|item| item.width() > 0);
    let sole = stitches.take_while(|item| match item {
        Item::Stitches(origin, ..) | Item::Double(origin) | Item::Wrapped(origin, _) => {
            !matches!(origin, Origin::Instep | Origin::Front)
        }
        _ => false,
    });
    sole.map(Item::width).sum()
}

/// The first so many stitches come to lie on one needle: short rows go back and forth over them, say.
fn seat_together(m: &mut Maker<'_>, reach: u16) -> Result<(), Refusal> {
    let begins = m.needles.joined()
        && m.needles.tip() == 0
        && m.needles.facing() == Facing::RightSide
        && !worked_in_rows(&m.needles);
    let sizes = m.needles.per_needle();
    let around = m.needles.stitches();
    if !begins || sizes.len() < 2 || sizes.first() >= Some(&reach) || reach >= around {
        return Ok(());
    }
    let others = around - reach;
    let half = others / 2;
    let sizes = match m.recipe.needles {
        Method::FiveDpns if half > 0 => vec![reach, half, others - half],
        _ => vec![reach, others],
    };
    let goal = SeatingGoal {
        sizes,
        markers: hung(&m.needles),
    };
    move_to(m, 0, &goal, (Cue::ReachHeel, Cue::SeatHeel))
}

/// How many stitches from the beginning of the round the rows come to touch.
pub(super) fn reach_of_short_rows(rest: &[FollowedLine]) -> u16 {
    let mut reach = Reach::default();
    let mut forth = true;
    for line in rest.iter().take_while(|l| matches!(l.form, Form::Row(_))) {
        for op in bare(&line.ops) {
            match op {
                Op::Turn => forth = !forth,
                // the double stitch is made of the first one after the turn
                Op::TurnDouble => {
                    forth = !forth;
                    reach.works(forth, (1, 1));
                }
                Op::TurnWrapped => {
                    // what is wrapped is touched, and stays where it is
                    if forth && reach.back_ahead == 0 {
                        reach.works(true, (1, 1));
                        reach.back_ahead = 1;
                    }
                    forth = !forth;
                }
                other => {
                    let (takes, makes, _) = extent(&other);
                    reach.works(forth, (takes, makes));
                }
            }
        }
    }
    reach.touched
}

/// Stitches that rows have touched.
#[derive(Debug, Default)]
struct Reach {
    /// Those from the beginning of the round on, as many as they were at first.
    touched: u16,
    /// Those of them that lie ahead again.
    back_ahead: u16,
}

impl Reach {
    /// Takes so many stitches and makes so many, forth along the round or back.
    fn works(&mut self, forth: bool, (takes, makes): (u16, u16)) {
        if forth {
            let again = takes.min(self.back_ahead);
            self.back_ahead -= again;
            self.touched = self.touched.saturating_add(takes - again);
        } else {
            self.back_ahead = self.back_ahead.saturating_add(makes);
        }
    }
}

// ---------------------------------------------------------------- the pick-up

pub(super) fn picks_up(ops: &[Op]) -> bool {
    ops.iter()
        .any(|op| matches!(op, Op::PickUp(_) | Op::PickUpAlong(_)))
}

/// The bare operations of the lines that make the pick-up, and how many lines those are: as far as the
/// second edge and what is worked after it in the same round.
pub(super) fn pick_up_lines(lines: &[FollowedLine]) -> (Vec<Op>, usize) {
    let mut all = Vec::new();
    let mut edges = 0;
    for (nth, line) in lines.iter().enumerate().take(AHEAD) {
        let ops = bare(&line.ops);
        let here = ops
            .iter()
            .filter(|op| matches!(op, Op::PickUp(_) | Op::PickUpAlong(_)))
            .count();
        let goes_on = matches!(line.form, Form::Walk) || here > 0 || (nth > 0 && edges < 2);
        if !goes_on || (edges >= 2 && !matches!(line.form, Form::Walk)) {
            return (all, nth);
        }
        edges += here;
        all.extend(ops);
    }
    let used = lines.len().min(AHEAD);
    (all, used)
}

/// Stitches of the heel that are worked again to the middle, where the pick-up ends where our seating wants
/// it to.
fn half_or_none(m: &Maker<'_>, crossing: &Crossing, after: &[Op]) -> Option<u16> {
    let half = crossing.heel / 2;
    let middle = |n: u16| (half..=crossing.heel.div_ceil(2)).contains(&n);
    match (m.recipe.needles.seating(), after) {
        (Some(Seating::InstepAndSole), []) => Some(crossing.heel.div_ceil(2)),
        (Some(Seating::InstepAndSole), _) => None,
        (_, [Op::Knit(n)]) if middle(n.get()) => Some(n.get()),
        _ => None,
    }
}

fn cross(
    m: &mut Maker<'_>,
    lines: &[FollowedLine],
    crossing: Crossing,
    first: u16,
) -> Result<(), Refusal> {
    let named: Vec<Op> = lines.iter().flat_map(named).collect();
    let (left, right) = crossing.along;
    let from = (
        picked_up_from(&m.needles, FlapEdge::Left, left),
        picked_up_from(&m.needles, FlapEdge::Right, right),
    );
    let counts = pick_up::Counts {
        first,
        second: crossing.heel - first,
        along_edge: crossing.along,
        from,
        corners: crossing.corners,
        instep: crossing.instep,
        half: crossing.instep / 2,
    };
    pick_up::cross(m, &counts, &named, false)
}

/// From its chains where an edge has so many, else along it.
fn picked_up_from(needles: &Needles, edge: FlapEdge, n: u16) -> fn(Count) -> Op {
    let chains = needles
        .items()
        .any(|item| matches!(item, Item::Edge { side, loops, .. } if side == edge && loops == n));
    if chains { Op::PickUp } else { Op::PickUpAlong }
}

// ---------------------------------------------------------------- rounds and rows

fn plain(
    m: &mut Maker<'_>,
    line: &FollowedLine,
    mut ops: Vec<Op>,
    rest: &[FollowedLine],
) -> Result<(), Refusal> {
    let round = line.form == Form::Round;
    if let Some(at) = ops.iter().position(flat_begins) {
        ops.insert(at + 1, Op::NameHeel);
    }
    let mut seated = reseated(&m.needles, &ops, round);
    for _ in 0..3 {
        match seated {
            // short rows have made halves that meet in corners, whatever the stitches were before
            Err(Stuck(Refusal::NothingToPickUp))
                if round && m.needles.tip() == 0 && ops.contains(&Op::KnitCorner) =>
            {
                if ops.first() == Some(&Op::NameHeel) {
                    break;
                }
                ops.insert(0, Op::NameHeel);
            }
            Err(Stuck(Refusal::MarkerInTheWay(marker))) => {
                m.step(Step::walk(vec![(Cue::SeatMotif, vec![Op::Remove(marker)])]))?;
            }
            Err(Stuck(Refusal::NeedleEnds | Refusal::OutOfStitches)) if round || picks_up(&ops) => {
                move_ends(m, &ops, rest)?;
            }
            _ => break,
        }
        seated = reseated(&m.needles, &ops, round);
    }
    let Stuck(refusal) = match seated {
        Ok(worked) => {
            let mut all = named(line);
            all.extend(folded(worked));
            return m.step(step(line, &ops, all));
        }
        Err(stuck) => stuck,
    };
    Err(refusal)
}

/// A line whose stitches are not those that lie here: she works it by its words, and as many stitches are
/// there then as the pattern goes on with.
fn follow_by_count(
    m: &mut Maker<'_>,
    line: &FollowedLine,
    refusal: Refusal,
) -> Result<(), Refusal> {
    let round = line.form == Form::Round;
    if worked_in_rows(&m.needles) && (round || picks_up(&line.ops)) {
        pick_up_by_count(m, line)?;
        if !round {
            return Ok(());
        }
    }
    let flat = worked_in_rows(&m.needles);
    if round && !flat && m.needles.joined() && m.needles.tip() > 0 {
        m.step(Step::walk(vec![(Cue::Plain, vec![Op::BeginHere])]))?;
    }
    let ahead = before_edge(&m.needles);
    let mut ops = Vec::with_capacity(2);
    if matches!(line.form, Form::Round | Form::Row(_)) {
        let others = m.needles.stitches() - ahead;
        match (
            Count::new(ahead),
            Count::new(line.after.saturating_sub(others)),
        ) {
            (Some(from), Some(to)) => ops.push(Op::AsWritten(from, to)),
            _ => return Err(refusal),
        }
    }
    if matches!(line.form, Form::Row(_)) {
        ops.push(Op::Turn);
    }
    let worked = reseated(&m.needles, &ops, round).map_err(|Stuck(why)| why)?;
    let mut all = named(line);
    all.extend(worked);
    m.step(step(line, &ops, all))
}

fn worked_in_rows(needles: &Needles) -> bool {
    needles.items().any(|i| matches!(i, Item::Edge { .. }))
}

/// Stitches ahead before the edge.
fn before_edge(needles: &Needles) -> u16 {
    needles
        .upcoming()
        .take_while(|item| !matches!(item, Item::Edge { .. }))
        .map(Item::width)
        .sum()
}

/// A pick-up along the edges that are there, over the stitches that are there: as many along each as the line
/// says, or one for each of its chains.
fn pick_up_by_count(m: &mut Maker<'_>, line: &FollowedLine) -> Result<(), Refusal> {
    let over = |n: u16| Count::new(n).map(|n| Op::AsWritten(n, n));
    if m.needles.facing() == Facing::WrongSide {
        let mut back = named(line);
        let row: Vec<Op> = over(before_edge(&m.needles)).into_iter().collect();
        back.extend(reseated(&m.needles, &row, false).map_err(|Stuck(why)| why)?);
        back.push(Op::Turn);
        m.step(Step::row(Facing::WrongSide, Cue::Plain, back))?;
    }
    let said: Vec<u16> = line
        .ops
        .iter()
        .filter_map(|op| match op {
            Op::PickUp(n) | Op::PickUpAlong(n) => Some(n.get()),
            _ => None,
        })
        .collect();
    let chains = |edge: FlapEdge| {
        let of = m.needles.items().find_map(|item| match item {
            Item::Edge { side, loops, .. } if side == edge => Some(loops),
            _ => None,
        });
        of.unwrap_or(1).max(1)
    };
    let along = (
        said.first()
            .copied()
            .unwrap_or_else(|| chains(FlapEdge::Left)),
        said.get(1)
            .copied()
            .unwrap_or_else(|| chains(FlapEdge::Right)),
    );
    let heel = before_edge(&m.needles);
    let mut ops = named(line);
    let mut seat = m.needles.clone();
    let mut add = |part: &[Op]| -> Result<(), Refusal> {
        let worked = reseated(&seat, part, false).map_err(|Stuck(why)| why)?;
        seat.apply_all(&worked)?;
        ops.extend(worked);
        Ok(())
    };
    let first: Vec<Op> = over(heel)
        .into_iter()
        .chain(Count::new(along.0).map(Op::PickUpAlong))
        .collect();
    add(&first)?;
    let instep: u16 = m.needles.stitches().saturating_sub(heel);
    let second: Vec<Op> = over(instep).into_iter().chain([Op::BeginHere]).collect();
    add(&second)?;
    let third: Vec<Op> = Count::new(along.1)
        .map(Op::PickUpAlong)
        .into_iter()
        .collect();
    add(&third)?;
    m.step(Step::walk(vec![(Cue::Plain, ops)]))
}

const fn flat_begins(op: &Op) -> bool {
    matches!(op, Op::WorkFlat(_) | Op::WorkFlatBehind(_))
}

fn step(line: &FollowedLine, bare: &[Op], ops: Vec<Op>) -> Step {
    let shaped = bare.iter().any(|op| {
        matches!(
            op,
            Op::K2tog
                | Op::Ssk
                | Op::P2tog
                | Op::Decrease(_)
                | Op::Increase(_)
                | Op::MakeLeft
                | Op::MakeRight
        )
    });
    let cue = if shaped { Cue::Shape } else { Cue::Plain };
    match line.form {
        Form::Row(facing) => Step::row(facing, cue, ops),
        Form::Round => Step::round(cue, ops),
        Form::Walk | Form::Graft | Form::Draw => Step::walk(vec![(cue, ops)]),
    }
}

/// Moves needle ends to where they cut nothing, in this round and, as far as that goes, in those after it.
fn move_ends(m: &mut Maker<'_>, ops: &[Op], rest: &[FollowedLine]) -> Result<(), Refusal> {
    let sizes = m.needles.per_needle();
    if sizes.len() < 2 {
        return Ok(());
    }
    let lines: Vec<Vec<(u16, u16)>> = std::iter::once(cuts(ops))
        .chain(
            rest.iter()
                .skip(1)
                .take(AHEAD)
                .take_while(|line| line.form == Form::Round)
                .map(|line| cuts(&bare(&line.ops))),
        )
        .collect();
    let lasts = |from: u16| {
        let mut at = from;
        let mut rounds = 0;
        for cuts in &lines {
            match cuts.iter().find(|(before, _)| *before == at) {
                Some((_, after)) => at = *after,
                None => break,
            }
            rounds += 1;
        }
        rounds
    };
    // places are counted from the tip, and so are the ends that move; those before it stay
    let tip = m.needles.stitches() - ahead(&m.needles);
    let mut moved = Vec::with_capacity(sizes.len());
    let mut after = 0;
    let mut sum = 0;
    for size in &sizes[..sizes.len() - 1] {
        sum += size;
        let Some(end) = sum.checked_sub(tip).filter(|end| *end > 0) else {
            continue;
        };
        let places = lines[0].iter().map(|(before, _)| *before);
        let places = places.filter(|place| *place > after && tip + *place < m.needles.stitches());
        // each end near where it is, so that none is left without its stitches
        let near = (size / NEAR).max(2);
        let best = places
            .clone()
            .filter(|place| place.abs_diff(end) <= near)
            .max_by_key(|place| (lasts(*place), std::cmp::Reverse(place.abs_diff(end))))
            .or_else(|| places.min_by_key(|place| place.abs_diff(end)));
        let Some(best) = best else { return Ok(()) };
        after = best;
        moved.push((end, best));
    }
    let goes = |end: u16| moved.iter().all(|(_, to)| *to != end);
    let comes = |end: u16| moved.iter().all(|(from, _)| *from != end);
    let mut ops = Vec::with_capacity(2 * moved.len());
    ops.extend(
        moved
            .iter()
            .filter(|(from, _)| goes(*from))
            .map(|(from, _)| Op::LoopIn(*from)),
    );
    ops.extend(
        moved
            .iter()
            .filter(|(_, to)| comes(*to))
            .map(|(_, to)| Op::LoopOut(*to)),
    );
    if ops.is_empty() {
        return Ok(());
    }
    m.step(Step::walk(vec![(Cue::SeatMotif, ops)]))
}

/// Stitches ahead of the tip.
fn ahead(needles: &Needles) -> u16 {
    needles.upcoming().map(Item::width).sum()
}

/// Markers, and stitches before each from the beginning of the round.
fn hung(needles: &Needles) -> Vec<(Marker, u16)> {
    let mut passed = 0;
    let mut out = Vec::new();
    for item in needles.items() {
        if let Item::Marker(marker) = item {
            out.push((marker, passed));
        }
        passed += item.width();
    }
    out
}
