//! Words and reader are inverses: what our own plans say, line by line and in every written wording, the
//! reader of patterns reads back into the operations it was said from. What is said to the ear has no stars
//! and is not meant to be read.
#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::collections::BTreeSet;

use evenloop_engine::knit::Refusal;
use evenloop_engine::needles::Needles;
use evenloop_engine::pattern::read_line;
use evenloop_engine::plan::Plan;
use evenloop_engine::read_back;
use evenloop_engine::sock::{Looked, by_pattern, look};
use evenloop_engine::stitch::{Count, Marker, Op};
use evenloop_engine::text::{
    English, NotWritten, RunStyle, Typed, WordForm, Wording, as_pattern, instructions,
};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::wire::{plan_document, read_plan, read_recipe, write_recipe};
use evenloop_tests::model::compare::{Verdict, three_ways};
use evenloop_tests::model::recipes::seeded;

/// Single operations, without what is not said in a line: needle ends, who a marker is, how a cast-on is
/// divided, to which neighbour a yarn over belongs.
fn said(ops: &[Op], out: &mut Vec<Op>) {
    let one = Count::MIN;
    for op in ops {
        let (make, n): (fn(Count) -> Op, u16) = match op {
            Op::Repeat(inner, times) => {
                for _ in 0..times.get() {
                    said(inner, out);
                }
                continue;
            }
            Op::Knit(n) => (Op::Knit, n.get()),
            Op::Purl(n) => (Op::Purl, n.get()),
            Op::Slip(n) => (Op::Slip, n.get()),
            Op::KnitThroughBackLoop(n) => (Op::KnitThroughBackLoop, n.get()),
            Op::SlipYarnInFront(n) => (Op::SlipYarnInFront, n.get()),
            Op::KnitDouble(n) => (Op::KnitDouble, n.get()),
            Op::PurlDouble(n) => (Op::PurlDouble, n.get()),
            Op::FoldJoin(n) => (Op::FoldJoin, n.get()),
            Op::CastOnUneven(back, front) => {
                out.extend(Count::new(back.get() + front.get()).map(Op::CastOn));
                continue;
            }
            Op::CastOnTubular(back, front) => {
                let all = back.get() + front.get();
                let halves = (Count::new(all.div_ceil(2)), Count::new(all / 2));
                if let (Some(back), Some(front)) = halves {
                    out.push(Op::CastOnTubular(back, front));
                }
                continue;
            }
            Op::Place(_) => {
                out.push(Op::Place(Marker::Round));
                continue;
            }
            Op::SlipMarker(_) => {
                out.push(Op::SlipMarker(Marker::Round));
                continue;
            }
            Op::YarnOverBehind => {
                out.push(Op::YarnOver);
                continue;
            }
            Op::Next
            | Op::Join
            | Op::Remove(_)
            | Op::WorkFlat(_)
            | Op::LoopOut(_)
            | Op::LoopIn(_)
            | Op::BeginHere
            | Op::Hang(..)
            | Op::OpenWaste(_)
            | Op::SnipRow(_)
            | Op::OpenProvisional(_)
            | Op::GraftStart
            | Op::Graft(_)
            | Op::GraftEnd
            | Op::DrawClosed(_)
            | Op::FastenOff => continue,
            other => {
                out.push(other.clone());
                continue;
            }
        };
        out.extend((0..n).map(|_| make(one)));
    }
}

/// The needles as they are when the first word of a line is worked: what is only told in a note is done.
fn ready(before: &Needles, ops: &[Op]) -> Result<Needles, Refusal> {
    let mut needles = before.clone();
    for op in ops {
        // They are said first and change nothing that a line is measured by.
        if matches!(op, Op::Yarn(_) | Op::MotifRow(_)) {
            continue;
        }
        let mut words = Vec::new();
        said(std::slice::from_ref(op), &mut words);
        if !words.is_empty() {
            break;
        }
        needles.apply(op)?;
    }
    Ok(needles)
}

fn hangs_markers_only(ops: &[Op]) -> bool {
    let mut words = Vec::new();
    said(ops, &mut words);
    words
        .iter()
        .all(|op| matches!(op, Op::Place(_) | Op::SlipMarker(_)))
}

/// An operation's written form without its numbers.
fn letters(op: &Op) -> String {
    let written = op.to_string();
    if let Op::CastOnTubular(..) = op {
        return "ct".into();
    }
    let end = written.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    written[..end].to_owned()
}

