//! The loops on the needles, each by its stitch: two stacks around the working tip, as the simulator
//! holds its counts. Knows order only; which stitch an operation makes is `knitting`'s business.

/// A stitch by its place in the list of all.
pub(super) type StitchId = u32;

/// Live loops in ring order around the tip.
#[derive(Debug, Default)]
pub(super) struct Loops {
    /// Before the tip, in ring order.
    behind: Vec<StitchId>,
    /// After the tip, the next one last.
    ahead: Vec<StitchId>,
    wrong_side: bool,
}

impl Loops {
    /// How many there are.
    pub(super) const fn count(&self) -> usize {
        self.behind.len() + self.ahead.len()
    }

    /// Whether the wrong side faces.
    pub(super) const fn is_wrong_side(&self) -> bool {
        self.wrong_side
    }

    /// All in ring order.
    pub(super) fn ring(&self) -> impl Iterator<Item = StitchId> + '_ {
        self.behind.iter().chain(self.ahead.iter().rev()).copied()
    }

    fn sides(&mut self) -> (&mut Vec<StitchId>, &mut Vec<StitchId>) {
        if self.wrong_side {
            (&mut self.behind, &mut self.ahead)
        } else {
            (&mut self.ahead, &mut self.behind)
        }
    }

    /// Takes the next loop in the direction of work.
    pub(super) fn take(&mut self) -> Option<StitchId> {
        self.sides().0.pop()
    }

    /// Lays a loop behind the tip: it has been worked.
    pub(super) fn lay(&mut self, loop_: StitchId) {
        self.sides().1.push(loop_);
    }

    /// Lays a loop at the end of the ring.
    pub(super) fn lay_last(&mut self, loop_: StitchId) {
        self.ahead.insert(0, loop_);
    }

    /// The loop that comes next.
    pub(super) fn next(&mut self) -> Option<StitchId> {
        self.sides().0.last().copied()
    }

    /// Turns the work.
    pub(super) fn turn(&mut self) {
        self.wrong_side = !self.wrong_side;
    }

    /// The round begins at the tip.
    pub(super) fn begin_here(&mut self) {
        let mut ring = std::mem::take(&mut self.behind);
        ring.reverse();
        ring.append(&mut self.ahead);
        self.ahead = ring;
    }

    /// The round begins so many loops behind the tip, which stays; `None` where there are fewer.
    pub(super) fn begin_behind(&mut self, n: usize) -> Option<()> {
        let mut ring: Vec<StitchId> = self.ahead.iter().rev().copied().collect();
        ring.append(&mut self.behind);
        self.behind = ring.split_off(ring.len().checked_sub(n)?);
        ring.reverse();
        self.ahead = ring;
        Some(())
    }

    /// Puts the tip where the simulator has it: so many loops lie before it.
    pub(super) fn set_tip(&mut self, before: usize) {
        while self.behind.len() > before {
            self.ahead.extend(self.behind.pop());
        }
        while self.behind.len() < before {
            let Some(next) = self.ahead.pop() else {
                return;
            };
            self.behind.push(next);
        }
    }

    /// Takes one loop from the beginning of the ring and one from its end: they lie tip to tip.
    pub(super) fn take_pair(&mut self) -> Option<(StitchId, StitchId)> {
        self.set_tip(0);
        if self.ahead.len() < 2 {
            return None;
        }
        let last = self.ahead.remove(0);
        Some((self.ahead.pop()?, last))
    }

    /// Takes everything off.
    pub(super) fn clear(&mut self) {
        self.behind.clear();
        self.ahead.clear();
    }
}
