//! The form against the recipes it means.

use evenloop_engine::link::read_link;
use evenloop_engine::needle_size::Needle;
use evenloop_engine::recipe::{
    Adjust, Ball, BindOff, CastOn, CircularLength, Cuff, Direction, Edge, Fit, FlapTexture, Girth,
    Heel, HeelOpening, HeelTurn, LeftRight, Method, Motif, MotifPlacement, Narrowing, RoundsBy,
    Stripe, Toe, ToeCastOn,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::swatch::{FlapSwatch, PatternRounds, PatternSwatch, Swatch, Unwashed};
use evenloop_engine::text::Wording;
use evenloop_engine::yarn_weight::WeightName;

use super::answers::NeedleChoice;
use super::*;
use crate::starters::STARTERS;

/// A form with everything filled in.
fn filled() -> MeasureForm {
    MeasureForm::of(&Recipe::default(), LengthUnit::Cm)
}

fn with(changes: &[(NumberField, &str)]) -> MeasureForm {
    typed_into(filled(), changes)
}

fn typed_into(mut form: MeasureForm, changes: &[(NumberField, &str)]) -> MeasureForm {
    for (field, text) in changes {
        form.typed.insert(*field, (*text).to_owned());
    }
    form
}

fn fields(form: &MeasureForm) -> Vec<String> {
    form.outcome()
        .err()
        .unwrap_or_default()
        .into_iter()
        .filter_map(|wrong| wrong.field)
        .map(path)
        .collect()
}

fn path(field: FormPlace) -> String {
    match field {
        FormPlace::Number(number) => number.path().into_owned(),
        FormPlace::Question(question) => question.path().unwrap_or_default().to_owned(),
        FormPlace::Calf => "calf".to_owned(),
        FormPlace::Motif => "motif.rows".to_owned(),
        FormPlace::Stripes => "yarns.stripes".to_owned(),
    }
}

#[test]
fn the_first_form_is_empty_and_no_sock_until_foot_and_swatch_are_filled_in() {
    let mut form = MeasureForm::default();
    assert!(
        numbers_in_form().all(|field| { form.text(field).is_empty() || !is_asked(field, &form) })
    );
    let needed = [
        "foot.length",
        "swatch.stitches",
        "swatch.width",
        "swatch.rounds",
        "swatch.height",
    ];
    assert_eq!(fields(&form), needed);
    assert!(
        form.recipe()
            .is_err_and(|wrong| wrong.iter().all(Wrong::is_empty))
    );
    // it is drawn all the same, to be looked at
    assert!(form.sketch().is_some());
    for (field, text) in [
        (NumberField::FootLength, "24"),
        (NumberField::SwatchStitches, "30"),
        (NumberField::SwatchWidth, "10"),
        (NumberField::SwatchRounds, "42"),
    ] {
        form.type_into(field, text.into());
        assert!(form.plan().is_err());
    }
    form.type_into(NumberField::SwatchHeight, "10".into());
    assert_eq!(form.recipe(), Ok(Recipe::default()));
    assert_eq!(form.sketch(), None);
    form.type_into(NumberField::FootLength, "long".into());
    form.type_into(NumberField::SwatchHeight, String::new());
    assert_eq!(form.sketch(), None, "what is wrong is not drawn");
}

#[test]
fn without_a_swatch_the_yarn_makes_a_first_guess() {
    let mut form = MeasureForm::default();
    form.type_into(NumberField::FootLength, "24".into());
    form.gauge_by = GaugeBy::Guess;
    let recipe = form.recipe().expect("a recipe");
    assert!(recipe.swatch.guess.is_some());
    assert_eq!((recipe.swatch.stitches, recipe.swatch.rounds), (32, 44));
    form.type_into(NumberField::BandStitches, "28".into());
    form.needle = Needle::all().find(|needle| needle.size().hundredths == 225);
    let recipe = form.recipe().expect("a recipe");
    assert_eq!(recipe.swatch.stitches, 30);
    assert_eq!(
        MeasureForm::of(&recipe, LengthUnit::Cm).recipe().as_ref(),
        Ok(&recipe)
    );
    assert_eq!(
        MeasureForm::of(&recipe, LengthUnit::Inch).recipe().as_ref(),
        Ok(&recipe)
    );
    // measured in the sock, it is a guess no longer
    let mut later = MeasureForm::of(&recipe, LengthUnit::Cm);
    later.gauge_by = GaugeBy::Swatch;
    assert_eq!(
        fields(&later).len(),
        4,
        "nothing of the guess is taken for measured"
    );
    for (field, text) in [
        (NumberField::SwatchStitches, "29"),
        (NumberField::SwatchWidth, "10"),
        (NumberField::SwatchRounds, "40"),
        (NumberField::SwatchHeight, "10"),
    ] {
        later.type_into(field, text.into());
    }
    let measured = later.recipe().expect("a recipe").swatch;
    assert_eq!((measured.guess, measured.stitches), (None, 29));
}

#[test]
fn empty_lines_show_what_they_are_taken_for_or_an_example() {
    let mut form = MeasureForm::default();
    let such = |text: &str| Some(Example::Such(text.to_owned()));
    let taken = |text: &str| Some(Example::Taken(text.to_owned()));
    assert_eq!(form.example(NumberField::FootLength), such("24"));
    assert_eq!(form.example(NumberField::FootCircumference), such("23"));
    assert_eq!(form.example(NumberField::SwatchStitches), such("30"));
    assert_eq!(form.example(NumberField::Leg), taken("16"));
    assert_eq!(form.example(NumberField::Stitches), None);
    form.measure_in(LengthUnit::Inch);
    assert_eq!(form.example(NumberField::FootLength), such("9.5"));
    assert_eq!(form.example(NumberField::SwatchWidth), such("4"));
    assert_eq!(form.example(NumberField::Leg), taken("6.25"));
    assert_eq!(form.example(NumberField::CuffLength), taken("1.5"));
    assert_eq!(form.example(NumberField::LengthEase), taken("0.5"));
    form.type_into(NumberField::FootLength, "6 3/4".into());
    assert_eq!(form.example(NumberField::FootCircumference), taken("6.5"));
    assert_eq!(form.example(NumberField::Leg), taken("4.5"));
}

/// An earlier build stored its form when it was first opened, with figures that were not typed.
#[test]
fn an_untouched_draft_of_an_earlier_build_brings_no_figures_back() {
    let draft = |foot: &str| {
        let draft = serde_json::json!({
            "name": "Grey ones",
            "typed": {
                "foot.length": foot, "swatch.stitches": "30", "swatch.width": "10",
                "swatch.rounds": "42", "swatch.height": "10", "fit.ease_percent": "10",
                "fit.length_ease": "1", "cuff.length": "4", "leg": "16",
                "heel.between": "0",
            },
        });
        serde_json::from_value::<MeasureForm>(draft).expect("a draft")
    };
    let mut form = MeasureForm::default();
    form.take_up(draft("24"));
    assert_eq!(form.text(NumberField::FootLength), "");
    assert_eq!(form.text(NumberField::SwatchStitches), "");
    assert_eq!(form.name, "Grey ones");
    // somebody measured a foot
    let mut form = MeasureForm::default();
    form.take_up(draft("25"));
    assert_eq!(form.text(NumberField::FootLength), "25");
    assert_eq!(form.text(NumberField::SwatchStitches), "30");
}

#[test]
fn a_ready_recipe_fills_in_its_choices_and_nobodys_measures() {
    for starter in &STARTERS {
        let recipe = read_link(&starter.link()).expect("a recipe");
        for &unit in LengthUnit::ALL {
            let form = MeasureForm::of_ready(&recipe, unit);
            let wrong = form.recipe().expect_err("nobody was measured");
            assert!(wrong.iter().all(Wrong::is_empty), "{}", starter.name);
            assert_eq!(form.text(NumberField::FootLength), "");
            assert_eq!(form.text(NumberField::SwatchWidth), "");
            let leg = Length::parse(&form.text_or_usual(NumberField::Leg), unit);
            let leg = leg.expect("a leg");
            assert_eq!(leg, leg.round_figure(unit), "{} {unit:?}", starter.name);
            assert_eq!(form.direction, recipe.direction);
            assert!(form.sketch().is_some(), "{}", starter.name);
        }
    }
}

#[test]
fn yarn_is_asked_for_in_yards_and_ounces_where_inches_are() {
    let ball = Ball {
        grams: 100,
        metres: 400,
    };
    let recipe = Recipe {
        ball: Some(ball),
        ..Recipe::default()
    };
    let mut form = MeasureForm::of(&recipe, LengthUnit::Inch);
    assert_eq!(form.text(NumberField::BallGrams), "3.53");
    assert_eq!(form.text(NumberField::BallMetres), "437");
    assert_eq!(form.recipe().expect("a recipe").ball, Some(ball));
    form.measure_in(LengthUnit::Cm);
    assert_eq!(form.text(NumberField::BallGrams), "100");
    assert_eq!(form.text(NumberField::BallMetres), "400");
    form.type_into(NumberField::BallMetres, "437 yds".into());
    assert_eq!(form.recipe().expect("a recipe").ball, Some(ball));
    form.type_into(NumberField::BallGrams, "a skein".into());
    assert_eq!(fields(&form), ["ball.grams"]);
}

#[test]
fn a_recipe_comes_back_from_its_form_in_both_units() {
    let recipe = Recipe {
        direction: Direction::CuffDown,
        foot: Foot {
            length: Length(2_540),
            circumference: Some(Length(2_159)),
            heel_diagonal: Some(Length(3_048)),
        },
        leg: Length(1_524),
        cuff: Cuff {
            edge: Edge::Hem { picot: true },
            length: Length(508),
        },
        swatch: Swatch {
            width: Length(1_016),
            height: Length(1_016),
            ..Swatch::default()
        },
        fit: Fit {
            ease_percent: 8,
            length_ease: Length(127),
            ..Fit::default()
        },
        heel: Heel::FlapAndGusset {
            texture: FlapTexture::GarterEdge,
            turn: HeelTurn::Band,
            rows: Some(28),
            height: None,
            corners: true,
        },
        toe: Toe::Wedge {
            narrowing: Narrowing::Long,
        },
        needles: Method::FiveDpns,
        stitches: Some(60),
        ball: Some(Ball {
            grams: 100,
            metres: 400,
        }),
        ..Recipe::default()
    };
    for &unit in LengthUnit::ALL {
        assert_eq!(
            MeasureForm::of(&recipe, unit).recipe().as_ref(),
            Ok(&recipe),
            "{unit:?}"
        );
    }
    let circulars = CircularLength::ALL.map(|length| Method::ShortCircular {
        length: Some(length),
    });
    let unsaid = |method: &Method| *method != Method::ShortCircular { length: None };
    for method in Method::ALL.into_iter().filter(unsaid).chain(circulars) {
        let recipe = Recipe {
            needles: method,
            ..Recipe::default()
        };
        assert_eq!(
            MeasureForm::of(&recipe, LengthUnit::Cm).recipe(),
            Ok(recipe)
        );
    }
    // Nobody said how long it is: it is asked for, and taken for the shortest until then.
    let unsaid = Recipe {
        needles: Method::ShortCircular { length: None },
        ..Recipe::default()
    };
    let asked = MeasureForm::of(&unsaid, LengthUnit::Cm).recipe();
    assert_eq!(
        asked.expect("a recipe").needles,
        Method::ShortCircular {
            length: Some(CircularLength::Cm20)
        }
    );
    let late = |opening| Heel::Afterthought { opening };
    for heel in [
        Heel::ShortRow { between: 2 },
        late(HeelOpening::WasteYarn),
        late(HeelOpening::Snipped),
    ] {
        let recipe = Recipe {
            direction: Direction::ToeUp,
            heel,
            ..Recipe::default()
        };
        assert_eq!(
            MeasureForm::of(&recipe, LengthUnit::Cm).recipe(),
            Ok(recipe)
        );
    }
}

#[test]
fn what_not_every_sock_has_comes_back_too() {
    let rows = ["k1 yo ssk k1 k2tog yo", "k6"].map(|row| row.parse().expect("a row"));
    let girth = |height, round| Girth {
        height: Length::mm(height),
        circumference: Length::mm(round),
    };
    let stripe = |yarn, rounds| Stripe { yarn, rounds };
    let recipe = Recipe {
        cast_on: CastOn::KnittedOn,
        toe_cast_on: ToeCastOn::Wrapped,
        bind_off: BindOff::Sewn,
        swatch: Swatch {
            needle: Needle::all().nth(4),
            unwashed: Some(Unwashed {
                width: Length::mm(97),
                height: Length::mm(104),
            }),
            pattern: Some(PatternSwatch {
                stitches: 34,
                width: Length::cm(10),
            }),
            pattern_rounds: Some(PatternRounds {
                rounds: 45,
                height: Length::cm(10),
            }),
            flap: Some(FlapSwatch {
                rows: 30,
                height: Length::mm(62),
            }),
            ..Swatch::default()
        },
        fit: Fit {
            high_instep: true,
            wide_toes: true,
            narrow_heel: true,
            tender_legs: true,
            ..Fit::default()
        },
        calf: vec![girth(100, 260), girth(180, 340), girth(330, 320)],
        heel: Heel::FlapAndGusset {
            texture: FlapTexture::default(),
            turn: HeelTurn::default(),
            rows: None,
            height: Some(Length::mm(65)),
            corners: false,
        },
        motif: Some(Motif {
            rows: rows.to_vec(),
            place: MotifPlacement::Front,
            balance: 1,
            edge: 2,
            rounds_by: RoundsBy::Between,
        }),
        yarns: Some(Yarns {
            stripes: vec![stripe(Yarn::B, 3), stripe(Yarn::A, 1), stripe(Yarn::B, 12)],
            cuff: Yarn::C,
            heel: Yarn::A,
            toe: Yarn::B,
        }),
        ..Recipe::default()
    };
    assert_eq!(
        MeasureForm::of(&recipe, LengthUnit::Cm).recipe(),
        Ok(recipe)
    );
    for toe in Toe::ALL {
        let recipe = Recipe {
            toe,
            ..Recipe::default()
        };
        assert_eq!(
            MeasureForm::of(&recipe, LengthUnit::Cm).recipe(),
            Ok(recipe)
        );
    }
}

#[test]
fn a_pair_for_left_and_right_has_two_different_recipes() {
    let form = MeasureForm {
        toe: Toe::Shaped {
            foot: LeftRight::Right,
        },
        ..filled()
    };
    let recipe = form.recipe().expect("a recipe");
    let second = recipe.second_sock().expect("the other foot's");
    assert_eq!(
        second.toe,
        Toe::Shaped {
            foot: LeftRight::Left
        }
    );
    assert_eq!(second.second_sock(), Some(recipe));
    assert_eq!(Recipe::default().second_sock(), None);
    assert!(form.outcome().is_ok());
}

#[test]
fn what_is_not_chosen_is_not_sent() {
    let text = evenloop_engine::wire::write_recipe(&filled().recipe().expect("a recipe"));
    for word in [
        "unwashed", "calf", "motif", "yarns", "cast_on", "bind_off", "instep", "wide", "narrow_",
        "guess",
    ] {
        assert!(!text.contains(word), "{word} in {text}");
    }
}

#[test]
fn a_draft_of_an_earlier_build_reads() {
    let text = r#"{"name":"Old ones","unit":"cm","typed":{"foot-length":"25","between":"2"},
        "direction":"toe-up","edge":{"rib":"1x1"},"heel":"short-row","texture":"slipped-stitch",
        "turn":"round","corners":false,"toe":{"kind":"wedge","narrowing":"long"},
        "needles":"four-dpns","seating":"even-halves"}"#;
    let form: MeasureForm = serde_json::from_str(text).expect("a form");
    assert_eq!(form.text(NumberField::HeelBetween), "2");
    assert_eq!((form.yarns, form.girths, form.patterned), (1, 0, false));
}

