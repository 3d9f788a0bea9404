//! Which abbreviations the words of a whole plan use: what the key on its paper has to explain, and nothing
//! else.
//!
//! May use plans, traces and the pieces that lines are made of. Which piece is said with which abbreviation is
//! the language's business.

use super::instructions::pieces_on_paper;
use super::language;
use super::line;
use super::messages::Abbreviation;
use super::wording::Wording;
use crate::plan::Plan;
use crate::recipe::Row;
use crate::sort::sort;
use crate::trace::{Position, Trace};

/// Every abbreviation in the words of a plan on paper and of its motif, each once, in the order of the alphabet.
/// See [`super::instructions_on_paper`] and [`super::motif_row`].
pub fn abbreviations(plan: &Plan, trace: &Trace, wording: Wording) -> Vec<Abbreviation> {
    let mut found = Vec::new();
    let mut at = Position::default();
    while at < trace.end() {
        for pieces in pieces_on_paper(plan, trace, at, wording) {
            language::abbreviated(&pieces, wording, &mut found);
        }
        at = trace.advance(at);
    }
    let rows = plan.recipe.motif.iter().flat_map(|motif| &motif.rows);
    for pieces in rows.map(Row::ops).map(line::alone) {
        language::abbreviated(&pieces, wording, &mut found);
    }
    let key = |one: &Abbreviation| one.short(wording).to_lowercase();
    let mut keyed: Vec<(String, Abbreviation)> = Vec::with_capacity(found.len());
    for one in found {
        if keyed.iter().all(|(_, other)| *other != one) {
            keyed.push((key(&one), one));
        }
    }
    sort(&mut keyed, |(a, _), (b, _)| a < b);
    keyed.into_iter().map(|(_, one)| one).collect()
}
