//! Ways through the model of worker, windows and builds that a browser can be led along, so few that they are
//! played in each run and so many that each kind of change comes about once.
//!
//! What a browser does by itself follows a happening at once and belongs to its step: a window wakes whose files
//! are there, an installation ends that lacks nothing, one fails whose server is gone, and a page asks again for
//! a first one that failed.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use crate::worker_model::{First, Happening, State, WINDOWS, Window, happenings};

/// A happening and what comes of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TraceStep {
    /// What happens.
    pub happening: Happening,
    /// How things stand then, once all has followed that follows by itself.
    pub after: State,
}

/// Ways from the first visit, one for a device of its own each.
pub fn traces() -> Vec<Vec<TraceStep>> {
    let mut wanted = changes();
    let mut traces = Vec::new();
    let mut trace: Vec<TraceStep> = Vec::new();
    let mut at = State::first();
    while !wanted.is_empty() {
        match nearest(&at, &wanted) {
            Some(way) if trace.is_empty() || trace.len() + way.len() <= LONGEST => {
                for step in way {
                    wanted.retain(|change| !changes_of(&at, &step).contains(change));
                    at = step.after.clone();
                    trace.push(step);
                }
            }
            // Nothing that is wanted lies ahead, or it lies too far: start again.
            _ => {
                assert!(!trace.is_empty(), "what was found can be come to");
                traces.push(std::mem::take(&mut trace));
                at = State::first();
            }
        }
    }
    traces.push(trace);
    traces
}

/// Every change that a browser can be led to.
pub fn changes() -> BTreeSet<Change> {
    let mut seen = BTreeSet::from([State::first()]);
    let mut queue = VecDeque::from([State::first()]);
    let mut changes = BTreeSet::new();
    while let Some(state) = queue.pop_front() {
        for step in steps(&state) {
            changes.extend(changes_of(&state, &step));
            if seen.insert(step.after.clone()) {
                queue.push_back(step.after);
            }
        }
    }
    changes
}

/// Steps of one trace.
const LONGEST: usize = 16;

/// What happens, and one thing that comes of it.
pub type Change = (&'static str, Effect);

/// What comes of a happening, whichever builds and windows are concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effect {
    /// Nothing.
    None,
    /// A worker answers for the first time.
    FirstWorker,
    /// Another worker takes over.
    TakesOver,
    /// A worker begins to wait.
    Waits,
    /// Another waits in the place of one that waited.
    WaitsInstead,
    /// An installation begins.
    InstallationBegins,
    /// One fails.
    InstallationFails,
    /// The window that was loaded shows its worker's page.
    PageOfWorker,
    /// It shows the server's, past a worker of another build.
    PageOfServer,
    /// It shows that of another build, which is whole and stored.
    PageOfOther,
    /// What had been thrown away is stored again.
    Mended,
    /// A build that no window needs is thrown away.
    Tidied,
    /// A waiting worker that lacks something is asked to take over and does not.
    Refused,
}

fn changes_of(before: &State, step: &TraceStep) -> BTreeSet<Change> {
    let after = &step.after;
    let (happening, loaded) = match step.happening {
        Happening::Publish(_) => ("publish", None),
        Happening::SignalGoes => ("signal goes", None),
        Happening::SignalComes => ("signal comes", None),
        Happening::Load(at) => ("load", Some(at)),
        Happening::Wake(_) => ("wake", None),
        Happening::Show(_) => ("show", None),
        Happening::Close(_) => ("close", None),
        Happening::Accept(at) => ("accept", Some(at)),
        Happening::Arrives => ("arrives", None),
        Happening::Fails => ("fails", None),
        Happening::Again => ("again", None),
        Happening::ThrowAwayFiles(_) => ("throw files away", None),
        Happening::ThrowAwayPages(_) => ("throw pages away", None),
    };
    let mut effects = BTreeSet::new();
    match (before.active, after.active) {
        (None, Some(_)) => drop(effects.insert(Effect::FirstWorker)),
        (was, is) if was != is => drop(effects.insert(Effect::TakesOver)),
        _ => {}
    }
    match (before.waiting, after.waiting) {
        (None, Some(_)) => drop(effects.insert(Effect::Waits)),
        (Some(was), Some(is)) if was != is => drop(effects.insert(Effect::WaitsInstead)),
        _ => {}
    }
    if after.installing.is_some() && before.installing != after.installing {
        effects.insert(Effect::InstallationBegins);
    }
    let done = |state: &State| {
        before
            .installing
            .is_some_and(|build| state.stored[build].whole())
    };
    if before.installing.is_some() && after.installing.is_none() && !done(after) {
        effects.insert(Effect::InstallationFails);
    }
    if let Some(build) = loaded.and_then(|at| after.windows[at].build())
        && let Some(active) = after.active
    {
        let is_refused = happening == "accept" && before.windows == after.windows;
        effects.insert(if is_refused {
            Effect::Refused
        } else if build == active {
            Effect::PageOfWorker
        } else if after.signal && build == after.published {
            Effect::PageOfServer
        } else {
            Effect::PageOfOther
        });
    }
    let stores = before.stored.iter().zip(&after.stored).enumerate();
    for (build, (was, is)) in stores {
        let is_installed = before.installing == Some(build) || after.installing == Some(build);
        let is_mended = !was.files && is.files || !was.pages && is.pages;
        if is_mended && !is_installed && before.active.is_some() {
            effects.insert(Effect::Mended);
        }
        let goes = was.files && !is.files || was.pages && !is.pages;
        if goes && !happening.starts_with("throw") {
            effects.insert(Effect::Tidied);
        }
    }
    if effects.is_empty() {
        effects.insert(Effect::None);
    }
    effects
        .into_iter()
        .map(|effect| (happening, effect))
        .collect()
}

