//! The fabric against the plan's own operations: every stitch once, the right way round.

use std::collections::BTreeMap;

use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::{Method, Recipe, Seating};
use evenloop_engine::stitch::{Lean, Op, Yarn};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::read_recipe;

use super::knitting::Fabric;
use super::stitch::{CableLayer, FabricStitch, Region, StitchKind, Zone};
use super::svg::Drawing;
use super::{Detail, HangingFabric, HangingPiece, Hook, SockPicture};
use crate::hue::Hue;

/// Socks of every construction; foot and swatch are invented.
const SOCKS: [&str; 11] = [
    r#"{"foot":{"length":2450,"circumference":2250},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"leg":1200}"#,
    r#"{"foot":{"length":2450,"circumference":2250},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"leg":900,"heel":{"kind":"flap-and-gusset","texture":"garter-edge","turn":"band","corners":true},"needles":{"method":"four-dpns"},"toe":{"kind":"round"}}"#,
    r#"{"direction":"toe-up","foot":{"length":2500,"circumference":2300},"swatch":{"stitches":28,"width":1000,"rounds":40,"height":1000},"leg":900,"heel":{"kind":"short-row","between":2},"toe":{"kind":"short-row"},"yarns":{"stripes":[{"yarn":"A","rounds":5},{"yarn":"B","rounds":2}],"cuff":"B","heel":"B","toe":"B"}}"#,
    r#"{"foot":{"length":2350,"circumference":2150},"swatch":{"stitches":32,"width":1000,"rounds":44,"height":1000},"cuff":{"edge":{"hem":{"picot":true}},"length":200},"leg":1000,"heel":{"kind":"flap-and-gusset","texture":"eye-of-partridge","turn":"round","corners":true},"needles":{"method":"magic-loop","seating":"instep-and-sole"},"motif":{"rows":["k1 yo ssk k5","k8","k5 k2tog yo k1","k8"],"place":"front"}}"#,
    r#"{"foot":{"length":2600,"circumference":2400},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"leg":1000,"heel":{"kind":"flap-and-gusset","texture":"slipped-stitch","turn":"square","corners":true},"needles":{"method":"five-dpns"},"motif":{"rows":["p1 k4 p1","p1 k4 p1","p1 cr2/2 p1","p1 k4 p1","p1 k4 p1","p1 k4 p1"],"place":"all-round"}}"#,
    r#"{"foot":{"length":1700,"circumference":1700},"swatch":{"stitches":28,"width":1000,"rounds":40,"height":1000},"cuff":{"edge":"rolled","length":150},"leg":700,"heel":{"kind":"afterthought"},"toe":{"kind":"round"},"needles":{"method":"two-circulars"}}"#,
    r#"{"foot":{"length":2450,"circumference":2250},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"cuff":{"edge":{"rib":"twisted-1x1"},"length":500},"leg":3800,"calf":[{"height":1200,"circumference":2600},{"height":2200,"circumference":3400},{"height":3300,"circumference":3200}],"toe":{"kind":"shaped","foot":"left"}}"#,
    r#"{"direction":"toe-up","foot":{"length":2550,"circumference":2350},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"bind_off":"yarn-over","leg":900,"heel":{"kind":"flap-and-gusset","texture":"slipped-stitch","turn":"round","corners":true}}"#,
    r#"{"direction":"toe-up","foot":{"length":2500,"circumference":2300},"swatch":{"stitches":28,"width":1000,"rounds":40,"height":1000},"leg":900,"heel":{"kind":"afterthought"}}"#,
    r#"{"foot":{"length":2450,"circumference":2250},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"cast_on":"tubular","leg":900,"heel":{"kind":"afterthought","opening":"snipped"}}"#,
    r#"{"direction":"toe-up","foot":{"length":2500,"circumference":2300},"swatch":{"stitches":28,"width":1000,"rounds":40,"height":1000},"cuff":{"edge":{"hem":{"picot":true}},"length":200},"toe_cast_on":"provisional","leg":900,"heel":{"kind":"short-row","between":2},"toe":{"kind":"short-row"}}"#,
];

