//! The independent model at work: every number of stitches on every kind of needles; the same
//! fabric whatever it is knitted on; and proof that the model notices a plan gone wrong.

use std::collections::HashMap;

use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{
    BindOff, CastOn, Cuff, Direction, Edge, FlapTexture, Girth, Heel, HeelOpening, HeelTurn,
    Method, Motif, MotifPlacement, Recipe, Rib, Seating, Stripe, Toe, ToeCastOn, Yarns,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::swatch::Swatch;
use evenloop_engine::units::Length;
use evenloop_engine::wire::{plan_document, write_recipe};
use evenloop_tests::model::closed::{expected, sums};
use evenloop_tests::model::compare::{
    Verdict, by_hand, by_hand_watched, three_ways, without_engine,
};
use evenloop_tests::model::hands::{Face, How, Id, Part};
use evenloop_tests::model::page::{self, Do, Page};

/// A sock on a foot long enough for any number of stitches, with short leg and cuff.
fn sock_of(stitches: u16, needles: Method) -> Recipe {
    Recipe {
        foot: Foot {
            length: Length::cm(34),
            circumference: None,
            heel_diagonal: None,
        },
        cuff: Cuff {
            length: Length::cm(1),
            ..Cuff::default()
        },
        leg: Length::cm(2),
        // Few stitches reach round a short circular, and many do not exceed the foot.
        swatch: Swatch {
            stitches: if stitches > 60 { 30 } else { 17 },
            ..Swatch::default()
        },
        stitches: Some(stitches),
        needles,
        ..Recipe::default()
    }
}

fn page(recipe: &Recipe) -> Page {
    let document = plan_document(&write_recipe(recipe));
    let document = document.unwrap_or_else(|errors| panic!("refused: {errors:?}"));
    page::read(&document).unwrap_or_else(|why| panic!("unreadable: {why}"))
}

/// Heels of every kind, with every texture and turn of a flap.
fn heel(turn: usize) -> Heel {
    match turn % 5 {
        0 => Heel::ShortRow {
            between: u16::try_from(turn % 4).unwrap_or_default(),
        },
        1 => Heel::Afterthought {
            opening: HeelOpening::ALL[turn / 5 % 2],
        },
        _ => Heel::FlapAndGusset {
            texture: FlapTexture::ALL[turn / 2 % 3],
            turn: HeelTurn::ALL[turn % 3],
            rows: None,
            height: None,
            corners: turn / 2 % 2 == 1,
        },
    }
}

/// Edge, heel, toe and direction turn about, and with them cast-on and bind-off; a toe drawn closed is only
/// knitted down.
fn varied(turn: usize, recipe: Recipe) -> Recipe {
    let toe = Toe::ALL[turn % 7];
    let edge = Edge::ALL[turn % 7];
    let up = (turn % 7 % 2 == 1 && toe != Toe::Round) || turn % 14 == 11;
    let rib = matches!(edge, Edge::Rib(rib) if rib != Rib::ThreeByOne);
    let tubular = rib && (turn / 7).is_multiple_of(2);
    Recipe {
        direction: if up {
            Direction::ToeUp
        } else {
            Direction::CuffDown
        },
        cuff: Cuff {
            edge,
            ..recipe.cuff
        },
        cast_on: if tubular {
            CastOn::Tubular
        } else {
            CastOn::default()
        },
        bind_off: if tubular {
            BindOff::Tubular
        } else {
            BindOff::default()
        },
        toe_cast_on: if toe == Toe::ShortRow {
            ToeCastOn::Provisional
        } else {
            ToeCastOn::default()
        },
        heel: heel(turn),
        toe,
        ..recipe
    }
}

/// With stripes, and with cables and lace all round, or in front of a calf.
fn colourful(turn: usize, recipe: Recipe) -> Recipe {
    let rows = [
        "k1 cr1/2 p1 yo k2tog s1",
        "p1 kt1 clp2/1 ssk yo k1",
        "k2 p2 crp1/1 k2",
        "k8",
    ];
    let front = (turn / 2).is_multiple_of(2);
    Recipe {
        motif: Some(Motif {
            rows: rows
                .map(|row| row.parse().unwrap_or_else(|why| panic!("{row}: {why}")))
                .to_vec(),
            place: if front {
                MotifPlacement::Front
            } else {
                MotifPlacement::AllRound
            },
            ..Motif::default()
        }),
        calf: if front {
            vec![Girth {
                height: Length::cm(1),
                circumference: Length::cm(14),
            }]
        } else {
            Vec::new()
        },
        yarns: Some(Yarns {
            stripes: [(Yarn::A, 2), (Yarn::B, 1), (Yarn::C, 3)]
                .map(|(yarn, rounds)| Stripe { yarn, rounds })
                .to_vec(),
            cuff: Yarn::B,
            heel: Yarn::D,
            toe: Yarn::C,
        }),
        leg: Length::cm(4),
        ..recipe
    }
}

/// Every number of stitches on every kind of needles; edges, heels, toes and directions turn
/// about, so that each meets each number.
#[test]
fn every_number_of_stitches_on_every_kind_of_needles() {
    for (i, stitches) in (32..=120).step_by(4).enumerate() {
        for (m, needles) in Method::ALL.into_iter().enumerate() {
            let recipe = varied(i + m, sock_of(stitches, needles));
            match three_ways(&recipe) {
                Ok(Verdict::Knitted { .. }) => {}
                other => panic!("{}\n{other:?}", write_recipe(&recipe)),
            }
        }
    }
}

/// A stitch without its number's history: what it came out of, how, and what it shows.
type Bare = (Vec<Id>, How, Face, Part);

/// Wherever the round is divided and begins mid-sole, the very same stitches are made in the very
/// same order: only the needles differ.
#[test]
fn every_method_that_begins_mid_sole_makes_the_same_fabric() {
    for (turn, stitches) in [32, 36, 44, 52, 64, 68, 84, 96, 104, 116, 120, 64, 96]
        .into_iter()
        .enumerate()
    {
        let sock = |needles: Method| {
            let plain = sock_of(stitches, needles);
            varied(
                turn,
                if stitches % 32 == 0 {
                    colourful(turn, plain)
                } else {
                    plain
                },
            )
        };
        let fabric = |needles: Method| -> Vec<Bare> {
            let recipe = sock(needles);
            let hands = by_hand(&recipe).unwrap_or_else(|why| panic!("{needles:?}: {why}"));
            hands
                .made
                .into_iter()
                .map(|s| (s.parents.to_vec(), s.how, s.face, s.part))
                .collect()
        };
        let mid_sole: Vec<Method> = Method::ALL
            .into_iter()
            .filter(|m| m.seating() != Some(Seating::InstepAndSole))
            .collect();
        let one = fabric(mid_sole[0]);
        for other in &mid_sole[1..] {
            assert!(fabric(*other) == one, "{stitches} stitches on {other:?}");
        }
    }
}

/// From the gusset on, stitches of each part after each round are the same on all needles and in
/// both seatings.
#[test]
fn every_method_and_seating_has_the_same_parts_after_every_round() {
    for stitches in [36, 48, 72, 100] {
        let parts = |needles: Method| -> Vec<(String, [u32; 7])> {
            let recipe = sock_of(stitches, needles);
            let mut seen = Vec::new();
            by_hand_watched(&recipe, &page(&recipe), |section, index, hands| {
                if section.steps[index].form == "round"
                    && matches!(section.kind.as_str(), "gusset" | "foot" | "toe")
                {
                    seen.push((section.kind.clone(), hands.parts()));
                }
            })
            .expect("hands can do it");
            seen
        };
        let one = parts(Method::ALL[0]);
        assert!(one.len() > 100);
        for needles in &Method::ALL[1..] {
            let mut others = parts(*needles);
            if needles.seating() == Some(Seating::InstepAndSole) {
                // Its pick-up is a round higher, so its foot has one plain round less.
                let plain = one
                    .iter()
                    .find(|(section, _)| section == "foot")
                    .expect("a foot");
                let at = others.iter().position(|o| o == plain).expect("a foot");
                others.insert(at, plain.clone());
            }
            assert!(others == one, "{stitches} stitches on {needles:?}");
        }
    }
}

/// One small slip of the pen anywhere in a plan's shaping, pick-up or closing is noticed: hands
/// cannot do it, or the counts are not those of the closed forms, or stitches are left over.
#[test]
fn a_plan_with_one_slip_of_the_pen_is_noticed() {
    let mut tried = 0;
    for (turn, needles) in Method::ALL.into_iter().chain(Method::ALL).enumerate() {
        let foot = Foot {
            length: Length::cm(24),
            circumference: None,
            heel_diagonal: None,
        };
        let plain = Recipe {
            foot,
            ..sock_of(32, needles)
        };
        let recipe = varied(
            turn,
            if turn % 2 == 0 {
                plain
            } else {
                colourful(turn, plain)
            },
        );
        let mut seen = HashMap::new();
        let right = page(&recipe);
        assert_eq!(
            faults(&recipe, &right),
            None,
            "the plan itself must be right: {}",
            write_recipe(&recipe)
        );
        for (s, section) in right.sections.iter().enumerate() {
            for (i, step) in section.steps.iter().enumerate() {
                for (m, mv) in step.moves.iter().enumerate() {
                    for (o, op) in mv.ops.iter().enumerate() {
                        let Some(slip) = slip_of_the_pen(op) else {
                            continue;
                        };
                        // The first few of a kind stand for all of it in the section.
                        let kind = (s, std::mem::discriminant(op));
                        let seen = seen.entry(kind).or_insert(0_u32);
                        *seen += 1;
                        if *seen > 3 {
                            continue;
                        }
                        let mut wrong = right.clone();
                        wrong.sections[s].steps[i].moves[m].ops[o] = slip.clone();
                        tried += 1;
                        assert!(
                            faults(&recipe, &wrong).is_some(),
                            "{needles:?}, {} {}: {slip:?} for {op:?} went unnoticed",
                            section.kind,
                            i + 1
                        );
                    }
                }
            }
        }
    }
    assert!(tried > 500, "only {tried} slips were tried");
}

#[allow(clippy::match_same_arms)] // a list: what is written, what slips in for it
fn slip_of_the_pen(op: &Do) -> Option<Do> {
    Some(match *op {
        Do::Knit(n) => Do::Knit(n + 1),
        Do::Purl(n) => Do::Purl(n + 1),
        Do::Slip(n) => Do::Slip(n + 1),
        Do::K2tog => Do::Knit(1),
        Do::Ssk => Do::Knit(2),
        Do::P2tog => Do::Purl(2),
        Do::PickUp(n) if n > 1 => Do::PickUp(n - 1),
        Do::PickUpCorner => Do::Knit(1),
        Do::Split(n) => Do::Split(n + 1),
        Do::Merge(n) => Do::Merge(n + 1),
        Do::CastOn(back, front) => Do::CastOn(back, front - 1),
        Do::Flat(n) => Do::Flat(n - 1),
        Do::Pass('L') => Do::Pass('R'),
        Do::Pass(_) => Do::Pass('L'),
        Do::NextNeedle => Do::Turn,
        Do::Graft(n) => Do::Graft(n + 1),
        Do::GraftEnd => Do::GraftStart,
        Do::KnitBack(n) => Do::Knit(n),
        Do::YarnOver | Do::YarnOverBehind => Do::Knit(1),
        Do::Fold(n) => Do::Knit(n),
        Do::Draw(n) => Do::Draw(n - 1),
        Do::TurnDouble => Do::Turn,
        Do::KnitDouble(n) => Do::Knit(n),
        Do::PurlDouble(n) => Do::Purl(n),
        Do::MakeLeft => Do::MakeRight,
        Do::MakeRight => Do::Knit(1),
        Do::CastOnWrapped(n) => Do::CastOnWrapped(n + 1),
        // both needles' loops taken for mounted alike
        Do::CastOnMagic(n) => Do::CastOnWrapped(n),
        Do::BindOff(n) => Do::BindOff(n - 1),
        Do::Waste(n) => Do::Knit(n),
        Do::OpenWaste(n) => Do::OpenWaste(n - 1),
        Do::KnitToSnip(n) => Do::Knit(n),
        Do::Snip(n) => Do::Snip(n - 1),
        // all loops taken for mounted alike
        Do::CastOnTubular(back, front) => Do::CastOn(back, front),
        Do::CastOnProvisional(n) => Do::CastOnProvisional(n + 1),
        Do::OpenProvisional(n) => Do::OpenProvisional(n - 1),
        Do::SewDown(n) => Do::BindOff(n),
        Do::Hang(marker, n) => Do::Hang(marker, n + 1),
        Do::Row(n) => Do::Row(n + 1),
        Do::Yarn(yarn) => Do::Yarn(if yarn == 'A' { 'B' } else { 'A' }),
        Do::Cross {
            over,
            under,
            to_the_right,
            purl,
        } => Do::Cross {
            over,
            under,
            to_the_right: !to_the_right,
            purl,
        },
        _ => return None,
    })
}

/// What is wrong with a page, by hands and closed forms alone.
fn faults(recipe: &Recipe, page: &Page) -> Option<String> {
    let sums = match sums(recipe) {
        Ok(sums) => sums,
        Err(no) => return Some(format!("{no:?}")),
    };
    without_engine(recipe, &sums, page).err()
}

/// The closed forms themselves, at the end of a whole sock: what is expected adds up.
#[test]
fn what_the_closed_forms_expect_adds_up() {
    for stitches in (32..=120).step_by(4) {
        for needles in Method::ALL {
            let recipe = varied(usize::from(stitches) / 4, sock_of(stitches, needles));
            let sums = sums(&recipe).expect("there is such a sock");
            for section in expected(&recipe, &sums) {
                for state in &section.states {
                    let on_needles: u32 = state.needles.iter().sum();
                    let in_parts: u32 = state.parts.iter().sum();
                    assert_eq!(
                        on_needles, in_parts,
                        "{stitches} {needles:?} {}",
                        section.section
                    );
                }
            }
            // 33 cm at 4.2 rounds to the cm are 138.6.
            assert_eq!(sums.whole_foot, 139, "{stitches} {needles:?}");
        }
    }
}
