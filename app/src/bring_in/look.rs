//! What bringing a file in would do, pair by pair, and the choice where a pair went different ways here and there. What
//! reads plans is large and few come here, so it is loaded when it is first asked for.
//!
//! May use the store and the parts; decides nothing: what the knitter chose is handed to the store.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use std::sync::Arc;

use evenloop_engine::text::{Typed, Wording};
use leptos::html;
use leptos::prelude::*;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use super::report::{FileReport, Tell};
use crate::moment::moment;
use crate::pair_place;
use crate::parts::plain::{button, group, paragraph};
use crate::parts::{Tone, use_wording};
use crate::store::{
    self, BackupRefused, Branch, Choices, Chosen, PartedOver, PartedPair, Preview, Restored,
    StoreError,
};
use crate::text;

/// Looks into a backup: says why it is refused, or asks before anything of it is brought in. `done` gets what came
/// of that.
///
/// # Errors
/// When this cannot be had; nothing was changed then.
#[wasm_split(pairs, wasm_split_path = ::leptos::wasm_split, fallible)]
pub(super) fn look_into(
    file: String,
    now: u64,
    done: Tell,
) -> Result<FileReport, SplitLoaderError> {
    let preview = match store::here().look_into(&file, now) {
        Ok(preview) => preview,
        Err(why) => return Ok(FileReport::line(Tone::Wrong, refused(&why))),
    };
    if changes_nothing(&preview) {
        let mut lines = vec![text::bring_in::NOTHING_NEW.to_owned()];
        lines.extend(with_names(
            text::bring_in::FURTHER_HERE,
            &preview.would.kept,
        ));
        return Ok(FileReport::Lines(Tone::Note, lines));
    }
    let (file, preview) = (Arc::new(file), Arc::new(preview));
    Ok(FileReport::Asked(Arc::new(move || {
        asked(&preview, Arc::clone(&file), &done)
    })))
}

/// Why a file was refused.
const fn refused(why: &BackupRefused) -> &'static str {
    match why {
        BackupRefused::TooLarge => text::settings::TOO_LARGE,
        BackupRefused::NotOurs => text::settings::NOT_OURS,
        BackupRefused::Newer => text::settings::NEWER,
        BackupRefused::NotLoaded => text::settings::NOT_LOADED,
    }
}

/// Whether everything is here already, or there is nothing to be asked of.
fn changes_nothing(preview: &Preview) -> bool {
    let would = &preview.would;
    let quiet = would.unreadable.is_empty() && would.stopped.is_none();
    quiet && !preview.changes && preview.parted.is_empty()
}

/// What would be done, the choices, and the buttons.
fn asked(preview: &Preview, file: Arc<String>, done: &Tell) -> AnyView {
    let wording = use_wording();
    let said = wording.get_untracked();
    let choices = RwSignal::new(Choices::new());
    let head = NodeRef::<html::H2>::new();
    // The focus goes to the question, for those who hear the page.
    Effect::new(move || {
        if let Some(head) = head.get() {
            let _ = head.focus();
        }
    });
    let when = moment(preview.made, said.english);
    let saved = match &preview.device {
        Some(device) => text::bring_in::saved_on(&Typed::new(&**device), &when),
        None => text::bring_in::saved(&when),
    };
    let mut pieces = vec![paragraph("soft small", saved)];
    let would = would(&preview.would).into_iter();
    pieces.extend(would.map(|line| paragraph("", line)));
    let parted = preview.parted.iter().enumerate();
    pieces.extend(parted.map(|(nth, pair)| parted_pair(nth, pair, said, choices)));
    if !preview.parted.is_empty() {
        pieces.push(paragraph("soft small", text::bring_in::NOTHING_LOST));
    }
    let (tell_brought, tell_left) = (Arc::clone(done), Arc::clone(done));
    let bring = Callback::new(move |()| {
        let chosen = choices.get_untracked();
        tell_brought(brought(&file, &chosen));
    });
    let leave =
        Callback::new(move |()| tell_left(FileReport::line(Tone::Note, text::bring_in::LEFT)));
    pieces.push(group(
        "buttons",
        vec![
            button("button lead bring", text::bring_in::DO, None, bring),
            button("button leave", text::bring_in::DONT, None, leave),
        ],
    ));
    view! {
        <section class="sheet bring-in">
            <h2 tabindex="-1" node_ref=head>
                {text::bring_in::TITLE}
            </h2>
            {paragraph("soft small", text::bring_in::NOT_YET)}
            {pieces}
        </section>
    }
    .into_any()
}

