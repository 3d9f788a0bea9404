//! What has to be said beside the knitting: what became of what is stored, touches that were not counted, why the page
//! does not listen. One strip of a fixed height, of which the rest is read by touching it: whatever is said and however
//! long it is, what is to be knitted keeps its place.

use leptos::prelude::*;

use super::listening::not_heard;
use super::practice;
use super::trouble;
use crate::base::to;
use crate::hands::Listening;
use crate::in_hand::Session;
use crate::parts::plain::{button, link, paragraph};
use crate::parts::{Notice, Tone};
use crate::recovery::Recovery;
use crate::routes::Screen;
use crate::store::StoreError;
use crate::text;

/// What stands above the words to be knitted and takes room from them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Above {
    /// The strip.
    pub(super) noticed: bool,
    /// The line that says that the page listens.
    listening: bool,
    /// What is said of the tiny sock.
    practised: &'static str,
}

/// All that may have to be said.
#[derive(Debug, Clone, Copy)]
pub(super) struct Notes {
    session: Session,
    recovery: Option<Recovery>,
    lost: RwSignal<Option<StoreError>>,
    early: RwSignal<usize>,
    /// Whether the pair is the tiny sock.
    pub(super) is_practice: bool,
    /// How the listening goes, where it is wished for.
    pub(super) listening: RwSignal<Option<Listening>>,
}

impl Notes {
    /// With what was lost of the pair's log and so many early touches that were not counted.
    pub(super) fn of(
        session: Session,
        lost: RwSignal<Option<StoreError>>,
        early: RwSignal<usize>,
    ) -> Self {
        Self {
            session,
            recovery: use_context(),
            lost,
            early,
            is_practice: practice::is_in_hand(session),
            listening: RwSignal::new(None),
        }
    }

    /// What of it stands there now.
    pub(super) fn above(self) -> Above {
        let heard = self.listening.get();
        Above {
            noticed: self.many() > 0,
            listening: heard.is_some_and(|heard| not_heard(heard).is_none()),
            practised: if self.is_practice {
                practice::told(self.session)
            } else {
                ""
            },
        }
    }

    /// So many notes.
    fn many(self) -> usize {
        let notes = [
            self.session.trouble().is_some(),
            self.lost.with(Option::is_some),
            self.early.get() > 0,
            self.recovery.is_some_and(Recovery::is_told),
            self.listening.get().and_then(not_heard).is_some(),
        ];
        notes.into_iter().filter(|one| *one).count()
    }

    /// The strip: the beginning of the gravest note, and all of them once it was touched.
    pub(super) fn strip(self) -> AnyView {
        let open = RwSignal::new(false);
        let many = Memo::new(move |_| self.many());
        Effect::new(move || {
            if many.get() == 0 {
                open.set(false);
            }
        });
        let expanded = move || if open.get() { "true" } else { "false" };
        let label = move || {
            if open.get() {
                text::now::NOTES_CLOSE.to_owned()
            } else {
                text::now::notes_read(many.get())
            }
        };
        view! {
            <div class="notes">
                <div class="noted" class:open=move || open.get()>
                    {move || self.session.trouble().map(|error| not_stored(&error))}
                    {move || {
                        self.lost
                            .get()
                            .map(|error| minded(trouble::lost(&error), move || self.lost.set(None)))
                    }}
                    {move || {
                        let touches = Some(self.early.get()).filter(|touches| *touches > 0)?;
                        Some(minded(text::now::early_touches(touches), move || self.early.set(0)))
                    }} {self.recovery.map(Recovery::notice)}
                    {move || {
                        let why = self.listening.get().and_then(not_heard)?;
                        Some(view! { <Notice tone=Tone::Mind>{paragraph("", why)}</Notice> })
                    }}
                    <button
                        type="button"
                        class="button"
                        aria-expanded=expanded
                        on:click=move |_| open.update(|open| *open = !*open)
                    >
                        {label}
                    </button>
                </div>
            </div>
        }
        .into_any()
    }
}

/// Something that happened to what was stored; goes when it was seen.
fn minded(told: String, seen: impl Fn() + Send + Sync + 'static) -> AnyView {
    let seen = Callback::new(move |()| seen());
    view! {
        <Notice tone=Tone::Mind>
            {paragraph("", told)} {button("button", text::now::SEEN, None, seen)}
        </Notice>
    }
    .into_any()
}

fn not_stored(error: &StoreError) -> AnyView {
    let way = (*error == StoreError::Full).then(|| {
        link(
            "button",
            to(Screen::Settings.path()),
            text::now::TO_SETTINGS,
        )
    });
    let why = trouble::not_stored(error);
    view! {
        <Notice tone=Tone::Wrong>
            {paragraph("", why)} {way}
        </Notice>
    }
    .into_any()
}
