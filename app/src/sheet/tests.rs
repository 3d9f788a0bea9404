//! The sheet against the plan it was made from.

use evenloop_engine::plan::{Plan, StepForm, make};
use evenloop_engine::recipe::{Direction, Heel, Method, Motif, MotifPlacement, Recipe, Toe};
use evenloop_engine::text::{Typed, Wording};
use evenloop_engine::trace::Trace;
use evenloop_engine::units::Length;

use super::document::*;
use super::*;
use crate::hue::Hue;

fn plan_of(recipe: &Recipe) -> (Plan, Trace) {
    let plan = make(recipe).expect("a sock");
    let trace = Trace::of(&plan).expect("it can be knitted");
    (plan, trace)
}

fn sheet_of(recipe: &Recipe) -> Sheet {
    let (plan, trace) = plan_of(recipe);
    of(&plan, &trace, Wording::default(), None, Hue::USUAL)
}

fn socks() -> Vec<Recipe> {
    let mut all: Vec<Recipe> = Method::ALL
        .into_iter()
        .map(|needles| Recipe {
            needles,
            ..Recipe::default()
        })
        .collect();
    all.push(Recipe {
        direction: Direction::ToeUp,
        heel: Heel::ShortRow { between: 2 },
        ..Recipe::default()
    });
    all.push(Recipe {
        motif: Some(Motif {
            rows: ["k2 p2", "p2 k2", "cr2/2"]
                .map(|row| row.parse().expect("a row"))
                .to_vec(),
            place: evenloop_engine::recipe::MotifPlacement::Front,
            ..Motif::default()
        }),
        ..Recipe::default()
    });
    all
}

/// Every round and row has one box, every move of a walk a place, and nothing is left out.
#[test]
fn every_round_is_there_once() {
    for recipe in socks() {
        let (plan, trace) = plan_of(&recipe);
        let sheet = of(&plan, &trace, Wording::default(), None, Hue::USUAL);
        for (section, part) in plan.sections.iter().zip(&sheet.parts) {
            let ticks = part.blocks.iter().flat_map(|b| &b.ticks);
            assert!(
                ticks.map(|tick| tick.number).eq(1..=section.counted()),
                "{:?} is not told in the order knitted",
                section.kind
            );
            let moves: usize = section
                .steps
                .iter()
                .filter(|step| step.form == StepForm::Walk)
                .map(|step| step.moves.len())
                .sum();
            let walked = part.blocks.iter().filter(|b| b.ticks.is_empty());
            let alone: usize = walked.flat_map(|b| &b.items).map(|i| i.counts.len()).sum();
            assert_eq!(alone, moves, "{:?}", section.kind);
        }
        assert_eq!(plan.sections.len(), sheet.parts.len());
    }
}

/// Counts on paper are the simulator's.
#[test]
fn totals_are_what_the_needles_hold() {
    for recipe in socks() {
        let (plan, trace) = plan_of(&recipe);
        let sheet = of(&plan, &trace, Wording::default(), None, Hue::USUAL);
        let mut first = 0;
        for (section, part) in plan.sections.iter().zip(&sheet.parts) {
            for block in part.blocks.iter().filter(|b| !b.ticks.is_empty()) {
                let mut held: Vec<u16> = Vec::new();
                for tick in &block.ticks {
                    let index = (0..section.steps.len())
                        .find(|i| section.number(*i) == Some(tick.number))
                        .expect("a round of that number");
                    held.push(trace.steps[first + index].after().stitches());
                }
                let mut told: Vec<u16> = block
                    .items
                    .iter()
                    .flat_map(|item| &item.counts)
                    .filter_map(|counts| counts.last().copied())
                    .collect();
                held.sort_unstable();
                told.sort_unstable();
                assert_eq!(told, held, "{}", block.heading);
            }
            first += section.steps.len();
        }
    }
}

#[test]
fn names_are_escaped_on_the_page_and_plain_in_the_text() {
    let (plan, trace) = plan_of(&Recipe::default());
    let name = Typed::new("<img src=x onerror=alert(1)> & \"Tom\"");
    let sheet = of(&plan, &trace, Wording::default(), Some(&name), Hue::USUAL);
    let page = html(&sheet);
    assert!(!page.contains("<img"), "{page}");
    assert!(page.contains("&lt;img src=x onerror=alert(1)&gt; &amp; &quot;Tom&quot;"));
    assert!(text(&sheet).starts_with(name.as_str()));
}

#[test]
fn the_page_is_well_formed() {
    for recipe in socks() {
        let page = html(&sheet_of(&recipe));
        let mut open = Vec::new();
        for tag in page.split('<').skip(1) {
            let tag = tag.split('>').next().expect("a tag ends");
            if let Some(name) = tag.strip_prefix('/') {
                assert_eq!(open.pop(), Some(name), "{page}");
            } else if !tag.ends_with('/') {
                open.push(tag.split(' ').next().expect("a tag has a name"));
            }
        }
        assert!(open.is_empty(), "{open:?}");
    }
}

