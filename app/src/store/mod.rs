//! Everything the knitter would not want to lose: pairs, their logs, settings, drafts.
//!
//! A touch of the pad rewrites one small chunk of one log and one small head. Every chunk has a
//! checksum; what cannot be read is set aside, never erased, and what comes before it is kept. The
//! plan of a pair is stored with it and never made again.
//!
//! May use the engine's stored forms and, in the browser, `localStorage` through gloo-storage; must
//! not know any screen. Call it only from effects and event handlers: on the server there is no
//! shelf and every call says [`StoreError::Denied`]. A browser that denies storage gets the page's
//! memory instead: see [`lasts`].

mod aside;
mod backup;
#[cfg(feature = "hydrate")]
mod browser;
mod error;
mod follow;
mod keys;
mod logs;
mod order;
mod out;
mod pairs;
mod settings;
mod shelf;
#[cfg(test)]
mod tests;
#[cfg(any(test, feature = "hydrate"))]
mod waiting;

pub use aside::Aside;
pub use backup::{FILE_LIMIT, Refused, Restored};
pub use error::{Part, StoreError};
pub use follow::Follow;
pub use pairs::{NAME_LIMIT, OpenPair, PairHead, PairId, Pattern, Place, tidy_name};
pub use settings::{Hand, Settings, Theme};

use evenloop_engine::journal::Journal;

#[cfg(feature = "hydrate")]
use browser::Browser as Here;
#[cfg(not(feature = "hydrate"))]
use shelf::NoShelf as Here;
use shelf::Shelf as _;

/// All pairs, the latest first.
///
/// # Errors
/// When there is no storage.
pub fn pairs() -> Result<Vec<PairHead>, StoreError> {
    pairs::pairs(&Here)
}

/// All pairs that are known without opening them, the latest first, and whether there are more: what
/// those are, [`pairs()`] finds out.
///
/// # Errors
/// When there is no storage.
pub fn heads() -> Result<(Vec<PairHead>, bool), StoreError> {
    pairs::heads(&Here)
}

/// Puts a new pair in the basket; `now` is seconds since 1970.
///
/// # Errors
/// When the plan cannot be read or stored; nothing is left behind then.
pub fn create(name: &str, plan_doc: &str, now: u64) -> Result<PairId, StoreError> {
    let id = PairId::new(now, random());
    pairs::create(&Here, &id, name, plan_doc, now).map(|()| id)
}

/// Opens a pair. See [`OpenPair::trouble`] for what of its logs had to be set aside.
///
/// # Errors
/// When there is no such pair or its plan cannot be read.
pub fn open(id: &PairId) -> Result<OpenPair, StoreError> {
    pairs::open(&Here, id)
}

/// Stores the end of a sock's log; the new events are in it already. Also catches up on what an
/// earlier failure kept from being stored.
///
/// # Errors
/// [`StoreError::Behind`] when another window has gone on with this sock: nothing is written;
/// [`open`] it again and do again what was just done. Otherwise the log in memory is still right
/// and the next call tries again.
pub fn append(id: &PairId, sock: u8, journal: &Journal) -> Result<(), StoreError> {
    pairs::append(&Here, id, sock, journal.events())
}

/// Does what [`append`] does and stores nothing: a browser translates code when it is first run, and the
/// first touch should not have to wait for that.
pub fn rehearse(id: &PairId, sock: u8, journal: &Journal) {
    pairs::rehearse(id, sock, journal.events());
}

/// Gives a sock a plan of its own from now on: it was planned anew on the way. What is knitted of it
/// must be the same in both. [`open`] the pair again after it.
///
/// # Errors
/// When the plan cannot be read or stored; the sock keeps the plan it had.
pub fn set_own_plan(id: &PairId, sock: u8, plan_doc: &str) -> Result<(), StoreError> {
    pairs::set_own_plan(&Here, id, sock, plan_doc)
}

/// The same for the first sock, and the second one follows it: by a plan of its own (its mirror image),
/// or without one as the first is knitted. Both are stored or neither.
///
/// # Errors
/// When a plan cannot be read or stored; both socks keep the plans they had.
pub fn set_both_plans(id: &PairId, first: &str, second: Option<&str>) -> Result<(), StoreError> {
    pairs::set_both_plans(&Here, id, first, second)
}

