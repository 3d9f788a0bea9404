//! What stands on the screen, and the recipe it means. Pure: the text is kept as it was typed; what it comes
//! to, the engine says.

use evenloop_engine::error::FieldError;
use evenloop_engine::pattern::begins_at_toe;
use evenloop_engine::recipe::{
    Direction, Heel, HeelOpening, Method, Narrowing, Number, NumberField, Recipe, SockPart, Toe,
    Unit, Written,
};
use evenloop_engine::sort::sort;
use evenloop_engine::swatch::Gauge;
use evenloop_engine::text::Typed;
use evenloop_engine::units::{Length, LengthUnit};
use serde::{Deserialize, Serialize};

use crate::text::measure::FIRST_NAME;

/// A number that may be given beside the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum GivenNumber {
    /// Stitches of the gauge.
    Stitches,
    /// Rounds of the gauge.
    Rounds,
    /// The foot's length.
    Foot,
    /// The leg's length.
    Leg,
    /// Round the ball of the foot.
    Ball,
    /// Stitches to cast on.
    Around,
}

impl GivenNumber {
    /// Every one of them.
    pub(super) const ALL: [Self; 6] = [
        Self::Stitches,
        Self::Rounds,
        Self::Foot,
        Self::Leg,
        Self::Ball,
        Self::Around,
    ];

    /// The recipe's number.
    pub(super) const fn field(self) -> NumberField {
        match self {
            Self::Stitches => NumberField::SwatchStitches,
            Self::Rounds => NumberField::SwatchRounds,
            Self::Foot => NumberField::FootLength,
            Self::Leg => NumberField::Leg,
            Self::Ball => NumberField::FootCircumference,
            Self::Around => NumberField::Stitches,
        }
    }
}

/// What is wrong with a number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum NumberWrong {
    /// It is none.
    Unread(Typed),
    /// It is out of range.
    Refused(FieldError),
}

/// What stands on the screen. What an earlier draft does not have is the default's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct PatternForm {
    /// What the pair will be called.
    pub(super) name: String,
    /// The pattern, as it was typed.
    pub(super) text: String,
    /// Which of its sizes, from 0.
    pub(super) size: u8,
    /// Parts that are planned by us.
    pub(super) ours: Vec<SockPart>,
    /// The heel, where it is ours.
    pub(super) heel: Heel,
    /// The toe, where it is ours.
    pub(super) toe: Toe,
    /// The needles.
    pub(super) needles: Method,
    /// In which unit lengths without one are meant.
    pub(super) unit: LengthUnit,
    stitches: String,
    rounds: String,
    foot: String,
    leg: String,
    ball: String,
    around: String,
}

impl Default for PatternForm {
    fn default() -> Self {
        let usual = Recipe::default();
        Self {
            name: FIRST_NAME.to_owned(),
            text: String::new(),
            size: 0,
            ours: Vec::new(),
            heel: usual.heel,
            toe: usual.toe,
            needles: usual.needles,
            unit: LengthUnit::default(),
            stitches: String::new(),
            rounds: String::new(),
            foot: String::new(),
            leg: String::new(),
            ball: String::new(),
            around: String::new(),
        }
    }
}

/// Stitches and rounds of a recipe's gauge, each with what they were counted over; none where they are the usual
/// ones, which nobody has typed.
#[derive(Debug, Clone, Copy)]
struct Gauged {
    stitches: Option<(u16, Length)>,
    rounds: Option<(u16, Length)>,
}

impl Gauged {
    fn of(recipe: &Recipe) -> Self {
        let (swatch, usual) = (&recipe.swatch, Recipe::default().swatch);
        let given = |counted: (u16, Length), usual: (u16, Length)| {
            Some(counted).filter(|counted| *counted != usual)
        };
        Self {
            stitches: given(
                (swatch.stitches, swatch.width),
                (usual.stitches, usual.width),
            ),
            rounds: given((swatch.rounds, swatch.height), (usual.rounds, usual.height)),
        }
    }