#[test]
fn the_text_fits_on_paper() {
    for recipe in socks() {
        let sheet = sheet_of(&recipe);
        for line in text(&sheet).lines() {
            assert!(line.chars().count() <= 76, "{line}");
            assert_eq!(line, line.trim_end());
        }
    }
}

#[test]
fn a_leg_is_one_paragraph_and_so_is_a_gusset() {
    let sheet = sheet_of(&Recipe::default());
    let part = |name| {
        sheet
            .parts
            .iter()
            .find(|p| p.name == name)
            .expect("a section")
    };
    let leg = part("Leg");
    assert_eq!(leg.blocks.len(), 1);
    assert!(leg.blocks[0].heading.starts_with("Rounds 1 to "));
    let gusset = part("Gusset");
    // The picked-up stitches are knitted through the back loop once, so the first round is one of its own.
    let headings: Vec<&str> = gusset.blocks.iter().map(|b| b.heading.as_str()).collect();
    assert_eq!(
        headings,
        [
            "Round 1",
            "Rounds 2 to 19: rounds 2 and 3, 9 times",
            "Round 20"
        ]
    );
    assert_eq!(gusset.blocks[1].items.len(), 2);
    let close = part("Closing the toe");
    assert!(
        close
            .blocks
            .iter()
            .any(|b| b.heading.starts_with("Moves 2 to ")),
        "{close:#?}"
    );
}

/// A motif's rounds are listed together, and each box names the round of the chart that the simulator's
/// needles carry there.
#[test]
fn a_motif_is_worked_by_its_chart() {
    for place in [MotifPlacement::Front, MotifPlacement::AllRound] {
        for rows in [
            &["p1 k4 p1", "p1 cr2/2 p1", "k6", "p6", "kt6", "k1 yo ssk k3"][..],
            &["k2 p2", "k4"],
        ] {
            let recipe = Recipe {
                motif: Some(Motif {
                    rows: rows.iter().map(|row| row.parse().expect("a row")).collect(),
                    place,
                    ..Motif::default()
                }),
                stitches: Some(72),
                ..Recipe::default()
            };
            let (plan, trace) = plan_of(&recipe);
            let sheet = of(&plan, &trace, Wording::default(), None, Hue::USUAL);
            let leg = sheet
                .parts
                .iter()
                .position(|p| p.name == "Leg")
                .expect("a leg");
            assert_eq!(sheet.parts[leg].blocks.len(), 1, "{:#?}", sheet.parts[leg]);
            let said = &sheet.parts[leg].blocks[0].items[0].said.lines;
            let times = 36 / plan.recipe.motif.as_ref().map_or(1, Motif::width);
            assert!(
                said[1].1.contains(&format!("he chart {times} times")),
                "{said:?}"
            );
            for (section, part) in plan.sections.iter().zip(&sheet.parts) {
                for tick in part.blocks.iter().flat_map(|b| &b.ticks) {
                    let step = (0..section.steps.len())
                        .find(|i| section.number(*i) == Some(tick.number))
                        .expect("a round of that number");
                    assert_eq!(tick.chart, section.steps[step].moves[0].motif_round());
                }
            }
            let page = text(&sheet);
            let motif = format!("Rounds of the chart: 1 to {}, ", rows.len());
            assert!(page.contains(&motif), "{page}");
        }
    }
}

/// A leg that follows the calf is told in one piece or few: the decrease round once, with the rounds it
/// comes in, and all the others.
#[test]
fn a_calf_is_told_together() {
    use evenloop_engine::recipe::Girth;

    let girth = |height, circumference| Girth {
        height: Length::cm(height),
        circumference: Length::cm(circumference),
    };
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        for needles in Method::ALL {
            let sheet = sheet_of(&Recipe {
                direction,
                needles,
                leg: Length::cm(40),
                calf: vec![girth(8, 23), girth(22, 36), girth(34, 34)],
                ..Recipe::default()
            });
            let leg = sheet.parts.iter().find(|p| p.name == "Leg").expect("a leg");
            let headings: Vec<&str> = leg.blocks.iter().map(|b| b.heading.as_str()).collect();
            let counted = leg.blocks.iter().filter(|b| !b.ticks.is_empty()).count();
            assert!(counted <= 3, "{needles:?} {direction:?}: {headings:?}");
            let page = text(&sheet).replace('\n', " ");
            assert!(page.contains("All other rounds"), "{page}");
        }
    }
}

