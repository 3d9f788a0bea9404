//! What a fabric, a repeat, a flap's texture and a needle do to a sock, and feet of every size in plain
//! knitting.

use evenloop_engine::error::Problem;
use evenloop_engine::foot::Foot;
use evenloop_engine::plan::{Caution, PlanError, make};
use evenloop_engine::recipe::{
    BindOff, CastOn, CircularLength, Direction, FlapTexture, Heel, HeelTurn, Method, Motif,
    MotifPlacement, NearestFit, Number, NumberField, Recipe, Seating,
};
use evenloop_engine::swatch::{FlapSwatch, PatternSwatch, Swatch};
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::usual::usual;

use super::{GAUGE, MEMORY, PRACTICE, gauge, plan};

fn foot(length: u32, round: Option<u32>) -> Foot {
    Foot {
        length: Length(length),
        circumference: round.map(Length),
        heel_diagonal: None,
    }
}

#[allow(clippy::expect_used, reason = "the rows are written here")]
fn motif(rows: &[&str], place: MotifPlacement) -> Motif {
    Motif {
        rows: rows.iter().map(|row| row.parse().expect("a row")).collect(),
        place,
        ..Motif::default()
    }
}

/// Stitches to 10 cm and rounds to 10 cm, from bulky to fine.
const GAUGES: [(u16, u16); 8] = [
    (20, 28),
    (22, 30),
    (24, 34),
    (26, 36),
    (28, 40),
    (30, 42),
    (34, 46),
    (38, 52),
];

/// Feet from a baby's of 9.5 cm to 31 cm (48 EU, from memory), their circumference estimated and
/// measured: of those that a sock has stitches for, none has a caution that rounding alone made.
#[test]
fn rounding_alone_raises_no_caution_on_a_foot_of_any_size() {
    let (mut feet, mut planned, mut too_few) = (0, 0, 0);
    for length in (950..=3100).step_by(25) {
        for round in [None, Some((length * 88 / 100).max(900)), Some(length)] {
            feet += 1;
            for (stitches, rounds) in GAUGES {
                let recipe = Recipe {
                    foot: foot(length, round),
                    swatch: gauge(stitches, rounds),
                    ..Recipe::default()
                };
                let outcome = match make(&recipe) {
                    Ok(plan) => plan.outcome,
                    Err(PlanError::Impossible(fields)) => {
                        let few = |problem: &Problem| {
                            matches!(
                                problem,
                                Problem::StitchesOutOfRange { .. } | Problem::FootTooShort { .. }
                            )
                        };
                        assert!(fields.iter().all(|one| few(&one.problem)), "{fields:?}");
                        too_few += 1;
                        continue;
                    }
                    Err(bug) => panic!("{bug}"),
                };
                planned += 1;
                let of_the_foot = [
                    Caution::SmallChild,
                    Caution::CircumferenceEstimated,
                    Caution::GussetEveryRound,
                ];
                let by_rounding = outcome
                    .cautions
                    .iter()
                    .find(|one| !of_the_foot.contains(one));
                assert_eq!(
                    by_rounding, None,
                    "{length} tenths of a mm, {round:?} round, {stitches} to 10 cm: {} stitches",
                    outcome.stitches
                );
            }
        }
    }
    println!(
        "{feet} feet in {} gauges: {planned} socks planned, none with a caution of rounding; \
         {too_few} have no stitches or rounds for it",
        GAUGES.len()
    );
    assert!(
        feet >= 200 && planned > 1400,
        "{feet} feet, {planned} socks"
    );
}

