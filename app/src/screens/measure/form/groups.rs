//! The steps of the form and the groups of fields in them. Knows no field.

/// A step of the form, under a heading of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::screens::measure) enum MeasureStep {
    Foot,
    Swatch,
    Direction,
    Leg,
    Heel,
    Toe,
    Motif,
    Needles,
    Fit,
    Yarn,
}

/// Fields that stand one below the other in a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(in crate::screens::measure) enum FieldGroup {
    FootLength,
    FootRound,
    GaugeBy,
    Swatch,
    Guess,
    Unwashed,
    Direction,
    Edge,
    LegLengths,
    Girth,
    CastOn,
    BindOff,
    TenderLegs,
    HeelKind,
    ShortRowHeel,
    Flap,
    FlapHeight,
    FlapSwatch,
    Corners,
    Toe,
    Patterned,
    MotifPlace,
    MotifSides,
    PatternSwatch,
    RoundsBy,
    Needles,
    Fit,
    ThisFoot,
    Stripe,
    Band,
}

impl FieldGroup {
    /// Whether its numbers are measured on the foot, the leg or a swatch.
    pub(in crate::screens::measure) const fn is_measured(self) -> bool {
        matches!(
            self,
            Self::FootLength
                | Self::FootRound
                | Self::Swatch
                | Self::Unwashed
                | Self::PatternSwatch
                | Self::FlapSwatch
                | Self::Girth
        )
    }

    /// The step it stands in.
    pub(in crate::screens::measure) const fn step(self) -> MeasureStep {
        match self {
            Self::FootLength | Self::FootRound => MeasureStep::Foot,
            Self::GaugeBy | Self::Swatch | Self::Guess | Self::Unwashed => MeasureStep::Swatch,
            Self::Direction => MeasureStep::Direction,
            Self::Edge
            | Self::LegLengths
            | Self::Girth
            | Self::CastOn
            | Self::BindOff
            | Self::TenderLegs => MeasureStep::Leg,
            Self::HeelKind
            | Self::ShortRowHeel
            | Self::Flap
            | Self::FlapHeight
            | Self::FlapSwatch
            | Self::Corners => MeasureStep::Heel,
            Self::Toe => MeasureStep::Toe,
            Self::Patterned
            | Self::MotifPlace
            | Self::MotifSides
            | Self::PatternSwatch
            | Self::RoundsBy => MeasureStep::Motif,
            Self::Needles => MeasureStep::Needles,
            Self::Fit | Self::ThisFoot => MeasureStep::Fit,
            Self::Stripe | Self::Band => MeasureStep::Yarn,
        }
    }
}
