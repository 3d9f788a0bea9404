//! Laws that hold for every sock and every input, tried on many made-up ones.

mod any;
mod symmetry;

use any::{any_events, any_ops, any_recipe, any_style, knittable, knittable_of, undressed};
use evenloop_engine::journal::{
    ChunkError, Event, Journal, NOTE_LIMIT, read_chunk, tidy_note, write_chunk,
};
use evenloop_engine::link::{read_link, write_link};
use evenloop_engine::needles::{Item, Needles, Origin};
use evenloop_engine::plan::{Plan, SectionKind, StepForm, make};
use evenloop_engine::recipe::{Direction, Method, Recipe, Row, Seating, Toe};
use evenloop_engine::stitch::Op;
use evenloop_engine::text::{English, Typed, Wording, problem};
use evenloop_engine::text::{instructions, one_line};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::{Length, LengthUnit};
use evenloop_engine::wire::{plan_document, read_plan, read_recipe, write_plan, write_recipe};
use evenloop_engine::written_ops::{read_ops, write_ops};
use proptest::prelude::*;
use proptest::sample::{Index, select};

/// How many cases to try; a failing one prints its input, no file is left behind.
fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

fn plan_of(recipe: &Recipe) -> Plan {
    make(recipe).unwrap_or_else(|errors| panic!("{errors:?}"))
}

fn trace_of(plan: &Plan) -> Trace {
    Trace::of(plan).unwrap_or_else(|why| panic!("the engine refuses its own plan: {why}"))
}

/// Every position of a trace, from the first move to the last.
fn positions(trace: &Trace) -> impl Iterator<Item = Position> + '_ {
    trace
        .steps
        .iter()
        .enumerate()
        .flat_map(|(step, seen)| (0..seen.moves.len()).map(move |mv| Position { step, mv }))
}

/// The parts of the sock stitch by stitch, from the beginning of the round.
fn ring(needles: &Needles) -> Vec<Origin> {
    needles
        .items()
        .flat_map(|item| match item {
            Item::Stitches(origin, _, n) => std::iter::repeat_n(origin, usize::from(n)),
            _ => std::iter::repeat_n(Origin::Sole, 0),
        })
        .collect()
}

/// Whether two rings are the same, wherever each begins.
fn same_ring(a: &[Origin], b: &[Origin]) -> bool {
    a.len() == b.len()
        && (a.is_empty() || (0..b.len()).any(|i| a.iter().eq(b[i..].iter().chain(&b[..i]))))
}

/// Whether operations move stitches and do nothing else.
fn only_shifts(ops: &[Op]) -> bool {
    ops.iter().all(|op| {
        matches!(
            op,
            Op::LoopOut(_)
                | Op::LoopIn(_)
                | Op::BeginHere
                | Op::Place(_)
                | Op::Hang(..)
                | Op::SlipMarker(_)
                | Op::Remove(_)
                | Op::Next
        )
    })
}

/// Stitches of every part after each round from the gusset on, plain foot rounds left out.
fn parts_by_round(needles: Method, recipe: &Recipe) -> Vec<[u16; 5]> {
    let plan = plan_of(&Recipe {
        needles,
        ..recipe.clone()
    });
    let trace = trace_of(&plan);
    trace
        .steps
        .iter()
        .enumerate()
        .filter(|(i, step)| {
            matches!(step.kind, SectionKind::Gusset | SectionKind::Toe)
                && plan.step(*i).is_some_and(|s| s.form == StepForm::Round)
        })
        .map(|(_, step)| {
            [
                Origin::Heel,
                Origin::GussetLeft,
                Origin::Instep,
                Origin::GussetRight,
                Origin::Sole,
            ]
            .map(|origin| step.after().stitches_of(origin))
        })
        .collect()
}

