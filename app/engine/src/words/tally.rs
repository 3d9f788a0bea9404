//! What a count means and how to mend it, in words.

use super::names::{origin_name, section_in_text};
use super::notes::listed;
use super::places::place;
use crate::needles::{Needles, Origin};
use crate::plan::Plan;
use crate::stitch::Op;
use crate::tally::Finding;
use crate::tally::seen::{Sign, Stretch};
use crate::trace::{Position, Trace};

/// A finding, told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Told {
    /// What it is.
    pub what: String,
    /// How to mend it, or what to do.
    pub mend: String,
    /// Where the count belongs, when that is another place.
    pub place: Option<Position>,
}

/// Tells what a count at a place means. `counted` is what [`crate::tally::check`] was given.
pub fn finding(
    plan: &Plan,
    trace: &Trace,
    at: Position,
    counted: &[u16],
    finding: Finding,
) -> Told {
    let expected = trace
        .needles_at(at)
        .map(Needles::per_needle)
        .unwrap_or_default();
    let on = |needle: usize| on_needle(needle, expected.len());
    let (what, mend) = match finding {
        Finding::Right if expected.is_empty() => (
            "All is right: nothing is on the needles yet.".to_owned(),
            "Cast on.".to_owned(),
        ),
        Finding::Right => (
            format!("All is right: {}.", listed(&expected)),
            "Knit on.".to_owned(),
        ),
        Finding::Fits(to) => return fits(plan, trace, at, to),
        Finding::MissedDecrease { needle, step } => missed_decrease(plan, trace, needle, step, &on(needle)),
        Finding::MissedIncrease { needle, step } => (
            format!(
                "One stitch too few{}: a stitch may not have been made in {}.",
                on(needle),
                place(plan, trace, Position { step, mv: 0 })
            ),
            "Where it is missing, lift the strand between two stitches onto the left needle and knit it through its back: that makes one.".to_owned(),
        ),
        Finding::PickedUpOneMore { needle } => (
            format!("One stitch too many{}: one more was picked up along the flap.", on(needle)),
            "Nothing has to be taken out. Knit two together once among the picked-up stitches, and the count is right.".to_owned(),
        ),
        Finding::PickedUpOneLess { needle } => (
            format!("One stitch too few{}: one less was picked up along the flap.", on(needle)),
            "Lift one more strand at the flap's edge, best where a hole would be, and knit it through its back.".to_owned(),
        ),
        Finding::ExtraStitch { needle } => (
            format!(
                "One stitch too many{}: a yarn over by accident, or a stitch that was split in two.",
                on(needle)
            ),
            "Look along the last rounds for a small hole or a stitch of half the yarn. Drop it down to there and pull its neighbours snug, or knit two together beside it.".to_owned(),
        ),
        Finding::DroppedStitch { needle } => (
            format!(
                "One stitch too few{}: it may have been dropped, or two were worked as one.",
                on(needle)
            ),
            "Look below the needle for an open loop and work it up with a crochet hook, strand by strand. If there is none, make one from the strand where two were taken together.".to_owned(),
        ),
        Finding::WrongNeedle => (
            format!(
                "All stitches are there, but some are on the wrong needle: it should be {}.",
                listed(&expected)
            ),
            shift(&expected, counted),
        ),
        Finding::Unexplained => (
            format!("No single slip explains this. It should be {}.", listed(&expected)),
            "Count once more, from the other end. If it stays so, “Where was I” finds the rounds that your count fits.".to_owned(),
        ),
    };
    Told {
        what,
        mend,
        place: None,
    }
}

fn fits(plan: &Plan, trace: &Trace, at: Position, to: Position) -> Told {
    let name = place(plan, trace, to);
    let (what, mend) = if to < at {
        (
            format!("This is what the needles carry before {name}: earlier than you thought."),
            "A touch too many may have counted a round that was not knitted. If your sock looks like that, go on there.",
        )
    } else {
        (
            format!("This is what the needles carry before {name}: further than you thought."),
            "A round may have been knitted without a touch. If your sock looks like that, go on there.",
        )
    };
    Told {
        what,
        mend: mend.to_owned(),
        place: Some(to),
    }
}

