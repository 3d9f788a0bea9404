//! What stands in the form, and the recipe it means. Pure: what is typed is kept as it is typed;
//! whether it makes a sock is the engine's decision.

use std::collections::BTreeMap;

use evenloop_engine::error::FieldError;
use evenloop_engine::foot::Foot;
use evenloop_engine::plan::{self, Outcome};
use evenloop_engine::recipe::{
    Ball, Cuff, Direction, Edge, Fit, FlapTexture, Heel, LeftRight, Method, Narrowing, Recipe, Rib,
    Seating, Toe, Turn,
};
use evenloop_engine::swatch::Swatch;
use evenloop_engine::units::{Length, LengthUnit};
use serde::{Deserialize, Serialize};

use super::copy;
use super::entry::{Entry, Number};

/// The needles, without the seating that only some of them have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Needles {
    /// One long circular.
    MagicLoop,
    /// Two circulars.
    TwoCirculars,
    /// Four double-pointed.
    FourDpns,
    /// Five double-pointed.
    FiveDpns,
    /// One short circular.
    ShortCircular,
}

impl Needles {
    /// In the order of the form.
    pub(super) const ALL: [Self; 5] = [
        Self::MagicLoop,
        Self::TwoCirculars,
        Self::FourDpns,
        Self::FiveDpns,
        Self::ShortCircular,
    ];

    /// Whether there are two halves, so that a seating can be chosen.
    pub(super) const fn has_halves(self) -> bool {
        matches!(self, Self::MagicLoop | Self::TwoCirculars)
    }

    const fn method(self, seating: Seating) -> Method {
        match self {
            Self::MagicLoop => Method::MagicLoop { seating },
            Self::TwoCirculars => Method::TwoCirculars { seating },
            Self::FourDpns => Method::FourDpns,
            Self::FiveDpns => Method::FiveDpns,
            Self::ShortCircular => Method::ShortCircular,
        }
    }

    const fn of(method: Method) -> Self {
        match method {
            Method::MagicLoop { .. } => Self::MagicLoop,
            Method::TwoCirculars { .. } => Self::TwoCirculars,
            Method::FourDpns => Self::FourDpns,
            Method::FiveDpns => Self::FiveDpns,
            Method::ShortCircular => Self::ShortCircular,
        }
    }
}

/// The heel, without what only some of them have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum HeelKind {
    /// Flap and gusset.
    Flap,
    /// Short rows there and back.
    ShortRow,
    /// Knitted last.
    Afterthought,
}

impl HeelKind {
    /// In the order of the form.
    pub(super) const ALL: [Self; 3] = [Self::Flap, Self::ShortRow, Self::Afterthought];

    const fn of(heel: Heel) -> Self {
        match heel {
            Heel::FlapAndGusset { .. } => Self::Flap,
            Heel::ShortRow { .. } => Self::ShortRow,
            Heel::Afterthought => Self::Afterthought,
        }
    }
}

/// Directions in the order of the form.
pub(super) const DIRECTIONS: [Direction; 2] = [Direction::CuffDown, Direction::ToeUp];
/// Edges in the order of the form.
pub(super) const EDGES: [Edge; 7] = [
    Edge::Rib(Rib::TwoByTwo),
    Edge::Rib(Rib::OneByOne),
    Edge::Rib(Rib::ThreeByOne),
    Edge::Rib(Rib::Twisted),
    Edge::Hem { picot: false },
    Edge::Hem { picot: true },
    Edge::Rolled,
];
/// Flap textures in the order of the form.
pub(super) const TEXTURES: [FlapTexture; 3] = FlapTexture::ALL;
/// Turns in the order of the form.
pub(super) const TURNS: [Turn; 3] = Turn::ALL;
/// Toes in the order of the form; left and right are one of them.
pub(super) const TOES: [Toe; 6] = [
    Toe::Wedge {
        narrowing: Narrowing::Rounded,
    },
    Toe::Wedge {
        narrowing: Narrowing::Even,
    },
    Toe::Wedge {
        narrowing: Narrowing::Long,
    },
    Toe::Round,
    Toe::ShortRow,
    Toe::Shaped {
        foot: LeftRight::Left,
    },
];
/// Feet in the order of the form.
pub(super) const FEET: [LeftRight; 2] = [LeftRight::Left, LeftRight::Right];
/// Seatings in the order of the form.
pub(super) const SEATINGS: [Seating; 2] = [Seating::EvenHalves, Seating::InstepAndSole];
/// Units in the order of the form.
pub(super) const UNITS: [LengthUnit; 2] = [LengthUnit::Cm, LengthUnit::Inch];

/// Where a toe stands among [`TOES`]: a shaped one there is of either foot.
pub(super) fn toe_place(toe: Toe) -> usize {
    let like = match toe {
        Toe::Shaped { .. } => Toe::Shaped { foot: FEET[0] },
        other => other,
    };
    TOES.iter().position(|one| *one == like).unwrap_or(0)
}

