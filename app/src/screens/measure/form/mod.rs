//! What stands in the form, and the recipe it means. Pure: what is typed is kept as it is typed;
//! whether it makes a sock is the engine's decision.

mod choices;
mod read;
mod rows;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;

use evenloop_engine::foot::Foot;
use evenloop_engine::needle_size::Needle;
use evenloop_engine::plan::{self, Outcome, Plan, SectionKind};
use evenloop_engine::recipe::{
    ADJUST, Adjust, BindOff, CastOn, Direction, Edge, FlapTexture, Heel, Place, Recipe, Seating,
    Toe, Turn, Yarns,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::units::{Length, LengthUnit};
use serde::{Deserialize, Serialize};

pub(super) use self::choices::{
    BIND_OFFS, CAST_ONS, DIRECTIONS, EDGES, FEET, FlapBy, HeelKind, Needles, PLACES, SEATINGS,
    TEXTURES, TOES, TURNS, UNITS, toe_place,
};
use self::read::Reading;
use super::copy;
use super::entry::{Entry, GIRTHS, Number, STRIPES};
use super::wrong::{Wrong, found};
use crate::parts::Cells;

/// The parts of a sock with a yarn of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct Parts {
    /// Cuff.
    pub(super) cuff: Yarn,
    /// Heel.
    pub(super) heel: Yarn,
    /// Toe.
    pub(super) toe: Yarn,
}

/// What stands in the form. What a draft of an earlier build does not have is the default's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
#[allow(clippy::struct_excessive_bools)] // each is a switch of its own
pub(super) struct Form {
    /// What the pair will be called.
    pub(super) name: String,
    /// In which unit lengths without one are meant.
    pub(super) unit: LengthUnit,
    /// What was typed; a missing line is empty.
    pub(super) typed: BTreeMap<Entry, String>,
    /// The needles that gave the swatch, where they were noted.
    pub(super) needle: Option<Needle>,
    /// Which end is begun with.
    pub(super) direction: Direction,
    /// How the leg is finished at the top.
    pub(super) edge: Edge,
    /// How it is cast on, from the cuff down.
    pub(super) cast_on: CastOn,
    /// How it is bound off, from the toe up.
    pub(super) bind_off: BindOff,
    /// At how many places the leg is measured round.
    pub(super) girths: u8,
    /// The heel.
    pub(super) heel: HeelKind,
    /// What the flap is knitted in.
    pub(super) texture: FlapTexture,
    /// How the heel is turned.
    pub(super) turn: Turn,
    /// What decides how tall the flap is.
    pub(super) flap_by: FlapBy,
    /// Whether corners are picked up.
    pub(super) corners: bool,
    /// Rounds of leg and foot more or fewer than measured.
    pub(super) more: Adjust,
    /// The toe.
    pub(super) toe: Toe,
    /// The needles.
    pub(super) needles: Needles,
    /// Where stitches sit after the turn, on needles with two halves.
    pub(super) seating: Seating,
    /// Whether the instep is high.
    pub(super) high_instep: bool,
    /// Whether the toes are wide.
    pub(super) wide_toes: bool,
    /// Whether the heel is narrow.
    pub(super) narrow_heel: bool,
    /// Whether there is a pattern.
    pub(super) patterned: bool,
    /// The pattern, also while there is none.
    pub(super) chart: Cells,
    /// Where the pattern is knitted.
    pub(super) place: Place,
    /// How many yarns, 1 to 4.
    pub(super) yarns: u8,
    /// The yarn of each stripe, also while there is one yarn only.
    pub(super) stripes: Vec<Yarn>,
    /// Parts with a yarn of their own.
    pub(super) parts: Parts,
}

impl Default for Form {
    fn default() -> Self {
        Self::of(&Recipe::default(), LengthUnit::default())
    }
}