/// What a fabric draws in without having been measured, in percent of stockinette. Ribs draw in more
/// than is allowed for, and give it back when they are worn.
const DRAWN_IN: [(&str, &[&str], u8, &str); 12] = [
    ("rib, 1 by 1", &["k1 p1"], 10, PRACTICE),
    ("rib, 2 by 2", &["k2 p2"], 10, PRACTICE),
    ("rib, 3 by 1", &["k3 p1"], 10, PRACTICE),
    ("a purl in 23", &["k22 p1"], 2, PRACTICE),
    ("twisted rib", &["kt1 p1"], 13, PRACTICE),
    (
        "cables between purls",
        &["p1 k4 p1", "p1 cr2/2 p1", "p1 k4 p1"],
        13,
        PRACTICE,
    ),
    ("cables side by side", &["k4", "cr2/2", "k4"], 20, PRACTICE),
    ("every second stitch slipped", &["k1 s1", "k2"], 5, PRACTICE),
    (
        "slipped stitches changing",
        &["k1 s1", "s1 k1"],
        10,
        PRACTICE,
    ),
    ("seed stitch", &["k1 p1", "p1 k1"], 0, PRACTICE),
    ("lace", &["k1 yo ssk k1 k2tog yo", "k6"], 0, PRACTICE),
    ("stockinette", &["k4"], 0, PRACTICE),
];

#[test]
fn patterned_fabric_is_narrower_and_says_so() {
    for (fabric, rows, percent, source) in DRAWN_IN {
        let recipe = Recipe {
            foot: foot(2450, Some(2250)),
            swatch: GAUGE,
            needles: Method::MagicLoop {
                seating: Seating::InstepAndSole,
            },
            motif: Some(motif(rows, MotifPlacement::Front)),
            ..Recipe::default()
        };
        let outcome = plan(&recipe).outcome;
        let said = outcome.cautions.iter().find_map(|caution| match caution {
            Caution::PatternNotMeasured(percent) => Some(*percent),
            _ => None,
        });
        assert_eq!(said.unwrap_or(0), percent, "{fabric} ({source})");
        // Not more than 2.6 stitches off the wished 10 %, in the fabric that it is.
        let off = (outcome.ease_permille - 100).abs();
        assert!(off <= 43, "{fabric}: {} stitches, {off}", outcome.stitches);
    }
}

/// 2 by 2 rib of 22.5 cm less 10 % at 30 stitches to 10 cm: 60.75 in stockinette, 64 where the leg is a
/// tenth and the foot half of that narrower (worked out by hand: 60.75 / 0.925 = 65.7, and 64 and 72
/// hold whole repeats; 72 would be wider than the foot less 3 %).
#[test]
fn a_swatch_in_the_pattern_decides() {
    let mut recipe = Recipe {
        foot: foot(2450, Some(2250)),
        swatch: GAUGE,
        motif: Some(motif(&["k2 p2"], MotifPlacement::AllRound)),
        ..Recipe::default()
    };
    assert_eq!(plan(&recipe).outcome.stitches, 64);
    // 40 stitches to 10 cm: leg 0.75, foot 0.875 of stockinette, between them 0.813; 74.7.
    recipe.swatch.pattern = Some(PatternSwatch {
        stitches: 40,
        width: Length::cm(10),
    });
    let outcome = plan(&recipe).outcome;
    assert_eq!(outcome.stitches, 72);
    assert_eq!(outcome.circumference, Length::mm(210));
    assert_eq!(outcome.leg_circumference, Some(Length::cm(18)));
    let measured = |caution: &Caution| !matches!(caution, Caution::PatternNotMeasured(_));
    assert!(outcome.cautions.iter().all(measured));
}

/// A repeat of 23 all round wants 92 stitches: 30.7 cm round a foot of 22.5.
#[test]
fn a_repeat_that_does_not_fit_is_refused_with_one_placement_that_does() {
    let recipe = Recipe {
        foot: foot(2450, Some(2250)),
        swatch: GAUGE,
        needles: Method::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        motif: Some(motif(&["k22 p1"], MotifPlacement::AllRound)),
        ..Recipe::default()
    };
    let refused = make(&recipe).expect_err("far too wide");
    assert_eq!(refused.fields()[0].field, "motif.place");
    let Problem::FarFromFoot {
        stitches: 92,
        by_repeat: true,
        nearest: Some(nearest),
        ..
    } = &refused.fields()[0].problem
    else {
        panic!("{refused:?}");
    };
    assert!(nearest.front_only);
    let mended = Recipe {
        motif: Some(motif(&["k22 p1"], MotifPlacement::Front)),
        ..recipe
    };
    assert_eq!(plan(&mended).outcome.stitches, nearest.stitches);
}