fn knit(recipe: &Recipe) -> (Plan, Trace, Fabric) {
    let plan = make(recipe).expect("a sock");
    let trace = Trace::of(&plan).expect("it can be knitted");
    let fabric = Fabric::of(&plan, &trace).expect("the trace is the plan's");
    (plan, trace, fabric)
}

fn socks() -> impl Iterator<Item = (Plan, Trace, Fabric)> {
    SOCKS
        .into_iter()
        .map(|document| knit(&read_recipe(document).expect("a recipe")))
}

/// What the operations of a plan make, counted without any needles.
fn made(ops: &[Op], counts: &mut BTreeMap<&'static str, usize>) {
    for op in ops {
        let (name, n) = match op {
            Op::CastOn(n) | Op::CastOnProvisional(n) | Op::OpenProvisional(n) => ("edge", n.get()),
            Op::CastOnUneven(back, front) | Op::CastOnTubular(back, front) => {
                ("edge", back.get() + front.get())
            }
            Op::CastOnWrapped(n) | Op::CastOnMagic(n) => ("edge", 2 * n.get()),
            Op::OpenWaste(n) | Op::SnipRow(n) => ("opened", 2 * n.get()),
            Op::BindOff(n) | Op::SewDown(n) => ("bound off", n.get()),
            Op::Knit(n)
            | Op::Purl(n)
            | Op::KnitThroughBackLoop(n)
            | Op::FoldJoin(n)
            | Op::Waste(n)
            | Op::KnitToSnip(n)
            | Op::KnitDouble(n)
            | Op::PurlDouble(n) => ("plain", n.get()),
            Op::KnitCorner => ("plain", 1),
            Op::Cross(cross) => ("plain", cross.width()),
            Op::K2tog | Op::Ssk | Op::P2tog => ("decrease", 1),
            Op::YarnOver | Op::YarnOverBehind => ("yarn over", 1),
            Op::MakeLeft | Op::MakeRight => ("make one", 1),
            Op::PickUp(n) => ("picked up", n.get()),
            Op::PickUpCorner => ("picked up", 1),
            Op::Graft(n) => ("grafted", 2 * n.get()),
            Op::GraftEnd => ("grafted", 2),
            Op::Repeat(ops, n) => {
                for _ in 0..n.get() {
                    made(ops, counts);
                }
                continue;
            }
            _ => continue,
        };
        *counts.entry(name).or_default() += usize::from(n);
    }
}

const fn named(kind: StitchKind) -> &'static str {
    match kind {
        StitchKind::CastOn => "edge",
        StitchKind::Opened => "opened",
        StitchKind::Knit | StitchKind::Purl | StitchKind::Twisted => "plain",
        StitchKind::Decrease(_) | StitchKind::PurlDecrease => "decrease",
        StitchKind::YarnOver => "yarn over",
        StitchKind::MakeOne(_) => "make one",
        StitchKind::PickedUp => "picked up",
        StitchKind::BoundOff => "bound off",
        StitchKind::Grafted => "grafted",
    }
}

#[test]
fn every_stitch_of_the_plan_is_in_the_fabric_once() {
    for (plan, _, fabric) in socks() {
        let mut told = BTreeMap::new();
        for step in plan.sections.iter().flat_map(|section| &section.steps) {
            step.moves.iter().for_each(|mv| made(&mv.ops, &mut told));
        }
        let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
        for stitch in &fabric.stitches {
            *seen.entry(named(stitch.kind)).or_default() += 1;
        }
        assert_eq!(seen, told, "{:?}", plan.recipe.heel);
    }
}