impl Form {
    /// The form that means a recipe.
    pub(super) fn of(recipe: &Recipe, unit: LengthUnit) -> Self {
        let (texture, turn, rows, height, corners) = match recipe.heel {
            Heel::FlapAndGusset {
                texture,
                turn,
                rows,
                height,
                corners,
            } => (texture, turn, rows, height, corners),
            Heel::ShortRow { .. } | Heel::Afterthought => Default::default(),
        };
        let between = match recipe.heel {
            Heel::ShortRow { between } => between,
            Heel::FlapAndGusset { .. } | Heel::Afterthought => 0,
        };
        let mut form = Self {
            name: copy::FIRST_NAME.to_owned(),
            unit,
            typed: BTreeMap::new(),
            needle: recipe.swatch.needle,
            direction: recipe.direction,
            edge: recipe.cuff.edge,
            cast_on: recipe.cast_on,
            bind_off: recipe.bind_off,
            girths: u8::try_from(recipe.calf.len()).map_or(GIRTHS, |places| places.min(GIRTHS)),
            heel: HeelKind::of(recipe.heel),
            texture,
            turn,
            flap_by: if height.is_some() {
                FlapBy::Height
            } else {
                FlapBy::Rows
            },
            corners,
            more: recipe.adjust,
            toe: recipe.toe,
            needles: Needles::of(recipe.needles),
            seating: recipe.needles.seating().unwrap_or_default(),
            high_instep: recipe.fit.high_instep,
            wide_toes: recipe.fit.wide_toes,
            narrow_heel: recipe.fit.narrow_heel,
            patterned: recipe.motif.is_some(),
            chart: Cells::plain(4, 4),
            place: Place::default(),
            yarns: 1,
            stripes: vec![Yarn::A, Yarn::B],
            parts: Parts::default(),
        };
        if let Some(motif) = &recipe.motif {
            form.chart = Cells::of(&motif.rows).unwrap_or(form.chart);
            form.place = motif.place;
        }
        let length = |length: Length| plain_number(length, unit);
        let whole = |number: u16| number.to_string();
        let Recipe {
            foot,
            swatch,
            fit,
            ball,
            ..
        } = recipe;
        let texts = [
            (Entry::FootLength, Some(length(foot.length))),
            (Entry::FootCircumference, foot.circumference.map(length)),
            (Entry::HeelDiagonal, foot.heel_diagonal.map(length)),
            (Entry::SwatchStitches, Some(whole(swatch.stitches))),
            (Entry::SwatchWidth, Some(length(swatch.width))),
            (Entry::SwatchRounds, Some(whole(swatch.rounds))),
            (Entry::SwatchHeight, Some(length(swatch.height))),
            (
                Entry::UnwashedWidth,
                swatch.unwashed.map(|u| length(u.width)),
            ),
            (
                Entry::UnwashedHeight,
                swatch.unwashed.map(|u| length(u.height)),
            ),
            (Entry::CuffLength, Some(length(recipe.cuff.length))),
            (Entry::Leg, Some(length(recipe.leg))),
            (Entry::HeelRows, rows.map(whole)),
            (Entry::HeelHeight, height.map(length)),
            (Entry::Between, Some(whole(between))),
            (Entry::Ease, Some(fit.ease_percent.to_string())),
            (Entry::LengthEase, Some(length(fit.length_ease))),
            (Entry::Stitches, recipe.stitches.map(whole)),
            (Entry::BallGrams, ball.map(|ball| whole(ball.grams))),
            (Entry::BallMetres, ball.map(|ball| whole(ball.metres))),
        ];
        for (entry, text) in texts {
            if let Some(text) = text {
                form.typed.insert(entry, text);
            }
        }
        for (place, girth) in (0..GIRTHS).zip(&recipe.calf) {
            form.typed
                .insert(Entry::GirthHeight(place), length(girth.height));
            form.typed
                .insert(Entry::GirthRound(place), length(girth.circumference));
        }
        form.wind(recipe.yarns.as_ref());
        form
    }

    /// Takes up a recipe's yarns; the usual stripes, two rounds each, where it has none.
    fn wind(&mut self, yarns: Option<&Yarns>) {
        let mut rounds = vec![2, 2];
        if let Some(yarns) = yarns {
            let last = yarns.used().last().copied().unwrap_or_default();
            self.yarns = (1..)
                .zip(Yarn::ALL)
                .find_map(|(nth, yarn)| (yarn == last).then_some(nth))
                .unwrap_or(1);
            let stripes = yarns.stripes.iter().take(STRIPES.into());
            (self.stripes, rounds) = stripes.map(|s| (s.yarn, s.rounds)).unzip();
            self.parts = Parts {
                cuff: yarns.cuff,
                heel: yarns.heel,
                toe: yarns.toe,
            };
        }
        for (place, rounds) in (0..STRIPES).zip(rounds) {
            self.typed
                .insert(Entry::StripeRounds(place), rounds.to_string());
        }
    }

    /// What was typed into a line.
    pub(super) fn text(&self, entry: Entry) -> &str {
        self.typed.get(&entry).map_or("", String::as_str)
    }

    /// The foot's length, as far as it can be read.
    pub(super) fn foot_length(&self) -> Length {
        Length::parse(self.text(Entry::FootLength), self.unit)
            .unwrap_or_else(|_| Recipe::default().foot.length)
    }

    /// Round the foot, as far as it can be read; else as a foot of its length usually is.
    pub(super) fn foot_round(&self) -> Length {
        let foot = Foot {
            length: self.foot_length(),
            circumference: Length::parse(self.text(Entry::FootCircumference), self.unit).ok(),
            heel_diagonal: None,
        };
        foot.round_ball()
    }

