//! What was put back from the second copy of what is stored, until the knitter has seen it; what both copies did
//! not agree on is brought together with its pair, and what belongs to no pair set aside.
//!
//! May use the store, what is loaded later, and the parts; must not know any screen. What it says is known only
//! once the page is alive.

use evenloop_engine::text::Typed;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::lazy_store;
use crate::parts::plain::{button, paragraph};
use crate::parts::{Notice, Tone};
use crate::store::{self, COMPARED_BY, OtherWindows, PairId, Restored};
use crate::text;

/// What the knitter has not seen yet.
#[derive(Debug, Clone, Default)]
struct Recovered {
    /// Pairs of which something was put back.
    put_back: Vec<PairId>,
    /// Whether the storage was emptied under the open page.
    emptied: bool,
    /// What became of that on which both copies did not agree.
    joined: Restored,
}

/// What was recovered since it was last seen, shared by the screens that say it.
#[derive(Debug, Clone, Copy)]
pub struct Recovery {
    recovered: RwSignal<Recovered>,
    follow: OtherWindows,
}

impl Recovery {
    /// Begins to look once the page is alive: at once, whenever something stored has changed from elsewhere, and
    /// when the copies have been compared.
    pub fn start(follow: OtherWindows) -> Self {
        let recovery = Self {
            recovered: RwSignal::new(Recovered::default()),
            follow,
        };
        Effect::new(move || {
            follow.follow();
            recovery.look();
        });
        Effect::new(move || set_timeout(move || recovery.collect(), COMPARED_BY));
        recovery
    }

    fn look(self) {
        let found = store::take_put_back();
        if found.is_empty() {
            return;
        }
        self.recovered.update(|recovered| {
            for pair in found {
                if !recovered.put_back.contains(&pair) {
                    recovered.put_back.push(pair);
                }
            }
        });
    }

    /// At every start, whichever page it is: what belongs to no pair is set aside, and what both copies parted over is
    /// brought together.
    fn collect(self) {
        if store::here().any_left_over() != Ok(true) {
            return;
        }
        spawn_local(async move {
            // Where it cannot be had or finds no room, it stays as it is until the next start.
            if let Ok(joined) = lazy_store::collect_left_over().await {
                self.recovered.update(|recovered| {
                    recovered.joined.added.extend(joined.added);
                    recovered.joined.beside.extend(joined.beside);
                    recovered.joined.named.extend(joined.named);
                });
                self.follow.touch();
            }
        });
    }

    /// The storage was emptied under the open page, and its pair was stored again.
    pub fn note_emptied(self) {
        self.recovered.update(|recovered| recovered.emptied = true);
    }

    /// Whether anything is told that was not seen yet.
    pub fn is_told(self) -> bool {
        self.recovered
            .with(|recovered| !sentences(recovered).is_empty())
    }

    /// One notice of all that was recovered, until it was seen.
    pub fn notice(self) -> AnyView {
        let told = move || {
            let sentences = self.recovered.with(sentences);
            (!sentences.is_empty()).then(|| {
                let seen = Callback::new(move |()| self.recovered.set(Recovered::default()));
                let sentences: Vec<_> = sentences
                    .into_iter()
                    .map(|sentence| paragraph("", sentence))
                    .collect();
                view! {
                    <div class="recovered">
                        <Notice tone=Tone::Mind>
                            {sentences} {button("button", text::recovery::SEEN, None, seen)}
                        </Notice>
                    </div>
                }
            })
        };
        told.into_any()
    }
}

fn sentences(recovered: &Recovered) -> Vec<String> {
    let mut sentences = Vec::new();
    if recovered.emptied {
        sentences.push(text::recovery::EMPTIED.to_owned());
    }
    if !recovered.put_back.is_empty() {
        sentences.push(text::recovery::put_back(recovered.put_back.len()));
    }
    for name in &recovered.joined.added {
        sentences.push(text::recovery::added(&Typed::new(&**name)));
    }
    for name in &recovered.joined.beside {
        sentences.push(text::recovery::beside(&Typed::new(&**name)));
    }
    for [holds, other] in &recovered.joined.named {
        sentences.push(text::recovery::names_given(
            &Typed::new(&**holds),
            &Typed::new(&**other),
        ));
    }
    sentences
}