#[test]
fn half_of_what_belongs_together_is_asked_for() {
    let form = with(&[(NumberField::UnwashedWidth, "9.8")]);
    assert_eq!(fields(&form), ["swatch.unwashed.height"]);
    let form = MeasureForm {
        girths: 1,
        ..with(&[(NumberField::GirthHeight(0), "12")])
    };
    assert_eq!(fields(&form), ["calf.0.circumference"]);
}

fn distinct<T: Answer + std::fmt::Debug>() {
    for (nth, one) in T::ALL.iter().enumerate() {
        assert_eq!(one.index(), nth, "{one:?}");
        assert!(!one.name().is_empty(), "{one:?}");
    }
}

#[test]
fn every_choice_the_engine_has_stands_in_the_form() {
    for edge in Edge::ALL {
        assert_eq!(<Edge as Answer>::ALL[edge.index()], edge);
    }
    for toe in Toe::ALL {
        let there = <Toe as Answer>::ALL[toe.index()];
        let both_shaped = matches!(toe, Toe::Shaped { .. }) && matches!(there, Toe::Shaped { .. });
        assert!(there == toe || both_shaped, "{toe:?}");
    }
    for method in Method::ALL {
        let needles = NeedleChoice::of(method);
        assert_eq!(NeedleChoice::ALL[needles.index()], needles);
    }
    distinct::<LengthUnit>();
    distinct::<Direction>();
    distinct::<Edge>();
    distinct::<CastOn>();
    distinct::<ToeCastOn>();
    distinct::<BindOff>();
    distinct::<HeelKind>();
    distinct::<HeelOpening>();
    distinct::<FlapTexture>();
    distinct::<HeelTurn>();
    distinct::<FlapBy>();
    distinct::<Toe>();
    distinct::<LeftRight>();
    distinct::<MotifPlacement>();
    distinct::<RoundsBy>();
    distinct::<NeedleChoice>();
    distinct::<CircularLength>();
    distinct::<GaugeBy>();
    distinct::<WeightName>();
}

