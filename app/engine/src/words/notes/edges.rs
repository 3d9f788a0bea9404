//! Casting the cuff on and binding it off.

use crate::plan::Plan;
use crate::recipe::{BindOff, CastOn, Edge};

pub(super) fn cast_on(plan: &Plan) -> String {
    let tail = plan.outcome.cast_on_tail.told_about();
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

pub(super) fn bind_off(plan: &Plan) -> String {
    let how = match plan.recipe.bind_off {
        BindOff::Plain => {
            "Bind off loosely, with a larger needle: the edge has to pass the heel.".to_owned()
        }
        BindOff::Sewn => format!(
            "Cut the yarn, leaving about {}, and thread it. Go through two stitches as if to purl, back through the first as if to knit, slip that one off; go on like this, loosely.",
            plan.outcome.bind_off_tail.told_about()
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
