//! What planning anew changes, in words.

use super::section_name;
use crate::plan::{Change, Form, Plan};
use crate::recipe::{Method, Seating};
use crate::units::{Length, LengthUnit};

/// One change in a sentence; lengths in the knitter's unit.
pub fn change(change: Change, new: &Plan, unit: LengthUnit) -> String {
    let show = |length: Length| length.show(unit);
    match change {
        Change::Needles { from, to } => needles(from, to),
        Change::Section {
            kind,
            before,
            after: 0,
        } => {
            format!("{}: no longer ({before} before).", section_name(kind))
        }
        Change::Section {
            kind,
            before,
            after,
        } => {
            let section = new.sections.iter().find(|s| s.kind == kind);
            let has = |wanted: fn(Form) -> bool| {
                section.is_some_and(|s| s.steps.iter().any(|step| wanted(step.form)))
            };
            let parts = match after {
                1 if has(|f| f == Form::Round) => "round",
                1 if has(|f| f != Form::Walk) => "row",
                1 => "step",
                _ if has(|f| f == Form::Round) => "rounds",
                _ if has(|f| f != Form::Walk) => "rows",
                _ => "steps",
            };
            let name = section_name(kind);
            match before {
                0 => format!("{name}: new, {after} {parts}."),
                _ => format!("{name}: {after} {parts} instead of {before}."),
            }
        }
        Change::Foot { before, after } => {
            format!(
                "The foot comes to {} instead of {}.",
                show(after),
                show(before)
            )
        }
        Change::Leg { before, after } => {
            format!(
                "The leg comes to {} instead of {}.",
                show(after),
                show(before)
            )
        }
        Change::Yarn { before, after } => {
            format!("One sock takes {after}\u{a0}m of yarn instead of {before}\u{a0}m.")
        }
    }
}

fn needles(from: Method, to: Method) -> String {
    let same = std::mem::discriminant(&from) == std::mem::discriminant(&to);
    match to.seating() {
        Some(seating) if same => format!(
            "The stitches are shared out anew: {}.",
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
        Method::MagicLoop { .. } => "one long circular needle, with the loop",
        Method::TwoCirculars { .. } => "two circular needles",
        Method::FourDpns => "a set of four double-pointed needles",
        Method::FiveDpns => "a set of five double-pointed needles",
        Method::ShortCircular => "one short circular needle",
    }
}
