//! Names and values before the knitting begins, in groups.

use evenloop_engine::plan::{Outcome, Plan, SectionKind};
use evenloop_engine::recipe::{Direction, Heel, Recipe, SockPart, Written};
use evenloop_engine::text::Wording;
use evenloop_engine::trace::Trace;
use evenloop_engine::units::LengthUnit;

use crate::text::sheet as says;

/// A name and its value.
pub(super) type Fact = (String, String);

pub(super) fn of(plan: &Plan, trace: &Trace, wording: Wording) -> Vec<(&'static str, Vec<Fact>)> {
    vec![
        (says::MADE_FOR, made_for(&plan.recipe, wording.unit)),
        (says::SOCK, sock(plan, trace, wording)),
    ]
}

fn made_for(recipe: &Recipe, unit: LengthUnit) -> Vec<Fact> {
    let mut facts = Vec::with_capacity(3);
    // a pattern of the knitter's own knows no foot
    let for_foot = |written: &Written| written.is_ours(SockPart::Foot);
    if recipe.written.as_ref().is_none_or(for_foot) {
        facts.push(fact(says::FOOT, recipe.foot.length.show(unit)));
        if let Some(round) = recipe.foot.circumference {
            facts.push(fact(says::BALL, round.show(unit)));
        }
    }
    let swatch = &recipe.swatch;
    let (width, height) = (swatch.width.show(unit), swatch.height.show(unit));
    let swatched = match swatch.guess {
        Some(_) => says::GUESS,
        None => says::SWATCH,
    };
    facts.push(fact(
        swatched,
        says::swatch(swatch.stitches, &width, swatch.rounds, &height),
    ));
    facts
}

fn sock(plan: &Plan, trace: &Trace, wording: Wording) -> Vec<Fact> {
    let Plan {
        recipe, outcome, ..
    } = plan;
    let mut facts = vec![
        fact(says::KNITTED, says::direction(recipe.direction)),
        fact(says::NEEDLES, says::needles(recipe.needles)),
    ];
    if let Some(one) = recipe.needles.seating() {
        facts.push(fact(says::AFTER_HEEL, says::seating(one)));
    }
    facts.push(fact(says::AROUND, says::stitches(outcome.stitches)));
    if outcome.cast_on != 0 && outcome.cast_on != outcome.stitches {
        facts.push(fact(says::AT_TOP, says::stitches(outcome.cast_on)));
    }
    if !plan.follows_pattern(SectionKind::HeelFlap) || outcome.flap_rows > 0 {
        facts.push(fact(says::HEEL, heel(plan, trace)));
    }
    facts.push(fact(says::TOE, toe(outcome)));
    facts.push(fact(says::MOST, says::stitches(outcome.peak)));
    facts.push(fact(
        says::ITS_YARN,
        says::yarn(outcome.metres, outcome.grams, wording.unit),
    ));
    // Any bind-off that is not sewn is worked from the ball.
    let tail = match recipe.direction {
        Direction::CuffDown => Some((says::CAST_ON_TAIL.to_owned(), outcome.cast_on_tail)),
        Direction::ToeUp if recipe.sews_edge() => {
            Some((says::bind_off_tail(wording), outcome.bind_off_tail))
        }
        Direction::ToeUp => None,
    };
    facts.extend(tail.map(|(name, length)| (name, says::about(&length.show_about(wording.unit)))));
    facts
}

fn heel(plan: &Plan, trace: &Trace) -> String {
    let Plan {
        recipe, outcome, ..
    } = plan;
    match recipe.heel {
        Heel::FlapAndGusset { .. } => match recipe.direction {
            Direction::CuffDown => says::flap(
                outcome.heel_stitches,
                outcome.flap_rows,
                outcome.turned,
                outcome.picked_up,
            ),
            Direction::ToeUp => says::flap_up(
                outcome.heel_stitches,
                outcome.flap_rows,
                taken_in(trace) / 2,
            ),
        },
        Heel::ShortRow { .. } => says::short_rows(outcome.heel_stitches),
        Heel::Afterthought { .. } => says::AFTERTHOUGHT.to_owned(),
    }
}

/// Gusset stitches that a flap from the toe up takes in, both sides together.
fn taken_in(trace: &Trace) -> u16 {
    let mut flap = trace
        .steps
        .iter()
        .filter(|s| s.kind == SectionKind::HeelFlap);
    let Some(first) = flap.next() else { return 0 };
    let last = flap.next_back().unwrap_or(first);
    let (before, after) = (first.before.stitches(), last.after().stitches());
    before.saturating_sub(after)
}

fn toe(outcome: &Outcome) -> String {
    match outcome.graft_pairs {
        0 => says::drawn_closed(outcome.toe_left),
        pairs => says::grafted(pairs),
    }
}

fn fact(name: &str, value: impl Into<String>) -> Fact {
    (name.to_owned(), value.into())
}
