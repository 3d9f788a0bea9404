//! Lays the three opinions beside each other: closed forms, naive knitter, engine.
//!
//! After every move the naive knitter's needles and the engine's must be the same: every stitch's
//! part, every needle's end, marker, edge and gap, where the round begins, where the tip is, which
//! side faces. At the end of every round and row both must be what the closed forms say.

use evenloop_engine::needles::{Needles, Origin};
use std::collections::BTreeSet;

use super::closed::{self, Expected, No, State, Stripes, Sums};
use super::fabric::{look_at_fabric, straight_instep, whole_sock};
use super::hands::{ChartProgress, Hands, How, Part};
use super::lie::Lie;
use super::loose;
use super::outcome::{self, Done};
use super::page::{self, Do, Page, Section, Step};
use evenloop_engine::plan::PlanError;
use evenloop_engine::recipe::{Method, Recipe};
use evenloop_engine::text::{self, Wording};
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::{plan_document, read_plan, write_recipe};

/// What came of a recipe on which all three agree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// There is such a sock: so many moves were compared, so many stitches made by hand.
    Knitted {
        /// Moves compared.
        moves: usize,
        /// Stitches the naive knitter made.
        stitches: usize,
    },
    /// There is none; the fields that the engine named.
    Refused(Vec<String>),
}

/// Runs the three over one recipe.
///
/// # Errors
/// The first disagreement, or the first thing hands could not do.
pub fn three_ways(recipe: &Recipe) -> Result<Verdict, String> {
    let sums = closed::sums(recipe).and_then(|sums| match closed::misfit(recipe, sums.around) {
        Some(no) => Err(BTreeSet::from([no])),
        None => Ok(sums),
    });
    let document = match (plan_document(&write_recipe(recipe)), &sums) {
        (Ok(document), Ok(_)) => document,
        (Ok(_), Err(no)) => return Err(format!("planned, but by the closed forms {no:?}")),
        (Err(PlanError::Bug(bug)), _) => return Err(format!("planned wrongly: {bug}")),
        (Err(PlanError::Impossible(errors)), Ok(_)) => {
            let errors: Vec<String> = errors.iter().map(|e| format!("{e:?}")).collect();
            return Err(format!(
                "refused, but the closed forms have it: {}",
                errors.join("; ")
            ));
        }
        (Err(PlanError::Impossible(errors)), Err(no)) => return refused(&errors, no),
    };
    let page = page::read(&document)?;
    let plan = read_plan(&document).map_err(|e| e.to_string())?;
    let recipe = &begun_elsewhere(recipe, &plan.recipe)?;
    loose::look(recipe, &page)?;
    let sums = closed::sums(recipe).map_err(|no| format!("{no:?}"))?;
    outcome::agree(recipe, &page.outcome, &sums)?;
    let trace = Trace::of(&plan).map_err(|e| format!("the engine refuses its own plan: {e}"))?;
    let Knitted {
        moves,
        hands,
        sections,
    } = knit(recipe, &sums, &page, |hands, step, mv| {
        let traced = trace.steps.get(step).and_then(|s| s.moves.get(mv));
        agree(hands, &traced.ok_or("the trace lacks it")?.after)
    })?;
    outcome::agree_on_yarn(recipe, &page.outcome, &hands, &sections)?;
    let steps: usize = page.sections.iter().map(|s| s.steps.len()).sum();
    if trace.steps.len() != steps {
        return Err(format!(
            "the trace has {} steps, the plan {steps}",
            trace.steps.len()
        ));
    }
    Ok(Verdict::Knitted {
        moves,
        stitches: hands.made.len(),
    })
}

