//! Whether the yarn will do: what the knitter's own scale says, or else the ball's band, held against
//! what is still to be knitted. Whole numbers only; nothing here decides a count of stitches.

use super::usage::{loop_length_cm, usage_from, usage_of};
use crate::error::{FieldError, Problem};
use crate::journal::Decigrams;
use crate::plan::{Plan, SectionKind, StepForm};
use crate::recipe::Ball;
use crate::stitch::Yarn;
use crate::swatch::Swatch;
use crate::trace::Position;
use crate::units::parse_number;

/// Heaviest yarn that can be weighed: two kilograms.
const HEAVIEST: Decigrams = 20_000;

/// Reads grams as a scale shows them: `41`, `41.5`, `41,5`.
///
/// # Errors
/// What can be entered.
pub fn read_grams(text: &str) -> Result<Decigrams, FieldError> {
    parse_number(text, 10)
        .and_then(|tenths| Decigrams::try_from(tenths).ok())
        .filter(|grams| *grams <= HEAVIEST)
        .ok_or_else(|| {
            let most = HEAVIEST / 10;
            FieldError::new("grams", Problem::NoWeight { most })
        })
}

/// A weighing in the course of a pair.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Weighing {
    /// Loops laid down in the pair before it, in hundredths of a plain stitch.
    pub laid: u64,
    /// What is left of the yarn.
    pub left: Decigrams,
}

/// How much yarn goes into a number of loops. Whole numbers only: what is needed is a proportion.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rate {
    grams: Decigrams,
    loops: u64,
}

impl Rate {
    /// From weighings in the order made: the latest stretch along which the knitting grew and the yarn
    /// shrank. Where it grew instead, a new ball was begun.
    pub fn weighed(all: &[Weighing]) -> Option<Self> {
        let (last, before) = all.split_last()?;
        let mut first = *last;
        for one in before.iter().rev() {
            if one.laid >= first.laid || one.left <= first.left {
                break;
            }
            first = *one;
        }
        if first == *last {
            return Self::weighed(before);
        }
        Some(Self {
            grams: first.left - last.left,
            loops: last.laid - first.laid,
        })
    }

    /// From the ball's band and the loop-length model.
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // finite, positive, below u64
    pub fn of_ball(ball: Ball, swatch: &Swatch) -> Option<Self> {
        let loops = f64::from(ball.metres) * 100.0 / loop_length_cm(swatch) * 100.0;
        let (grams, loops) = (u32::from(ball.grams) * 10, (loops + 0.5) as u64);
        (loops > 0).then_some(Self { grams, loops })
    }

    /// How many loops so much yarn makes with a tenth to spare.
    fn loops_of(self, left: Decigrams) -> u64 {
        let tenfold = u64::from(left)
            .saturating_mul(self.loops)
            .saturating_mul(10);
        tenfold / (11 * u64::from(self.grams.max(1)))
    }

    /// What so many loops take, rounded up.
    pub fn needed(self, loops: u64) -> Decigrams {
        let grams = u64::from(self.grams)
            .saturating_mul(loops)
            .div_ceil(self.loops.max(1));
        Decigrams::try_from(grams).unwrap_or(Decigrams::MAX)
    }
}

/// Whether the yarn that is left will do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Will {
    /// With a tenth to spare.
    Do,
    /// Nearly enough or hardly more: within a tenth, which is what an estimate can be wrong by.
    Perhaps,
    /// So much is missing.
    Lack(Decigrams),
}

/// Holds what is left against what is needed.
pub const fn will_do(left: Decigrams, needed: Decigrams) -> Will {
    let tenth = needed / 10;
    if left >= needed + tenth {
        Will::Do
    } else if left + tenth >= needed {
        Will::Perhaps
    } else {
        Will::Lack(needed - left)
    }
}

/// What the latest weighing says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Whether it comes from the knitter's own weighings; else from the ball's band.
    pub own: bool,
    /// Where the latest weighing was made.
    pub at: Position,
    /// What was left.
    pub left: Decigrams,
    /// What ten rounds (or rows) like the one at hand take; `None` where none is at hand.
    pub ten_rounds: Option<Decigrams>,
    /// What the rest of the sock needs, and whether it is there.
    pub sock: (Decigrams, Will),
    /// The same for this sock and the second, while the first is on the needles.
    pub pair: Option<(Decigrams, Will)>,
    /// The most rounds that the leg can have under its cuff, with a tenth of the yarn to spare: in
    /// both socks while the first is on the needles. `None` when that leg is done, or not even what
    /// is knitted of it leaves enough.
    pub leg: Option<u16>,
    /// How to divide the yarn for two socks at a time; only before the first stitch.
    pub halves: Option<Halves>,
}

