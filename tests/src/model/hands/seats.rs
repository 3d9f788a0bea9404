//! Where stitches sit: needles' ends, markers, where the round begins. Nothing is knitted here.

use super::{Cell, Hands, live};

impl Hands {
    pub(super) fn join(&mut self) -> Result<(), String> {
        if self.joined {
            return Err("it is a ring already".into());
        }
        if self.needles.iter().all(Vec::is_empty) {
            return Err("there is nothing to join".into());
        }
        // The next stitch is the first one cast on.
        let behind = self.needles[self.needle][..self.at]
            .iter()
            .rev()
            .find_map(live);
        if behind != Some(self.made.len() - 1) {
            return Err("the yarn is not at the last stitch cast on".into());
        }
        self.joined = true;
        self.begin_here()
    }

    pub(super) fn next_needle(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        if !self.joined {
            return Err("it is not a ring yet".into());
        }
        if let Some(at) = self.next_cell() {
            return Err(format!(
                "{:?} is still on this needle",
                self.needles[self.needle][at]
            ));
        }
        self.needle = (self.needle + 1) % self.needles.len();
        self.at = 0;
        self.last = None;
        self.leave_the_chart();
        Ok(())
    }

    pub(super) fn place(&mut self, marker: char) -> Result<(), String> {
        if self.find_marker(marker).is_some() {
            return Err("that marker hangs already".into());
        }
        self.put(Cell::Marker(marker));
        Ok(())
    }

    pub(super) fn find_marker(&self, marker: char) -> Option<(usize, usize)> {
        let wanted = Cell::Marker(marker);
        self.needles
            .iter()
            .enumerate()
            .find_map(|(n, cells)| cells.iter().position(|c| *c == wanted).map(|i| (n, i)))
    }

    pub(super) fn pass(&mut self, marker: char) -> Result<(), String> {
        match self.next_cell() {
            Some(at) if self.needles[self.needle][at] == Cell::Marker(marker) => {
                self.at = if self.wrong_side { at } else { at + 1 };
                Ok(())
            }
            _ => Err("that marker does not lie next".into()),
        }
    }

    pub(super) fn take_off(&mut self, marker: char) -> Result<(), String> {
        let (n, i) = self
            .find_marker(marker)
            .ok_or("that marker hangs nowhere")?;
        self.needles[n].remove(i);
        if n == self.needle && i < self.at {
            self.at -= 1;
        }
        Ok(())
    }

    /// The place `n` stitches ahead: a needle, and the cell right after the last of them.
    pub(super) fn ahead(&self, n: u32) -> Result<(usize, usize), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let (mut needle, mut at, mut left) = (self.needle, self.at, n);
        let mut ends = 0;
        while left > 0 {
            match self.needles[needle].get(at) {
                Some(cell) => {
                    left -= u32::from(live(cell).is_some());
                    at += 1;
                }
                // A strip that was just cast on is laid into a ring already.
                None if ends <= self.needles.len() => {
                    needle = (needle + 1) % self.needles.len();
                    at = 0;
                    ends += 1;
                }
                None => return Err("there are not so many stitches ahead".into()),
            }
        }
        Ok((needle, at))
    }

    /// A needle ends `n` stitches ahead. Where it ends at the tip, the tip is at that needle's end
    /// (`n` of nothing) or at the next one's beginning (once round).
    pub(super) fn split(&mut self, n: u32) -> Result<(), String> {
        let (needle, at) = self.ahead(n)?;
        let moves_on = self.needle == needle && (self.at > at || (self.at == at && n > 0));
        if self.endless {
            self.endless = false;
            let cells = &mut self.needles[0];
            let length = cells.len();
            cells.rotate_left(at);
            self.at = if moves_on {
                self.at - at
            } else {
                self.at + length - at
            };
            return Ok(());
        }
        let holds = |cells: &[Cell]| cells.iter().any(|c| live(c).is_some());
        let (front, back) = self.needles[needle].split_at(at);
        if !holds(front) || !holds(back) {
            return Err("a needle ends there already".into());
        }
        let back = self.needles[needle].split_off(at);
        self.needles.insert(needle + 1, back);
        if self.needle > needle || moves_on {
            if moves_on {
                self.at -= at;
            }
            self.needle += 1;
        }
        Ok(())
    }

    /// The end of the needle `n` stitches ahead goes; its stitches and the next needle's lie
    /// together.
    pub(super) fn merge(&mut self, n: u32) -> Result<(), String> {
        if self.endless {
            return Err("no needle ends anywhere".into());
        }
        let (needle, at) = self.ahead(n)?;
        let holds = |cells: &[Cell]| cells.iter().any(|c| live(c).is_some());
        let count = self.needles.len();
        // The tip may also be at the beginning of the second of the two.
        let first = if !holds(&self.needles[needle][at..]) {
            needle
        } else if n == 0 && !holds(&self.needles[needle][..at]) {
            (needle + count - 1) % count
        } else {
            return Err("no needle ends there".into());
        };
        if count == 1 {
            self.endless = true;
            return Ok(());
        }
        let second = (first + 1) % count;
        let shift = self.needles[first].len();
        let tail = self.needles[second].clone();
        self.needles[first].extend(tail);
        if self.needle == second {
            self.needle = first;
            self.at += shift;
        }
        self.needles.remove(second);
        if self.needle > second {
            self.needle -= 1;
        }
        Ok(())
    }

    pub(super) fn begin_here(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        // Standing at a needle's end or at the next one's beginning is the same place.
        if self.at == self.needles[self.needle].len() && !self.endless {
            self.next_needle()?;
        }
        for n in 0..self.needles.len() {
            if let Some(i) = self.needles[n].iter().position(|c| *c == Cell::Begin) {
                self.needles[n].remove(i);
                if n == self.needle && i < self.at {
                    self.at -= 1;
                }
            }
        }
        self.put(Cell::Begin);
        Ok(())
    }

    /// Hangs a marker so many stitches ahead, right behind the last of them.
    pub(super) fn hang(&mut self, marker: char, n: u32) -> Result<(), String> {
        if self.find_marker(marker).is_some() {
            return Err("that marker hangs already".into());
        }
        let (needle, at) = self.ahead(n)?;
        self.needles[needle].insert(at, Cell::Marker(marker));
        if needle == self.needle && at < self.at {
            self.at += 1;
        }
        Ok(())
    }
}
