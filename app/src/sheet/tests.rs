//! The sheet against the plan it was made from.

use evenloop_engine::needles::Item;
use evenloop_engine::plan::{Plan, SectionKind, StepForm, make};
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
            .any(|b| b.heading.starts_with("Steps 2 to ")),
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

/// A pair takes twice what one sock does, and each thing that its plan asks for; nothing else.
#[test]
fn the_list_of_what_is_needed_is_the_plans_own() {
    use evenloop_engine::needle_size::Needle;
    use evenloop_engine::recipe::{Ball, BindOff, HeelOpening, ToeCastOn};
    use evenloop_engine::swatch::Swatch;

    let needed = |recipe: &Recipe| sheet_of(recipe).needed;
    let names = |recipe: &Recipe| -> Vec<String> {
        needed(recipe).into_iter().map(|(name, _)| name).collect()
    };
    let swatch = Swatch {
        needle: Needle::try_from(250).ok(),
        ..Swatch::default()
    };
    let usual = Recipe {
        ball: Some(Ball {
            grams: 50,
            metres: 210,
        }),
        swatch,
        ..Recipe::default()
    };
    let (plan, _) = plan_of(&usual);
    let metres = 2 * plan.outcome.metres;
    let all = needed(&usual);
    let yarn = &all[0].1;
    assert!(yarn.contains(&format!("about {metres}\u{a0}m, ")), "{yarn}");
    let balls = metres.div_ceil(210);
    assert!(yarn.ends_with(&format!(": {balls} balls")), "{yarn}");
    assert_eq!(
        all[1].1,
        "one circular needle, 2.5\u{a0}mm (US 1½), 80 to 100 cm long"
    );
    assert_eq!(
        names(&usual),
        [
            "Yarn",
            "Needles",
            "Markers",
            "Tapestry needle",
            "Reinforcing thread"
        ]
    );
    assert_eq!(all[2].1, "2");
    assert_eq!(all[3].1, "to graft and to weave in the ends");

    let up = Recipe {
        direction: Direction::ToeUp,
        toe_cast_on: ToeCastOn::Provisional,
        toe: Toe::ShortRow,
        bind_off: BindOff::Plain,
        heel: Heel::Afterthought {
            opening: HeelOpening::WasteYarn,
        },
        needles: Method::ShortCircular { length: None },
        motif: Some(Motif {
            rows: vec!["p1 cl2/2 p1".parse().expect("a row")],
            ..Motif::default()
        }),
        stitches: Some(72),
        swatch,
        ..Recipe::default()
    };
    assert_eq!(
        names(&up),
        [
            "Yarn",
            "Needles",
            "For the toe",
            "To bind off",
            "Markers",
            "Cable needle",
            "Waste yarn",
            "Crochet hook",
            "Tapestry needle",
            "Reinforcing thread"
        ]
    );
    let up = needed(&up);
    let waste = up
        .iter()
        .find(|(name, _)| name == "Waste yarn")
        .expect("it");
    assert!(
        waste
            .1
            .ends_with("for the cast-on and to keep the heel’s place"),
        "{}",
        waste.1
    );
    // the next thicker size than 2.5 mm
    assert!(up[3].1.starts_with("2.75\u{a0}mm"), "{}", up[3].1);
}

/// The crossing is drawn move by move where stitches come onto other needles, its counts those of the needles; and so is
/// what is set apart for the graft.
#[test]
fn the_crossing_is_drawn() {
    for needles in Method::ALL {
        let recipe = Recipe {
            needles,
            ..Recipe::default()
        };
        let (plan, trace) = plan_of(&recipe);
        let sheet = of(&plan, &trace, Wording::default(), None, Hue::USUAL);
        let page = html(&sheet);
        let mut drawn = 0;
        let mut step = 0;
        for (section, part) in plan.sections.iter().zip(&sheet.parts) {
            let mut walked = part.blocks.iter().filter(|block| block.ticks.is_empty());
            for (nth, one) in section.steps.iter().enumerate() {
                if one.form != StepForm::Walk || section.kind != SectionKind::PickUp {
                    continue;
                }
                for done in &trace.steps[step + nth].moves {
                    let block = walked.next().expect("a block for each move");
                    let Some(still) = &block.items[0].still else {
                        continue;
                    };
                    drawn += 1;
                    let counts: u16 = still
                        .split("class=\"count\"")
                        .skip(1)
                        .filter_map(|rest| rest.split(['>', '<']).nth(1)?.parse::<u16>().ok())
                        .sum();
                    // loops along an edge that is still open are counted there, too
                    let edges: u16 = done
                        .after
                        .items()
                        .map(|item| match item {
                            Item::Edge { loops, .. } => loops,
                            _ => 0,
                        })
                        .sum();
                    assert_eq!(
                        counts,
                        done.after.stitches() + edges,
                        "{needles:?}: {still}"
                    );
                }
            }
            step += section.steps.len();
        }
        assert!((4..=6).contains(&drawn), "{needles:?}: {drawn}");
        assert_eq!(page.matches("<pattern ").count(), 5);
        assert!(page.matches("class=\"needles still\"").count() >= drawn);
    }
    let late = sheet_of(&Recipe {
        toe: Toe::Round,
        heel: Heel::ShortRow { between: 0 },
        needles: Method::ShortCircular { length: None },
        ..Recipe::default()
    });
    let page = html(&late);
    assert_eq!(
        page.contains("<pattern "),
        page.contains("class=\"needles still\"")
    );
}

/// Short words have a key of what they abbreviate, British knitters one without the bind-off that they write out; a
/// motif's chart has one of its symbols.
#[test]
fn what_is_abbreviated_has_a_key() {
    use evenloop_engine::text::{English, WordForm};

    let recipe = Recipe {
        direction: Direction::ToeUp,
        motif: Some(Motif {
            rows: ["p1 k2 p1", "p1 cl1/1 p1"]
                .map(|row| row.parse().expect("a row"))
                .into(),
            ..Motif::default()
        }),
        ..Recipe::default()
    };
    let (plan, trace) = plan_of(&recipe);
    for english in [English::British, English::American] {
        let wording = Wording {
            form: WordForm::Short,
            english,
            ..Wording::default()
        };
        let sheet = of(&plan, &trace, wording, None, Hue::USUAL);
        let key: Vec<&str> = sheet.key.iter().map(|(short, _)| short.as_str()).collect();
        assert_eq!(key.contains(&"BO"), english == English::American, "{key:?}");
        for one in ["k", "p", "m1l", "m1r", "DS", "1/1 LC"] {
            assert!(key.contains(&one), "{one}: {key:?}");
        }
        assert!(!key.contains(&"yo"), "{key:?}");
        let motif = sheet.motif.as_ref().expect("a motif");
        assert_eq!(motif.symbols.len(), 3);
        let page = text(&sheet);
        assert!(page.contains("\nAbbreviations and signs\n"), "{page}");
        assert!(page.contains("m1l: make 1 left"), "{page}");
    }
}