#[test]
fn a_tube_larger_than_the_foot_is_called_so() {
    let of = |stitches: u16| Recipe {
        foot: foot(2450, Some(2250)),
        swatch: GAUGE,
        stitches: Some(stitches),
        ..Recipe::default()
    };
    let refused = make(&of(120)).expect_err("40 cm round a foot of 22.5");
    assert_eq!(refused.fields()[0].field, "stitches");
    let cautions = plan(&of(84)).outcome.cautions;
    let fits = NearestFit {
        stitches: 60,
        front_only: false,
    };
    assert_eq!(cautions, [Caution::LargerThanFoot(Some(fits))]);
    assert_eq!(
        plan(&of(68)).outcome.cautions,
        [Caution::LargerThanFoot(Some(fits))]
    );
    assert_eq!(plan(&of(60)).outcome.cautions, []);
}

/// Repeats of every width all round: where the sock is more than 2.6 stitches off the wish, the repeat
/// is named, or the sock refused with the placement of the motif.
#[test]
fn a_repeat_that_moves_the_ease_is_named() {
    let (mut far, mut refused) = (0, 0);
    for width in 1..=24_u16 {
        for rows in [
            vec![format!("k{width}")],
            vec![format!("p{width}"), format!("k{width}")],
            vec![format!("s{width}"), format!("k{width}")],
            if width > 1 {
                vec![format!("k{} p1", width - 1)]
            } else {
                vec!["kt1".to_owned()]
            },
        ] {
            let rows: Vec<&str> = rows.iter().map(String::as_str).collect();
            let recipe = Recipe {
                foot: foot(2450, Some(2250)),
                swatch: GAUGE,
                needles: Method::MagicLoop {
                    seating: Seating::InstepAndSole,
                },
                motif: Some(motif(&rows, MotifPlacement::AllRound)),
                ..Recipe::default()
            };
            let outcome = match make(&recipe) {
                Ok(plan) => plan.outcome,
                Err(why) => {
                    assert_eq!(why.fields()[0].field, "motif.place", "{rows:?}");
                    refused += 1;
                    continue;
                }
            };
            let legs = outcome.leg_circumference.unwrap_or(outcome.circumference);
            let mean = i64::from(legs.0 + outcome.circumference.0) / 2;
            // One stitch is 3.33 mm.
            if (mean - 2025).abs() * 10 > 26 * 33 {
                far += 1;
                let named = outcome.cautions.iter().any(|caution| {
                    matches!(
                        caution,
                        Caution::RepeatDecides(_) | Caution::LargerThanFoot(_)
                    )
                });
                assert!(named, "{rows:?}: {} stitches", outcome.stitches);
            }
        }
    }
    assert!(far > 10 && refused > 5, "{far} {refused}");
}

/// How high flaps are, in tenths of a millimetre, at 42 rounds of stockinette to 10 cm: by texture, and
/// as measured. A slipped flap of 32 rows in sock yarn is about 6 to 6.5 cm.
const FLAPS: [(FlapTexture, u32, u16, &str); 8] = [
    (FlapTexture::SlippedStitch, 500, 26, MEMORY),
    (FlapTexture::SlippedStitch, 600, 30, MEMORY),
    (FlapTexture::SlippedStitch, 635, 32, MEMORY),
    (FlapTexture::SlippedStitch, 700, 36, MEMORY),
    (FlapTexture::GarterEdge, 635, 32, MEMORY),
    (FlapTexture::EyeOfPartridge, 500, 24, MEMORY),
    (FlapTexture::EyeOfPartridge, 635, 30, MEMORY),
    (FlapTexture::EyeOfPartridge, 700, 34, MEMORY),
];

