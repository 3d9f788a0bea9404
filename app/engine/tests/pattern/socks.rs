//! Whole socks by written patterns, all made up: on every needle method they come to a plan that the
//! simulator knits to its last stitch.

use evenloop_engine::needles::Origin;
use evenloop_engine::pattern::{begins_at_toe, check};
use evenloop_engine::plan::{Plan, PlanError, Section, SectionKind};
use evenloop_engine::recipe::{
    Direction, FlapTexture, Heel, HeelOpening, HeelTurn, Method, Recipe, Seating, SockPart,
};
use evenloop_engine::sock::{by_pattern, look, make, replan};
use evenloop_engine::text::{Wording, as_pattern};
use evenloop_engine::trace::Trace;

/// The patterns, each with its name.
pub(crate) fn socks() -> Vec<(&'static str, String)> {
    named(include_str!("socks.txt"))
}

/// These, and socks with heels of every kind, from either end.
pub(crate) fn all_socks() -> Vec<(&'static str, String)> {
    let mut all = socks();
    all.extend(named(include_str!("heels.txt")));
    all
}

fn named(patterns: &'static str) -> Vec<(&'static str, String)> {
    let mut all: Vec<(&str, String)> = Vec::new();
    for line in patterns.lines() {
        match (line.strip_prefix("# "), all.last_mut()) {
            (Some(name), _) => all.push((name, String::new())),
            (None, Some((_, text))) => {
                text.push_str(line);
                text.push('\n');
            }
            (None, None) => {}
        }
    }
    all
}

pub(crate) fn plan(name: &str, recipe: &Recipe) -> (Plan, Trace) {
    let plan = make(recipe).unwrap_or_else(|e| panic!("{name}, {:?}: {e:?}", recipe.needles));
    let trace = Trace::of(&plan).unwrap_or_else(|e| panic!("{name}, {:?}: {e}", recipe.needles));
    (plan, trace)
}

#[test]
fn every_sock_is_knitted_to_its_end_on_every_needle_method() {
    for (name, text) in socks() {
        assert_eq!(check(&text, None), [], "{name}");
        for needles in Method::ALL {
            let (plan, trace) = plan(name, &by_pattern(&text, needles));
            let end = trace.steps.last().map(|s| s.after().stitches());
            assert_eq!(end, Some(0), "{name}, {needles:?}");
            assert!(plan.outcome.stitches >= 56, "{name}");
        }
    }
}

/// In even halves both needles hold half the stitches after the pick-up, and the round begins in the middle of
/// the heel.
#[test]
fn in_even_halves_both_needles_hold_half_after_the_pick_up() {
    let needles = Method::MagicLoop {
        seating: Seating::EvenHalves,
    };
    let mut crossed = 0;
    for (name, text) in socks() {
        let (_, trace) = plan(name, &by_pattern(&text, needles));
        let picked_up = trace
            .steps
            .iter()
            .rfind(|step| step.kind == SectionKind::PickUp);
        let Some(step) = picked_up else { continue };
        crossed += 1;
        let after = step.after();
        let half = after.stitches() / 2;
        assert_eq!(after.per_needle(), [half, half], "{name}");
        let first = after.items().next();
        let heel = |item| {
            matches!(
                item,
                Some(evenloop_engine::needles::Item::Stitches(Origin::Heel, ..))
            )
        };
        assert!(heel(first), "{name}: {first:?}");
        assert!(
            heel(
                after
                    .items()
                    .filter(|i| { matches!(i, evenloop_engine::needles::Item::Stitches(..)) })
                    .last()
            ),
            "{name}"
        );
    }
    assert_eq!(crossed, 2);
}

/// However it is told, the toe is the sock's end.
#[test]
fn a_closed_toe_is_the_end() {
    let (name, text) = &socks()[0];
    for said in [
        "Close the toe.",
        "Close toe with Kitchener stitch.",
        "Graft the toe.",
    ] {
        let text = text.replace("Graft the toe.", said);
        assert_eq!(check(&text, None), [], "{said}");
        let (plan, trace) = plan(name, &by_pattern(&text, Method::default()));
        assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
        assert_eq!(plan.outcome.graft_pairs, 10, "{said}");
    }
    let (name, round) = &socks()[2];
    let text = round.replace(
        "Break yarn and draw through remaining sts.",
        "Close the toe.",
    );
    let (plan, _) = plan(name, &by_pattern(&text, Method::default()));
    assert_eq!((plan.outcome.graft_pairs, plan.outcome.toe_left), (0, 8));
}

