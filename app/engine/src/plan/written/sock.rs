//! A pattern's parts and ours in the order of the sock.

use super::back_over::begun_before;
use super::lines;
use super::named::of_sock;
use super::outcome;
use super::recut::recut;
use super::takeover;
use crate::error::{FieldError, Problem};
use crate::knit::Refusal;
use crate::needles::{Item, Origin};
use crate::pattern::{FollowedLine, FollowedPart, Form, Part};
use crate::plan::decide::{heel_numbers, numbers_for};
use crate::plan::error::{PlanBug, PlanError};
use crate::plan::maker::{Kept, Maker};
use crate::plan::model::Plan;
use crate::plan::parts;
use crate::plan::seating;
use crate::plan::section_kind::SectionKind;
use crate::recipe::{
    Direction, Method, Number, NumberField, Recipe, SockPart, TOP_STITCHES, Written,
};
use crate::sort::sort;
use crate::stitch::{Count, Op};

/// Makes the sock of a pattern; what is kept of an earlier plan stays.
///
/// # Errors
/// What of the pattern, or of its mixture with ours, makes no sock; what Evenloop itself seated wrongly
/// is told apart.
pub(in crate::plan) fn write(
    recipe: &Recipe,
    written: &Written,
    parts: Vec<FollowedPart>,
    kept: Kept<'_>,
) -> Result<Plan, PlanError> {
    let around = stitches_around(&parts, begun_by_ours(recipe, written))?;
    let numbers = numbers_for(recipe, around)?;
    let parts = if written.is_ours(SockPart::Heel) {
        parts
    } else {
        let ours = |part| written.is_ours(part);
        recut(begun_before(parts), seated_by(recipe, &kept), &ours)
    };
    let mut maker = Maker::new(numbers, recipe, kept);
    write_parts(&mut maker, recipe, written, parts)?;
    let numbers = maker.numbers;
    let outcome = outcome::outcome(recipe, &numbers, &maker.sections, maker.peak);
    Ok(Plan {
        recipe: recipe.clone(),
        outcome,
        sections: maker.sections,
        found: Vec::new(),
    })
}

/// The needles that decide where the round begins after the pick-up: those on which it was worked, once it
/// was.
fn seated_by(recipe: &Recipe, kept: &Kept<'_>) -> Method {
    let before: usize = kept
        .sections
        .iter()
        .take_while(|section| section.kind != SectionKind::PickUp)
        .map(|section| section.steps.len())
        .sum();
    match kept.needles {
        Some(needles) if kept.steps > before => needles,
        _ => recipe.needles,
    }
}

/// Stitches that our own part casts on before the pattern begins; `None` where the pattern casts on.
pub fn begun_by_ours(recipe: &Recipe, written: &Written) -> Option<Count> {
    let first = match recipe.direction {
        Direction::CuffDown => SockPart::Cuff,
        Direction::ToeUp => SockPart::Toe,
    };
    recipe
        .stitches
        .and_then(Count::new)
        .filter(|_| written.is_ours(first))
}

/// The stitches that most rounds have.
fn stitches_around(parts: &[FollowedPart], begun: Option<Count>) -> Result<u16, FieldError> {
    let lines = parts.iter().flat_map(|part| &part.lines);
    let mut counts: Vec<u16> = lines
        .clone()
        .filter(|line| line.form == Form::Round)
        .map(|line| line.after)
        .collect();
    sort(&mut counts, |a, b| a < b);
    let most = counts
        .chunk_by(|a, b| a == b)
        .max_by_key(|same| same.len())
        .and_then(|same| same.first().copied());
    let cast_on = begun.is_some() || lines.clone().any(|line| line.ops.iter().any(Op::casts_on));
    match most {
        Some(n) if n > 0 && cast_on => Ok(n),
        _ => Err(FieldError::new(
            "written.text",
            Problem::PatternWithoutRounds,
        )),
    }
}

