//! The notes that go with hard places: why and how, in a few sentences.

mod edges;
mod first;
mod seats;
mod yarns;

use self::edges::{bind_off, cast_on};
use self::first::first_of_section;
use self::seats::{divide, markers_off, seat_apart, seat_heel, seat_leg, seat_middle, shift};
use crate::foot::percent_of;
use crate::needles::{Item, Needles, Origin};
use crate::plan::{Cue, Move, Plan};
use crate::recipe::{Direction, Method, Seating};
use crate::stitch::Op;
use crate::trace::{Position, Trace};
use crate::units::Length;

/// The note for a position, where one is needed.
pub(super) fn note(plan: &Plan, trace: &Trace, at: Position) -> Option<String> {
    let said = [yarns::at_a_change(plan, at), place(plan, trace, at)];
    let said: Vec<String> = said.into_iter().flatten().collect();
    (!said.is_empty()).then(|| said.join(" "))
}

fn place(plan: &Plan, trace: &Trace, at: Position) -> Option<String> {
    let (_, mv) = plan.move_at(at)?;
    let seen = trace.steps.get(at.step)?;
    let here = Here {
        plan,
        mv,
        before: trace.needles_at(at)?,
        per_needle: seen.moves.get(at.mv)?.after.per_needle(),
    };
    match mv.cue {
        Cue::Plain | Cue::Shape => {
            first_of_section(plan, plan.sections.get(seen.section)?, seen.index)
        }
        _ => here
            .at_the_start()
            .or_else(|| here.at_the_heel())
            .or_else(|| here.at_the_toe()),
    }
}

#[allow(clippy::unnecessary_wraps)] // every arm of a note is an Option
fn say(text: &str) -> Option<String> {
    Some(text.to_owned())
}

/// A move and what lies round it.
struct Here<'a> {
    plan: &'a Plan,
    mv: &'a Move,
    before: &'a Needles,
    /// Stitches on each needle when the move is done.
    per_needle: Vec<u16>,
}