#[test]
fn a_heel_of_ours_goes_between_the_patterns_leg_and_toe() {
    let (name, text) = &socks()[0];
    for needles in Method::ALL {
        let mut recipe = by_pattern(text, needles);
        if let Some(written) = &mut recipe.written {
            written.ours = vec![SockPart::Heel];
        }
        let (plan, trace) = plan(name, &recipe);
        assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
        let kinds: Vec<SectionKind> = plan.sections.iter().map(|s| s.kind).collect();
        assert!(kinds.contains(&SectionKind::PickUp), "{kinds:?}");
        // the pattern's leg, not ours
        let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
        assert_eq!(leg.map(Section::counted), Some(50));
    }
}

#[test]
fn other_needles_in_the_middle_keep_what_is_knitted() {
    let (name, text) = &socks()[0];
    let magic = Method::MagicLoop {
        seating: Seating::EvenHalves,
    };
    let (old, _) = plan(name, &by_pattern(text, magic));
    let steps: usize = old.sections.iter().map(|s| s.steps.len()).sum();
    for done in (0..steps).step_by(7) {
        for needles in Method::ALL {
            let recipe = by_pattern(text, needles);
            let new = replan(&old, done, &recipe)
                .unwrap_or_else(|e| panic!("after {done}, {needles:?}: {e:?}"));
            let trace =
                Trace::of(&new).unwrap_or_else(|e| panic!("after {done}, {needles:?}: {e}"));
            assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
            let rounds = |plan: &Plan| {
                let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
                leg.map(Section::counted)
            };
            assert_eq!(rounds(&new), rounds(&old), "after {done}, {needles:?}");
        }
    }
}

#[test]
fn which_end_comes_first_is_read_from_the_names_of_the_parts() {
    let ends: Vec<bool> = socks()
        .iter()
        .map(|(_, text)| begins_at_toe(text))
        .collect();
    assert_eq!(ends, [false, false, false, true]);
    assert!(!begins_at_toe("FOOT\nKnit 40 rnds.\nTOE\nKnit 10 rnds."));
    assert!(begins_at_toe("FOOT\nKnit 40 rnds.\nLEG\nKnit 10 rnds."));
    assert!(!begins_at_toe("Knit 40 rnds."));
}

#[test]
fn what_a_pattern_leaves_out_is_knitted_by_ours_from_either_end() {
    let all = socks();
    let (down, up) = (&all[2], &all[3]);
    for (name, text) in [down, up] {
        for needles in Method::ALL {
            let mut recipe = by_pattern(text, needles);
            if let Some(written) = &mut recipe.written {
                written.ours = vec![SockPart::Heel];
            }
            let (plan, trace) = plan(name, &recipe);
            assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
            assert!(plan.outcome.heel_stitches > 0, "{name}, {needles:?}");
        }
    }
}

/// Parts of ours are shaped for as many stitches as a sock of ours can have: over others they are refused by their
/// field, whatever part and heel that is.
#[test]
fn parts_of_ours_are_refused_over_too_few_stitches_and_too_many() {
    let heels =
        [HeelTurn::Round, HeelTurn::Square, HeelTurn::Band].map(|turn| Heel::FlapAndGusset {
            texture: FlapTexture::default(),
            turn,
            rows: None,
            height: None,
            corners: false,
        });
    let (mut made, mut refused) = (0, 0);
    for stitches in (4..=280).step_by(12) {
        let text = format!("CUFF\nCO {stitches} sts. Join.\nKnit 9 rnds.");
        for (nth, part) in PARTS.into_iter().enumerate() {
            for heel in heels {
                let mut recipe = by_pattern(&text, Method::ALL[nth]);
                recipe.heel = heel;
                if let Some(written) = &mut recipe.written {
                    written.ours = vec![part];
                }
                match look(&recipe).plan {
                    Ok(plan) => {
                        made += 1;
                        assert!(Trace::of(&plan).is_ok(), "{stitches}, {part:?}");
                    }
                    Err(PlanError::Impossible(_)) => refused += 1,
                    Err(PlanError::Bug(bug)) => panic!("{stitches}, {part:?}, {heel:?}: {bug}"),
                }
            }
        }
    }
    assert!(made > 100 && refused > 50, "{made}, {refused}");
}

