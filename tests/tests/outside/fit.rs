//! Stitches around, lengths, and whether it can be put on.

use evenloop_engine::foot::Foot;
use evenloop_engine::plan::{Caution, SectionKind};
use evenloop_engine::recipe::{Cuff, EASE_PERCENT, Edge, Fit, Number, NumberField, Recipe};
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::usual::usual;

use super::{GAUGE, MEMORY, close, gauge, plan, steps};

/// Example: foot of 22.9 cm, ease 10 % (published range 5 to 15 %: "How to Knit Socks", Storey,
/// ISBN 978-1-61212-542-8), 3.0 stitches to the cm: 61.8, so 60. By hand.
#[test]
fn a_foot_of_22_9_cm_at_3_stitches_to_the_cm_takes_60() {
    let foot = Foot {
        length: Length::cm(24),
        circumference: Some(Length(2290)),
        heel_diagonal: None,
    };
    let recipe = Recipe {
        foot,
        swatch: GAUGE,
        ..Recipe::default()
    };
    assert_eq!(recipe.fit.ease_percent, 10);
    assert_eq!(plan(&recipe).outcome.stitches, 60);
}

/// Women 60 to 64, men 72 to 76 in fingering yarn, a multiple of 4: published,
/// knitbettersocks.blogspot.com, January 2014. Foot lengths: women 23 to 25 cm, men 26.5 to 28 cm
/// (from memory); 30 to 32 stitches to 10 cm in women's socks, 32 in men's.
#[test]
fn usual_feet_take_the_usual_stitches() {
    let around = |length: u32, stitches: u16| {
        let foot = Foot {
            length: Length(length),
            circumference: None,
            heel_diagonal: None,
        };
        plan(&Recipe {
            foot,
            swatch: gauge(stitches, 44),
            ..Recipe::default()
        })
        .outcome
        .stitches
    };
    for (length, stitches, usual) in [
        (2400, 30, 60..=64),
        (2500, 30, 60..=64),
        (2300, 32, 60..=64),
        (2400, 32, 60..=64),
        (2650, 32, 72..=76),
        (2700, 32, 72..=76),
        (2800, 32, 72..=76),
    ] {
        let n = around(length, stitches);
        assert!(
            usual.contains(&n),
            "{length} tenths of a mm at {stitches}: {n}"
        );
    }
}

/// Example: foot 24.0 cm, 1 cm shorter (published: wabi-sabi.ca, "Ease-y Socks"), 64 stitches,
/// toe of 20 rounds = 4.8 cm at 4.2 rounds to the cm: the toe begins 18.2 cm from the back of the
/// heel. By hand; the engine works in whole rounds, so within one round (2.4 mm).
#[test]
fn the_toe_begins_18_2_cm_from_the_back_of_the_heel() {
    let foot = Foot {
        length: Length::cm(24),
        circumference: None,
        heel_diagonal: None,
    };
    let recipe = Recipe {
        foot,
        swatch: GAUGE,
        stitches: Some(64),
        ..Recipe::default()
    };
    assert_eq!(
        recipe.fit,
        Fit {
            ease_percent: 10,
            length_ease: Length::cm(1),
            ..Fit::default()
        }
    );
    let outcome = plan(&recipe).outcome;
    assert_eq!(steps(&outcome, SectionKind::Toe), 20);
    let before = [
        SectionKind::HeelTurn,
        SectionKind::Gusset,
        SectionKind::Foot,
    ];
    let rounds: u16 = before
        .iter()
        .map(|kind| steps(&outcome, *kind))
        .sum::<u16>()
        + 1;
    let begins = f64::from(rounds) / 4.2;
    assert!(
        close(begins, 18.2, 1.0 / 4.2),
        "the toe begins at {begins} cm"
    );
    assert!(
        outcome.foot_length.0.abs_diff(2300) <= 24,
        "{}",
        outcome.foot_length
    );
}

