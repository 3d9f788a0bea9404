//! Closed forms: what a sock comes to, by plain integer arithmetic from its recipe.
//!
//! Sources of the forms. Common practice, no source, unless said otherwise:
//! the square flap on half the stitches; the round turn's count `T(H)` (worked out by hand for
//! every even `H` from 12 to 60); a square turn on a middle third; two gusset decreases in every
//! second round (published example); a wedge toe of four decreases; a round toe of eight; short
//! rows with double stitches down to a third (a half under a flap from the toe up); a heel knitted
//! last as long as a toe; a shaped toe that loses two stitches beside the little toe for one beside
//! the big one; a calf shaped along straight lines. The numbers left to graft are common practice,
//! no source.

mod calf;
mod expected;
mod fabric;
mod heel;
mod motif;
mod rounds;
mod seats;
mod toe;
mod yarns;

use std::collections::BTreeSet;

use evenloop_engine::recipe::{
    BindOff, CastOn, Direction, Edge, Heel, HeelOpening, LeftRight, Method, MotifPlacement, Recipe,
    Rib, Toe, ToeCastOn,
};

pub use expected::{Expected, PARTS, State, expected};
use heel::shape;
pub use heel::{Gusset, Shape};
pub use rounds::{
    between_heel_and_toe, foot_length, foot_rounds_tall, leg_length, leg_rounds_tall,
    until_the_other_end,
};
pub use toe::Tip;
pub use yarns::{Stripes, Thread};

pub use fabric::{foot_tube, misfit, too_narrow};

use super::chart::Chart;
use super::panel::Panel;

/// Why there is no such sock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum No {
    /// The stitches around would be outside 32 to 120.
    Around,
    /// The flap is so shallow that after the pick-up there are fewer stitches than around.
    FlapTooShallow,
    /// More rounds are taken out of the foot than it has.
    FootAdjusted,
    /// Heel, gusset and toe are longer than the foot, even with a gusset shaped every round.
    FootTooShort,
    /// The leg, its cuff included, is shorter than its cuff.
    LegInCuff,
    /// A toe drawn closed is the end of a sock, not its beginning.
    RoundToeUp,
    /// Rows and height of a flap are both given.
    FlapTwice,
    /// The flap's height is fewer than 8 rows or more than 80.
    FlapHeight,
    /// A heel knitted last has nothing to make room for a high instep.
    HighInstepLate,
    /// A toe drawn closed is as wide as it is.
    WideRoundToe,
    /// The calf changes by more than a pair in a round, or is measured twice in one, or has too many
    /// stitches.
    Calf,
    /// A round of the motif cannot be broken off after its balancing stitches, or they are a whole repeat.
    Balance,
    /// A motif all round, and a calf that changes its stitches.
    CalfInMotif,
    /// The stitches chosen do not carry whole repeats.
    MotifStitches,
    /// Not one repeat fits on the front.
    MotifWide,
    /// Two repeats all round cannot lie on three needles.
    MotifThirds,
    /// A stitch of the motif is slipped in more than four rounds one after another, or in all.
    MotifSlip,
    /// No boundary between repeats is near the middle of the instep.
    MotifHalves,
    /// The sock would be far larger, or far smaller, than the foot.
    FarFromFoot,
    /// The stitches do not reach round a short circular.
    NeedleTooLong,
    /// More rounds are taken out of the leg than it has under its cuff.
    LegAdjusted,
    /// A tubular edge on something else than a rib of one and one or two and two.
    TubularRib,
    /// A chain of waste yarn under a toe that is knitted round from the start.
    ChainedToe,
}

