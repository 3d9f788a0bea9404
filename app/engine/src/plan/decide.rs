//! Decides the numbers of a sock before its first stitch, and says why one cannot be.
//!
//! Stands above the sections: each of them knows how many rounds it will take.

use super::numbers::{
    Around, FlapNumbers, Gusset, HeelNumbers, Numbers, Profile, Rounds, ToeUpFlapNumbers,
    even_rows_in, height_of_rows, panel, unit,
};
use super::sections::{afterthought_heel, heel_turn, pick_up, short_row_heel, toe, toe_up_heel};
use crate::error::{FieldError, Problem};
use crate::recipe::{
    Direction, FLAP_HEIGHT, FLAP_ROWS, FOOT_LENGTH, Girth, Heel, Recipe, STITCHES,
};
use crate::units::Length;

/// Decides every number of a recipe whose fields are each in range; the leg follows `calf`;
/// none where it is knitted and follows nothing any more.
pub(super) fn decide(recipe: &Recipe, calf: Option<&[Girth]>) -> Result<Numbers, FieldError> {
    let FootRounds {
        around,
        shape,
        measured,
        room: whole_foot,
        needed,
        plain,
    } = rounds_of_foot(recipe)?;
    let heel = around / 2;
    let Some(foot) = whole_foot.checked_sub(needed) else {
        if measured >= needed {
            let most = measured - needed;
            return Err(FieldError::new(
                "adjust.foot",
                Problem::FootRoundsMissing { most },
            ));
        }
        return Err(too_short(recipe, needed, whole_foot, plain));
    };
    let rounds = Rounds::of(recipe);
    let cuff = rounds.plain.rounds_in(recipe.cuff.length).max(1);
    let under_cuff = rounds.of_leg(recipe.leg, cuff);
    let Some(leg) = under_cuff.checked_add_signed(recipe.adjust.leg) else {
        return Err(FieldError::new(
            "adjust.leg",
            Problem::LegRoundsLeftOut { most: under_cuff },
        ));
    };
    let toe_left = toe::left(around, recipe);
    Ok(Numbers {
        around,
        cuff,
        leg,
        calf: Profile::decide(recipe, calf, around, leg)?,
        heel,
        panel: panel(recipe, heel)?,
        shape,
        foot,
        pick_up_more: 0,
        whole_foot,
        plain_foot: plain,
        toe_left,
    })
}

/// Numbers of a sock by a written pattern, of so many stitches around: its own parts need none of them, and
/// a part of ours is as high as the recipe has it.
pub(super) fn numbers_for(recipe: &Recipe, around: u16) -> Result<Numbers, FieldError> {
    let cuff = to_u16(recipe.swatch.rounds_in(recipe.cuff.length)).max(1);
    let leg = to_u16(recipe.swatch.rounds_in(recipe.leg)).saturating_sub(cuff);
    let sock_foot = recipe.foot.length.less(recipe.fit.length_ease);
    let whole_foot = to_u16(recipe.swatch.rounds_in(sock_foot));
    Ok(Numbers {
        around,
        cuff,
        leg,
        calf: Profile::decide(recipe, None, around, leg)?,
        heel: around / 2,
        panel: None,
        shape: HeelNumbers::Late,
        foot: whole_foot,
        pick_up_more: 0,
        whole_foot,
        // no motif of ours lies on a pattern's sock
        plain_foot: whole_foot,
        toe_left: toe::left(around, recipe),
    })
}

/// What the foot takes and has.
struct FootRounds {
    around: u16,
    shape: HeelNumbers,
    /// Rounds of the foot as measured.
    measured: u16,
    /// The same with those added or left out.
    room: u16,
    /// Rounds of heel, gusset and toe.
    needed: u16,
    /// Rounds of heel and toe: nothing there carries a motif.
    plain: u16,
}

/// The rounds that heel and toe take of the foot, the gusset hurried where it has to be.
fn rounds_of_foot(recipe: &Recipe) -> Result<FootRounds, FieldError> {
    let around = stitches_around(recipe)?;
    let heel = around / 2;
    let mut shape = heel_numbers(recipe, around)?;
    let sock_foot = recipe.foot.length.less(recipe.fit.length_ease);
    // A heel's rows lie under the foot: they are the first of its length (from memory).
    let narrow = recipe.fit.narrow_heel;
    let under_heel = match &shape {
        HeelNumbers::Flap(f) => {
            heel_turn::rows(heel, f.turn, narrow) + pick_up::rounds(recipe.needles)
        }
        HeelNumbers::ToeUpFlap(f) => f.rows.turn_rows(),
        HeelNumbers::ShortRow { rows, between } => {
            short_row_heel::under_foot(*rows, *between, recipe.direction)
        }
        HeelNumbers::Late => afterthought_heel::rounds(around, narrow),
    };
    let fixed = under_heel + toe::rounds(around, recipe);
    let measured = Rounds::of(recipe).of_foot(sock_foot, fixed);
    let whole_foot = measured.saturating_add_signed(recipe.adjust.foot);
    if fixed + shape.gusset_rounds() > whole_foot
        && let Some(gusset) = shape.gusset_mut()
    {
        gusset.every_round = true;
    }
    let needed = fixed + shape.gusset_rounds();
    Ok(FootRounds {
        around,
        shape,
        measured,
        room: whole_foot,
        needed,
        plain: fixed,
    })
}