const PARTS: [SockPart; 5] = [
    SockPart::Cuff,
    SockPart::Leg,
    SockPart::Heel,
    SockPart::Foot,
    SockPart::Toe,
];

/// Heels of ours, each kind.
fn heels() -> [Heel; 4] {
    [
        Heel::default(),
        Heel::ShortRow { between: 2 },
        Heel::Afterthought {
            opening: HeelOpening::WasteYarn,
        },
        Heel::Afterthought {
            opening: HeelOpening::Snipped,
        },
    ]
}

/// A pattern with those parts of ours, numbered by their bits.
fn mixed(text: &str, needles: Method, parts: usize) -> Recipe {
    let mut recipe = by_pattern(text, needles);
    if let Some(written) = &mut recipe.written {
        let ours = (0..).zip(PARTS).filter(|(nth, _)| parts >> nth & 1 == 1);
        written.ours = ours.map(|(_, part)| part).collect();
    }
    recipe
}

/// Makes every mixture of a pattern's parts with ours, all but one, with each heel of ours and on every needle method:
/// how many were made. What does not come to its end, or not by its words, is added to `wrong`.
fn mixtures(name: &str, text: &str, wrong: &mut Vec<String>) -> usize {
    let around = plan(name, &by_pattern(text, Method::default())).0;
    let around = around.outcome.stitches;
    let mut made = 0;
    for parts in 1..31_usize {
        let ours_is_heel = parts >> 2 & 1 == 1;
        let heels = heels().into_iter().take(if ours_is_heel { 4 } else { 1 });
        for (heel, needles) in heels.flat_map(|heel| Method::ALL.map(|needles| (heel, needles))) {
            let mut recipe = mixed(text, needles, parts);
            recipe.stitches = Some(around);
            recipe.heel = heel;
            let looked = look(&recipe);
            let ours = recipe.written.as_ref().map(|written| &written.ours);
            let told = format!("{name}, {ours:?}, {heel:?}, {needles:?}");
            match looked.plan.map(|plan| (Trace::of(&plan), plan)) {
                Ok((Ok(trace), plan)) => {
                    made += 1;
                    let end = trace.steps.last().map(|step| step.after().stitches());
                    let moves = plan.sections.iter().flat_map(|s| &s.steps);
                    let mut moves = moves.flat_map(|step| &step.moves);
                    let by_count = moves.find(|mv| mv.is_by_count());
                    if end != Some(0) || by_count.is_some() || !looked.findings.is_empty() {
                        let line = by_count.and_then(|mv| plan.pattern_line(mv));
                        wrong.push(format!("{told}: {end:?} {line:?} {:?}", looked.findings));
                    }
                }
                Ok((Err(why), _)) => wrong.push(format!("{told}: {why}")),
                Err(why) => wrong.push(format!("{told}: {why:?}")),
            }
        }
    }
    made
}

/// Half of the mixtures have our heel, of which there are four.
const MIXTURES: usize = (15 + 4 * 15) * Method::ALL.len();

/// Any parts of a pattern may be left to ours, those of a sock that stand apart as well: her cuff and leg with our heel,
/// our leg with her heel and our toe; any heel of hers, any of ours, from either end.
#[test]
fn any_parts_of_ours_go_with_any_parts_of_a_pattern() {
    let (mut made, mut wrong) = (0, Vec::new());
    let all = all_socks();
    for (name, text) in &all {
        assert_eq!(check(text, None), [], "{name}");
        made += mixtures(name, text, &mut wrong);
    }
    assert!(wrong.is_empty(), "{}\n{}", wrong.len(), wrong.join("\n"));
    assert_eq!(made, all.len() * MIXTURES);
}