/// The shortest way from here to a change that is wanted, with it.
fn nearest(from: &State, wanted: &BTreeSet<Change>) -> Option<Vec<TraceStep>> {
    let mut ways: BTreeMap<State, Option<(State, TraceStep)>> =
        BTreeMap::from([(from.clone(), None)]);
    let mut queue = VecDeque::from([from.clone()]);
    while let Some(state) = queue.pop_front() {
        for step in steps(&state) {
            if !changes_of(&state, &step).is_disjoint(wanted) {
                let mut way = vec![step];
                let mut at = &state;
                while let Some(Some((before, step))) = ways.get(at) {
                    way.push(step.clone());
                    at = before;
                }
                way.reverse();
                return Some(way);
            }
            if !ways.contains_key(&step.after) {
                ways.insert(step.after.clone(), Some((state.clone(), step.clone())));
                queue.push_back(step.after);
            }
        }
    }
    None
}

/// Everything that a browser can be led to do next.
fn steps(state: &State) -> Vec<TraceStep> {
    let all = happenings().into_iter();
    all.filter_map(|happening| step(state, happening)).collect()
}

fn step(state: &State, happening: Happening) -> Option<TraceStep> {
    let open = state
        .windows
        .iter()
        .filter(|one| one.build().is_some())
        .count();
    match happening {
        // They follow by themselves.
        Happening::Wake(_) | Happening::Again => return None,
        // Through a window it is thrown away, and not from under an installation.
        Happening::ThrowAwayFiles(build) | Happening::ThrowAwayPages(build)
            if open == 0 || state.installing == Some(build) =>
        {
            return None;
        }
        // Without a build that waits, that of the worker is offered where it is whole.
        Happening::Accept(_)
            if state.waiting.is_none()
                && !state
                    .active
                    .is_some_and(|active| state.stored[active].whole()) =>
        {
            return None;
        }
        // The windows are alike: the second is opened after the first.
        Happening::Load(1) if state.windows[0] == Window::Closed => return None,
        _ => {}
    }
    // Where several are whole, the model does not say which one is taken.
    let filled = |was: &State, is: &State| {
        was.stored
            .iter()
            .zip(&is.stored)
            .any(|(was, is)| !was.files && is.files || !was.pages && is.pages)
    };
    // Whatever the order in which things follow, they come to the same.
    let mut orders = First::BOTH
        .into_iter()
        .flat_map(|first| [false, true].map(|installations| (first, installations)))
        .map(|(first, installations)| {
            settled(state.after(happening, first)?, first, installations)
        });
    let after = orders.next()??;
    if orders.any(|one| one.as_ref() != Some(&after)) {
        return None;
    }
    // Nobody could tell the files that a worker mends with from those of an installation that begins.
    let begins = state.installing.is_none() && after.installing.is_some();
    if begins && filled(state, &after) {
        return None;
    }
    let mended_meanwhile =
        state.installing.is_some() && happening != Happening::Arrives && filled(state, &after);
    if mended_meanwhile {
        return None;
    }
    // A page that lacks files stays as it is until it is reloaded.
    if after
        .windows
        .iter()
        .any(|one| matches!(one, Window::Loading(_)))
    {
        return None;
    }
    let whole = after.stored.iter().filter(|one| one.whole()).count();
    let lacks = after
        .active
        .is_some_and(|active| !after.stored[active].whole());
    if lacks && whole > 1 && !after.signal {
        return None;
    }
    Some(TraceStep { happening, after })
}

/// All that follows by itself; windows first, or installations.
fn settled(mut state: State, first: First, installations_first: bool) -> Option<State> {
    // Each thing that follows has an end.
    for _ in 0..20 {
        let wake = (0..WINDOWS)
            .map(Happening::Wake)
            .find(|wake| state.after(*wake, first).is_some());
        let installation = state.installing.and_then(|build| {
            if state.stored[build].whole() {
                Some(Happening::Arrives)
            } else if !state.signal || state.published != build {
                Some(Happening::Fails)
            } else {
                None
            }
        });
        let next = if installations_first {
            installation.or(wake)
        } else {
            wake.or(installation)
        };
        // It asks again a while later.
        let Some(next) = next.or_else(|| {
            let again = Happening::Again;
            state.after(again, first).map(|_| again)
        }) else {
            return Some(state);
        };
        state = state.after(next, first)?;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_traces_show_every_change_that_can_be_led_to() {
        let mut shown = BTreeSet::new();
        for trace in traces() {
            let mut at = State::first();
            for step in trace {
                assert_eq!(super::step(&at, step.happening).as_ref(), Some(&step));
                shown.extend(changes_of(&at, &step));
                at = step.after;
            }
        }
        assert_eq!(shown, changes());
        assert!(shown.len() > 30, "{shown:?}");
    }
}
