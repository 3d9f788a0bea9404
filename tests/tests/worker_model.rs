//! The model of worker, windows and builds (`worker_model` of the tests' library), explored from the first visit
//! through every order of events until no new state is found.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use evenloop_tests::worker_model::{First, Happening, State, WINDOWS, Window, happenings};

/// What must hold of a step; says what does not.
fn wrong(before: &State, happening: Happening, after: &State) -> Option<&'static str> {
    for (at, (was, is)) in before.windows.iter().zip(&after.windows).enumerate() {
        let own = [
            Happening::Load(at),
            Happening::Accept(at),
            Happening::Close(at),
        ];
        if was.build() != is.build() && !own.contains(&happening) {
            return Some("a window changes its build and nobody touched it");
        }
    }
    if let Some(active) = before.active
        && after.active != before.active
    {
        let asked = matches!(happening, Happening::Accept(_));
        let closed = after.windows == [Window::Closed; WINDOWS];
        // A page that came past the worker is of the new build already.
        let there = after.windows.iter().any(|one| one.build() == after.active);
        if !asked && !closed && !there {
            return Some("an update is taken unasked");
        }
        if after.active.is_none() {
            return Some("a worker ends that nothing follows");
        }
        if !before.thrown_away
            && !after.stored[active].whole()
            && after.windows.iter().any(|one| one.build() == Some(active))
        {
            return Some("a window's files go with its worker");
        }
    }
    if let (Some(was), Some(is)) = (before.active, after.active)
        && was != is
        && after.windows != [Window::Closed; WINDOWS]
        && after.stored[was].whole()
        && !after.stored[is].whole()
    {
        return Some("a build that is not whole takes the place of one that is");
    }
    if let Happening::Load(at) | Happening::Accept(at) = happening
        && let Window::Loading(build) = after.windows[at]
        && !after.files_come(build)
    {
        if after.signal {
            return Some("a page is shown whose files are nowhere, though there is signal");
        }
        if after.stored.iter().any(|one| one.whole()) {
            return Some("the app cannot be opened though a whole build is stored");
        }
    }
    if after.thrown_away {
        return None;
    }
    for window in &after.windows {
        if let Some(build) = window.build()
            && before.windows.contains(window)
            && before.stored[build].files
            && !after.stored[build].files
        {
            return Some("a window's files go while it needs them");
        }
    }
    if let Some(active) = after.active
        && !after.stored[active].whole()
    {
        return Some("the app cannot be opened without signal");
    }
    None
}

/// Every state that can be reached, with the shortest way there.
fn explore() -> BTreeMap<State, Option<(State, Happening)>> {
    let mut found = BTreeMap::from([(State::first(), None)]);
    let mut queue = VecDeque::from([State::first()]);
    let all = happenings();
    while let Some(state) = queue.pop_front() {
        let ways = all
            .iter()
            .flat_map(|happening| First::BOTH.map(|first| (happening, first)));
        for (happening, first) in ways {
            let Some(next) = state.after(*happening, first) else {
                continue;
            };
            if let Some(what) = wrong(&state, *happening, &next) {
                let way = way_to(&found, &state);
                panic!("{what}: {way:?}, then {happening:?}\n{state:#?}\n{next:#?}");
            }
            if !found.contains_key(&next) {
                found.insert(next.clone(), Some((state.clone(), *happening)));
                queue.push_back(next);
            }
        }
    }
    found
}

fn way_to(found: &BTreeMap<State, Option<(State, Happening)>>, state: &State) -> Vec<Happening> {
    let mut way = Vec::new();
    let mut at = state;
    while let Some(Some((before, happening))) = found.get(at) {
        way.push(*happening);
        at = before;
    }
    way.reverse();
    way
}

#[test]
fn no_order_of_events_mixes_builds_or_shuts_the_app() {
    let found = explore();
    let kinds: BTreeSet<_> = found
        .values()
        .flatten()
        .map(|(_, happening)| std::mem::discriminant(happening))
        .map(|kind| format!("{kind:?}"))
        .collect();
    println!("{} states by {} kinds of events", found.len(), kinds.len());
    assert!(found.len() > 10_000, "{} states", found.len());
    let both = |state: &&State| {
        let builds: BTreeSet<_> = state.windows.iter().filter_map(|one| one.build()).collect();
        builds.len() == 2
    };
    assert!(
        found.keys().any(|state| both(&state)),
        "two builds are open at once"
    );
}

/// Whatever the browser has thrown away, the app is whole again once there is signal, the server stands still
/// and the app has been opened twice: the second time for a build that had to come again.
#[test]
fn whatever_was_thrown_away_comes_back() {
    let states = explore().into_keys();
    for (state, first) in states.flat_map(|state| First::BOTH.map(|first| (state.clone(), first))) {
        let mut now = state.clone();
        now.signal = true;
        for _ in 0..2 {
            for at in 0..WINDOWS {
                now = now.after(Happening::Close(at), first).unwrap_or(now);
            }
            for happening in [
                Happening::Load(0),
                Happening::Wake(0),
                Happening::Arrives,
                Happening::Arrives,
                Happening::Arrives,
                Happening::Show(0),
                Happening::Arrives,
                Happening::Arrives,
                Happening::Arrives,
            ] {
                now = now.after(happening, first).unwrap_or(now);
            }
        }
        let whole = now.active.is_some_and(|active| now.stored[active].whole());
        assert!(whole, "from {state:#?} to {now:#?}");
    }
}