fn write_parts(
    m: &mut Maker<'_>,
    recipe: &Recipe,
    written: &Written,
    parts: Vec<FollowedPart>,
) -> Result<(), PlanError> {
    let order = parts::order(recipe.direction);
    let mut next = 0;
    let mut after_ours = false;
    let mut of = order[0];
    for part in parts {
        let named = part.part.map(of_sock);
        // what has no name of its own goes on with what was
        of = named.unwrap_or(of);
        let place = order.iter().position(|p| *p == of).unwrap_or(0);
        while next <= place {
            if written.is_ours(order[next]) {
                ours(m, recipe, order[next])?;
                after_ours = true;
            }
            next += 1;
        }
        if !written.is_ours(of) {
            theirs(m, of, part, after_ours)?;
            after_ours = false;
        }
    }
    for rest in &order[next..] {
        if written.is_ours(*rest) {
            ours(m, recipe, *rest)?;
        }
    }
    if written.is_ours(SockPart::Heel)
        && m.needles.waste() + m.needles.to_snip() > 0
        && m.needles.stitches() > 0
    {
        return Err(not_met(SockPart::Heel).into());
    }
    Ok(parts::late_heel(m)?)
}

fn not_met(part: SockPart) -> FieldError {
    FieldError::new("written.ours", Problem::PartsDoNotMeet { part })
}

/// A part of ours for the stitches that lie on the needles.
fn ours(m: &mut Maker<'_>, recipe: &Recipe, part: SockPart) -> Result<(), PlanError> {
    take_over(m, part)?;
    let around = match m.needles.stitches() {
        0 => m.numbers.around,
        n => n,
    };
    if !around.is_multiple_of(4) {
        let (below, above) = recipe.multiples_near(around, 4);
        return Err(FieldError::new(
            "written.ours",
            Problem::StitchesNotQuartered {
                stitches: around,
                below,
                above,
            },
        )
        .into());
    }
    // what is ours is shaped for as many stitches as a sock of ours can have
    let (least, most) = (*TOP_STITCHES.start(), *TOP_STITCHES.end());
    if !(least..=most).contains(&around) {
        let problem = Problem::OutOfRange {
            number: NumberField::Stitches,
            value: Number::Whole(around.into()),
            least: Number::Whole(least.into()),
            most: Number::Whole(most.into()),
        };
        return Err(FieldError::new("written.ours", problem).into());
    }
    m.numbers = numbers_for(recipe, around)?;
    m.numbers.shape = heel_numbers(recipe, around)?;
    if recipe.direction == Direction::CuffDown {
        match part {
            SockPart::Heel => name_heel(m),
            // a tube without a heel has its halves all the same
            SockPart::Foot | SockPart::Toe if m.needles.stitches_of(Origin::Back) > 0 => {
                name_halves(m);
            }
            _ => {}
        }
    }
    even_halves(m)?;
    Ok(parts::part(m, recipe, part)?)
}

/// Brings the needles to where a section of ours can begin.
fn take_over(m: &mut Maker<'_>, part: SockPart) -> Result<(), PlanError> {
    let Some(last) = m.sections.last().map(|section| section.kind) else {
        return Ok(());
    };
    // nothing is left once the pattern has closed the sock
    if takeover::has_open_edge(&m.needles) || m.needles.stitches() == 0 {
        return Err(not_met(part).into());
    }
    if takeover::is_whole(&m.needles) {
        return Ok(());
    }
    Ok(m.goes_on_with(last, takeover::to_a_whole_round)?)
}

/// What the pattern has shaped on the way may have left more stitches on one half than on the other: ours has as many on
/// each.
fn even_halves(m: &mut Maker<'_>) -> Result<(), PlanBug> {
    let (top, bottom) = seating::halves(&m.needles);
    let Some(last) = m.sections.last().map(|section| section.kind) else {
        return Ok(());
    };
    if top == bottom || m.needles.stitches() == 0 || !takeover::is_whole(&m.needles) {
        return Ok(());
    }
    m.goes_on_with(last, takeover::to_the_side)?;
    name_halves(m);
    Ok(())
}

/// Stitches that a pattern made or moved on the way belong to the half in which they lie by now. Their last
/// round says so, so that no touch is needed for it.
fn name_heel(m: &mut Maker<'_>) {
    let half = m.needles.stitches() / 2;
    let mut passed = 0;
    let as_they_lie = m.needles.items().all(|item| {
        let Item::Stitches(origin, _, n) = item else {
            return true;
        };
        passed += n;
        match origin {
            Origin::Back | Origin::Heel | Origin::Sole => passed <= half,
            _ => passed > half,
        }
    });
    if !as_they_lie {
        name_halves(m);
    }
}

/// The first half of the round is called heel, and the rest instep.
fn name_halves(m: &mut Maker<'_>) {
    let last = m.sections.last_mut().and_then(|s| s.steps.last_mut());
    let Some(mv) = last.and_then(|step| step.moves.last_mut()) else {
        return;
    };
    if m.needles.tip() == 0 && m.needles.apply_all(&[Op::NameHeel]).is_ok() {
        mv.ops.push(Op::NameHeel);
    }
}

