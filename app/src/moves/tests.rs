//! Sequences against the operations they teach, and every picture against what a browser can draw.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::collections::BTreeSet;

use evenloop_engine::needles::Needles;
use evenloop_engine::plan::make;
use evenloop_engine::recipe::{Direction, Recipe, ToeCastOn};
use evenloop_engine::text::{English, KnittingHand, Technique, Wording, instructions};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::written_ops::read_ops;

use super::strand::{HIDDEN, Ink};
use super::{MoveFrame, cast_ons, sequence, stitches, worked};

fn of(technique: Technique, hand: KnittingHand) -> Vec<MoveFrame> {
    sequence(technique, English::AsWritten, hand)
}

fn all() -> impl Iterator<Item = (Technique, Vec<MoveFrame>)> {
    Technique::ALL
        .into_iter()
        .map(|technique| (technique, of(technique, KnittingHand::Right)))
}

#[test]
fn a_sequence_has_four_to_eight_frames_each_with_a_caption_of_its_own() {
    for (technique, steps) in all() {
        assert!(
            (4..=8).contains(&steps.len()),
            "{technique:?}: {}",
            steps.len()
        );
        for step in &steps {
            assert!(
                step.caption.ends_with('.'),
                "{technique:?}: {}",
                step.caption
            );
            assert!(step.caption.len() <= 260, "{technique:?}: {}", step.caption);
        }
        let captions: BTreeSet<&str> = steps.iter().map(|step| step.caption.as_str()).collect();
        assert_eq!(captions.len(), steps.len(), "{technique:?}");
        for pair in steps.windows(2) {
            let [one, next] = pair else { continue };
            assert_ne!(one.picture, next.picture, "{technique:?}: {}", next.caption);
        }
    }
}

#[test]
fn a_picture_is_paths_with_a_class_and_whole_numbers_and_small() {
    for (technique, steps) in all() {
        for step in steps {
            let mut nodes = 0;
            for tag in step.picture.split('<').skip(1) {
                let inside = tag.strip_prefix("path class=\"").expect("only paths");
                let (class, rest) = inside.split_once("\" d=\"").expect("a class, then a path");
                assert!(
                    class.chars().all(|c| c.is_ascii_lowercase() || c == ' '),
                    "{class}"
                );
                let path = rest.strip_suffix("\"/>").expect("nothing else");
                for number in path.split(|c: char| c.is_ascii_alphabetic() || c == ' ') {
                    let number = if number.is_empty() { "0" } else { number };
                    let number: i32 = number.parse().expect("a whole number");
                    assert!((-900..=3_600).contains(&number), "{technique:?}: {path}");
                }
                nodes += 1;
            }
            assert!((10..=140).contains(&nodes), "{technique:?}: {nodes} nodes");
        }
    }
}

/// By how many the operations change the stitches, as the simulator knits them.
fn change(ops: &str) -> i64 {
    let read = |ops| read_ops(ops).expect("operations");
    let mut needles = Needles::new();
    needles.apply_all(&read("co12 join")).expect("a ring");
    let before = needles.stitches();
    needles.apply_all(&read(ops)).expect("they can be knitted");
    i64::from(needles.stitches()) - i64::from(before)
}

#[test]
fn the_last_frame_has_as_many_stitches_as_the_simulator_makes_of_the_first() {
    for (technique, ops) in [
        (Technique::Knit, "k1"),
        (Technique::Purl, "p1"),
        (Technique::K2tog, "k2tog"),
        (Technique::Ssk, "ssk"),
        (Technique::P2tog, "p2tog"),
        (Technique::Slip, "s1 k1"),
        (Technique::Twisted, "kt1"),
        (Technique::MakeLeft, "m1l"),
        (Technique::MakeRight, "m1r"),
        (Technique::YarnOver, "yo k1"),
        (Technique::Cable, "cl1/1"),
        (Technique::DoubleWorked, "k1"),
    ] {
        let steps = of(technique, KnittingHand::Right);
        let total = |step: &MoveFrame| {
            let (held, taken) = step.on_needles;
            i64::try_from(held + taken).expect("few stitches")
        };
        let (first, last) = (&steps[0], &steps[steps.len() - 1]);
        let drawn = total(last) - total(first);
        assert_eq!(drawn, change(ops), "{technique:?}");
        // What is worked leaves the one needle, what is made comes to the other.
        assert!(last.on_needles.0 <= first.on_needles.0, "{technique:?}");
        assert!(last.on_needles.1 > first.on_needles.1, "{technique:?}");
    }
}

