//! What is said once, on the first round or row of a section.

use crate::plan::{Plan, Section, SectionKind};
use crate::recipe::{Direction, Edge, FlapTexture, Heel, LeftRight, Toe};

/// How a double stitch comes about.
const DOUBLE_STITCH: &str = "Double stitch: after the turn slip the first stitch with the yarn in front and pull the yarn up over the needle, so that it shows two legs. Later both are worked together.";

/// Notes on the first rounds of a section.
pub(super) fn first_of_section(plan: &Plan, section: &Section, index: usize) -> Option<String> {
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
