//! Whether a foot is knitted as long as it was promised: rows counted in the fabric itself, from
//! the tip of the toe to the back of the heel, down the column in the middle of the sole.

use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{Cuff, Direction, FlapTexture, Heel, Method, Recipe, Toe, Turn};
use evenloop_engine::units::Length;
use evenloop_engine::wire::{plan_document, write_recipe};
use evenloop_tests::model::closed::{Shape, sums};
use evenloop_tests::model::compare::by_hand_watched;
use evenloop_tests::model::hands::{Hands, How, Id, Part};
use evenloop_tests::model::page;

/// The two stitches in the middle of the sole (or of the heel), where decreases never come.
fn middle(hands: &Hands) -> Option<[Id; 2]> {
    let ring = hands.from_begin();
    let upper = |id: &Id| hands.made[*id].part == Part::Instep;
    let mut turned = ring;
    let instep = turned.iter().position(upper)?;
    turned.rotate_left(instep);
    // The instep may be listed in two parts: begin right after it.
    while upper(turned.last()?) {
        turned.rotate_right(1);
    }
    let lower: Vec<Id> = turned.into_iter().filter(|id| !upper(id)).collect();
    Some([
        *lower.get(lower.len() / 2 - 1)?,
        *lower.get(lower.len() / 2)?,
    ])
}

/// Rows in the column of a stitch that were knitted after so many moves, that stitch's included.
fn rows_since(hands: &Hands, mut id: Id, moves: usize) -> usize {
    let mut rows = 0;
    while hands.made[id].born > moves {
        // The waste yarn comes out again.
        rows += usize::from(hands.made[id].how != How::Waste);
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
    let toe = if sums.toe_up {
        0
    } else {
        sums.toe_rounds as usize
    };
    // The back of the heel: where the turn begins (ends, from the toe up), or in the fold between
    // short rows inward and outward, or in the waste yarn. Of the fold the rounds between count;
    // a heel knitted last is as long as its rounds.
    let (at, after, more) = match sums.shape {
        Shape::Flap { rows, .. } => ("heel-flap", rows, 0),
        Shape::FlapToeUp { each_side, .. } => ("heel-turn", 2 * each_side + 2, 0),
        Shape::ShortRow { each_side, between } if sums.toe_up => {
            ("short-row-heel", 2 * each_side, between)
        }
        Shape::ShortRow { each_side, between } => {
            ("short-row-heel", 2 * each_side + 1 + between, between)
        }
        Shape::Late { .. } if sums.toe_up => ("foot", sums.foot_rounds, sums.shape.takes(true)),
        Shape::Late { .. } => ("leg", sums.leg_rounds, sums.shape.takes(false)),
    };
    let (after, more) = (after as usize, more as usize);
    let (mut back, mut rows) = (0, None);
    by_hand_watched(recipe, &page, |section, index, hands| {
        let worked = section.steps[..=index]
            .iter()
            .filter(|s| s.form != "walk")
            .count();
        if sums.toe_up {
            if section.kind == at && worked == after && rows.is_none() {
                rows = middle(hands).map(|ids| ids.map(|id| rows_since(hands, id, 0) - 1));
            }
            return;
        }
        if section.kind == at && worked <= after {
            back = hands.now;
        }
        let last = index + 1 == section.steps.len();
        if section.kind == "foot" && last {
            rows = middle(hands).map(|ids| ids.map(|id| rows_since(hands, id, back)));
        }
    })?;
    let rows = rows.ok_or("there is no foot")?;
    Ok(rows.map(|rows| rows + toe + more))
}

fn sock(direction: Direction, heel: Heel, needles: Method) -> Recipe {
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
        toe: Toe::default(),
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
    for needles in Method::ALL {
        for (direction, heel) in [
            (Direction::CuffDown, flap(Turn::Round)),
            (Direction::CuffDown, flap(Turn::Square)),
            (Direction::CuffDown, flap(Turn::Band)),
            (Direction::CuffDown, Heel::ShortRow { between: 0 }),
            (Direction::CuffDown, Heel::ShortRow { between: 3 }),
            (Direction::CuffDown, Heel::Afterthought),
            (Direction::ToeUp, flap(Turn::Round)),
            (Direction::ToeUp, Heel::ShortRow { between: 0 }),
            (Direction::ToeUp, Heel::ShortRow { between: 3 }),
            (Direction::ToeUp, Heel::Afterthought),
        ] {
            let recipe = sock(direction, heel, needles);
            let promised = sums(&recipe).expect("there is such a sock").whole_foot as usize;
            let rows = rows_of_the_foot(&recipe).expect("it can be measured");
            // Where the round begins in the middle of the sole, its halves differ by a row; the row
            // knitted over a waste yarn belongs to foot and leg alike.
            let off = rows.map(|rows| rows.abs_diff(promised));
            assert!(
                off.iter().min() <= Some(&1) && off.iter().max() <= Some(&2),
                "{direction:?}, {heel:?} on {needles:?}: {rows:?} rows in the middle of the sole, \
                 {promised} promised"
            );
        }
    }
}
