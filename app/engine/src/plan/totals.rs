//! Reads a finished plan: what it comes to.

use super::model::{Plan, Section};
use super::numbers::{
    Around, Fabric, HeelNumbers, LITTLE_EASE, MUCH_EASE, Numbers, Rounds, Tubes, front_only,
    height_of_rows, nearest_fit, unit,
};
use super::outcome::{Caution, Outcome, SectionOutcome, YarnOutcome};
use super::section_kind::SectionKind;
use super::sections::{heel_turn, pick_up, toe};
use crate::recipe::{BindOff, CastOn, NearestFit, Recipe, Stretch, Toe};
use crate::stitch::{Op, Yarn};
use crate::units::Length;
use crate::yarn;

/// Reads a finished plan: what it comes to.
pub(super) fn outcome(
    recipe: &Recipe,
    numbers: &Numbers,
    sections: &[Section],
    peak: u16,
) -> Outcome {
    let swatch = &recipe.swatch;
    let heights = Rounds::of(recipe);
    let loop_cm = yarn::loop_length_cm(swatch);
    let mut rows: Vec<SectionOutcome> = Vec::with_capacity(sections.len());
    for section in sections {
        let usage = yarn::usage(section);
        let counted = u16::try_from(section.counted()).unwrap_or(u16::MAX);
        let rounds = match section.kind {
            // a folded hem is knitted in more rounds than it is tall
            SectionKind::Cuff => numbers.cuff,
            SectionKind::PickUp => pick_up::rounds(recipe.needles),
            _ => counted,
        };
        rows.push(SectionOutcome {
            kind: section.kind,
            steps: counted,
            length: match section.kind {
                SectionKind::HeelFlap => height_of_rows(recipe, rounds),
                SectionKind::Leg => heights.leg.height_of(rounds),
                SectionKind::Gusset | SectionKind::Foot => heights.foot.height_of(rounds),
                _ => heights.plain.height_of(rounds),
            },
            worked: usage.worked,
            yarn_dm: yarn::decimetres(&usage, loop_cm),
        });
    }
    let tubes = Tubes::of(recipe, numbers.around);
    let foot_length = heights.foot_of(numbers.whole_foot, numbers.plain_foot);
    let leg_length = heights.leg_of(numbers.cuff, numbers.leg);
    let before = heights.before_washing(swatch);
    // so many times the edge, and a hand's width
    let edge_stitches = at_the_edge(sections);
    let edge = swatch.width_of(edge_stitches);
    let tail = |times: u32| Length(edge.0 * times + Length::cm(20).0).about();
    let metres = yarn::with_allowance(rows.iter().map(|r| r.yarn_dm).sum());
    let (flap_rows, turned, picked_up) = match &numbers.shape {
        HeelNumbers::Flap(f) => (
            f.rows,
            heel_turn::turned(numbers.heel, f.turn, recipe.fit.narrow_heel),
            f.rows / 2 + u16::from(f.corners),
        ),
        HeelNumbers::ToeUpFlap(f) => (2 * f.gusset.shapings, numbers.heel, 0),
        HeelNumbers::ShortRow { .. } | HeelNumbers::Late => (0, 0, 0),
    };
    Outcome {
        stitches: numbers.around,
        circumference: tubes.foot,
        leg_circumference: Some(tubes.leg).filter(|leg| *leg != tubes.foot),
        ease_permille: i32::try_from(tubes.foot_ease()).unwrap_or(i32::MAX),
        heel_stitches: numbers.heel,
        flap_rows,
        turned,
        picked_up,
        peak,
        toe_left: numbers.toe_left,
        graft_pairs: match recipe.toe {
            Toe::Wedge { .. } | Toe::Shaped { .. } | Toe::ShortRow => numbers.toe_left / 2,
            Toe::Round => 0,
        },
        foot_length,
        leg_length,
        cast_on: edge_stitches,
        cast_on_tail: tail(match recipe.cast_on {
            CastOn::LongTail | CastOn::Tubular => 3,
            CastOn::TwistedLongTail => 4,
            CastOn::KnittedOn | CastOn::SlipKnot => 0,
        }),
        bind_off_tail: tail(match recipe.bind_off {
            _ if recipe.sews_hem() => 3,
            BindOff::Sewn => 3,
            // as for a graft: it makes a row of stitches
            BindOff::Tubular => 4,
            BindOff::Plain | BindOff::WorkedTogether | BindOff::YarnOver => 0,
        }),
        leg_on_needles: before.map(|before| before.leg_of(numbers.cuff, numbers.leg)),
        foot_on_needles: before
            .map(|before| before.foot_of(numbers.whole_foot, numbers.plain_foot)),
        stitches_worked: rows.iter().map(|r| r.worked).sum(),
        sections: rows,
        metres,
        grams: recipe.ball.map(|b| yarn::grams(metres, b)),
        yarns: by_yarn(recipe, sections, loop_cm),
        cautions: cautions(recipe, numbers, &tubes),
    }
}

