//! The fields of the form, each in one row: the numbers here, the questions in [`super::form`]. From
//! the rows follow what stands where in the form, when it is asked for, and where something wrong with it is
//! said.

use std::borrow::Cow;

use evenloop_engine::recipe::{MotifPlacement, NumberField, NumberRange, Unit};
use evenloop_engine::sort::sort;
use evenloop_engine::text::Wording;
use evenloop_engine::units::LengthUnit;
use evenloop_engine::yarn_amount::{plain_grams, plain_metres};

use super::form::{FieldGroup, FlapBy, GaugeBy, HeelKind, MeasureForm, MeasureStep, Question};
use crate::text::measure::{self as text, numbers};
use crate::text::{NumberText, Sentence};

impl FieldGroup {
    /// Its numbers, of a place where they belong to one.
    pub(super) fn numbers(self, place: u8) -> impl Iterator<Item = NumberField> {
        numbers_in_form().filter(move |field| {
            line(*field).is_some_and(|line| line.group == self)
                && field.place().is_none_or(|of| of == place)
        })
    }

    /// Its questions.
    pub(super) fn questions(self) -> impl Iterator<Item = Question> {
        let all = Question::ALL.into_iter();
        all.filter(move |question| question.group() == self)
    }
}

/// A line of the form that takes a number.
#[derive(Clone, Copy)]
pub(super) struct Line {
    /// Id of its input, with `#` for the place.
    id: &'static str,
    /// Where it stands.
    pub(super) group: FieldGroup,
    /// What is said of it.
    pub(super) text: NumberText,
    /// When it is asked for; always where there is no condition.
    pub(super) asked: Option<fn(&MeasureForm, NumberField) -> bool>,
}

impl Line {
    const fn when(mut self, asked: fn(&MeasureForm, NumberField) -> bool) -> Self {
        self.asked = Some(asked);
        self
    }
}

const fn at(id: &'static str, group: FieldGroup, text: NumberText) -> Line {
    Line {
        id,
        group,
        text,
        asked: None,
    }
}

fn by_swatch(form: &MeasureForm, _: NumberField) -> bool {
    form.gauge_by == GaugeBy::Swatch
}

