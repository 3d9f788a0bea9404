//! What the yarn weighs, and what follows from it.

use evenloop_engine::needles::Needles;
use evenloop_engine::recipe::Yarns;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::text::{self, ProblemText};
use evenloop_engine::words;
use evenloop_engine::yarn::{budget_of, read_grams};
use leptos::prelude::*;

use super::copy;
use crate::hue::Hue;
use crate::parts::TextField;
use crate::parts::plain::{button, following, group, paragraph};
use crate::preferences::use_preferences;
use crate::screens::now::session::Session;

/// The page. It stays open: the answer is what the knitter came for.
pub(super) fn weigh(session: Session) -> Vec<AnyView> {
    let yarns = session.with(|pair| pair.plan.recipe.yarns.as_ref().map(Yarns::used));
    // The one in use is the likeliest to be weighed.
    let in_use = session.with(|pair| {
        let needles = pair.trace.needles_at(session.at_untracked());
        needles.map(Needles::yarn).unwrap_or_default()
    });
    let which = RwSignal::new(yarns.as_ref().map(|_| in_use));
    let typed = RwSignal::new(String::new());
    let wrong = RwSignal::new(None::<ProblemText>);
    let preferences = use_preferences();
    let keep = Callback::new(move |()| {
        let read = typed.with_untracked(|text| read_grams(text));
        match read {
            Ok(grams) => {
                wrong.set(None);
                session.weigh(which.get_untracked(), Some(grams));
                typed.set(String::new());
            }
            Err(error) => {
                let wording = preferences.get_untracked().style;
                wrong.set(Some(text::problem(&error.problem, wording)));
            }
        }
    });
    let field = view! {
        <TextField
            id="grams"
            label=copy::GRAMS
            hint=Signal::stored(copy::GRAMS_HINT.to_owned())
            unit=Signal::stored("g")
            value=typed
            on_input=Callback::new(move |text| {
                wrong.set(None);
                typed.set(text);
            })
            on_leave=Callback::new(|()| ())
            error=wrong
        />
    };
    let lead = if untrack(|| session.is_together()) {
        copy::WEIGH_OWN
    } else if yarns.is_some() {
        copy::WEIGH_ONE_LEAD
    } else {
        copy::WEIGH_LEAD
    };
    vec![
        paragraph("", lead),
        yarns.map(|yarns| pick(yarns, which)).into_any(),
        field.into_any(),
        group(
            "buttons",
            vec![button("button lead", copy::WEIGH_KEEP, None, keep)],
        ),
        following("answer", move || {
            // a weighing leaves the place as it is, but tells of itself
            session.at();
            answer(session, which.get())
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
        let name = copy::yarn(yarn, Hue::of(yarn, hues.get()));
        button(
            "button",
            name,
            Some(on),
            Callback::new(move |()| which.set(Some(yarn))),
        )
    };
    view! {
        <div class="buttons" role="group" aria-label=copy::WHICH_YARN>
            {move || yarns.get_value().into_iter().map(one).collect_view()}
        </div>
    }
    .into_any()
}

fn answer(session: Session, which: Option<Yarn>) -> Vec<AnyView> {
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
            words::budget(of, &budget)
        });
        let weighed = late.last().map(|one| (pair.plan, pair.trace, one));
        let weighed = weighed.or(early.last().map(|one| (&first.plan, &first.trace, one)));
        let latest = weighed.map(|(plan, trace, (at, grams))| {
            copy::weighed_at(&words::place(plan, trace, *at), &words::grams(*grams))
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
        None => pieces.push(paragraph("", copy::WEIGH_AGAIN)),
    }
    if here {
        let away = Callback::new(move |()| session.weigh(which, None));
        pieces.push(button("button", copy::WEIGH_AWAY, None, away));
    }
    vec![group("sheet", pieces)]
}
