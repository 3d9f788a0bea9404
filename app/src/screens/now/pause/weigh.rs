//! What the yarn weighs, and what follows from it.

use evenloop_engine::error::Problem;
use evenloop_engine::needles::Needles;
use evenloop_engine::recipe::Yarns;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::text as engine_text;
use evenloop_engine::text::Wording;
use evenloop_engine::yarn::{budget_of, read_grams};
use leptos::prelude::*;

use crate::hue::Hue;
use crate::in_hand::Session;
use crate::parts::plain::{button, following, group, paragraph};
use crate::parts::{TextField, use_wording};
use crate::preferences::use_preferences;
use crate::text;

/// The page. It stays open: the answer is what the knitter came for.
pub(super) fn weigh(session: Session) -> Vec<AnyView> {
    let wording = use_wording();
    let yarns = session.with(|pair| pair.plan.recipe.yarns.as_ref().map(Yarns::used));
    // The one in use is the likeliest to be weighed.
    let in_use = session.with(|pair| {
        let needles = pair.trace.needles_at(session.at_untracked());
        needles.map(Needles::yarn).unwrap_or_default()
    });
    let which = RwSignal::new(yarns.as_ref().map(|_| in_use));
    let typed = RwSignal::new(String::new());
    let wrong = RwSignal::new(None::<Problem>);
    let keep = Callback::new(move |()| {
        let read = typed.with_untracked(|text| read_grams(text));
        match read {
            Ok(grams) => {
                wrong.set(None);
                session.weigh(which.get_untracked(), Some(grams));
                typed.set(String::new());
            }
            Err(error) => wrong.set(Some(error.problem)),
        }
    });
    let error = Signal::derive(move || {
        let wrong = wrong.get()?;
        Some(evenloop_engine::text::problem(&wrong, wording.get()))
    });
    let field = view! {
        <TextField
            id="grams"
            label=text::pause::GRAMS
            hint=Signal::stored(text::pause::GRAMS_HINT.to_owned())
            unit=Signal::stored("g")
            value=typed
            on_input=Callback::new(move |text| {
                wrong.set(None);
                typed.set(text);
            })
            on_leave=Callback::new(|()| ())
            error
        />
    };
    let lead = if untrack(|| session.is_together()) {
        text::pause::WEIGH_OWN
    } else if yarns.is_some() {
        text::pause::WEIGH_ONE_LEAD
    } else {
        text::pause::WEIGH_LEAD
    };
    vec![
        paragraph("", lead),
        yarns.map(|yarns| pick(yarns, which)).into_any(),
        field.into_any(),
        group(
            "buttons",
            vec![button("button lead", text::pause::WEIGH_KEEP, None, keep)],
        ),
        following("answer", move || {
            // a weighing leaves the place as it is, but tells of itself
            session.at();
            answer(session, which.get(), wording.get())
        }),
    ]
}

/// Which of several yarns is weighed.
fn pick(yarns: Vec<Yarn>, which: RwSignal<Option<Yarn>>) -> AnyView {
    let preferences = use_preferences();
    let hues = Memo::new(move |_| preferences.get().hues);
    let yarns = StoredValue::new(yarns);
    let one = move |yarn: Yarn| {
        let on = Signal::derive(move || which.get() == Some(yarn));
        let name = text::pause::yarn(yarn, Hue::of(yarn, hues.get()).name_in_text());
        button(
            "button",
            name,
            Some(on),
            Callback::new(move |()| which.set(Some(yarn))),
        )
    };
    view! {
        <div class="buttons" role="group" aria-label=text::pause::WHICH_YARN>
            {move || yarns.get_value().into_iter().map(one).collect_view()}
        </div>
    }
    .into_any()
}

fn answer(session: Session, which: Option<Yarn>, wording: Wording) -> Vec<AnyView> {
    let together = untrack(|| session.is_together());
    let (latest, here, told) = session.with(|pair| {
        let [first, second] = &pair.pair.patterns;
        let [first_log, second_log] = &pair.pair.journals;
        let (early, late) = if together {
            // a ball for each: nothing of the other sock's was weighed with it
            (Vec::new(), pair.journal.weighings_of(which))
        } else {
            (
                first_log.weighings_of(which),
                second_log.weighings_of(which),
            )
        };
        let (other, own) = if together {
            (pair.plan, pair.plan)
        } else {
            (&first.plan, &second.plan)
        };
        let told = budget_of([(other, &early), (own, &late)], which).map(|budget| {
            let of = if late.is_empty() { other } else { own };
            engine_text::budget(of, &budget, wording)
        });
        let weighed = late.last().map(|one| (pair.plan, pair.trace, one));
        let weighed = weighed.or(early.last().map(|one| (&first.plan, &first.trace, one)));
        let latest = weighed.map(|(plan, trace, (at, grams))| {
            let place = engine_text::place(plan, trace, *at, wording.english);
            text::pause::weighed_at(&place, &engine_text::grams(*grams))
        });
        let here = pair.journal.remark_at(session.at_untracked());
        let here = here.is_some_and(|r| r.weights().any(|(yarn, _)| yarn == which));
        (latest, here, told)
    });
    let Some(latest) = latest else {
        return Vec::new();
    };
    let mut pieces = vec![paragraph("soft", latest)];
    match told {
        Some(told) => pieces.extend(told.into_iter().map(|text| paragraph("", text))),
        None => pieces.push(paragraph("", text::pause::WEIGH_AGAIN)),
    }
    if here {
        let away = Callback::new(move |()| session.weigh(which, None));
        pieces.push(button("button", text::pause::WEIGH_AWAY, None, away));
    }
    vec![group("sheet", pieces)]
}
