//! How much yarn goes into a number of loops: what the knitter's own scale says, or else the ball's band.
//! Whole numbers only; a rate is never surer than the scale.

use super::scale::{Centigrams, half_step};
use super::usage::loop_length_cm;
use crate::journal::Decigrams;
use crate::recipe::Ball;
use crate::swatch::Swatch;

/// A weighing in the course of a pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Weighing {
    /// Loops laid down in the pair before it, in hundredths of a plain stitch.
    pub laid: u64,
    /// What is left of the yarn, as the scale shows it.
    pub left: Decigrams,
}

/// How much yarn goes into a number of loops.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Rate {
    pub(super) used: Centigrams,
    pub(super) loops: u64,
}

impl Rate {
    /// From weighings in the order made: the latest stretch along which the knitting grew and the yarn did
    /// not. Where it grew instead, a new ball was begun.
    pub(super) fn weighed(all: &[Weighing]) -> Option<Self> {
        let (last, before) = all.split_last()?;
        let mut first = *last;
        for one in before.iter().rev() {
            if one.laid >= first.laid || one.left < first.left {
                break;
            }
            first = *one;
        }
        if first == *last {
            return Self::weighed(before);
        }
        Some(Self {
            used: Centigrams::shown(first.left).less(Centigrams::shown(last.left)),
            loops: last.laid - first.laid,
        })
    }

    /// From the ball's band and the loop-length model.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // finite, positive, below u64
    pub(super) fn of_ball(ball: Ball, swatch: &Swatch) -> Option<Self> {
        let loops = f64::from(ball.metres) * 100.0 / loop_length_cm(swatch) * 100.0;
        let (grams, loops) = (u64::from(ball.grams) * 100, (loops + 0.5) as u64);
        let used = Centigrams {
            least: grams,
            most: grams,
        };
        (loops > 0).then_some(Self { used, loops })
    }

    /// This rate, or that of the band where it is surer and does not gainsay the scale.
    pub(super) fn or_surer(self, band: Option<Self>) -> (Self, bool) {
        let spread = |rate: Self| rate.used.most.saturating_sub(rate.used.least);
        // to the same number of loops
        let scaled = |amount: u64, of: Self, to: Self| {
            u64::try_from(u128::from(amount) * u128::from(to.loops) / u128::from(of.loops.max(1)))
                .unwrap_or(u64::MAX)
        };
        match band {
            Some(band)
                // what a band says can be a tenth more or less
                if spread(self) > scaled(band.used.most, band, self) / 5
                    && (self.used.least..=self.used.most)
                        .contains(&scaled(band.used.most, band, self)) =>
            {
                (band, false)
            }
            _ => (self, true),
        }
    }

    /// What so many loops take, a tenth more or less: hand knitting is not as even as a machine's.
    pub(super) fn needed(self, loops: u64) -> Centigrams {
        let all = u128::from(self.loops.max(1));
        let of = |used: u64, tenths: u128| u128::from(used) * u128::from(loops) * tenths;
        let whole = |amount: u128| u64::try_from(amount).unwrap_or(u64::MAX);
        Centigrams {
            least: whole(of(self.used.least, 9) / (10 * all)),
            most: whole(of(self.used.most, 11).div_ceil(10 * all)),
        }
    }

    /// How many loops so much yarn surely makes.
    pub(super) fn surely_makes(self, left: Centigrams) -> u64 {
        let loops = u128::from(left.least) * u128::from(self.loops) * 10;
        u64::try_from(loops / (11 * u128::from(self.used.most.max(1)))).unwrap_or(u64::MAX)
    }

    /// The rate that another weighing would most likely give, made by the same scale after so many loops
    /// more. It is as if weighed from here where it comes from the band.
    pub(super) fn after(self, own: bool, loops: u64, shown: Decigrams) -> (Self, u64) {
        let middle = u64::midpoint(self.used.least, self.used.most);
        let more = u128::from(middle) * u128::from(loops) / u128::from(self.loops.max(1));
        let more = u64::try_from(more).unwrap_or(u64::MAX);
        let (used, all) = if own {
            (
                middle.saturating_add(more),
                self.loops.saturating_add(loops),
            )
        } else {
            (more, loops)
        };
        let error = 2 * half_step(shown);
        let used = Centigrams {
            least: used.saturating_sub(error),
            most: used.saturating_add(error),
        };
        (Self { used, loops: all }, more)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const fn weighing(laid: u64, left: Decigrams) -> Weighing {
        Weighing { laid, left }
    }

    fn used(all: &[Weighing]) -> Option<(u64, u64)> {
        Rate::weighed(all).map(|rate| (rate.used.least, rate.used.most))
    }

    #[test]
    fn a_rate_is_taken_from_the_latest_ball() {
        let one_ball = [weighing(0, 500), weighing(1_000, 450), weighing(3_000, 350)];
        let rate = Rate::weighed(&one_ball).expect("two weighings");
        // 15 g, a gram more or less
        assert_eq!((rate.used.least, rate.used.most), (1_400, 1_600));
        assert_eq!(rate.loops, 3_000);
        // a new ball was begun, and weighed once only: the ball before it tells
        let [a, b, c] = one_ball;
        let new = [a, b, c, weighing(4_000, 500)];
        assert_eq!(Rate::weighed(&new), Some(rate));
        let twice = [a, b, c, weighing(4_000, 500), weighing(5_000, 440)];
        assert_eq!(used(&twice), Some((500, 700)));
        assert_eq!(used(&[a]), None);
        assert_eq!(used(&[]), None);
        // ripped back and weighed again: the same yarn is not used twice
        assert_eq!(used(&[b, weighing(500, 460)]), None);
    }

    #[test]
    fn a_letter_scale_is_ten_times_as_sure() {
        assert_eq!(
            used(&[weighing(0, 622), weighing(900, 603)]),
            Some((180, 200))
        );
        assert_eq!(
            used(&[weighing(0, 620), weighing(900, 600)]),
            Some((100, 300))
        );
        // too little was knitted for the scale to notice
        assert_eq!(
            used(&[weighing(0, 620), weighing(900, 620)]),
            Some((0, 100))
        );
    }

    #[test]
    fn a_band_stands_in_for_weighings_that_say_less() {
        let band = Rate {
            used: Centigrams {
                least: 10_000,
                most: 10_000,
            },
            loops: 50_000,
        };
        let own = |a, b| Rate::weighed(&[weighing(0, a), weighing(1_000, b)]).expect("weighed");
        // 2 g to 1,000 loops by the band; 1 to 3 by the scale
        assert_eq!(own(620, 600).or_surer(Some(band)), (band, false));
        // 1.9 to 2.1 by the scale
        let fine = own(622, 602 + 1);
        assert_eq!(fine.or_surer(Some(band)), (fine, true));
        // 3 to 5 by the scale: this knitter is not as the band says
        let loose = own(620, 580);
        assert_eq!(loose.or_surer(Some(band)), (loose, true));
        assert_eq!(loose.or_surer(None), (loose, true));
    }
}
