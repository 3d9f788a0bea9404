//! Made-up recipes, operations, events and styles for the laws.

use evenloop_engine::foot::Foot;
use evenloop_engine::journal::Event;
use evenloop_engine::plan::make;
use evenloop_engine::recipe::{
    Adjust, Ball, BindOff, CastOn, Cuff, Direction, Edge, Fit, FlapTexture, Girth, Heel,
    HeelOpening, HeelTurn, Method, Motif, MotifPlacement, Recipe, Stripe, Toe, ToeCastOn, Yarns,
};
use evenloop_engine::stitch::{Count, Decrease, Increase, Marker, Op, RareStitch, Yarn};
use evenloop_engine::swatch::{FirstGuess, FlapSwatch, PatternRounds, PatternSwatch, Swatch};
use evenloop_engine::text::{English, KnittingHand, RunStyle, WordForm, Wording};
use evenloop_engine::trace::Position;
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::yarn_weight::WeightName;
use proptest::prelude::*;
use proptest::sample::select;

/// Motifs of every symbol, wide and narrow.
const MOTIFS: &[&[&str]] = &[
    &["k1"],
    &["k2 p2", "p2 k2"],
    &["kt1 p1"],
    &["k1 yo k2tog", "k3"],
    &["ssk yo k2 p1", "k4 p1", "k1 s1 k2 p1"],
    &["p1 cr2/2 p1", "p1 k4 p1", "p1 k4 p1", "p1 k4 p1"],
    &["cl1/1 crp2/1 clp1/2", "k8"],
    &["k17 p7"],
];

fn calf() -> impl Strategy<Value = Vec<Girth>> {
    let girths = prop::collection::btree_map(10_u32..=400, 1300_u32..=4500, 0..=3);
    prop_oneof![3 => Just(Vec::new()), 1 => girths.prop_map(|all| {
        let girth = |(height, round)| Girth {
            height: Length(10 * height),
            circumference: Length(round),
        };
        all.into_iter().map(girth).collect()
    })]
}

fn motif() -> impl Strategy<Value = Option<Motif>> {
    let rows = select(MOTIFS);
    let place = select(&[MotifPlacement::AllRound, MotifPlacement::Front][..]);
    prop::option::of((rows, place).prop_map(|(rows, place)| Motif {
        rows: rows.iter().filter_map(|r| r.parse().ok()).collect(),
        place,
        ..Motif::default()
    }))
}

fn yarns() -> impl Strategy<Value = Option<Yarns>> {
    let stripe =
        (select(&Yarn::ALL[..]), 1_u16..=9).prop_map(|(yarn, rounds)| Stripe { yarn, rounds });
    prop::option::of(
        (
            prop::collection::vec(stripe, 1..=5),
            select(&Yarn::ALL[..]),
            select(&Yarn::ALL[..]),
        )
            .prop_map(|(stripes, heel, toe)| Yarns {
                stripes,
                heel,
                toe,
                cuff: toe,
            }),
    )
}