    /// How long the leg is, where it can be read.
    pub(super) fn leg_length(&self) -> Option<Length> {
        Length::parse(self.text(Entry::Leg), self.unit).ok()
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
        let mut read = Reading {
            form: self,
            wrong: Vec::new(),
        };
        read.yarns().filter(|_| read.wrong.is_empty())
    }

    /// Places at which the leg is measured round, as far as they can be read: their number from 0,
    /// height and circumference.
    pub(super) fn girths_read(&self) -> Vec<(u8, Length, Length)> {
        let read = |entry| Length::parse(self.text(entry), self.unit).ok();
        (0..self.girths)
            .filter_map(|place| {
                let height = read(Entry::GirthHeight(place))?;
                Some((place, height, read(Entry::GirthRound(place))?))
            })
            .collect()
    }

    /// Changes the unit: lengths that can be read are written anew, to a millimetre or a hundredth
    /// of an inch; all else stays as typed.
    pub(super) fn measure_in(&mut self, unit: LengthUnit) {
        if unit == self.unit {
            return;
        }
        for (entry, text) in &mut self.typed {
            if entry.number() == Number::Length
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
    pub(super) fn take_up(&mut self, earlier: Self) {
        fn newer<T: PartialEq>(now: &mut T, fresh: T, earlier: T) {
            if *now == fresh {
                *now = earlier;
            }
        }
        // In the earlier one's unit, so that its numbers stay as they were typed.
        let mut fresh = Self::default();
        fresh.measure_in(earlier.unit);
        self.measure_in(earlier.unit);
        for entry in Entry::all() {
            if self.text(entry) == fresh.text(entry) {
                self.typed.insert(entry, earlier.text(entry).to_owned());
            }
        }
        newer(&mut self.name, fresh.name, earlier.name);
        newer(&mut self.needle, fresh.needle, earlier.needle);
        newer(&mut self.direction, fresh.direction, earlier.direction);
        newer(&mut self.heel, fresh.heel, earlier.heel);
        newer(&mut self.edge, fresh.edge, earlier.edge);
        newer(&mut self.texture, fresh.texture, earlier.texture);
        newer(&mut self.turn, fresh.turn, earlier.turn);
        newer(&mut self.corners, fresh.corners, earlier.corners);
        newer(&mut self.toe, fresh.toe, earlier.toe);
        newer(&mut self.needles, fresh.needles, earlier.needles);
        newer(&mut self.seating, fresh.seating, earlier.seating);
        newer(&mut self.cast_on, fresh.cast_on, earlier.cast_on);
        newer(&mut self.bind_off, fresh.bind_off, earlier.bind_off);
        newer(&mut self.girths, fresh.girths, earlier.girths.min(GIRTHS));
        newer(&mut self.flap_by, fresh.flap_by, earlier.flap_by);
        newer(
            &mut self.high_instep,
            fresh.high_instep,
            earlier.high_instep,
        );
        newer(&mut self.wide_toes, fresh.wide_toes, earlier.wide_toes);
        newer(
            &mut self.narrow_heel,
            fresh.narrow_heel,
            earlier.narrow_heel,
        );
        newer(&mut self.more, fresh.more, earlier.more);
        newer(&mut self.patterned, fresh.patterned, earlier.patterned);
        newer(&mut self.chart, fresh.chart, earlier.chart);
        newer(&mut self.place, fresh.place, earlier.place);
        newer(&mut self.yarns, fresh.yarns, earlier.yarns);
        newer(&mut self.parts, fresh.parts, earlier.parts);
        let mut stripes = earlier.stripes;
        stripes.truncate(STRIPES.into());
        newer(&mut self.stripes, fresh.stripes, stripes);
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
        let mut read = Reading {
            form: self,
            wrong: Vec::new(),
        };
        let recipe = read.recipe();
        let mut wrong = read.wrong;
        if wrong.is_empty() {
            return Ok(recipe);
        }
        // Nobody likes to mend one thing only to be told of the next. Lines that could not be read
        // hold the default's number here, which is never out of range.
        if let Err(more) = recipe.check() {
            wrong.extend(
                more.into_iter()
                    .filter(|error| Entry::of_field(&error.field).is_some())
                    .map(Wrong::from),
            );
        }
        Err(wrong)
    }
}

/// A length as a bare number: to a tenth of a millimetre or a hundredth of an inch, without idle
/// zeros.
pub(super) fn plain_number(length: Length, unit: LengthUnit) -> String {
    let hundredths = match unit {
        LengthUnit::Cm => u64::from(length.tenths()),
        LengthUnit::Inch => (u64::from(length.tenths()) * 100 + 127) / 254,
    };
    let (whole, part) = (hundredths / 100, hundredths % 100);
    match (part, part % 10) {
        (0, _) => whole.to_string(),
        (_, 0) => format!("{whole}.{}", part / 10),
        _ => format!("{whole}.{part:02}"),
    }
}