/// The whole sock in numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sums {
    /// Stitches around, a multiple of four.
    pub around: u32,
    /// Rounds of the cuff; of a hem, facing, turning round and outside (and joining round).
    pub cuff_rounds: u32,
    /// Rounds that show of the cuff.
    pub cuff_height: u32,
    /// Whether the cuff is folded and knitted to its cast-on edge.
    pub hem: bool,
    /// Whether the cuff's live stitches are sewn down inside at the end.
    pub sewn: bool,
    /// Rounds between cuff and heel.
    pub leg_rounds: u32,
    /// Pairs of stitches more than around, after 0, 1, 2, ... of those rounds above the heel.
    pub calf: Vec<u32>,
    /// Stitches that the heel is worked on: half of those around.
    pub heel: u32,
    /// What kind of heel, in numbers.
    pub shape: Shape,
    /// Plain rounds of the foot.
    pub foot_rounds: u32,
    /// Rounds of the whole foot, from the back of the heel to the tip of the toe.
    pub whole_foot: u32,
    /// Those of them at heel and toe, which are plain.
    pub ends: u32,
    /// What kind of toe, in numbers.
    pub tip: Tip,
    /// Rounds by which the toe makes the foot longer.
    pub toe_rounds: u32,
    /// Stitches where the toe ends (or begins), on both needles together.
    pub toe_left: u32,
    /// Pairs of stitches grafted.
    pub pairs: u32,
    /// Stitches drawn closed.
    pub drawn: u32,
    /// Whether it is knitted from the toe up.
    pub toe_up: bool,
    /// Pairs of the calf when the leg's needles were laid; no more or fewer than an even number of
    /// them in the cuff.
    laid: u32,
    /// Where a motif lies on each half, if there is one.
    panel: Option<Panel>,
}

impl Sums {
    /// Stitches at the top of the leg.
    pub fn top(&self) -> u32 {
        self.around + 2 * self.calf.last().copied().unwrap_or(0)
    }

    /// The needles of the leg are laid out again after so many of its rounds.
    pub fn seated_after(&mut self, rounds: u32) {
        let above = if self.toe_up {
            rounds
        } else {
            self.leg_rounds.saturating_sub(rounds)
        };
        self.laid = self.calf.get(above as usize).copied().unwrap_or(0);
    }

    /// Where the needle's end lies on the instep: so many stitches after its beginning.
    fn split(&self) -> u32 {
        self.panel
            .map_or(self.around / 4, |panel| panel.nearest(self.around / 4))
    }

    /// How the motif lies on the front.
    pub const fn panel(&self) -> Option<Panel> {
        self.panel
    }
}

/// `a * b / c` to the nearest whole.
fn nearest(a: u64, b: u64, c: u64) -> u32 {
    u32::try_from((2 * a * b + c) / (2 * c)).unwrap_or(u32::MAX)
}

/// Stitches around: the knitter's own, or those that fit the foot in their fabric.
fn stitches_around(recipe: &Recipe, multiple: u32) -> u32 {
    if let Some(n) = recipe.stitches {
        return u32::from(n);
    }
    let around = fabric::Fabric::of(recipe).stitches_around(multiple.into());
    u32::try_from(around).unwrap_or(u32::MAX)
}

/// Rounds in so many tenths of a millimetre.
fn rounds_in(recipe: &Recipe, tenths: u32) -> u32 {
    nearest(
        tenths.into(),
        recipe.swatch.rounds.into(),
        recipe.swatch.height.0.into(),
    )
}

/// The even number nearest to a third.
fn third(heel: u32) -> u32 {
    2 * nearest(heel.into(), 1, 6)
}

/// The chart of a recipe's motif.
///
/// # Errors
/// The number of the row, from 1, that is not one.
pub fn chart(recipe: &Recipe) -> Result<Option<Chart>, usize> {
    let Some(motif) = &recipe.motif else {
        return Ok(None);
    };
    // The motif's written form is all that is looked at.
    let written = serde_json::to_value(motif).map_err(|_| 0_usize)?;
    let rows = written["rows"].as_array().ok_or(0_usize)?;
    Chart::read(rows.iter().filter_map(|row| row.as_str())).map(Some)
}

/// Whether an outer border lies where the instep begins (looked at while knitting, the needle in the
/// left hand to the left): seen from the wearer's head the left foot's little toe is on the left.
/// Knitted down, the foot points away from the knitter and the instep begins on the right; knitted
/// up, it points towards her.
pub fn outer_begins_instep(recipe: &Recipe) -> Option<bool> {
    let Toe::Shaped { foot } = recipe.toe else {
        return None;
    };
    Some((foot == LeftRight::Right) == (recipe.direction == Direction::CuffDown))
}

