//! The notes that go with hard places: why and how, in a few sentences.

use crate::foot::percent_of;
use crate::needles::{Item, Needles, Origin};
use crate::plan::{Cue, Move, Plan, Section, SectionKind};
use crate::recipe::{Direction, Edge, FlapTexture, Heel, Method, Seating, Toe};
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
            Cue::CastOn => Some(format!(
                "Leave a tail of about {} for a long-tail cast-on. Cast on loosely: the edge has to stretch over the heel.",
                plan.outcome.cast_on_tail
            )),
            Cue::TurnHem => say("The hem folds along this round."),
            Cue::JoinHem => say(
                "Fold the hem inside along the turning round. Lift each stitch's loop of the cast-on edge onto the left needle and knit the two together.",
            ),
            Cue::CastOnClosed => say(
                "Hold the two needles parallel. Wrap the yarn round them in figures of eight, or by any closed cast-on you like. The first round closes the loops.",
            ),
            Cue::Divide => Some(divide(method, per_needle)),
            Cue::Join => say(
                "See that the edge lies untwisted all the way round. The first stitch cast on is the next one to be worked; draw the yarn snug there.",
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
            Cue::ReachHeel => say(
                "Plain knitting, past where the round began, to the end of the instep. The heel is worked from here.",
            ),
            Cue::SeatHeel => Some(seat_heel(method, per_needle)),
            Cue::ReachMiddle => say("Plain knitting across half the sole."),
            Cue::SeatMiddle => Some(seat_middle(method, per_needle)),
            Cue::SeatLeg => Some(seat_leg(method, per_needle)),
            Cue::Waste => say(
                "Knit the heel's half with a piece of smooth waste yarn, slide these stitches back, and knit them again with the working yarn. The heel is knitted there at the very end.",
            ),
            Cue::OpenWaste => Some(format!(
                "Slip one needle through the {n} stitches below the waste yarn and another through the {n} above it, then pull the waste yarn out. Join the working yarn; the round begins at the side.",
                n = plan.outcome.heel_stitches
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
            Cue::CrossSecondHalf => {
                say("The second half of the turned heel, up to the flap's edge.")
            }
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
            Cue::CrossInstepFirst => say(instep_first(method)),
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
                "The heel stitches that were left at the start. The round is whole again and ends in the middle of the heel; {} {}.",
                if per_needle.len() > 1 {
                    "the needles carry"
                } else {
                    "the needle carries"
                },
                listed(per_needle)
            )),
            Cue::CrossSole => say(
                "Across the heel and down to the end of the first gusset. The round begins at the end you have just picked up, on the sole's needle.",
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
        match mv.cue {
            Cue::DrawClosed => Some(format!(
                "Cut the yarn, leaving about 20 cm, thread it and draw it through the last {} stitches, twice round. Pull the hole shut.",
                before.stitches()
            )),
            Cue::ChangeNeedles => Some(format!(
                "Soon the toe will not reach round the short needle. Take a long circular and slip the stitches over, {}: the round still begins in the middle of the sole, at a needle's tip, so its marker goes.",
                listed(per_needle)
            )),
            Cue::ReachInstep => {
                say("Half the sole once more: the yarn has to hang beside the instep.")
            }
            Cue::SeatForGraft => Some(format!(
                "Slide the stitches without working them until the instep lies on one needle and the sole on the other, {}. Markers come off.",
                listed(per_needle)
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
                    "Cut the yarn, leaving about {tail}, and thread it. Hold the needles parallel, wrong sides together, {front} in front. First stitch on the front needle: as if to purl, leave it on. First stitch on the back needle: as if to knit, leave it on."
                ))
            }
            Cue::GraftPair => say(
                "Front needle: as if to knit, slip it off; the next one as if to purl, leave it on. Back needle: as if to purl, slip it off; the next one as if to knit, leave it on. Draw the yarn to the size of a stitch.",
            ),
            Cue::GraftEnd => say(
                "The last pair. Front needle: as if to knit, slip it off. Back needle: as if to purl, slip it off.",
            ),
            Cue::ToShortCircular => say(
                "The toe reaches round the short circular now: knit the stitches onto it. Markers show instep and sole, and one hangs where the round begins, in the middle of the sole.",
            ),
            Cue::BindOff => Some(bind_off(plan.recipe.cuff.edge).to_owned()),
            Cue::FastenOff => say(
                "Take the yarn to the inside, fasten it and weave it in, and the other ends too.",
            ),
            _ => None,
        }
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

fn seat_heel(method: Method, per_needle: &[u16]) -> String {
    match method {
        Method::ShortCircular => {
            "The round begins at the heel's side now, where a marker hangs. Others come off, unless the heel's far end wants one.".to_owned()
        }
        Method::MagicLoop { .. } => format!(
            "Slide the stitches without working them until the heel lies on needle 1 alone, {}. The round begins at its side.",
            listed(per_needle)
        ),
        Method::TwoCirculars { .. } | Method::FourDpns | Method::FiveDpns => format!(
            "The heel wants a needle of its own. Slip stitches purlwise from needle to needle, without working them, until they lie {}. The heel is on needle 1.",
            listed(per_needle)
        ),
    }
}

fn seat_middle(method: Method, per_needle: &[u16]) -> String {
    match method {
        Method::ShortCircular => {
            "Hang a marker here: from now on the round begins in the middle of the sole. Two more markers show where the instep begins and ends.".to_owned()
        }
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => format!(
            "The round begins here from now on, in the middle of the sole, at a needle's tip. Slide the stitches until they lie {}; a marker hangs at each end of the instep.",
            listed(per_needle)
        ),
        Method::FourDpns | Method::FiveDpns => format!(
            "The round begins here from now on, in the middle of the sole. Slip stitches from needle to needle until they lie {}.",
            listed(per_needle)
        ),
    }
}

fn seat_leg(method: Method, per_needle: &[u16]) -> String {
    match method {
        Method::ShortCircular => "One marker is enough now, where the round begins.".to_owned(),
        _ => format!(
            "Share the stitches out for the leg: {}.",
            listed(per_needle)
        ),
    }
}

const fn bind_off(edge: Edge) -> &'static str {
    match edge {
        Edge::Rib(_) => {
            "Bind off with a stretchy method, or very loosely with a larger needle: the edge has to pass the heel. Cut the yarn and draw it through the last loop."
        }
        Edge::Hem { .. } => {
            "Fold the hem inside. Sew each live stitch loosely to the round it lies on, or bind off very loosely and sew the edge down."
        }
        Edge::Rolled => {
            "Bind off very loosely, with a larger needle: the edge has to pass the heel."
        }
    }
}

