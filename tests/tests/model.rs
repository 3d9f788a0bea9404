//! The independent model at work: every number of stitches on every kind of needles; the same
//! fabric whatever it is knitted on; and proof that the model notices a plan gone wrong.

use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{Cuff, Edge, FlapTexture, Heel, Method, Recipe, Seating, Toe, Turn};
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

/// Every number of stitches on every kind of needles; edges, textures, turns, toes and corners
/// turn about, so that each meets each number.
#[test]
fn every_number_of_stitches_on_every_kind_of_needles() {
    for (i, stitches) in (32..=120).step_by(4).enumerate() {
        for (m, needles) in Method::ALL.into_iter().enumerate() {
            let turn = i + m;
            let mut recipe = sock_of(stitches, needles);
            recipe.cuff.edge = Edge::ALL[turn % Edge::ALL.len()];
            recipe.heel = Heel::FlapAndGusset {
                texture: FlapTexture::ALL[turn / 2 % FlapTexture::ALL.len()],
                turn: Turn::ALL[turn % Turn::ALL.len()],
                rows: None,
                corners: turn / 2 % 2 == 1,
            };
            recipe.toe = Toe::ALL[turn % Toe::ALL.len()];
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
    for stitches in [32, 44, 64, 84, 116, 120] {
        let fabric = |needles: Method| -> Vec<Bare> {
            let recipe = Recipe {
                toe: Toe::ALL[usize::from(stitches / 4 % 4)],
                ..sock_of(stitches, needles)
            };
            let hands = by_hand(&recipe).expect("hands can do it");
            hands
                .made
                .into_iter()
                .map(|s| (s.parents, s.how, s.face, s.part))
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
    for (i, needles) in Method::ALL.into_iter().enumerate() {
        let foot = Foot {
            length: Length::cm(20),
            circumference: None,
            heel_diagonal: None,
        };
        let mut recipe = Recipe {
            foot,
            ..sock_of(40, needles)
        };
        recipe.cuff.edge = Edge::ALL[i];
        recipe.heel = Heel::FlapAndGusset {
            texture: FlapTexture::ALL[i % 3],
            turn: Turn::ALL[i % 3],
            rows: None,
            corners: i % 2 == 1,
        };
        recipe.toe = Toe::ALL[i % 4];
        let right = page(&recipe);
        assert_eq!(
            faults(&recipe, &right),
            None,
            "the plan itself must be right"
        );
        for (s, section) in right.sections.iter().enumerate() {
            for (i, step) in section.steps.iter().enumerate() {
                // Its first and last steps stand for what is alike between them.
                if i > 4 && i + 3 < section.steps.len() {
                    continue;
                }
                for (m, mv) in step.moves.iter().enumerate() {
                    for (o, op) in mv.ops.iter().enumerate() {
                        let Some(slip) = slip_of_the_pen(op) else {
                            continue;
                        };
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
        Do::CastOn(n) => Do::CastOn(n - 1),
        Do::Flat(n) => Do::Flat(n - 1),
        Do::Pass('L') => Do::Pass('R'),
        Do::Pass(_) => Do::Pass('L'),
        Do::NextNeedle => Do::Turn,
        Do::Graft(n) => Do::Graft(n + 1),
        Do::GraftEnd => Do::GraftStart,
        Do::KnitTwisted(n) => Do::Knit(n),
        Do::YarnOver => Do::Knit(1),
        Do::Fold(n) => Do::Knit(n),
        Do::Draw(n) => Do::Draw(n - 1),
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
            let recipe = sock_of(stitches, needles);
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
            let from_turn = sums.turn_rows
                + sums.pick_up_rounds
                + sums.gusset_rounds
                + sums.foot_rounds
                + sums.toe_rounds;
            // 33 cm at 4.2 rounds to the cm are 138.6.
            assert_eq!(from_turn, 139, "{stitches} {needles:?}");
        }
    }
}
