//! Lines that come and go: places at which the leg is measured, and stripes. They are counted from
//! 0; taking one out moves those after it up, with what was typed into them.

use evenloop_engine::recipe::NumberField;
use evenloop_engine::stitch::Yarn;

use super::{GIRTHS, MeasureForm, STRIPES};

impl MeasureForm {
    /// One more place round the leg, still empty.
    pub(in crate::screens::measure) fn add_girth(&mut self) {
        if self.girths < GIRTHS {
            for line in [NumberField::GirthHeight, NumberField::GirthRound] {
                self.typed.remove(&line(self.girths));
            }
            self.girths += 1;
        }
    }

    /// One place less.
    pub(in crate::screens::measure) fn remove_girth(&mut self, place: u8) {
        if place < self.girths {
            for line in [NumberField::GirthHeight, NumberField::GirthRound] {
                for at in place..self.girths {
                    self.swap(line(at), line(at + 1));
                }
            }
            self.girths -= 1;
        }
    }

    /// How many stripes there are.
    pub(in crate::screens::measure) fn stripe_count(&self) -> u8 {
        u8::try_from(self.stripes.len()).map_or(STRIPES, |count| count.min(STRIPES))
    }

    /// One more stripe: of the yarn after the last one's, with as many rounds.
    pub(in crate::screens::measure) fn add_stripe(&mut self) {
        let count = self.stripe_count();
        if count >= STRIPES {
            return;
        }
        let last = self.stripes.last().copied().unwrap_or_default();
        let yarns = self.yarns_in_use();
        let next = yarns
            .iter()
            .position(|yarn| *yarn == last)
            .map_or(0, |nth| (nth + 1) % yarns.len());
        self.stripes.push(yarns[next]);
        let rounds = match count.checked_sub(1) {
            Some(last) => self.text(NumberField::StripeRounds(last)).to_owned(),
            None => "2".to_owned(),
        };
        self.typed.insert(NumberField::StripeRounds(count), rounds);
    }

    /// One stripe less; the last one stays.
    pub(in crate::screens::measure) fn remove_stripe(&mut self, place: u8) {
        let count = self.stripe_count();
        if count > 1 && place < count {
            self.stripes.remove(place.into());
            for at in place..count {
                self.swap(
                    NumberField::StripeRounds(at),
                    NumberField::StripeRounds(at + 1),
                );
            }
        }
    }

    /// A stripe changes places with the one after it.
    pub(in crate::screens::measure) fn swap_stripes(&mut self, place: u8) {
        if place + 1 < self.stripe_count() {
            self.stripes.swap(place.into(), usize::from(place) + 1);
            self.swap(
                NumberField::StripeRounds(place),
                NumberField::StripeRounds(place + 1),
            );
        }
    }

    /// The yarns there are to choose from.
    pub(in crate::screens::measure) fn yarns_in_use(&self) -> &'static [Yarn] {
        &Yarn::ALL[..usize::from(self.yarns).clamp(1, Yarn::ALL.len())]
    }

    /// Sets how many yarns there are, 1 to 4; what was knitted with one that is gone is knitted with the first.
    pub(in crate::screens::measure) fn take_yarns(&mut self, count: usize) {
        let count = count.clamp(1, Yarn::ALL.len());
        self.yarns = u8::try_from(count).unwrap_or(1);
        if count == 1 {
            // Back to one yarn for a look only: the stripes stay as they were.
            return;
        }
        let there = self.yarns_in_use();
        let parts = &mut self.parts;
        for yarn in
            self.stripes
                .iter_mut()
                .chain([&mut parts.cuff, &mut parts.heel, &mut parts.toe])
        {
            if !there.contains(yarn) {
                *yarn = Yarn::default();
            }
        }
    }

    fn swap(&mut self, one: NumberField, other: NumberField) {
        let (first, second) = (self.typed.remove(&one), self.typed.remove(&other));
        self.typed.extend(first.map(|text| (other, text)));
        self.typed.extend(second.map(|text| (one, text)));
    }
}

#[cfg(test)]
mod tests {
    use evenloop_engine::recipe::Recipe;
    use evenloop_engine::units::LengthUnit;

    use super::*;

    fn stripes(form: &MeasureForm) -> Vec<String> {
        let rounds = (0..)
            .map(NumberField::StripeRounds)
            .map(|line| form.text(line));
        form.stripes
            .iter()
            .zip(rounds)
            .map(|(yarn, rounds)| format!("{}{rounds}", yarn.letter()))
            .collect()
    }

    #[test]
    fn a_place_taken_out_moves_the_others_up() {
        let mut form = MeasureForm::default();
        for (place, text) in (0..).zip(["10", "20", "30"]) {
            form.add_girth();
            form.typed
                .insert(NumberField::GirthHeight(place), text.to_owned());
        }
        form.remove_girth(1);
        assert_eq!(form.girths, 2);
        assert_eq!(form.text(NumberField::GirthHeight(0)), "10");
        assert_eq!(form.text(NumberField::GirthHeight(1)), "30");
        form.add_girth();
        assert_eq!(
            form.text(NumberField::GirthHeight(2)),
            "",
            "a new place is empty"
        );
        form.remove_girth(3);
        for _ in 0..9 {
            form.add_girth();
        }
        assert_eq!(form.girths, GIRTHS);
    }

    #[test]
    fn stripes_are_added_moved_and_taken_out() {
        let mut form = MeasureForm::of(&Recipe::default(), LengthUnit::Cm);
        form.take_yarns(3);
        assert_eq!(stripes(&form), ["A2", "B2"]);
        form.typed
            .insert(NumberField::StripeRounds(1), "5".to_owned());
        form.add_stripe();
        form.add_stripe();
        assert_eq!(stripes(&form), ["A2", "B5", "C5", "A5"]);
        form.swap_stripes(0);
        assert_eq!(stripes(&form), ["B5", "A2", "C5", "A5"]);
        form.swap_stripes(3);
        form.remove_stripe(0);
        assert_eq!(stripes(&form), ["A2", "C5", "A5"]);
        form.take_yarns(2);
        assert_eq!(stripes(&form), ["A2", "A5", "A5"]);
        for _ in 0..9 {
            form.remove_stripe(0);
        }
        assert_eq!(stripes(&form), ["A5"]);
        for _ in 0..20 {
            form.add_stripe();
        }
        assert_eq!(form.stripe_count(), STRIPES);
        assert!(form.outcome().is_ok(), "{:?}", form.outcome());
    }
}