#[test]
fn a_flap_by_its_height_has_the_rows_of_its_texture() {
    let of = |texture, height| Recipe {
        heel: Heel::FlapAndGusset {
            texture,
            turn: HeelTurn::Round,
            rows: None,
            height: Some(Length(height)),
            corners: false,
        },
        ..Recipe::default()
    };
    for (texture, height, rows, source) in FLAPS {
        let outcome = plan(&of(texture, height)).outcome;
        assert_eq!(outcome.flap_rows, rows, "{texture:?}, {height} ({source})");
    }
    // Measured on the first flap: 32 rows were 7 cm, so 6.35 cm take 29.03, and 6.5 take 29.7.
    let measured = |height| {
        let mut recipe = of(FlapTexture::SlippedStitch, height);
        recipe.swatch.flap = Some(FlapSwatch {
            rows: 32,
            height: Length::cm(7),
        });
        plan(&recipe).outcome.flap_rows
    };
    assert_eq!([measured(635), measured(650), measured(700)], [30, 30, 32]);
}

/// The narrowest tube that reaches round a short circular, its stitches spread to a quarter more.
const CIRCULARS: [(CircularLength, u32, &str); 4] = [
    (CircularLength::Cm20, 1600, PRACTICE),
    (CircularLength::Cm23, 1840, PRACTICE),
    (CircularLength::Cm25, 2000, PRACTICE),
    (CircularLength::Cm30, 2400, PRACTICE),
];

#[test]
fn a_tube_has_to_reach_round_a_short_circular() {
    for (length, narrowest, source) in CIRCULARS {
        for (wider, fits) in [(-1, false), (0, true)] {
            // 60 stitches over just that width.
            let width = Length(narrowest.saturating_add_signed(wider));
            let recipe = Recipe {
                foot: foot(3000, Some(2600)),
                swatch: Swatch {
                    stitches: 60,
                    width,
                    ..GAUGE
                },
                stitches: Some(60),
                needles: Method::ShortCircular {
                    length: Some(length),
                },
                ..Recipe::default()
            };
            let planned = make(&recipe);
            assert_eq!(planned.is_ok(), fits, "{length:?} ({source})");
            if let Err(why) = planned {
                assert_eq!(why.fields()[0].field, "needles.length");
            }
        }
    }
}

/// Where nobody said how long the circular is, it may be the shortest: a child's sock of 15.6 cm does
/// not reach round it.
#[test]
fn a_childs_sock_does_not_reach_round_a_short_circular() {
    let recipe = Recipe {
        foot: foot(1700, Some(1700)),
        swatch: gauge(28, 40),
        needles: Method::ShortCircular { length: None },
        ..Recipe::default()
    };
    let refused = make(&recipe).expect_err("too narrow");
    assert_eq!(refused.fields()[0].field, "needles.length");
}

/// Legs, cuffs and length ease of children's socks, in tenths of a millimetre.
const CHILDREN: [(u32, [u32; 3], &str); 4] = [
    (950, [650, 150, 50], PRACTICE),
    (1300, [850, 200, 50], PRACTICE),
    (1700, [1150, 300, 50], PRACTICE),
    (2400, [1600, 400, 100], PRACTICE),
];

#[test]
fn what_is_usual_follows_the_foot() {
    for (foot, expected, source) in CHILDREN {
        let fields = [
            NumberField::Leg,
            NumberField::CuffLength,
            NumberField::LengthEase,
        ];
        let lengths = fields.map(|field| match usual(field, Length(foot), LengthUnit::Cm) {
            Some(Number::Length(length)) => length.tenths(),
            _ => 0,
        });
        assert_eq!(lengths, expected, "{foot} ({source})");
    }
}

/// Tender or swollen legs: common practice, no source. The top is no narrower than the foot, and the
/// edge the stretchiest.
#[test]
fn tender_legs_get_a_leg_without_negative_ease() {
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        let mut recipe = Recipe {
            direction,
            foot: foot(2450, Some(2250)),
            swatch: GAUGE,
            ..Recipe::default()
        };
        recipe.fit.tender_legs = true;
        let plan = plan(&recipe);
        assert_eq!(plan.recipe.cast_on, CastOn::TwistedLongTail);
        assert_eq!(plan.recipe.bind_off, BindOff::YarnOver);
        // 67.5 stitches are 22.5 cm; whole ribs of four.
        assert_eq!(plan.outcome.cast_on, 68, "{direction:?}");
        assert_eq!(plan.outcome.stitches, 60);
        assert_eq!(plan.outcome.cautions, [Caution::TenderLegs]);
    }
}