fn missed_decrease(
    plan: &Plan,
    trace: &Trace,
    needle: usize,
    step: usize,
    on: &str,
) -> (String, String) {
    let round = place(plan, trace, Position { step, mv: 0 });
    let side =
        side_of(trace, needle, step).map_or_else(String::new, |side| format!(", at the {side},"));
    let what =
        format!("One stitch too many{on}: the decrease of {round}{side} may have been missed.");
    let mend = match decreases(plan, trace, needle, step).as_slice() {
        [only] => format!(
            "Follow the line of decreases down to the round where one is missing. If that is only a round or two ago, work the {only} now, in the same line; nobody will see it."
        ),
        _ => "Follow the lines of decreases down to the round where one is missing. If that is only a round or two ago, work it now, in the same line; nobody will see it.".to_owned(),
    };
    (what, mend)
}

/// The side of the foot that a needle's decreases lie on, where it carries one side only.
fn side_of(trace: &Trace, needle: usize, step: usize) -> Option<&'static str> {
    let before = &trace.steps.get(step)?.before;
    let carries = |wanted: Origin| before.holds(needle, |o| o == wanted);
    match (carries(Origin::GussetLeft), carries(Origin::GussetRight)) {
        (true, false) => Some(origin_name(Origin::GussetLeft)),
        (false, true) => Some(origin_name(Origin::GussetRight)),
        _ => None,
    }
}

/// The decreases that a step works on a needle, each told once.
fn decreases(plan: &Plan, trace: &Trace, needle: usize, step: usize) -> Vec<&'static str> {
    let mut told: Vec<&'static str> = Vec::new();
    let (Some(done), Some(seen)) = (plan.step(step), trace.steps.get(step)) else {
        return told;
    };
    for (mv, passes) in done.moves.iter().zip(&seen.moves) {
        let here = passes.passes.iter().filter(|p| p.needle == needle);
        for op in here.filter_map(|p| mv.ops.get(p.ops.clone())).flatten() {
            told.extend(match op {
                Op::K2tog => Some("k2tog"),
                Op::Ssk => Some("ssk"),
                Op::P2tog => Some("p2tog"),
                _ => None,
            });
        }
    }
    told
}

/// How to bring stitches to the needle where they belong, from one needle to its neighbour.
fn shift(expected: &[u16], counted: &[u16]) -> String {
    let mut carried = 0_i32;
    let mut told = Vec::new();
    for (i, (e, c)) in expected.iter().zip(counted).enumerate() {
        carried += i32::from(*c) - i32::from(*e);
        let (this, next) = (i + 1, i + 2);
        match carried {
            0 => {}
            n if n > 0 => told.push(format!("{n} from needle {this} to needle {next}")),
            n => told.push(format!("{} from needle {next} to needle {this}", -n)),
        }
    }
    format!("Slip {}, without working them.", told.join(", "))
}

/// " on needle 2"; nothing where there is only one.
fn on_needle(needle: usize, of: usize) -> String {
    if of > 1 {
        format!(" on needle {}", needle + 1)
    } else {
        String::new()
    }
}

/// What to count in the knitting, asked as a question.
pub fn sign(stretch: &Stretch) -> String {
    let part = section_in_text(stretch.kind);
    match stretch.sign {
        Sign::Rounds => format!("Rounds of the {part} you can count, in one column of stitches"),
        Sign::Chains => "Chains along one edge of the heel flap".to_owned(),
        Sign::Decreases => format!("Decreases along one line of the {part}"),
        Sign::Increases => format!("Stitches made along one line of the {part}"),
    }
}

