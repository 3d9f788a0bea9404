//! Metres and grams. The only floating point of the engine: it never decides a count, and its
//! results are rounded to whole decimetres before anyone sees them. Only operations that are
//! exact to the last bit everywhere (`+ * / sqrt`) are used, so phone and server agree.
//!
//! Model: yarn in one stitch, l = sqrt(ks / S), S = stitches x rounds per square centimetre, with
//! ks = 21.6 for wet-relaxed plain knitting (Munden 1959; constant from memory). Fitted on
//! machine-knit wool: for hand knitting an estimate within about a tenth.

use std::cmp::Ordering;

use crate::error::FieldError;
use crate::journal::Decigrams;
use crate::plan::{Plan, Section, SectionKind};
use crate::recipe::Ball;
use crate::stitch::{Op, Yarn};
use crate::swatch::Swatch;
use crate::trace::Position;
use crate::units::parse_number;

/// Munden's ks for the wet-relaxed state (dimensionless, lengths in cm).
pub const KS_WET: f64 = 21.6;

/// Yarn in one stitch, in centimetres.
pub fn loop_length_cm(swatch: &Swatch) -> f64 {
    let wales = f64::from(swatch.stitches) / swatch.width.as_cm();
    let courses = f64::from(swatch.rounds) / swatch.height.as_cm();
    (KS_WET / (wales * courses)).sqrt()
}

/// What a section asks of hands and ball.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Usage {
    /// Single operations: stitches worked, slipped, made, joined, grafted.
    pub worked: u32,
    /// Loops of yarn laid down, in hundredths of a plain stitch.
    pub loops_percent: u32,
}

/// Counts a section's operations. Factors (common practice, no source): a slipped stitch carries
/// half a stitch's yarn past itself; a ribbed stitch takes a twentieth more than a plain one.
pub fn usage(section: &Section) -> Usage {
    let mut sum = Usage::default();
    for mv in section.steps.iter().flat_map(|s| &s.moves) {
        add(&mut sum, &mv.ops, per_stitch(section.kind), 1);
    }
    sum
}

/// The same for each yarn over all sections, in the order of [`Yarn::ALL`].
pub fn usage_by_yarn(sections: &[Section]) -> [Usage; Yarn::ALL.len()] {
    let mut sums = [Usage::default(); Yarn::ALL.len()];
    let mut yarn = Yarn::default();
    for section in sections {
        for mv in section.steps.iter().flat_map(|s| &s.moves) {
            if let Some(Op::Yarn(other)) = mv.ops.first() {
                yarn = *other;
            }
            let sum = &mut sums[yarn as usize];
            add(sum, &mv.ops, per_stitch(section.kind), 1);
        }
    }
    sums
}

/// What one move asks for; nothing past the end.
pub fn usage_at(plan: &Plan, at: Position) -> Usage {
    let mut sum = Usage::default();
    let mut step = at.step;
    for section in &plan.sections {
        if let Some(one) = section.steps.get(step) {
            if let Some(mv) = one.moves.get(at.mv) {
                add(&mut sum, &mv.ops, per_stitch(section.kind), 1);
            }
            break;
        }
        step -= section.steps.len();
    }
    sum
}

/// What is asked for from a place to the end of the sock.
pub fn usage_from(plan: &Plan, at: Position) -> Usage {
    let mut sum = Usage::default();
    let mut step = 0;
    for section in &plan.sections {
        for one in &section.steps {
            let done = match step.cmp(&at.step) {
                Ordering::Less => one.moves.len(),
                Ordering::Equal => at.mv,
                Ordering::Greater => 0,
            };
            for mv in one.moves.iter().skip(done) {
                add(&mut sum, &mv.ops, per_stitch(section.kind), 1);
            }
            step += 1;
        }
    }
    sum
}

/// Yarn of a worked stitch, in hundredths of a plain one.
const fn per_stitch(kind: SectionKind) -> u32 {
    match kind {
        SectionKind::Cuff => 105,
        _ => 100,
    }
}