/// A pair that went different ways, both places, and what can be done.
fn parted_pair(
    nth: usize,
    pair: &PartedPair,
    wording: Wording,
    choices: RwSignal<Choices>,
) -> AnyView {
    let name = Typed::new(&*pair.name);
    let why = match pair.over {
        PartedOver::Rounds => text::bring_in::parted_rounds(&name),
        PartedOver::Remarks => text::bring_in::parted_remarks(&name),
        PartedOver::Plan => text::bring_in::parted_plan(&name),
    };
    let common = (pair.over == PartedOver::Rounds).then(|| {
        let place = pair_place::words(&pair.common.progress, wording);
        paragraph("soft small", text::bring_in::last_the_same(&place))
    });
    let id = StoredValue::new(pair.id.clone());
    let choice = move |chosen: Chosen, name: &'static str, notes: Vec<String>| {
        let notes = notes.into_iter();
        let notes = notes
            .map(|note| view! { <span class="note">{note}</span> })
            .collect_view();
        let choose = move |_| {
            choices.update(|choices| {
                choices.insert(id.get_value(), chosen);
            });
        };
        view! {
            <label class="choice">
                <input
                    type="radio"
                    name=format!("parted-{nth}")
                    checked=chosen == Chosen::default()
                    autocomplete="off"
                    on:change=choose
                />
                <span class="name">{name}</span>
                {notes}
            </label>
        }
    };
    view! {
        <fieldset class="choice-group parted">
            <legend>{why}</legend>
            {common}
            <div class="choices long">
                {choice(Chosen::Here, text::bring_in::HERE, branch(&pair.here, wording))}
                {choice(Chosen::There, text::bring_in::THERE, branch(&pair.there, wording))}
                {choice(Chosen::Both, text::bring_in::BOTH, vec![text::bring_in::BOTH_NOTE.to_owned()])}
            </div>
        </fieldset>
    }
    .into_any()
}

/// How far a pair is on one device, and when it was last counted there.
fn branch(branch: &Branch, wording: Wording) -> Vec<String> {
    let device = branch.device.as_deref().map(Typed::new);
    let last = branch.last.map(|last| {
        let when = moment(last, wording.english);
        text::bring_in::last_counted(device.as_ref(), &when)
    });
    let place = pair_place::words(&branch.progress, wording);
    std::iter::once(place).chain(last).collect()
}

/// Brings the file in and says what came of it.
fn brought(file: &str, choices: &Choices) -> FileReport {
    match store::here().restore(file, choices, store::now()) {
        Ok(report) => {
            let tone = if report.stopped.is_some() || !report.unreadable.is_empty() {
                Tone::Mind
            } else {
                Tone::Note
            };
            FileReport::Lines(tone, restored(&report))
        }
        Err(why) => FileReport::line(Tone::Wrong, refused(&why)),
    }
}

/// What is said of some pairs; nothing where there are none.
fn with_names(what: &str, names: &[String]) -> Option<String> {
    let names: Vec<Typed> = names.iter().map(|name| Typed::new(&**name)).collect();
    (!names.is_empty()).then(|| text::settings::done_with(what, &names))
}

/// What is said of pairs that were given a name on both devices.
fn names_given(named: &[[String; 2]]) -> impl Iterator<Item = String> {
    named.iter().map(|[holds, other]| {
        text::bring_in::names_given(&Typed::new(&**holds), &Typed::new(&**other))
    })
}

/// What would be done, sentence by sentence.
fn would(would: &Restored) -> Vec<String> {
    let each = [
        (text::bring_in::NEW, &would.added),
        (text::bring_in::FURTHER_THERE, &would.continued),
        (text::bring_in::BOTH_HAVE, &would.joined),
        (text::bring_in::FURTHER_HERE, &would.kept),
        (text::bring_in::NOT_CHOSEN_THERE, &would.not_chosen),
        (text::bring_in::UNREADABLE, &would.unreadable),
    ];
    let mut lines: Vec<String> = each
        .iter()
        .filter_map(|(what, names)| with_names(what, names))
        .collect();
    lines.extend(names_given(&would.named));
    if would.settings {
        lines.push(text::bring_in::SETTINGS.to_owned());
    }
    lines.extend(would.stopped.as_ref().map(stopped));
    lines
}

/// What bringing a file in did, sentence by sentence.
fn restored(report: &Restored) -> Vec<String> {
    let each = [
        (text::settings::ADDED, &report.added),
        (text::settings::CONTINUED, &report.continued),
        (text::settings::JOINED, &report.joined),
        (text::settings::KEPT, &report.kept),
        (text::settings::BESIDE_AS, &report.beside),
        (text::settings::NOT_CHOSEN_AS, &report.not_chosen),
        (text::settings::UNREADABLE, &report.unreadable),
    ];
    let mut lines: Vec<String> = each
        .iter()
        .filter_map(|(what, names)| with_names(what, names))
        .collect();
    lines.extend(names_given(&report.named));
    if report.settings {
        lines.push(text::settings::SETTINGS.to_owned());
    }
    if lines.is_empty() && report.stopped.is_none() {
        lines.push(text::settings::NOTHING.to_owned());
    }
    lines.extend(report.stopped.as_ref().map(stopped));
    lines
}

fn stopped(why: &StoreError) -> String {
    match why {
        StoreError::Full => text::settings::STOPPED_FULL,
        _ => text::settings::STOPPED,
    }
    .to_owned()
}
