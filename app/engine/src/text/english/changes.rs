//! What planning anew changes, in sentences.

use super::names::section_name;
use crate::plan::Change;
use crate::recipe::{Method, Seating};
use crate::text::messages::Steps;
use crate::text::wording::Wording;
use crate::yarn_amount::show_metres;

/// One change; `steps` are those of a section.
pub(crate) fn change(change: Change, steps: Steps, wording: Wording) -> String {
    let Wording { unit, english, .. } = wording;
    match change {
        Change::Needles { from, to } => needles(from, to),
        Change::Section {
            kind,
            before,
            after: 0,
        } => {
            format!(
                "{}: no longer ({before} before).",
                section_name(kind, english)
            )
        }
        Change::Section {
            kind,
            before,
            after,
        } => {
            let name = section_name(kind, english);
            let after = match (steps, after) {
                (Steps::Rounds, 1) => "1 round".into(),
                (Steps::Rows, 1) => "1 row".into(),
                (Steps::Moves, 1) => "1 step".into(),
                (Steps::Rounds, n) => format!("{n} rounds"),
                (Steps::Rows, n) => format!("{n} rows"),
                (Steps::Moves, n) => format!("{n} steps"),
            };
            match before {
                0 => format!("{name}: new, {after}."),
                _ => format!("{name}: {after} instead of {before}."),
            }
        }
        Change::Foot { before, after } => format!(
            "The foot comes to {} instead of {}.",
            after.show(unit),
            before.show(unit)
        ),
        Change::Leg { before, after } => format!(
            "The leg comes to {} instead of {}.",
            after.show(unit),
            before.show(unit)
        ),
        Change::Yarn { before, after } => format!(
            "One sock takes {} of yarn instead of {}.",
            show_metres(after, unit),
            show_metres(before, unit)
        ),
    }
}

fn needles(from: Method, to: Method) -> String {
    let same = std::mem::discriminant(&from) == std::mem::discriminant(&to);
    match to.seating() {
        Some(seating) if same => format!(
            "The stitches are divided differently: {}.",
            match seating {
                Seating::EvenHalves => "even halves, the round beginning in the middle of the sole",
                Seating::InstepAndSole => "instep and sole on a needle each",
            }
        ),
        _ => format!("The stitches move to {}.", method(to)),
    }
}

const fn method(method: Method) -> &'static str {
    match method {
        Method::MagicLoop { .. } => "one long circular needle (magic loop)",
        Method::TwoCirculars { .. } => "two circular needles",
        Method::FourDpns => "a set of four double-pointed needles",
        Method::FiveDpns => "a set of five double-pointed needles",
        Method::ShortCircular { .. } => "one short circular needle",
    }
}
