//! Every word of the sheet that is not the engine's. Another language needs another of these files
//! and nothing else.

use evenloop_engine::plan::{Outcome, Plan, Step};
use evenloop_engine::recipe::{BindOff, Direction, Heel, Method, Place, Recipe, Seating};
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::words::{English, Wording};

pub(super) const ROUND: (&str, &str) = ("Round", "Rounds");
pub(super) const ROW: (&str, &str) = ("Row", "Rows");

pub(super) const MIND: &str = "To think about";
pub(super) const TABLE: &str = "Section by section";
pub(super) const COLUMNS: [&str; 4] = ["Section", "Rounds", "Height", "Yarn"];
pub(super) const YARN_NOTE: &str = "Yarn is an estimate, for one sock and without reserve here; a washed swatch and the foot itself decide.";
pub(super) const MOTIF: &str = "Motif";
pub(super) const CHART: &str = "The motif's chart, the same rounds as in the list";
pub(super) const MOTIF_NOTE: &str = "Each line is one repeat of a round, read in the order knitted; a chart is read from right to left, upward.";
pub(super) const KNITTING: &str = "Knitting";
pub(super) const KNIT_TWO: &str =
    "All of it is for one sock; the second is knitted like the first. Tick what is done.";
pub(super) const KNIT_MIRRORED: &str = "All of it is for one sock; the second is its mirror image, for the other foot. Tick what is done.";
pub(super) const CHART_TICKS: &str = "In a round “the chart” is the next round of the motif above. A box holds the number of its round and, smaller, that of the chart's.";
pub(super) const NEEDLE: &str = "Needle";
pub(super) const NEEDLES: &str = "Needles";
pub(super) const ALL: &str = "On all needles";

/// Moves of a walk that are the same, numbers from 1.
pub(super) fn moves(first: usize, last: usize, walk: &Step) -> String {
    format!("Moves {first} to {last} of {}", walk.moves.len())
}

/// What the sheet is called.
pub(super) fn title(plan: &Plan, name: Option<&str>) -> String {
    match name {
        Some(name) => name.to_owned(),
        None => format!("A pair of socks, {} stitches around", plan.outcome.stitches),
    }
}

const fn direction(direction: Direction) -> &'static str {
    match direction {
        Direction::CuffDown => "from the cuff down",
        Direction::ToeUp => "from the toe up",
    }
}

const fn needles(method: Method) -> &'static str {
    match method {
        Method::MagicLoop { .. } => "magic loop",
        Method::TwoCirculars { .. } => "two circular needles",
        Method::FourDpns => "four double-pointed needles",
        Method::FiveDpns => "five double-pointed needles",
        Method::ShortCircular => "one short circular needle",
    }
}

const fn seating(seating: Seating) -> &'static str {
    match seating {
        Seating::EvenHalves => "in even halves, the round beginning at the middle of the sole",
        Seating::InstepAndSole => "instep and sole apart, the round beginning at the side",
    }
}

/// Where the motif is knitted.
pub(super) const fn place(place: Place) -> &'static str {
    match place {
        Place::AllRound => "all round the leg, and on the instep",
        Place::Front => "on the front of the leg and on the instep",
    }
}

/// Metres of so many decimetres, in words.
pub(super) fn yarn(decimetres: u32) -> String {
    match decimetres {
        0 => String::new(),
        _ => format!("{}\u{a0}m", decimetres.div_ceil(10)),
    }
}

fn metres(metres: u32, grams: Option<u32>) -> String {
    match grams {
        Some(grams) => format!("about {metres}\u{a0}m, {grams}\u{a0}g"),
        None => format!("about {metres}\u{a0}m"),
    }
}