/// Foot circumference about 95 % of the length, heel diagonal about 35 % over the circumference:
/// survey proportions, knitty.com/sizing.php. Worked there and here: 24.0 cm long, 22.8 cm round,
/// 30.8 cm round the heel.
#[test]
fn what_was_not_measured_has_the_surveys_proportions() {
    let foot = Foot {
        length: Length::cm(24),
        circumference: None,
        heel_diagonal: None,
    };
    assert_eq!(foot.round_ball(), Length(2280));
    assert_eq!(foot.round_heel().show(LengthUnit::Cm), "30.8\u{a0}cm");
    let measured = Foot {
        circumference: Some(Length::cm(22)),
        ..foot
    };
    assert_eq!(measured.round_heel(), Length::mm(297));
}

/// Feet of the Craft Yarn Council's chart (values from memory; the chart itself was not seen), in mm:
/// length, then round the widest part; how much wider the engine's estimate from the length alone
/// is. Differs because the chart's feet of adults are slim for their length (74 to 88 %) and those of small
/// children stout (100 to 112 %), while the survey above has 95 % for all: a reason to measure, and the plan
/// says so when the width was estimated.
const CHART: [(&str, u32, u32, i32, &str); 12] = [
    ("child, US 0 to 4", 102, 114, -17, MEMORY),
    ("child, US 4 to 8", 127, 140, -19, MEMORY),
    ("child, US 7 to 11", 152, 152, -8, MEMORY),
    ("child, US 10 to 2", 191, 165, 16, MEMORY),
    ("child, US 2 to 6", 203, 178, 15, MEMORY),
    ("woman, US 3 to 6", 229, 178, 40, MEMORY),
    ("woman, US 6 to 9", 254, 203, 38, MEMORY),
    ("woman, US 8 to 12", 279, 229, 36, MEMORY),
    ("man, US 6 to 8", 241, 178, 51, MEMORY),
    ("man, US 8.5 to 10", 267, 203, 51, MEMORY),
    ("man, US 10.5 to 12", 279, 229, 36, MEMORY),
    ("man, US 12.5 to 14", 292, 254, 23, MEMORY),
];

#[test]
fn estimated_feet_beside_the_charts() {
    for (who, length, round, wider, source) in CHART {
        let foot = Foot {
            length: Length::mm(length),
            circumference: None,
            heel_diagonal: None,
        };
        // in tenths of a millimetre, as far as the whole ones above tell it
        let estimated = i64::from(foot.round_ball().0);
        let off = estimated - (i64::from(round) + i64::from(wider)) * 10;
        assert!(off.abs() <= 5, "{who}: {estimated} ({source})");
        // the smallest have no stitches for a sock at this gauge
        if length > 150 {
            let recipe = Recipe {
                foot,
                swatch: GAUGE,
                ..Recipe::default()
            };
            let cautions = plan(&recipe).outcome.cautions;
            assert!(cautions.contains(&Caution::CircumferenceEstimated), "{who}");
        }
    }
}

/// A leg starts to widen 15 to 20 cm above the heel: survey, knitty.com/sizing.php. The usual leg of an adult's
/// sock ends there at the latest, so it needs no shaping.
#[test]
fn a_usual_leg_ends_where_legs_begin_to_widen() {
    for (foot, source) in [
        (2200, "knitty.com/sizing.php"),
        (2500, "knitty.com/sizing.php"),
        (2800, "knitty.com/sizing.php"),
        (3100, "knitty.com/sizing.php"),
    ] {
        let Some(Number::Length(leg)) = usual(NumberField::Leg, Length(foot), LengthUnit::Cm)
        else {
            panic!("{foot}: no usual leg");
        };
        assert!(leg.tenths() <= 2000, "{foot}: {} ({source})", leg.tenths());
    }
}

/// Ease in percent that is published, and the field's range: "How to Knit Socks" (Storey, ISBN
/// 978-1-61212-542-8) for stockinette, colourwork and rib; 3sleeves.blogspot.com (2008) for loose
/// lace.
const EASES: [(&str, u8, &str); 5] = [
    ("stockinette, least", 5, STOREY),
    ("stockinette, most", 15, STOREY),
    ("colourwork", 5, STOREY),
    ("rib, most", 25, STOREY),
    ("loose lace, most", 20, "3sleeves.blogspot.com, 2008"),
];
const STOREY: &str = "How to Knit Socks, Storey";

