//! What things are called, and the cautions.

use crate::needles::Origin;
use crate::plan::{Caution, SectionKind, StepForm};
use crate::recipe::NearestFit;
use crate::text::messages::StepShape;
use crate::text::variety::English;

/// What a section is called.
pub const fn section_name(kind: SectionKind, english: English) -> &'static str {
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
        SectionKind::ShortHeel => "Short-row heel",
        SectionKind::HeelPlace => "Heel opening",
        SectionKind::LateHeel => "Afterthought heel",
        SectionKind::LateClose => "Closing the heel",
        SectionKind::BindOff => english.bind_off_capital(),
        SectionKind::Close => "Closing the toe",
    }
}

/// What a section is called within a sentence, after "the".
pub const fn section_in_text(kind: SectionKind, english: English) -> &'static str {
    match kind {
        SectionKind::CastOn => "cast-on",
        SectionKind::Cuff => "cuff",
        SectionKind::Leg => "leg",
        SectionKind::HeelFlap => "heel flap",
        SectionKind::HeelTurn => "heel turn",
        SectionKind::PickUp => "gusset pick-up",
        SectionKind::Gusset => "gusset",
        SectionKind::Foot => "foot",
        SectionKind::Toe => "toe",
        SectionKind::ShortHeel => "short-row heel",
        SectionKind::HeelPlace => "heel opening",
        SectionKind::LateHeel => "afterthought heel",
        SectionKind::LateClose => "closing of the heel",
        SectionKind::BindOff => english.bind_off_noun(),
        SectionKind::Close => "closing of the toe",
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

/// What kind of round it is: "decrease round".
pub(crate) const fn shape(shape: StepShape) -> &'static str {
    match shape {
        StepShape::RightSide => "right side",
        StepShape::WrongSide => "wrong side",
        StepShape::Increase => "increase round",
        StepShape::Decrease => "decrease round",
        StepShape::Plain => "plain round",
        StepShape::Divide => "dividing",
        StepShape::Join => "joining",
        StepShape::Seat => "moving stitches",
        StepShape::PickUp => "picking up",
        StepShape::Graft => "grafting",
        StepShape::DrawClosed => "drawing closed",
        StepShape::FastenOff => "weaving in",
    }
}

/// Which round, row or move of how many: "Round 3 of 18".
pub(crate) fn heading(form: StepForm, number: usize, of: usize) -> String {
    match form {
        StepForm::Round => format!("Round {number} of {of}"),
        StepForm::Row(_) => format!("Row {number} of {of}"),
        StepForm::Walk => format!("Step {number} of {of}"),
    }
}

/// A caution in one or two kind sentences.
pub fn caution(caution: Caution, english: English) -> String {
    let said = match caution {
        Caution::LargerThanFoot(nearest) => {
            let fits = nearest_fit(nearest);
            return format!("The sock is larger than the foot and will slip.{fits}");
        }
        Caution::RepeatDecides(nearest) => {
            let fits = nearest_fit(nearest);
            return format!(
                "Whole repeats of the stitch pattern all round make the sock tighter or wider than you wished.{fits}"
            );
        }
        Caution::PatternNotMeasured(percent) => {
            return format!(
                "How much the stitch pattern draws in was not measured; it is taken to be {percent}%, as is common for such stitches. A washed swatch in the stitch pattern is surer: enter its stitches and width."
            );
        }
        Caution::TenderLegs => {
            let (cast_on, bind_off) = (CAST_ON_TENDER, english.bind_off_noun());
            return format!(
                "For tender or swollen legs the leg and the cuff have no negative ease: they are as wide as the leg itself. The edge is a very stretchy one: the {cast_on}, or from the toe up the {bind_off} with yarn overs. Ask the wearer’s doctor or nurse."
            );
        }
        Caution::GaugeGuessed => {
            return format!(
                "There is no swatch yet: the {} is only a first guess. Measure the sock when its first rounds are knitted; the rest is then planned again.",
                english.gauge()
            );
        }
        Caution::HardToPutOn => {
            "Getting it over the heel may be hard: the tube would have to stretch to more than about one and a half times its width. Less negative ease helps."
        }
        Caution::FirmEdge => {
            "The edge you chose stretches least and has far to stretch over the heel. Work it loosely, or choose one that stretches more."
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
            "The foot’s circumference was estimated from its length. Measuring round the ball of the foot is surer."
        }
    };
    said.to_owned()
}

const CAST_ON_TENDER: &str = "twisted long-tail cast-on";

/// The number of stitches that fits, where there is one.
fn nearest_fit(nearest: Option<NearestFit>) -> String {
    match nearest {
        None => String::new(),
        Some(NearestFit {
            stitches,
            front_only: false,
        }) => format!(" {stitches} stitches fit."),
        Some(NearestFit { stitches, .. }) => format!(
            " With the stitch pattern on the front only, and plain stitches at its sides, {stitches} stitches fit."
        ),
    }
}