    /// The unit over whose whole width they were counted.
    fn unit(self) -> Option<LengthUnit> {
        let (_, over) = self.stitches.or(self.rounds)?;
        [LengthUnit::Cm, LengthUnit::Inch]
            .into_iter()
            .find(|unit| Gauge::over(*unit) == over)
    }
}

/// So many over the whole width of a unit, to the nearest.
fn over_whole(counted: Option<(u16, Length)>, unit: LengthUnit) -> Option<String> {
    let (many, over) = counted?;
    let [over, whole] = [over, Gauge::over(unit)].map(|length| u64::from(length.tenths()));
    let many = (u64::from(many) * whole * 2 + over).checked_div(over * 2)?;
    Some(many.to_string())
}

/// A length as it is typed: in that unit where it reads back as the same, else in centimetres.
fn exactly(length: Length, unit: LengthUnit) -> String {
    let shown = length.show(unit);
    if Length::parse(&shown, unit) == Ok(length) {
        shown
    } else {
        length.show_exact(LengthUnit::Cm)
    }
}

/// Heels that can take the place of the pattern's.
pub(super) fn heels() -> [Heel; 3] {
    [
        Heel::default(),
        Heel::ShortRow { between: 0 },
        Heel::Afterthought {
            opening: HeelOpening::default(),
        },
    ]
}

/// Toes that can take the place of the pattern's. From the toe up none is begun with a round one.
pub(super) fn toes(direction: Direction) -> Vec<Toe> {
    let wedge = |narrowing| Toe::Wedge { narrowing };
    let mut all = vec![
        wedge(Narrowing::Rounded),
        wedge(Narrowing::Even),
        wedge(Narrowing::Long),
        Toe::ShortRow,
    ];
    if direction == Direction::CuffDown {
        all.push(Toe::Round);
    }
    all
}

impl PatternForm {
    /// An empty one.
    pub(super) fn in_unit(unit: LengthUnit) -> Self {
        Self {
            unit,
            ..Self::default()
        }
    }

    /// The form that means a recipe; its numbers stand in it where they are not the usual ones. A gauge is counted
    /// over the whole width of one unit: that unit becomes the form's, or where it was counted over neither, `unit`,
    /// to the nearest stitch and round.
    pub(super) fn of(recipe: &Recipe, unit: LengthUnit) -> Self {
        let usual = Recipe::default();
        let gauged = Gauged::of(recipe);
        let unit = gauged.unit().unwrap_or(unit);
        let written = recipe.written.as_ref();
        let mut form = Self {
            text: written.map_or_else(String::new, |written| written.text.clone()),
            size: written.and_then(|written| written.size).unwrap_or(0),
            ours: written.map_or_else(Vec::new, |written| written.ours.clone()),
            heel: recipe.heel,
            toe: recipe.toe,
            needles: recipe.needles,
            ..Self::in_unit(unit)
        };
        for number in GivenNumber::ALL {
            let field = number.field();
            let text = match (number, field.get(recipe)) {
                (GivenNumber::Stitches, _) => over_whole(gauged.stitches, unit),
                (GivenNumber::Rounds, _) => over_whole(gauged.rounds, unit),
                (_, given) if given == field.get(&usual) => None,
                (_, Some(Number::Whole(whole))) => Some(whole.to_string()),
                (_, Some(Number::Length(length))) => Some(exactly(length, unit)),
                (_, None) => None,
            };
            if let Some(text) = text {
                *form.number_mut(number) = text;
            }
        }
        form
    }

    /// What was typed for a number.
    pub(super) fn number(&self, number: GivenNumber) -> &str {
        match number {
            GivenNumber::Stitches => &self.stitches,
            GivenNumber::Rounds => &self.rounds,
            GivenNumber::Foot => &self.foot,
            GivenNumber::Leg => &self.leg,
            GivenNumber::Ball => &self.ball,
            GivenNumber::Around => &self.around,
        }
    }

    /// The same, to be typed into.
    pub(super) fn number_mut(&mut self, number: GivenNumber) -> &mut String {
        match number {
            GivenNumber::Stitches => &mut self.stitches,
            GivenNumber::Rounds => &mut self.rounds,
            GivenNumber::Foot => &mut self.foot,
            GivenNumber::Leg => &mut self.leg,
            GivenNumber::Ball => &mut self.ball,
            GivenNumber::Around => &mut self.around,
        }
    }