/// The same with a pattern that is a plan of ours written down: each of our sections after each of hers that is as ours.
#[test]
fn a_plan_of_ours_written_down_goes_with_any_parts_of_ours() {
    let (mut made, mut many, mut wrong) = (0, 0, Vec::new());
    for (heel, direction) in heels()
        .into_iter()
        .flat_map(|heel| [Direction::CuffDown, Direction::ToeUp].map(|end| (heel, end)))
    {
        let recipe = Recipe {
            heel,
            direction,
            stitches: Some(56),
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a sock");
        let trace = Trace::of(&plan).expect("a sock");
        let text = as_pattern(&plan, &trace, None, Wording::default()).expect("it is short");
        many += 1;
        made += mixtures(&format!("{heel:?}, {direction:?}"), &text, &mut wrong);
    }
    assert!(wrong.is_empty(), "{}\n{}", wrong.len(), wrong.join("\n"));
    assert_eq!(made, many * MIXTURES);
}

/// A pattern with lines left out, doubled or misprinted, mixed with parts of ours: a sock, or what does not meet; never
/// a mistake of ours.
#[test]
fn a_misprinted_pattern_mixed_with_ours_is_no_mistake_of_ours() {
    let texts = all_socks();
    let seed = std::env::var("EVENLOOP_SEED").ok();
    let mut seed: u64 = seed.and_then(|n| n.parse().ok()).unwrap_or(1);
    let many = std::env::var("EVENLOOP_MIXTURES").ok();
    let many: usize = many.and_then(|n| n.parse().ok()).unwrap_or(1_000);
    let mut dice = |below: usize| {
        seed = seed
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % below.max(1)
    };
    let (mut made, mut unmet) = (0, 0);
    for _ in 0..many {
        let (name, text) = &texts[dice(texts.len())];
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        for _ in 0..=dice(2) {
            let at = dice(lines.len());
            match dice(4) {
                0 => {
                    lines.remove(at);
                }
                1 => lines.insert(at, lines[at].clone()),
                2 => {
                    let digit = char::from(b'0' + u8::try_from(dice(10)).unwrap_or(0));
                    let wrong = |c: char| if c.is_ascii_digit() { digit } else { c };
                    lines[at] = lines[at].chars().map(wrong).collect();
                }
                _ => {
                    let mut words: Vec<&str> = lines[at].split(' ').collect();
                    words.remove(dice(words.len()));
                    lines[at] = words.join(" ");
                }
            }
        }
        let text = lines.join("\n");
        let needles = Method::ALL[dice(Method::ALL.len())];
        let mut recipe = mixed(&text, needles, dice(32));
        recipe.stitches = Some([48, 56, 60, 64][dice(4)]);
        recipe.heel = heels()[dice(4)];
        match look(&recipe).plan {
            Ok(plan) => {
                made += 1;
                assert!(Trace::of(&plan).is_ok(), "{name}, {needles:?}\n{text}");
            }
            Err(PlanError::Impossible(_)) => unmet += 1,
            Err(PlanError::Bug(bug)) => {
                let ours = recipe.written.map(|written| written.ours);
                panic!(
                    "{name}, {needles:?}, {ours:?}, {:?}: {bug}\n{text}",
                    recipe.heel
                )
            }
        }
    }
    assert!(made > many / 2 && unmet > 0, "{made}, {unmet}");
}

/// Whatever is worked is shown with the words it was typed in, a wrapped line whole.
#[test]
fn every_move_of_a_pattern_shows_its_line() {
    for (name, text) in socks() {
        let wrapped = text.replace("rep from * to end", "rep from\n* to end");
        assert_eq!(check(&wrapped, None), [], "{name}");
        let (plan, _) = plan(name, &by_pattern(&wrapped, Method::default()));
        let mut shown = 0;
        for section in &plan.sections {
            for mv in section.steps.iter().flat_map(|step| &step.moves) {
                let Some(line) = plan.pattern_line(mv) else {
                    continue;
                };
                shown += 1;
                assert!(!line.ends_with("from"), "{name}: {line}");
                assert!(wrapped.contains(line), "{name}: {line}");
            }
        }
        assert!(shown > 60, "{name}: {shown}");
    }
}
