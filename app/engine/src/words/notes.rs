//! Names of things, and the notes that go with hard places: why and how, in a few sentences.

use crate::foot::percent_of;
use crate::needles::Origin;
use crate::plan::{Caution, Cue, Plan, SectionKind};
use crate::recipe::{Method, Seating};
use crate::stitch::Op;
use crate::trace::{Position, Trace};
use crate::units::Length;

/// What a section is called.
pub const fn section_name(kind: SectionKind) -> &'static str {
    match kind {
        SectionKind::CastOn => "Cast on",
        SectionKind::Cuff => "Cuff",
        SectionKind::Leg => "Leg",
        SectionKind::HeelFlap => "Heel flap",
        SectionKind::HeelTurn => "Heel turn",
        SectionKind::PickUp => "Gusset pick-up",
        SectionKind::Gusset => "Gusset",
        SectionKind::Foot => "Foot",
        SectionKind::Toe => "Toe",
        SectionKind::Close => "Grafting",
    }
}

/// What a group of stitches is called.
pub const fn origin_name(origin: Origin) -> &'static str {
    match origin {
        Origin::Back => "back of leg",
        Origin::Front => "front of leg",
        Origin::Heel => "heel",
        Origin::GussetLeft => "left gusset",
        Origin::Instep => "instep",
        Origin::GussetRight => "right gusset",
        Origin::Sole => "sole",
    }
}

/// What a needle method is called.
pub const fn method_name(method: Method) -> &'static str {
    match method {
        Method::MagicLoop { .. } => "magic loop",
        Method::TwoCirculars { .. } => "two circular needles",
        Method::FourDpns => "four double-pointed needles",
        Method::FiveDpns => "five double-pointed needles",
        Method::ShortCircular => "one short circular needle",
    }
}

/// What a seating is called.
pub const fn seating_name(seating: Seating) -> &'static str {
    match seating {
        Seating::EvenHalves => "even halves",
        Seating::InstepAndSole => "instep and sole",
    }
}

/// A caution in one or two kind sentences.
pub const fn caution(caution: Caution) -> &'static str {
    match caution {
        Caution::HardToPutOn => {
            "Getting it over the heel may be hard: the tube would have to stretch to more than about one and a half times its width. Less ease or a stretchier cast-on helps."
        }
        Caution::LittleEase => {
            "The sock is hardly smaller than the foot and may slip. About a tenth smaller suits most feet."
        }
        Caution::MuchEase => {
            "The sock is much smaller than the foot and may feel tight, above all at the cuff."
        }
        Caution::GussetEveryRound => {
            "The foot is short, so the gusset narrows in every round instead of every second."
        }
        Caution::SmallChild => {
            "For a small child: no loose strands inside, every end woven in well, nothing sewn on that could come off."
        }
        Caution::CircumferenceEstimated => {
            "The foot's circumference was estimated from its length. Measuring round the ball of the foot is surer."
        }
    }
}

