//! What stands in the form, and the recipe it means. Pure: what is typed is kept as it is typed;
//! whether it makes a sock is the engine's decision.

mod answers;
mod groups;
mod lists;
mod plain_number;
mod questions;
mod read;
mod rows;
#[cfg(test)]
mod tests;
mod typed;

use evenloop_engine::foot::Foot;
use evenloop_engine::plan::{self, Outcome, Plan, SectionKind};
use evenloop_engine::recipe::{ADJUST, Number, NumberField, Recipe, Unit, Yarns};
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::usual::{FOLLOWING_THE_FOOT, usual};

pub(super) use self::answers::{Answer, FlapBy, HeelKind, choice};
pub(super) use self::groups::{FieldGroup, MeasureStep};
pub(super) use self::lists::{GIRTHS, Parts, STRIPES};
pub(super) use self::plain_number::plain_number;
pub(super) use self::questions::{Control, MeasureForm, Question};
use super::fields::{FormPlace, numbers_in_form};
use super::wrong::{Wrong, found};

impl Default for MeasureForm {
    fn default() -> Self {
        Self::of(&Recipe::default(), LengthUnit::default())
    }
}

impl MeasureForm {
    /// The form that means a recipe.
    pub(super) fn of(recipe: &Recipe, unit: LengthUnit) -> Self {
        let mut form = Self::answers_of(recipe, unit);
        for field in numbers_in_form() {
            if let Some(number) = field.get(recipe) {
                let text = match number {
                    Number::Length(length) => plain_number(length, unit),
                    Number::Whole(whole) => whole.to_string(),
                };
                form.typed.insert(field, text);
            }
        }
        // What stands there when it is first asked for.
        let stripes = (0..form.stripe_count()).map(|place| (NumberField::StripeRounds(place), "2"));
        for (field, usual) in stripes.chain([(NumberField::HeelBetween, "0")]) {
            form.typed.entry(field).or_insert_with(|| usual.to_owned());
        }
        form
    }

    /// What was typed into a line.
    pub(super) fn text(&self, field: NumberField) -> &str {
        self.typed.get(&field).map_or("", String::as_str)
    }

    /// A line is typed into. What follows the foot follows it as long as it is what is usual for the
    /// foot of before.
    pub(super) fn type_into(&mut self, field: NumberField, text: String) {
        let before = self.foot_length();
        self.typed.insert(field, text);
        if field != NumberField::FootLength {
            return;
        }
        let foot = self.foot_length();
        for follows in FOLLOWING_THE_FOOT {
            let usual = |foot| match usual(follows, foot) {
                Some(Number::Length(length)) => plain_number(length, self.unit),
                _ => String::new(),
            };
            let (then, now) = (usual(before), usual(foot));
            if self.text(follows) == then {
                self.typed.insert(follows, now);
            }
        }
    }

    /// The foot's length, as far as it can be read.
    pub(super) fn foot_length(&self) -> Length {
        Length::parse(self.text(NumberField::FootLength), self.unit)
            .unwrap_or_else(|_| Recipe::default().foot.length)
    }

    /// Round the foot, as far as it can be read; else as a foot of its length usually is.
    pub(super) fn foot_round(&self) -> Length {
        let foot = Foot {
            length: self.foot_length(),
            circumference: Length::parse(self.text(NumberField::FootCircumference), self.unit).ok(),
            heel_diagonal: None,
        };
        foot.round_ball()
    }

    /// How long the leg is, where it can be read.
    pub(super) fn leg_length(&self) -> Option<Length> {
        Length::parse(self.text(NumberField::Leg), self.unit).ok()
    }

    /// Adds rounds to leg or foot, or leaves some out.
    pub(super) fn add_rounds(&mut self, kind: SectionKind, more: i32) {
        let rounds = match kind {
            SectionKind::Leg => &mut self.more.leg,
            _ => &mut self.more.foot,
        };
        let sum = i32::from(*rounds).saturating_add(more);
        let (least, most) = (*ADJUST.start(), *ADJUST.end());
        *rounds = i16::try_from(sum.clamp(least.into(), most.into())).unwrap_or(0);
    }

