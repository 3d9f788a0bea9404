//! The heel in numbers.

use std::collections::BTreeSet;

use evenloop_engine::recipe::{Direction, FlapTexture, Heel, HeelTurn, Narrowing, Recipe, Seating};

use super::toe::{Wedge, left_to_graft};
use super::yarns::Stripes;
use super::{No, nearest, third};

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
    pub fn shaped_by(self, round: u32) -> u32 {
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
        /// Whether the fold is worked in two rows: a heel in a yarn of its own has no round of the
        /// stripes in its middle.
        folded: bool,
    },
    /// Waste yarn now or a row to be snipped, a heel like a toe at the end.
    Late {
        /// That toe.
        wedge: Wedge,
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

    /// Rounds by which it makes the foot longer.
    pub fn takes(self, toe_up: bool) -> u32 {
        match self {
            Self::Flap {
                turn_rows,
                pick_up_rounds,
                gusset,
                ..
            } => turn_rows + pick_up_rounds + gusset.rounds,
            Self::FlapToeUp { gusset, each_side } => 2 * each_side + 2 + gusset.rounds,
            // From the toe up only the inward rows lie under the foot. Rounds between the halves lie in
            // the fold at the back of the heel: half of them under the foot, half up the leg (common
            // practice, no source).
            Self::ShortRow {
                each_side, between, ..
            } if toe_up => 2 * each_side + between.div_ceil(2),
            Self::ShortRow {
                each_side, between, ..
            } => (2 * each_side + 2) + 2 + between.div_ceil(2),
            Self::Late { wedge } => 1 + wedge.rounds(),
        }
    }
}

/// Stitches left by the round turn: `H/2 + 2` when `H/2` is even, `H/2 + 3` when it is odd.
fn turned_round(heel: u32) -> u32 {
    let half = heel / 2;
    half + 2 + half % 2
}

/// The even number nearest to a half; of two as near the larger.
fn half(heel: u32) -> u32 {
    2 * nearest(heel.into(), 1, 4)
}

/// Stitches that a band heel takes out of its flap before the turn, two in each of three rows.
const BAND: u32 = 6;

/// The even number of rows nearest to a height, of two as near the larger. As many rows as were
/// counted on a flap; else a fifth more than rounds of stockinette, in eye of partridge fifteen in a
/// hundred.
fn rows_in(recipe: &Recipe, texture: FlapTexture, height: u32) -> u32 {
    let (rows, over) = if let Some(flap) = recipe.swatch.flap {
        (u64::from(flap.rows), u64::from(flap.height.0))
    } else {
        let more = if texture == FlapTexture::EyeOfPartridge {
            115
        } else {
            120
        };
        let swatch = recipe.swatch;
        (
            u64::from(swatch.rounds) * more,
            u64::from(swatch.height.0) * 100,
        )
    };
    2 * nearest(u64::from(height) * rows, 1, 2 * over)
}

/// Rows of a flap on so many stitches.
pub(super) fn flap_rows(recipe: &Recipe, heel: u32) -> Result<u32, No> {
    let Heel::FlapAndGusset {
        rows,
        height,
        texture,
        ..
    } = recipe.heel
    else {
        return Ok(0);
    };
    let up = recipe.direction == Direction::ToeUp;
    match (rows, height) {
        (Some(_), Some(_)) => Err(No::FlapTwice),
        (Some(rows), None) => Ok(rows.into()),
        (None, Some(height)) => {
            let rows = rows_in(recipe, texture, height.0);
            if (8..=80).contains(&rows) {
                Ok(rows)
            } else {
                Err(No::FlapHeight)
            }
        }
        (None, None) => {
            let usual = match (up, recipe.fit.high_instep) {
                (false, false) => heel,
                (false, true) => heel * 6 / 5,
                (true, false) => heel * 3 / 4,
                (true, true) => heel * 9 / 10,
            };
            Ok(usual / 2 * 2)
        }
    }
}

/// The heel of a sock with so many rounds between the toe and the back of the heel.
pub(super) fn shape(
    recipe: &Recipe,
    around: u32,
    room: Option<u32>,
) -> Result<Shape, BTreeSet<No>> {
    let heel = around / 2;
    let toe_up = recipe.direction == Direction::ToeUp;
    let narrower = if recipe.fit.narrow_heel { 2 } else { 0 };
    let one = |no| BTreeSet::from([no]);
    match recipe.heel {
        Heel::FlapAndGusset { .. } if toe_up => {
            let shapings = flap_rows(recipe, heel).map_err(one)? / 2;
            let each_side = (heel - (half(heel) - narrower)) / 2;
            let room = room.and_then(|room| room.checked_sub(2 * each_side + 2));
            Ok(Shape::FlapToeUp {
                gusset: Gusset::within(shapings, room).map_err(one)?,
                each_side,
            })
        }
        Heel::FlapAndGusset { turn, corners, .. } => {
            let rows = flap_rows(recipe, heel).map_err(one)?;
            let end = if turn == HeelTurn::Band {
                heel - BAND
            } else {
                heel
            };
            let usual = match turn {
                HeelTurn::Round => turned_round(end),
                HeelTurn::Square | HeelTurn::Band => third(end),
            };
            // Two stitches would be a seam, not a heel.
            let turned = if usual > 4 { usual - narrower } else { usual };
            let turn_rows = end - turned;
            let per_side = rows / 2 + u32::from(corners);
            let surplus = (turned + 2 * per_side)
                .checked_sub(heel)
                .ok_or(one(No::FlapTooShallow))?;
            // With the sole on one needle the heel, the left edge and the instep are knitted twice
            // before the round is whole.
            let pick_up_rounds = match recipe.needles.seating() {
                Some(Seating::InstepAndSole) => 2,
                Some(Seating::EvenHalves) | None => 1,
            };
            let room = room.and_then(|room| room.checked_sub(turn_rows + pick_up_rounds));
            let gusset = Gusset::within(surplus / 2, room).map_err(one)?;
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
        Heel::ShortRow { between } => {
            let least = if recipe.fit.high_instep { 4 } else { 0 };
            let between = u32::from(between).max(least);
            Ok(Shape::ShortRow {
                each_side: (heel - (third(heel) - narrower)) / 2,
                between,
                folded: between == 0 && Stripes::of(recipe).spare_the_heel(),
            })
        }
        // Two stitches are made in each corner of the opening.
        Heel::Afterthought { .. } => Ok(Shape::Late {
            wedge: Wedge {
                around: around + 4,
                left: left_to_graft(around + 4) - 2 * narrower,
                narrowing: Narrowing::Rounded,
            },
        }),
    }
}