#[test]
fn a_childs_leg_cuff_and_ease_follow_its_foot_until_they_are_typed() {
    let mut form = MeasureForm::default();
    form.type_into(NumberField::CuffLength, "5".into());
    for typed in ["1", "17"] {
        form.type_into(NumberField::FootLength, typed.into());
    }
    assert_eq!(form.text_or_usual(NumberField::Leg), "11.5");
    assert_eq!(form.text_or_usual(NumberField::LengthEase), "0.5");
    assert_eq!(form.text_or_usual(NumberField::CuffLength), "5");
    form.type_into(NumberField::FootLength, "25".into());
    assert_eq!(form.text_or_usual(NumberField::Leg), "16");
    assert_eq!(form.text_or_usual(NumberField::LengthEase), "1");
}

/// What a recipe has, one by one: a new field does not compile here until somebody has seen that the
/// form has a row for it.
#[test]
fn every_field_of_a_recipe_is_known_to_the_form() {
    let recipe = filled().recipe().expect("a recipe");
    let Recipe {
        direction: _,
        foot:
            Foot {
                length: _,
                circumference: _,
                heel_diagonal: _,
            },
        swatch:
            Swatch {
                stitches: _,
                width: _,
                rounds: _,
                height: _,
                unwashed: _,
                pattern: _,
                pattern_rounds: _,
                flap: _,
                needle: _,
                guess: _,
            },
        fit:
            Fit {
                ease_percent: _,
                length_ease: _,
                high_instep: _,
                wide_toes: _,
                narrow_heel: _,
                tender_legs: _,
            },
        cuff: Cuff { edge: _, length: _ },
        cast_on: _,
        toe_cast_on: _,
        bind_off: _,
        leg: _,
        calf: _,
        adjust: Adjust { leg: _, foot: _ },
        heel: _,
        toe: _,
        needles: _,
        motif: _,
        yarns: _,
        stitches: _,
        ball: _,
        // read from a pattern's text, which no line of the form holds
        written: _,
    } = recipe;
}

