//! Made-up motifs: ribs, twisted and slipped stitches, lace, cables, alone and beside each other.

use evenloop_engine::recipe::{Motif, MotifPlacement};

use super::dice::Dice;

pub(super) fn motif(dice: &mut Dice) -> Motif {
    let wide = match dice.among(0, 3) {
        0 => dice.one_of(&[1, 2, 3, 4, 6, 8]),
        1 => dice.one_of(&[2, 4, 5, 6, 7, 8, 10, 12]),
        _ => dice.among(1, 24),
    };
    let tall = match dice.among(0, 3) {
        0 => dice.among(1, 48),
        _ => dice.among(1, 8),
    };
    let rows = (0..tall).map(|_| row(dice, wide));
    Motif {
        rows: rows
            .map(|row| row.parse().unwrap_or_else(|why| panic!("{row}: {why}")))
            .collect(),
        place: if dice.chance(50) {
            MotifPlacement::AllRound
        } else {
            MotifPlacement::Front
        },
        ..Motif::default()
    }
}

/// One row over so many stitches, that makes as many.
fn row(dice: &mut Dice, wide: u32) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut left = wide;
    while left > 0 {
        let run = |dice: &mut Dice| dice.among(1, left.min(4));
        match dice.among(0, 11) {
            0..=3 => {
                let n = run(dice);
                words.push(format!("k{n}"));
                left -= n;
            }
            4..=6 => {
                let n = run(dice);
                words.push(format!("p{n}"));
                left -= n;
            }
            7 => {
                words.push("kt1".into());
                left -= 1;
            }
            // Where all is slipped nothing is worked.
            8 if wide > 1 && !words.is_empty() => {
                words.push("s1".into());
                left -= 1;
            }
            9 if left >= 2 => {
                left -= 2;
                let lace = [
                    ["yo", "ssk"],
                    ["yo", "k2tog"],
                    ["k2tog", "yo"],
                    ["ssk", "yo"],
                ];
                words.extend(dice.one_of(&lace).map(str::to_owned));
            }
            10 if left >= 3 => {
                left -= 3;
                let lace = [
                    ["k2tog", "k1", "yo"],
                    ["yo", "k1", "ssk"],
                    ["yo", "p1", "k2tog"],
                ];
                words.extend(dice.one_of(&lace).map(str::to_owned));
            }
            11 if left >= 2 => {
                let all = dice.among(2, left.min(6));
                let over = dice.among(1, all - 1);
                let way = dice.one_of(&["cr", "cl", "crp", "clp"]);
                words.push(format!("{way}{over}/{}", all - over));
                left -= all;
            }
            _ => {}
        }
    }
    words.join(" ")
}