/// How many rounds the leg of the sock at hand can have, `rest` loops being still to lay in `socks`
/// socks of which `most` can be laid.
fn leg_room(plan: &Plan, at: Position, (rest, most): (u64, u64), socks: u64) -> Option<u16> {
    let mut first = 0;
    let before_leg = plan
        .sections
        .iter()
        .take_while(|s| s.kind != SectionKind::Leg);
    first += before_leg.map(|s| s.steps.len()).sum::<usize>();
    let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg)?;
    let end = first + leg.steps.len();
    if at.step >= end {
        return None;
    }
    let rounds = |steps: usize| {
        let worked = leg
            .steps
            .iter()
            .take(steps)
            .filter(|s| s.form == StepForm::Round);
        i64::try_from(worked.count()).ok()
    };
    let (all, done) = (
        rounds(leg.steps.len())?,
        rounds(at.step.saturating_sub(first))?,
    );
    let round = 100 * i64::from(plan.outcome.stitches) * i64::try_from(socks).ok()?;
    let spare = i64::try_from(most).ok()? - i64::try_from(rest).ok()?;
    let room = all + spare.div_euclid(round.max(1));
    u16::try_from(room).ok().filter(|_| room >= done)
}

/// How one ball is divided for two socks knitted at a time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Halves {
    /// What each sock gets.
    pub each: Decigrams,
    /// What each sock needs, and whether its half will do.
    pub need: (Decigrams, Will),
}

/// Divides what there is of a yarn between two socks of a plan; `None` when nothing tells how much
/// yarn a stitch takes.
pub fn halves(plan: &Plan, all: Decigrams, rate: Option<Rate>) -> Option<Halves> {
    let recipe = &plan.recipe;
    let rate = rate.or_else(|| Rate::of_ball(recipe.ball?, &recipe.swatch))?;
    let whole = u64::from(usage_from(plan, Position::default()).loops_percent);
    let (each, needed) = (all / 2, rate.needed(whole));
    Some(Halves {
        each,
        need: (needed, will_do(each, needed)),
    })
}

/// What the weighings of a pair say, all yarn taken as one: for each sock its plan and its
/// weighings in the order made. `None` when nothing was weighed, or nothing tells how much yarn a stitch takes.
pub fn budget(socks: [(&Plan, &[(Position, Decigrams)]); 2]) -> Option<Budget> {
    budget_of(socks, None)
}