#[test]
fn what_cannot_be_read_is_said_at_its_line_and_so_is_what_is_out_of_range() {
    let form = with(&[
        (NumberField::FootLength, "long"),
        (NumberField::SwatchWidth, ""),
        (NumberField::SwatchStitches, "29.5"),
        (NumberField::CuffLength, "40"),
        (NumberField::BallGrams, "100"),
    ]);
    let mut wrong = fields(&form);
    wrong.sort();
    // A cuff that is too tall is also taller than its leg.
    assert_eq!(
        wrong,
        [
            "ball.metres",
            "cuff.length",
            "foot.length",
            "leg",
            "swatch.stitches",
            "swatch.width"
        ]
    );
    let errors = form.outcome().expect_err("all that");
    let foot = errors
        .iter()
        .find(|e| e.field == Some(FormPlace::Number(NumberField::FootLength)))
        .expect("an error");
    let message = foot.text(Wording::default()).message;
    assert!(message.contains("“long”"), "{message}");
}

#[test]
fn ranges_are_said_in_the_unit_that_is_chosen() {
    let mut form = with(&[(NumberField::FootLength, "40"), (NumberField::Leg, "2")]);
    let said = |form: &MeasureForm| {
        let wrong = form.outcome().expect_err("two lines are out of range");
        let wording = Wording {
            unit: form.unit,
            ..Wording::default()
        };
        let both = wrong.iter().map(|wrong| wrong.text(wording));
        let both = both.map(|said| format!("{} {}", said.message, said.help));
        both.collect::<Vec<_>>().join(" ")
    };
    let cm = said(&form);
    assert!(
        cm.contains("40\u{a0}cm; it can be 9\u{a0}cm to 34\u{a0}cm"),
        "{cm}"
    );
    assert!(cm.contains("The leg (2\u{a0}cm)"), "{cm}");
    form.measure_in(LengthUnit::Inch);
    let inches = said(&form);
    assert!(
        inches.contains("15¾\u{a0}in; it can be 3¾\u{a0}in to 13¼\u{a0}in"),
        "{inches}"
    );
    assert!(!inches.contains("cm"), "{inches}");
    // a gauge is counted over 4 in
    form.typed
        .insert(NumberField::SwatchStitches, "90".to_owned());
    let inches = said(&form);
    assert!(
        inches.contains("stitches in 4\u{a0}in; it can be 15.3 to 48.7"),
        "{inches}"
    );
    assert!(!inches.contains("cm"), "{inches}");
    assert!(!(cm + &inches).contains(['‹', '›']));
}