/// Whether the back of the leg is wider than that of the ankle.
const fn shapes_leg(recipe: &Recipe) -> bool {
    !recipe.calf.is_empty() || recipe.fit.tender_legs
}

/// Choices that do not go together, whatever the numbers.
fn refused_choices(recipe: &Recipe, all_round: bool) -> BTreeSet<No> {
    let mut no = BTreeSet::new();
    if recipe.direction == Direction::ToeUp && recipe.toe == Toe::Round {
        no.insert(No::RoundToeUp);
    }
    let hem = matches!(recipe.cuff.edge, Edge::Hem { .. });
    let tubular = match recipe.direction {
        Direction::CuffDown => recipe.cast_on == CastOn::Tubular,
        Direction::ToeUp => recipe.bind_off == BindOff::Tubular && !hem,
    };
    // tender legs get another edge, whatever was chosen
    let tubular = tubular && !recipe.fit.tender_legs;
    if tubular && tubular_edge(recipe).is_none() {
        no.insert(No::TubularRib);
    }
    if recipe.direction == Direction::ToeUp
        && recipe.toe_cast_on == ToeCastOn::Provisional
        && recipe.toe != Toe::ShortRow
    {
        no.insert(No::ChainedToe);
    }
    if recipe.leg < recipe.cuff.length {
        no.insert(No::LegInCuff);
    }
    if recipe.fit.wide_toes && recipe.toe == Toe::Round {
        no.insert(No::WideRoundToe);
    }
    if recipe.fit.high_instep && matches!(recipe.heel, Heel::Afterthought { .. }) {
        no.insert(No::HighInstepLate);
    }
    if all_round && shapes_leg(recipe) {
        no.insert(No::CalfInMotif);
    }
    no
}

/// The sums of a recipe whose numbers are in their ranges.
///
/// # Errors
/// Every reason why there is no such sock.
pub fn sums(recipe: &Recipe) -> Result<Sums, BTreeSet<No>> {
    sums_with(recipe, calf_of)
}

/// The same for a sock whose leg is knitted already: no stitch of it is made for a calf or a tender leg any
/// more.
///
/// # Errors
/// Every reason why there is no such sock.
pub fn sums_past_the_leg(recipe: &Recipe) -> Result<Sums, BTreeSet<No>> {
    sums_with(recipe, |_, _, leg| calf::pairs(&[], leg))
}