/// Any recipe of plain knitting in one yarn whose single numbers are in or near their ranges.
#[allow(clippy::too_many_lines)] // one list of fields
pub(crate) fn undressed() -> impl Strategy<Value = Recipe> {
    let foot =
        (900_u32..=3400, prop::option::of(900_u32..=3600)).prop_map(|(length, round)| Foot {
            length: Length(length),
            circumference: round.map(Length),
            heel_diagonal: None,
        });
    let measured = (
        15_u16..=48,
        18_u16..=80,
        prop::option::weighted(0.2, 15_u16..=48),
        prop::option::weighted(0.2, 18_u16..=80),
        prop::option::weighted(0.2, 10_u16..=60),
        prop::option::weighted(
            0.2,
            (select(&WeightName::ALL[..]), prop::option::of(10_u16..=50)),
        ),
    );
    let swatch =
        measured.prop_map(
            |(stitches, rounds, pattern, pattern_rounds, flap, guess)| Swatch {
                guess: guess.map(|(yarn, band_stitches)| FirstGuess {
                    yarn,
                    band_stitches,
                }),
                unwashed: None,
                needle: None,
                pattern: pattern.map(|stitches| PatternSwatch {
                    stitches,
                    width: Length::cm(10),
                }),
                pattern_rounds: pattern_rounds.map(|rounds| PatternRounds {
                    rounds,
                    height: Length::cm(10),
                }),
                flap: flap.map(|rows| FlapSwatch {
                    rows,
                    height: Length::cm(6),
                }),
                stitches,
                width: Length::cm(10),
                rounds,
                height: Length::cm(10),
            },
        );
    let tube = (select(&Edge::ALL[..]), 50_u32..=600, 0_u32..=400);
    let flap = (
        select(&FlapTexture::ALL[..]),
        select(&HeelTurn::ALL[..]),
        prop::option::of((4_u16..=40).prop_map(|half| 2 * half)),
        any::<bool>(),
    )
        .prop_map(|(texture, turn, rows, corners)| Heel::FlapAndGusset {
            texture,
            turn,
            rows: rows.filter(|n| n % 4 == 0),
            height: rows
                .filter(|n| n % 4 != 0)
                .map(|n| Length(25 * u32::from(n))),
            corners,
        });
    let heel = prop_oneof![
        3 => flap,
        1 => (0_u16..=6).prop_map(|between| Heel::ShortRow { between }),
        1 => select(&HeelOpening::ALL[..]).prop_map(|opening| Heel::Afterthought { opening }),
    ];
    let direction = prop_oneof![2 => Just(Direction::CuffDown), 1 => Just(Direction::ToeUp)];
    let rest = (
        select(&Toe::ALL[..]),
        select(&Method::ALL[..]),
        prop::option::of((8_u16..=30).prop_map(|quarter| 4 * quarter)),
        prop::option::of((5_u16..=1000, 10_u16..=5000)),
    );
    let calf = calf();
    (
        direction,
        foot,
        swatch,
        (0_u8..=25, 0_u32..=300, 0..16_u8),
        tube,
        heel,
        (rest, calf),
    )
        .prop_map(
            |(
                direction,
                foot,
                swatch,
                (ease_percent, shorter, choices),
                (edge, cuff, leg),
                heel,
                (rest, calf),
            )| {
                let (toe, needles, stitches, ball) = rest;
                Recipe {
                    direction,
                    foot,
                    swatch,
                    fit: Fit {
                        ease_percent,
                        length_ease: Length(shorter),
                        high_instep: choices & 1 != 0,
                        wide_toes: choices & 2 != 0,
                        narrow_heel: choices & 4 != 0,
                        tender_legs: choices & 8 != 0,
                    },
                    cuff: Cuff {
                        edge,
                        length: Length(cuff),
                    },
                    leg: Length(cuff + leg + 50),
                    heel,
                    toe,
                    needles,
                    stitches,
                    cast_on: CastOn::default(),
                    toe_cast_on: ToeCastOn::default(),
                    bind_off: BindOff::default(),
                    calf,
                    adjust: Adjust::default(),
                    motif: None,
                    yarns: None,
                    ball: ball.map(|(grams, metres)| Ball { grams, metres }),
                    written: None,
                }
            },
        )
}

/// The same with motifs, stripes and edges of every kind.
pub(crate) fn any_recipe() -> impl Strategy<Value = Recipe> {
    let edges = (
        select(&CastOn::ALL[..]),
        select(&ToeCastOn::ALL[..]),
        select(&BindOff::ALL[..]),
    );
    (undressed(), motif(), yarns(), edges).prop_map(
        |(recipe, motif, yarns, (cast_on, toe_cast_on, bind_off))| Recipe {
            motif,
            yarns,
            cast_on,
            toe_cast_on,
            bind_off,
            ..recipe
        },
    )
}

/// Those of these recipes that can be knitted.
pub(crate) fn knittable_of(
    recipes: impl Strategy<Value = Recipe>,
) -> impl Strategy<Value = Recipe> {
    recipes.prop_filter("a sock that cannot be", |recipe| make(recipe).is_ok())
}

/// A recipe that can be knitted on any needles.
pub(crate) fn knittable() -> impl Strategy<Value = Recipe> {
    knittable_of(any_recipe())
}

