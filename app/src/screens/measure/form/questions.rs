//! What stands in the form, one row each: every question with where it is asked, what is said of it and
//! what its answer means in a recipe. The form, its draft and its questions follow from the rows.

use std::collections::BTreeMap;

use evenloop_engine::needle_size::Needle;
use evenloop_engine::recipe::{
    Adjust, BindOff, CastOn, CircularLength, Direction, Edge, FlapTexture, Girth, Heel,
    HeelOpening, HeelTurn, Method, Motif, MotifPlacement, NumberField, Recipe, RoundsBy, Seating,
    Stripe, Toe, ToeCastOn, Yarns,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::swatch::FirstGuess;
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::yarn_weight::WeightName;
use serde::{Deserialize, Serialize};

use super::answers::{Answer, FlapBy, GaugeBy, HeelKind, NeedleChoice};
use super::groups::FieldGroup;
use super::lists::{GIRTHS, Parts, STRIPES};
use super::typed;
use crate::parts::{Cells, Choice, Width};
use crate::text::measure::{self, choices as text};
use crate::text::{Named, Sentence};

/// How a question is asked.
pub(in crate::screens::measure) enum Control {
    /// One of a few.
    Pick {
        /// What is chosen.
        legend: Sentence,
        /// How much room each wants.
        width: Width,
        /// What there is.
        choices: Vec<Choice>,
        /// Which of them is chosen.
        get: fn(&MeasureForm) -> usize,
        /// Another is chosen.
        set: fn(&mut MeasureForm, usize),
    },
    /// On or off.
    Flip {
        /// What it is.
        text: Named,
        /// Whether it is on.
        get: fn(&MeasureForm) -> bool,
        /// It is switched.
        set: fn(&mut MeasureForm, bool),
    },
}

macro_rules! optional {
    () => {
        None
    };
    ($value:expr) => {
        Some($value)
    };
}

macro_rules! form {
    (
        picks {$(
            $(#[$pick_about:meta])*
            $pick:ident: $answer:ty, $pick_question:ident {
                name: $pick_name:literal, group: $pick_group:ident,
                legend: $legend:expr, width: $width:ident,
                $(path: $pick_path:literal, called: $called:expr,)?
                $(when: $pick_when:expr,)?
                read: $pick_read:expr,
                write: $pick_write:expr,
            }
        )*}
        flips {$(
            $(#[$flip_about:meta])*
            $flip:ident, $flip_question:ident {
                name: $flip_name:literal, group: $flip_group:ident, text: $flip_text:expr,
                $(path: $flip_path:literal,)?
                $(when: $flip_when:expr,)?
                read: $flip_read:expr,
                write: $flip_write:expr,
            }
        )*}
        rest {$(
            $(#[$rest_about:meta])*
            $rest:ident: $rest_kind:ty {
                read: $rest_read:expr,
                write: $rest_write:expr,
            }
        )*}
    ) => {
        /// What stands in the form. What a draft of an earlier build does not have is the default's.
        #[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
        #[serde(default)]
        #[allow(clippy::struct_excessive_bools)] // each is a switch of its own
        pub(in crate::screens::measure) struct MeasureForm {
            /// What the pair will be called.
            pub(in crate::screens::measure) name: String,
            /// In which unit lengths without one are meant.
            pub(in crate::screens::measure) unit: LengthUnit,
            /// What was typed; a missing line is empty.
            #[serde(with = "typed")]
            pub(in crate::screens::measure) typed: BTreeMap<NumberField, String>,
            $($(#[$rest_about])* pub(in crate::screens::measure) $rest: $rest_kind,)*
            $($(#[$pick_about])* pub(in crate::screens::measure) $pick: $answer,)*
            $($(#[$flip_about])* pub(in crate::screens::measure) $flip: bool,)*
        }

        /// A question with a few answers, or with yes and no.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub(in crate::screens::measure) enum Question {
            $($(#[$pick_about])* $pick_question,)*
            $($(#[$flip_about])* $flip_question,)*
        }

        impl Question {
            /// Every question, in the order of the form within its group.
            pub(in crate::screens::measure) const ALL: [Self;
                [$($pick_name,)* $($flip_name,)*].len()] =
                [$(Self::$pick_question,)* $(Self::$flip_question,)*];

            /// Name of its inputs.
            pub(in crate::screens::measure) const fn name(self) -> &'static str {
                match self {
                    $(Self::$pick_question => $pick_name,)*
                    $(Self::$flip_question => $flip_name,)*
                }
            }

            /// Where it is asked.
            pub(in crate::screens::measure) const fn group(self) -> FieldGroup {
                match self {
                    $(Self::$pick_question => FieldGroup::$pick_group,)*
                    $(Self::$flip_question => FieldGroup::$flip_group,)*
                }
            }

            /// The recipe's field, as errors name it, where its answer can be wrong.
            pub(in crate::screens::measure) const fn path(self) -> Option<&'static str> {
                match self {
                    $(Self::$pick_question => optional!($($pick_path)?),)*
                    $(Self::$flip_question => optional!($($flip_path)?),)*
                }
            }

            /// What it is called in the list of all that is to be mended.
            pub(in crate::screens::measure) fn called(self) -> Sentence {
                match self {
                    $(Self::$pick_question => {
                        let called: Option<Sentence> = optional!($($called)?);
                        called.unwrap_or($legend)
                    })*
                    $(Self::$flip_question => Sentence::Fixed($flip_text.name),)*
                }
            }

            /// When it is asked; always where there is no condition.
            pub(in crate::screens::measure) const fn asked(self) -> Option<fn(&MeasureForm) -> bool> {
                match self {
                    $(Self::$pick_question => optional!($($pick_when)?),)*
                    $(Self::$flip_question => optional!($($flip_when)?),)*
                }
            }

            /// How it is asked.
            pub(in crate::screens::measure) fn control(self) -> Control {
                match self {
                    $(Self::$pick_question => Control::Pick {
                        legend: $legend,
                        width: Width::$width,
                        choices: <$answer>::choices(),
                        get: |form| form.$pick.index(),
                        set: |form, index| form.$pick.pick(index),
                    },)*
                    $(Self::$flip_question => Control::Flip {
                        text: $flip_text,
                        get: |form| form.$flip,
                        set: |form, on| form.$flip = on,
                    },)*
                }
            }
        }

        impl MeasureForm {
            /// A form with the answers that a recipe has, and with nothing typed.
            pub(super) fn answers_of(recipe: &Recipe, unit: LengthUnit) -> Self {
                $(let $rest: fn(&Recipe) -> $rest_kind = $rest_read;)*
                $(let $pick: fn(&Recipe) -> $answer = $pick_read;)*
                $(let $flip: fn(&Recipe) -> bool = $flip_read;)*
                Self {
                    name: measure::FIRST_NAME.to_owned(),
                    unit,
                    typed: BTreeMap::new(),
                    $($rest: $rest(recipe),)*
                    $($pick: $pick(recipe),)*
                    $($flip: $flip(recipe),)*
                }
            }

            /// Puts all answers into a recipe.
            pub(super) fn answer(&self, recipe: &mut Recipe) {
                let all: [fn(&mut Recipe, &Self);
                    [$(stringify!($rest),)* $($pick_name,)* $($flip_name,)*].len()] =
                    [$($rest_write,)* $($pick_write,)* $($flip_write,)*];
                for write in all {
                    write(recipe, self);
                }
            }

            /// Takes up the answers of an earlier form where this one still has those of a fresh one.
            pub(super) fn take_up_answers(&mut self, fresh: Self, earlier: Self) {
                newer(&mut self.name, fresh.name, earlier.name);
                $(newer(&mut self.$rest, fresh.$rest, earlier.$rest);)*
                $(newer(&mut self.$pick, fresh.$pick, earlier.$pick);)*
                $(newer(&mut self.$flip, fresh.$flip, earlier.$flip);)*
            }
        }
    };
}

fn newer<T: PartialEq>(now: &mut T, fresh: T, earlier: T) {
    if *now == fresh {
        *now = earlier;
    }
}

form! {
    picks {
        /// What the gauge is from.
        gauge_by: GaugeBy, GaugeBy {
            name: "gauge-by", group: GaugeBy, legend: text::GAUGE_BY, width: Short,
            read: |recipe| match recipe.swatch.guess {
                Some(_) => GaugeBy::Guess,
                None => GaugeBy::Swatch,
            },
            write: |recipe, form| {
                recipe.swatch.guess = (form.gauge_by == GaugeBy::Guess).then_some(FirstGuess {
                    yarn: form.weight,
                    band_stitches: None,
                });
            },
        }
        /// The yarn's weight, for a first guess.
        weight: WeightName, Weight {
            name: "weight", group: Guess, legend: text::WEIGHT, width: Usual,
            when: |form| form.gauge_by == GaugeBy::Guess,
            read: |recipe| recipe.swatch.guess.unwrap_or_default().yarn,
            write: |_, _| {},
        }
        /// Which end is begun with.
        direction: Direction, Direction {
            name: "direction", group: Direction, legend: text::DIRECTION, width: Long,
            read: |recipe| recipe.direction,
            write: |recipe, form| recipe.direction = form.direction,
        }
        /// How the leg is finished at the top.
        edge: Edge, Edge {
            name: "edge", group: Edge, legend: text::EDGE, width: Usual,
            read: |recipe| recipe.cuff.edge,
            write: |recipe, form| recipe.cuff.edge = form.edge,
        }
        /// How it is cast on, from the cuff down.
        cast_on: CastOn, CastOn {
            name: "cast-on", group: CastOn, legend: text::CAST_ON, width: Long,
            path: "cast_on", called: text::CAST_ON,
            read: |recipe| recipe.cast_on,
            write: |recipe, form| recipe.cast_on = form.cast_on,
        }
        /// How it is bound off, from the toe up: a hem is sewn down.
        bind_off: BindOff, BindOff {
            name: "bind-off", group: BindOff, legend: text::BIND_OFF, width: Long,
            path: "bind_off", called: text::BIND_OFF,
            when: |form| !matches!(form.edge, Edge::Hem { .. }),
            read: |recipe| recipe.bind_off,
            write: |recipe, form| recipe.bind_off = form.bind_off,
        }
        /// The heel.
        heel: HeelKind, Heel {
            name: "heel", group: HeelKind, legend: text::HEEL, width: Long,
            read: |recipe| HeelKind::of(recipe.heel),
            write: |recipe, form| recipe.heel = form.heel.heel(),
        }
        /// How a heel that is knitted last is opened.
        opening: HeelOpening, HeelOpening {
            name: "heel-opening", group: HeelKind, legend: text::OPENING, width: Long,
            when: |form| form.heel == HeelKind::Afterthought,
            read: |recipe| match recipe.heel {
                Heel::Afterthought { opening } => opening,
                Heel::FlapAndGusset { .. } | Heel::ShortRow { .. } => HeelOpening::default(),
            },
            write: |recipe, form| if let Heel::Afterthought { opening } = &mut recipe.heel {
                *opening = form.opening;
            },
        }
        /// What the flap is knitted in.
        texture: FlapTexture, Texture {
            name: "texture", group: Flap, legend: text::TEXTURE, width: Long,
            when: |form| form.heel == HeelKind::Flap,
            read: |recipe| match recipe.heel {
                Heel::FlapAndGusset { texture, .. } => texture,
                Heel::ShortRow { .. } | Heel::Afterthought { .. } => FlapTexture::default(),
            },
            write: |recipe, form| if let Heel::FlapAndGusset { texture, .. } = &mut recipe.heel {
                *texture = form.texture;
            },
        }
        /// How the heel is turned, from the cuff down: from the toe up that is done in short rows.
        turn: HeelTurn, HeelTurn {
            name: "turn", group: Flap, legend: text::TURN, width: Long,
            when: |form| form.heel == HeelKind::Flap && form.direction == Direction::CuffDown,
            read: |recipe| match recipe.heel {
                Heel::FlapAndGusset { turn, .. } => turn,
                Heel::ShortRow { .. } | Heel::Afterthought { .. } => HeelTurn::default(),
            },
            write: |recipe, form| if let Heel::FlapAndGusset { turn, .. } = &mut recipe.heel {
                *turn = form.turn;
            },
        }
        /// What decides how tall the flap is.
        flap_by: FlapBy, FlapBy {
            name: "flap-by", group: Flap, legend: text::FLAP_BY, width: Short,
            when: |form| form.heel == HeelKind::Flap,
            read: |recipe| match recipe.heel {
                Heel::FlapAndGusset { height: Some(_), .. } => FlapBy::Height,
                _ => FlapBy::Rows,
            },
            write: |_, _| {},
        }
        /// The toe.
        toe: Toe, Toe {
            name: "toe", group: Toe, legend: text::TOE, width: Long,
            path: "toe.kind", called: text::TOE,
            read: |recipe| recipe.toe,
            write: |recipe, form| recipe.toe = form.toe,
        }
        /// How it is cast on, from the toe up.
        toe_cast_on: ToeCastOn, ToeCastOn {
            name: "toe-cast-on", group: Toe, legend: text::TOE_CAST_ON, width: Long,
            path: "toe_cast_on", called: text::TOE_CAST_ON,
            when: |form| form.direction == Direction::ToeUp,
            read: |recipe| recipe.toe_cast_on,
            write: |recipe, form| recipe.toe_cast_on = form.toe_cast_on,
        }
        /// Where the pattern is knitted.
        place: MotifPlacement, MotifPlacement {
            name: "place", group: MotifPlace, legend: text::PLACE, width: Long,
            path: "motif.place", called: text::PLACE,
            when: |form| form.patterned,
            read: |recipe| recipe.motif.as_ref().map_or(MotifPlacement::default(), |motif| motif.place),
            write: |recipe, form| if let Some(motif) = &mut recipe.motif {
                motif.place = form.place;
            },
        }
        /// Whose rounds count where the pattern lies beside plain knitting.
        rounds_by: RoundsBy, RoundsBy {
            name: "rounds-by", group: RoundsBy, legend: text::ROUNDS_BY, width: Long,
            when: |form| form.patterned && !form.text(NumberField::PatternRounds).is_empty(),
            read: |recipe| recipe.motif.as_ref().map_or(RoundsBy::default(), |motif| motif.rounds_by),
            write: |recipe, form| if let Some(motif) = &mut recipe.motif {
                motif.rounds_by = form.rounds_by;
            },
        }
        /// The needles.
        needles: NeedleChoice, NeedleChoice {
            name: "needles", group: Needles, legend: text::METHOD, width: Long,
            path: "needles.method", called: text::METHOD,
            read: |recipe| NeedleChoice::of(recipe.needles),
            write: |recipe, form| recipe.needles = form.needles.method(Seating::default()),
        }
        /// How long a short circular is.
        circular: CircularLength, CircularLength {
            name: "circular-length", group: Needles, legend: text::CIRCULAR_LENGTH, width: Short,
            path: "needles.length", called: text::CIRCULAR_LENGTH,
            when: |form| form.needles == NeedleChoice::ShortCircular,
            read: |recipe| match recipe.needles {
                Method::ShortCircular { length } => length.unwrap_or(CircularLength::Cm20),
                _ => CircularLength::default(),
            },
            write: |recipe, form| if let Method::ShortCircular { length } = &mut recipe.needles {
                *length = Some(form.circular);
            },
        }
        /// Where stitches sit after the turn, on needles with two halves.
        seating: Seating, Seating {
            name: "seating", group: Needles, legend: text::SEATING, width: Long,
            path: "needles.seating", called: text::AT_SEATING,
            when: |form| form.needles.has_halves(),
            read: |recipe| recipe.needles.seating().unwrap_or_default(),
            write: |recipe, form| {
                if let Method::MagicLoop { seating } | Method::TwoCirculars { seating } =
                    &mut recipe.needles
                {
                    *seating = form.seating;
                }
            },
        }
    }
    flips {
        /// Whether corners are picked up, from the cuff down: from the toe up nothing is.
        corners, Corners {
            name: "corners", group: Corners, text: text::CORNERS,
            when: |form| form.heel == HeelKind::Flap && form.direction == Direction::CuffDown,
            read: |recipe| !matches!(recipe.heel, Heel::FlapAndGusset { corners: false, .. }),
            write: |recipe, form| if let Heel::FlapAndGusset { corners, .. } = &mut recipe.heel {
                *corners = form.corners;
            },
        }
        /// Whether the instep is high.
        high_instep, HighInstep {
            name: "high-instep", group: ThisFoot, text: text::HIGH_INSTEP,
            path: "fit.high_instep",
            read: |recipe| recipe.fit.high_instep,
            write: |recipe, form| recipe.fit.high_instep = form.high_instep,
        }
        /// Whether the toes are wide.
        wide_toes, WideToes {
            name: "wide-toes", group: ThisFoot, text: text::WIDE_TOES,
            path: "fit.wide_toes",
            read: |recipe| recipe.fit.wide_toes,
            write: |recipe, form| recipe.fit.wide_toes = form.wide_toes,
        }
        /// Whether the heel is narrow.
        narrow_heel, NarrowHeel {
            name: "narrow-heel", group: ThisFoot, text: text::NARROW_HEEL,
            read: |recipe| recipe.fit.narrow_heel,
            write: |recipe, form| recipe.fit.narrow_heel = form.narrow_heel,
        }
        /// Whether the legs are tender or swollen.
        tender_legs, TenderLegs {
            name: "tender-legs", group: TenderLegs, text: text::TENDER_LEGS,
            path: "fit.tender_legs",
            read: |recipe| recipe.fit.tender_legs,
            write: |recipe, form| recipe.fit.tender_legs = form.tender_legs,
        }
        /// Whether there is a pattern.
        patterned, Patterned {
            name: "patterned", group: Patterned, text: text::PATTERNED,
            read: |recipe| recipe.motif.is_some(),
            write: |_, _| {},
        }
    }
    rest {
        /// The needles that gave the swatch, where they were noted.
        needle: Option<Needle> {
            read: |recipe| recipe.swatch.needle,
            write: |recipe, form| recipe.swatch.needle = form.needle,
        }
        /// At how many places the leg is measured round.
        girths: u8 {
            read: |recipe| u8::try_from(recipe.calf.len()).map_or(GIRTHS, |all| all.min(GIRTHS)),
            // Lengths in range, until those that were typed are read.
            write: |recipe, form| {
                let girth = Girth { height: Length::cm(10), circumference: Length::cm(25) };
                recipe.calf = vec![girth; form.girths.into()];
            },
        }
        /// Rounds of leg and foot more or fewer than measured.
        more: Adjust {
            read: |recipe| recipe.adjust,
            write: |recipe, form| recipe.adjust = form.more,
        }
        /// The pattern, also while there is none.
        chart: Cells {
            read: |recipe| {
                let motif = recipe.motif.as_ref().and_then(|motif| Cells::of(&motif.rows));
                motif.unwrap_or_else(|| Cells::plain(4, 4))
            },
            write: |recipe, form| {
                let rows = form.patterned.then(|| form.chart.rows().ok()).flatten();
                recipe.motif = rows.map(|rows| Motif { rows, place: MotifPlacement::default(), ..Motif::default() });
            },
        }
        /// How many yarns, 1 to 4.
        yarns: u8 {
            read: |recipe| {
                let last = recipe.yarns.as_ref().and_then(|yarns| yarns.used().last().copied());
                let mut counted = (1..).zip(Yarn::ALL);
                counted.find_map(|(nth, yarn)| (Some(yarn) == last).then_some(nth)).unwrap_or(1)
            },
            write: |recipe, form| {
                recipe.yarns = (form.yarns > 1).then(|| Yarns {
                    stripes: Vec::new(),
                    cuff: Yarn::default(),
                    heel: Yarn::default(),
                    toe: Yarn::default(),
                });
            },
        }
        /// The yarn of each stripe, also while there is one yarn only.
        stripes: Vec<Yarn> {
            read: |recipe| match &recipe.yarns {
                Some(yarns) => {
                    let stripes = yarns.stripes.iter().take(STRIPES.into());
                    stripes.map(|stripe| stripe.yarn).collect()
                }
                None => vec![Yarn::A, Yarn::B],
            },
            write: |recipe, form| if let Some(yarns) = &mut recipe.yarns {
                let stripes = form.stripes.iter().take(STRIPES.into());
                yarns.stripes = stripes.map(|&yarn| Stripe { yarn, rounds: 1 }).collect();
            },
        }
        /// Parts with a yarn of their own.
        parts: Parts {
            read: |recipe| recipe.yarns.as_ref().map_or_else(Parts::default, |yarns| Parts {
                cuff: yarns.cuff,
                heel: yarns.heel,
                toe: yarns.toe,
            }),
            write: |recipe, form| if let Some(yarns) = &mut recipe.yarns {
                (yarns.cuff, yarns.heel, yarns.toe) =
                    (form.parts.cuff, form.parts.heel, form.parts.toe);
            },
        }
    }
}

/// Questions that no field of a recipe answers by itself: what the gauge is from, what decides the flap's height,
/// and whether there is a motif.
const WITHOUT_A_FIELD: usize = 3;
/// Choices of a recipe that have no question of their own: how a wedge toe narrows and for which foot a shaped one
/// is (answers of the toe), the seating on two circulars (that on a magic loop), the yarns of stripes, cuff, heel
/// and toe, and the parts of a pattern that are ours.
const ASKED_OTHERWISE: usize = 8;

const _: () = assert!(
    Question::ALL.len() - WITHOUT_A_FIELD + ASKED_OTHERWISE == Recipe::CHOICES,
    "a choice of the recipe has no question in the form, or a question has no choice"
);
