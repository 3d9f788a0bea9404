//! Closed forms: what a sock comes to, by plain integer arithmetic from its recipe.
//!
//! Sources of the forms. Common practice, no source, unless said otherwise:
//! the square flap on half the stitches; the round turn's count `T(H)` (worked out by hand for
//! every even `H` from 12 to 60); a square turn on a middle third; two gusset decreases in every
//! second round (published example); a wedge toe of four decreases; a round toe of eight; short
//! rows with double stitches down to a third (a half under a flap from the toe up); a heel knitted
//! last as long as a toe. The numbers left to graft are common practice, no source.

mod expected;
mod seats;
mod toe;

use evenloop_engine::recipe::{Direction, Edge, Heel, Recipe, Seating, Toe, Turn};

pub use expected::{Expected, PARTS, State, expected};
use toe::{left_to_graft, toe_left, toe_rounds, wedge_rounds};

/// Why there is no such sock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum No {
    /// The stitches around would be outside 32 to 120.
    Around,
    /// The flap is so shallow that after the pick-up there are fewer stitches than around.
    FlapTooShallow,
    /// Heel, gusset and toe are longer than the foot, even with a gusset shaped every round.
    FootTooShort,
    /// A toe drawn closed is the end of a sock, not its beginning.
    RoundToeUp,
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
    /// Rounds between cuff and heel.
    pub leg_rounds: u32,
    /// Stitches that the heel is worked on: half of those around.
    pub heel: u32,
    /// What kind of heel, in numbers.
    pub shape: Shape,
    /// Plain rounds of the foot.
    pub foot_rounds: u32,
    /// Rounds of the whole foot, from the back of the heel to the tip of the toe.
    pub whole_foot: u32,
    /// All rounds of the toe.
    pub toe_rounds: u32,
    /// Stitches where the toe ends (or begins), on both needles together.
    pub toe_left: u32,
    /// Pairs of stitches grafted.
    pub pairs: u32,
    /// Stitches drawn closed.
    pub drawn: u32,
    /// Whether it is knitted from the toe up.
    pub toe_up: bool,
}

/// A gusset: decreased from the cuff down, increased from the toe up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gusset {
    /// Rounds with one stitch less (or more) on each side.
    pub shapings: u32,
    /// All its rounds.
    pub rounds: u32,
}

impl Gusset {
    /// Shaped every second round where that fits into so many rounds, else every round, else not
    /// at all.
    fn within(shapings: u32, rounds: Option<u32>) -> Result<Self, No> {
        match rounds {
            Some(room) if 2 * shapings <= room => Ok(Self {
                shapings,
                rounds: 2 * shapings,
            }),
            Some(room) if shapings <= room => Ok(Self {
                shapings,
                rounds: shapings,
            }),
            _ => Err(No::FootTooShort),
        }
    }

    /// Shaping rounds among the first `round` of its rounds: each comes before its plain round.
    fn shaped_by(self, round: u32) -> u32 {
        if self.rounds == self.shapings {
            round
        } else {
            round.div_ceil(2)
        }
    }
}

/// The heel in numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Flap, turn, pick-up, gusset.
    Flap {
        /// Rows of the flap.
        rows: u32,
        /// Stitches of the flap when the turn begins: a band heel narrows its flap first.
        end: u32,
        /// Stitches left when the heel is turned.
        turned: u32,
        /// Short rows of the turn; one decrease in each.
        turn_rows: u32,
        /// Stitches picked up along each edge.
        per_side: u32,
        /// Rounds that the pick-up adds to the foot.
        pick_up_rounds: u32,
        /// The gusset.
        gusset: Gusset,
    },
    /// From the toe up: gusset, turn in short rows, and a flap that takes the gusset up again.
    FlapToeUp {
        /// The gusset.
        gusset: Gusset,
        /// Double stitches on each side of the turn.
        each_side: u32,
    },
    /// Short rows there and back.
    ShortRow {
        /// Double stitches on each side.
        each_side: u32,
        /// Rounds between the halves.
        between: u32,
    },
    /// Waste yarn now, a heel like a toe at the end.
    Late {
        /// Rounds of that heel.
        rounds: u32,
    },
}