/// The pattern's lines of a part, section by section. `after_ours`: what lies on the needles is ours.
fn theirs(
    m: &mut Maker<'_>,
    of: SockPart,
    part: FollowedPart,
    mut after_ours: bool,
) -> Result<(), PlanBug> {
    let kind = section(part.part, of);
    let mut runs: Vec<(SectionKind, Vec<FollowedLine>)> = Vec::new();
    let begins = part.begins;
    let close = if kind == SectionKind::LateHeel {
        SectionKind::LateClose
    } else {
        SectionKind::Close
    };
    let mut coming = part.lines.into_iter().peekable();
    while let Some(line) = coming.next() {
        let grafted_then = coming.peek().is_some_and(|next| next.form == Form::Graft);
        let here = match own_section(&line) {
            Some(SectionKind::Close) => close,
            // on to where the halves begin
            None if grafted_then && lines::knits_on(&line) => close,
            Some(own) => own,
            None if kind == SectionKind::PickUp || kind == SectionKind::HeelTurn => {
                let picked_up = runs.iter().any(|(k, _)| *k == SectionKind::PickUp);
                if picked_up { SectionKind::Gusset } else { kind }
            }
            None => kind,
        };
        match runs.last_mut() {
            Some((last, lines)) if *last == here => lines.push(line),
            _ => runs.push((here, vec![line])),
        }
    }
    for (kind, lines) in runs {
        let last = m.sections.last().map(|s| s.kind);
        let again = m.sections.iter().any(|s| s.kind == kind) && last != Some(kind);
        // a part that comes twice goes on under the name of the one before it
        let kind = if again { last.unwrap_or(kind) } else { kind };
        m.goes_on_with(kind, |m| {
            let before = m.takes_over_from();
            if before.is_some_and(|before| before != m.recipe.needles) {
                seated(m, lines::seat_anew);
            }
            if std::mem::take(&mut after_ours) {
                seated(m, |m| takeover::begin_as_the_pattern(m, begins));
            }
            if kind == SectionKind::Toe {
                seated(m, lines::seat_toe);
            }
            lines::write(m, &lines)
        })?;
    }
    Ok(())
}

/// Seats the stitches anew; what cannot be seated, after a misprint say, is followed as it lies.
fn seated(m: &mut Maker<'_>, seat: impl FnOnce(&mut Maker<'_>) -> Result<(), Refusal>) {
    let _: Result<(), Refusal> = m.attempt(seat);
}

/// What a line is by itself, whatever part it stands in.
fn own_section(line: &FollowedLine) -> Option<SectionKind> {
    match line.form {
        Form::Graft | Form::Draw => return Some(SectionKind::Close),
        Form::Round | Form::Row(_) | Form::Walk => {}
    }
    if lines::casts_on(&line.ops).is_some() {
        return Some(SectionKind::CastOn);
    }
    line.ops.iter().find_map(|op| match op {
        Op::PickUp(_) | Op::PickUpAlong(_) => Some(SectionKind::PickUp),
        Op::BindOff(_) => Some(SectionKind::BindOff),
        _ => None,
    })
}

const fn section(part: Option<Part>, of: SockPart) -> SectionKind {
    match part {
        Some(Part::CastOn | Part::Cuff | Part::BindOff) => SectionKind::Cuff,
        Some(Part::Leg) => SectionKind::Leg,
        Some(Part::HeelFlap) => SectionKind::HeelFlap,
        Some(Part::HeelTurn) => SectionKind::HeelTurn,
        Some(Part::ShortRowHeel) => SectionKind::ShortHeel,
        Some(Part::HeelPlace) => SectionKind::HeelPlace,
        Some(Part::LateHeel) => SectionKind::LateHeel,
        Some(Part::PickUp | Part::Gusset) => SectionKind::Gusset,
        Some(Part::Foot) => SectionKind::Foot,
        Some(Part::Toe) => SectionKind::Toe,
        Some(Part::Close) => SectionKind::Close,
        None => match of {
            SockPart::Cuff => SectionKind::Cuff,
            SockPart::Leg => SectionKind::Leg,
            SockPart::Heel => SectionKind::HeelFlap,
            SockPart::Foot => SectionKind::Foot,
            SockPart::Toe => SectionKind::Toe,
        },
    }
}