/// Reads every line of a plan back; how many there were. The letters of the operations are noted.
fn reads_back(plan: &Plan, name: &str, nth: usize, met: &mut BTreeSet<String>) -> usize {
    let trace = Trace::of(plan).expect("a plan that was made");
    let mut lines = 0;
    for (step, seen) in trace.steps.iter().enumerate() {
        for mv in 0..seen.moves.len() {
            let at = Position { step, mv };
            let (_, done) = plan.move_at(at).expect("it is there");
            // In a pattern a graft is one line (`as_pattern`). Its passes, needle by needle, are for the hands, and are
            // sewn by the reader of the words (`words/grafts.rs`).
            let grafts = |op: &Op| matches!(op, Op::GraftStart | Op::Graft(_) | Op::GraftEnd);
            if done.ops.iter().any(grafts) {
                continue;
            }
            let turn = nth + step;
            let style = Wording {
                form: [WordForm::Plain, WordForm::Short][turn % 2],
                reach: [RunStyle::Counted, RunStyle::ToMarker][turn / 2 % 2],
                english: [English::AsWritten, English::British, English::American][turn % 3],
                two_socks: turn / 4 % 2 == 1,
                ..Wording::default()
            };
            let told = instructions(plan, &trace, at, style).expect("words for a move");
            let passes = seen.moves[mv].passes.iter().filter(|pass| {
                let mut words = Vec::new();
                said(&done.ops[pass.ops.clone()], &mut words);
                !words.is_empty()
            });
            let texts: Vec<&str> = told
                .lines
                .iter()
                .map(|l| l.text.as_str())
                .filter(|t| !t.is_empty())
                .collect();
            // A move that works no stitch is told in its note, markers and all.
            let passes: Vec<_> = if texts.is_empty() && hangs_markers_only(&done.ops) {
                Vec::new()
            } else {
                passes.collect()
            };
            assert_eq!(passes.len(), texts.len(), "{name} {at:?}: {texts:?}");
            for (pass, text) in passes.into_iter().zip(texts) {
                let ops = &done.ops[pass.ops.clone()];
                let needles = ready(&pass.before, ops).expect("it was knitted before");
                let read = read_line(text, &needles)
                    .unwrap_or_else(|why| panic!("{name} {at:?}\n{text:?}\n{ops:?}\n{why:?}"));
                let (mut meant, mut found) = (Vec::new(), Vec::new());
                said(ops, &mut meant);
                said(&read, &mut found);
                assert_eq!(found, meant, "{name} {at:?}\n{text:?}");
                met.extend(found.iter().map(letters));
                lines += 1;
            }
        }
    }
    lines
}

/// Words that no plan came to say would be read untried.
fn everything_was_met(met: &BTreeSet<String>) {
    let expected = [
        "k", "p", "kt", "s", "sf", "k2tog", "ssk", "p2tog", "yo", "m1l", "m1r", "pu", "puc", "kc",
        "t", "td", "kd", "pd", "co", "cc", "cm", "bo", "w", "fold", "row", "cr2/", "cl2/", "yB",
        "ct", "cp", "ks", "sew", "clp1/", "crp1/",
    ];
    let missing: Vec<&str> = expected
        .into_iter()
        .filter(|letters| !met.contains(*letters))
        .collect();
    assert!(missing.is_empty(), "{missing:?} of {met:?}");
}

#[test]
fn what_our_words_write_is_read_back() {
    let (mut lines, mut met) = (0, BTreeSet::new());
    let many = std::env::var("EVENLOOP_SWEEP")
        .ok()
        .and_then(|n| n.parse().ok());
    let knitted = seeded(many.unwrap_or(400))
        .filter(|r| matches!(three_ways(r), Ok(Verdict::Knitted { .. })));
    for (nth, recipe) in knitted.enumerate() {
        let name = write_recipe(&recipe);
        let document = plan_document(&name).expect("it was planned before");
        let plan = read_plan(&document).expect("a plan that was written can be read");
        lines += reads_back(&plan, &name, nth, &mut met);
    }
    assert!(lines > 20_000, "only {lines} lines were read");
    everything_was_met(&met);
}

#[test]
fn every_snapshot_is_read_back_in_every_wording() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots");
    let (mut socks, mut met) = (0, BTreeSet::new());
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        let text = std::fs::read_to_string(&path).expect("a snapshot");
        let recipe = read_recipe(text.lines().next().unwrap_or_default()).expect("its recipe");
        let plan = evenloop_engine::plan::make(&recipe).expect("a sock");
        for nth in 0..24 {
            reads_back(&plan, &path.display().to_string(), nth, &mut met);
        }
        socks += 1;
    }
    assert!(socks > 25, "only {socks} snapshots");
    for letters in ["cm", "kc", "puc", "sf", "ct", "cp", "ks", "sew"] {
        assert!(met.contains(letters), "no snapshot holds {letters}");
    }
}

/// Every stitch that is worked, in its order, whatever needles it is worked on.
fn stitches(plan: &Plan) -> Vec<Op> {
    let moves = plan.sections.iter().flat_map(|s| &s.steps);
    let ops: Vec<Op> = moves
        .flat_map(|step| &step.moves)
        .flat_map(|mv| mv.ops.clone())
        .collect();
    let mut single = Vec::new();
    said(&ops, &mut single);
    single.retain(|op| {
        !matches!(
            op,
            Op::Place(_)
                | Op::SlipMarker(_)
                | Op::MotifRow(_)
                | Op::PatternLine(_)
                | Op::NameHeel
                | Op::WorkFlatBehind(_)
        )
    });
    for op in &mut single {
        if let Op::PickUpAlong(n) = op {
            *op = Op::PickUp(*n);
        }
    }
    single
}