fn heel(heel: Heel, outcome: &Outcome) -> String {
    match heel {
        Heel::FlapAndGusset { .. } => format!(
            "flap of {} stitches and {} rows, with a gusset; {} left after the turn, {} picked up on each side",
            outcome.heel_stitches, outcome.flap_rows, outcome.turned, outcome.picked_up
        ),
        Heel::ShortRow { .. } => format!("in short rows, over {} stitches", outcome.heel_stitches),
        Heel::Afterthought => "afterthought, knitted last".to_owned(),
    }
}

fn toe(outcome: &Outcome) -> String {
    match outcome.graft_pairs {
        0 => format!("{} stitches, drawn closed", outcome.toe_left),
        pairs => format!("{pairs} and {pairs} stitches at the tip"),
    }
}

fn swatch(recipe: &Recipe, unit: LengthUnit) -> String {
    let swatch = &recipe.swatch;
    format!(
        "{} stitches over {}, {} rounds over {}",
        swatch.stitches,
        swatch.width.show(unit),
        swatch.rounds,
        swatch.height.show(unit)
    )
}

/// Names and values before the knitting begins, in groups.
pub(super) fn facts(plan: &Plan, wording: Wording) -> Vec<(&'static str, Vec<(String, String)>)> {
    let Plan {
        recipe, outcome, ..
    } = plan;
    let unit = wording.unit;
    let shown = |length: Length| length.show(unit);
    let mut made_for = vec![("Foot", shown(recipe.foot.length))];
    if let Some(round) = recipe.foot.circumference {
        made_for.push(("Round the ball", shown(round)));
    }
    made_for.push(("Swatch, washed", swatch(recipe, unit)));
    let mut knitted = vec![
        ("Knitted", direction(recipe.direction).to_owned()),
        ("Needles", needles(recipe.needles).to_owned()),
    ];
    if let Some(size) = recipe.swatch.needle {
        knitted.push(("Their size", size.to_string()));
        let thicker = recipe.direction == Direction::ToeUp && recipe.bind_off == BindOff::Plain;
        if let Some(larger) = size.larger().filter(|_| thicker) {
            knitted.push(("For the last round", larger.to_string()));
        }
    }
    if let Some(one) = recipe.needles.seating() {
        knitted.push(("After the heel", seating(one).to_owned()));
    }
    knitted.push(("Around", format!("{} stitches", outcome.stitches)));
    if outcome.cast_on != 0 && outcome.cast_on != outcome.stitches {
        knitted.push(("At the top", format!("{} stitches", outcome.cast_on)));
    }
    knitted.push(("Heel", heel(recipe.heel, outcome)));
    knitted.push(("Toe", toe(outcome)));
    knitted.push(("Most at once", format!("{} stitches", outcome.peak)));
    let tail = match recipe.direction {
        Direction::CuffDown => ("Tail for the cast-on", outcome.cast_on_tail),
        Direction::ToeUp if wording.english == English::British => {
            ("Tail for the cast-off", outcome.bind_off_tail)
        }
        Direction::ToeUp => ("Tail for the bind-off", outcome.bind_off_tail),
    };
    if tail.1 != Length::default() {
        knitted.push((tail.0, format!("about {}", shown(tail.1))));
    }
    let mut yarn = vec![("One sock".to_owned(), metres(outcome.metres, outcome.grams))];
    yarn.extend(outcome.yarns.iter().map(|one| {
        (
            format!("of it yarn {}", one.yarn.letter()),
            metres(one.metres, one.grams),
        )
    }));
    let owned = |facts: Vec<(&str, String)>| {
        facts
            .into_iter()
            .map(|(name, value)| (name.to_owned(), value))
            .collect()
    };
    vec![
        ("Made for", owned(made_for)),
        ("The sock", owned(knitted)),
        ("Yarn, a tenth of reserve included", yarn),
    ]
}

/// What the letters on the drawing stand for.
pub(super) const SCHEMATIC: &str = "Finished measurements";
/// Names of the measured lengths, in the order of their letters.
pub(super) const MEASURES: [&str; 4] = [
    "Round the sock",
    "Leg, cuff included",
    "Cuff",
    "Foot, heel to tip",
];