/// One step of a stretch, and what kind of round it is: "Round 6 of the gusset, plain round", as the beginning of a sentence.
pub fn spot(plan: &Plan, trace: &Trace, step: usize) -> String {
    let at = Position { step, mv: 0 };
    let here = capital(&place(plan, trace, at));
    let shape = trace
        .steps
        .get(step)
        .zip(plan.move_at(at))
        .and_then(|(seen, (step, mv))| super::shape(seen.kind, step, mv.cue));
    match shape {
        Some(shape) => format!("{here}, {shape}"),
        None => here,
    }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{SectionKind, make};
    use crate::recipe::{Method, Recipe, Seating};
    use crate::tally::check;

    fn sock(needles: Method) -> (Plan, Trace) {
        let plan = make(&Recipe {
            stitches: Some(64),
            needles,
            ..Recipe::default()
        })
        .expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        (plan, trace)
    }

    fn at(trace: &Trace, kind: SectionKind, index: usize) -> Position {
        let step = trace
            .steps
            .iter()
            .position(|s| s.kind == kind && s.index == index)
            .expect("there is such a step");
        Position { step, mv: 0 }
    }

    fn told(needles: Method, place: (SectionKind, usize), counted: &[u16]) -> Vec<Told> {
        let (plan, trace) = sock(needles);
        let at = at(&trace, place.0, place.1);
        check(&plan, &trace, at, counted)
            .into_iter()
            .map(|f| finding(&plan, &trace, at, counted, f))
            .collect()
    }

    #[test]
    fn a_missed_decrease_names_its_side_and_its_kind() {
        let halves = Method::default();
        let said = told(halves, (SectionKind::Gusset, 1), &[41, 40]);
        assert_eq!(
            said[0].what,
            "One stitch too many on needle 1: the decrease of round 1 of the gusset, at the left gusset, may have been missed."
        );
        assert!(said[0].mend.contains("work the k2tog now"), "{said:?}");
        let said = told(halves, (SectionKind::Gusset, 1), &[40, 41]);
        assert!(said[0].what.contains("at the right gusset"), "{said:?}");
        assert!(said[0].mend.contains("work the ssk now"), "{said:?}");
    }

    #[test]
    fn a_needle_with_both_sides_names_none() {
        let apart = Method::MagicLoop {
            seating: Seating::InstepAndSole,
        };
        let said = told(apart, (SectionKind::Gusset, 1), &[49, 32]);
        assert!(
            said[0]
                .what
                .starts_with("One stitch too many on needle 1: the decrease of round 1")
        );
        assert!(!said[0].what.contains("at the"), "{said:?}");
    }

    #[test]
    fn stitches_on_the_wrong_needle_are_told_where_to_go() {
        let said = told(Method::default(), (SectionKind::Leg, 3), &[30, 34]);
        assert_eq!(
            said[0].mend,
            "Slip 2 from needle 2 to needle 1, without working them."
        );
        let said = told(Method::FourDpns, (SectionKind::Leg, 3), &[22, 20, 22]);
        assert!(said[0].what.contains("wrong needle"), "{said:?}");
    }

    #[test]
    fn empty_needles_are_right_before_the_cast_on() {
        let said = told(Method::default(), (SectionKind::CastOn, 0), &[0]);
        assert_eq!(said[0].what, "All is right: nothing is on the needles yet.");
    }

    #[test]
    fn another_round_can_be_gone_to() {
        let said = told(Method::default(), (SectionKind::Toe, 4), &[30, 30]);
        assert!(said[0].place.is_some());
        assert!(
            said[0].what.contains("earlier than you thought"),
            "{said:?}"
        );
    }

    #[test]
    fn one_needle_alone_has_no_number() {
        let said = told(Method::ShortCircular, (SectionKind::Leg, 3), &[63]);
        assert!(said[0].what.starts_with("One stitch too few: "), "{said:?}");
    }
}
