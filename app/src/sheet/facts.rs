//! Names and values before the knitting begins, in groups.

use evenloop_engine::plan::{Outcome, Plan};
use evenloop_engine::recipe::{BindOff, Direction, Heel, Recipe};
use evenloop_engine::text::Wording;
use evenloop_engine::units::{Length, LengthUnit};

use crate::text::sheet as says;

/// A name and its value.
pub(super) type Fact = (String, String);

pub(super) fn of(plan: &Plan, wording: Wording) -> Vec<(&'static str, Vec<Fact>)> {
    let Plan {
        recipe, outcome, ..
    } = plan;
    let mut yarn = vec![(
        says::ONE_SOCK.to_owned(),
        says::yarn(outcome.metres, outcome.grams),
    )];
    yarn.extend(
        outcome
            .yarns
            .iter()
            .map(|one| (says::of_it(one.yarn), says::yarn(one.metres, one.grams))),
    );
    vec![
        (says::MADE_FOR, made_for(recipe, wording.unit)),
        (says::SOCK, sock(recipe, outcome, wording)),
        (says::YARN, yarn),
    ]
}

fn made_for(recipe: &Recipe, unit: LengthUnit) -> Vec<Fact> {
    let mut facts = vec![fact(says::FOOT, recipe.foot.length.show(unit))];
    if let Some(round) = recipe.foot.circumference {
        facts.push(fact(says::BALL, round.show(unit)));
    }
    let swatch = &recipe.swatch;
    let (width, height) = (swatch.width.show(unit), swatch.height.show(unit));
    facts.push(fact(
        says::SWATCH,
        says::swatch(swatch.stitches, &width, swatch.rounds, &height),
    ));
    facts
}

fn sock(recipe: &Recipe, outcome: &Outcome, wording: Wording) -> Vec<Fact> {
    let mut facts = vec![
        fact(says::KNITTED, says::direction(recipe.direction)),
        fact(says::NEEDLES, says::needles(recipe.needles)),
    ];
    if let Some(size) = recipe.swatch.needle {
        facts.push(fact(says::THEIR_SIZE, size.to_string()));
        let thicker = recipe.direction == Direction::ToeUp && recipe.bind_off == BindOff::Plain;
        if let Some(larger) = size.larger().filter(|_| thicker) {
            facts.push(fact(says::LAST_ROUND, larger.to_string()));
        }
    }
    if let Some(one) = recipe.needles.seating() {
        facts.push(fact(says::AFTER_HEEL, says::seating(one)));
    }
    facts.push(fact(says::AROUND, says::stitches(outcome.stitches)));
    if outcome.cast_on != 0 && outcome.cast_on != outcome.stitches {
        facts.push(fact(says::AT_TOP, says::stitches(outcome.cast_on)));
    }
    facts.push(fact(says::HEEL, heel(recipe.heel, outcome)));
    facts.push(fact(says::TOE, toe(outcome)));
    facts.push(fact(says::MOST, says::stitches(outcome.peak)));
    let (tail, length) = match recipe.direction {
        Direction::CuffDown => (says::CAST_ON_TAIL.to_owned(), outcome.cast_on_tail),
        Direction::ToeUp => (says::bind_off_tail(wording), outcome.bind_off_tail),
    };
    if length != Length::default() {
        facts.push((tail, says::about(&length.show(wording.unit))));
    }
    facts
}

fn heel(heel: Heel, outcome: &Outcome) -> String {
    match heel {
        Heel::FlapAndGusset { .. } => says::flap(
            outcome.heel_stitches,
            outcome.flap_rows,
            outcome.turned,
            outcome.picked_up,
        ),
        Heel::ShortRow { .. } => says::short_rows(outcome.heel_stitches),
        Heel::Afterthought => says::AFTERTHOUGHT.to_owned(),
    }
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
