//! How the loops of a closed cast-on, and those of a tubular one, come to lie on the needles, read from the words
//! alone: where the points are, which way the yarn goes round each needle, when the needles are turned. The first
//! rounds have to work each of them as it lies.
//!
//! Anyone can try it with a rope and two sticks. That strands which go round their needles from behind, one
//! to the finger above and one to the thumb below, hook into each other there is worked out by hand: each has to pass
//! the other on its way. Where one lies behind the needles and the other before them they pass nothing, and
//! the toe falls open.

use evenloop_engine::plan::make;
use evenloop_engine::recipe::{CastOn, Cuff, Direction, Edge, Method, Recipe, Rib, ToeCastOn};
use evenloop_engine::stitch::Op;
use evenloop_engine::text::{KnittingHand, Wording, instructions};
use evenloop_engine::trace::{Position, Trace};

use super::STYLES;
use super::body::{Body, Side};

/// Which side of its needle a strand lays its leg on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Leg {
    Before,
    Behind,
}

/// The leg that a strand lays first on its way round a needle.
fn first_leg(way: &str) -> Result<Leg, String> {
    match (way.find("behind"), way.find("front")) {
        (Some(behind), Some(front)) if behind < front => Ok(Leg::Behind),
        (_, Some(_)) => Ok(Leg::Before),
        _ => Err(format!("{way:?} goes round nothing")),
    }
}

/// The side that the points are said to lie on.
fn points(note: &str) -> Option<Side> {
    let (_, after) = note.split_once("oints to the ")?;
    Side::read(after.split([' ', ',', '.', ':']).next()?)
}

/// The side on which the leg in front lies: loops are laid towards the points, so the first leg is on the
/// other side. Where the work is turned like a wheel before they are knitted, they lie the other way.
fn in_front(first: Leg, points: Side, turned: bool) -> Side {
    let first_lies = points.other();
    let front = if first == Leg::Before {
        first_lies
    } else {
        first_lies.other()
    };
    if turned { front.other() } else { front }
}

/// The sides of the legs in front, on the needle that is knitted first and on the other.
fn read(notes: &[String], body: Body) -> Result<[Side; 2], String> {
    let all = notes.join(" ");
    let held = points(&all).ok_or("nothing says where the points are")?;
    let sentence = |words: &str| {
        let mut found = all.split(". ").filter(|s| s.contains(words));
        found.next().ok_or(format!("nothing is said of {words:?}"))
    };
    if all.contains("again and again") {
        // One yarn round both: what goes up behind the upper needle comes down before the lower one.
        let way = sentence("up behind both")?;
        let upper = first_leg(way.split_once("to the back, ").map_or(way, |(_, up)| up))?;
        let lower = match upper {
            Leg::Behind => Leg::Before,
            Leg::Before => Leg::Behind,
        };
        sentence("The upper needle is knitted first")?;
        if held != body.takes {
            return Err("the points are not where the upper needle is knitted from".into());
        }
        return Ok([in_front(upper, held, false), in_front(lower, held, true)]);
    }
    let way = sentence("the finger’s strand")?;
    let (lower, upper) = way.split_once("; then ").ok_or("one strand is missing")?;
    let (lower, upper) = (first_leg(lower)?, first_leg(upper)?);
    if [lower, upper] != [Leg::Behind; 2] {
        return Err("the strands do not pass each other: the toe is open".into());
    }
    sentence("the lower needle lies above now")?;
    Ok([in_front(lower, held, true), in_front(upper, held, false)])
}

/// The needles of the first round: whether their stitches are knitted through the back loop.
fn through_the_back(ops: &[Op]) -> [bool; 2] {
    let mut needles = ops.split(|op| *op == Op::Next).map(|ops| {
        ops.iter()
            .any(|op| matches!(op, Op::KnitThroughBackLoop(_)))
    });
    [(); 2].map(|()| needles.next().unwrap_or(false))
}

