//! Problems for programs: a code and arguments, beside the sentence for people.

use serde_json::{Value as Json, json};

use super::Problem;
use crate::recipe::Number;

impl Problem {
    /// A name for programs. A code is never changed and never used for anything else.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::OutOfRange { .. } | Self::StripesOutOfRange { .. } => "out-of-range",
            Self::GaugeOutOfRange { .. } => "gauge-out-of-range",
            Self::TooManyGirths { .. } => "too-many-girths",
            Self::GirthsNotAscending => "girths-not-ascending",
            Self::MotifRoundShapedLeg => "motif-round-shaped-leg",
            Self::GirthsInOneRound { .. } => "girths-in-one-round",
            Self::LegTooSteep { .. } => "leg-too-steep",
            Self::LegTooWide { .. } => "leg-too-wide",
            Self::LegRoundsMissing => "leg-rounds-missing",
            Self::LegShorterThanCuff { .. } => "leg-shorter-than-cuff",
            Self::StitchesNotQuartered { .. } => "stitches-not-quartered",
            Self::RepeatsNotWhole { .. } => "repeats-not-whole",
            Self::StitchesOutOfRange { .. } => "stitches-out-of-range",
            Self::FarFromFoot { .. } => "far-from-foot",
            Self::ShortCircularTooLong { .. } => "short-circular-too-long",
            Self::PatternSwatchFarOff => "pattern-swatch-far-off",
            Self::PatternRoundsFarOff => "pattern-rounds-far-off",
            Self::BalanceNotLess { .. } => "balance-not-less",
            Self::BalanceCutsRound { .. } => "balance-cuts-round",
            Self::FlapRowsAndHeight => "flap-rows-and-height",
            Self::FlapRowsOdd { .. } => "flap-rows-odd",
            Self::FlapTooShort { .. } => "flap-too-short",
            Self::FlapRowsOutOfRange { .. } => "flap-rows-out-of-range",
            Self::HighInstepAfterthought => "high-instep-afterthought",
            Self::TubularEdgeRib { .. } => "tubular-edge-rib",
            Self::ProvisionalToe => "provisional-toe",
            Self::RoundToeFirst => "round-toe-first",
            Self::RoundToeWide => "round-toe-wide",
            Self::FootTooShort { .. } => "foot-too-short",
            Self::FootRoundsMissing { .. } => "foot-rounds-missing",
            Self::LegRoundsLeftOut { .. } => "leg-rounds-left-out",
            Self::MotifCountNotKept { .. } => "motif-count-not-kept",
            Self::MotifRoundsOutOfRange { .. } => "motif-rounds-out-of-range",
            Self::MotifWidthOutOfRange { .. } => "motif-width-out-of-range",
            Self::MotifUneven { .. } => "motif-uneven",
            Self::MotifSlippedTooLong { .. } => "motif-slipped-too-long",
            Self::MotifNeverWorked => "motif-never-worked",
            Self::PatternUnread => "pattern-unread",
            Self::PatternWithoutRounds => "pattern-without-rounds",
            Self::PatternTooLong { .. } => "pattern-too-long",
            Self::NoSuchPatternSize { .. } => "no-such-pattern-size",
            Self::PartsDoNotMeet { .. } => "parts-do-not-meet",
            Self::MotifRoundUnreadable => "motif-round-unreadable",
            Self::MotifWiderThanFront { .. } => "motif-wider-than-front",
            Self::RepeatAcrossHalves => "repeat-across-halves",
            Self::RepeatAcrossFiveNeedles => "repeat-across-five-needles",
            Self::RepeatAcrossBegun => "repeat-across-begun",
            Self::RepeatsOnThreeNeedles => "repeats-on-three-needles",
            Self::DirectionOfBegun => "direction-of-begun",
            Self::RecipeTooLong { .. } => "recipe-too-long",
            Self::RecipeUnreadable { .. } => "recipe-unreadable",
            Self::ValueUnreadable { .. } => "value-unreadable",
            Self::FieldMissing { .. } => "field-missing",
            Self::FieldUnknown { .. } => "field-unknown",
            Self::FieldTwice => "field-twice",
            Self::NoWeight { .. } => "no-weight",
        }
    }

    /// Its arguments as a JSON object, empty where it has none. As in a recipe, lengths are whole
    /// tenths of a millimetre; gauges are tenths of a stitch or round to 10 cm. Names are never
    /// changed.
    #[allow(clippy::too_many_lines)] // one arm for each problem
    pub fn arguments(&self) -> Json {
        match self {
            Self::OutOfRange {
                value, least, most, ..
            } => json!({"value": plain(*value), "least": plain(*least), "most": plain(*most)}),
            Self::StripesOutOfRange {
                stripes,
                least,
                most,
            } => json!({"value": stripes, "least": least, "most": most}),
            Self::GaugeOutOfRange {
                gauge, least, most, ..
            } => {
                json!({"gauge": gauge.tenths(), "least": least.tenths(), "most": most.tenths()})
            }
            Self::TooManyGirths { places, most } => json!({"places": places, "most": most}),
            Self::GirthsInOneRound { height } => json!({"height": height}),
            Self::LegTooSteep { round } => json!({"round": round}),
            Self::LegTooWide { stitches, most } => json!({"stitches": stitches, "most": most}),
            Self::LegShorterThanCuff { leg, cuff } => json!({"leg": leg, "cuff": cuff}),
            Self::StitchesNotQuartered {
                stitches,
                below,
                above,
            } => json!({"stitches": stitches, "below": below, "above": above}),
            Self::RepeatsNotWhole {
                stitches,
                multiple,
                below,
                above,
            } => json!({
                "stitches": stitches, "multiple": multiple, "below": below, "above": above,
            }),
            Self::StitchesOutOfRange {
                stitches,
                least,
                most,
            } => json!({"stitches": stitches, "least": least, "most": most}),
            Self::FarFromFoot {
                stitches,
                tube,
                foot,
                nearest,
                ..
            } => json!({
                "stitches": stitches, "tube": tube, "foot": foot,
                "nearest": nearest.map(|nearest| nearest.stitches),
            }),
            Self::ShortCircularTooLong { tube, needle, fits } => {
                json!({"tube": tube, "needle": needle, "fits": fits})
            }
            Self::FlapRowsOdd { rows } => json!({"rows": rows}),
            Self::FlapTooShort {
                rows,
                around,
                least,
                square,
            } => json!({"rows": rows, "around": around, "least": least, "square": square}),
            Self::FlapRowsOutOfRange {
                height,
                rows,
                least,
                most,
                least_height,
                most_height,
            } => json!({
                "height": height, "rows": rows, "least": least, "most": most,
                "least_height": least_height, "most_height": most_height,
            }),
            Self::FootTooShort {
                needed,
                needed_length,
                room,
                room_length,
                shortest,
            } => json!({
                "needed": needed, "needed_length": needed_length,
                "room": room, "room_length": room_length, "shortest": shortest,
            }),
            Self::FootRoundsMissing { most } | Self::LegRoundsLeftOut { most } => {
                json!({"most": most})
            }
            Self::NoWeight { most } => json!({"most": most}),
            Self::MotifCountNotKept {
                round,
                takes,
                makes,
            } => json!({"round": round, "takes": takes, "makes": makes}),
            Self::MotifRoundsOutOfRange {
                rounds,
                least,
                most,
            } => json!({"rounds": rounds, "least": least, "most": most}),
            Self::MotifWidthOutOfRange { width, least, most } => {
                json!({"width": width, "least": least, "most": most})
            }
            Self::MotifUneven {
                round,
                width,
                first,
            } => json!({"round": round, "width": width, "first": first}),
            Self::MotifSlippedTooLong { rounds, most } => json!({"rounds": rounds, "most": most}),
            Self::BalanceNotLess { balance, width } => json!({"balance": balance, "width": width}),
            Self::BalanceCutsRound { balance, round } => {
                json!({"balance": balance, "round": round})
            }
            Self::MotifWiderThanFront { width, front } => json!({"width": width, "front": front}),
            Self::RecipeTooLong { bytes, most } => json!({"bytes": bytes, "most": most}),
            Self::RecipeUnreadable {
                reason,
                line,
                column,
            } => json!({"reason": reason, "line": line, "column": column}),
            Self::ValueUnreadable { wanted, found } => {
                let mut all = wanted.arguments();
                all["found"] = found.argument().into();
                all
            }
            Self::FieldMissing { wanted } => wanted.arguments(),
            Self::FieldUnknown { possible } => json!({"possible": possible}),
            Self::PatternTooLong { characters, most } => {
                json!({"characters": characters, "most": most})
            }
            Self::NoSuchPatternSize { size, sizes } => json!({"size": size, "sizes": sizes}),
            Self::PartsDoNotMeet { part } => json!({"part": part}),
            Self::GirthsNotAscending
            | Self::MotifRoundShapedLeg
            | Self::LegRoundsMissing
            | Self::FlapRowsAndHeight
            | Self::HighInstepAfterthought
            | Self::TubularEdgeRib { .. }
            | Self::ProvisionalToe
            | Self::RoundToeFirst
            | Self::RoundToeWide
            | Self::MotifNeverWorked
            | Self::PatternUnread
            | Self::PatternWithoutRounds
            | Self::MotifRoundUnreadable
            | Self::RepeatAcrossHalves
            | Self::RepeatAcrossFiveNeedles
            | Self::RepeatAcrossBegun
            | Self::RepeatsOnThreeNeedles
            | Self::DirectionOfBegun
            | Self::PatternSwatchFarOff
            | Self::PatternRoundsFarOff
            | Self::FieldTwice => json!({}),
        }
    }
}

fn plain(number: Number) -> i64 {
    match number {
        Number::Length(length) => length.tenths().into(),
        Number::Whole(whole) => whole,
    }
}