/// What a heel of ours asks for, over so many stitches around.
pub(super) fn heel_numbers(recipe: &Recipe, around: u16) -> Result<HeelNumbers, FieldError> {
    let heel = around / 2;
    let fit = recipe.fit;
    match (recipe.heel, recipe.direction) {
        (Heel::FlapAndGusset { turn, corners, .. }, Direction::CuffDown) => {
            let rows = flap_rows(recipe, heel)?;
            let turned = heel_turn::turned(heel, turn, fit.narrow_heel);
            let picked_up = 2 * (rows / 2 + u16::from(corners));
            let Some(extra) = (turned + picked_up).checked_sub(heel) else {
                return Err(FieldError::new(
                    "heel.rows",
                    Problem::FlapTooShort {
                        rows,
                        around,
                        least: least_flap_rows(recipe, heel),
                        square: heel,
                    },
                ));
            };
            let gusset = Gusset {
                shapings: extra / 2,
                every_round: false,
            };
            Ok(HeelNumbers::Flap(FlapNumbers {
                turn,
                rows,
                corners,
                gusset,
            }))
        }
        (Heel::FlapAndGusset { .. }, Direction::ToeUp) => {
            let gusset = Gusset {
                shapings: flap_rows(recipe, heel)? / 2,
                every_round: false,
            };
            let rows = toe_up_heel::short_rows(heel, fit.narrow_heel);
            Ok(HeelNumbers::ToeUpFlap(ToeUpFlapNumbers { gusset, rows }))
        }
        (Heel::ShortRow { between }, _) => Ok(HeelNumbers::ShortRow {
            rows: short_row_heel::short_rows(heel, fit.narrow_heel),
            between: if fit.high_instep {
                between.max(short_row_heel::HIGH_INSTEP)
            } else {
                between
            },
        }),
        (Heel::Afterthought { .. }, _) => Ok(HeelNumbers::Late),
    }
}

/// The fewest rows that a flap can have: enough for its edges to give back, with the corners, the
/// stitches that the turn took.
fn least_flap_rows(recipe: &Recipe, heel: u16) -> u16 {
    let enough = match (recipe.heel, recipe.direction) {
        (Heel::FlapAndGusset { turn, corners, .. }, Direction::CuffDown) => {
            let turned = heel_turn::turned(heel, turn, recipe.fit.narrow_heel);
            heel.saturating_sub(turned + 2 * u16::from(corners))
        }
        _ => 0,
    };
    enough.next_multiple_of(2).max(*FLAP_ROWS.start())
}

/// Rows of a flap: asked for, or as many as cover its height, or by the heel's stitches. A square
/// flap has as many rows as stitches; for a high instep it is a fifth longer (from memory). From the
/// toe up a flap is three quarters of that: the turn under the heel adds the rest.
fn flap_rows(recipe: &Recipe, heel: u16) -> Result<u16, FieldError> {
    if let Heel::FlapAndGusset {
        rows: Some(rows), ..
    } = recipe.heel
    {
        return Ok(rows);
    }
    if let Heel::FlapAndGusset {
        height: Some(height),
        ..
    } = recipe.heel
    {
        let rows = to_u16(even_rows_in(recipe, height));
        let (least, most) = (least_flap_rows(recipe, heel), *FLAP_ROWS.end());
        return if (least..=most).contains(&rows) {
            Ok(rows)
        } else {
            Err(FieldError::new(
                "heel.height",
                Problem::FlapRowsOutOfRange {
                    height,
                    rows,
                    least,
                    most,
                    least_height: height_of_rows(recipe, least).max(*FLAP_HEIGHT.start()),
                    most_height: height_of_rows(recipe, most).min(*FLAP_HEIGHT.end()),
                },
            ))
        };
    }
    let rows = match (recipe.direction, recipe.fit.high_instep) {
        (Direction::CuffDown, false) => heel,
        (Direction::CuffDown, true) => heel * 6 / 5,
        (Direction::ToeUp, false) => heel * 3 / 4,
        (Direction::ToeUp, true) => heel * 9 / 10,
    };
    Ok(rows / 2 * 2)
}

fn too_short(recipe: &Recipe, needed: u16, room: u16, plain: u16) -> FieldError {
    let rounds = Rounds::of(recipe);
    FieldError::new(
        "foot.length",
        Problem::FootTooShort {
            needed,
            needed_length: rounds.foot_of(needed, plain),
            room,
            room_length: rounds.foot_of(room, plain),
            shortest: shortest_foot(recipe),
        },
    )
}

/// The shortest foot, in whole millimetres, that heel and toe fit. A longer foot is also a wider one
/// where its circumference is estimated, so each is tried.
fn shortest_foot(recipe: &Recipe) -> Option<Length> {
    let from = recipe.foot.length.tenths().div_ceil(10);
    let mut longer = (from..=FOOT_LENGTH.end().tenths() / 10).map(Length::mm);
    longer.find(|length| {
        let mut longer = recipe.clone();
        longer.foot.length = *length;
        rounds_of_foot(&longer).is_ok_and(|rounds| rounds.needed <= rounds.room)
    })
}

/// The knitter's own number, or the one that fits.
fn stitches_around(recipe: &Recipe) -> Result<u16, FieldError> {
    let unit = unit(recipe);
    if let Some(n) = recipe.stitches {
        return if n.is_multiple_of(unit) {
            Ok(n)
        } else {
            let (below, above) = recipe.multiples_near(n, unit);
            Err(FieldError::new(
                "stitches",
                Problem::RepeatsNotWhole {
                    stitches: n,
                    multiple: unit,
                    below,
                    above,
                },
            ))
        };
    }
    let around = Around::decide(recipe);
    if STITCHES.contains(&around.stitches) {
        return Ok(around.stitches);
    }
    Err(FieldError::new(
        "stitches",
        Problem::StitchesOutOfRange {
            stitches: around.exact,
            least: *STITCHES.start(),
            most: *STITCHES.end(),
        },
    ))
}

fn to_u16(n: u64) -> u16 {
    u16::try_from(n).unwrap_or(u16::MAX)
}