    /// Whether a number is given.
    pub(super) fn is_given(&self, number: GivenNumber) -> bool {
        !self.number(number).trim().is_empty()
    }

    /// Whether anything is written in it.
    pub(super) fn is_empty(&self) -> bool {
        self.text.trim().is_empty()
    }

    /// Which end is begun with.
    pub(super) fn direction(&self) -> Direction {
        if begins_at_toe(&self.text) {
            Direction::ToeUp
        } else {
            Direction::CuffDown
        }
    }

    /// Whether a part is planned by us.
    pub(super) fn is_ours(&self, part: SockPart) -> bool {
        self.ours.contains(&part)
    }

    /// Has a part planned by us, or not.
    pub(super) fn set_ours(&mut self, part: SockPart, ours: bool) {
        self.ours.retain(|one| *one != part);
        if ours {
            self.ours.push(part);
        }
        sort(&mut self.ours, |a, b| a < b);
    }

    /// The recipe that is meant, of a pattern that gives numbers for so many sizes; and which numbers cannot
    /// be read. Those leave the usual number in their place.
    pub(super) fn recipe(&self, sizes: usize) -> (Recipe, Vec<(GivenNumber, NumberWrong)>) {
        let mut wrong = Vec::new();
        let direction = self.direction();
        let begins_with = match direction {
            Direction::CuffDown => SockPart::Cuff,
            Direction::ToeUp => SockPart::Toe,
        };
        let usual = Recipe::default();
        let toe = if toes(direction).contains(&self.toe) {
            self.toe
        } else {
            usual.toe
        };
        let last = u8::try_from(sizes.saturating_sub(1)).unwrap_or(u8::MAX);
        let mut recipe = Recipe {
            direction,
            heel: self.heel,
            toe,
            needles: self.needles,
            written: Some(Written {
                text: self.text.clone(),
                size: (sizes > 1).then_some(self.size.min(last)),
                ours: self.ours.clone(),
            }),
            ..usual
        };
        let over = Gauge::over(self.unit);
        for number in GivenNumber::ALL {
            let text = self.number(number).trim();
            let asked = number != GivenNumber::Around || self.is_ours(begins_with);
            if text.is_empty() || !asked {
                continue;
            }
            let field = number.field();
            let read = if field.unit() == Unit::Length {
                Length::parse(text, self.unit).ok().map(Number::Length)
            } else {
                text.parse().ok().map(Number::Whole)
            };
            if !read.is_some_and(|read| field.set(&mut recipe, read)) {
                // Whatever was pasted in, the sentence stays a sentence.
                let short: String = text.chars().take(20).collect();
                wrong.push((number, NumberWrong::Unread(Typed::new(short))));
                continue;
            }
            match number {
                GivenNumber::Stitches => recipe.swatch.width = over,
                GivenNumber::Rounds => recipe.swatch.height = over,
                GivenNumber::Foot | GivenNumber::Leg | GivenNumber::Ball | GivenNumber::Around => {}
            }
        }
        if let Err(fields) = recipe.check() {
            for error in fields {
                let of = |number: &GivenNumber| number.field().path() == error.field;
                if let Some(number) = GivenNumber::ALL.into_iter().find(of) {
                    wrong.push((number, NumberWrong::Refused(error)));
                }
            }
        }
        (recipe, wrong)
    }
}

#[cfg(test)]
mod tests {
    use evenloop_engine::json::from_json;
    use evenloop_engine::recipe::Seating;

    use super::*;

    fn filled() -> PatternForm {
        let mut form = PatternForm {
            text: "CUFF\nCO 56 (64, 72) sts. Join.\n".to_owned(),
            size: 1,
            needles: Method::TwoCirculars {
                seating: Seating::InstepAndSole,
            },
            ..PatternForm::default()
        };
        form.set_ours(SockPart::Toe, true);
        form.set_ours(SockPart::Heel, true);
        form
    }