#[test]
fn every_published_ease_can_be_chosen() {
    for (fabric, ease, source) in EASES {
        assert!(
            EASE_PERCENT.contains(&ease),
            "{fabric}: {ease} % ({source})"
        );
        let fit = Fit {
            ease_percent: ease,
            ..Fit::default()
        };
        let outcome = plan(&Recipe {
            fit,
            ..Recipe::default()
        })
        .outcome;
        // to half of the four stitches that a count is rounded to: 2 of about 70, in permille
        let off = outcome.ease_permille - i32::from(ease) * 10;
        assert!(
            off.abs() <= 30,
            "{fabric}: {} permille ({source})",
            outcome.ease_permille
        );
    }
}

/// Rule of thumb: an inch smaller than the foot for adults, half an inch for children (same book).
/// Differs: ours is ten in the hundred, and then whole repeats of four stitches (13.3 mm here), so
/// it may be half of that off either way. Columns: foot round in mm, mm less by the rule, mm by which
/// the engine's sock is wider.
const INCH: [(u32, u32, i64, &str); 3] = [
    (229, 25, -4, STOREY),
    (210, 25, 1, STOREY),
    (160, 13, -1, STOREY),
];

#[test]
fn a_tenth_is_nearly_an_inch() {
    for (round, less, wider, source) in INCH {
        let foot = Foot {
            length: Length::mm(round + 20),
            circumference: Some(Length::mm(round)),
            heel_diagonal: None,
        };
        let recipe = Recipe {
            foot,
            swatch: GAUGE,
            ..Recipe::default()
        };
        let ours = i64::from(plan(&recipe).outcome.circumference.0 / 10);
        let theirs = i64::from(round - less);
        assert_eq!(ours - theirs, wider, "{round} mm ({source})");
    }
}

/// A plain tube passes the heel gladly up to about one and a half times itself: common practice,
/// no source.
#[test]
fn a_tube_that_must_stretch_far_raises_the_alarm() {
    let hard = |heel_diagonal: u32| {
        let foot = Foot {
            length: Length::cm(24),
            circumference: Some(Length(2280)),
            heel_diagonal: Some(Length(heel_diagonal)),
        };
        let recipe = Recipe {
            foot,
            swatch: GAUGE,
            stitches: Some(60),
            ..Recipe::default()
        };
        let outcome = plan(&recipe).outcome;
        assert_eq!(outcome.circumference, Length::cm(20));
        outcome.cautions.contains(&Caution::HardToPutOn)
    };
    assert!(!hard(2900), "1.45 times the tube");
    assert!(hard(3200), "1.6 times the tube");
    // The survey's own proportions (1.35 x 22.8 over 20 cm: 1.54) must not alarm by themselves.
    assert!(!hard(3078), "an average foot");
}

/// The cuff's and the leg's heights come out as asked, to half a round.
#[test]
fn cuff_and_leg_are_as_tall_as_asked() {
    let half_round =
        |recipe: &Recipe| recipe.swatch.height.0 / u32::from(recipe.swatch.rounds) / 2 + 1;
    for edge in Edge::ALL {
        for (cuff, leg) in [(40, 160), (33, 141), (15, 47), (60, 60)] {
            let recipe = Recipe {
                cuff: Cuff {
                    edge,
                    length: Length::mm(cuff),
                },
                leg: Length::mm(leg),
                ..Recipe::default()
            };
            let outcome = plan(&recipe).outcome;
            let half = half_round(&recipe);
            assert!(
                outcome.leg_length.0.abs_diff(leg * 10) <= half,
                "{edge:?}, leg of {leg} mm"
            );
            if !matches!(edge, Edge::Hem { .. }) {
                let mut sections = outcome.sections.iter();
                let tall = sections
                    .find(|s| s.kind == SectionKind::Cuff)
                    .expect("a cuff");
                assert!(
                    tall.length.0.abs_diff(cuff * 10) <= half,
                    "{edge:?} of {cuff} mm"
                );
            }
        }
    }
}
