//! Whether the yarn will do: what the knitter's own scale says, or else the ball's band, held against
//! what is still to be knitted. Whole numbers only; nothing here decides a count of stitches. What a scale
//! cannot tell is not told.

use super::rate::{Rate, Weighing};
use super::scale::{Centigrams, GramRange};
use super::usage::usage_of;
use crate::journal::Decigrams;
use crate::plan::{Plan, SectionKind, StepForm};
use crate::stitch::Yarn;
use crate::trace::Position;

/// Whether the yarn that is left is enough.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Whatever the scale and the knitting were off by.
    Enough,
    /// Whatever they were off by: between so much is missing.
    NotEnough(GramRange),
    /// It cannot be told yet.
    TooClose {
        /// After how many rounds like the one at hand another weighing is likely to tell; `None` where
        /// it is likely to stay close to the end.
        again: Option<u16>,
    },
}

/// What is needed, and whether it is there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Need {
    /// Between so much is needed.
    pub needed: GramRange,
    /// Whether it is there.
    pub verdict: Verdict,
}

/// Holds what is left against what is needed: enough, so much missing, or neither for sure.
fn held(left: Centigrams, needed: Centigrams) -> Option<Verdict> {
    if left.least >= needed.most {
        Some(Verdict::Enough)
    } else if left.most < needed.least {
        Some(Verdict::NotEnough(needed.less(left).range()))
    } else {
        None
    }
}

/// A question that the latest weighing may answer.
#[derive(Clone, Copy)]
struct Asked {
    rate: Rate,
    /// Whether the rate comes from the knitter's own weighings.
    own: bool,
    /// What the scale showed.
    shown: Decigrams,
    /// Loops in a round like the one at hand; 0 where none is at hand.
    round: u64,
}

impl Asked {
    /// Whether what is left, divided by `parts`, is enough for so many loops.
    fn of(self, loops: u64, parts: u64) -> Need {
        let needed = self.rate.needed(loops);
        let left = share(Centigrams::shown(self.shown), parts);
        let verdict = held(left, needed).unwrap_or_else(|| Verdict::TooClose {
            again: (parts == 1).then(|| self.again(loops)).flatten(),
        });
        Need {
            needed: needed.range(),
            verdict,
        }
    }

    /// After how many rounds another weighing is likely to tell, in fives.
    fn again(self, loops: u64) -> Option<u16> {
        let all = loops.checked_div(self.round)?;
        let (mut rounds, left) = (0_u16, Centigrams::shown(self.shown));
        loop {
            rounds = rounds.checked_add(5)?;
            if u64::from(rounds) >= all {
                return None;
            }
            let more = u64::from(rounds) * self.round;
            let (rate, used) = self.rate.after(self.own, more, self.shown);
            let left = left.less(Centigrams {
                least: used,
                most: used,
            });
            if held(left, rate.needed(loops - more)).is_some() {
                return Some(rounds);
            }
        }
    }
}