/// What stands in the form.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Form {
    /// What the pair will be called.
    pub(super) name: String,
    /// In which unit lengths without one are meant.
    pub(super) unit: LengthUnit,
    /// What was typed; a missing line is empty.
    pub(super) typed: BTreeMap<Entry, String>,
    /// Which end is begun with.
    pub(super) direction: Direction,
    /// How the leg is finished at the top.
    pub(super) edge: Edge,
    /// The heel.
    pub(super) heel: HeelKind,
    /// What the flap is knitted in.
    pub(super) texture: FlapTexture,
    /// How the heel is turned.
    pub(super) turn: Turn,
    /// Whether corners are picked up.
    pub(super) corners: bool,
    /// The toe.
    pub(super) toe: Toe,
    /// The needles.
    pub(super) needles: Needles,
    /// Where stitches sit after the turn, on needles with two halves.
    pub(super) seating: Seating,
}

impl Default for Form {
    fn default() -> Self {
        Self::of(&Recipe::default(), LengthUnit::default())
    }
}

impl Form {
    /// The form that means a recipe.
    pub(super) fn of(recipe: &Recipe, unit: LengthUnit) -> Self {
        let (texture, turn, rows, corners) = match recipe.heel {
            Heel::FlapAndGusset {
                texture,
                turn,
                rows,
                corners,
                ..
            } => (texture, turn, rows, corners),
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
            direction: recipe.direction,
            edge: recipe.cuff.edge,
            heel: HeelKind::of(recipe.heel),
            texture,
            turn,
            corners,
            toe: recipe.toe,
            needles: Needles::of(recipe.needles),
            seating: recipe.needles.seating().unwrap_or_default(),
        };
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
            (Entry::CuffLength, Some(length(recipe.cuff.length))),
            (Entry::Leg, Some(length(recipe.leg))),
            (Entry::HeelRows, rows.map(whole)),
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
        form
    }

    /// What was typed into a line.
    pub(super) fn text(&self, entry: Entry) -> &str {
        self.typed.get(&entry).map_or("", String::as_str)
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
        for entry in Entry::ALL {
            if self.text(entry) == fresh.text(entry) {
                self.typed.insert(entry, earlier.text(entry).to_owned());
            }
        }
        newer(&mut self.name, fresh.name, earlier.name);
        newer(&mut self.direction, fresh.direction, earlier.direction);
        newer(&mut self.heel, fresh.heel, earlier.heel);
        newer(&mut self.edge, fresh.edge, earlier.edge);
        newer(&mut self.texture, fresh.texture, earlier.texture);
        newer(&mut self.turn, fresh.turn, earlier.turn);
        newer(&mut self.corners, fresh.corners, earlier.corners);
        newer(&mut self.toe, fresh.toe, earlier.toe);
        newer(&mut self.needles, fresh.needles, earlier.needles);
        newer(&mut self.seating, fresh.seating, earlier.seating);
    }

    /// What the sock comes to.
    ///
    /// # Errors
    /// Everything that is wrong, line by line.
    pub(super) fn outcome(&self) -> Result<Outcome, Vec<FieldError>> {
        plan::make(&self.recipe()?).map(|plan| plan.outcome)
    }

    /// The recipe that is meant.
    ///
    /// # Errors
    /// Lines that cannot be read, and all others whose numbers the engine finds out of range.
    pub(super) fn recipe(&self) -> Result<Recipe, Vec<FieldError>> {
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
                    .filter(|error| Entry::of_field(&error.field).is_some()),
            );
        }
        Err(wrong)
    }
}

/// Reads the lines one by one and keeps what is wrong.
struct Reading<'a> {
    form: &'a Form,
    wrong: Vec<FieldError>,
}

