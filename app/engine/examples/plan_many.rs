//! Plans and knits one sock so many times and prints how many operations it has (a run of
//! stitches is one, a repeat as often as it is worked); for
//! counting instructions (`tests/instructions`).
//!
//! `plan_many STITCHES LEG_CM TIMES`

use std::hint::black_box;

use evenloop_engine::foot::Foot;
use evenloop_engine::plan::make;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::stitch::Op;
use evenloop_engine::trace::Trace;
use evenloop_engine::units::Length;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut given = std::env::args().skip(1);
    let mut next = || given.next().ok_or("plan_many STITCHES LEG_CM TIMES");
    let recipe = Recipe {
        foot: Foot {
            length: Length::cm(34),
            ..Recipe::default().foot
        },
        stitches: Some(next()?.parse()?),
        leg: Length::cm(next()?.parse()?),
        ..Recipe::default()
    };
    let times: u32 = next()?.parse()?;
    let mut operations = 0;
    for _ in 0..times {
        let plan = make(black_box(&recipe)).map_err(|why| format!("{why:?}"))?;
        black_box(Trace::of(&plan)?);
        let steps = plan.sections.iter().flat_map(|s| &s.steps);
        let moves = steps.flat_map(|s| &s.moves);
        operations = moves.map(|m| worked(&m.ops)).sum();
    }
    println!("{operations}");
    Ok(())
}

fn worked(ops: &[Op]) -> u32 {
    ops.iter()
        .map(|op| match op {
            Op::Repeat(inner, times) => worked(inner) * u32::from(times.get()),
            _ => 1,
        })
        .sum()
}
