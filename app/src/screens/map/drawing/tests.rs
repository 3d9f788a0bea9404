use evenloop_engine::plan::make;
use evenloop_engine::recipe::{
    Direction, Girth, Heel, Motif, MotifPlacement, Recipe, Stripe, Yarns,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::trace::{Position, StepTrace, Trace};
use evenloop_engine::units::Length;

use super::points::mm;
use super::*;

/// One sock of each kind of heel, both ways, in several sizes.
fn plans() -> Vec<Plan> {
    let heels = [
        Heel::default(),
        Heel::ShortRow { between: 1 },
        Heel::Afterthought,
    ];
    let mut plans = Vec::new();
    for stitches in [40, 64, 88] {
        for heel in heels {
            for direction in [Direction::CuffDown, Direction::ToeUp] {
                let recipe = Recipe {
                    stitches: Some(stitches),
                    heel,
                    direction,
                    ..Recipe::default()
                };
                plans.extend(make(&recipe));
            }
        }
    }
    assert!(plans.len() >= 12, "{}", plans.len());
    plans
}

fn drawn(plan: &Plan, trace: &Trace, at: Position) -> Drawing {
    Drawing::of(plan, trace, &plan.section_progress(at), None)
}

fn knitted(plan: &Plan) -> Trace {
    Trace::of(plan).expect("made plans can be knitted")
}

fn box_of(d: &str) -> [f32; 4] {
    let (xs, ys): (Vec<f32>, Vec<f32>) = points(d).into_iter().unzip();
    let low = |v: &[f32]| v.iter().copied().fold(f32::MAX, f32::min);
    let high = |v: &[f32]| v.iter().copied().fold(f32::MIN, f32::max);
    [low(&xs), low(&ys), high(&xs), high(&ys)]
}

fn points(d: &str) -> Vec<(f32, f32)> {
    let numbers: Vec<f32> = d
        .split(|c: char| c.is_ascii_alphabetic() || c == ' ')
        .filter(|p| !p.is_empty())
        .map(|p| p.parse().expect("paths hold numbers"))
        .collect();
    numbers.chunks(2).map(|p| (p[0], p[1])).collect()
}

#[test]
fn it_is_to_scale() {
    for plan in plans() {
        let out = &plan.outcome;
        let half = mm(out.circumference) / 2.0;
        let length = |kind| {
            let found = out.sections.iter().find(|s| s.kind == kind);
            mm(found.unwrap_or_else(|| panic!("no {kind:?}")).length)
        };
        let apart = |d: (f32, f32), e: (f32, f32)| (d.0 - e.0).hypot(d.1 - e.1);
        for region in &drawn(&plan, &knitted(&plan), Position::default()).regions {
            let corners = points(&region.area);
            let wide = apart(corners[0], corners[1]);
            let long = apart(corners[0], corners[corners.len() - 1]);
            let (wide_wanted, long_wanted) = match region.kind {
                // measured from the cast-on edge, not round by round
                SectionKind::Leg => (half, mm(out.leg_length) - length(SectionKind::Cuff)),
                SectionKind::HeelFlap => (half / 2.0, length(region.kind)),
                SectionKind::Gusset => (wide, length(region.kind)),
                SectionKind::Cuff | SectionKind::Foot | SectionKind::Toe => {
                    (half, length(region.kind))
                }
                // drawn by eye
                _ => continue,
            };
            let kind = region.kind;
            assert!(
                (wide - wide_wanted).abs() < 0.3,
                "{kind:?}: {wide} for {wide_wanted}"
            );
            assert!(
                (long - long_wanted).abs() < 0.3,
                "{kind:?}: {long} for {long_wanted}"
            );
        }
    }
}

/// A leg that follows the calf is drawn as wide as it is, at every height.
#[test]
fn the_back_of_the_leg_follows_the_calf() {
    let girth = |height, around| Girth {
        height: Length::cm(height),
        circumference: Length::cm(around),
    };
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        let recipe = Recipe {
            stitches: Some(64),
            leg: Length::cm(40),
            calf: vec![girth(22, 36), girth(36, 33)],
            direction,
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a knee sock");
        let trace = knitted(&plan);
        let drawing = drawn(&plan, &trace, Position::default());
        let outline = points(&drawing.outline);
        let stitch = mm(plan.outcome.circumference) / 2.0 / f32::from(plan.outcome.stitches);
        let behind = |count: u16| MARGIN - stitch * f32::from(count - plan.outcome.stitches);

        let left = outline.iter().fold(f32::MAX, |left, at| left.min(at.0));
        let leg = trace.steps.iter().filter(|s| s.kind == SectionKind::Leg);
        let counts: Vec<u16> = leg.map(|step| step.after().stitches()).collect();
        let widest = *counts.iter().max().expect("a leg has rounds");
        assert!(widest > plan.outcome.stitches, "{direction:?}");
        assert!((left - behind(widest)).abs() < 0.2, "{left} for {widest}");
        assert!(left >= drawing.left, "it lies on the field");
        let cuff = trace.steps.iter().find(|s| s.kind == SectionKind::Cuff);
        let edge = behind(cuff.expect("a cuff").after().stitches());
        let upper = outline.iter().filter(|at| (at.1 - MARGIN).abs() < 0.1);
        let upper = upper.fold(f32::MAX, |left, at| left.min(at.0));
        assert!((upper - edge).abs() < 0.2, "{upper} for {edge}");
        // all that lies on the leg reaches to its edge
        for region in &drawing.regions {
            if matches!(region.kind, SectionKind::Cuff | SectionKind::Leg) {
                assert!(box_of(&region.area)[0] <= left + 0.1, "{:?}", region.kind);
            }
        }
    }
    for plan in plans() {
        let drawing = drawn(&plan, &knitted(&plan), Position::default());
        assert!(drawing.left.abs() < f32::EPSILON, "a straight leg");
    }
}

/// Words stand in the drawing's corner only where the foot leaves them room.
#[test]
fn a_short_leg_leaves_no_corner_for_words() {
    let corner = |leg| {
        let recipe = Recipe {
            leg: Length::cm(leg),
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a sock");
        drawn(&plan, &knitted(&plan), Position::default()).corner
    };
    assert!(corner(18));
    assert!(!corner(5));
}

/// Twice the area, by the corners.
fn area(d: &str) -> f32 {
    let points = points(d);
    let next = points.iter().cycle().skip(1);
    points
        .iter()
        .zip(next)
        .map(|(a, b)| a.0 * b.1 - b.0 * a.1)
        .sum::<f32>()
        .abs()
}

#[test]
fn what_is_knitted_only_grows_and_ends_with_everything() {
    for plan in plans() {
        let trace = knitted(&plan);
        let filled = |drawing: &Drawing| -> f32 {
            drawing
                .regions
                .iter()
                .filter_map(|r| r.knitted.as_deref())
                .map(area)
                .sum()
        };
        let mut at = Position::default();
        let mut before = 0.0;
        while at != trace.end() {
            let now = filled(&drawn(&plan, &trace, at));
            assert!(now >= before - 20.0, "{at:?}: {now} after {before}");
            before = now;
            at = trace.advance(at);
        }
        let end = drawn(&plan, &trace, at);
        assert!(
            end.regions
                .iter()
                .all(|r| r.knitted.as_deref() == Some(r.area.as_str()))
        );
    }
}

#[test]
fn the_first_stitches_are_where_knitting_begins() {
    for plan in plans() {
        let trace = knitted(&plan);
        let first = drawn(&plan, &trace, trace.advance(Position::default()));
        let begun = Drawing::of(
            &plan,
            &trace,
            &plan.section_progress(Position::default()),
            Some(0),
        );
        let [_, top, _, low] = box_of(&begun.stand.expect("knitting stands somewhere"));
        let [_, high, _, deep] = box_of(&first.outline);
        if plan.recipe.direction == Direction::ToeUp {
            assert!(low > f32::midpoint(high, deep), "at the toe");
        } else {
            assert!((top - high).abs() < 0.2, "at the cuff");
        }
    }
}

#[test]
fn the_place_lies_on_the_field() {
    for plan in plans() {
        let trace = knitted(&plan);
        let mut at = Position::default();
        // the toe's last rounds are cut to its rounding
        let slack = mm(plan.outcome.circumference) / 4.0;
        while at != trace.end() {
            let progress = plan.section_progress(at);
            let here = trace.steps[at.step].section;
            let drawing = Drawing::of(&plan, &trace, &progress, Some(here));
            let [a, b, c, d] = box_of(&drawing.stand.expect("knitting stands somewhere"));
            let (wide, high) = drawing.size;
            assert!(
                a >= 0.0 && b >= 0.0 && c <= wide + slack && d <= high + slack,
                "{at:?}"
            );
            at = trace.advance(at);
        }
    }
}

/// Stripes of two and three rounds, the heel and the toe of their own.
fn striped(direction: Direction, heel: Heel) -> Plan {
    let stripe = |yarn, rounds| Stripe { yarn, rounds };
    let recipe = Recipe {
        stitches: Some(64),
        direction,
        heel,
        yarns: Some(Yarns {
            stripes: vec![stripe(Yarn::A, 2), stripe(Yarn::B, 3)],
            cuff: Yarn::B,
            heel: Yarn::C,
            toe: Yarn::D,
        }),
        ..Recipe::default()
    };
    make(&recipe).expect("a sock")
}

fn both_ways() -> impl Iterator<Item = (Direction, Heel)> {
    let heels = [
        Heel::default(),
        Heel::ShortRow { between: 3 },
        Heel::Afterthought,
    ];
    let ways = [Direction::CuffDown, Direction::ToeUp];
    ways.into_iter()
        .flat_map(move |way| heels.into_iter().map(move |heel| (way, heel)))
}

/// The levels of a straight stripe's pieces, from where knitting comes from.
fn levels(band: &YarnArea) -> Vec<[f32; 2]> {
    let pieces = band.area.split_inclusive('Z').map(box_of);
    pieces.map(|[_, top, _, low]| [top, low]).collect()
}

#[test]
fn a_stripe_lies_at_the_height_of_its_rounds() {
    for (direction, heel) in both_ways() {
        let plan = striped(direction, heel);
        let trace = knitted(&plan);
        let leg: Vec<&StepTrace> = trace
            .steps
            .iter()
            .filter(|s| s.kind == SectionKind::Leg)
            .collect();
        let swatch = &plan.recipe.swatch;
        let cuff = mm(plan
            .outcome
            .sections
            .iter()
            .find(|s| s.kind == SectionKind::Cuff)
            .expect("a cuff")
            .length);
        let drawing = drawn(&plan, &trace, Position::default());
        let region = drawing
            .regions
            .iter()
            .find(|r| r.kind == SectionKind::Leg)
            .expect("a leg");
        let mut seen = 0;
        for band in &region.bands {
            for [top, low] in levels(band) {
                seen += 1;
                // the rounds that the simulator knits with another yarn begin just there
                let from = |y: f32| match direction {
                    Direction::CuffDown => y - MARGIN - cuff,
                    Direction::ToeUp => mm(plan.outcome.leg_length) + MARGIN - y,
                };
                let (begin, end) = if direction == Direction::CuffDown {
                    (top, low)
                } else {
                    (low, top)
                };
                let first = (0..leg.len()).find(|n| {
                    (mm(swatch.height_of(u16::try_from(*n).expect("few"))) - from(begin)).abs()
                        < 0.5
                });
                let first =
                    first.unwrap_or_else(|| panic!("{direction:?}: no round begins at {begin}"));
                let rounds = leg[first..]
                    .iter()
                    .take_while(|s| s.after().yarn() == band.yarn)
                    .count();
                let before = first.checked_sub(1).map(|n| leg[n].after().yarn());
                assert!(rounds > 0 && before != Some(band.yarn), "round {first}");
                let height = mm(swatch.height_of(u16::try_from(rounds).expect("few")));
                assert!(
                    (from(end) - from(begin) - height).abs() < 0.5,
                    "{rounds} rounds"
                );
            }
        }
        let changes = leg
            .windows(2)
            .filter(|w| w[0].after().yarn() != w[1].after().yarn())
            .count();
        assert_eq!(seen, changes + 1);
    }
}

#[test]
fn stripes_cover_a_section_and_are_knitted_as_far_as_it_is() {
    for (direction, heel) in both_ways() {
        let plan = striped(direction, heel);
        let trace = knitted(&plan);
        for step in (0..trace.steps.len()).step_by(7) {
            let drawing = drawn(&plan, &trace, Position { step, mv: 0 });
            for region in &drawing.regions {
                let (whole, done) = (
                    area(&region.area),
                    region.knitted.as_deref().map_or(0.0, area),
                );
                let of = |knitted: bool| -> f32 {
                    let bands = region.bands.iter().filter(|b| b.knitted == knitted);
                    bands
                        .flat_map(|b| b.area.split_inclusive('Z'))
                        .map(area)
                        .sum()
                };
                // the heel knitted last is drawn rounder than its rounds are
                let slack = if region.kind == SectionKind::LateHeel {
                    whole
                } else {
                    2.0 + whole * 0.01
                };
                assert!(
                    (of(true) - done).abs() < slack,
                    "{:?} {} {done}",
                    region.kind,
                    of(true)
                );
                assert!(
                    (of(true) + of(false) - whole).abs() < slack,
                    "{:?}",
                    region.kind
                );
                assert!(region.bands.len() <= 8);
            }
        }
    }
}

#[test]
fn each_part_has_the_yarns_that_it_is_knitted_with() {
    use SectionKind::{Cuff, HeelFlap, Leg, Toe};
    let plan = striped(Direction::CuffDown, Heel::default());
    let drawing = drawn(&plan, &knitted(&plan), Position::default());
    for (kind, wanted) in [
        (Cuff, &[Yarn::B][..]),
        (Leg, &[Yarn::A, Yarn::B]),
        (HeelFlap, &[Yarn::C]),
        (Toe, &[Yarn::D]),
    ] {
        let region = drawing
            .regions
            .iter()
            .find(|r| r.kind == kind)
            .expect("it is drawn");
        let yarns: Vec<Yarn> = region.bands.iter().map(|b| b.yarn).collect();
        assert_eq!(yarns, wanted, "{kind:?}");
    }
}

fn patterned(direction: Direction, place: MotifPlacement) -> Plan {
    let rows = ["p1 k4 p1", "p1 cr2/2 p1", "p1 k4 p1", "k2tog yo k2 yo ssk"];
    let recipe = Recipe {
        stitches: Some(72),
        direction,
        motif: Some(Motif {
            rows: rows
                .iter()
                .map(|row| row.parse().expect("a round"))
                .collect(),
            place,
        }),
        ..Recipe::default()
    };
    make(&recipe).expect("a sock")
}

#[test]
fn the_motif_lies_on_leg_gusset_and_foot_in_its_size() {
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        for place in [MotifPlacement::Front, MotifPlacement::AllRound] {
            let plan = patterned(direction, place);
            let drawing = drawn(&plan, &knitted(&plan), Position::default());
            let texture = drawing.texture.expect("a motif");
            let swatch = &plan.recipe.swatch;
            assert!((texture.tile.0 - mm(swatch.width_of(6))).abs() < 0.1);
            assert!((texture.tile.1 - mm(swatch.height_of(4))).abs() < 0.1);
            let mut kinds: Vec<SectionKind> = texture.parts.iter().map(|p| p.kind).collect();
            kinds.sort_unstable();
            assert_eq!(
                kinds,
                [SectionKind::Leg, SectionKind::Gusset, SectionKind::Foot]
            );
            let leg = texture
                .parts
                .iter()
                .find(|p| p.kind == SectionKind::Leg)
                .expect("a leg");
            let [left, _, right, _] = box_of(&leg.area);
            let shown = match place {
                // half of the repeats on the front
                MotifPlacement::Front => {
                    let share = 36.0 / f32::from(plan.outcome.stitches);
                    mm(plan.outcome.circumference) * share / 2.0
                }
                MotifPlacement::AllRound => mm(plan.outcome.circumference) / 2.0,
            };
            assert!((right - left - shown).abs() < 0.3, "{place:?}");
            for part in &texture.parts {
                let [a, b, c, d, ..] = part.lie;
                assert!((a * c + b * d).abs() < 1e-5, "rounds lie across stitches");
                assert!(
                    (a.hypot(b) - 1.0).abs() < 1e-5 && (c.hypot(d) - 1.0).abs() < 1e-5,
                    "to scale"
                );
            }
        }
    }
}

#[test]
fn the_motif_begins_where_its_first_round_is_knitted() {
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        let plan = patterned(direction, MotifPlacement::Front);
        let texture = drawn(&plan, &knitted(&plan), Position::default())
            .texture
            .expect("a motif");
        for part in &texture.parts {
            let [_, _, c, d, e, f] = part.lie;
            let corners = points(&part.area);
            // from the repeat's beginning to where the section begins, along the rounds
            let along = |point: (f32, f32)| (point.0 - e) * c + (point.1 - f) * d;
            let begin = corners.iter().map(|s| along(*s)).fold(f32::MAX, f32::min);
            let section = plan
                .sections
                .iter()
                .find(|s| s.kind == part.kind)
                .expect("a section");
            let row = section
                .steps
                .iter()
                .find_map(|s| s.moves[0].motif_round())
                .expect("patterned");
            let wanted = mm(plan.recipe.swatch.height_of(row - 1));
            // the gusset begins at a slant
            let begin = if part.kind == SectionKind::Gusset && direction == Direction::CuffDown {
                along(corners[0])
            } else {
                begin
            };
            assert!(
                (begin - wanted).abs() < 0.6,
                "{direction:?} {:?}: {begin} for round {row}",
                part.kind
            );
        }
    }
}