/// The note for a position, where one is needed.
pub(super) fn note(plan: &Plan, trace: &Trace, at: Position) -> Option<String> {
    let (_, mv) = plan.move_at(at)?;
    let seen = trace.steps.get(at.step)?;
    let before = trace.needles_at(at)?;
    let after = &seen.moves.get(at.mv)?.after;
    let method = plan.recipe.needles;
    let per_needle = after.per_needle();
    let say = |s: &str| Some(s.to_owned());
    match mv.cue {
        Cue::CastOn => Some(format!(
            "Leave a tail of about {} for a long-tail cast-on. Cast on loosely: the edge has to stretch over the heel.",
            plan.outcome.cast_on_tail
        )),
        Cue::Divide => Some(divide(method, &per_needle)),
        Cue::Join => say(
            "See that the edge lies untwisted all the way round. The first stitch cast on is the next one to be worked; draw the yarn snug there.",
        ),
        Cue::SetHeel => Some(format!(
            "The heel wants a needle of its own. Slip stitches purlwise from needle to needle, without working them, until they lie {}. The heel is on needle 1.",
            listed(&per_needle)
        )),
        Cue::CrossFirstHalf => say(
            "This is the first half of the turned heel. These stitches wait on the needle until the end of the round.",
        ),
        Cue::CrossBegin => say(match method {
            Method::MagicLoop { .. } => {
                "Pull the cable out here, between the two halves of the heel. From now on the round begins at this place, the middle of the heel."
            }
            Method::TwoCirculars { .. } => {
                "Stop here and let these stitches slide back. The next ones are worked with the other tips of the needle. From now on the round begins at this place, the middle of the heel."
            }
            Method::FourDpns | Method::FiveDpns => {
                "Take up the empty needle for what comes next. From now on the round begins at this place, the middle of the heel."
            }
            Method::ShortCircular => {
                "Hang a marker here. From now on the round begins at this marker, the middle of the heel."
            }
        }),
        Cue::CrossSecondHalf => say("The second half of the turned heel, up to the flap's edge."),
        Cue::CrossHeel => say("Across the turned heel, up to the flap's edge."),
        Cue::PickUpLeft => Some(format!(
            "Go down the near edge of the flap: one stitch out of every slipped-stitch chain{}.{}",
            corner(&mv.ops),
            if mv.ops.iter().any(|op| matches!(op, Op::Place(_))) {
                " The marker shows where the instep begins."
            } else {
                ""
            }
        )),
        Cue::CrossInstepFirst => say(instep_first(method, &mv.ops)),
        Cue::CrossInstepSecond => say(match method {
            Method::MagicLoop { .. } | Method::TwoCirculars { .. } => {
                "The rest of the instep, on needle 2. The marker shows where the instep ends; the open gap at the flap comes next."
            }
            _ => "The rest of the instep. The open gap at the flap comes next.",
        }),
        Cue::PickUpRight => Some(format!(
            "Up the flap's other edge, from the instep to the heel: one stitch out of every chain{}. The gap closes.",
            corner(&mv.ops)
        )),
        Cue::CrossClose => Some(format!(
            "The heel stitches that were left at the start. The round is whole again and ends in the middle of the heel; the needles carry {}.",
            listed(&per_needle)
        )),
        Cue::CrossSole => say(
            "Across the heel and down to the end of the first gusset. The round begins at the end you have just picked up, on the sole's needle.",
        ),
        Cue::ChangeNeedles => Some(format!(
            "Soon the toe will not reach round the short needle. Take a long circular and slip the stitches over, {}: the round still begins in the middle of the sole, at a needle's tip, so its marker goes.",
            listed(&per_needle)
        )),
        Cue::ReachInstep => say("Half the sole once more: the yarn has to hang beside the instep."),
        Cue::SeatForGraft => Some(format!(
            "Slide the stitches without working them until the instep lies on one needle and the sole on the other, {}. Markers come off.",
            listed(&per_needle)
        )),
        Cue::GraftStart => {
            let front = if before.stitches_of(Origin::Instep) > 0 && front_is_instep(before) {
                "the instep"
            } else {
                "the sole"
            };
            let pairs = plan.outcome.graft_pairs;
            let seam = plan.recipe.swatch.width_of(pairs);
            let tail = Length(percent_of(seam, 400).0 + Length::cm(15).0);
            Some(format!(
                "Cut the yarn, leaving about {tail}, and thread it. Hold the needles parallel, wrong sides together, {front} in front. First stitch on the front needle: as if to purl, leave it on. First stitch on the back needle: as if to knit, leave it on."
            ))
        }
        Cue::GraftPair => say(
            "Front needle: as if to knit, slip it off; the next one as if to purl, leave it on. Back needle: as if to purl, slip it off; the next one as if to knit, leave it on. Draw the yarn to the size of a stitch.",
        ),
        Cue::GraftEnd => say(
            "The last pair. Front needle: as if to knit, slip it off. Back needle: as if to purl, slip it off.",
        ),
        Cue::FastenOff => say(
            "Take the yarn to the inside at the end of the graft, fasten it and weave it in. Weave in the other ends. The sock is knitted.",
        ),
        Cue::Plain | Cue::Shape => first_of_section(plan, seen.kind, seen.index),
    }
}