/// The recipe as it is knitted: of what was asked for nothing is other but where the repeat of its motif
/// begins, and the edges that tender legs want.
///
/// # Errors
/// What else is other.
pub fn begun_elsewhere(asked: &Recipe, knitted: &Recipe) -> Result<Recipe, String> {
    let mut same = asked.clone();
    same.motif.clone_from(&knitted.motif);
    if asked.fit.tender_legs {
        (same.cast_on, same.bind_off) = (knitted.cast_on, knitted.bind_off);
    }
    if same != *knitted {
        return Err(format!(
            "another recipe is knitted: {}",
            write_recipe(knitted)
        ));
    }
    if asked.motif != knitted.motif {
        loose::is_begun_later(asked, knitted)?;
    }
    Ok(same)
}

/// Knits a recipe's written plan by hand alone.
///
/// # Errors
/// That there is no plan, or what hands cannot do.
pub fn by_hand(recipe: &Recipe) -> Result<Hands, String> {
    let document = plan_document(&write_recipe(recipe)).map_err(|e| format!("{e:?}"))?;
    by_hand_watched(recipe, &page::read(&document)?, |_, _, _| {})
}

/// Knits a page by hand alone, with `watch` looking on after every step: its section, its index
/// there, what hands hold.
///
/// # Errors
/// What hands cannot do.
pub fn by_hand_watched(
    recipe: &Recipe,
    page: &Page,
    mut watch: impl FnMut(&Section, usize, &Hands),
) -> Result<Hands, String> {
    let mut hands = hands_for(recipe);
    for section in &page.sections {
        hands.begin_section(section);
        for (index, step) in section.steps.iter().enumerate() {
            for mv in &step.moves {
                hands
                    .work(mv, &step.form)
                    .map_err(|why| format!("{} {} {}: {why}", section.kind, index + 1, mv.cue))?;
            }
            watch(section, index, &hands);
        }
    }
    Ok(hands)
}

/// Empty hands with the needles and the chart of a recipe.
pub fn hands_for(recipe: &Recipe) -> Hands {
    let chart = closed::chart(recipe).ok().flatten();
    let panel = closed::sums(recipe).ok().and_then(|s| s.panel());
    let chart_progress = chart
        .zip(panel)
        .map(|(chart, panel)| ChartProgress::of(chart, panel));
    Hands::with(needles_in_set(recipe.needles), chart_progress)
}

/// How many double-pointed needles a set of them has.
pub(super) const fn needles_in_set(method: Method) -> Option<usize> {
    match method {
        Method::FourDpns => Some(4),
        Method::FiveDpns => Some(5),
        _ => None,
    }
}

/// A refusal must name a field that has to do with the reason.
fn refused(
    errors: &[evenloop_engine::error::FieldError],
    no: &BTreeSet<No>,
) -> Result<Verdict, String> {
    let fields: Vec<String> = errors.iter().map(|e| e.field.to_string()).collect();
    let fits = |field: &String| no.iter().any(|no| fields_of(*no).contains(&field.as_str()));
    if errors.is_empty() || !fields.iter().all(fits) {
        return Err(format!("refused for {fields:?}, but the reason is {no:?}"));
    }
    if let Some(mute) = errors.iter().find(|e| {
        let said = text::problem(&e.problem, Wording::default());
        said.message.trim().is_empty() || said.help.trim().is_empty()
    }) {
        return Err(format!("refused without a reason or a remedy: {mute:?}"));
    }
    Ok(Verdict::Refused(fields))
}