    /// The stripes, as far as they can be read.
    pub(super) fn wound(&self) -> Option<Yarns> {
        let (recipe, wrong) = self.read();
        let rounds = |wrong: &Wrong| {
            matches!(
                wrong.field,
                Some(FormPlace::Number(NumberField::StripeRounds(_)))
            )
        };
        recipe.yarns.filter(|_| !wrong.iter().any(rounds))
    }

    /// Places at which the leg is measured round, as far as they can be read: their number from 0,
    /// height and circumference.
    pub(super) fn girths_read(&self) -> Vec<(u8, Length, Length)> {
        let read = |field| Length::parse(self.text(field), self.unit).ok();
        (0..self.girths)
            .filter_map(|place| {
                let height = read(NumberField::GirthHeight(place))?;
                Some((place, height, read(NumberField::GirthRound(place))?))
            })
            .collect()
    }

    /// Changes the unit: lengths that can be read are written anew, to a millimetre or a hundredth
    /// of an inch; all else stays as typed.
    pub(super) fn measure_in(&mut self, unit: LengthUnit) {
        if unit == self.unit {
            return;
        }
        for (field, text) in &mut self.typed {
            if field.unit() == Unit::Length
                && let Ok(length) = Length::parse(text, self.unit)
            {
                let whole = match unit {
                    LengthUnit::Cm => Length(length.tenths().saturating_add(5) / 10 * 10),
                    LengthUnit::Inch => length,
                };
                *text = plain_number(whole, unit);
            }
        }
        self.unit = unit;
    }

    /// Whether everything stands as it was at first.
    pub(super) fn untouched(&self) -> bool {
        let mut fresh = Self::default();
        fresh.measure_in(self.unit);
        *self == fresh
    }

    /// Takes up an earlier form where this one still stands as it was at first: what was typed
    /// since then is not overwritten.
    pub(super) fn take_up(&mut self, mut earlier: Self) {
        // In the earlier one's unit, so that its numbers stay as they were typed.
        let mut fresh = Self::default();
        fresh.measure_in(earlier.unit);
        self.measure_in(earlier.unit);
        for field in numbers_in_form() {
            if self.text(field) == fresh.text(field) {
                self.typed.insert(field, earlier.text(field).to_owned());
            }
        }
        earlier.girths = earlier.girths.min(GIRTHS);
        earlier.stripes.truncate(STRIPES.into());
        self.take_up_answers(fresh, earlier);
    }

    /// What the sock comes to.
    ///
    /// # Errors
    /// Everything that is wrong, line by line.
    pub(super) fn outcome(&self) -> Result<Outcome, Vec<Wrong>> {
        self.plan().map(|plan| plan.outcome)
    }

    /// The sock.
    ///
    /// # Errors
    /// Everything that is wrong, line by line.
    pub(super) fn plan(&self) -> Result<Plan, Vec<Wrong>> {
        let recipe = self.recipe()?;
        // Both socks of a pair have to be socks.
        let second = recipe
            .second_sock()
            .map_or(Ok(()), |second| plan::make(&second).map(drop));
        second.and_then(|()| plan::make(&recipe)).map_err(found)
    }

    /// The recipe that is meant.
    ///
    /// # Errors
    /// Lines that cannot be read, and all others whose numbers the engine finds out of range.
    pub(super) fn recipe(&self) -> Result<Recipe, Vec<Wrong>> {
        let (recipe, mut wrong) = self.read();
        if wrong.is_empty() {
            return Ok(recipe);
        }
        // Nobody likes to mend one thing only to be told of the next. Lines that could not be read
        // hold the default's number here, which is never out of range.
        if let Err(more) = recipe.check() {
            let lines = more.into_iter().map(Wrong::from);
            wrong.extend(lines.filter(|one| matches!(one.field, Some(FormPlace::Number(_)))));
        }
        Err(wrong)
    }
}
