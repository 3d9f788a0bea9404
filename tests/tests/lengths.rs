//! Whether a foot is knitted as long as it was promised: rows counted in the fabric itself, from
//! the tip of the toe to the back of the heel, down the column in the middle of the sole.

use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{
    Cuff, Direction, FlapTexture, Heel, HeelOpening, HeelTurn, Method, Recipe, Toe,
};
use evenloop_engine::units::Length;
use evenloop_engine::wire::{plan_document, write_recipe};
use evenloop_tests::model::closed::{Shape, Tip, sums};
use evenloop_tests::model::compare::by_hand_watched;
use evenloop_tests::model::hands::{Hands, How, Id, Part};
use evenloop_tests::model::page;

/// The two stitches in the middle of the sole (or of the heel), where decreases never come.
fn middle(hands: &Hands) -> Option<[Id; 2]> {
    middle_of(hands, |part| part != Part::Instep)
}

/// The two stitches in the middle of the instep.
fn middle_above(hands: &Hands) -> Option<[Id; 2]> {
    middle_of(hands, |part| part == Part::Instep)
}

fn middle_of(hands: &Hands, wanted: impl Fn(Part) -> bool) -> Option<[Id; 2]> {
    let wanted = |id: &Id| wanted(hands.made[*id].part);
    let mut ring = hands.from_begin();
    let first = ring.iter().position(wanted)?;
    ring.rotate_left(first);
    // They may be listed in two parts: begin right after the others.
    while wanted(ring.last()?) {
        ring.rotate_right(1);
    }
    let half: Vec<Id> = ring.into_iter().filter(wanted).collect();
    Some([*half.get(half.len() / 2 - 1)?, *half.get(half.len() / 2)?])
}

/// Rows of the longest column of the sole, its cast-on loop included.
fn longest_below(hands: &Hands) -> Option<usize> {
    let sole = |id: &Id| hands.made[*id].part != Part::Instep;
    let columns = hands.from_begin().into_iter().filter(sole);
    columns.map(|id| rows_since(hands, id, 0)).max()
}

/// Rows that a toe in short rows makes the foot longer: half of all that lie between sole and instep,
/// round the tip, made after so many moves. Where it is grafted, that makes a row more.
fn rows_to_the_tip(hands: &Hands, moves: usize, grafted: usize) -> Option<usize> {
    let rows = |ids: [Id; 2]| ids.map(|id| rows_since(hands, id, moves)).into_iter().max();
    Some((rows(middle(hands)?)? + rows(middle_above(hands)?)? + grafted) / 2)
}

/// Rows in the column of a stitch that were knitted after so many moves, that stitch's included.
fn rows_since(hands: &Hands, mut id: Id, moves: usize) -> usize {
    let mut rows = 0;
    while hands.made[id].born > moves {
        // The waste yarn comes out again.
        // A row that is drawn out later is no more of the sock than one of waste yarn.
        let drawn_out = hands.to_snip.iter().any(|[_, own]| *own == id);
        rows += usize::from(hands.made[id].how != How::Waste && !drawn_out);
        let [below] = hands.made[id].parents[..] else {
            return rows;
        };
        id = below;
    }
    rows
}