#[test]
fn each_loop_of_a_closed_cast_on_is_knitted_as_its_words_lay_it() {
    for needles in Method::ALL {
        for toe_cast_on in [ToeCastOn::Magic, ToeCastOn::Wrapped] {
            let recipe = Recipe {
                direction: Direction::ToeUp,
                toe_cast_on,
                needles,
                ..Recipe::default()
            };
            // a short circular is knitted round a long one at first
            let Ok(plan) = make(&recipe) else { continue };
            let trace = Trace::of(&plan).expect("it can be knitted");
            let toe = plan.sections[1].steps.iter().find(|s| s.moves.len() == 1);
            let first = through_the_back(&toe.expect("a round").moves[0].ops);
            for hand in [KnittingHand::Right, KnittingHand::Left] {
                let style = Wording { hand, ..STYLES[0] };
                let body = Body::of(style);
                let steps = plan.sections[0].steps.iter().enumerate();
                let moves =
                    steps.flat_map(|(step, s)| (0..s.moves.len()).map(move |mv| (step, mv)));
                let notes: Vec<String> = moves
                    .filter_map(|(step, mv)| {
                        instructions(&plan, &trace, Position { step, mv }, style)?.note
                    })
                    .collect();
                let fronts = read(&notes, body)
                    .unwrap_or_else(|why| panic!("{toe_cast_on:?} {needles:?}: {why}: {notes:?}"));
                // A stitch whose leading leg, the one nearer the point, is in front is knitted as usual.
                let due = fronts.map(|front| front != body.takes);
                assert_eq!(
                    first, due,
                    "{toe_cast_on:?} {needles:?} {hand:?}: {notes:?}"
                );
            }
        }
    }
}

/// The loops of a tubular cast-on are laid towards the points, at the hand that holds the strands. The needle goes
/// under a strand first and comes back over it, or the other way round: the strand lies over it first and then
/// before or behind it.
fn leg_first(loops: &str, own: &str) -> Result<Leg, String> {
    let over = loops.find(&format!("over the {own}"));
    let under = loops
        .find("under both strands")
        .or_else(|| loops.find(&format!("under the {own}")));
    let under_first = match (under, over) {
        (Some(under), Some(over)) => under < over,
        (Some(_), None) => true,
        (None, Some(_)) => false,
        (None, None) => return Err(format!("nothing goes round the {own} strand: {loops:?}")),
    };
    // The finger's strand comes from behind the needle, the thumb's from before it.
    Ok(match (own, under_first) {
        ("finger’s", true) | ("thumb’s", false) => Leg::Behind,
        _ => Leg::Before,
    })
}

#[test]
fn each_loop_of_a_tubular_cast_on_is_worked_as_its_words_lay_it() {
    for rib in [Rib::OneByOne, Rib::Twisted, Rib::TwoByTwo] {
        let recipe = Recipe {
            cast_on: CastOn::Tubular,
            cuff: Cuff {
                edge: Edge::Rib(rib),
                ..Cuff::default()
            },
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a plan");
        let trace = Trace::of(&plan).expect("it can be knitted");
        let at = Position { step: 0, mv: 0 };
        let note = instructions(&plan, &trace, at, STYLES[0]).and_then(|said| said.note);
        let note = note.expect("a note");
        let (_, loops) = note.split_once("Knit loop: ").expect("it is told");
        let (knit, purl) = loops.split_once("Purl loop: ").expect("it is told");
        let purl = purl.split(". ").next().unwrap_or_default();
        // Laid towards the points, the first leg is the one farther from the strands: the right one.
        let knit = leg_first(knit, "finger’s").expect("knit loops");
        let purl = leg_first(purl, "thumb’s").expect("purl loops");
        let worked = |round: usize| {
            let ops = &plan.sections[1].steps[round].moves[0].ops;
            match ops.first() {
                Some(Op::Repeat(inner, _)) => inner.clone(),
                _ => ops.clone(),
            }
        };
        let through_the_back = matches!(worked(0).first(), Some(Op::KnitThroughBackLoop(_)));
        assert_eq!(through_the_back, knit == Leg::Behind, "{rib:?}: {note}");
        let purled_as_usual = matches!(worked(1).get(1), Some(Op::Purl(_)));
        assert_eq!(purled_as_usual, purl == Leg::Before, "{rib:?}: {note}");
    }
}