/// The plan that the reader makes of a text on the same needles.
fn read(plan: &Plan, text: &str) -> Result<Plan, String> {
    match look(&by_pattern(text, plan.recipe.needles)) {
        Looked { findings, .. } if !findings.is_empty() => Err(format!("{findings:?}")),
        Looked { plan: Err(why), .. } => Err(format!("{why:?}")),
        Looked { plan: Ok(read), .. } => Ok(read),
    }
}

/// Where a plan and the one that is read from its text part, and the text between them; nothing where every stitch is
/// the same.
fn parts_ways(plan: &Plan, text: &str) -> Option<String> {
    let read = match read(plan, text) {
        Ok(read) => read,
        Err(why) => return Some(format!("{why}\n{text}")),
    };
    let (meant, found) = (stitches(plan), stitches(&read));
    if meant == found {
        return None;
    }
    let at = meant.iter().zip(&found).take_while(|(a, b)| a == b).count();
    let some = |ops: &[Op]| format!("{:?}", ops.iter().skip(at).take(6).collect::<Vec<_>>());
    let (meant_here, found_here) = (some(&meant), some(&found));
    Some(format!(
        "{at} of {} and {}: {meant_here} and {found_here}\n{text}",
        meant.len(),
        found.len()
    ))
}

fn written_down(plan: &Plan) -> Result<String, NotWritten> {
    let trace = Trace::of(plan).expect("a plan that was made");
    let name = Typed::new("Socks 38 (39, 40)");
    as_pattern(plan, &trace, Some(&name), Wording::default())
}

/// The law for whole plans: written down as a pattern and read, every stitch is the same.
#[test]
fn every_snapshot_written_as_a_pattern_reads_back_into_the_same_stitches() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/snapshots");
    let mut wrong = Vec::new();
    let mut socks = 0;
    for entry in std::fs::read_dir(folder).expect("the folder is there") {
        let path = entry.expect("an entry").path();
        let text = std::fs::read_to_string(&path).expect("a snapshot");
        let recipe = read_recipe(text.lines().next().unwrap_or_default()).expect("its recipe");
        let plan = evenloop_engine::plan::make(&recipe).expect("a sock");
        socks += 1;
        let text = written_down(&plan).expect("none is too long");
        if let Some(why) = parts_ways(&plan, &text) {
            wrong.push(format!("{}: {why}", path.display()));
        }
    }
    assert!(socks > 25, "only {socks} snapshots");
    assert!(
        wrong.is_empty(),
        "{} of {socks}\n{}",
        wrong.len(),
        wrong.join("\n\n")
    );
}

/// The same for the sweep: what is handed out as a pattern is read back into the same stitches, and all else is refused
/// with its reason.
#[test]
fn every_plan_of_the_sweep_reads_back_or_says_why_it_is_not_written_down() {
    let (mut socks, mut too_long, mut otherwise) = (0, Vec::new(), Vec::new());
    let many = std::env::var("EVENLOOP_SWEEP")
        .ok()
        .and_then(|n| n.parse().ok());
    for recipe in seeded(many.unwrap_or(400)) {
        let Ok(plan) = evenloop_engine::plan::make(&recipe) else {
            continue;
        };
        socks += 1;
        let text = match written_down(&plan) {
            Ok(text) => text,
            Err(NotWritten::TooLong { characters, most }) => {
                assert!(characters > most, "{characters}");
                too_long.push(characters);
                continue;
            }
            Err(why) => panic!("a plan of ours has no words of its own: {why:?}"),
        };
        let parts = parts_ways(&plan, &text);
        match (read_back::pattern(&plan, text.clone()), parts) {
            (Ok(handed_out), None) => assert_eq!(handed_out, text),
            (Err(NotWritten::ReadOtherwise), Some(why)) => {
                let first = why.lines().next().unwrap_or_default();
                let why: String = first.chars().take(300).collect();
                otherwise.push(format!("{}\n{why}", write_recipe(&recipe)));
            }
            (handed_out, parts) => panic!("{handed_out:?}, but {parts:?}"),
        }
    }
    println!(
        "of {socks} socks {} are too long ({too_long:?}) and {} would be read back otherwise\n{}",
        too_long.len(),
        otherwise.len(),
        otherwise.join("\n")
    );
    assert!(socks > 100, "only {socks} socks");
    // Motifs of very many rounds; and where a motif, a yarn over or a marker lies where a needle ends.
    assert!(too_long.len() * 200 <= socks, "{too_long:?} of {socks}");
    assert!(otherwise.len() * 100 <= socks, "{}", otherwise.join("\n"));
}
