//! Gathers what is wrong, field by field.

use std::ops::RangeInclusive;

use crate::error::FieldError;
use crate::swatch::Gauge;
use crate::told::Told;

/// What was found wrong so far.
pub(super) struct Seen(pub(super) Vec<FieldError>);

impl Seen {
    /// A value, where there is one, has to lie in its range.
    pub(super) fn range<T: PartialOrd + Told>(
        &mut self,
        (field, what): (&str, &str),
        value: Option<T>,
        range: &RangeInclusive<T>,
        help: &str,
    ) {
        let Some(value) = value else { return };
        self.that(range.contains(&value), || {
            let (value, low, high) = (
                value.told(),
                range.start().told_least(),
                range.end().told_most(),
            );
            FieldError::new(
                field,
                format!("{what} is {value}; it can be {low} to {high}."),
                help,
            )
        });
    }

    /// A gauge in tenths to 10 cm has to lie in its range.
    pub(super) fn gauge(
        &mut self,
        (field, what): (&str, &str),
        tenths: u64,
        range: &RangeInclusive<u16>,
        help: &str,
    ) {
        let (low, high) = (*range.start(), *range.end());
        self.that(
            (u64::from(low) * 10..=u64::from(high) * 10).contains(&tenths),
            || {
                let gauge = Gauge(u32::try_from(tenths).unwrap_or(u32::MAX));
                let (low, high) = (Gauge(u32::from(low) * 10), Gauge(u32::from(high) * 10));
                FieldError::new(
                    field,
                    format!(
                        "The swatch comes to {} {what} in ‹#›; it can be {} to {}.",
                        gauge.told(),
                        low.told_least(),
                        high.told_most()
                    ),
                    help,
                )
            },
        );
    }

    pub(super) fn that(&mut self, right: bool, error: impl FnOnce() -> FieldError) {
        if !right {
            self.0.push(error());
        }
    }
}