#[test]
fn every_stitch_is_worked_off_once() {
    for (plan, _, fabric) in socks() {
        let mut used = vec![0_u16; fabric.stitches.len()];
        let all = fabric.stitches.iter().flat_map(|stitch| stitch.below);
        for below in all.flatten() {
            used[usize::try_from(below).expect("a stitch")] += 1;
        }
        assert!(used.iter().all(|n| *n <= 1), "{:?}", plan.recipe.heel);
        let ends = used.iter().filter(|n| **n == 0).count();
        // bound off, grafted and drawn together, and what the waste yarn held: few among thousands
        assert!(ends < 400, "{ends} loose stitches, {:?}", plan.recipe.heel);
    }
}

#[test]
fn all_needles_and_seatings_make_a_fabric() {
    for needles in Method::ALL {
        let recipe = Recipe {
            needles,
            ..Recipe::default()
        };
        let (_, _, fabric) = knit(&recipe);
        assert!(fabric.stitches.len() > 8000);
    }
}

#[test]
fn a_trace_of_another_sock_is_no_fabric() {
    let (plan, ..) = knit(&Recipe::default());
    let (_, other, _) = knit(&Recipe {
        stitches: Some(48),
        ..Recipe::default()
    });
    assert_eq!(Fabric::of(&plan, &other), None);
}

/// Half of every round is seen: the other half is turned away.
#[test]
fn half_of_every_round_of_the_leg_is_seen() {
    for (plan, trace, fabric) in socks() {
        let picture = SockPicture::of(&plan, &trace).expect("a picture");
        let legs = |(_, stitch): &(usize, &FabricStitch)| {
            stitch.region == Region::Leg && stitch.place.zone == Zone::Front
        };
        let all: Vec<(usize, &FabricStitch)> =
            fabric.stitches.iter().enumerate().filter(legs).collect();
        for round in all.chunk_by(|(_, a), (_, b)| a.made == b.made) {
            let seen = round.iter().filter(|(id, _)| picture.is_seen(*id)).count();
            assert_eq!(seen, round.len().div_ceil(2), "{:?}", plan.recipe.heel);
        }
    }
}

#[test]
fn decreases_lean_the_way_they_are_worked() {
    let (_, _, fabric) = knit(&Recipe::default());
    let mut seen = (0, 0);
    for stitch in &fabric.stitches {
        let StitchKind::Decrease(lean) = stitch.kind else {
            continue;
        };
        let [Some(top), Some(under)] = stitch.below else {
            panic!("two stitches become one");
        };
        if stitch.region != Region::Gusset {
            continue;
        }
        // Knitted in the round from right to left: what lies further left was made later.
        match lean {
            Lean::Right => {
                assert!(top > under, "k2tog leans right: the left one lies on top");
                seen.0 += 1;
            }
            Lean::Left => {
                assert!(top < under, "ssk leans left: the right one lies on top");
                seen.1 += 1;
            }
        }
    }
    assert!(seen.0 > 5 && seen.0 == seen.1, "{seen:?}");
}

#[test]
fn cables_pass_in_front_from_left_to_right() {
    let (_, _, fabric) = knit(&read_recipe(SOCKS[4]).expect("a recipe"));
    let crossed: Vec<&FabricStitch> = fabric
        .stitches
        .iter()
        .filter(|stitch| stitch.cable.is_some() && stitch.region == Region::Leg)
        .collect();
    assert!(!crossed.is_empty() && crossed.len().is_multiple_of(4));
    for cross in crossed.chunks(4) {
        let layers: Vec<_> = cross.iter().map(|stitch| stitch.cable).collect();
        assert_eq!(
            layers,
            [
                CableLayer::Front,
                CableLayer::Front,
                CableLayer::Behind,
                CableLayer::Behind
            ]
            .map(Some)
        );
        let below: Vec<u32> = cross.iter().filter_map(|stitch| stitch.below[0]).collect();
        let first = below.iter().min().copied().expect("four stitches");
        let order: Vec<u32> = below.iter().map(|id| id - first).collect();
        // the third and fourth come to lie first: further right
        assert_eq!(order, [2, 3, 0, 1]);
    }
}