const fn instep_first(method: Method) -> &'static str {
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
const DOUBLE_STITCH: &str = "Where it says so, turn, slip the first stitch with the yarn in front and pull the yarn up over the needle: its two legs make a double stitch.";

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
            Edge::Hem { .. } if up => Some("This is the outside of the hem.".to_owned()),
            Edge::Hem { .. } => {
                Some("This is the inside of the hem. It will be folded in.".to_owned())
            }
            Edge::Rolled => Some("The edge rolls outward by itself.".to_owned()),
        },
        SectionKind::HeelFlap => Some(flap(plan, up)),
        SectionKind::HeelTurn if up => Some(format!(
            "Short rows over the middle {} stitches. {DOUBLE_STITCH}",
            out.heel_stitches
        )),
        SectionKind::HeelTurn => Some(format!(
            "Short rows: turn where it says, leaving the rest of the row. Each later row closes the gap of the one before, until {} stitches are left.",
            out.turned
        )),
        SectionKind::ShortHeel => Some(format!(
            "Short rows over {} stitches. {DOUBLE_STITCH} Later both legs are worked together.",
            out.heel_stitches
        )),
        SectionKind::Gusset if up => Some(format!(
            "Two stitches are made in each increase round, on the sole's side of the instep, until {} are all round.",
            out.peak
        )),
        SectionKind::Gusset => Some(format!(
            "Two stitches go in each decrease round, on the sole's side of the instep, until {} are left all round.",
            out.stitches
        )),
        SectionKind::Toe if up => Some(format!(
            "Four stitches are made in each increase round, until {} are all round.",
            out.stitches
        )),
        SectionKind::Toe => Some(match plan.recipe.toe {
            Toe::Wedge { .. } => format!(
                "Four stitches go in each decrease round, until {} are left for the graft on each needle.",
                out.graft_pairs
            ),
            Toe::Round => format!(
                "Decreases are spread round the whole toe, until {} stitches are left to be drawn closed.",
                out.toe_left
            ),
        }),
        SectionKind::LateHeel => Some(
            "One stitch is made at each end of both needles, against holes. Then the heel narrows like a toe.".to_owned(),
        ),
        _ => None,
    }
}

fn flap(plan: &Plan, up: bool) -> String {
    let border = match plan.recipe.heel {
        Heel::FlapAndGusset {
            texture: FlapTexture::GarterEdge,
            ..
        } => " Both edges have stitches of garter.",
        Heel::FlapAndGusset {
            texture: FlapTexture::EyeOfPartridge,
            ..
        } => " The slipped stitches move over by one in every second right-side row.",
        _ => "",
    };
    let slipping = "Slip stitches purlwise, the yarn on the wrong side of the fabric.";
    if up {
        format!(
            "The flap grows up the back of the heel. The decrease at the end of each row takes one stitch of the gusset. {slipping}{border}"
        )
    } else {
        format!(
            "From here only {} stitches are worked, back and forth; the instep waits. {slipping} The slipped ends make the chains you pick up from later.{border}",
            plan.outcome.heel_stitches
        )
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
