//! Reads what was typed, line by line, into a recipe; what cannot be read is said at its line.

use evenloop_engine::error::{FieldError, Problem};
use evenloop_engine::recipe::{Number, NumberField, Presence, Recipe, Unit};
use evenloop_engine::units::Length;
use evenloop_engine::yarn_amount::{parse_grams, parse_metres};

use super::MeasureForm;
use crate::screens::measure::fields::{is_asked, numbers_in_form};
use crate::screens::measure::wrong::{ExpectedEntry, Wrong};

impl MeasureForm {
    /// The recipe that is meant, and what of it cannot be read. A line that cannot be read leaves the
    /// usual number in its place, which is never out of range.
    pub(super) fn read(&self) -> (Recipe, Vec<Wrong>) {
        let (mut recipe, mut wrong) = (Recipe::default(), Vec::new());
        self.answer(&mut recipe);
        if self.patterned && self.chart.rows().is_err() {
            wrong.push(FieldError::new("motif.rows", Problem::MotifRoundUnreadable).into());
        }
        for field in numbers_in_form().filter(|field| is_asked(*field, self)) {
            match self.number(field) {
                Ok(Some(number)) => {
                    if !field.set(&mut recipe, number) {
                        wrong.push(Wrong::unread(
                            field,
                            self.text(field),
                            ExpectedEntry::Smaller,
                        ));
                    }
                }
                Ok(None) => {}
                Err(error) => wrong.push(error),
            }
        }
        if let Some(guess) = recipe.swatch.guess {
            recipe.swatch = guess.swatch(recipe.swatch);
        }
        (recipe, wrong)
    }

    /// The number that was typed, or is usual where nothing was; none where the line is empty and may be.
    fn number(&self, field: NumberField) -> Result<Option<Number>, Wrong> {
        let text = self.text(field).trim();
        if text.is_empty() {
            if let Some(usual) = self.usual(field) {
                return Ok(Some(usual));
            }
            let needed = match field.presence() {
                Presence::Required => true,
                Presence::Optional => false,
                Presence::With(fellow) => !self.text(fellow).trim().is_empty(),
            };
            return if needed {
                Err(Wrong::empty(field))
            } else {
                Ok(None)
            };
        }
        let unread = |expected| Wrong::unread(field, text, expected);
        if field.unit() == Unit::Length {
            let length = Length::parse(text, self.unit);
            return length
                .map(|length| Some(Number::Length(length)))
                .map_err(|why| unread(ExpectedEntry::Length(why)));
        }
        let amount = match field.unit() {
            Unit::Grams => Some(parse_grams(text, self.unit)),
            Unit::Metres => Some(parse_metres(text, self.unit)),
            _ => None,
        };
        if let Some(amount) = amount {
            let whole = amount.and_then(|amount| i64::try_from(amount).ok());
            return whole
                .map(|whole| Some(Number::Whole(whole)))
                .ok_or_else(|| unread(ExpectedEntry::Whole(field.unit())));
        }
        let digits = text.strip_suffix('%').unwrap_or(text).trim_end();
        if digits.is_empty() || !digits.bytes().all(|byte| byte.is_ascii_digit()) {
            return Err(unread(ExpectedEntry::Whole(field.unit())));
        }
        let whole = digits.parse().map_err(|_| unread(ExpectedEntry::Smaller))?;
        Ok(Some(Number::Whole(whole)))
    }
}