/// Operations in no order that makes sense.
pub(crate) fn any_ops() -> impl Strategy<Value = Vec<Op>> {
    let one = (0..26_u8, 1_u16.., any::<u16>(), 0..3_u8).prop_map(|(which, n, place, marker)| {
        let n = Count::new(n).unwrap_or(Count::MIN);
        let marker = [Marker::Left, Marker::Right, Marker::Round][usize::from(marker)];
        match which {
            0 => Op::CastOn(n),
            1 => Op::Join,
            2 => Op::Knit(n),
            3 => Op::Purl(n),
            4 => Op::Slip(n),
            5 => Op::K2tog,
            6 => Op::Ssk,
            7 => Op::P2tog,
            8 => Op::PickUp(n),
            9 => Op::PickUpCorner,
            10 => Op::Turn,
            11 => Op::Next,
            12 => Op::Place(marker),
            13 => Op::SlipMarker(marker),
            14 => Op::Remove(marker),
            15 => Op::WorkFlat(n),
            16 => Op::LoopOut(place),
            17 => Op::LoopIn(place),
            18 => Op::Graft(n),
            19 => Op::KnitThroughBackLoop(n),
            20 => Op::FoldJoin(n),
            21 => Op::KnitCorner,
            22 => Op::SlipYarnInFront(n),
            _ => [
                Op::TurnDouble,
                Op::MakeLeft,
                Op::MakeRight,
                Op::KnitDouble(n),
                Op::PurlDouble(n),
                Op::CastOnWrapped(n),
                Op::CastOnMagic(n),
                Op::BindOff(n),
                Op::Waste(n),
                Op::OpenWaste(n),
                Op::Hang(marker, place),
                Op::BeginHere,
                Op::GraftStart,
                Op::GraftEnd,
                Op::FastenOff,
                Op::YarnOver,
                Op::DrawClosed(n),
                Op::TurnWrapped,
                Op::KnitWrapped(n),
                Op::PurlWrapped(n),
                Op::WorkFlatBehind(n),
                Op::AsWritten(n, Count::MIN),
                Op::PickUpAlong(n),
                Op::Decrease(Decrease::ALL[usize::from(n.get()) % Decrease::ALL.len()]),
                Op::Increase(Increase::ALL[usize::from(n.get()) % Increase::ALL.len()]),
                Op::Rare(
                    RareStitch::ALL[usize::from(n.get()) % RareStitch::ALL.len()],
                    n,
                ),
                Op::KnitToSnip(n),
                Op::SnipRow(n),
                Op::CastOnTubular(n, Count::MIN),
                Op::CastOnProvisional(n),
                Op::OpenProvisional(n),
                Op::SewDown(n),
            ][usize::from(place % 32)]
            .clone(),
        }
    });
    let repeated = (prop::collection::vec(one.clone(), 1..5), 1_u16..)
        .prop_map(|(ops, n)| Op::Repeat(ops, Count::new(n).unwrap_or(Count::MIN)));
    prop::collection::vec(prop_oneof![4 => one, 1 => repeated], 0..12)
}

/// Events in no order that makes sense, with a clock that goes forwards and back.
pub(crate) fn any_events(most: usize) -> impl Strategy<Value = Vec<Event>> {
    let one = (
        0..14_u8,
        any::<u64>(),
        0_usize..400,
        0_usize..12,
        any::<String>(),
    )
        .prop_map(|(which, at, step, mv, text)| {
            let place = Position { step, mv };
            match which {
                0 => Event::Begin(at),
                1..=4 => Event::Done(at),
                5 | 6 => Event::Undo(at),
                7 => Event::GoTo(at, place),
                8 => Event::Note(at, place, text),
                9 => Event::Weighed(at, place, u32::try_from(mv).ok().filter(|g| *g > 0)),
                10 => Event::Together(at, mv % 2 == 0),
                11 => Event::Needles(at, place, u8::try_from(mv).unwrap_or(u8::MAX)),
                12 => Event::NeedlesTakenBack(at, place),
                _ => Event::Unknown(at, format!("x:{mv}:some:{step}")),
            }
        });
    prop::collection::vec(one, 0..=most)
}

/// Any way of saying it.
pub(crate) fn any_style() -> impl Strategy<Value = Wording> {
    any::<[bool; 5]>().prop_map(|[short, counted, british, inches, left]| Wording {
        unit: if inches {
            LengthUnit::Inch
        } else {
            LengthUnit::Cm
        },
        english: if british {
            English::British
        } else {
            English::American
        },
        form: if short {
            WordForm::Short
        } else {
            WordForm::Plain
        },
        reach: if counted {
            RunStyle::Counted
        } else {
            RunStyle::ToMarker
        },
        hand: if left {
            KnittingHand::Left
        } else {
            KnittingHand::Right
        },
        two_socks: false,
    })
}