#[test]
fn numbers_far_out_are_refused_and_nothing_breaks() {
    for text in [
        "0",
        "-1",
        "1e9",
        "99999999999999999999",
        "∞",
        "½",
        "24 furlongs",
        "0x18",
    ] {
        for field in numbers_in_form() {
            let form = with(&[(field, text)]);
            if let Err(errors) = form.outcome() {
                assert!(
                    errors
                        .iter()
                        .all(|e| !e.text(Wording::default()).message.is_empty()),
                    "{field:?} {text}"
                );
            }
        }
    }
}

#[test]
fn a_change_of_unit_keeps_lengths_and_what_is_no_length() {
    let mut form = with(&[
        (NumberField::FootLength, "24,5"),
        (NumberField::Leg, "knee high"),
    ]);
    form.measure_in(LengthUnit::Inch);
    assert_eq!(form.text(NumberField::FootLength), "9.65");
    assert_eq!(form.text(NumberField::Leg), "knee high");
    assert_eq!(form.text(NumberField::SwatchStitches), "30");
    form.measure_in(LengthUnit::Cm);
    assert_eq!(form.text(NumberField::FootLength), "24.5");
}

#[test]
fn an_earlier_draft_does_not_overwrite_what_was_typed_since() {
    let fresh = |typed: &[_]| typed_into(MeasureForm::default(), typed);
    let earlier = MeasureForm {
        name: "Grey ones".to_owned(),
        corners: true,
        ..fresh(&[
            (NumberField::FootLength, "26"),
            (NumberField::Leg, "12"),
            (NumberField::HeelRows, "28"),
        ])
    };
    let mut now = fresh(&[(NumberField::Leg, "10")]);
    now.edge = Edge::Rolled;
    now.take_up(earlier);
    assert_eq!(now.name, "Grey ones");
    assert_eq!((now.corners, now.edge), (true, Edge::Rolled));
    assert_eq!(now.text(NumberField::FootLength), "26");
    assert_eq!(now.text(NumberField::Leg), "10");
    assert_eq!(now.text(NumberField::HeelRows), "28");
    let earlier = MeasureForm {
        unit: LengthUnit::Inch,
        ..fresh(&[(NumberField::FootLength, "9 1/2")])
    };
    let mut now = MeasureForm::default();
    now.take_up(earlier);
    assert_eq!(
        (now.unit, now.text(NumberField::FootLength)),
        (LengthUnit::Inch, "9 1/2")
    );
}