/// Rows from the toe's tip to the back of the heel in the two columns in the middle.
fn rows_of_the_foot(recipe: &Recipe) -> Result<[usize; 2], String> {
    let sums = sums(recipe).map_err(|no| format!("{no:?}"))?;
    let document = plan_document(&write_recipe(recipe)).map_err(|e| format!("{e:?}"))?;
    let page = page::read(&document)?;
    let cup = matches!(sums.tip, Tip::Cup { .. });
    let mut toe = if sums.toe_up || cup {
        0
    } else {
        sums.toe_rounds as usize
    };
    // The back of the heel: where the turn begins (ends, from the toe up), or in the fold between
    // short rows inward and outward, or in the waste yarn. Of the fold half the rounds between count;
    // a heel knitted last is as long as its rounds.
    let (at, after, more) = match sums.shape {
        Shape::Flap { rows, .. } => ("heel-flap", rows, 0),
        Shape::FlapToeUp { each_side, .. } => ("heel-turn", 2 * each_side + 2, 0),
        Shape::ShortRow {
            each_side, between, ..
        } if sums.toe_up => ("short-row-heel", 2 * each_side, between.div_ceil(2)),
        Shape::ShortRow {
            each_side, between, ..
        } => (
            "short-row-heel",
            2 * each_side + 1 + between,
            between.div_ceil(2),
        ),
        Shape::Late { .. } if sums.toe_up => ("foot", sums.foot_rounds, sums.shape.takes(true)),
        Shape::Late { .. } => ("leg", sums.leg_rounds, sums.shape.takes(false)),
    };
    let (after, more) = (after as usize, more as usize);
    let (mut back, mut rows, mut foot) = (0, None, 0);
    // Rows under a toe knitted up that are counted to the tip, not through it.
    let mut through = 0;
    by_hand_watched(recipe, &page, |section, index, hands| {
        let worked = section.steps[..=index]
            .iter()
            .filter(|s| s.form != "walk")
            .count();
        let last = index + 1 == section.steps.len();
        if cup && section.kind == "toe" && last {
            let grafted = usize::from(!sums.toe_up);
            toe = rows_to_the_tip(hands, foot, grafted).unwrap_or_default();
            if sums.toe_up {
                let ids = middle(hands).unwrap_or_default();
                through = rows_since(hands, ids[0], 0) - 1;
            }
        }
        if sums.toe_up {
            if section.kind == at && worked == after && rows.is_none() {
                // A toe for one foot has its tip beside the middle: the longest column leads there.
                let from_the_tip = match sums.tip {
                    Tip::Shaped(_) => longest_below(hands).map(|rows| [rows; 2]),
                    _ => middle(hands).map(|ids| ids.map(|id| rows_since(hands, id, 0))),
                };
                rows = from_the_tip.map(|rows| rows.map(|rows| rows - 1));
            }
            return;
        }
        if section.kind == at && worked <= after {
            back = hands.now;
        }
        if section.kind == "foot" && last {
            foot = hands.now;
            rows = middle(hands).map(|ids| ids.map(|id| rows_since(hands, id, back)));
        }
    })?;
    let rows = rows.ok_or("there is no foot")?;
    Ok(rows.map(|rows| rows - through + toe + more))
}

fn sock(direction: Direction, heel: Heel, toe: Toe, needles: Method) -> Recipe {
    Recipe {
        direction,
        foot: Foot {
            length: Length::cm(26),
            circumference: None,
            heel_diagonal: None,
        },
        cuff: Cuff {
            length: Length::cm(1),
            ..Cuff::default()
        },
        leg: Length::cm(2),
        heel,
        toe,
        needles,
        stitches: Some(64),
        ..Recipe::default()
    }
}

#[test]
fn every_foot_is_as_long_as_promised() {
    let flap = |turn| Heel::FlapAndGusset {
        texture: FlapTexture::default(),
        turn,
        height: None,
        rows: None,
        corners: false,
    };
    let late = |opening| Heel::Afterthought { opening };
    for needles in Method::ALL {
        for (direction, heel) in [
            (Direction::CuffDown, flap(HeelTurn::Round)),
            (Direction::CuffDown, flap(HeelTurn::Square)),
            (Direction::CuffDown, flap(HeelTurn::Band)),
            (Direction::CuffDown, Heel::ShortRow { between: 0 }),
            (Direction::CuffDown, Heel::ShortRow { between: 3 }),
            (Direction::CuffDown, late(HeelOpening::WasteYarn)),
            (Direction::CuffDown, late(HeelOpening::Snipped)),
            (Direction::ToeUp, flap(HeelTurn::Round)),
            (Direction::ToeUp, Heel::ShortRow { between: 0 }),
            (Direction::ToeUp, Heel::ShortRow { between: 3 }),
            (Direction::ToeUp, late(HeelOpening::WasteYarn)),
            (Direction::ToeUp, late(HeelOpening::Snipped)),
        ] {
            for toe in Toe::ALL {
                if direction == Direction::ToeUp && toe == Toe::Round {
                    continue;
                }
                let recipe = sock(direction, heel, toe, needles);
                let promised = sums(&recipe).expect("there is such a sock").whole_foot as usize;
                let rows = rows_of_the_foot(&recipe).expect("it can be measured");
                // Where the round begins in the middle of the sole, its halves differ by a row; the
                // row knitted over a waste yarn belongs to foot and leg alike.
                let off = rows.map(|rows| rows.abs_diff(promised));
                // What is grafted between cup and instep makes a row, half of it under the foot.
                let more = usize::from(toe == Toe::ShortRow);
                assert!(
                    off.iter().min() <= Some(&(1 + more)) && off.iter().max() <= Some(&(2 + more)),
                    "{direction:?}, {heel:?}, {toe:?} on {needles:?}: {rows:?} rows in the middle \
                     of the sole, {promised} promised"
                );
            }
        }
    }
}