fn divide(method: Method, per_needle: &[u16]) -> String {
    match method {
        Method::MagicLoop { .. } => format!(
            "Slide the stitches to the cable and pull a loop of it out in the middle: {}.",
            listed(per_needle)
        ),
        Method::TwoCirculars { .. } => {
            format!("Slip them onto two circular needles: {}.", listed(per_needle))
        }
        Method::FourDpns => format!("Slip them onto three needles: {}.", listed(per_needle)),
        Method::FiveDpns => format!("Slip them onto four needles: {}.", listed(per_needle)),
        Method::ShortCircular => {
            "Spread them round the whole needle and hang a marker after the last one: the round begins there.".to_owned()
        }
    }
}

fn instep_first(method: Method, ops: &[Op]) -> &'static str {
    let carries_on = ops.iter().any(|op| matches!(op, Op::LoopIn(_)));
    match method {
        Method::MagicLoop {
            seating: Seating::EvenHalves,
        } => {
            "Slide the instep up and carry on with the same needle over its first half. Then pull the cable out here: needle 1 ends in the middle of the instep."
        }
        Method::TwoCirculars {
            seating: Seating::EvenHalves,
        } => {
            "Carry on with the same needle over the first half of the instep. Needle 1 ends here; the rest of the instep stays on needle 2."
        }
        Method::FourDpns if carries_on => {
            "The first half of the instep. Knit on over the second half with the same needle: the instep comes together on one."
        }
        Method::FourDpns | Method::FiveDpns => "The first half of the instep, on its own needle.",
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => "Across the instep, on needle 2.",
        Method::ShortCircular => {
            "Across the instep. The marker that was the round's beginning now shows where the instep ends."
        }
    }
}

fn corner(ops: &[Op]) -> &'static str {
    if ops.contains(&Op::PickUpCorner) {
        ", and one in the corner against a hole"
    } else {
        ""
    }
}

fn front_is_instep(needles: &crate::needles::Needles) -> bool {
    needles
        .items()
        .next()
        .is_some_and(|item| matches!(item, crate::needles::Item::Stitches(Origin::Instep, _)))
}

/// Notes on the first rounds of a section.
fn first_of_section(plan: &Plan, kind: SectionKind, index: usize) -> Option<String> {
    let steps = &plan.sections.iter().find(|s| s.kind == kind)?.steps;
    let first = steps
        .iter()
        .position(|s| s.form != crate::plan::Form::Walk)?;
    let out = &plan.outcome;
    if index != first {
        return None;
    }
    match kind {
        SectionKind::HeelFlap => Some(format!(
            "From here only {} stitches are worked, back and forth; the instep waits. Slip stitches purlwise, the yarn at the back; on the wrong side the first one with the yarn in front. The slipped ends make the chains you pick up from later.",
            out.heel_stitches
        )),
        SectionKind::HeelTurn => Some(format!(
            "Short rows: turn where it says, leaving the rest of the row. Each later row closes the gap of the one before, until {} stitches are left.",
            out.turned
        )),
        SectionKind::Gusset => Some(format!(
            "Two stitches go in each decrease round, on the sole's side of the instep, until {} are left all round.",
            out.stitches
        )),
        SectionKind::Toe => Some(format!(
            "Four stitches go in each decrease round, until {} are left for the graft on each needle.",
            out.graft_pairs
        )),
        _ => None,
    }
}

/// "32 and 32", "24, 20 and 20".
fn listed(counts: &[u16]) -> String {
    match counts {
        [] => String::new(),
        [one] => one.to_string(),
        [start @ .., last] => {
            let start: Vec<String> = start.iter().map(u16::to_string).collect();
            format!("{} and {last}", start.join(", "))
        }
    }
}