#[test]
fn a_stitch_is_fewer_where_one_is_bound_off_and_one_more_where_one_is_cast_on() {
    let total = |step: &MoveFrame| step.on_needles.0 + step.on_needles.1;
    // In which frame it is done.
    for (technique, frame) in [
        (Technique::PlainBindOff, 4),
        (Technique::TogetherBindOff, 4),
        (Technique::YarnOverBindOff, 5),
        (Technique::SewnBindOff, 4),
        (Technique::TubularBindOff, 4),
        (Technique::SewnHem, 3),
    ] {
        let steps = of(technique, KnittingHand::Right);
        assert_eq!(total(&steps[frame]) + 1, total(&steps[0]), "{technique:?}");
    }
    for (technique, frame) in [
        (Technique::LongTail, 5),
        (Technique::TwistedLongTail, 5),
        (Technique::KnittedOn, 5),
        (Technique::SlipKnot, 4),
        (Technique::TubularCastOn, 3),
        (Technique::TubularCastOn, 6),
    ] {
        let steps = of(technique, KnittingHand::Right);
        let before = &steps[frame - 3..frame];
        assert_eq!(total(&steps[frame]), total(&before[0]) + 1, "{technique:?}");
    }
    // The count stays where something is only closed or joined.
    for (technique, frame) in [(Technique::JoinedHem, 4), (Technique::Corner, 3)] {
        let steps = of(technique, KnittingHand::Right);
        assert_eq!(total(&steps[frame]), total(&steps[0]), "{technique:?}");
    }
}

/// Of what lies at a place along two lines, which is in front: the needle that takes stitches goes in by the right side
/// of the leg.
#[test]
fn the_needle_goes_over_the_front_leg_to_knit_and_under_it_to_purl() {
    let legs = |frame: &stitches::Frame| {
        let subject = frame
            .strands()
            .iter()
            .find(|strand| strand.ink == super::strand::Ink::Subject)
            .expect("a stitch is worked");
        let shown: Vec<i8> = subject
            .knots
            .iter()
            .map(|knot| knot.depth)
            .filter(|depth| *depth != HIDDEN)
            .collect();
        (
            *shown.iter().max().expect("it is drawn"),
            *shown.iter().min().expect("it is drawn"),
        )
    };
    let needle = |frame: &stitches::Frame| {
        let needles: Vec<Vec<i8>> = frame
            .strands()
            .iter()
            .filter(|strand| strand.ink == super::strand::Ink::Needle)
            .map(|strand| strand.knots.iter().map(|knot| knot.depth).collect())
            .collect();
        needles[1].clone()
    };
    let [_, knit, ..] = worked::knit();
    let (front, back) = legs(&knit);
    // At its shaft before the leg in front, at its point behind the leg at the back.
    assert!(needle(&knit)[0] > front && needle(&knit)[1] < back);
    let [_, purl, ..] = worked::purl();
    let (front, back) = legs(&purl);
    assert!(needle(&purl)[0] < front && needle(&purl)[0] > back);
    let [_, twisted, ..] = worked::through_the_back_loop();
    let (front, back) = legs(&twisted);
    assert!(needle(&twisted)[0] < front && needle(&twisted)[0] > back);
    assert!(
        needle(&twisted)[0] < stitches::at::HOLDS,
        "behind the other needle"
    );
}