/// The fields that have to do with a reason.
const fn fields_of(no: No) -> &'static [&'static str] {
    match no {
        No::Balance => &["motif.balance"],
        No::Around => &[
            "stitches",
            "foot.circumference",
            "foot.length",
            "swatch.stitches",
        ],
        No::LegInCuff => &["leg"],
        No::RoundToeUp => &["toe.kind"],
        No::FlapTooShallow => &["heel.rows", "heel.height"],
        No::FootTooShort => &["foot.length", "heel.rows", "heel.height"],
        No::FlapTwice | No::FlapHeight => &["heel.height"],
        No::HighInstepLate => &["fit.high_instep"],
        No::WideRoundToe => &["fit.wide_toes"],
        No::Calf | No::CalfInMotif => &["calf", "fit.tender_legs"],
        No::MotifStitches => &["stitches"],
        No::MotifWide | No::MotifSlip => &["motif.rows"],
        No::FootAdjusted => &["adjust.foot"],
        No::MotifThirds => &["needles.method"],
        No::MotifHalves => &["needles.seating", "needles.method"],
        No::FarFromFoot => &["stitches", "motif.place"],
        No::NeedleTooLong => &["needles.length"],
        No::LegAdjusted => &["adjust.leg"],
        No::TubularRib => &["cast_on", "bind_off"],
        No::ChainedToe => &["toe_cast_on"],
    }
}

/// Knits a page by hand and holds it against the closed forms, without asking the engine.
///
/// # Errors
/// What hands cannot do, or the first count that is not the closed forms'.
pub fn without_engine(recipe: &Recipe, s: &Sums, page: &Page) -> Result<(), String> {
    knit(recipe, s, page, |_, _, _| Ok(())).map(|_| ())
}

/// Knits a page by hand, with `beside` looking on after each move: its step among all steps, its
/// number in the step.
fn knit(
    recipe: &Recipe,
    s: &Sums,
    page: &Page,
    mut beside: impl FnMut(&Hands, usize, usize) -> Result<(), String>,
) -> Result<Knitted, String> {
    let mut hands = hands_for(recipe);
    let mut stripes = Stripes::of(recipe);
    let mut moves = 0;
    let mut steps = 0;
    let mut sections = Vec::new();
    let mut expected = closed::expected(recipe, s).into_iter();
    for section in &page.sections {
        // A section without a round may be left out of a plan.
        let expect = expected
            .find(|e| e.section == section.kind || !e.states.is_empty())
            .filter(|e| e.section == section.kind)
            .ok_or_else(|| format!("section {} was not expected here", section.kind))?;
        hands.begin_section(section);
        let before = Done::so_far(section, &hands);
        let mut worked = 0;
        for (index, step) in section.steps.iter().enumerate() {
            let place = |mv: usize| format!("{} {} move {}", section.kind, index + 1, mv + 1);
            let yarn = stripes.next(&section.kind, step, hands.yarn);
            in_its_yarn(step, hands.yarn, yarn).map_err(|why| format!("{}: {why}", place(0)))?;
            for (m, mv) in step.moves.iter().enumerate() {
                hands
                    .work(mv, &step.form)
                    .map_err(|why| format!("{}: {why}", place(m)))?;
                beside(&hands, steps, m).map_err(|why| format!("{}: {why}", place(m)))?;
                moves += 1;
            }
            steps += 1;
            if step.form != "walk" {
                let due = expect.states.get(worked).filter(|_| !expect.walked);
                let due = due.ok_or_else(|| format!("{} is one too many", place(0)))?;
                as_due(&hands, due).map_err(|why| format!("{}: {why}", place(0)))?;
                look_at_fabric(recipe, s, section, index, worked, &hands)
                    .map_err(|why| format!("{}: {why}", place(0)))?;
                worked += 1;
            }
        }
        at_section_end(&hands, section, &expect, worked)?;
        sections.push(Done::so_far(section, &hands).since(&before));
    }
    if let Some(missing) = expected.find(|e| !e.states.is_empty()) {
        return Err(format!("section {} is missing", missing.section));
    }
    whole_sock(&hands, s)?;
    Ok(Knitted {
        moves,
        hands,
        sections,
    })
}

/// A sock knitted by hand.
struct Knitted {
    moves: usize,
    hands: Hands,
    /// What each section came to.
    sections: Vec<Done>,
}