/// The same of one of several yarns, by what it is used for alone. How long the leg can be is not
/// told then: more rounds take of every yarn.
pub fn budget_of(
    socks: [(&Plan, &[(Position, Decigrams)]); 2],
    which: Option<Yarn>,
) -> Option<Budget> {
    let [(first, _), (second, _)] = socks;
    let left_of = |plan: &Plan, at: Position| u64::from(usage_of(plan, at, which).0.loops_percent);
    let whole = |plan: &Plan| left_of(plan, Position::default());
    let mut all = Vec::new();
    let mut latest = None;
    for (begun, (plan, weighings)) in [0, whole(first)].into_iter().zip(socks) {
        for (at, left) in weighings {
            let laid = begun + whole(plan).saturating_sub(left_of(plan, *at));
            all.push(Weighing { laid, left: *left });
            latest = Some((begun > 0, plan, *at, *left));
        }
    }
    let (on_second, plan, at, left) = latest?;
    let own = Rate::weighed(&all);
    let band = || Rate::of_ball(plan.recipe.ball?, &plan.recipe.swatch);
    let rate = own.or_else(band)?;
    let told = |loops: u64| {
        let needed = rate.needed(loops);
        (needed, will_do(left, needed))
    };
    let rest = left_of(plan, at);
    let here = u64::from(usage_of(plan, at, which).1.loops_percent);
    let counted = plan.step(at.step).is_some_and(|s| s.form != StepForm::Walk);
    Some(Budget {
        own: own.is_some(),
        at,
        left,
        ten_rounds: (counted && here > 0).then(|| rate.needed(10 * here)),
        sock: told(rest),
        pair: (!on_second).then(|| told(rest + whole(second))),
        halves: (!on_second && at == Position::default()).then(|| {
            let each = left / 2;
            let needed = rate.needed(whole(plan));
            let need = (needed, will_do(each, needed));
            Halves { each, need }
        }),
        leg: if which.is_some() {
            None
        } else if on_second {
            leg_room(plan, at, (rest, rate.loops_of(left)), 1)
        } else {
            let both = rest + whole(second);
            leg_room(plan, at, (both, rate.loops_of(left)), 2)
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::{Recipe, Stripe, Yarns};

    fn sock(ball: Option<Ball>) -> Plan {
        make(&Recipe {
            stitches: Some(64),
            ball,
            ..Recipe::default()
        })
        .expect("a sock")
    }

    fn at(step: usize) -> Position {
        Position { step, mv: 0 }
    }

    const fn weighing(laid: u64, left: Decigrams) -> Weighing {
        Weighing { laid, left }
    }

    /// A stored plan may be damaged in any number that its stitches do not need.
    #[test]
    fn an_absurd_swatch_is_survived() {
        let mut plan = sock(Some(Ball {
            grams: 100,
            metres: 400,
        }));
        plan.recipe.swatch.width = crate::units::Length(0);
        let weighed = [(at(3), Decigrams::MAX)];
        assert!(budget([(&plan, &weighed), (&plan, &[])]).is_some());
    }

    #[test]
    fn a_rate_is_taken_from_the_latest_ball() {
        let one_ball = [weighing(0, 500), weighing(1_000, 450), weighing(3_000, 350)];
        let rate = Rate::weighed(&one_ball).expect("two weighings");
        assert_eq!(rate.needed(1_000), 50);
        assert_eq!(rate.needed(1), 1, "rounded up");
        // a new ball was begun, and weighed once only: the ball before it tells
        let [a, b, c] = one_ball;
        let new = [a, b, c, weighing(4_000, 500)];
        assert_eq!(Rate::weighed(&new), Some(rate));
        let twice = [a, b, c, weighing(4_000, 500), weighing(5_000, 440)];
        assert_eq!(Rate::weighed(&twice).map(|r| r.needed(1_000)), Some(60));
        assert_eq!(Rate::weighed(&[a]), None);
        assert_eq!(Rate::weighed(&[]), None);
        // ripped back and weighed again: the same yarn is not used twice
        assert_eq!(Rate::weighed(&[b, weighing(500, 460)]), None);
    }

    #[test]
    fn what_is_left_will_do_perhaps_or_not() {
        assert_eq!(will_do(220, 200), Will::Do);
        assert_eq!(will_do(219, 200), Will::Perhaps);
        assert_eq!(will_do(180, 200), Will::Perhaps);
        assert_eq!(will_do(179, 200), Will::Lack(21));
        assert_eq!(will_do(0, 0), Will::Do);
    }

    #[test]
    fn a_pair_is_budgeted_by_the_knitters_own_weighings() {
        let plan = sock(None);
        let whole = u64::from(usage_from(&plan, at(0)).loops_percent);
        // 50 g at the cast-on, and what a tenth of a gram to 100 stitches makes of it at step 60
        let laid = whole - u64::from(usage_from(&plan, at(60)).loops_percent);
        let left = 500 - u32::try_from(laid / 10_000).expect("small");
        let said = budget([(&plan, &[(at(0), 500), (at(60), left)]), (&plan, &[])]);
        let said = said.expect("two weighings");
        assert!(said.own);
        assert_eq!(said.left, left);
        // 64 stitches a round, ten rounds, a tenth of a gram to 100 stitches: 0.64 g
        assert!(
            (6..=7).contains(&said.ten_rounds.expect("a round")),
            "{said:?}"
        );
        let (needed, will) = said.sock;
        let expected = (whole - laid).div_ceil(10_000);
        assert!(
            u64::from(needed).abs_diff(expected) <= 3,
            "{needed} {expected}"
        );
        assert_eq!(will, Will::Do);
        let (both, _) = said.pair.expect("the first sock is on the needles");
        assert!(
            u64::from(both).abs_diff(expected + whole / 10_000) <= 6,
            "{both}"
        );
        // on the second sock there is no pair to think of
        let second = budget([(&plan, &[(at(0), 500)]), (&plan, &[(at(0), 340)])]);
        assert_eq!(second.expect("two weighings").pair, None);
    }

    /// Two yarns in stripes: each is held against what it alone is still used for.
    #[test]
    fn a_yarn_is_budgeted_by_its_own_rounds() {
        let stripe = |yarn, rounds| Stripe { yarn, rounds };
        let plan = make(&Recipe {
            stitches: Some(64),
            yarns: Some(Yarns {
                stripes: vec![stripe(Yarn::A, 3), stripe(Yarn::B, 1)],
                cuff: Yarn::A,
                heel: Yarn::A,
                toe: Yarn::B,
            }),
            ..Recipe::default()
        })
        .expect("a sock");
        let laid = |yarn, step| {
            let of = |at| u64::from(usage_of(&plan, at, Some(yarn)).0.loops_percent);
            of(Position::default()) - of(at(step))
        };
        let all = u64::from(usage_from(&plan, Position::default()).loops_percent);
        let end = plan.sections.iter().map(|s| s.steps.len()).sum();
        assert_eq!(laid(Yarn::A, end) + laid(Yarn::B, end), all);
        // a tenth of a gram to 100 stitches in A, twice that in B
        for (yarn, per) in [(Yarn::A, 10_000), (Yarn::B, 5_000)] {
            let used = u32::try_from(laid(yarn, 70) / per).expect("small");
            let weighed = [(at(0), 400), (at(70), 400 - used)];
            let said = budget_of([(&plan, &weighed), (&plan, &[])], Some(yarn)).expect("weighed");
            let rest = (laid(yarn, end) - laid(yarn, 70)) / per;
            let (needed, _) = said.sock;
            assert!(
                u64::from(needed).abs_diff(rest) <= rest / 8 + 2,
                "{yarn:?}: {needed} for {rest}"
            );
            assert_eq!(said.leg, None);
        }
        let nothing = budget_of([(&plan, &[]), (&plan, &[])], Some(Yarn::B));
        assert_eq!(nothing, None);
    }

    #[test]
    fn one_weighing_needs_the_balls_band() {
        let ball = Ball {
            grams: 50,
            metres: 210,
        };
        let one: &[(Position, Decigrams)] = &[(at(30), 480)];
        assert_eq!(budget([(&sock(None), one), (&sock(None), &[])]), None);
        let plan = sock(Some(ball));
        let said = budget([(&plan, one), (&plan, &[])]).expect("the band tells");
        assert!(!said.own);
        assert_eq!(budget([(&plan, &[]), (&plan, &[])]), None);
    }

    #[test]
    fn grams_are_read_as_a_scale_shows_them() {
        assert_eq!(read_grams("41"), Ok(410));
        assert_eq!(read_grams(" 41,5 "), Ok(415));
        assert_eq!(read_grams("41.5"), Ok(415));
        for text in ["", "many", "-3", "2001", "1e9"] {
            assert!(read_grams(text).is_err(), "{text}");
        }
    }

    #[test]
    fn the_leg_can_be_as_long_as_the_yarn_does() {
        let plan = sock(None);
        let whole = u64::from(usage_from(&plan, at(0)).loops_percent);
        let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
        let planned = u16::try_from(leg.expect("a leg").counted()).expect("few");
        // a gram to 1,000 stitches, weighed again after the fortieth round
        let laid = whole - u64::from(usage_from(&plan, at(40)).loops_percent);
        let room = |spare_rounds: u64| {
            let rest = 2 * whole - laid + spare_rounds * 6_400 * 2;
            // what the rest takes with a tenth to spare, to the next tenth of a gram
            let left = u32::try_from((rest * 11).div_ceil(10).div_ceil(10_000)).expect("small");
            let begun = left + u32::try_from(laid / 10_000).expect("small");
            let weighings = [(at(0), begun), (at(40), left)];
            budget([(&plan, &weighings), (&plan, &[])])
                .expect("weighed")
                .leg
        };
        for spare in [0, 5, 20] {
            let rounds = room(spare).expect("there is room");
            let expected = planned + u16::try_from(spare).expect("few");
            assert!(rounds.abs_diff(expected) <= 1, "{rounds} for {expected}");
        }
        // not enough for what is knitted already
        let starved = budget([(&plan, &[(at(0), 300), (at(40), 200)]), (&plan, &[])]);
        assert_eq!(starved.expect("weighed").leg, None);
        // past the leg
        let late = at(plan.sections.iter().take(5).map(|s| s.steps.len()).sum());
        let past = budget([(&plan, &[(at(0), 900), (late, 700)]), (&plan, &[])]);
        assert_eq!(past.expect("weighed").leg, None);
    }

    #[test]
    fn a_ball_is_divided_for_two_socks() {
        let ball = Ball {
            grams: 100,
            metres: 420,
        };
        let plan = sock(Some(ball));
        let said = halves(&plan, 1_000, None).expect("a band");
        assert_eq!(said.each, 500);
        assert_eq!(said.need.1, Will::Do);
        // the outcome's grams have a tenth to spare, these have not
        let grams = plan.outcome.grams.expect("a band") * 10;
        assert!((grams * 8 / 10..grams).contains(&said.need.0), "{said:?}");
        assert_eq!(halves(&sock(None), 1_000, None), None);
    }
}
