//! What stands in the form, and the recipe it means. Pure: what is typed is kept as it is typed;
//! whether it makes a sock is the engine's decision. May use the engine, words and the form's parts; must not know
//! the page, the store or the browser.

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
use evenloop_engine::recipe::{ADJUST, Number, NumberField, Presence, Recipe, Unit, Yarns};
use evenloop_engine::swatch::Swatch;
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::usual::usual;
use evenloop_engine::yarn_amount::{parse_grams, parse_metres, plain_grams, plain_metres};

pub(super) use self::answers::{Answer, FlapBy, GaugeBy, HeelKind, choice};
pub(super) use self::groups::{FieldGroup, MeasureStep};
pub(super) use self::lists::{GIRTHS, Parts, STRIPES};
use self::plain_number::exact_number;
pub(super) use self::plain_number::plain_number;
pub(super) use self::questions::{Control, MeasureForm, Question};
use super::fields::{FormPlace, is_asked, line, numbers_in_form};
use super::wrong::{Wrong, found};

/// What stands in an empty line in grey.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Example {
    /// What an empty line is taken for.
    Taken(String),
    /// Only what it could look like: the line has to be filled in.
    Such(String),
}

/// A number as it is typed into a line.
fn plain(field: NumberField, number: Number, unit: LengthUnit) -> String {
    match number {
        Number::Length(length) => exact_number(length, unit),
        Number::Whole(whole) => {
            let amount = u64::try_from(whole).unwrap_or(0);
            match field.unit() {
                Unit::Grams => plain_grams(amount, unit),
                Unit::Metres => plain_metres(amount, unit),
                _ => whole.to_string(),
            }
        }
    }
}

impl Default for MeasureForm {
    /// An empty form: every choice is the usual one, every line is empty.
    fn default() -> Self {
        Self::answers_of(&Recipe::default(), LengthUnit::default()).begun()
    }
}

impl MeasureForm {
    /// The form that means a recipe. Lines whose number is what is usual for its foot stay empty: they
    /// follow the foot.
    pub(super) fn of(recipe: &Recipe, unit: LengthUnit) -> Self {
        let mut form = Self::answers_of(recipe, unit);
        for field in numbers_in_form() {
            let Some(number) = field.get(recipe).filter(|_| is_asked(field, &form)) else {
                continue;
            };
            if usual(field, recipe.foot.length, unit) != Some(number) {
                form.typed.insert(field, plain(field, number, unit));
            }
        }
        form.begun()
    }

    /// The choices of a ready recipe, made for no certain foot: what is measured stays empty, and other lengths
    /// are round figures.
    pub(super) fn of_ready(recipe: &Recipe, unit: LengthUnit) -> Self {
        let mut form = Self::of(recipe, unit);
        let measured =
            |field: &NumberField| line(*field).is_some_and(|line| line.group.is_measured());
        form.typed.retain(|field, _| !measured(field));
        for (field, text) in &mut form.typed {
            if let Some(Number::Length(length)) = field.get(recipe) {
                *text = plain_number(length.round_figure(unit), unit);
            }
        }
        form
    }

    /// What stands there when it is first asked for.
    fn begun(mut self) -> Self {
        let stripes = (0..self.stripe_count()).map(|place| (NumberField::StripeRounds(place), "2"));
        for (field, usual) in stripes.chain([(NumberField::HeelBetween, "0")]) {
            self.typed.entry(field).or_insert_with(|| usual.to_owned());
        }
        self
    }

    /// What was typed into a line.
    pub(super) fn text(&self, field: NumberField) -> &str {
        self.typed.get(&field).map_or("", String::as_str)
    }

    /// A line is typed into.
    pub(super) fn type_into(&mut self, field: NumberField, text: String) {
        self.typed.insert(field, text);
    }

    /// What an empty line means, as far as the foot can be read; none where it means nothing.
    pub(super) fn usual(&self, field: NumberField) -> Option<Number> {
        usual(field, self.foot_length(), self.unit)
    }

    /// What was typed into a line, or what is usual where nothing was.
    pub(super) fn text_or_usual(&self, field: NumberField) -> String {
        let typed = self.text(field).trim();
        match self.usual(field) {
            Some(usual) if typed.is_empty() => plain(field, usual, self.unit),
            _ => typed.to_owned(),
        }
    }