fn add(sum: &mut Usage, ops: &[Op], per_stitch: u32, times: u32) {
    for op in ops {
        let (worked, loops) = match op {
            Op::Knit(n)
            | Op::Purl(n)
            | Op::KnitTwisted(n)
            | Op::FoldJoin(n)
            | Op::KnitDouble(n)
            | Op::PurlDouble(n)
            | Op::BindOff(n)
            | Op::PickUp(n)
            | Op::CastOn(n)
            // the second time with the working yarn
            | Op::Waste(n)
            | Op::Graft(n) => (u32::from(n.get()), per_stitch),
            Op::Slip(n) => (u32::from(n.get()), 50),
            Op::K2tog
            | Op::Ssk
            | Op::P2tog
            | Op::YarnOver
            | Op::YarnOverBehind
            | Op::MakeLeft
            | Op::MakeRight
            | Op::PickUpCorner
            | Op::GraftEnd => (1, per_stitch),
            Op::CastOnUneven(back, front) => {
                (u32::from(back.get()) + u32::from(front.get()), per_stitch)
            }
            // loops on both needles
            Op::CastOnClosed(n) => (2 * u32::from(n.get()), per_stitch),
            Op::TurnDouble => (1, 50),
            Op::Cross(cross) => (u32::from(cross.width()), per_stitch),
            Op::Repeat(inner, n) => {
                add(sum, inner, per_stitch, times * u32::from(n.get()));
                continue;
            }
            _ => continue,
        };
        sum.worked += worked * times;
        sum.loops_percent += worked * loops * times;
    }
}

/// Decimetres of yarn for a section, without allowance.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // finite, positive, far below u32
pub fn decimetres(usage: &Usage, loop_cm: f64) -> u32 {
    let cm = f64::from(usage.loops_percent) / 100.0 * loop_cm;
    (cm / 10.0 + 0.5) as u32
}

/// Whole metres with a tenth more for tails, swatch and doubt.
pub const fn with_allowance(decimetres: u32) -> u32 {
    (decimetres * 11).div_ceil(100)
}

/// Whole grams for so many metres, by the ball's band, rounded up.
pub fn grams(metres: u32, ball: Ball) -> u32 {
    (metres * u32::from(ball.grams)).div_ceil(u32::from(ball.metres.max(1)))
}

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
            FieldError::new(
                "grams",
                "This is not a weight in grams.".to_owned(),
                "It can be from 0 to 2000, like 41 or 41.5.",
            )
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
    /// What was left.
    pub left: Decigrams,
    /// What ten rounds (or rows) like the one at hand take; `None` where none is at hand.
    pub ten_rounds: Option<Decigrams>,
    /// What the rest of the sock needs, and whether it is there.
    pub sock: (Decigrams, Will),
    /// The same for this sock and the second, while the first is on the needles.
    pub pair: Option<(Decigrams, Will)>,
}

/// What the weighings of a pair say: for each sock its plan and its weighings in the order made.
/// `None` when nothing was weighed, or nothing tells how much yarn a stitch takes.
pub fn budget(socks: [(&Plan, &[(Position, Decigrams)]); 2]) -> Option<Budget> {
    let [(first, _), (second, _)] = socks;
    let whole = |plan: &Plan| u64::from(usage_from(plan, Position::default()).loops_percent);
    let left_of = |plan: &Plan, at: Position| u64::from(usage_from(plan, at).loops_percent);
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
    let here = u64::from(usage_at(plan, at).loops_percent);
    Some(Budget {
        own: own.is_some(),
        left,
        ten_rounds: (here > 0).then(|| rate.needed(10 * here)),
        sock: told(rest),
        pair: (!on_second).then(|| told(rest + whole(second))),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::make;
    use crate::recipe::Recipe;

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

    #[test]
    fn parts_of_a_sock_add_up_to_the_sections() {
        let plan = sock(None);
        let all: u32 = plan.sections.iter().map(|s| usage(s).loops_percent).sum();
        assert_eq!(usage_from(&plan, at(0)).loops_percent, all);
        let mut left = all;
        for step in 0..20 {
            let moves = plan.step(step).expect("a step").moves.len();
            for mv in 0..moves {
                left -= usage_at(&plan, Position { step, mv }).loops_percent;
            }
            assert_eq!(usage_from(&plan, at(step + 1)).loops_percent, left);
        }
        assert_eq!(usage_from(&plan, at(9_999)), Usage::default());
        assert_eq!(usage_at(&plan, at(9_999)), Usage::default());
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
}