#[test]
fn purled_rows_of_the_wrong_side_are_knit_on_the_right_side() {
    let (_, _, fabric) = knit(&read_recipe(SOCKS[0]).expect("a recipe"));
    let flap = |stitch: &&FabricStitch| stitch.region == Region::Flap;
    assert!(
        fabric
            .stitches
            .iter()
            .filter(flap)
            .all(|stitch| stitch.kind == StitchKind::Knit)
    );
    let slipped = fabric.stitches.iter().filter(flap);
    assert!(slipped.filter(|stitch| stitch.slipped == 1).count() > 150);
    let (_, _, garter) = knit(&read_recipe(SOCKS[1]).expect("a recipe"));
    let purled = |stitch: &&FabricStitch| stitch.kind == StitchKind::Purl;
    assert!(garter.stitches.iter().filter(flap).any(|s| purled(&s)));
}

#[test]
fn what_is_worked_into_a_stitch_lies_beside_it() {
    for (plan, trace, fabric) in socks() {
        let picture = SockPicture::of(&plan, &trace).expect("a picture");
        let (mut near, mut all) = (0_u32, 0_u32);
        for (id, stitch) in fabric.stitches.iter().enumerate() {
            let below = stitch.below[0].and_then(|id| usize::try_from(id).ok());
            if let Some(way) = below.and_then(|below| picture.way(below, id)) {
                all += 1;
                // a crossed stitch goes furthest: two stitches aside, and one slipped twice two rows up
                near += u32::from(way < 2.6);
            }
        }
        assert!(all > 1000, "{all}");
        assert!(
            near * 100 >= all * 99,
            "{near} of {all}: {:?}",
            plan.recipe.heel
        );
    }
}

#[test]
fn back_and_front_lie_side_by_side_where_they_meet() {
    for (plan, trace, fabric) in socks() {
        let picture = SockPicture::of(&plan, &trace).expect("a picture");
        let all: Vec<(usize, &FabricStitch)> = fabric
            .stitches
            .iter()
            .enumerate()
            .filter(|(_, stitch)| stitch.region == Region::Leg)
            .collect();
        let (mut rounds, mut meet) = (0, 0);
        for round in all.chunk_by(|(_, a), (_, b)| a.made == b.made) {
            let end = |zone, last: bool| {
                let of = round.iter().filter(|(_, stitch)| stitch.place.zone == zone);
                let at = |(_, stitch): &&(usize, &FabricStitch)| stitch.place.at;
                let found = if last {
                    of.max_by_key(at)
                } else {
                    of.min_by_key(at)
                };
                found.map(|(id, _)| *id)
            };
            rounds += 1;
            // One of the two places where they meet is turned away.
            for (before, after) in [(Zone::Back, Zone::Front), (Zone::Front, Zone::Back)] {
                let ids = end(before, true).zip(end(after, false));
                if let Some(way) = ids.and_then(|(one, next)| picture.way(one, next)) {
                    // ribs and cables move a stitch by less than one more
                    assert!(way < 2.3, "{way}: {:?}", plan.recipe.heel);
                    meet += 1;
                }
            }
        }
        // not in the row of waste yarn, which covers only the back
        assert!(meet + 1 >= rounds && meet <= rounds, "{meet} of {rounds}");
    }
}

#[test]
fn each_yarn_has_a_mark_on_its_stripes() {
    let (plan, trace, _) = knit(&read_recipe(SOCKS[2]).expect("a recipe"));
    let picture = SockPicture::of(&plan, &trace).expect("a picture");
    let marks = picture.marks();
    let yarns: Vec<Yarn> = marks.iter().map(|(yarn, _)| *yarn).collect();
    assert_eq!(yarns, [Yarn::A, Yarn::B]);
    let field = picture.field();
    for (yarn, (x, y)) in marks {
        assert!(x > field.left && x < field.left + field.wide, "{yarn:?}");
        assert!(y > field.top && y < field.top + field.high, "{yarn:?}");
    }
}

