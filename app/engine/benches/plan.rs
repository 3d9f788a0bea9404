//! How long planning and knitting take: `cargo bench -p evenloop-engine`. Counted per operation
//! (a run of stitches is one, a repeat as often as it is worked), so that growth shows: linear when
//! the rate stays.

use divan::counter::ItemsCount;
use divan::{Bencher, black_box};
use evenloop_engine::foot::Foot;
use evenloop_engine::journal::{Event, Journal};
use evenloop_engine::plan::{Plan, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::stitch::Op;
use evenloop_engine::trace::Trace;
use evenloop_engine::units::Length;
use evenloop_engine::wire::{plan_document, read_plan, write_plan, write_recipe};

fn main() {
    divan::main();
}

fn sock(stitches: u16, leg: Length) -> Recipe {
    Recipe {
        foot: Foot {
            length: Length::cm(34),
            ..Recipe::default().foot
        },
        stitches: Some(stitches),
        leg,
        ..Recipe::default()
    }
}

fn usual() -> Recipe {
    Recipe {
        stitches: Some(64),
        ..Recipe::default()
    }
}

fn planned(recipe: &Recipe) -> Plan {
    make(recipe).unwrap_or_else(|why| panic!("{why:?}"))
}

fn knitted(plan: &Plan) -> Trace {
    Trace::of(plan).unwrap_or_else(|why| panic!("{why}"))
}

fn operations(recipe: &Recipe) -> ItemsCount {
    let plan = planned(recipe);
    let steps = plan.sections.iter().flat_map(|s| &s.steps);
    let moves = steps.flat_map(|s| &s.moves);
    ItemsCount::new(moves.map(|m| worked(&m.ops)).sum::<u32>())
}

fn worked(ops: &[Op]) -> u32 {
    ops.iter()
        .map(|op| match op {
            Op::Repeat(inner, times) => worked(inner) * u32::from(times.get()),
            _ => 1,
        })
        .sum()
}

/// Both socks of a pair of 64 stitches, each planned and knitted through.
#[divan::bench]
fn pair_of_64(b: Bencher<'_, '_>) {
    let recipe = usual();
    b.bench(|| {
        [(); 2].map(|()| {
            let plan = planned(black_box(&recipe));
            let trace = knitted(&plan);
            (plan, trace)
        })
    });
}

/// One sock from its recipe document to its plan document, as the server does it.
#[divan::bench]
fn document_of_64(b: Bencher<'_, '_>) {
    let recipe = write_recipe(&usual());
    b.bench(|| plan_document(black_box(&recipe)));
}

/// A stored plan read and knitted through, as when a pair is opened.
#[divan::bench]
fn opening_64(b: Bencher<'_, '_>) {
    let document = write_plan(&planned(&usual()));
    b.bench(|| {
        let plan = read_plan(black_box(&document));
        plan.map(|plan| knitted(&plan))
    });
}

/// A journal of 2,000 events replayed.
#[divan::bench]
fn replay_of_2000(b: Bencher<'_, '_>) {
    let trace = knitted(&planned(&usual()));
    let events: Vec<Event> = (0..2_000)
        .map(|i| {
            if i % 3 == 2 {
                Event::Undo(i)
            } else {
                Event::Done(i)
            }
        })
        .collect();
    b.counter(ItemsCount::new(events.len()))
        .bench(|| Journal::replay(black_box(&events), &trace));
}

/// Planned and knitted through, from the smallest sock to the largest.
#[divan::bench(args = [32, 48, 64, 80, 96, 120])]
fn sock_of(b: Bencher<'_, '_>, stitches: u16) {
    let recipe = sock(stitches, Length::cm(16));
    b.counter(operations(&recipe)).bench(|| {
        let plan = planned(black_box(&recipe));
        knitted(&plan)
    });
}

/// The same with legs from ankle to knee.
#[divan::bench(args = [8, 16, 24, 32, 45])]
fn sock_of_64_with_leg_of_cm(b: Bencher<'_, '_>, leg: u32) {
    let recipe = sock(64, Length::cm(leg));
    b.counter(operations(&recipe)).bench(|| {
        let plan = planned(black_box(&recipe));
        knitted(&plan)
    });
}