/// The line of a number; none for rounds added to leg and foot, which are counted beside the lines.
#[allow(clippy::too_many_lines)] // one arm for each number
pub(super) fn line(field: NumberField) -> Option<Line> {
    use NumberField as N;

    Some(match field {
        N::FootLength => at("foot-length", FieldGroup::FootLength, numbers::FOOT_LENGTH),
        N::FootCircumference => at(
            "foot-circumference",
            FieldGroup::FootRound,
            numbers::FOOT_CIRCUMFERENCE,
        ),
        N::HeelDiagonal => at(
            "heel-diagonal",
            FieldGroup::FootRound,
            numbers::HEEL_DIAGONAL,
        ),
        N::SwatchStitches => at(
            "swatch-stitches",
            FieldGroup::Swatch,
            numbers::SWATCH_STITCHES,
        )
        .when(by_swatch),
        N::SwatchWidth => {
            at("swatch-width", FieldGroup::Swatch, numbers::SWATCH_WIDTH).when(by_swatch)
        }
        N::SwatchRounds => {
            at("swatch-rounds", FieldGroup::Swatch, numbers::SWATCH_ROUNDS).when(by_swatch)
        }
        N::SwatchHeight => {
            at("swatch-height", FieldGroup::Swatch, numbers::SWATCH_HEIGHT).when(by_swatch)
        }
        N::BandStitches => at("band-stitches", FieldGroup::Guess, numbers::BAND_STITCHES)
            .when(|form, _| form.gauge_by == GaugeBy::Guess),
        N::UnwashedWidth => at(
            "unwashed-width",
            FieldGroup::Unwashed,
            numbers::UNWASHED_WIDTH,
        )
        .when(by_swatch),
        N::UnwashedHeight => at(
            "unwashed-height",
            FieldGroup::Unwashed,
            numbers::UNWASHED_HEIGHT,
        )
        .when(by_swatch),
        N::PatternStitches => at(
            "pattern-stitches",
            FieldGroup::PatternSwatch,
            numbers::PATTERN_STITCHES,
        )
        .when(|form, _| form.patterned),
        N::PatternWidth => at(
            "pattern-width",
            FieldGroup::PatternSwatch,
            numbers::PATTERN_WIDTH,
        )
        .when(|form, _| form.patterned),
        N::PatternRounds => at(
            "pattern-rounds",
            FieldGroup::PatternSwatch,
            numbers::PATTERN_ROUNDS,
        )
        .when(|form, _| form.patterned),
        N::PatternHeight => at(
            "pattern-height",
            FieldGroup::PatternSwatch,
            numbers::PATTERN_HEIGHT,
        )
        .when(|form, _| form.patterned),
        N::MotifBalance => at(
            "motif-balance",
            FieldGroup::MotifSides,
            numbers::MOTIF_BALANCE,
        )
        .when(|form, _| form.patterned && form.place == MotifPlacement::Front),
        N::MotifEdge => at("motif-edge", FieldGroup::MotifSides, numbers::MOTIF_EDGE)
            .when(|form, _| form.patterned && form.place == MotifPlacement::Front),
        N::FlapSwatchRows => at(
            "flap-rows",
            FieldGroup::FlapSwatch,
            numbers::FLAP_SWATCH_ROWS,
        )
        .when(|form, _| form.heel == HeelKind::Flap && form.flap_by == FlapBy::Height),
        N::FlapSwatchHeight => at(
            "flap-height",
            FieldGroup::FlapSwatch,
            numbers::FLAP_SWATCH_HEIGHT,
        )
        .when(|form, _| form.heel == HeelKind::Flap && form.flap_by == FlapBy::Height),
        N::CuffLength => at("cuff-length", FieldGroup::LegLengths, numbers::CUFF_LENGTH),
        N::Leg => at("leg", FieldGroup::LegLengths, numbers::LEG),
        N::AdjustLeg | N::AdjustFoot => return None,
        N::GirthHeight(_) => at("girth-height-#", FieldGroup::Girth, numbers::GIRTH_HEIGHT)
            .when(|form, field| field.place() < Some(form.girths)),
        N::GirthRound(_) => at("girth-round-#", FieldGroup::Girth, numbers::GIRTH_ROUND)
            .when(|form, field| field.place() < Some(form.girths)),
        N::HeelRows => at("heel-rows", FieldGroup::FlapHeight, numbers::HEEL_ROWS)
            .when(|form, _| form.heel == HeelKind::Flap && form.flap_by == FlapBy::Rows),
        N::HeelHeight => at("heel-height", FieldGroup::FlapHeight, numbers::HEEL_HEIGHT)
            .when(|form, _| form.heel == HeelKind::Flap && form.flap_by == FlapBy::Height),
        N::HeelBetween => at(
            "heel-between",
            FieldGroup::ShortRowHeel,
            numbers::HEEL_BETWEEN,
        )
        .when(|form, _| form.heel == HeelKind::ShortRow),
        N::EasePercent => at("ease", FieldGroup::Fit, numbers::EASE_PERCENT),
        N::LengthEase => at("length-ease", FieldGroup::Fit, numbers::LENGTH_EASE),
        N::Stitches => at("stitches", FieldGroup::Fit, numbers::STITCHES),
        N::StripeRounds(_) => at(
            "stripe-rounds-#",
            FieldGroup::Stripe,
            numbers::STRIPE_ROUNDS,
        )
        .when(|form, field| form.yarns > 1 && field.place() < Some(form.stripe_count())),
        N::BallGrams => at("ball-grams", FieldGroup::Band, numbers::BALL_GRAMS),
        N::BallMetres => at("ball-metres", FieldGroup::Band, numbers::BALL_METRES),
    })
}

/// Every number that has a line, in the order of the form.
pub(super) fn numbers_in_form() -> impl Iterator<Item = NumberField> {
    let with_line = |(nth, field): (usize, NumberField)| {
        line(field).map(|line| ((line.group, field.place(), nth), field))
    };
    let all = NumberField::all().into_iter().enumerate();
    let mut all: Vec<_> = all.filter_map(with_line).collect();
    sort(&mut all, |(a, _), (b, _)| a < b);
    all.into_iter().map(|(_, field)| field)
}

/// Whether a number is asked for, so that its line is read.
pub(super) fn is_asked(field: NumberField, form: &MeasureForm) -> bool {
    line(field).is_some_and(|line| line.asked.is_none_or(|asked| asked(form, field)))
}

/// Id of a number's input.
pub(super) fn id(field: NumberField) -> Cow<'static, str> {
    let id = line(field).map_or("", |line| line.id);
    match field.place() {
        Some(place) => id.replace('#', &place.to_string()).into(),
        None => id.into(),
    }
}

