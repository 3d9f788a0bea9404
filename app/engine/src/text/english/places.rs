//! Places in the sock, and the way from one to another.

use super::lists::joined;
use super::names::{section_in_text, shape};

use crate::plan::SectionKind;
use crate::tally::seen::{CountableSign, SimilarSteps};
use crate::text::messages::{Between, NamedPlace, StepShape};
use crate::text::variety::English;

/// "round 8 of the gusset".
pub(crate) fn place(place: NamedPlace, english: English) -> String {
    match place {
        NamedPlace::Round(n, part) => {
            format!("round {n} of the {}", section_in_text(part, english))
        }
        NamedPlace::Row(n, part) => format!("row {n} of the {}", section_in_text(part, english)),
        NamedPlace::Move(n, part) => format!("step {n} of the {}", section_in_text(part, english)),
        NamedPlace::End => "the end of the sock".into(),
    }
}

/// "Needle 1 of round 8 of the gusset is done."
pub(crate) fn within_round(round: NamedPlace, needles: usize, english: English) -> String {
    done_of(&place(round, english), needles)
}

fn done_of(round: &str, needles: usize) -> String {
    match needles {
        0 => format!("Nothing of {round} is done."),
        1 => format!("Needle 1 of {round} is done."),
        2 => format!("Needles 1 and 2 of {round} are done."),
        last => format!("Needles 1 to {last} of {round} are done."),
    }
}

/// The same at the beginning of a sentence.
fn place_capital(place: NamedPlace, english: English) -> String {
    match place {
        NamedPlace::Round(n, part) => {
            format!("Round {n} of the {}", section_in_text(part, english))
        }
        NamedPlace::Row(n, part) => format!("Row {n} of the {}", section_in_text(part, english)),
        NamedPlace::Move(n, part) => format!("Step {n} of the {}", section_in_text(part, english)),
        NamedPlace::End => "The end of the sock".into(),
    }
}

/// A place with what kind of round it is: "Round 6 of the gusset, plain round".
pub(crate) fn place_with_shape(
    place: NamedPlace,
    kind: Option<StepShape>,
    english: English,
) -> String {
    let here = place_capital(place, english);
    match kind {
        Some(kind) => format!("{here}, {}", shape(kind)),
        None => here,
    }
}

/// "Back by 12 rounds, to round 8 of the gusset."; then, of how many needles of that round are done.
pub(crate) fn way(
    back: bool,
    by: Between,
    to: NamedPlace,
    needles: usize,
    english: English,
) -> String {
    let way = format!(
        "{} by {}, to {}.",
        direction(back),
        between(by),
        place(to, english)
    );
    match needles {
        0 => way,
        needles => format!("{way} {}", done_of("it", needles)),
    }
}

/// "Forward to needle 2 of round 8 of the gusset.": within one round, after so many of its needles.
pub(crate) fn way_within(
    back: bool,
    round: NamedPlace,
    needles: usize,
    english: English,
) -> String {
    let (way, round) = (direction(back), place(round, english));
    match needles {
        0 => format!("{way} to the beginning of {round}."),
        done => format!("{way} to needle {} of {round}.", done + 1),
    }
}

/// "3 rounds of the foot and 9 rounds of the gusset".
pub(crate) fn parts(parts: &[(SectionKind, Between)], english: English) -> String {
    let said: Vec<String> = parts
        .iter()
        .map(|(part, by)| {
            format!(
                "{} of the {}",
                between(*by),
                section_in_text(*part, english)
            )
        })
        .collect();
    joined(&said)
}

/// "Back from round 20 of the gusset to round 8 of the gusset."
pub(crate) fn jumped(back: bool, from: NamedPlace, to: NamedPlace, english: English) -> String {
    format!(
        "{} from {} to {}.",
        direction(back),
        place(from, english),
        place(to, english)
    )
}

const fn direction(back: bool) -> &'static str {
    if back { "Back" } else { "Forward" }
}

/// Rounds and rows; single moves only where there is nothing else.
fn between(by: Between) -> String {
    let Between {
        rounds,
        rows,
        moves,
    } = by;
    let mut said = Vec::new();
    match rounds {
        0 => {}
        1 => said.push("1 round".into()),
        n => said.push(format!("{n} rounds")),
    }
    match rows {
        0 => {}
        1 => said.push("1 row".into()),
        n => said.push(format!("{n} rows")),
    }
    if said.is_empty() {
        match moves {
            0 => {}
            1 => said.push("1 step".into()),
            n => said.push(format!("{n} steps")),
        }
    }
    joined(&said)
}

/// What to count in the knitting, asked as a question.
pub fn sign(stretch: &SimilarSteps, english: English) -> String {
    let part = section_in_text(stretch.kind, english);
    match stretch.sign {
        CountableSign::Rounds => {
            format!("Rounds of the {part} you can count, in one column of stitches")
        }
        CountableSign::Chains => "Chains along one edge of the heel flap".into(),
        CountableSign::Decreases => format!("Decreases along one line of the {part}"),
        CountableSign::Increases => format!("Stitches made along one line of the {part}"),
    }
}