fn sums_with(
    recipe: &Recipe,
    calf_of: impl Fn(&Recipe, u32, u32) -> Result<Vec<u32>, No>,
) -> Result<Sums, BTreeSet<No>> {
    let toe_up = recipe.direction == Direction::ToeUp;
    let all_round = recipe
        .motif
        .as_ref()
        .is_some_and(|m| m.place == MotifPlacement::AllRound);
    let rounds_in = |tenths: u32| rounds_in(recipe, tenths);
    let mut no = refused_choices(recipe, all_round);
    if let Err(why) = heel::flap_rows(recipe, 0) {
        no.insert(why);
    }
    let chart = chart(recipe).unwrap_or_default();
    no.extend(chart.as_ref().and_then(slips_too_long));
    if breaks_a_round_off(recipe, chart.as_ref()) {
        no.insert(No::Balance);
        return Err(no);
    }
    let repeat = chart.as_ref().map(|c| u32::try_from(c.wide()).unwrap_or(1));
    let multiple = match repeat {
        Some(wide) if all_round => motif::multiple(wide),
        _ => 4,
    };
    let around = stitches_around(recipe, multiple);
    if !(32..=120).contains(&around) {
        no.insert(No::Around);
        return Err(no);
    }
    if !around.is_multiple_of(multiple) {
        no.insert(No::MotifStitches);
        return Err(no);
    }
    let motif = recipe.motif.as_ref().zip(repeat);
    let panel = motif.map(|(motif, wide)| Panel::of(around / 2, wide, motif));
    no.extend(panel.and_then(|panel| no_place(recipe, panel)));
    let cuff_height = rounds_in(recipe.cuff.length.0).max(1);
    let (hem, cuff_rounds) = cuff(recipe, cuff_height);
    let under_cuff = rounds::of_leg(recipe, recipe.leg.0, cuff_height);
    let leg_rounds = under_cuff
        .checked_add_signed(recipe.adjust.leg.into())
        .unwrap_or_else(|| {
            no.insert(No::LegAdjusted);
            0
        });
    let calf = calf_of(recipe, around, leg_rounds).unwrap_or_else(|why| {
        no.insert(why);
        Vec::new()
    });
    let tip = Tip::of(recipe, around);
    // The closed cast-on is followed by a plain round, but not under short rows.
    let plain = toe_up && !matches!(tip, Tip::Cup { .. });
    let toe_rounds = tip.rounds() + u32::from(plain);
    let ends = toe_rounds + heel_rounds(recipe, around);
    let whole_foot = rounds::of_foot(recipe, ends);
    let Some(whole_foot) = whole_foot.checked_add_signed(recipe.adjust.foot.into()) else {
        no.extend(too_short(recipe));
        return Err(no);
    };
    let room = whole_foot.checked_sub(toe_rounds);
    let shape = match shape(recipe, around, room) {
        Ok(shape) => shape,
        Err(why) => {
            no.extend(why);
            if no.contains(&No::FootTooShort) {
                no.extend(too_short(recipe));
            }
            return Err(no);
        }
    };
    let Some(foot_rounds) = room.and_then(|room| room.checked_sub(shape.takes(toe_up))) else {
        no.extend(too_short(recipe));
        return Err(no);
    };
    if !no.is_empty() {
        return Err(no);
    }
    let toe_left = tip.left();
    let drawn = u32::from(recipe.toe == Toe::Round) * toe_left;
    Ok(Sums {
        around,
        cuff_rounds,
        cuff_height,
        hem,
        sewn: toe_up && matches!(recipe.cuff.edge, Edge::Hem { .. }),
        leg_rounds,
        calf,
        heel: around / 2,
        shape,
        foot_rounds,
        whole_foot,
        ends,
        tip,
        toe_rounds,
        toe_left,
        pairs: (toe_left - drawn) / 2,
        drawn,
        toe_up,
        laid: 0,
        panel,
    })
}

/// Rounds of the heel that lie under the foot, its gusset not among them. With all the room that there is:
/// the gusset's rounds alone depend on it.
fn heel_rounds(recipe: &Recipe, around: u32) -> u32 {
    let up = recipe.direction == Direction::ToeUp;
    shape(recipe, around, Some(u32::MAX)).map_or(0, |shape| {
        shape.takes(up) - shape.gusset().map_or(0, |gusset| gusset.rounds)
    })
}

/// Whether a round of the motif cannot end after its balancing stitches.
fn breaks_a_round_off(recipe: &Recipe, chart: Option<&Chart>) -> bool {
    let balance = recipe.motif.as_ref().map_or(0, |m| m.balance.into());
    chart.is_some_and(|chart| !chart.breaks_off(balance))
}

/// What to blame where the foot is too short: rounds taken out, too.
fn too_short(recipe: &Recipe) -> impl Iterator<Item = No> {
    let adjusted = (recipe.adjust.foot < 0).then_some(No::FootAdjusted);
    std::iter::once(No::FootTooShort).chain(adjusted)
}

/// A stitch that is slipped for ever, or nearly so.
fn slips_too_long(chart: &Chart) -> Option<No> {
    let longest = chart.longest_slip();
    longest.is_none_or(|rows| rows > 4).then_some(No::MotifSlip)
}

/// Why a motif does not lie well on these needles.
fn no_place(recipe: &Recipe, panel: Panel) -> Option<No> {
    if panel.repeats == 0 {
        Some(No::MotifWide)
    } else if panel.all_round && panel.repeats < 2 && recipe.needles == Method::FourDpns {
        Some(No::MotifThirds)
    } else if motif::divides_instep(recipe.needles) && !panel.near_middle() {
        Some(No::MotifHalves)
    } else {
        None
    }
}