    #[test]
    fn a_recipe_means_the_form_it_came_from() {
        let mut form = filled();
        for (number, text) in GivenNumber::ALL
            .into_iter()
            .zip(["28", "40", "26 cm", "17 cm"])
        {
            text.clone_into(form.number_mut(number));
        }
        let (recipe, wrong) = form.recipe(3);
        assert_eq!(wrong, []);
        let written = recipe.written.as_ref().expect("a pattern");
        assert_eq!(written.text, form.text);
        assert_eq!(written.size, Some(1));
        assert_eq!(written.ours, [SockPart::Heel, SockPart::Toe]);
        assert_eq!(recipe.foot.length, Length::cm(26));
        let again = PatternForm::of(&recipe, LengthUnit::Cm);
        assert_eq!(again.recipe(3), (recipe, Vec::new()));
    }

    #[test]
    fn a_gauge_is_the_same_in_every_form_that_it_comes_to() {
        for (unit, other) in [
            (LengthUnit::Cm, LengthUnit::Inch),
            (LengthUnit::Inch, LengthUnit::Cm),
        ] {
            for stitches in 20..=44 {
                let mut form = PatternForm { unit, ..filled() };
                *form.number_mut(GivenNumber::Stitches) = stitches.to_string();
                *form.number_mut(GivenNumber::Rounds) = (stitches + 12).to_string();
                *form.number_mut(GivenNumber::Foot) = "9.25 in".to_owned();
                let (recipe, wrong) = form.recipe(3);
                assert_eq!(wrong, []);
                let again = PatternForm::of(&recipe, other);
                assert_eq!(
                    again.recipe(3),
                    (recipe.clone(), Vec::new()),
                    "{stitches} {unit:?}"
                );
                let usual = Recipe::default().swatch;
                let shown = recipe.swatch != usual;
                assert_eq!(
                    again.is_given(GivenNumber::Stitches),
                    shown,
                    "{stitches} {unit:?}"
                );
            }
        }
        // Counted over a width of its own: as many to the nearest stitch.
        let mut recipe = Recipe::default();
        (recipe.swatch.stitches, recipe.swatch.width) = (22, Length::mm(75));
        let form = PatternForm::of(&recipe, LengthUnit::Cm);
        assert_eq!(form.number(GivenNumber::Stitches), "29");
    }

    #[test]
    fn what_is_no_number_or_out_of_range_is_said_at_its_line() {
        let mut form = filled();
        *form.number_mut(GivenNumber::Foot) = "long".to_owned();
        *form.number_mut(GivenNumber::Stitches) = "900".to_owned();
        let (recipe, wrong) = form.recipe(3);
        assert_eq!(recipe.foot, Recipe::default().foot);
        let unread = NumberWrong::Unread(Typed::new("long"));
        assert!(wrong.contains(&(GivenNumber::Foot, unread)), "{wrong:?}");
        assert!(
            wrong
                .iter()
                .any(|(number, why)| *number == GivenNumber::Stitches
                    && matches!(why, NumberWrong::Refused(_))),
            "{wrong:?}"
        );
    }

    #[test]
    fn a_size_that_the_text_has_no_longer_is_not_asked_for() {
        let form = filled();
        let size = |sizes| {
            form.recipe(sizes)
                .0
                .written
                .and_then(|written| written.size)
        };
        assert_eq!(size(3), Some(1));
        assert_eq!(size(2), Some(1));
        assert_eq!(size(1), None);
    }

    #[test]
    fn a_round_toe_begins_no_sock() {
        let form = PatternForm {
            text: "FOOT\nKnit 40 rnds.\nLEG\nKnit 9 rnds.".to_owned(),
            toe: Toe::Round,
            ..PatternForm::default()
        };
        let (recipe, wrong) = form.recipe(1);
        assert_eq!((recipe.toe, wrong), (Recipe::default().toe, Vec::new()));
    }

    #[test]
    fn a_draft_of_another_build_is_read_as_far_as_it_goes() {
        let form: PatternForm = from_json(r#"{"text":"K2","later":1}"#).expect("a draft");
        assert_eq!(form.text, "K2");
        assert_eq!(form.needles, Method::default());
    }
}
