//! Reads what was typed, line by line, into a recipe; what cannot be read is said at its line.

use std::str::FromStr;

use evenloop_engine::error::{FieldError, Problem};
use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{Ball, Cuff, Fit, Girth, Heel, Motif, Recipe, Stripe, Yarns};
use evenloop_engine::swatch::{Swatch, Unwashed};
use evenloop_engine::text;
use evenloop_engine::units::Length;

use super::{FlapBy, Form, HeelKind};
use crate::screens::measure::copy;
use crate::screens::measure::entry::{Entry, Number, STRIPES};
use crate::screens::measure::wrong::Wrong;

/// Reads the lines one by one and keeps what is wrong.
pub(super) struct Reading<'a> {
    pub(super) form: &'a Form,
    pub(super) wrong: Vec<Wrong>,
}

impl Reading<'_> {
    pub(super) fn recipe(&mut self) -> Recipe {
        let usual = Recipe::default();
        let form = self.form;
        Recipe {
            adjust: form.more,
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
                unwashed: self.unwashed(),
                needle: form.needle,
            },
            cuff: Cuff {
                edge: form.edge,
                length: self.length(Entry::CuffLength, usual.cuff.length),
            },
            cast_on: form.cast_on,
            bind_off: form.bind_off,
            leg: self.length(Entry::Leg, usual.leg),
            calf: (0..form.girths).map(|place| self.girth(place)).collect(),
            heel: self.heel(),
            toe: form.toe,
            needles: form.needles.method(form.seating),
            fit: Fit {
                ease_percent: self.whole(Entry::Ease, usual.fit.ease_percent),
                length_ease: self.length(Entry::LengthEase, usual.fit.length_ease),
                high_instep: form.high_instep,
                wide_toes: form.wide_toes,
                narrow_heel: form.narrow_heel,
            },
            motif: self.motif(),
            yarns: self.yarns(),
            stitches: self.whole_or_none(Entry::Stitches),
            ball: self.ball(),
        }
    }

    fn heel(&mut self) -> Heel {
        let form = self.form;
        match form.heel {
            HeelKind::Flap => {
                let (rows, height) = match form.flap_by {
                    FlapBy::Rows => (self.whole_or_none(Entry::HeelRows), None),
                    FlapBy::Height => (None, self.length_or_none(Entry::HeelHeight)),
                };
                Heel::FlapAndGusset {
                    texture: form.texture,
                    turn: form.turn,
                    rows,
                    height,
                    corners: form.corners,
                }
            }
            HeelKind::ShortRow => Heel::ShortRow {
                between: self.whole(Entry::Between, 0),
            },
            HeelKind::Afterthought => Heel::Afterthought,
        }
    }

    /// A line that cannot be read holds a length in range, so that no more is said of it.
    fn girth(&mut self, place: u8) -> Girth {
        Girth {
            height: self.length(Entry::GirthHeight(place), Length::cm(10)),
            circumference: self.length(Entry::GirthRound(place), Length::cm(25)),
        }
    }

    /// Measured before washing: both ways or not at all.
    fn unwashed(&mut self) -> Option<Unwashed> {
        if self.is_empty(Entry::UnwashedWidth) && self.is_empty(Entry::UnwashedHeight) {
            return None;
        }
        let before = self.wrong.len();
        let width = self.length(Entry::UnwashedWidth, Length::default());
        let height = self.length(Entry::UnwashedHeight, Length::default());
        (self.wrong.len() == before).then_some(Unwashed { width, height })
    }

    fn motif(&mut self) -> Option<Motif> {
        if !self.form.patterned {
            return None;
        }
        let Ok(rows) = self.form.chart.rows() else {
            let error = FieldError::new("motif.rows", Problem::MotifRoundUnreadable);
            self.wrong.push(error.into());
            return None;
        };
        Some(Motif {
            rows,
            place: self.form.place,
        })
    }

    pub(super) fn yarns(&mut self) -> Option<Yarns> {
        let form = self.form;
        if form.yarns < 2 {
            return None;
        }
        let stripes = (0..STRIPES)
            .zip(&form.stripes)
            .map(|(place, &yarn)| Stripe {
                yarn,
                rounds: self.whole(Entry::StripeRounds(place), 1),
            });
        Some(Yarns {
            stripes: stripes.collect(),
            cuff: form.parts.cuff,
            heel: form.parts.heel,
            toe: form.parts.toe,
        })
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
                self.say(
                    entry,
                    copy::unreadable(self.form.text(entry), text::length_expected(expected)),
                );
                None
            }
        }
    }

    fn whole<N: FromStr>(&mut self, entry: Entry, usual: N) -> N {
        if self.is_empty(entry) {
            self.say(entry, copy::empty(entry));
            return usual;
        }
        self.whole_or_none(entry).unwrap_or(usual)
    }

    fn whole_or_none<N: FromStr>(&mut self, entry: Entry) -> Option<N> {
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

    fn say(&mut self, entry: Entry, text: (String, String)) {
        self.wrong.push(Wrong::unread(entry.field(), text));
    }
}