impl Plan {
    /// How much of the foot a toe in short rows is, on the needles: its rows lie on both sides of it.
    pub(crate) fn short_row_toe_on_needles(&self) -> Length {
        let rounds = toe::rounds(self.outcome.stitches, &self.recipe);
        self.rounds_on_needles(SectionKind::Toe, rounds)
    }
}

/// Stitches that are cast on or bound off at the cuff.
fn at_the_edge(sections: &[Section]) -> u16 {
    let moves = sections
        .iter()
        .flat_map(|s| &s.steps)
        .flat_map(|s| &s.moves);
    let mut counts = moves.flat_map(|m| &m.ops).filter_map(|op| match op {
        Op::CastOn(n) | Op::BindOff(n) | Op::SewDown(n) => Some(n.get()),
        Op::CastOnUneven(back, front) | Op::CastOnTubular(back, front) => {
            Some(back.get().saturating_add(front.get()))
        }
        _ => None,
    });
    counts.next().unwrap_or(0)
}

fn by_yarn(recipe: &Recipe, sections: &[Section], loop_cm: f64) -> Vec<YarnOutcome> {
    let Some(yarns) = &recipe.yarns else {
        return Vec::new();
    };
    let usages = yarn::usage_by_yarn(sections);
    let outcome = |yarn: Yarn| {
        let yarn_dm = yarn::decimetres(&usages[yarn as usize], loop_cm);
        let metres = yarn::with_allowance(yarn_dm);
        YarnOutcome {
            yarn,
            yarn_dm,
            metres,
            grams: recipe.ball.map(|b| yarn::grams(metres, b)),
        }
    };
    yarns.used().into_iter().map(outcome).collect()
}

/// More stitches than this off the wish, and the motif is named (half a repeat of four and a little).
const FAR_OFF: u64 = 2;

fn cautions(recipe: &Recipe, numbers: &Numbers, tubes: &Tubes) -> Vec<Caution> {
    let (foot, leg) = (tubes.foot_ease(), tubes.leg_ease());
    let around = numbers.around;
    let wished = Around::decide(recipe);
    // also where a sock that is begun goes on with it
    let by_repeat = unit(recipe) > 4
        && wished.stitches == around
        && wished.exact.abs_diff(around.into()) > FAR_OFF;
    // A plain number nearer to the wish there is not, and it is hardly harder than the wish.
    let by_rounding = unit(recipe) == 4 && wished.stitches == around && tubes.hard_by_rounding();
    let allowed = Fabric::of(recipe).allowed;
    let nearest = || {
        let other = |nearest: &NearestFit| nearest.stitches != around;
        if by_repeat {
            front_only(recipe)
        } else {
            nearest_fit(recipe).filter(other)
        }
    };
    [
        (foot < 0, Caution::LargerThanFoot(nearest())),
        (
            by_repeat && foot >= 0,
            Caution::RepeatDecides(front_only(recipe)),
        ),
        (tubes.hard_to_put_on() && !by_rounding, Caution::HardToPutOn),
        (
            recipe.edge_stretch() == Stretch::Firm && tubes.wants_a_stretchy_edge(),
            Caution::FirmEdge,
        ),
        ((0..LITTLE_EASE).contains(&foot), Caution::LittleEase),
        (foot.max(leg) > MUCH_EASE, Caution::MuchEase),
        (allowed > 0, Caution::PatternNotMeasured(allowed)),
        (recipe.fit.tender_legs, Caution::TenderLegs),
        (numbers.shape.hurried(), Caution::GussetEveryRound),
        (recipe.foot.length < Length::cm(15), Caution::SmallChild),
        (
            recipe.foot.circumference.is_none(),
            Caution::CircumferenceEstimated,
        ),
        (recipe.swatch.guess.is_some(), Caution::GaugeGuessed),
    ]
    .into_iter()
    .filter_map(|(is, caution)| is.then_some(caution))
    .collect()
}