/// A tubular edge under or over a rib, and whether stitches cross between them: those of a rib of two
/// and two do not lie by turns. Tender legs get another edge.
pub fn tubular_edge(recipe: &Recipe) -> Option<bool> {
    let chosen = match recipe.direction {
        Direction::CuffDown => recipe.cast_on == CastOn::Tubular,
        Direction::ToeUp => recipe.bind_off == BindOff::Tubular,
    };
    let wanted = chosen && !recipe.fit.tender_legs;
    match recipe.cuff.edge {
        Edge::Rib(Rib::OneByOne | Rib::Twisted) if wanted => Some(false),
        Edge::Rib(Rib::TwoByTwo) if wanted => Some(true),
        _ => None,
    }
}

/// Whether the cuff is knitted to its cast-on edge, and its rounds when so many show.
fn cuff(recipe: &Recipe, height: u32) -> (bool, u32) {
    let hem = matches!(recipe.cuff.edge, Edge::Hem { .. });
    match (hem, recipe.direction) {
        // Two rounds that work half of the stitches each are as high as one.
        (false, _) if tubular_edge(recipe).is_some() => (false, height + 1),
        (false, _) => (false, height),
        // From the toe up the hem is sewn down, not knitted together.
        (true, Direction::ToeUp) => (false, 2 * height + 1),
        (true, Direction::CuffDown) => (true, 2 * height + 2),
    }
}

/// Pairs of stitches more than around after 0, 1, 2, ... rounds of the leg above the heel.
fn calf_of(recipe: &Recipe, around: u32, leg: u32) -> Result<Vec<u32>, No> {
    let measured = recipe.calf.iter().map(|girth| {
        let pairs = extra_pairs(recipe, around, girth.circumference.0);
        (rounds::up_the_leg(recipe, girth.height.0), pairs)
    });
    let mut points: Vec<(u32, u32)> = measured.collect();
    if points.is_empty() && recipe.fit.tender_legs {
        // As wide as the foot, one pair in every fourth round from the heel on.
        let pairs = extra_pairs(recipe, around, fabric::round_ball(recipe)).min(leg);
        if pairs > 0 && leg > 0 {
            points.push((leg.min(4 * pairs), pairs));
        }
    }
    let pairs = calf::pairs(&points, leg)?;
    if pairs.iter().any(|pairs| around + 2 * pairs > 240) {
        return Err(No::Calf);
    }
    Ok(pairs)
}

/// Pairs of stitches by which a leg of that circumference is wider than the ankle.
fn extra_pairs(recipe: &Recipe, around: u32, circumference: u32) -> u32 {
    // Tender legs have no negative ease.
    let left = if recipe.fit.tender_legs {
        100
    } else {
        100 - i64::from(recipe.fit.ease_percent)
    };
    let exact = i64::from(circumference) * left * i64::from(recipe.swatch.stitches);
    let over = 100 * i64::from(recipe.swatch.width.0);
    // The ankle is as wide as its fabric; what is added to it is plain.
    let ankle = i64::from(around) * over * fabric::leg_share(recipe, around);
    // Half of what is left, half up.
    let pairs = (1000 * exact - ankle + 1000 * over).div_euclid(2000 * over);
    u32::try_from(pairs).unwrap_or(0)
}

/// Pairs grafted where a heel was knitted last.
pub fn late_pairs(s: &Sums) -> u32 {
    match s.shape {
        Shape::Late { wedge } => wedge.left / 2,
        _ => 0,
    }
}

/// Rounds in which the place of a heel that is knitted last is kept: one with waste yarn, or the one that
/// is snipped and a plain one above it.
fn rounds_of_its_place(recipe: &Recipe) -> usize {
    match recipe.heel {
        Heel::Afterthought {
            opening: HeelOpening::Snipped,
        } => 2,
        _ => 1,
    }
}

/// Most stitches on the needles at once.
pub fn peak(s: &Sums) -> u32 {
    let foot = s.around
        + match s.shape {
            Shape::Flap { gusset, .. } | Shape::FlapToeUp { gusset, .. } => 2 * gusset.shapings,
            Shape::ShortRow { .. } => 0,
            Shape::Late { .. } => 4,
        };
    let leg = s.around + 2 * s.calf.iter().max().copied().unwrap_or(0);
    foot.max(leg)
}
