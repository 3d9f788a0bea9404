//! What a plan comes to, for the knitter to look at before casting on.
//!
//! Stored with the plan: names of fields are never changed. Knows no arithmetic ([`super::totals`]).

use serde::{Deserialize, Serialize};

use super::section_kind::SectionKind;
use crate::recipe::NearestFit;
use crate::stitch::Yarn;
use crate::units::Length;

/// Counts, finished measurements, yarn and cautions of one sock.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Outcome {
    /// Stitches around.
    pub stitches: u16,
    /// Circumference of the finished foot, unstretched.
    pub circumference: Length,
    /// Circumference of the finished leg above the heel, where its fabric makes it another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leg_circumference: Option<Length>,
    /// How much smaller than the foot that is, in tenths of a percent; negative when larger.
    pub ease_permille: i32,
    /// Stitches of the heel flap.
    pub heel_stitches: u16,
    /// Rows of the heel flap; 0 for a heel without one.
    pub flap_rows: u16,
    /// Stitches left when the heel is turned; 0 for a heel without a flap. From the toe up the turn
    /// leaves as many as the heel has.
    pub turned: u16,
    /// Stitches picked up along each side of the flap, corners included; 0 where none are.
    pub picked_up: u16,
    /// Most stitches on the needles at once.
    pub peak: u16,
    /// Live stitches when the toe ends.
    pub toe_left: u16,
    /// Stitches of each needle to be grafted; none where the toe is drawn closed.
    pub graft_pairs: u16,
    /// Finished length of the foot, back of the heel to toe tip.
    pub foot_length: Length,
    /// Finished length from the cast-on edge to the heel flap.
    pub leg_length: Length,
    /// Stitches cast on, or bound off, at the cuff.
    #[serde(default)]
    pub cast_on: u16,
    /// Length of yarn to leave for the cast-on at the cuff. Common practice: about three times the
    /// edge for a long tail or a tubular edge, four times for a twisted one, and a hand's width to
    /// weave in.
    pub cast_on_tail: Length,
    /// Length of yarn to leave for the bind-off. Common practice: about three times the edge where
    /// it or a hem is sewn, four times where a tubular one is grafted, and a hand's width to weave in,
    /// which is all that another one needs.
    #[serde(default)]
    pub bind_off_tail: Length,
    /// Length of the leg before washing, when the swatch was measured then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leg_on_needles: Option<Length>,
    /// Length of the foot before washing, when the swatch was measured then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub foot_on_needles: Option<Length>,
    /// Section by section.
    pub sections: Vec<SectionOutcome>,
    /// Single operations of the whole sock: every stitch worked, slipped, joined or grafted with the
    /// sock's own yarn (a row of waste yarn is not counted).
    pub stitches_worked: u32,
    /// Metres for one sock, the allowance of a tenth included.
    pub metres: u32,
    /// Grams for one sock by the ball's band, when that is known.
    pub grams: Option<u32>,
    /// Yarn by yarn, where there are several.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub yarns: Vec<YarnOutcome>,
    /// What to think about before casting on.
    pub cautions: Vec<Caution>,
}

impl Outcome {
    /// Whether the sock has a gusset.
    pub fn has_gusset(&self) -> bool {
        self.sections
            .iter()
            .any(|section| section.kind == SectionKind::Gusset)
    }
}

/// What one of several yarns is used for in one sock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct YarnOutcome {
    /// Which yarn.
    pub yarn: Yarn,
    /// Decimetres, without allowance.
    pub yarn_dm: u32,
    /// Metres, the allowance of a tenth included.
    pub metres: u32,
    /// Grams by the ball's band, when that is known.
    pub grams: Option<u32>,
}

/// One section in numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct SectionOutcome {
    /// Which section.
    #[serde(with = "super::section_kind::section_key")]
    pub kind: SectionKind,
    /// Rounds and rows, as they are counted; 0 for a section that is walked move by move.
    pub steps: u16,
    /// Its height.
    pub length: Length,
    /// Stitches worked.
    pub worked: u32,
    /// Decimetres of yarn, without allowance.
    pub yarn_dm: u32,
}

/// Something to think about before casting on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Caution {
    /// The tube would have to stretch to more than one and a half times itself to pass the heel
    /// (common practice for what a plain tube does gladly).
    HardToPutOn,
    /// The edge of the cuff is a firm one and has far to stretch to pass the heel.
    FirmEdge,
    /// The sock is hardly smaller than the foot: it may slip.
    LittleEase,
    /// The sock is larger than the foot: it will slip.
    LargerThanFoot(Option<NearestFit>),
    /// Whole repeats of the motif take the sock away from the ease that is wished.
    RepeatDecides(Option<NearestFit>),
    /// How much the motif draws in was not measured: it is allowed for with so many percent.
    PatternNotMeasured(u8),
    /// Leg, cuff and edge were made wide and soft for tender or swollen legs.
    TenderLegs,
    /// The sock is much smaller than the foot: it may be tight.
    MuchEase,
    /// The gusset narrows in every round because the foot is short.
    GussetEveryRound,
    /// For a small child: no loose strands inside, every end secured.
    SmallChild,
    /// The foot's circumference was estimated from its length.
    CircumferenceEstimated,
    /// There was no swatch: stitches and rounds are a first guess, to be measured in the sock.
    GaugeGuessed,
}