impl Reading<'_> {
    fn recipe(&mut self) -> Recipe {
        let usual = Recipe::default();
        let form = self.form;
        Recipe {
            direction: form.direction,
            foot: Foot {
                length: self.length(Entry::FootLength, usual.foot.length),
                circumference: self.length_or_none(Entry::FootCircumference),
                heel_diagonal: self.length_or_none(Entry::HeelDiagonal),
            },
            swatch: Swatch {
                stitches: self.whole(Entry::SwatchStitches, usual.swatch.stitches),
                width: self.length(Entry::SwatchWidth, usual.swatch.width),
                rounds: self.whole(Entry::SwatchRounds, usual.swatch.rounds),
                height: self.length(Entry::SwatchHeight, usual.swatch.height),
                unwashed: None,
            },
            cuff: Cuff {
                edge: form.edge,
                length: self.length(Entry::CuffLength, usual.cuff.length),
            },
            leg: self.length(Entry::Leg, usual.leg),
            heel: match form.heel {
                HeelKind::Flap => Heel::FlapAndGusset {
                    texture: form.texture,
                    turn: form.turn,
                    rows: self.whole_or_none(Entry::HeelRows),
                    height: None,
                    corners: form.corners,
                },
                HeelKind::ShortRow => Heel::ShortRow {
                    between: self.whole(Entry::Between, 0),
                },
                HeelKind::Afterthought => Heel::Afterthought,
            },
            toe: form.toe,
            needles: form.needles.method(form.seating),
            fit: Fit {
                ease_percent: self.whole(Entry::Ease, usual.fit.ease_percent),
                length_ease: self.length(Entry::LengthEase, usual.fit.length_ease),
                ..usual.fit
            },
            stitches: self.whole_or_none(Entry::Stitches),
            ball: self.ball(),
            ..usual
        }
    }

    /// A ball has both or neither.
    fn ball(&mut self) -> Option<Ball> {
        if self.is_empty(Entry::BallGrams) && self.is_empty(Entry::BallMetres) {
            return None;
        }
        let before = self.wrong.len();
        let grams = self.whole(Entry::BallGrams, 0);
        let metres = self.whole(Entry::BallMetres, 0);
        (self.wrong.len() == before).then_some(Ball { grams, metres })
    }

    fn length(&mut self, entry: Entry, usual: Length) -> Length {
        if self.is_empty(entry) {
            self.say(entry, copy::empty(entry));
            return usual;
        }
        self.length_or_none(entry).unwrap_or(usual)
    }

    fn length_or_none(&mut self, entry: Entry) -> Option<Length> {
        if self.is_empty(entry) {
            return None;
        }
        match Length::parse(self.form.text(entry), self.form.unit) {
            Ok(length) => Some(length),
            Err(expected) => {
                self.say(entry, copy::unreadable(self.form.text(entry), &expected));
                None
            }
        }
    }

    fn whole<N: std::str::FromStr>(&mut self, entry: Entry, usual: N) -> N {
        if self.is_empty(entry) {
            self.say(entry, copy::empty(entry));
            return usual;
        }
        self.whole_or_none(entry).unwrap_or(usual)
    }

    fn whole_or_none<N: std::str::FromStr>(&mut self, entry: Entry) -> Option<N> {
        if self.is_empty(entry) {
            return None;
        }
        let text = self.form.text(entry).trim();
        let digits = text.strip_suffix('%').unwrap_or(text).trim_end();
        let number = digits
            .parse()
            .ok()
            .filter(|_| digits.bytes().all(|b| b.is_ascii_digit()));
        if number.is_none() {
            let Number::Whole(of) = entry.number() else {
                return None;
            };
            self.say(
                entry,
                copy::unreadable(text, &copy::whole_number(of, digits)),
            );
        }
        number
    }

    fn is_empty(&self, entry: Entry) -> bool {
        self.form.text(entry).trim().is_empty()
    }

    fn say(&mut self, entry: Entry, (message, help): (String, String)) {
        self.wrong
            .push(FieldError::new(entry.field(), message, help));
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

#[cfg(test)]
mod tests {
    use super::*;

    fn with(changes: &[(Entry, &str)]) -> Form {
        let mut form = Form::default();
        for (entry, text) in changes {
            form.typed.insert(*entry, (*text).to_owned());
        }
        form
    }

    fn fields(form: &Form) -> Vec<String> {
        form.outcome()
            .err()
            .unwrap_or_default()
            .into_iter()
            .map(|e| e.field)
            .collect()
    }

    #[test]
    fn the_first_form_means_the_default_recipe_and_is_a_sock() {
        assert_eq!(Form::default().recipe(), Ok(Recipe::default()));
        assert_eq!(fields(&Form::default()), [""; 0]);
    }

    #[test]
    fn a_recipe_comes_back_from_its_form_in_both_units() {
        let recipe = Recipe {
            direction: Direction::CuffDown,
            foot: Foot {
                length: Length(2_540),
                circumference: Some(Length(2_159)),
                heel_diagonal: Some(Length(3_048)),
            },
            leg: Length(1_524),
            cuff: Cuff {
                edge: Edge::Hem { picot: true },
                length: Length(508),
            },
            swatch: Swatch {
                width: Length(1_016),
                height: Length(1_016),
                ..Swatch::default()
            },
            fit: Fit {
                ease_percent: 8,
                length_ease: Length(127),
                ..Fit::default()
            },
            heel: Heel::FlapAndGusset {
                texture: FlapTexture::GarterEdge,
                turn: Turn::Band,
                rows: Some(28),
                height: None,
                corners: true,
            },
            toe: Toe::Wedge {
                narrowing: Narrowing::Long,
            },
            needles: Method::FiveDpns,
            stitches: Some(60),
            ball: Some(Ball {
                grams: 100,
                metres: 400,
            }),
            ..Recipe::default()
        };
        for unit in UNITS {
            assert_eq!(
                Form::of(&recipe, unit).recipe().as_ref(),
                Ok(&recipe),
                "{unit:?}"
            );
        }
        for method in Method::ALL {
            let recipe = Recipe {
                needles: method,
                ..Recipe::default()
            };
            assert_eq!(Form::of(&recipe, LengthUnit::Cm).recipe(), Ok(recipe));
        }
        for heel in [Heel::ShortRow { between: 2 }, Heel::Afterthought] {
            let recipe = Recipe {
                direction: Direction::ToeUp,
                heel,
                ..Recipe::default()
            };
            assert_eq!(Form::of(&recipe, LengthUnit::Cm).recipe(), Ok(recipe));
        }
    }

    #[test]
    fn every_choice_the_engine_has_stands_in_the_form() {
        for edge in Edge::ALL {
            assert!(EDGES.contains(&edge), "{edge:?}");
        }
        for toe in Toe::ALL {
            let shaped = matches!(toe, Toe::Shaped { .. });
            let there = TOES[toe_place(toe)];
            assert!(
                there == toe || shaped && matches!(there, Toe::Shaped { .. }),
                "{toe:?}"
            );
        }
        for method in Method::ALL {
            assert!(Needles::ALL.contains(&Needles::of(method)), "{method:?}");
        }
    }

    #[test]
    fn what_cannot_be_read_is_said_at_its_line_and_so_is_what_is_out_of_range() {
        let form = with(&[
            (Entry::FootLength, "long"),
            (Entry::SwatchWidth, ""),
            (Entry::SwatchStitches, "29.5"),
            (Entry::CuffLength, "40"),
            (Entry::BallGrams, "100"),
        ]);
        let mut wrong = fields(&form);
        wrong.sort();
        // A cuff that is too tall is also taller than its leg.
        assert_eq!(
            wrong,
            [
                "ball.metres",
                "cuff.length",
                "foot.length",
                "leg",
                "swatch.stitches",
                "swatch.width"
            ]
        );
        let errors = form.outcome().expect_err("all that");
        let foot = errors
            .iter()
            .find(|e| e.field == "foot.length")
            .expect("an error");
        assert!(foot.message.contains("“long”"), "{}", foot.message);
    }

    #[test]
    fn numbers_far_out_are_refused_and_nothing_breaks() {
        for text in [
            "0",
            "-1",
            "1e9",
            "99999999999999999999",
            "∞",
            "½",
            "24 furlongs",
            "0x18",
        ] {
            for entry in Entry::ALL {
                let form = with(&[(entry, text)]);
                if let Err(errors) = form.outcome() {
                    assert!(
                        errors.iter().all(|e| !e.message.is_empty()),
                        "{entry:?} {text}"
                    );
                }
            }
        }
    }

    #[test]
    fn a_change_of_unit_keeps_lengths_and_what_is_no_length() {
        let mut form = with(&[(Entry::FootLength, "24,5"), (Entry::Leg, "knee high")]);
        form.measure_in(LengthUnit::Inch);
        assert_eq!(form.text(Entry::FootLength), "9.65");
        assert_eq!(form.text(Entry::Leg), "knee high");
        assert_eq!(form.text(Entry::SwatchStitches), "30");
        form.measure_in(LengthUnit::Cm);
        assert_eq!(form.text(Entry::FootLength), "24.5");
    }

    #[test]
    fn an_earlier_draft_does_not_overwrite_what_was_typed_since() {
        let earlier = Form {
            name: "Grey ones".to_owned(),
            corners: true,
            ..with(&[
                (Entry::FootLength, "26"),
                (Entry::Leg, "12"),
                (Entry::HeelRows, "28"),
            ])
        };
        let mut now = with(&[(Entry::Leg, "10")]);
        now.edge = Edge::Rolled;
        now.take_up(earlier);
        assert_eq!(now.name, "Grey ones");
        assert_eq!((now.corners, now.edge), (true, Edge::Rolled));
        assert_eq!(now.text(Entry::FootLength), "26");
        assert_eq!(now.text(Entry::Leg), "10");
        assert_eq!(now.text(Entry::HeelRows), "28");
        let earlier = Form {
            unit: LengthUnit::Inch,
            ..with(&[(Entry::FootLength, "9 1/2")])
        };
        let mut now = Form::default();
        now.take_up(earlier);
        assert_eq!(
            (now.unit, now.text(Entry::FootLength)),
            (LengthUnit::Inch, "9 1/2")
        );
    }

    #[test]
    fn a_draft_reads_back() {
        let form = with(&[(Entry::FootLength, "26½?")]);
        let text = serde_json::to_string(&form).expect("text");
        assert_eq!(serde_json::from_str::<Form>(&text).expect("a form"), form);
    }
}