const fn share(left: Centigrams, parts: u64) -> Centigrams {
    Centigrams {
        least: left.least / parts,
        most: left.most.div_ceil(parts),
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
    /// What ten rounds (or rows) like this one take; `None` where none is at hand.
    pub ten_rounds: Option<GramRange>,
    /// What the rest of the sock needs, and whether it is there.
    pub sock: Need,
    /// The same for this sock and the second, while the first is on the needles.
    pub pair: Option<Need>,
    /// The most rounds that the leg can safely have under its cuff: in both socks while the first is on the needles. `None` when that leg is done, or not even what
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
    pub need: Need,
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
    let band = plan
        .recipe
        .ball
        .and_then(|ball| Rate::of_ball(ball, &plan.recipe.swatch));
    let (rate, own) = match Rate::weighed(&all) {
        Some(own) => own.or_surer(band),
        None => (band?, false),
    };
    let here = u64::from(usage_of(plan, at, which).1.loops_percent);
    let counted = plan.step(at.step).is_some_and(|s| s.form != StepForm::Walk);
    let asked = Asked {
        rate,
        own,
        shown: left,
        round: if counted { here } else { 0 },
    };
    let rest = left_of(plan, at);
    let both = rest + whole(second);
    let (loops, socks) = if on_second { (rest, 1) } else { (both, 2) };
    Some(Budget {
        own,
        at,
        left,
        ten_rounds: (asked.round > 0).then(|| rate.needed(10 * here).range()),
        sock: asked.of(rest, 1),
        pair: (!on_second).then(|| asked.of(both, 1)),
        halves: (!on_second && at == Position::default()).then(|| Halves {
            each: left / 2,
            need: asked.of(whole(plan), 2),
        }),
        leg: if which.is_some() {
            None
        } else {
            let most = rate.surely_makes(Centigrams::shown(left));
            leg_room(plan, at, (loops, most), socks)
        },
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::{Ball, Recipe, Stripe, Yarns};
    use crate::yarn::usage_from;
    use proptest::prelude::*;

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

    const fn cg(least: u64, most: u64) -> Centigrams {
        Centigrams { least, most }
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
    fn what_is_left_is_enough_or_not_or_cannot_be_told() {
        assert_eq!(held(cg(220, 230), cg(180, 220)), Some(Verdict::Enough));
        assert_eq!(held(cg(219, 230), cg(180, 220)), None);
        assert_eq!(held(cg(170, 180), cg(180, 220)), None);
        let missing = GramRange { least: 1, most: 6 };
        assert_eq!(
            held(cg(165, 170), cg(180, 220)),
            Some(Verdict::NotEnough(missing))
        );
        assert_eq!(held(cg(0, 0), cg(0, 0)), Some(Verdict::Enough));
    }

    /// 62 g and then 60 on a scale that shows whole grams: between 1 and 3 g were used, and nobody can say
    /// what is missing to the tenth of a gram.
    #[test]
    fn a_scale_of_whole_grams_tells_no_more_than_it_can() {
        let plan = sock(None);
        let begun = 40;
        let weighed = [(at(begun), 620), (at(begun + 6), 600)];
        let said = budget([(&plan, &weighed), (&plan, &[])]).expect("two weighings");
        assert!(said.own);
        let GramRange { least, most } = said.sock.needed;
        assert!(most > 3 * least, "{said:?}");
        assert!(
            matches!(said.sock.verdict, Verdict::TooClose { .. }),
            "{said:?}"
        );
        let pair = said.pair.expect("the first sock");
        assert!(!matches!(pair.verdict, Verdict::NotEnough(_)), "{said:?}");
        // some rounds more, and the same scale knows
        let Verdict::TooClose {
            again: Some(rounds),
        } = said.sock.verdict
        else {
            panic!("{said:?}");
        };
        let further = at(begun + 6 + usize::from(rounds));
        let laid = |from, to| {
            let of = |step| u64::from(usage_from(&plan, at(step)).loops_percent);
            of(from) - of(to)
        };
        let grams = laid(begun, further.step) * 20 / laid(begun, begun + 6);
        let left = 620 - u32::try_from((grams + 5) / 10 * 10).expect("small");
        let weighed = [weighed[0], weighed[1], (further, left)];
        let said = budget([(&plan, &weighed), (&plan, &[])]).expect("three weighings");
        assert!(
            !matches!(said.sock.verdict, Verdict::TooClose { .. }),
            "{rounds}: {said:?}"
        );
    }

    #[test]
    fn a_pair_is_budgeted_by_the_knitters_own_weighings() {
        let plan = sock(None);
        let whole = u64::from(usage_from(&plan, at(0)).loops_percent);
        // 50.1 g at the cast-on, and what a tenth of a gram to 100 stitches makes of it at step 60
        let laid = whole - u64::from(usage_from(&plan, at(60)).loops_percent);
        let left = 501 - u32::try_from(laid / 10_000).expect("small");
        let said = budget([(&plan, &[(at(0), 501), (at(60), left)]), (&plan, &[])]);
        let said = said.expect("two weighings");
        assert!(said.own);
        assert_eq!(said.left, left);
        // 64 stitches a round, ten rounds, a tenth of a gram to 100 stitches: 0.64 g
        let ten = said.ten_rounds.expect("a round");
        assert!(ten.least <= 6 && (7..=9).contains(&ten.most), "{said:?}");
        let expected = u32::try_from((whole - laid) / 10_000).expect("small");
        let GramRange { least, most } = said.sock.needed;
        assert!((least..=most).contains(&expected), "{expected}: {said:?}");
        assert_eq!(said.sock.verdict, Verdict::Enough);
        let both = said.pair.expect("the first sock is on the needles").needed;
        let expected = expected + u32::try_from(whole / 10_000).expect("small");
        assert!((both.least..=both.most).contains(&expected), "{said:?}");
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
            let weighed = [(at(0), 401), (at(70), 401 - used)];
            let said = budget_of([(&plan, &weighed), (&plan, &[])], Some(yarn)).expect("weighed");
            let rest = u32::try_from((laid(yarn, end) - laid(yarn, 70)) / per).expect("small");
            let GramRange { least, most } = said.sock.needed;
            assert!((least..=most).contains(&rest), "{yarn:?} {rest}: {said:?}");
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
    fn the_leg_can_be_as_long_as_the_yarn_surely_does() {
        let plan = sock(None);
        let whole = u64::from(usage_from(&plan, at(0)).loops_percent);
        let leg = plan.sections.iter().find(|s| s.kind == SectionKind::Leg);
        let planned = u16::try_from(leg.expect("a leg").counted()).expect("few");
        // a gram to 100 stitches, weighed again after the fortieth round
        let laid = whole - u64::from(usage_from(&plan, at(40)).loops_percent);
        let room = |spare_rounds: u64| {
            let rest = 2 * whole - laid + spare_rounds * 6_400 * 2;
            // what the rest takes with a tenth to spare, in tenths of a gram
            let left = u32::try_from((rest * 11).div_ceil(10).div_ceil(1_000)).expect("small");
            let begun = left + u32::try_from(laid / 1_000).expect("small");
            let weighings = [(at(0), begun), (at(40), left)];
            budget([(&plan, &weighings), (&plan, &[])])
                .expect("weighed")
                .leg
        };
        for spare in [5, 20] {
            let rounds = room(spare).expect("there is room");
            let expected = planned + u16::try_from(spare).expect("few");
            // never more than there is yarn for, and little less: the scale is not surer
            assert!(
                (expected - 4..=expected).contains(&rounds),
                "{rounds} for {expected}"
            );
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
        let plan = sock(Some(Ball {
            grams: 100,
            metres: 420,
        }));
        let said = budget([(&plan, &[(at(0), 1_000)]), (&plan, &[])]).expect("a band");
        let halves = said.halves.expect("nothing is knitted yet");
        assert_eq!(halves.each, 500);
        assert_eq!(halves.need.verdict, Verdict::Enough);
        let grams = plan.outcome.grams.expect("a band") * 10;
        // the outcome's grams have a tenth to spare, as the most that is needed has
        assert!(halves.need.needed.most.abs_diff(grams) <= 10, "{said:?}");
    }

    proptest! {
        /// Whatever a knitter truly uses to a stitch: a scale that rounds never has the program say the
        /// contrary of what is so.
        #[test]
        fn no_verdict_is_ever_wrong(
            per_stitch in 20_u64..400,
            step in prop_oneof![Just(1_u64), Just(10)],
            begun in 300_u64..2_000,
            (first, more) in (0_usize..60, 1_usize..80),
        ) {
            let plan = sock(None);
            let loops = |from, to| {
                let of = |step| u64::from(usage_from(&plan, at(step)).loops_percent);
                of(from) - of(to)
            };
            // hundred-thousandths of a gram to a stitch: what is on the scale, in hundred-thousandths
            let truly = |step| (begun * 10_000).checked_sub(loops(0, step) * per_stitch / 100);
            let shown = |exact: u64| {
                let unit = step * 10_000;
                let shown = (exact + unit / 2) / unit * step;
                u32::try_from(shown).expect("small")
            };
            let (one, two) = (first, first + more);
            let (Some(a), Some(b)) = (truly(one), truly(two)) else {
                return Ok(());
            };
            let weighed = [(at(one), shown(a)), (at(two), shown(b))];
            let Some(said) = budget([(&plan, &weighed), (&plan, &[])]) else {
                return Ok(());
            };
            let end = plan.sections.iter().map(|s| s.steps.len()).sum();
            let needs = loops(two, end) * per_stitch / 100;
            let [least, most] = [said.sock.needed.least, said.sock.needed.most];
            prop_assert!(u64::from(least) * 10_000 <= needs + 10_000, "{said:?} {needs}");
            prop_assert!(u64::from(most) * 10_000 + 10_000 >= needs, "{said:?} {needs}");
            match said.sock.verdict {
                Verdict::Enough => prop_assert!(b >= needs, "{said:?} {needs} {b}"),
                Verdict::NotEnough(missing) => {
                    prop_assert!(b < needs, "{said:?} {needs} {b}");
                    let really = needs - b;
                    prop_assert!(u64::from(missing.least) * 10_000 <= really + 10_000);
                    prop_assert!(u64::from(missing.most) * 10_000 + 10_000 >= really);
                }
                Verdict::TooClose { .. } => {}
            }
        }
    }
}
