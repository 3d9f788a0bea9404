//! Gathers what is wrong, field by field.

use std::borrow::Cow;
use std::ops::RangeInclusive;

use crate::error::{Counted, FieldError, Problem, Quantity, Value};
use crate::swatch::Gauge;

/// What was found wrong so far.
pub(super) struct Seen(pub(super) Vec<FieldError>);

impl Seen {
    /// A value, where there is one, has to lie in its range.
    pub(super) fn range<T: PartialOrd + Copy + Into<Value>>(
        &mut self,
        field: Cow<'static, str>,
        quantity: Quantity,
        value: Option<T>,
        range: &RangeInclusive<T>,
    ) {
        let Some(value) = value else { return };
        self.that(range.contains(&value), || {
            let problem = Problem::OutOfRange {
                quantity,
                value: value.into(),
                least: (*range.start()).into(),
                most: (*range.end()).into(),
            };
            FieldError::new(field, problem)
        });
    }

    /// A gauge in tenths to 10 cm has to lie in its range.
    pub(super) fn gauge(
        &mut self,
        field: &'static str,
        counted: Counted,
        tenths: u64,
        range: &RangeInclusive<u16>,
    ) {
        let (low, high) = (*range.start(), *range.end());
        self.that(
            (u64::from(low) * 10..=u64::from(high) * 10).contains(&tenths),
            || {
                let problem = Problem::GaugeOutOfRange {
                    counted,
                    gauge: Gauge(u32::try_from(tenths).unwrap_or(u32::MAX)),
                    least: Gauge(u32::from(low) * 10),
                    most: Gauge(u32::from(high) * 10),
                };
                FieldError::new(field, problem)
            },
        );
    }

    pub(super) fn that(&mut self, right: bool, error: impl FnOnce() -> FieldError) {
        if !right {
            self.0.push(error());
        }
    }
}
