//! Plan: a whole sock as a document, to read, print, save and hand on. It comes out of the address
//! (`?r=` and a recipe's link), so that it can be read anywhere and without JavaScript; or out of
//! the basket (`?pair=` and an id, or the pair at hand).
//!
//! May use the store, the sheet and the browser's printing and files; must not know what a sheet
//! says.

mod code;
mod handed;
mod share;

use std::sync::Arc;

use evenloop_engine::error::FieldError;
use evenloop_engine::link::{LinkError, read_link, write_link};
use evenloop_engine::plan::{PlanBug, PlanError, make};
use evenloop_engine::text::{Typed, Wording, not_written};
use evenloop_engine::trace::Trace;
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos_router::hooks::use_query_map;
use leptos_router::params::ParamsMap;

use self::handed::Handed;
use self::share::Share;
use crate::base::to;
use crate::files;
use crate::hue::Hue;
use crate::lazy_pattern;
use crate::parts::{Notice, PageHead, Tone, plain, problem, use_wording};
use crate::preferences::use_preferences;
use crate::routes::{self, Screen};
use crate::sheet;
use crate::store::{self, KnittedPlan, OtherWindows, PairId, StoreError};
use crate::text;

/// What a plan is called that is saved as plain text.
const FILE: &str = "sock-plan.txt";

/// What it is called as a pattern that can be read back.
const PATTERN_FILE: &str = "sock-pattern.txt";

/// Which sock is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Asked {
    /// The one of this link.
    Link(String),
    /// This pair.
    Pair(String),
    /// The pair at hand.
    AtHand,
}

impl Asked {
    fn of(query: &ParamsMap) -> Self {
        match (query.get_str(routes::RECIPE), query.get_str(routes::PAIR)) {
            (Some(link), _) => Self::Link(link.to_owned()),
            (None, Some(pair)) => Self::Pair(pair.to_owned()),
            (None, None) => Self::AtHand,
        }
    }
}

/// A sheet, written down both ways, and the recipe's link.
#[derive(Debug, Clone, PartialEq, Eq)]
struct PlanPage {
    html: String,
    text: String,
    link: String,
    /// Whether it follows a pattern of the knitter's own.
    follows: bool,
    /// What it is written from.
    knitted: Arc<KnittedPlan>,
    /// What the pair is called.
    name: Option<Typed>,
}

/// Why there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Wanting {
    Link(LinkError),
    /// The recipe of this link has a pattern, which is read on its own screen.
    Pattern(String),
    NoSock(Vec<FieldError>),
    Mistake(PlanBug),
    NothingAtHand,
    Store(StoreError),
}

impl From<PlanError> for Wanting {
    fn from(error: PlanError) -> Self {
        match error {
            PlanError::Impossible(fields) => Self::NoSock(fields),
            PlanError::Bug(bug) => Self::Mistake(bug),
        }
    }
}

/// Makes the sheet. On the server only a link can be followed; it knows no pairs.
fn made(asked: &Asked, wording: Wording, hues: [Hue; 4]) -> Result<PlanPage, Wanting> {
    let of_pair = |id: &PairId| -> Result<_, Wanting> {
        let pair = store::here().open(id).map_err(Wanting::Store)?;
        // the sock at hand, as it is really knitted
        let [first, second] = pair.patterns;
        let pattern = if pair.head.progress.sock == 2 {
            second
        } else {
            first
        };
        Ok((pattern, Some(Typed::new(pair.head.name))))
    };
    let (pattern, name) = match asked {
        Asked::Link(link) => {
            let recipe = read_link(link).map_err(Wanting::Link)?;
            if recipe.written.is_some() {
                return Err(Wanting::Pattern(link.clone()));
            }
            let plan = make(&recipe).map_err(Wanting::from)?;
            let trace = Trace::of(&plan).map_err(|why| Wanting::Mistake(why.into()))?;
            (Arc::new(KnittedPlan { plan, trace }), None)
        }
        Asked::Pair(id) => {
            let id = PairId::read(id).ok_or(Wanting::Store(StoreError::NotThere))?;
            of_pair(&id)?
        }
        Asked::AtHand => of_pair(&store::here().current().ok_or(Wanting::NothingAtHand)?)?,
    };
    let KnittedPlan { plan, trace } = &*pattern;
    let sheet = sheet::of(plan, trace, wording, name.as_ref(), hues);
    Ok(PlanPage {
        html: sheet::html(&sheet),
        text: sheet::text(&sheet),
        link: write_link(&plan.recipe),
        follows: plan.recipe.written.is_some(),
        knitted: Arc::clone(&pattern),
        name,
    })
}