impl Shape {
    /// The gusset, where there is one.
    pub const fn gusset(self) -> Option<Gusset> {
        match self {
            Self::Flap { gusset, .. } | Self::FlapToeUp { gusset, .. } => Some(gusset),
            Self::ShortRow { .. } | Self::Late { .. } => None,
        }
    }
}

/// `a * b / c` to the nearest whole.
fn nearest(a: u64, b: u64, c: u64) -> u32 {
    u32::try_from((2 * a * b + c) / (2 * c)).unwrap_or(u32::MAX)
}

/// Stitches around: circumference x (1 - ease) x gauge, to the nearest multiple of four, in one
/// rounding: quarters of the exact count.
fn stitches_around(recipe: &Recipe) -> u32 {
    if let Some(n) = recipe.stitches {
        return u32::from(n);
    }
    let length = u64::from(recipe.foot.length.0);
    // Measured in tenths of a millimetre; the estimate of 95 % is kept to a tenth of a millimetre.
    let round = recipe
        .foot
        .circumference
        .map_or((length * 95 + 50) / 100, |c| u64::from(c.0));
    let left = 100 - u64::from(recipe.fit.ease_percent);
    let stitches = u64::from(recipe.swatch.stitches);
    let over = u64::from(recipe.swatch.width.0);
    4 * nearest(round * left, stitches, 400 * over)
}

/// Stitches left by the round turn: `H/2 + 2` when `H/2` is even, `H/2 + 3` when it is odd.
fn turned_round(heel: u32) -> u32 {
    let half = heel / 2;
    half + 2 + half % 2
}

/// Stitches left by the square turn, or between the double stitches of a short-row heel: the even
/// number nearest to a third.
fn third(heel: u32) -> u32 {
    2 * nearest(heel.into(), 1, 6)
}

/// The even number nearest to a half; of two as near the larger.
fn half(heel: u32) -> u32 {
    2 * nearest(heel.into(), 1, 4)
}

/// Stitches that a band heel takes out of its flap before the turn, two in each of three rows.
const BAND: u32 = 6;

/// The sums of a recipe whose numbers are in their ranges.
///
/// # Errors
/// Why there is no such sock.
pub fn sums(recipe: &Recipe) -> Result<Sums, No> {
    let toe_up = recipe.direction == Direction::ToeUp;
    if toe_up && recipe.toe == Toe::Round {
        return Err(No::RoundToeUp);
    }
    let around = stitches_around(recipe);
    if !(32..=120).contains(&around) {
        return Err(No::Around);
    }
    let rounds_in = |tenths: u32| {
        nearest(
            tenths.into(),
            recipe.swatch.rounds.into(),
            recipe.swatch.height.0.into(),
        )
    };
    let cuff_height = rounds_in(recipe.cuff.length.0).max(1);
    let hem = matches!(recipe.cuff.edge, Edge::Hem { .. });
    let cuff_rounds = match (hem, toe_up) {
        (false, _) => cuff_height,
        // From the toe up the hem is sewn down, not knitted together.
        (true, true) => 2 * cuff_height + 1,
        (true, false) => 2 * cuff_height + 2,
    };
    let whole_foot = rounds_in(
        recipe
            .foot
            .length
            .0
            .saturating_sub(recipe.fit.length_ease.0),
    );
    // The closed cast-on is followed by a plain round.
    let toe_rounds = toe_rounds(recipe.toe, around) + u32::from(toe_up);
    let room = whole_foot.checked_sub(toe_rounds);
    let shape = shape(recipe, around, room)?;
    let taken = match shape {
        Shape::Flap {
            turn_rows,
            pick_up_rounds,
            gusset,
            ..
        } => turn_rows + pick_up_rounds + gusset.rounds,
        Shape::FlapToeUp { gusset, each_side } => 2 * each_side + 2 + gusset.rounds,
        // From the toe up only the inward rows lie under the foot.
        Shape::ShortRow { each_side, between } if toe_up => 2 * each_side + between,
        Shape::ShortRow { each_side, between } => (2 * each_side + 2) + 2 + between,
        Shape::Late { rounds } => rounds,
    };
    let toe_left = toe_left(recipe.toe, around);
    Ok(Sums {
        around,
        cuff_rounds,
        cuff_height,
        hem: hem && !toe_up,
        leg_rounds: rounds_in(recipe.leg.0).saturating_sub(cuff_height),
        heel: around / 2,
        shape,
        foot_rounds: room
            .and_then(|room| room.checked_sub(taken))
            .ok_or(No::FootTooShort)?,
        whole_foot,
        toe_rounds,
        toe_left,
        pairs: if recipe.toe == Toe::Round {
            0
        } else {
            toe_left / 2
        },
        drawn: if recipe.toe == Toe::Round {
            toe_left
        } else {
            0
        },
        toe_up,
    })
}