/// Notes how far a pair is, for the basket: after [`append`], with [`OpenPair::place`].
///
/// # Errors
/// When it cannot be stored; it is worked out again when the pair is next opened.
pub fn note_place(id: &PairId, place: &Place) -> Result<(), StoreError> {
    pairs::note_place(&Here, id, place)
}

/// Calls a pair something else.
///
/// # Errors
/// When it cannot be stored.
pub fn rename(id: &PairId, name: &str) -> Result<(), StoreError> {
    pairs::rename(&Here, id, name)
}

/// Takes a pair out of the basket. Whether it can be put back with [`put_back`].
///
/// # Errors
/// When the storage refuses.
pub fn take_out(id: &PairId) -> Result<bool, StoreError> {
    out::take_out(&Here, id)
}

/// Takes away a pair that has just been made and did not come whole. Unlike [`take_out`] it keeps
/// nothing of one that can be read.
///
/// # Errors
/// When the storage refuses.
pub fn delete(id: &PairId) -> Result<(), StoreError> {
    pairs::delete(&Here, id)
}

/// What the pair that was taken out last is called, while it can be put back.
///
/// # Errors
/// When there is no storage.
pub fn taken_out() -> Result<Option<String>, StoreError> {
    out::taken_out(&Here)
}

/// Puts the pair that was taken out last back as it was.
///
/// # Errors
/// When there is none, or the storage refuses; it is still kept then.
pub fn put_back() -> Result<(), StoreError> {
    out::put_back(&Here)
}

/// Lets the pair that was taken out last go for good.
///
/// # Errors
/// When the storage refuses.
pub fn let_go() -> Result<(), StoreError> {
    out::let_go(&Here)
}

/// The pair at hand, if it is still there.
pub fn current() -> Option<PairId> {
    pairs::current(&Here)
}

/// Takes a pair in hand.
///
/// # Errors
/// When it cannot be stored.
pub fn set_current(id: &PairId) -> Result<(), StoreError> {
    pairs::set_current(&Here, id)
}

/// The settings; the default's when there are none.
pub fn settings() -> Settings {
    settings::read(&Here)
}

/// Stores the settings.
///
/// # Errors
/// When they cannot be stored.
pub fn save_settings(settings: &Settings) -> Result<(), StoreError> {
    settings::write(&Here, settings)
}

/// What stood in the form of Measure, as it was given to [`save_draft`].
pub fn draft() -> Option<String> {
    Here.get(keys::DRAFT).ok().flatten()
}

/// Keeps what stands in the form of Measure.
///
/// # Errors
/// When it cannot be stored.
pub fn save_draft(text: &str) -> Result<(), StoreError> {
    Here.put(keys::DRAFT, text)
}

/// Forgets what stood in the form of Measure.
///
/// # Errors
/// When the storage refuses.
pub fn drop_draft() -> Result<(), StoreError> {
    Here.remove(keys::DRAFT)
}

/// What stood in the form of Measure before a recipe came with an address.
pub fn draft_before() -> Option<String> {
    Here.get(keys::BEFORE).ok().flatten()
}

/// Keeps what stood in the form of Measure before a recipe came.
///
/// # Errors
/// When it cannot be stored.
pub fn keep_draft_before(text: &str) -> Result<(), StoreError> {
    Here.put(keys::BEFORE, text)
}

/// Forgets what stood in the form of Measure before a recipe came.
///
/// # Errors
/// When the storage refuses.
pub fn drop_draft_before() -> Result<(), StoreError> {
    Here.remove(keys::BEFORE)
}

/// Everything that could not be read and was set aside.
///
/// # Errors
/// When there is no storage.
pub fn set_aside() -> Result<Vec<Aside>, StoreError> {
    aside::list(&Here)
}

/// Whether anything was set aside.
///
/// # Errors
/// When there is no storage.
pub fn any_set_aside() -> Result<bool, StoreError> {
    aside::any(&Here)
}

/// Everything as one document to keep elsewhere.
///
/// # Errors
/// When there is no storage.
pub fn backup(now: u64) -> Result<String, StoreError> {
    backup::write(&Here, now)
}

/// Merges a backup; see [`Restored`] for what became of what.
///
/// # Errors
/// When it is no backup that can be read; nothing was changed then.
pub fn restore(text: &str, now: u64) -> Result<Restored, Refused> {
    backup::restore(&Here, text, &mut || PairId::new(now, random()))
}

