//! Any text is a pattern or has findings at its lines; whatever it comes to, what is proposed while it is typed is
//! taken without harm.
#![no_main]

use evenloop_engine::pattern::{CountInBrackets, begins_at_toe, completions, kept, size_names};
use evenloop_engine::recipe::{Direction, Method, Recipe, SockPart, Written};
use evenloop_engine::sock::{count_in_brackets, look};
use evenloop_engine::trace::Trace;
use libfuzzer_sys::fuzz_target;

const PARTS: [SockPart; 5] = [
    SockPart::Cuff,
    SockPart::Leg,
    SockPart::Heel,
    SockPart::Foot,
    SockPart::Toe,
];

fuzz_target!(|data: &[u8]| {
    let Some((choice, raw)) = data.split_first() else {
        return;
    };
    let Ok(text) = std::str::from_utf8(raw) else {
        return;
    };
    let choice = usize::from(*choice);
    let ours = PARTS.into_iter().enumerate();
    let ours = ours.filter(|(nth, _)| choice >> nth & 1 == 1);
    let sizes = size_names(text).len();
    let recipe = Recipe {
        direction: if begins_at_toe(text) {
            Direction::ToeUp
        } else {
            Direction::CuffDown
        },
        needles: Method::ALL[choice % Method::ALL.len()],
        written: Some(Written {
            text: text.to_owned(),
            size: (sizes > 1).then_some(u8::try_from(choice % sizes.max(1)).unwrap_or(0)),
            ours: ours.map(|(_, part)| part).collect(),
        }),
        ..Recipe::default()
    };
    let looked = look(&recipe);
    let lines = u32::try_from(text.lines().count().max(1)).expect("few lines");
    for finding in &looked.findings {
        assert!((1..=lines).contains(&finding.spot.line), "{finding:?}");
    }
    assert_eq!(kept(text, &looked.findings).len(), looked.findings.len());
    if let Ok(plan) = looked.plan {
        assert!(
            Trace::of(&plan).is_ok(),
            "a plan that was made can be knitted"
        );
    }
    // As it is typed: at the end, and somewhere in it.
    let middle = (0..=text.len() / 2)
        .rev()
        .find(|at| text.is_char_boundary(*at));
    for cursor in [Some(text.len()), middle].into_iter().flatten() {
        let all = completions(text, cursor).into_iter();
        for one in all.chain(count_in_brackets(&recipe, cursor).and_then(CountInBrackets::end)) {
            let begun = cursor
                .checked_sub(one.begun)
                .expect("it begins before the cursor");
            assert!(text.is_char_boundary(begun), "{one:?}");
            assert!(text[begun..cursor].is_ascii(), "{one:?}");
        }
    }
});