#[test]
fn a_draft_reads_back() {
    let form = with(&[(NumberField::FootLength, "26½?")]);
    let text = serde_json::to_string(&form).expect("text");
    assert_eq!(
        serde_json::from_str::<MeasureForm>(&text).expect("a form"),
        form
    );
}

/// Every number that stood in the form when drafts were still kept by the names of its inputs.
#[test]
fn a_draft_of_an_earlier_build_is_read_by_the_names_of_its_inputs() {
    use NumberField as N;

    let names = [
        ("foot-length", N::FootLength),
        ("foot-circumference", N::FootCircumference),
        ("heel-diagonal", N::HeelDiagonal),
        ("swatch-stitches", N::SwatchStitches),
        ("swatch-width", N::SwatchWidth),
        ("swatch-rounds", N::SwatchRounds),
        ("swatch-height", N::SwatchHeight),
        ("unwashed-width", N::UnwashedWidth),
        ("unwashed-height", N::UnwashedHeight),
        ("cuff-length", N::CuffLength),
        ("leg", N::Leg),
        ("girth-height-0", N::GirthHeight(0)),
        ("girth-round-3", N::GirthRound(3)),
        ("heel-rows", N::HeelRows),
        ("heel-height", N::HeelHeight),
        ("heel-between", N::HeelBetween),
        ("between", N::HeelBetween),
        ("ease", N::EasePercent),
        ("length-ease", N::LengthEase),
        ("stitches", N::Stitches),
        ("stripe-rounds-7", N::StripeRounds(7)),
        ("ball-grams", N::BallGrams),
        ("ball-metres", N::BallMetres),
    ];
    for (name, field) in names {
        let draft = format!(r#"{{"typed":{{"{name}":"12","no-such-line":"3"}}}}"#);
        let form: MeasureForm = serde_json::from_str(&draft).expect("a form");
        assert_eq!(form.text(field), "12", "{name}");
    }
}