/// Balancing stitches are the chart's too: no round of the leg reads otherwise for them.
#[test]
fn balancing_stitches_are_worked_by_the_chart() {
    let sheet = sheet_of(&Recipe {
        motif: Some(Motif {
            rows: ["p2 k4", "p1 k1 k4", "p2 cl2/2"]
                .map(|row| row.parse().expect("a row"))
                .into(),
            place: MotifPlacement::Front,
            balance: 2,
            edge: 1,
            ..Motif::default()
        }),
        stitches: Some(64),
        ..Recipe::default()
    });
    let leg = sheet.parts.iter().find(|p| p.name == "Leg").expect("a leg");
    assert_eq!(leg.blocks.len(), 1, "{leg:#?}");
    let said = &leg.blocks[0].items[0].said.lines[1].1;
    assert_eq!(
        said,
        "Knit 2, purl 1, the chart 4 times, the first 2 stitches of the chart once more, purl 1, knit 2"
    );
}

#[test]
fn the_second_of_a_shaped_pair_is_mirrored() {
    let left = Toe::Shaped {
        foot: evenloop_engine::recipe::LeftRight::Left,
    };
    let page = text(&sheet_of(&Recipe {
        toe: left,
        ..Recipe::default()
    }));
    assert!(page.contains("mirror image"), "{page}");
    assert!(!text(&sheet_of(&Recipe::default())).contains("mirror image"));
}

#[test]
fn a_british_knitter_casts_off_and_an_american_binds_off() {
    use evenloop_engine::text::English;

    let (plan, trace) = plan_of(&Recipe {
        direction: Direction::ToeUp,
        bind_off: evenloop_engine::recipe::BindOff::Sewn,
        ..Recipe::default()
    });
    for (english, said, not_said) in [
        (English::British, "ast off", "ind off"),
        (English::American, "ind off", "ast off"),
    ] {
        let wording = Wording {
            english,
            ..Wording::default()
        };
        let page = text(&of(&plan, &trace, wording, None, Hue::USUAL));
        assert!(page.contains(said), "{page}");
        assert!(!page.contains(not_said), "{page}");
        let hyphenated = [said, not_said].map(|words| words.replace(' ', "-"));
        assert!(
            page.contains(&hyphenated[0]) && !page.contains(&hyphenated[1]),
            "{page}"
        );
    }
}

/// Rounds and rows of the table are those that have a box; a walk has none.
#[test]
fn the_table_counts_what_is_ticked() {
    for recipe in socks() {
        let sheet = sheet_of(&recipe);
        for (row, part) in sheet.table.iter().zip(&sheet.parts) {
            let boxes: usize = part.blocks.iter().map(|b| b.ticks.len()).sum();
            let told = if boxes == 0 {
                String::new()
            } else {
                boxes.to_string()
            };
            assert_eq!(row[1], told, "{}", row[0]);
        }
    }
}

#[test]
fn a_heel_from_the_toe_up_is_told_as_it_is_knitted() {
    let page = text(&sheet_of(&Recipe {
        direction: Direction::ToeUp,
        ..Recipe::default()
    }));
    let page = page.replace('\n', " ");
    assert!(page.contains("gusset stitches on each side"), "{page}");
    assert!(!page.contains("left after the turn"), "{page}");
    // a plain bind-off is worked from the ball
    assert!(!page.contains("Tail for"), "{page}");
}

/// Stripes stand in a table; each box has the letter of its yarn, and the rounds are listed together.
#[test]
fn stripes_do_not_break_a_leg_into_pieces() {
    use evenloop_engine::recipe::{Stripe, Yarns};
    use evenloop_engine::stitch::Yarn;

    let stripe = |yarn| Stripe { yarn, rounds: 1 };
    let recipe = Recipe {
        yarns: Some(Yarns {
            stripes: vec![stripe(Yarn::A), stripe(Yarn::B)],
            cuff: Yarn::A,
            heel: Yarn::C,
            toe: Yarn::C,
        }),
        ..Recipe::default()
    };
    let (plan, trace) = plan_of(&recipe);
    let sheet = of(&plan, &trace, Wording::default(), None, Hue::USUAL);
    let leg = sheet.parts.iter().find(|p| p.name == "Leg").expect("a leg");
    assert_eq!(leg.blocks.len(), 1, "{leg:#?}");
    let yarns: Vec<_> = leg.blocks[0].ticks.iter().filter_map(|t| t.yarn).collect();
    assert_eq!(yarns.len(), leg.blocks[0].ticks.len());
    let mut turns = [Yarn::A, Yarn::B].into_iter().cycle();
    assert!(
        yarns.iter().all(|yarn| Some(*yarn) == turns.next()),
        "{yarns:?}"
    );
    let page = text(&sheet);
    assert!(page.contains("1 round A, 1 round B"), "{page}");
    // The first yarn is named where it is cast on.
    let cast_on = page.find("== Cast on").expect("a cast-on");
    assert!(
        page[cast_on..]
            .trim_start_matches("== Cast on")
            .trim_start()
            .contains("yarn A")
    );
}