/// From what to what a number can be, in the knitter's unit; none where it depends on another.
pub(super) fn range(field: NumberField, unit: LengthUnit) -> Option<(String, String)> {
    match field.range() {
        NumberRange::Length(range) => {
            Some((range.start().show_least(unit), range.end().show_most(unit)))
        }
        NumberRange::Whole(range) => {
            let [least, most] = [*range.start(), *range.end()];
            let amount = |whole: i64| u64::try_from(whole).unwrap_or(0);
            let (least, most) = match field.unit() {
                Unit::Grams => (
                    plain_grams(amount(least), unit),
                    plain_grams(amount(most), unit),
                ),
                Unit::Metres => (
                    plain_metres(amount(least), unit),
                    plain_metres(amount(most), unit),
                ),
                _ => (least.to_string(), most.to_string()),
            };
            Some((least, most))
        }
        NumberRange::Gauge(_) => None,
    }
}

/// Where in the form something can be wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FormPlace {
    /// A line.
    Number(NumberField),
    /// A choice that does not go with the others.
    Question(Question),
    /// The leg's girths together.
    Calf,
    /// The pattern's rounds.
    Motif,
    /// The sequence of stripes.
    Stripes,
}

impl FormPlace {
    /// The field of a recipe's path, as errors name it.
    pub(super) fn at(path: &str) -> Option<Self> {
        match path {
            "calf" => return Some(Self::Calf),
            "motif.rows" => return Some(Self::Motif),
            "yarns.stripes" => return Some(Self::Stripes),
            _ => {}
        }
        let number = NumberField::at(path).filter(|field| line(*field).is_some());
        let question = || {
            let mut all = Question::ALL.into_iter();
            all.find(|question| question.path() == Some(path))
        };
        number
            .map(Self::Number)
            .or_else(|| question().map(Self::Question))
    }

    /// The step it stands in.
    pub(super) fn step(self) -> Option<MeasureStep> {
        match self {
            Self::Number(field) => line(field).map(|line| line.group.step()),
            Self::Question(question) => Some(question.group().step()),
            Self::Calf => Some(MeasureStep::Leg),
            Self::Motif => Some(MeasureStep::Motif),
            Self::Stripes => Some(MeasureStep::Yarn),
        }
    }

    /// Id of what takes the focus there.
    pub(super) fn id(self) -> Cow<'static, str> {
        match self {
            Self::Number(field) => id(field),
            Self::Question(question) => format!("at-{}", question.name()).into(),
            Self::Calf => "at-calf".into(),
            Self::Motif => "at-motif".into(),
            Self::Stripes => "at-stripes".into(),
        }
    }

    /// What it is called in the list of all that is to be mended.
    pub(super) fn called(self, wording: Wording) -> String {
        match self {
            Self::Number(field) => {
                let label = line(field).map_or(Sentence::Fixed(""), |line| line.text.label);
                let label = label.say(wording);
                match field {
                    NumberField::GirthHeight(place) | NumberField::GirthRound(place) => {
                        text::at_girth(place, &label)
                    }
                    NumberField::StripeRounds(place) => text::stripe(place),
                    _ => label,
                }
            }
            Self::Question(question) => question.called().say(wording),
            Self::Calf => text::AT_CALF.to_owned(),
            Self::Motif => text::AT_MOTIF.to_owned(),
            Self::Stripes => text::AT_STRIPES.to_owned(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_field_has_a_path_and_an_id_of_its_own() {
        let numbers = numbers_in_form().map(|field| (FormPlace::Number(field), field.path()));
        let questions = Question::ALL.into_iter().filter_map(|question| {
            Some((FormPlace::Question(question), Cow::from(question.path()?)))
        });
        let lists = [
            (FormPlace::Calf, "calf".into()),
            (FormPlace::Motif, "motif.rows".into()),
            (FormPlace::Stripes, "yarns.stripes".into()),
        ];
        let all: Vec<(FormPlace, Cow<str>)> = numbers.chain(questions).chain(lists).collect();
        for (i, (field, path)) in all.iter().enumerate() {
            assert_eq!(FormPlace::at(path), Some(*field));
            assert!(all[..i].iter().all(|(other, _)| other.id() != field.id()));
            assert!(field.step().is_some(), "{field:?}");
        }
    }
}