/// A yarn is changed by the first thing done in a step, where the step wants another than the one in
/// hand, and nowhere else.
fn in_its_yarn(step: &Step, in_hand: char, due: char) -> Result<(), String> {
    for (m, mv) in step.moves.iter().enumerate() {
        for (o, op) in mv.ops.iter().enumerate() {
            match op {
                Do::Yarn(to) if (m, o) != (0, 0) => {
                    return Err(format!("yarn {to} is taken in the middle of a step"));
                }
                _ => {}
            }
        }
    }
    let first = step.moves.first().and_then(|mv| mv.ops.first());
    let taken = match first {
        Some(Do::Yarn(to)) => *to,
        _ => in_hand,
    };
    if taken == due {
        Ok(())
    } else {
        Err(format!("worked in yarn {taken}, not in {due}"))
    }
}

fn at_section_end(
    hands: &Hands,
    section: &Section,
    expect: &Expected,
    worked: usize,
) -> Result<(), String> {
    if expect.walked {
        for due in &expect.states {
            as_due(hands, due).map_err(|why| format!("at the end of {}: {why}", section.kind))?;
        }
    } else if worked != expect.states.len() {
        return Err(format!(
            "{} has {worked} rounds or rows, by the closed forms {}",
            section.kind,
            expect.states.len()
        ));
    }
    if hands.chart_progress.is_none()
        && !hands.instep_base.is_empty()
        && !matches!(section.kind.as_str(), "toe" | "leg" | "cuff")
    {
        straight_instep(hands)?;
    }
    if section.kind == "pick-up" {
        closed_or_fresh(hands)?;
    }
    if !hands.doubles.is_empty() {
        return Err(format!("{} leaves double stitches", section.kind));
    }
    Ok(())
}

/// What was picked up has not been knitted yet, or has been closed by a twist.
fn closed_or_fresh(hands: &Hands) -> Result<(), String> {
    for part in [Part::GussetLeft, Part::GussetRight] {
        for id in hands.of_part(part) {
            let how = hands.made[id].how;
            if !matches!(how, How::PickedUp | How::Twisted) {
                return Err(format!("a picked-up stitch is {how:?} after the pick-up"));
            }
        }
    }
    Ok(())
}

/// Engine and hands hold the same.
pub(super) fn agree(hands: &Hands, engine: &Needles) -> Result<(), String> {
    let (ours, theirs) = (Lie::of_hands(hands), Lie::of_engine(engine));
    // With no live stitches it does not matter where empty needles lie.
    if ours != theirs && !(ours.parts.is_empty() && theirs.parts.is_empty()) {
        return Err(format!("by hand {ours:?}\nthe engine has {theirs:?}"));
    }
    let parts = hands.parts();
    for (origin, count) in [
        (Origin::Back, parts[0]),
        (Origin::Front, parts[1]),
        (Origin::Heel, parts[2]),
        (Origin::GussetLeft, parts[3]),
        (Origin::Instep, parts[4]),
        (Origin::GussetRight, parts[5]),
        (Origin::Sole, parts[6]),
    ] {
        let counted = engine.stitches_of(origin);
        if u32::from(counted) != count {
            return Err(format!(
                "{count} {origin:?} stitches by hand, {counted} by the engine"
            ));
        }
    }
    let total = u32::from(engine.stitches());
    if total != parts.iter().sum::<u32>() {
        return Err(format!("the engine counts {total} stitches"));
    }
    let per_needle: Vec<u32> = engine.per_needle().iter().map(|n| u32::from(*n)).collect();
    if hands.joined && total > 0 && per_needle != hands.per_needle() {
        let by_hand = hands.per_needle();
        return Err(format!(
            "needles hold {by_hand:?} by hand, {per_needle:?} by the engine"
        ));
    }
    Ok(())
}

/// Hands hold what the closed forms say.
pub(super) fn as_due(hands: &Hands, due: &State) -> Result<(), String> {
    let held = State {
        needles: hands.per_needle(),
        parts: hands.parts(),
    };
    if held == *due {
        Ok(())
    } else {
        Err(format!("by hand {held:?}, by the closed forms {due:?}"))
    }
}