fn drawing(at: Option<Position>) -> Drawing<'static> {
    Drawing {
        detail: Detail::Legs,
        hues: Hue::USUAL,
        at,
        name: "test",
    }
}

#[test]
fn what_is_not_knitted_is_not_drawn() {
    let (plan, trace, _) = knit(&Recipe::default());
    let picture = SockPicture::of(&plan, &trace).expect("a picture");
    let begin = picture.markup(&drawing(Some(Position::default())));
    assert!(!begin.contains("<use") && begin.contains("to-come"));
    let mut last = begin.len();
    for step in (20..trace.steps.len()).step_by(20) {
        let now = picture.markup(&drawing(Some(Position { step, mv: 0 })));
        assert!(now.len() > last, "step {step}");
        last = now.len();
    }
    let whole = picture.markup(&drawing(None));
    assert!(!whole.contains("to-come"));
}

#[test]
fn a_sock_is_few_nodes() {
    for (plan, trace, _) in socks() {
        let picture = SockPicture::of(&plan, &trace).expect("a picture");
        let markup = picture.markup(&drawing(Some(trace.end())));
        let nodes = markup.matches('<').count() - markup.matches("</").count();
        assert!(nodes < 90, "{nodes}");
        assert!(markup.len() < 300_000, "{}", markup.len());
    }
}

#[test]
fn seatings_look_alike() {
    let drawn = |seating| {
        let (plan, trace, _) = knit(&Recipe {
            needles: Method::MagicLoop { seating },
            ..Recipe::default()
        });
        let picture = SockPicture::of(&plan, &trace).expect("a picture");
        picture.field()
    };
    let (even, apart) = (drawn(Seating::EvenHalves), drawn(Seating::InstepAndSole));
    assert!((even.wide - apart.wide).abs() < 60.0, "{even:?} {apart:?}");
}

/// The whole ring as one straight piece.
fn one_piece(hooks: usize) -> Vec<Hook> {
    let at = |nth: usize| f32::from(u16::try_from(nth).expect("few")) * 8.0;
    (0..=hooks)
        .map(|nth| Hook {
            at: (at(nth), 0.0),
            down: (0.0, 1.0),
        })
        .collect()
}

fn hung(fabric: &HangingFabric, hooks: &[Hook]) -> Option<String> {
    let piece = HangingPiece {
        first: 0,
        hooks,
        room: 25.0,
    };
    fabric.markup(&piece, &drawing(None))
}

#[test]
fn fabric_hangs_from_every_loop_of_every_state() {
    for recipe in SOCKS {
        let plan = make(&read_recipe(recipe).expect("a recipe")).expect("a sock");
        let trace = Trace::of(&plan).expect("it can be knitted");
        let mut fabric = HangingFabric::of(&plan);
        let mut at = Position::default();
        while at != trace.end() {
            fabric
                .follow(&plan, &trace, at)
                .expect("as many loops as the simulator has");
            let stitches = trace
                .needles_at(at)
                .map_or(0, |n| usize::from(n.stitches()));
            let drawn = hung(&fabric, &one_piece(stitches));
            assert_eq!(drawn.is_some(), stitches > 0, "{recipe} {at:?}");
            at = trace.advance(at);
        }
    }
}

#[test]
fn going_back_and_on_again_shows_the_same() {
    let plan = make(&read_recipe(SOCKS[3]).expect("a recipe")).expect("a sock");
    let trace = Trace::of(&plan).expect("it can be knitted");
    let mut moved = HangingFabric::of(&plan);
    for step in [40, 12, 90, 89, 7, 130] {
        let at = Position { step, mv: 0 };
        let mut fresh = HangingFabric::of(&plan);
        for fabric in [&mut moved, &mut fresh] {
            fabric.follow(&plan, &trace, at).expect("a place of it");
        }
        let hooks = one_piece(usize::from(
            trace.needles_at(at).expect("needles").stitches(),
        ));
        assert_eq!(hung(&moved, &hooks), hung(&fresh, &hooks), "{step}");
    }
}
