//! The notes that go with hard places: why and how, in a few sentences.

use crate::foot::percent_of;
use crate::needles::{Item, Needles, Origin};
use crate::plan::{Cue, Move, Plan, Section, SectionKind};
use crate::recipe::{
    BindOff, CastOn, Direction, Edge, FlapTexture, Heel, LeftRight, Method, Seating, Toe,
};
use crate::stitch::Op;
use crate::trace::{Position, Trace};
use crate::units::Length;

/// The note for a position, where one is needed.
pub(super) fn note(plan: &Plan, trace: &Trace, at: Position) -> Option<String> {
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
                "Cut the yarn, leaving about 20 cm, thread it and draw it twice through the last {} stitches. Pull the hole shut.",
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
                let tail = Length(percent_of(seam, 400).0 + Length::cm(15).0).about();
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

/// Along one needle stitches slide; to another one they are slipped.
const fn shift(method: Method) -> &'static str {
    match method {
        Method::MagicLoop { .. } => "Slide",
        _ => "Slip",
    }
}

/// Markers that have served, where there are any.
fn markers_off(ops: &[Op]) -> &'static str {
    if ops.iter().any(|op| matches!(op, Op::Remove(_))) {
        " Take the markers off."
    } else {
        ""
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

fn seat_heel(method: Method, ops: &[Op], per_needle: &[u16]) -> String {
    match method {
        Method::ShortCircular => seat_heel_by_markers(ops),
        Method::MagicLoop { .. } => format!(
            "Slide the stitches, without working them, until the heel lies on needle 1 alone, {}. The round begins at its side.",
            listed(per_needle)
        ),
        Method::TwoCirculars { .. } | Method::FourDpns | Method::FiveDpns => format!(
            "The heel gets needle 1 to itself. Slip stitches purlwise from needle to needle until they lie {}.",
            listed(per_needle)
        ),
    }
}

/// On one short circular only markers move; which ones the operations know.
fn seat_heel_by_markers(ops: &[Op]) -> String {
    let begin = if ops.iter().any(|op| matches!(op, Op::Place(_))) {
        "Hang a marker here: the round begins here now, at the heel's side."
    } else {
        "The round begins at this marker now, at the heel's side."
    };
    let others = if ops.iter().any(|op| matches!(op, Op::Remove(_))) {
        " Take the others off."
    } else {
        ""
    };
    let far_end = ops.iter().find_map(|op| match op {
        Op::Hang(_, n) => Some(format!(
            " Hang one after {n} stitches, where the heel ends."
        )),
        _ => None,
    });
    format!("{begin}{others}{}", far_end.unwrap_or_default())
}

fn seat_middle(method: Method, per_needle: &[u16]) -> String {
    let here = "The round begins here from now on, in the middle of the sole.";
    match method {
        Method::ShortCircular => {
            format!("{here} Hang a marker here, and have one at each end of the instep.")
        }
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => format!(
            "{here} {} the stitches until they lie {}, and hang a marker at each end of the instep.",
            shift(method),
            listed(per_needle)
        ),
        Method::FourDpns | Method::FiveDpns => format!(
            "{here} Slip stitches from needle to needle until they lie {}.",
            listed(per_needle)
        ),
    }
}

fn seat_apart(method: Method, ops: &[Op], per_needle: &[u16]) -> String {
    let take = match method {
        Method::ShortCircular => "Take a long circular or two needles. ",
        _ => "",
    };
    format!(
        "{take}{} the stitches, without working them, until the sole lies on needle 1 and the instep on needle 2, {}. The round begins at the sole's side.{}",
        shift(method),
        listed(per_needle),
        markers_off(ops)
    )
}

fn seat_leg(method: Method, per_needle: &[u16]) -> String {
    match method {
        Method::ShortCircular => "Leave only the marker where the round begins.".to_owned(),
        _ => format!("Share the stitches out like this: {}.", listed(per_needle)),
    }
}

fn cast_on(plan: &Plan) -> String {
    let tail = plan.outcome.cast_on_tail;
    match plan.recipe.cast_on {
        CastOn::LongTail => format!(
            "Long-tail cast-on: leave a tail of about {tail}. Cast on loosely, the edge has to stretch over the heel."
        ),
        CastOn::TwistedLongTail => format!(
            "Twisted long-tail cast-on: leave a tail of about {tail}. The twist in each loop lets the edge stretch over the heel."
        ),
        CastOn::KnittedOn => format!(
            "Knitted cast-on: leave a tail of about {tail} to weave in. Knit each new loop out of the one before and put it onto the left needle, loosely."
        ),
    }
}

fn bind_off(plan: &Plan) -> String {
    let how = match plan.recipe.bind_off {
        BindOff::Plain => {
            "Bind off loosely, with a larger needle: the edge has to pass the heel.".to_owned()
        }
        BindOff::Sewn => format!(
            "Cut the yarn, leaving about {}, and thread it. Go through two stitches as if to purl, back through the first as if to knit, slip that one off; go on like this, loosely.",
            plan.outcome.bind_off_tail
        ),
        BindOff::YarnOver => {
            "Before each stitch make a yarn over, work the stitch, then lift the yarn over and the stitch before over it.".to_owned()
        }
    };
    let hem = matches!(plan.recipe.cuff.edge, Edge::Hem { .. });
    let end = match (plan.recipe.bind_off, hem) {
        (BindOff::Sewn, false) => "",
        (BindOff::Sewn, true) => " Fold the hem inside and sew its edge down loosely.",
        (_, false) => " Cut the yarn and draw it through the last loop.",
        (_, true) => {
            " Cut the yarn, leaving enough to sew with, and draw it through the last loop. Fold the hem inside and sew its edge down loosely."
        }
    };
    format!("{how}{end}")
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

/// How a double stitch comes about.
const DOUBLE_STITCH: &str = "Double stitch: after the turn slip the first stitch with the yarn in front and pull the yarn up over the needle, so that it shows two legs. Later both are worked together.";

/// Notes on the first rounds of a section.
fn first_of_section(plan: &Plan, section: &Section, index: usize) -> Option<String> {
    if section.number(index) != Some(1) {
        return None;
    }
    let out = &plan.outcome;
    let up = plan.recipe.direction == Direction::ToeUp;
    match section.kind {
        SectionKind::Cuff => match plan.recipe.cuff.edge {
            Edge::Rib(_) => None,
            Edge::Hem { .. } if up => Some("The outside of the hem.".to_owned()),
            Edge::Hem { .. } => {
                Some("The inside of the hem; it is folded in later.".to_owned())
            }
            Edge::Rolled => Some("The edge rolls outward by itself.".to_owned()),
        },
        SectionKind::Leg if !plan.recipe.calf.is_empty() => Some(
            "The leg follows the calf, shaped on both sides of the 2 middle stitches of the back.".to_owned(),
        ),
        SectionKind::HeelFlap => Some(flap(plan, up)),
        SectionKind::HeelTurn if up => Some(format!(
            "Short rows over the middle {} stitches. {DOUBLE_STITCH}",
            out.heel_stitches
        )),
        SectionKind::HeelTurn => Some(format!(
            "Short rows: turn where it says and leave the rest. Later rows close the gaps, until {} heel stitches are left.",
            out.turned
        )),
        SectionKind::ShortHeel => Some(format!(
            "Short rows over {} stitches. {DOUBLE_STITCH}",
            out.heel_stitches
        )),
        SectionKind::Gusset if up => Some(format!(
            "Each increase round makes 2 stitches, on the sole's side of the instep, until there are {} all round.",
            out.peak
        )),
        SectionKind::Gusset => Some(format!(
            "Each decrease round takes 2 stitches, on the sole's side of the instep, until {} are left all round.",
            out.stitches
        )),
        SectionKind::Toe if plan.recipe.toe == Toe::ShortRow => Some(if up {
            format!("Short rows over the {} stitches of needle 1; needle 2 waits. {DOUBLE_STITCH}", out.heel_stitches)
        } else {
            format!("Short rows over the sole's {} stitches; the instep waits for the graft. {DOUBLE_STITCH}", out.heel_stitches)
        }),
        SectionKind::Toe if let Toe::Shaped { foot } = plan.recipe.toe => Some(shaped_toe(foot, up)),
        SectionKind::Toe if up => Some(format!(
            "Each increase round makes 4 stitches, until there are {} all round.",
            out.stitches
        )),
        SectionKind::Toe => Some(match plan.recipe.toe {
            Toe::Wedge { .. } | Toe::Shaped { .. } | Toe::ShortRow => format!(
                "Each decrease round takes 4 stitches, until instep and sole have {} each, for the graft.",
                out.graft_pairs
            ),
            Toe::Round => format!(
                "The decreases are spread round the toe, until {} stitches are left to be drawn closed.",
                out.toe_left
            ),
        }),
        SectionKind::LateHeel => Some(
            "One stitch is made at each end of both needles, against holes. Then the heel narrows like a toe.".to_owned(),
        ),
        _ => None,
    }
}

fn shaped_toe(foot: LeftRight, up: bool) -> String {
    let which = match foot {
        LeftRight::Left => "left",
        LeftRight::Right => "right",
    };
    let shaped = if up { "widens" } else { "narrows" };
    format!(
        "This toe is for the {which} foot: it {shaped} faster on the side of the little toe. The other sock's toe is its mirror image."
    )
}

fn flap(plan: &Plan, up: bool) -> String {
    let border = match plan.recipe.heel {
        Heel::FlapAndGusset {
            texture: FlapTexture::GarterEdge,
            ..
        } => " Both edges are garter stitch.",
        Heel::FlapAndGusset {
            texture: FlapTexture::EyeOfPartridge,
            ..
        } => " In every second right-side row the slipped stitches move over by one.",
        _ => "",
    };
    let slipping = "Slip purlwise, the yarn on the wrong side.";
    if up {
        format!(
            "The flap grows up the back of the heel; the decrease that ends each row takes in one gusset stitch. {slipping}{border}"
        )
    } else {
        format!(
            "Now only these {} stitches are worked, back and forth; the instep waits. {slipping} The slipped edges make the chains you pick up from later.{border}",
            plan.outcome.heel_stitches
        )
    }
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