/// The needles of the wrapped cast-on as picture and words hold them: where the points are, and which leg of a
/// stitch lies in front.
#[test]
fn the_wrapped_cast_on_is_held_and_wound_as_its_words_say() {
    let recipe = Recipe {
        direction: Direction::ToeUp,
        toe_cast_on: ToeCastOn::Wrapped,
        ..Recipe::default()
    };
    let plan = make(&recipe).expect("a plan");
    let trace = Trace::of(&plan).expect("it can be knitted");
    let moves = (0..plan.sections[0].steps[0].moves.len()).filter_map(|mv| {
        let at = Position { step: 0, mv };
        instructions(&plan, &trace, at, Wording::default())?.note
    });
    let said = moves.collect::<Vec<_>>().join(" ");
    for words in [
        "their points to the right",
        "tail hang down in front of both needles, and hold it there with your left thumb",
        "up behind both, over the top and down in front of both",
        "After the last time over the top it goes between the two to the back",
        "The upper needle is knitted first",
    ] {
        assert!(said.contains(words), "{words:?}: {said}");
    }
    for frame in cast_ons::wrapped_cast_on() {
        let of = |ink| frame.strands().iter().filter(move |s| s.ink == ink);
        for needle in of(Ink::Needle) {
            let ends = needle.knots.iter().map(|knot| knot.x);
            let point = needle.knots.last().expect("a point").x;
            assert!(
                ends.clone().all(|x| x <= point) && ends.clone().any(|x| x < 0.0),
                "the points are to the right"
            );
        }
        let yarn = &of(Ink::Yarn).next().expect("yarn").knots;
        let mut loops = 0;
        for three in yarn.windows(3) {
            let [up, over, down] = three else { continue };
            if over.depth > stitches::at::HOLDS && up.y > over.y && down.y > over.y {
                assert!(up.depth < stitches::at::HOLDS && down.depth > stitches::at::HOLDS);
                assert!(up.x < down.x, "the right leg is in front");
                loops += 1;
            }
        }
        assert_eq!(loops, frame.on_needles.0);
    }
    let steps = of(Technique::WrappedCastOn, KnittingHand::Right);
    assert!(
        steps[0]
            .caption
            .contains("in the left hand, their points to the right")
    );
}

/// The loops of the magic cast-on as the simulator has them mounted: those of the upper needle, which are knitted
/// through the back loop, with their right leg behind; those of the lower one, which lie the other way once the needles
/// have been turned, too. Both strands come from behind.
#[test]
fn the_loops_of_the_magic_cast_on_lie_as_they_are_knitted() {
    for frame in cast_ons::closed_cast_on() {
        let of = |ink| {
            let mut found = frame.strands().iter().filter(move |s| s.ink == ink);
            found.next().expect("a strand").knots.clone()
        };
        for (ink, loops, above) in [
            (Ink::Yarn, frame.on_needles.0, true),
            (Ink::Subject, frame.on_needles.1, false),
        ] {
            let strand = of(ink);
            assert!(
                strand[0].depth < stitches::at::HOLDS,
                "it comes from behind"
            );
            let mut seen = 0;
            for three in strand.windows(3) {
                let [one, turn, other] = three else { continue };
                let bend = if above {
                    one.y > turn.y && other.y > turn.y
                } else {
                    one.y < turn.y && other.y < turn.y
                };
                if bend && one.depth > stitches::at::HOLDS {
                    assert!(one.x < other.x && turn.depth < stitches::at::HOLDS);
                    seen += 1;
                }
            }
            assert_eq!(seen, loops, "{ink:?}");
        }
    }
}

#[test]
fn for_the_left_hand_everything_is_the_mirror_image() {
    for (technique, right) in all() {
        let left = of(technique, KnittingHand::Left);
        assert_eq!(left.len(), right.len());
        for (left, right) in left.iter().zip(&right) {
            let mirrored = left
                .picture
                .strip_prefix("<g transform=\"matrix(-1 0 0 1 2400 0)\">")
                .and_then(|inside| inside.strip_suffix("</g>"));
            assert_eq!(mirrored, Some(right.picture.as_str()), "{technique:?}");
            // "right" and "left" change places, but for the right side of the fabric and what is left.
            let swapped = left
                .caption
                .replace("left", "\u{1}")
                .replace("right", "left")
                .replace('\u{1}', "right");
            let same = |text: &str| {
                text.replace("left side facing", "right side facing")
                    .replace("is right of the two", "is left of the two")
            };
            assert_eq!(same(&swapped), right.caption, "{technique:?}");
        }
    }
}

#[test]
fn a_decrease_leans_to_the_other_side_for_the_left_hand() {
    let last = |technique, hand| {
        let steps = of(technique, hand);
        steps.last().expect("frames").caption.clone()
    };
    assert!(last(Technique::K2tog, KnittingHand::Right).contains("lean to the right"));
    assert!(last(Technique::K2tog, KnittingHand::Left).contains("lean to the left"));
    assert!(last(Technique::Ssk, KnittingHand::Right).contains("lean to the left"));
    assert!(last(Technique::Ssk, KnittingHand::Left).contains("lean to the right"));
}