proptest! {
    #![proptest_config(cases(512))]

    #[test]
    fn every_recipe_goes_through_an_address(recipe in any_recipe()) {
        let link = write_link(&recipe);
        prop_assert!(link.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-' || b == b'_'));
        prop_assert_eq!(read_link(&link), Ok(recipe));
    }

    #[test]
    fn no_text_is_too_strange_for_a_link(text in ".{0,200}", rest in "[0-9A-Za-z_-]{0,200}") {
        drop(read_link(&text));
        drop(read_link(&format!("1{rest}")));
    }
}

proptest! {
    #![proptest_config(cases(48))]

    /// Any recipe whose numbers are in range is planned and can be knitted, or refused with the
    /// name of a field, a reason and a remedy.
    #[test]
    fn every_recipe_is_planned_or_kindly_refused(recipe in any_recipe()) {
        match make(&recipe) {
            Ok(plan) => {
                let trace = trace_of(&plan);
                prop_assert_eq!(trace.steps.last().map(|s| s.after().stitches()), Some(0));
            }
            Err(why) => {
                prop_assert!(!why.fields().is_empty(), "{}", why);
                for e in why.fields() {
                    let said = problem(&e.problem, Wording::default());
                    prop_assert!(!e.field.is_empty() && !said.message.is_empty() && !said.help.is_empty());
                }
            }
        }
    }

    /// Both sides of the foot are the same after every round, and a wedge takes as many stitches
    /// leaning left as leaning right. A motif beside the gusset may lean as it likes.
    #[test]
    fn the_foot_is_symmetrical(recipe in knittable()) {
        let plan = plan_of(&recipe);
        let trace = trace_of(&plan);
        let mut motif = recipe.motif.iter().flat_map(|motif| &motif.rows).flat_map(Row::ops);
        let leans = motif.any(|op| matches!(op, Op::K2tog | Op::Ssk));
        for (i, step) in trace.steps.iter().enumerate() {
            let Some(worked) = plan.step(i).filter(|s| s.form == StepForm::Round) else { continue };
            let after = step.after();
            if step.kind == SectionKind::Gusset {
                let sides = [Origin::GussetLeft, Origin::GussetRight].map(|o| after.stitches_of(o));
                prop_assert_eq!(sides[0], sides[1]);
            }
            if step.kind == SectionKind::Toe {
                prop_assert_eq!(after.stitches_of(Origin::Instep), after.stitches_of(Origin::Sole));
            }
            let wedge = (step.kind == SectionKind::Gusset && !leans)
                || (step.kind == SectionKind::Toe && recipe.toe != Toe::Round);
            if wedge {
                let count = |wanted: &Op| {
                    worked.moves[0].ops.iter().filter(|op| *op == wanted).count()
                };
                prop_assert_eq!(count(&Op::K2tog), count(&Op::Ssk));
                prop_assert_eq!(count(&Op::MakeLeft), count(&Op::MakeRight));
            }
        }
    }

    /// Needles and seating change where stitches sit, never the sock.
    #[test]
    fn every_method_knits_the_same_sock(recipe in knittable_of(undressed())) {
        let one = parts_by_round(Method::ALL[0], &recipe);
        for needles in Method::ALL {
            // The pick-up of that seating is a round higher; a foot that was just long enough
            // narrows its gusset faster, and that is another sock.
            let on = Recipe { needles, ..recipe.clone() };
            // A narrow sock does not reach round a short circular.
            let short = matches!(needles, Method::ShortCircular { .. }) && make(&on).is_err();
            if needles.seating() != Some(Seating::InstepAndSole) && !short {
                prop_assert_eq!(&parts_by_round(needles, &recipe), &one, "{:?}", needles);
            }
        }
    }

    /// Re-seating moves stitches between needles; their order stays.
    #[test]
    fn re_seating_keeps_the_order(recipe in knittable()) {
        let plan = plan_of(&recipe);
        let trace = trace_of(&plan);
        for at in positions(&trace) {
            let (_, mv) = plan.move_at(at).expect("a position of the plan");
            if only_shifts(&mv.ops) {
                let before = trace.needles_at(at).expect("there are needles");
                let after = &trace.steps[at.step].moves[at.mv].after;
                prop_assert!(same_ring(&ring(before), &ring(after)), "{:?}", mv);
            }
        }
    }

    /// What is written can be read, and is the same.
    #[test]
    fn plans_and_recipes_read_back(recipe in any_recipe()) {
        let written = write_recipe(&recipe);
        prop_assert_eq!(read_recipe(&written), Ok(recipe.clone()));
        if let Ok(plan) = make(&recipe) {
            let document = write_plan(&plan);
            prop_assert_eq!(plan_document(&written), Ok(document.clone()));
            let read = read_plan(&document);
            prop_assert_eq!(read.as_ref(), Ok(&plan));
            for ops in plan.sections.iter().flat_map(|s| &s.steps).flat_map(|s| &s.moves) {
                let ops = &ops.ops;
                let read = read_ops(&write_ops(ops));
                prop_assert_eq!(read.as_ref(), Ok(ops));
            }
        }
    }

    /// There is something to say about every move, the counts said are the simulator's, and lengths are
    /// told in one unit: from the cuff down there is a tail to cast on with.
    #[test]
    fn every_move_has_words(recipe in knittable(), style in any_style()) {
        let plan = plan_of(&recipe);
        let trace = trace_of(&plan);
        let (unit, other) = match style.unit {
            LengthUnit::Cm => ("\u{a0}cm", "\u{a0}in"),
            LengthUnit::Inch => ("\u{a0}in", "\u{a0}cm"),
        };
        let mut measured = false;
        for at in positions(&trace) {
            let said = instructions(&plan, &trace, at, style).expect("a position of the plan");
            let after = &trace.steps[at.step].moves[at.mv].after;
            prop_assert!(!said.section.is_empty() && !said.heading.is_empty());
            let worked = said.lines.iter().any(|line| !line.text.trim().is_empty());
            let noted = said.note.as_ref().is_some_and(|note| !note.trim().is_empty());
            prop_assert!(worked || noted, "nothing to say at {:?}", at);
            if let Some((_, about)) = said.note.iter().find_map(|note| note.split_once("about ")) {
                let length = about.trim_start_matches(|letter: char| letter.is_ascii_digit());
                measured |= length.starts_with(unit);
                prop_assert!(!length.starts_with(other), "{}", about);
            }
            prop_assert!(said.note.is_none_or(|note| !note.contains('‹')), "at {:?}", at);
            prop_assert_eq!(said.total_after, after.stitches());
            let line = one_line(&plan, &trace, at, style);
            prop_assert!(line.is_some_and(|l| !l.trim().is_empty()), "no line at {:?}", at);
        }
        prop_assert!(measured || recipe.direction == Direction::ToeUp, "no tail is told");
        prop_assert_eq!(instructions(&plan, &trace, trace.end(), style), None);
    }

    /// A plan whose operations were tampered with is knitted or refused, and said or not; nothing
    /// falls over.
    #[test]
    fn a_tampered_plan_is_knitted_or_refused(
        recipe in knittable(),
        at in any::<Index>(),
        ops in any_ops(),
        added in any::<bool>(),
        style in any_style(),
    ) {
        let mut plan = plan_of(&recipe);
        let mut moves: Vec<_> = plan
            .sections
            .iter_mut()
            .flat_map(|s| &mut s.steps)
            .flat_map(|s| &mut s.moves)
            .collect();
        let at = at.index(moves.len());
        let there = &mut moves[at].ops;
        if added {
            there.extend(ops);
        } else {
            *there = ops;
        }
        match read_plan(&write_plan(&plan)) {
            Ok(read) => prop_assert_eq!(&read, &plan),
            // A move longer than any sock's is not unfolded at all.
            Err(why) => prop_assert_eq!(why.to_string(), "this is not a plan: a move is too long"),
        }
        if let Ok(trace) = Trace::of(&plan) {
            for at in positions(&trace) {
                prop_assert!(instructions(&plan, &trace, at, style).is_some());
            }
        }
    }

    /// A stored plan that is damaged in numbers which its stitches do not need is said all the
    /// same.
    #[test]
    fn damaged_measures_are_survived(
        recipe in knittable(),
        (width, height, tail) in any::<(u32, u32, u32)>(),
        largest in any::<bool>(),
        style in any_style(),
    ) {
        let mut plan = plan_of(&recipe);
        let odd = |n: u32| Length(if largest { u32::MAX } else { n });
        plan.recipe.swatch.width = odd(width);
        plan.recipe.swatch.height = odd(height);
        plan.outcome.cast_on_tail = odd(tail);
        let trace = trace_of(&plan);
        for at in positions(&trace) {
            prop_assert!(instructions(&plan, &trace, at, style).is_some());
        }
    }

    /// Whatever is written into a journal, it is somewhere in the plan.
    #[test]
    fn a_journal_never_leaves_the_plan(
        recipe in knittable(),
        events in any_events(120),
        undone in any::<u64>(),
    ) {
        let trace = trace_of(&plan_of(&recipe));
        let mut journal = Journal::new();
        for event in &events {
            journal.push(event.clone(), &trace);
            prop_assert!(trace.contains(journal.position()));
        }
        prop_assert_eq!(journal.events(), &events[..]);
        prop_assert_eq!(&Journal::replay(&events, &trace), &journal);

        // Undoing what was done goes back to where it was, from anywhere but the end.
        let before = journal.position();
        if before != trace.end() {
            journal.push(Event::Done(undone), &trace);
            prop_assert_eq!(journal.position(), trace.advance(before));
            journal.push(Event::Undo(undone), &trace);
        }
        prop_assert_eq!(journal.position(), before);
    }

    /// Done, over and over, passes through every move once and ends at the end.
    #[test]
    fn touch_after_touch_ends_at_the_end(recipe in knittable()) {
        let trace = trace_of(&plan_of(&recipe));
        let mut journal = Journal::new();
        for at in positions(&trace) {
            prop_assert_eq!(journal.position(), at);
            journal.push(Event::Done(0), &trace);
        }
        prop_assert_eq!(journal.position(), trace.end());
        journal.push(Event::Done(0), &trace);
        prop_assert_eq!(journal.position(), trace.end());
    }
}

/// Every term in each variety, signs that once stood for lengths, and anything else.
fn typed_part() -> impl Strategy<Value = String> {
    let terms = [English::AsWritten, English::British, English::American].map(|english| {
        [
            english.bind_off(),
            english.bind_off_capital(),
            english.binding_off(),
            english.bound_off(),
            english.bind_off_noun(),
            english.bind_off_short(),
            english.gauge(),
            english.gauge_capital(),
            english.stockinette(),
            english.seed_stitch(),
            english.colour(),
            english.metres(),
            english.grey(),
        ]
    });
    let signs = [
        "‹500›",
        "‹#›",
        "‹900+›",
        ":,",
        "{}",
        "\u{a0}",
        "*k2*",
        "<b>",
    ];
    prop_oneof![
        select(terms.concat()).prop_map(str::to_owned),
        select(signs.to_vec()).prop_map(str::to_owned),
        any::<String>(),
    ]
}

proptest! {
    #![proptest_config(cases(256))]

    /// Operations in any order, sense or none, read back from their text.
    #[test]
    fn operations_read_back(ops in any_ops()) {
        prop_assert_eq!(read_ops(&write_ops(&ops)), Ok(ops));
    }

    /// What a knitter wrote comes back byte for byte, whatever words and signs are in it: those that
    /// differ between the varieties of English too.
    #[test]
    fn a_note_comes_back_as_it_was_typed(
        parts in prop::collection::vec((typed_part(), "[ \n\t\u{a0}]{1,3}"), 1..12),
    ) {
        let typed: String = parts.into_iter().flat_map(|(part, gap)| [part, gap]).collect();
        let note = Typed::new(tidy_note(&typed));
        if typed.chars().count() <= NOTE_LIMIT {
            prop_assert_eq!(note.as_str(), typed.trim());
        }
        let event = Event::Note(1, Position::default(), note.as_str().to_owned());
        let chunk = write_chunk(1, std::slice::from_ref(&event));
        prop_assert_eq!(read_chunk(1, &chunk), Ok(vec![event]));
        let shown = format!("“{note}”");
        prop_assert_eq!(&shown.as_bytes()[3..shown.len() - 3], note.as_str().as_bytes());
    }

    /// A chunk reads back; at another place, or with any one byte another, it is noticed.
    #[test]
    fn a_damaged_chunk_is_noticed(
        number in any::<u32>(),
        events in any_events(64),
        at in any::<Index>(),
        byte in any::<u8>(),
        elsewhere in any::<u32>(),
    ) {
        let text = write_chunk(number, &events);
        prop_assert!(!text.contains('\n'), "a chunk is one line");
        prop_assert_eq!(read_chunk(number, &text), Ok(events));
        if elsewhere != number {
            prop_assert_eq!(read_chunk(elsewhere, &text), Err(ChunkError::WrongPlace));
        }
        let mut bytes = text.into_bytes();
        let at = at.index(bytes.len());
        prop_assume!(bytes[at] != byte);
        bytes[at] = byte;
        if let Ok(changed) = String::from_utf8(bytes) {
            prop_assert!(read_chunk(number, &changed).is_err(), "{}", changed);
        }
    }

    /// A chunk cut short is noticed.
    #[test]
    fn a_chunk_cut_short_is_noticed(events in any_events(64), at in any::<Index>()) {
        let text = write_chunk(3, &events);
        let cut = at.index(text.len());
        // A letter is not cut through: that would be no text.
        let cut = text.floor_char_boundary(cut);
        prop_assert!(read_chunk(3, &text[..cut]).is_err());
    }

    /// No text whatever makes the readers fall over.
    #[test]
    fn no_text_is_too_odd(text in any::<String>(), number in any::<u32>()) {
        let _ = read_recipe(&text);
        let _ = plan_document(&text);
        let _ = read_plan(&text);
        let _ = read_ops(&text);
        let _ = read_chunk(number, &text);
        for unit in [LengthUnit::Cm, LengthUnit::Inch] {
            let _ = Length::parse(&text, unit);
        }
    }

    /// Texts that nearly are operations, lengths or chunks do not either.
    #[test]
    fn no_near_miss_is_too_odd(
        ops in "[kpscotujnflab\\[\\]0-9@+>/ -]{0,40}",
        length in "[0-9.,/ ½¼¾cminh\"]{0,16}",
        chunk in "[0-9] [0-9]{1,10} [0-9a-f]{8} [bdug0-9a-z:,-]{0,40}",
    ) {
        let _ = read_ops(&ops);
        let _ = read_chunk(1, &chunk);
        for unit in [LengthUnit::Cm, LengthUnit::Inch] {
            let _ = Length::parse(&length, unit);
        }
    }

    /// A recipe document with one thing in it replaced by another kind of thing is read or
    /// refused.
    #[test]
    fn mangled_recipes_are_read_or_refused(
        recipe in any_recipe(),
        at in any::<Index>(),
        bit in "[\\{\\}\\[\\]\",:0-9a-z.e-]{0,6}",
    ) {
        let mut text = write_recipe(&recipe);
        text.insert_str(at.index(text.len()), &bit);
        if let Err(why) = plan_document(&text) {
            prop_assert!(!why.fields().is_empty(), "{}", why);
            for error in why.fields() {
                let said = problem(&error.problem, Wording::default());
                prop_assert!(!error.field.is_empty() && !said.message.is_empty());
            }
        }
    }

    /// Numbers beyond all sense are refused, and the refusal can be read.
    #[test]
    fn absurd_numbers_are_refused_kindly(
        mut recipe in any_recipe(),
        which in 0..12,
        absurd in prop_oneof![Just(0), Just(1), Just(u32::MAX), Just(u32::MAX - 3), any::<u32>()],
    ) {
        let short = u16::try_from(absurd).unwrap_or(u16::MAX);
        let length = Length(absurd);
        match which {
            0 => recipe.foot.length = length,
            1 => recipe.foot.circumference = Some(length),
            2 => recipe.foot.heel_diagonal = Some(length),
            3 => recipe.swatch.width = length,
            4 => recipe.swatch.height = length,
            5 => recipe.swatch.stitches = short,
            6 => recipe.swatch.rounds = short,
            7 => recipe.fit.length_ease = length,
            8 => recipe.cuff.length = length,
            9 => recipe.leg = length,
            10 => recipe.stitches = Some(short),
            _ => recipe.fit.ease_percent = u8::try_from(absurd).unwrap_or(u8::MAX),
        }
        if let Err(why) = plan_document(&write_recipe(&recipe)) {
            prop_assert!(!why.fields().is_empty(), "{}", why);
            for e in why.fields() {
                let said = problem(&e.problem, Wording::default());
                prop_assert!(!e.field.is_empty() && !said.message.is_empty());
            }
        }
    }

    /// What is shown can be typed in again, and means the same to half of what is shown.
    #[test]
    fn lengths_shown_can_be_typed_again(tenths in 0_u32..=100_000) {
        let length = Length(tenths);
        // Half a millimetre; half a quarter of an inch.
        for (unit, half) in [(LengthUnit::Cm, 5), (LengthUnit::Inch, 32)] {
            let shown = length.show(unit);
            let read = Length::parse(&shown, unit);
            prop_assert!(read.is_ok(), "{} cannot be typed", shown);
            let read = read.unwrap_or_default();
            prop_assert!(read.0.abs_diff(tenths) <= half, "{} is {}", shown, read.0);
            // With its unit written, it does not matter which unit was expected.
            let other = match unit {
                LengthUnit::Cm => LengthUnit::Inch,
                LengthUnit::Inch => LengthUnit::Cm,
            };
            prop_assert_eq!(Length::parse(&shown, other), Ok(read));
        }
    }

    /// However long a length is, it can be shown.
    #[test]
    fn any_length_can_be_shown(tenths in any::<u32>()) {
        for length in [Length(tenths), Length(u32::MAX - tenths % 16)] {
            prop_assert!(!length.show(LengthUnit::Cm).is_empty());
            prop_assert!(!length.show(LengthUnit::Inch).is_empty());
        }
    }
}
