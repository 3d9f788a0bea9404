//! Joining what is live: a hem to its cast-on edge, instep to sole, a round toe to itself.

use super::{Cell, Face, Hands, How, Id, Parents, Part, live};

impl Hands {
    /// The hem's live stitch and the cast-on loop behind it are knitted together: the loops in the
    /// order in which they were cast on.
    pub(super) fn fold(&mut self) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let behind = self.folded.len();
        if self.made.get(behind).is_none_or(|s| s.how != How::CastOn) {
            return Err("every cast-on loop is folded in already".into());
        }
        let (at, id) = self.next_live()?;
        let part = self.made[id].part;
        self.use_up(id)?;
        self.remove(at);
        self.folded.push(behind);
        self.log.push((part, How::Folded));
        let new = self.make(Parents::two(id, behind), How::Folded, Face::Knit, part);
        self.put(Cell::Live(new));
        Ok(())
    }

    pub(super) fn graft_start(&mut self) -> Result<(), String> {
        if self.needles.len() != 2 {
            return Err(format!(
                "{} needles cannot be held parallel",
                self.needles.len()
            ));
        }
        if self.at == self.needles[self.needle].len() {
            self.next_needle()?;
        }
        let _ = self.next_cell();
        for cells in &mut self.needles {
            cells.retain(|c| *c != Cell::Begin);
            if let Some(other) = cells.iter().find(|c| live(c).is_none()) {
                return Err(format!("{other:?} is in the way"));
            }
        }
        self.at = 0;
        let [one, two] = [self.needles[0].len(), self.needles[1].len()];
        if one != two || one == 0 {
            return Err(format!("{one} and {two} stitches cannot be grafted"));
        }
        self.grafting = true;
        Ok(())
    }

    /// Joins the two stitches nearest the yarn: the last of the needle just worked, the first of
    /// the other.
    pub(super) fn graft(&mut self) -> Result<(), String> {
        if !self.grafting {
            return Err("grafting was not set up".into());
        }
        let one = self.needles[self.needle].first().and_then(live);
        let two = self.needles[1 - self.needle].last().and_then(live);
        let (Some(one), Some(two)) = (one, two) else {
            return Err("no pair is left".into());
        };
        self.needles[self.needle].remove(0);
        self.needles[1 - self.needle].pop();
        if self.made[one].right_leg_behind || self.made[two].right_leg_behind {
            return Err("a stitch would be grafted twisted".into());
        }
        self.use_up(one)?;
        self.use_up(two)?;
        self.grafted.push((one, two));
        self.worked += 1;
        self.lay(self.loop_size);
        Ok(())
    }

    pub(super) fn graft_end(&mut self) -> Result<(), String> {
        self.graft()?;
        if self.needles.iter().all(Vec::is_empty) {
            Ok(())
        } else {
            Err("it was not the last pair".into())
        }
    }

    /// The yarn goes through all that is live and is drawn tight.
    pub(super) fn draw_closed(&mut self, n: u32) -> Result<(), String> {
        self.drawn = self.take_all_off(n)?;
        Ok(())
    }

    pub(super) fn fasten_off(&mut self) -> Result<(), String> {
        if self.needles.iter().any(|n| !n.is_empty()) {
            return Err("stitches are still live".into());
        }
        self.cut = true;
        Ok(())
    }

    /// All the way round, each stitch drawn over the next; what hangs between them comes off.
    pub(super) fn bind_off(&mut self, n: u32) -> Result<(), String> {
        self.bound = self.take_all_off(n)?;
        self.worked += u64::from(n);
        self.lay(u64::from(n) * self.loop_size);
        Ok(())
    }

    /// All the way round, each stitch sewn to the inside; what hangs between them comes off.
    pub(super) fn sew_down(&mut self, n: u32) -> Result<(), String> {
        self.bind_off(n)?;
        self.sewn_down = true;
        Ok(())
    }

    /// Takes every live stitch off the needles; there have to be so many.
    fn take_all_off(&mut self, n: u32) -> Result<Vec<Id>, String> {
        let all = self.from_begin();
        if u32::try_from(all.len()) != Ok(n) {
            return Err(format!("{} stitches are live", all.len()));
        }
        if !self.joined || self.wrong_side || self.cut {
            return Err("there is no ring to close".into());
        }
        if let Some(marker) = self
            .needles
            .iter()
            .flatten()
            .find(|c| matches!(c, Cell::Marker(_)))
        {
            return Err(format!("{marker:?} still hangs"));
        }
        for &id in &all {
            self.use_up(id)?;
        }
        self.needles = vec![Vec::new()];
        (self.needle, self.at) = (0, 0);
        Ok(all)
    }

    /// Takes the waste yarn out.
    pub(super) fn open_waste(&mut self, n: u32) -> Result<(), String> {
        let waste = std::mem::take(&mut self.waste);
        self.open(n, waste)
    }

    /// Draws a row of the sock's own yarn out. Above each of its stitches there has to be one plain
    /// stitch, drawn out of it alone: else other loops would come free.
    pub(super) fn snip(&mut self, n: u32) -> Result<(), String> {
        let row = std::mem::take(&mut self.to_snip);
        let above = |own: Id| {
            let drawn_out_of_it = |s: &super::Stitch| s.parents.contains(&own);
            let mut all = self.made.iter().enumerate();
            let over = all.find(|(_, s)| drawn_out_of_it(s)).map(|(over, _)| over);
            over.filter(|over| self.made[*over].parents.len() == 1)
        };
        let opened: Option<Vec<[Id; 3]>> = row
            .into_iter()
            .map(|[below, own]| Some([below, own, above(own)?]))
            .collect();
        self.open(n, opened.ok_or("no plain stitch stands above the row")?)
    }

    /// A row is drawn out: the stitches below it are live again, and the lower halves of those above.
    /// The sole's lie on the first needle, the leg's on the second, in one ring: so the upper ones lie
    /// the other way round.
    fn open(&mut self, n: u32, waste: Vec<[Id; 3]>) -> Result<(), String> {
        if !self.cut || self.needles.iter().any(|cells| !cells.is_empty()) {
            return Err("the sock is still on the needles".into());
        }
        if u32::try_from(waste.len()) != Ok(n) {
            return Err(format!("{} stitches are in the row", waste.len()));
        }
        let (lower, upper) = if self.toe_up {
            (Part::Sole, Part::Back)
        } else {
            (Part::Back, Part::Sole)
        };
        let mut below = Vec::new();
        let mut above = Vec::new();
        for [under, _, over] in waste {
            self.made[under].used = false;
            self.made[under].part = lower;
            below.push(Cell::Live(under));
            let freed = self.make(Parents::one(over), How::Freed, Face::Knit, upper);
            // Nothing was worked: it was there all the time.
            self.take_back();
            above.push(Cell::Live(freed));
        }
        above.reverse();
        let (mut first, second) = if self.toe_up {
            (below, above)
        } else {
            (above, below)
        };
        first.insert(0, Cell::Begin);
        self.needles = vec![first, second];
        (self.needle, self.at) = (0, 1);
        (self.endless, self.cut, self.grafting) = (false, false, false);
        Ok(())
    }
}
