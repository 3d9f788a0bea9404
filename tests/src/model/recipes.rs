//! Made-up socks over the whole range: both directions, every method and seating, edge, heel and
//! toe, every number of stitches, gauges and feet. Most can be knitted; many cannot, and have to say so.

use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{
    Ball, Cuff, Direction, Edge, Fit, FlapTexture, Heel, Method, Recipe, Toe, Turn,
};
use evenloop_engine::swatch::Swatch;
use evenloop_engine::units::Length;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

fn tenths(range: std::ops::RangeInclusive<u32>) -> impl Strategy<Value = Length> {
    range.prop_map(Length)
}

/// A swatch of 15 to 48 stitches to 10 cm, counted over some width and height, with rounds in
/// the proportion to stitches that knitting has.
fn swatch() -> impl Strategy<Value = Swatch> {
    (150_u32..=480, 115_u32..=160, 400_u32..=1500, 400_u32..=1500)
        .prop_map(|(gauge, percent, width, height)| {
            // Gauges in tenths of a stitch to 10 cm.
            let rounds = (gauge * percent / 100).clamp(180, 800);
            let count = |tenths: u32, over: u32| u16::try_from(tenths * over / 10_000).unwrap_or(0);
            Swatch {
                stitches: count(gauge, width),
                width: Length(width),
                rounds: count(rounds, height),
                height: Length(height),
                unwashed: None,
            }
        })
        // Counting whole stitches moves the gauge; keep those that are still in range.
        .prop_filter("a gauge out of range", |swatch| {
            let (stitches, rounds) = (u32::from(swatch.stitches), u32::from(swatch.rounds));
            (15 * swatch.width.0..=48 * swatch.width.0).contains(&(1000 * stitches))
                && (18 * swatch.height.0..=80 * swatch.height.0).contains(&(1000 * rounds))
        })
}

fn foot() -> impl Strategy<Value = Foot> {
    (
        tenths(900..=3400),
        prop::option::of(80_u32..=110),
        prop::option::of(tenths(1300..=4000)),
    )
        .prop_map(|(length, proportion, heel_diagonal)| Foot {
            length,
            circumference: proportion.map(|p| Length((length.0 * p / 100).clamp(900, 3600))),
            heel_diagonal,
        })
}

fn heel() -> impl Strategy<Value = Heel> {
    let rows = prop_oneof![
        2 => Just(None),
        1 => (4_u16..=40).prop_map(|half| Some(2 * half)),
    ];
    let texture = prop::sample::select(&FlapTexture::ALL[..]);
    let turn = prop::sample::select(&Turn::ALL[..]);
    let flap = (texture, turn, rows, any::<bool>()).prop_map(|(texture, turn, rows, corners)| {
        Heel::FlapAndGusset {
            texture,
            turn,
            rows,
            height: None,
            corners,
        }
    });
    prop_oneof![
        4 => flap,
        1 => (0_u16..=6).prop_map(|between| Heel::ShortRow { between }),
        1 => Just(Heel::Afterthought),
    ]
}

fn direction() -> impl Strategy<Value = Direction> {
    prop_oneof![3 => Just(Direction::CuffDown), 2 => Just(Direction::ToeUp)]
}

/// Any recipe whose single numbers are in their ranges.
pub fn any_recipe() -> impl Strategy<Value = Recipe> {
    let cuff_and_leg = (
        prop::sample::select(&Edge::ALL[..]),
        50_u32..=800,
        // A long leg shows nothing that a short one does not, and costs as much as all the rest.
        0_u32..=600,
    );
    let stitches = prop_oneof![
        1 => Just(None),
        2 => (8_u16..=30).prop_map(|quarter| Some(4 * quarter)),
    ];
    let choices = (
        prop::sample::select(&Toe::ALL[..4]),
        prop::sample::select(&Method::ALL[..]),
        stitches,
        prop::option::weighted(0.1, (5_u16..=1000, 10_u16..=5000)),
    );
    (
        foot(),
        swatch(),
        (0_u8..=25, tenths(0..=200)),
        cuff_and_leg,
        (direction(), heel()),
        choices,
    )
        .prop_map(
            |(foot, swatch, ease, (edge, cuff, leg), (direction, heel), choices)| {
                let (toe, needles, stitches, ball) = choices;
                Recipe {
                    direction,
                    foot,
                    swatch,
                    fit: Fit {
                        ease_percent: ease.0,
                        length_ease: ease.1,
                        ..Fit::default()
                    },
                    cuff: Cuff {
                        edge,
                        length: Length(cuff),
                    },
                    leg: Length((cuff + leg).max(100)),
                    heel,
                    toe,
                    needles,
                    stitches,
                    ball: ball.map(|(grams, metres)| Ball { grams, metres }),
                    ..Recipe::default()
                }
            },
        )
}

/// The first `count` of an endless, always equal row of made-up socks.
pub fn seeded(count: usize) -> impl Iterator<Item = Recipe> {
    let mut runner = TestRunner::deterministic();
    let recipes = any_recipe();
    (0..count).filter_map(move |_| {
        recipes
            .new_tree(&mut runner)
            .ok()
            .map(|tree| tree.current())
    })
}
