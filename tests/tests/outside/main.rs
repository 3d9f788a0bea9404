//! Values from outside the engine: published figures, common practice, known cases. Each row says
//! where it is from: a published source, "common practice, no source", "from memory", or "worked
//! out by hand" for what anyone can recount.

mod fabric;
mod fit;
mod hands;
mod heel;
mod needles;
mod panel;
mod shoes;
mod toe;
mod weights;
mod yarn;

use evenloop_engine::foot::Foot;
use evenloop_engine::plan::{Outcome, Plan, SectionKind, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::swatch::Swatch;
use evenloop_engine::units::Length;
use evenloop_engine::wire::write_plan;
use evenloop_tests::model::page::{self, Do, Page};

/// A source that many know and none has to themselves.
const PRACTICE: &str = "common practice, no source";
const MEMORY: &str = "from memory";

/// The gauge at which the tables below are worked: 30 stitches and 42 rounds to 10 cm.
const GAUGE: Swatch = gauge(30, 42);

const fn gauge(stitches: u16, rounds: u16) -> Swatch {
    Swatch {
        unwashed: None,
        needle: None,
        pattern: None,
        pattern_rounds: None,
        flap: None,
        guess: None,
        stitches,
        width: Length::cm(10),
        rounds,
        height: Length::cm(10),
    }
}

/// A sock of so many stitches on a foot long enough for any of them.
fn sock_of(stitches: u16) -> Recipe {
    Recipe {
        foot: Foot {
            length: Length::cm(34),
            circumference: None,
            heel_diagonal: None,
        },
        stitches: Some(stitches),
        ..Recipe::default()
    }
}

fn plan(recipe: &Recipe) -> Plan {
    make(recipe).unwrap_or_else(|errors| panic!("{errors:?} for {recipe:?}"))
}

fn page(recipe: &Recipe) -> Page {
    page::read(&write_plan(&plan(recipe))).unwrap_or_else(|why| panic!("unreadable: {why}"))
}

fn steps(outcome: &Outcome, kind: SectionKind) -> u16 {
    outcome
        .sections
        .iter()
        .find(|s| s.kind == kind)
        .map_or(0, |s| s.steps)
}

/// Whether two numbers are the same as far as the printed digits go.
fn close(ours: f64, printed: f64, half_digit: f64) -> bool {
    (ours - printed).abs() <= half_digit + 1e-9
}

/// Rounds of a section of the written plan, and those of them with a decrease.
fn rounds(page: &Page, kind: &str) -> (usize, usize) {
    let section = page.sections.iter().find(|s| s.kind == kind);
    let rounds: Vec<_> = section
        .iter()
        .flat_map(|s| &s.steps)
        .filter(|s| s.form == "round")
        .collect();
    let shaped = rounds
        .iter()
        .filter(|r| {
            r.moves[0]
                .ops
                .iter()
                .any(|op| matches!(op, Do::K2tog | Do::Ssk))
        })
        .count();
    (rounds.len(), shaped)
}