    /// What stands in an empty line in grey: what is taken for it, or else an example.
    pub(super) fn example(&self, field: NumberField) -> Option<Example> {
        if let Some(usual) = self.usual(field) {
            return Some(Example::Taken(plain(field, usual, self.unit)));
        }
        let round = |length: Length| plain_number(length.round_figure(self.unit), self.unit);
        let foot = Foot {
            length: self.foot_length(),
            circumference: Length::parse(self.text(NumberField::FootCircumference), self.unit).ok(),
            heel_diagonal: None,
        };
        let estimated = |length| {
            let foot_is_known = !self.text(NumberField::FootLength).trim().is_empty();
            Some(if foot_is_known {
                Example::Taken(round(length))
            } else {
                Example::Such(round(length))
            })
        };
        match field {
            NumberField::FootCircumference => estimated(foot.round_ball()),
            NumberField::HeelDiagonal => estimated(foot.round_heel()),
            _ if field.presence() == Presence::Required && field.place().is_none() => {
                match field.get(&Recipe::default())? {
                    Number::Length(length) => Some(Example::Such(round(length))),
                    number @ Number::Whole(_) => {
                        Some(Example::Such(plain(field, number, self.unit)))
                    }
                }
            }
            _ => None,
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
        Length::parse(&self.text_or_usual(NumberField::Leg), self.unit).ok()
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

    /// The swatch, or the guess that stands for it, as far as it can be read.
    pub(super) fn swatch(&self) -> Swatch {
        self.read().0.swatch
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

    /// Changes the unit: lengths that can be read are rewritten, to a millimetre or a hundredth
    /// of an inch, and so is yarn; all else stays as typed.
    pub(super) fn measure_in(&mut self, unit: LengthUnit) {
        if unit == self.unit {
            return;
        }
        for (field, text) in &mut self.typed {
            let anew = match field.unit() {
                Unit::Length => Length::parse(text, self.unit).ok().map(|length| {
                    let whole = match unit {
                        LengthUnit::Cm => Length(length.tenths().saturating_add(5) / 10 * 10),
                        LengthUnit::Inch => length,
                    };
                    plain_number(whole, unit)
                }),
                Unit::Grams => parse_grams(text, self.unit).map(|grams| plain_grams(grams, unit)),
                Unit::Metres => {
                    parse_metres(text, self.unit).map(|metres| plain_metres(metres, unit))
                }
                Unit::Stitches | Unit::Rounds | Unit::Rows | Unit::Percent => None,
            };
            if let Some(anew) = anew {
                *text = anew;
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
        if earlier.is_as_forms_once_began() {
            // Nobody typed those numbers.
            earlier = Self {
                name: earlier.name,
                ..fresh.clone()
            };
        }
        for field in numbers_in_form() {
            if self.text(field) == fresh.text(field) {
                self.typed.insert(field, earlier.text(field).to_owned());
            }
        }
        earlier.girths = earlier.girths.min(GIRTHS);
        earlier.stripes.truncate(STRIPES.into());
        self.take_up_answers(fresh, earlier);
    }

    /// Whether it stands as the form of earlier builds did before it was touched, which was stored at once: an
    /// example foot and swatch filled in, and what is usual in the other lines.
    fn is_as_forms_once_began(&self) -> bool {
        let mut once = Self::answers_of(&Recipe::default(), LengthUnit::Cm);
        for field in numbers_in_form() {
            if let Some(number) = field.get(&Recipe::default()) {
                once.typed
                    .insert(field, plain(field, number, LengthUnit::Cm));
            }
        }
        once = once.begun();
        once.measure_in(self.unit);
        let same = |field| !is_asked(field, &once) || self.text(field) == once.text(field);
        let answers = Self {
            name: self.name.clone(),
            typed: self.typed.clone(),
            ..once.clone()
        };
        *self == answers && numbers_in_form().all(same)
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

    /// The sock as far as the form says it, with examples for what is still empty; nothing where more is
    /// wrong than that. To be looked at, not to be knitted.
    pub(super) fn sketch(&self) -> Option<Plan> {
        let (recipe, wrong) = self.read();
        let only_empty = !wrong.is_empty() && wrong.iter().all(Wrong::is_empty);
        // Measures of the leg that are still to come are no reason to draw nothing.
        let as_wide_all_the_way = Recipe {
            calf: Vec::new(),
            ..recipe.clone()
        };
        let made = || plan::make(&recipe).or_else(|_| plan::make(&as_wide_all_the_way));
        only_empty.then(|| made().ok()).flatten()
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
