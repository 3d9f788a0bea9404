//! Gathers what is wrong, field by field.

use crate::error::{FieldError, Problem, SwatchCount};
use crate::recipe::{Number, NumberField, NumberRange, Recipe};
use crate::swatch::Gauge;

/// What was found wrong so far.
pub(super) struct FaultList(pub(super) Vec<FieldError>);

impl FaultList {
    /// A number, where the recipe has it, has to lie in its range.
    pub(super) fn number(&mut self, recipe: &Recipe, field: NumberField) {
        let Some(value) = field.get(recipe) else {
            return;
        };
        let (right, least, most) = match (field.range(), value) {
            (NumberRange::Length(range), Number::Length(length)) => (
                range.contains(&length),
                Number::Length(*range.start()),
                Number::Length(*range.end()),
            ),
            (NumberRange::Whole(range), Number::Whole(whole)) => (
                range.contains(&whole),
                Number::Whole(*range.start()),
                Number::Whole(*range.end()),
            ),
            (NumberRange::Gauge(range), _) => {
                let (counted, tenths) = match field {
                    NumberField::SwatchRounds => {
                        (SwatchCount::Rounds, recipe.swatch.round_gauge_tenths())
                    }
                    _ => (SwatchCount::Stitches, recipe.swatch.stitch_gauge_tenths()),
                };
                return self.gauge(field, counted, tenths, (*range.start(), *range.end()));
            }
            // The table has lengths for lengths.
            (NumberRange::Length(_) | NumberRange::Whole(_), _) => return,
        };
        self.that(right, || {
            let problem = Problem::OutOfRange {
                number: field,
                value,
                least,
                most,
            };
            FieldError::new(field.path(), problem)
        });
    }

    /// A gauge in tenths to 10 cm has to lie in its range.
    fn gauge(
        &mut self,
        field: NumberField,
        counted: SwatchCount,
        tenths: u64,
        (low, high): (u16, u16),
    ) {
        self.that(
            (u64::from(low) * 10..=u64::from(high) * 10).contains(&tenths),
            || {
                let problem = Problem::GaugeOutOfRange {
                    counted,
                    gauge: Gauge(u32::try_from(tenths).unwrap_or(u32::MAX)),
                    least: Gauge(u32::from(low) * 10),
                    most: Gauge(u32::from(high) * 10),
                };
                FieldError::new(field.path(), problem)
            },
        );
    }

    pub(super) fn that(&mut self, right: bool, error: impl FnOnce() -> FieldError) {
        if !right {
            self.0.push(error());
        }
    }
}