/// Steps knitted in these pairs since the last backup, and since a reminder of it was put off.
///
/// # Errors
/// When there is no storage.
pub fn since_backup(pairs: &[PairHead]) -> Result<(u32, u32), StoreError> {
    let done = steps_done(pairs);
    let since = |key| -> Result<u32, StoreError> {
        let noted = Here.get(key)?.and_then(|text| text.parse().ok());
        Ok(done.saturating_sub(noted.unwrap_or(0)))
    };
    Ok((since(keys::SAVED)?, since(keys::LATER)?))
}

/// Notes that a backup was made just now.
///
/// # Errors
/// When it cannot be stored.
pub fn note_backup() -> Result<(), StoreError> {
    Here.put(keys::SAVED, &steps_done(&heads()?.0).to_string())
}

/// Notes that the reminder of a backup is to come later.
///
/// # Errors
/// When it cannot be stored.
pub fn put_off_backup() -> Result<(), StoreError> {
    Here.put(keys::LATER, &steps_done(&heads()?.0).to_string())
}

fn steps_done(pairs: &[PairHead]) -> u32 {
    let done = pairs.iter().map(|head| head.place.done_of_pair());
    done.fold(0, u32::saturating_add)
}

/// How far the guide was followed, as it was given to [`note_guide`].
pub fn guide() -> Option<String> {
    Here.get(keys::GUIDE).ok().flatten()
}

/// Notes how far the guide was followed. Should it not be stored, the guide is offered once more.
pub fn note_guide(place: &str) {
    let _ = Here.put(keys::GUIDE, place);
}

/// Whether the knitter has been told that everything is stored on the device.
pub fn was_told_stored() -> bool {
    Here.get(keys::TOLD).ok().flatten().is_some()
}

/// Notes that the knitter has been told. Should it not be stored, it is said once more.
pub fn note_told_stored() {
    let _ = Here.put(keys::TOLD, "1");
}

/// Whether less than a fifth of what browsers give a site is left.
///
/// # Errors
/// When there is no storage.
pub fn nearly_full() -> Result<bool, StoreError> {
    Ok(Here::used()? > USUAL_ROOM / 5 * 4)
}

/// Whether there is no room left and what was knitted last waits for it.
pub fn waits() -> bool {
    Here::waits()
}

/// Characters that browsers give a site's `localStorage`: five million, common practice of all of
/// them.
const USUAL_ROOM: usize = 5_000_000;

/// Whether what is stored outlasts the page. Where the browser denies storage it does not, and the
/// knitter has to know.
pub fn lasts() -> bool {
    #[cfg(feature = "hydrate")]
    {
        Here::lasts()
    }
    #[cfg(not(feature = "hydrate"))]
    false
}

/// Asks the browser not to clear this site's storage when it needs room. It may say no; nothing
/// depends on it.
pub fn ask_to_stay() {
    #[cfg(feature = "hydrate")]
    if let Some(window) = web_sys::window()
        && let Ok(asked) = js_sys::Reflect::get(&window.navigator(), &"storage".into())
            .map_err(|_| wasm_bindgen::JsValue::UNDEFINED)
            .and_then(|storage| {
                if storage.is_undefined() {
                    Err(storage)
                } else {
                    window.navigator().storage().persist()
                }
            })
    {
        leptos::task::spawn_local(async move {
            drop(wasm_bindgen_futures::JsFuture::from(asked).await);
        });
    }
}

/// Seconds since 1970 by the device's clock; 0 on the server, where nothing is stored.
pub fn now() -> u64 {
    #[cfg(feature = "hydrate")]
    {
        // Milliseconds since 1970 are positive and far below 2^53.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let seconds = (js_sys::Date::now() / 1000.0) as u64;
        seconds
    }
    #[cfg(not(feature = "hydrate"))]
    0
}

/// A random number to tell apart what was made in the same second; 0 on the server.
fn random() -> u32 {
    #[cfg(feature = "hydrate")]
    {
        // Random numbers lie from 0 to below 1.
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
        let number = (js_sys::Math::random() * f64::from(u32::MAX)) as u32;
        number
    }
    #[cfg(not(feature = "hydrate"))]
    0
}