/// The heel of a sock with so many rounds between the toe and the back of the heel.
fn shape(recipe: &Recipe, around: u32, room: Option<u32>) -> Result<Shape, No> {
    let heel = around / 2;
    let toe_up = recipe.direction == Direction::ToeUp;
    match recipe.heel {
        Heel::FlapAndGusset { rows, .. } if toe_up => {
            let shapings = rows.map_or(heel * 3 / 4, u32::from) / 2;
            let each_side = (heel - half(heel)) / 2;
            let room = room.and_then(|room| room.checked_sub(2 * each_side + 2));
            Ok(Shape::FlapToeUp {
                gusset: Gusset::within(shapings, room)?,
                each_side,
            })
        }
        Heel::FlapAndGusset {
            turn,
            rows,
            corners,
            ..
        } => {
            let rows = rows.map_or(heel, u32::from);
            let end = if turn == Turn::Band {
                heel - BAND
            } else {
                heel
            };
            let turned = match turn {
                Turn::Round => turned_round(end),
                Turn::Square | Turn::Band => third(end),
            };
            let turn_rows = end - turned;
            let per_side = rows / 2 + u32::from(corners);
            let surplus = (turned + 2 * per_side)
                .checked_sub(heel)
                .ok_or(No::FlapTooShallow)?;
            // With the sole on one needle the heel, the left edge and the instep are knitted twice
            // before the round is whole.
            let pick_up_rounds = match recipe.needles.seating() {
                Some(Seating::InstepAndSole) => 2,
                Some(Seating::EvenHalves) | None => 1,
            };
            let room = room.and_then(|room| room.checked_sub(turn_rows + pick_up_rounds));
            let gusset = Gusset::within(surplus / 2, room)?;
            Ok(Shape::Flap {
                rows,
                end,
                turned,
                turn_rows,
                per_side,
                pick_up_rounds,
                gusset,
            })
        }
        Heel::ShortRow { between } => Ok(Shape::ShortRow {
            each_side: (heel - third(heel)) / 2,
            between: between.into(),
        }),
        // Two stitches are made in each corner of the opening.
        Heel::Afterthought => Ok(Shape::Late {
            rounds: 1 + wedge_rounds(evenloop_engine::recipe::Narrowing::Rounded, around + 4),
        }),
    }
}

/// Pairs grafted where a heel was knitted last.
pub fn late_pairs(s: &Sums) -> u32 {
    match s.shape {
        Shape::Late { .. } => left_to_graft(s.around + 4) / 2,
        _ => 0,
    }
}

/// Most stitches on the needles at once.
pub fn peak(s: &Sums) -> u32 {
    s.around
        + match s.shape {
            Shape::Flap { gusset, .. } | Shape::FlapToeUp { gusset, .. } => 2 * gusset.shapings,
            Shape::ShortRow { .. } => 0,
            Shape::Late { .. } => 4,
        }
}