impl Here<'_> {
    /// What the stitches are on: the toe of a sock on one short circular is on two halves.
    fn method(&self) -> Method {
        match self.plan.recipe.needles {
            Method::ShortCircular if self.per_needle.len() > 1 => Method::MagicLoop {
                seating: Seating::EvenHalves,
            },
            other => other,
        }
    }

    /// Casting on, hems.
    fn at_the_start(&self) -> Option<String> {
        let Self {
            plan,
            mv,
            per_needle,
            ..
        } = self;
        let method = self.method();
        match mv.cue {
            Cue::CastOn => Some(cast_on(plan)),
            Cue::TurnHem => say("The hem folds along this round."),
            Cue::JoinHem => say(
                "Fold the hem inside. For each stitch lift its loop of the cast-on edge onto the left needle and knit the two together.",
            ),
            Cue::CastOnClosed => say(
                "Hold two needles parallel and wrap the yarn round them in figures of eight, or use any closed cast-on you like.",
            ),
            Cue::Divide => Some(divide(method, per_needle)),
            Cue::Join => say(
                "See that the edge is not twisted. The first stitch cast on comes next; draw the yarn snug there.",
            ),
            _ => None,
        }
    }

    /// The heel and the rearrangement after it.
    fn at_the_heel(&self) -> Option<String> {
        let Self {
            plan,
            mv,
            per_needle,
            ..
        } = self;
        let method = self.method();
        match mv.cue {
            Cue::ReachHeel => say("Knit to the end of the instep: the heel is worked from there."),
            Cue::SeatHeel => Some(seat_heel(method, &mv.ops, per_needle)),
            Cue::ReachMiddle => say("Knit half the sole."),
            Cue::SeatMiddle => Some(seat_middle(method, per_needle)),
            Cue::SeatLeg => Some(seat_leg(method, per_needle)),
            Cue::Waste => say(
                "A piece of smooth waste yarn keeps the heel's place; the heel is knitted there at the very end.",
            ),
            Cue::OpenWaste => Some(format!(
                "Slip one needle through the {n} stitches below the waste yarn and another through the {n} above it, then pull the waste yarn out. Join the working yarn at the side: the round begins there.",
                n = plan.outcome.heel_stitches
            )),
            Cue::CrossFirstHalf => say(
                "The first half of the turned heel. These stitches wait until the end of the round.",
            ),
            Cue::CrossBegin => say(match method {
                Method::MagicLoop { .. } => {
                    "Pull the cable out here. From now on the round begins here, in the middle of the heel."
                }
                Method::TwoCirculars { .. } => {
                    "From now on the round begins here, in the middle of the heel. Let these stitches slide back onto the cable and go on with the same needle."
                }
                Method::FourDpns | Method::FiveDpns => {
                    "Go on with the empty needle. From now on the round begins here, in the middle of the heel."
                }
                Method::ShortCircular => {
                    "Hang a marker here. From now on the round begins at it, in the middle of the heel."
                }
            }),
            Cue::CrossSecondHalf => {
                say("The second half of the turned heel, up to the flap's edge.")
            }
            Cue::CrossHeel => say("Across the turned heel, up to the flap's edge."),
            Cue::PickUpLeft => Some(format!(
                "Along the flap's near edge, from the heel to the instep: one stitch out of every slipped-stitch chain{}.{}",
                corner(&mv.ops),
                if mv.ops.iter().any(|op| matches!(op, Op::Place(_))) {
                    " The marker shows where the instep begins."
                } else {
                    ""
                }
            )),
            Cue::CrossInstepFirst => say(instep_first(method)),
            Cue::CrossInstepSecond => say(match method {
                Method::MagicLoop { .. } | Method::TwoCirculars { .. } => {
                    "The rest of the instep, on needle 2. The marker shows where it ends; the open gap at the flap comes next."
                }
                _ => "The rest of the instep. The open gap at the flap comes next.",
            }),
            Cue::PickUpRight => Some(format!(
                "Along the flap's other edge, from the instep to the heel: one stitch out of every chain{}. The gap closes.",
                corner(&mv.ops)
            )),
            Cue::CrossClose => Some(format!(
                "The heel stitches left at the start{}. The round is whole again; {} {}.",
                if matches!(method, Method::TwoCirculars { .. }) {
                    ", onto needle 2"
                } else {
                    ""
                },
                if per_needle.len() > 1 {
                    "the needles carry"
                } else {
                    "the needle carries"
                },
                listed(per_needle)
            )),
            Cue::CrossSole => say(
                "Across the heel and along the first gusset. Needle 1 carries the sole and both gussets; the round begins at its start.",
            ),
            _ => None,
        }
    }

    /// The toe and its closing.
    fn at_the_toe(&self) -> Option<String> {
        let Self {
            plan,
            mv,
            before,
            per_needle,
        } = self;
        let method = self.method();
        match mv.cue {
            Cue::DrawClosed => Some(format!(
                "Cut the yarn, leaving about {}, thread it and draw it twice through the last {} stitches. Pull the hole shut.",
                Length::cm(20).told_about(),
                before.stitches()
            )),
            Cue::SeatMotif if plan.recipe.direction == Direction::ToeUp => Some(format!(
                "Slide the stitches until they lie {}: no needle ends within a repeat of the motif.",
                listed(per_needle)
            )),
            Cue::SeatMotif => Some(format!(
                "From here on the knitting is plain. Slide the stitches until they are shared out evenly, {}.",
                listed(per_needle)
            )),
            Cue::ReachSide => say("Knit to the end of the instep: the toe is worked from there."),
            Cue::SeatApart => Some(seat_apart(plan.recipe.needles, &mv.ops, per_needle)),
            Cue::ChangeNeedles => Some(format!(
                "Soon the toe will not reach round the short needle. Slip the stitches onto a long circular, {}. The round still begins in the middle of the sole, at the needle's tip: take its marker off.",
                listed(per_needle)
            )),
            Cue::ReachInstep => say("Knit half the sole: the yarn has to hang beside the instep."),
            Cue::SeatForGraft => Some(format!(
                "{} the stitches, without working them, until the instep lies on one needle and the sole on the other, {}.{}",
                shift(method),
                listed(per_needle),
                markers_off(&mv.ops)
            )),
            Cue::GraftStart => {
                let front = if front_is_instep(before) {
                    "the instep"
                } else {
                    "the sole"
                };
                let pairs = before.stitches() / 2;
                let seam = plan.recipe.swatch.width_of(pairs);
                // a damaged plan may say anything of its swatch
                let tail = percent_of(seam, 400).0.saturating_add(Length::cm(15).0);
                let tail = Length(tail).told_about();
                Some(format!(
                    "Cut the yarn, leaving about {tail}, and thread it. Hold the needles parallel, wrong sides together, {front} in front. Front stitch: as if to purl, leave it on. Back stitch: as if to knit, leave it on."
                ))
            }
            Cue::GraftPair => say(
                "Front: as if to knit, slip it off; the next as if to purl, leave it on. Back: as if to purl, slip it off; the next as if to knit, leave it on. Draw the yarn up to the size of a stitch.",
            ),
            Cue::GraftEnd => say(
                "The last pair. Front: as if to knit, slip it off. Back: as if to purl, slip it off.",
            ),
            Cue::ToShortCircular => say(
                "The toe reaches round the short circular now: slip the stitches onto it. Hang a marker where the round begins, in the middle of the sole, and one at each end of the instep.",
            ),
            Cue::BindOff => Some(bind_off(plan)),
            Cue::FastenOff => say(
                "Take the yarn to the inside, fasten it and weave it in. Weave in the other ends too.",
            ),
            _ => None,
        }
    }
}

const fn instep_first(method: Method) -> &'static str {
    match method {
        Method::MagicLoop {
            seating: Seating::EvenHalves,
        } => {
            "Slide the instep up and go on over its first half. Then pull the cable out: needle 1 ends here, in the middle of the instep."
        }
        Method::TwoCirculars {
            seating: Seating::EvenHalves,
        } => {
            "Go on with the same needle over the first half of the instep. Needle 1 ends here; the rest stays on needle 2."
        }
        Method::FourDpns => {
            "Across the instep, on its own needle. The open gap at the flap comes next."
        }
        Method::FiveDpns => "The first half of the instep, on its own needle.",
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

fn front_is_instep(needles: &Needles) -> bool {
    needles
        .items()
        .next()
        .is_some_and(|item| matches!(item, Item::Stitches(Origin::Instep, _)))
}

/// "32 and 32", "24, 20 and 20".
pub(super) fn listed(counts: &[u16]) -> String {
    match counts {
        [] => String::new(),
        [one] => one.to_string(),
        [start @ .., last] => {
            let start: Vec<String> = start.iter().map(u16::to_string).collect();
            format!("{} and {last}", start.join(", "))
        }
    }
}
