//! How many threads the server has. `evenloop.service` allows for them and for their memory.

/// Threads that answer, at most. What lies ready is sent from memory, so a few saturate any line; a machine with
/// many processors would otherwise have many that wait.
const MAX_IO: u32 = 16;
/// Threads that plan and render, at most.
const MAX_WORK: u32 = 32;

/// How many threads of each kind there are, beside the first one, which only waits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Threads {
    /// Those that answer.
    pub(super) io: usize,
    /// Those that plan and render: that needs the processor and never waits, so more at once than there are
    /// processors would only take memory, and time from those that answer everybody else.
    pub(super) work: usize,
}

impl Threads {
    /// For so many processors.
    pub(super) fn on(processors: u32) -> Self {
        let of = |most: u32| processors.clamp(1, most) as usize;
        Self {
            io: of(MAX_IO),
            work: of(MAX_WORK),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const UNIT: &str = include_str!("../../evenloop.service");

    #[test]
    fn a_small_machine_has_a_thread_of_each_kind_for_each_processor() {
        assert_eq!(Threads::on(2), Threads { io: 2, work: 2 });
        assert_eq!(Threads::on(0), Threads { io: 1, work: 1 });
    }

    #[test]
    fn however_many_processors_there_are_the_unit_has_room_for_the_threads() {
        let limit = UNIT.lines().find_map(|line| line.strip_prefix("TasksMax="));
        let limit: usize = limit.and_then(|limit| limit.parse().ok()).unwrap_or(0);
        for processors in [64, 1024, u32::MAX] {
            let Threads { io, work } = Threads::on(processors);
            assert!(
                1 + io + work < limit,
                "{processors}: {io} and {work} of {limit}"
            );
        }
    }
}