/// What stands there at first. On the server that is the sheet itself, for readers without
/// JavaScript; the browser leaves what it finds there until it has made its own.
fn at_first(asked: &Asked) -> PlanShown {
    if cfg!(feature = "hydrate") || !matches!(asked, Asked::Link(_)) {
        return PlanShown::Looking;
    }
    made(asked, Wording::default(), Hue::USUAL).map_or_else(PlanShown::Wanting, PlanShown::Made)
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum PlanShown {
    Looking,
    Made(PlanPage),
    Wanting(Wanting),
}

impl PlanShown {
    fn html(&self, wording: Wording) -> String {
        match self {
            Self::Looking => sheet::paragraphs(&[text::plan::LOOKING.to_owned()]),
            Self::Made(made) => made.html.clone(),
            Self::Wanting(why) => sheet::paragraphs(&wanting(why, wording)),
        }
    }
}

/// Why there is no plan, in sentences.
fn wanting(why: &Wanting, wording: Wording) -> Vec<String> {
    let sentence = match why {
        Wanting::Link(why) => return vec![evenloop_engine::text::link_error(why).to_owned()],
        Wanting::NoSock(problems) => {
            let problems = problems.iter().map(|one| problem(&one.problem, wording));
            return std::iter::once(text::plan::NO_SOCK.to_owned())
                .chain(problems)
                .collect();
        }
        Wanting::Mistake(bug) => return vec![text::mistake::mistake(bug)],
        Wanting::Pattern(_) => text::plan::HAS_PATTERN,
        Wanting::NothingAtHand => text::plan::NOTHING_AT_HAND,
        Wanting::Store(StoreError::NotThere) => text::plan::TAKEN_OUT,
        Wanting::Store(StoreError::Newer { .. }) => text::plan::NEWER,
        Wanting::Store(StoreError::Denied) => text::plan::DENIED,
        Wanting::Store(_) => text::plan::UNREADABLE,
    };
    vec![sentence.to_owned()]
}

/// The screen.
#[component]
pub fn PlanScreen() -> impl IntoView {
    let query = use_query_map();
    let preferences = use_preferences();
    let follow = use_context::<OtherWindows>();
    let shown = RwSignal::new(query.with_untracked(|query| at_first(&Asked::of(query))));
    let alive = RwSignal::new(false);
    Effect::new(move || {
        if !preferences.loaded() {
            return;
        }
        if let Some(follow) = follow {
            follow.follow();
        }
        let settings = preferences.get();
        let asked = query.with(Asked::of);
        shown.set(
            made(&asked, settings.style, settings.hues)
                .map_or_else(PlanShown::Wanting, PlanShown::Made),
        );
        alive.set(true);
    });
    let whole = move || match shown.get() {
        PlanShown::Made(made) if alive.get() => Some(made),
        _ => None,
    };
    let link = Memo::new(move |_| whole().map(|made| Handed::of(made.link, made.follows)));
    let pattern = Memo::new(move |_| match &*shown.read() {
        PlanShown::Wanting(Wanting::Pattern(link)) if alive.get() => Some(link.clone()),
        _ => None,
    });
    let wording = use_wording();
    let html = move || shown.with(|shown| shown.html(wording.get()));
    view! {
        <div class="screen plan-screen">
            <PageHead title=Screen::Plan.name() lead=text::plan::LEAD />
            {move || link.get().map(|link| view! { <Doing link shown /> })}
            {move || link.get().map(|link| view! { <Share link /> })}
            <article class="sheet plan-sheet" inner_html=html></article>
            {move || {
                let address = pattern.get().map(|link| to(&routes::pattern_recipe(&link)));
                address.map(|address| plain::link("button lead", address, text::plan::TO_PATTERN))
            }}
        </div>
    }
    .into_any()
}

/// What can be done with it.
#[component]
fn Doing(link: Handed, shown: RwSignal<PlanShown>) -> impl IntoView {
    let failed = RwSignal::new(false);
    let print = move |_| failed.set(window().print().is_err());
    let save = move |_| {
        let saved = shown.with_untracked(|shown| match shown {
            PlanShown::Made(made) => files::save(FILE, files::TEXT, &made.text),
            _ => Err(files::Unwilling),
        });
        failed.set(saved.is_err());
    };
    let refused = RwSignal::new(None::<String>);
    let save_pattern = move |_| {
        let made = shown.with_untracked(|shown| match shown {
            PlanShown::Made(made) => Some((made.knitted.clone(), made.name.clone())),
            _ => None,
        });
        let Some((knitted, name)) = made else {
            return failed.set(true);
        };
        refused.set(None);
        spawn_local(async move {
            // It is looked at by what reads patterns before it is handed out.
            let read = match lazy_pattern::write_down(knitted.clone(), name).await {
                Ok(Ok(text)) => lazy_pattern::read_back(knitted, text).await,
                other => other,
            };
            // The screen may have been left meanwhile.
            match read {
                Ok(Ok(text)) => {
                    let saved = files::save(PATTERN_FILE, files::TEXT, &text);
                    failed.try_set(saved.is_err());
                }
                Ok(Err(why)) => drop(refused.try_set(Some(not_written(why)))),
                Err(_) => drop(refused.try_set(Some(text::parts::NOT_HERE.to_owned()))),
            }
        });
    };
    view! {
        <div class="buttons doing">
            <button type="button" class="button lead" on:click=print>
                {text::plan::PRINT}
            </button>
            <button type="button" class="button" on:click=save>
                {text::plan::SAVE}
            </button>
            <button type="button" class="button" on:click=save_pattern>
                {text::plan::SAVE_PATTERN}
            </button>
            {match link {
                Handed::Recipe(link) => {
                    let address = to(&routes::measure_recipe(&link));
                    Some(plain::link("button", address, text::plan::TO_MEASURE))
                }
                Handed::Pattern(link) => {
                    let address = to(&routes::pattern_recipe(&link));
                    Some(plain::link("button", address, text::plan::TO_PATTERN))
                }
                Handed::TooLong => None,
            }}
        </div>
        {move || {
            refused
                .get()
                .map(|why| view! { <Notice tone=Tone::Mind>{plain::paragraph("", why)}</Notice> })
        }}
        <Show when=move || failed.get()>
            <Notice tone=Tone::Wrong>
                <p>{text::plan::UNWILLING}</p>
            </Notice>
        </Show>
    }
    .into_any()
}
