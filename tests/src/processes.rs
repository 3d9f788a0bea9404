//! The processes of a browser, to be ended as a system does that runs out of memory.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use rustix::process::{Pid, Signal, kill_process};

/// The processes of this machine: command lines and parents, as they were at one moment.
pub(crate) struct Processes(BTreeMap<i32, (String, i32)>);

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
            let read = |name: &str| fs::read_to_string(entry.path().join(name));
            let (Ok(line), Ok(stat)) = (read("cmdline"), read("stat")) else {
                continue;
            };
            // The name, in brackets, may hold anything; behind it come state and parent.
            let parent = stat.rsplit_once(") ").and_then(|(_, rest)| {
                let mut fields = rest.split(' ');
                fields.nth(1)?.parse().ok()
            });
            all.insert(id, (line, parent.unwrap_or(0)));
        }
        Self(all)
    }

    fn has(&self, id: i32, argument: &str) -> bool {
        self.0
            .get(&id)
            .is_some_and(|(line, _)| line.contains(argument))
    }

    /// The browser whose profile lies in a folder.
    pub(crate) fn browser(&self, folder: &Path) -> Option<i32> {
        let argument = format!("--user-data-dir={}", folder.display());
        let mut ids = self.0.keys().copied();
        ids.find(|id| self.has(*id, &argument) && !self.has(*id, "--type="))
    }

    /// A process and all that come from it, the eldest first.
    pub(crate) fn family(&self, eldest: i32) -> Vec<i32> {
        let mut found = vec![eldest];
        let mut looked = 0;
        while let Some(parent) = found.get(looked).copied() {
            let children = self.0.iter().filter(|(_, (_, of))| *of == parent);
            found.extend(children.map(|(id, _)| *id));
            looked += 1;
        }
        found
    }
}

/// Ends a process at once and unasked.
pub(crate) fn kill(id: i32) {
    // One that has ended meanwhile needs no killing.
    if let Some(process) = Pid::from_raw(id) {
        let _ = kill_process(process, Signal::KILL);
    }
}
