//! Whole socks in the words of printed patterns, all made up: nothing in them is called wrong, and every stitch of them
//! is worked.

use evenloop_engine::pattern::{check, sizes};
use evenloop_engine::recipe::Method;
use evenloop_engine::sock::{by_pattern, look};
use evenloop_engine::stitch::Op;
use evenloop_engine::trace::Trace;

/// The patterns, each with its name.
fn knitters() -> Vec<(&'static str, String)> {
    let all = include_str!("knitters.txt").split("\n# ");
    let named = all.filter_map(|one| one.trim_start_matches("# ").split_once('\n'));
    named.map(|(name, text)| (name, text.to_owned())).collect()
}

#[test]
fn whole_socks_in_the_words_of_printed_patterns_are_sound_in_every_size() {
    let mut socks = 0;
    for (name, text) in knitters() {
        let many = sizes(&text);
        for size in 0..many {
            let size = (many > 1).then_some(size);
            assert_eq!(check(&text, size), [], "{name}, {size:?}");
            for needles in Method::ALL {
                let mut recipe = by_pattern(&text, needles);
                if let Some(written) = &mut recipe.written {
                    written.size = size.and_then(|size| u8::try_from(size).ok());
                }
                let plan = look(&recipe).plan;
                let plan = plan.unwrap_or_else(|why| panic!("{name}, {needles:?}: {why:?}"));
                let trace = Trace::of(&plan).expect(name);
                let end = trace.steps.last().map(|step| step.after().stitches());
                assert_eq!(end, Some(0), "{name}, {needles:?}");
                // by its count is worked what a chart says, and nothing else
                let moves = plan.sections.iter().flat_map(|section| &section.steps);
                for mv in moves.flat_map(|step| &step.moves) {
                    let by_count = mv.ops.iter().any(|op| matches!(op, Op::AsWritten(..)));
                    let line = plan.pattern_line(mv).unwrap_or_default();
                    let charted = text.contains("Chart A") && !line.contains("Rnd 3");
                    assert!(!by_count || charted, "{name}, {needles:?}: {line}");
                }
                socks += 1;
            }
        }
    }
    assert_eq!(socks, 7 * Method::ALL.len());
}
