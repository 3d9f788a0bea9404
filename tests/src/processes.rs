//! The processes of a browser, to be ended as a system does that runs out of memory.

use std::collections::BTreeMap;
use std::fs;
use std::thread;
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal, kill_process};

/// The processes of this machine, each with the one it comes from, as they were at one moment.
pub(crate) struct Processes(BTreeMap<i32, i32>);

impl Processes {
    pub(crate) fn now() -> Self {
        let mut all = BTreeMap::new();
        for entry in fs::read_dir("/proc")
            .expect("this system has /proc")
            .flatten()
        {
            let Ok(id) = entry.file_name().to_string_lossy().parse::<i32>() else {
                continue;
            };
            // A process may end while it is looked at.
            if let Some((_, parent)) = state_and_parent(id) {
                all.insert(id, parent);
            }
        }
        Self(all)
    }

    /// A process and all that come from it, the eldest first.
    pub(crate) fn family(&self, eldest: i32) -> Vec<i32> {
        let mut found = vec![eldest];
        let mut looked = 0;
        while let Some(parent) = found.get(looked).copied() {
            let children = self.0.iter().filter(|(_, of)| **of == parent);
            found.extend(children.map(|(id, _)| *id));
            looked += 1;
        }
        found
    }
}

/// Ends processes at once and unasked, and waits until they are gone: only then others may use their files.
pub(crate) fn kill_all(ids: &[i32]) {
    for process in ids.iter().filter_map(|id| Pid::from_raw(*id)) {
        // One that has ended meanwhile needs no killing.
        let _ = kill_process(process, Signal::KILL);
    }
    let begin = Instant::now();
    while ids.iter().any(|id| runs(*id)) {
        assert!(begin.elapsed() < Duration::from_secs(20), "they end");
        thread::sleep(Duration::from_millis(5));
    }
}

/// Whether a process runs, and not only waits for its parent to take note of its end.
fn runs(id: i32) -> bool {
    state_and_parent(id).is_some_and(|(state, _)| state != "Z")
}

/// The letter of a process's state, and the process it comes from; nothing when it has ended.
fn state_and_parent(id: i32) -> Option<(String, i32)> {
    let stat = fs::read_to_string(format!("/proc/{id}/stat")).ok()?;
    // The name, in brackets, may hold anything; behind it come state and parent.
    let (_, rest) = stat.rsplit_once(") ")?;
    let mut fields = rest.split(' ');
    Some((fields.next()?.to_owned(), fields.next()?.parse().ok()?))
}
