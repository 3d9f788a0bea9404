//! Working from a chart: which row it is, whether it was looked up where its stitches begin, and
//! whether what lies on the needles afterwards is what the chart wants, stitch by stitch.

use super::super::chart::{Chart, Due};
use super::super::panel::Panel;
use super::{Cell, Hands, How, Id, Part};

/// A motif and how far it has been worked.
#[derive(Debug, Clone)]
#[allow(clippy::struct_excessive_bools)] // each is a thing of its own that is so or is not
pub struct ChartProgress {
    chart: Chart,
    panel: Panel,
    /// The row at work, from 0.
    row: usize,
    /// Whether this section is worked from the chart, and whether the back is too.
    by_chart: bool,
    back_too: bool,
    /// The stitches below the row at work, of the back and of the front; how many are worked.
    below: [Vec<Id>; 2],
    done: [usize; 2],
    /// Whether the row was looked up on this needle.
    looked_up: bool,
    /// Whether a section ended in the middle of a row.
    broken_off: bool,
}

const BACK: usize = 0;
const FRONT: usize = 1;

impl ChartProgress {
    /// A chart that lies so on the front, and on the back where it is all round.
    pub fn of(chart: Chart, panel: Panel) -> Self {
        Self {
            chart,
            panel,
            row: 0,
            by_chart: false,
            back_too: false,
            below: [const { Vec::new() }; 2],
            done: [0; 2],
            looked_up: false,
            broken_off: false,
        }
    }

    /// Whether stitches of a part are worked from the chart now.
    pub fn covers(&self, part: Part) -> bool {
        self.by_chart && self.half(part).is_some()
    }

    const fn half(&self, part: Part) -> Option<usize> {
        match part {
            Part::Front | Part::Instep => Some(FRONT),
            Part::Back if self.back_too => Some(BACK),
            _ => None,
        }
    }

    /// How far into the repeats a stitch of the half lies, where it is in one.
    fn place_in_repeats(&self, at: usize) -> Option<usize> {
        let all = self.panel.repeats as usize * self.chart.wide();
        let into = at.checked_sub(self.panel.first() as usize)?;
        (into < all).then_some(into)
    }

    fn take_up(&mut self, id: Id, part: Part) -> Result<(), String> {
        let Some(half) = self.half(part).filter(|_| self.by_chart) else {
            return Ok(());
        };
        let at = self.done[half];
        if self.below[half].get(at) != Some(&id) {
            return Err(format!("it is not stitch {} of the row below", at + 1));
        }
        if self.place_in_repeats(at).is_some() && !self.looked_up {
            return Err("the row of the chart was not looked up".into());
        }
        self.done[half] += 1;
        Ok(())
    }
}

impl Hands {
    /// The front's or the back's stitches from right to left, wherever the round begins.
    fn half(&self, half: usize) -> Vec<Id> {
        let belongs = |id: &Id| match self.made[*id].part {
            Part::Front | Part::Instep => half == FRONT,
            Part::Back => half == BACK,
            _ => false,
        };
        let mut ring = self.from_begin();
        if ring.first().is_some_and(belongs)
            && let Some(other) = ring.iter().rposition(|id| !belongs(id))
        {
            let after = (other + 1) % ring.len();
            ring.rotate_left(after);
        }
        ring.retain(belongs);
        ring
    }

    /// A section begins: it is worked from the chart or not.
    pub(super) fn dress_section(&mut self, kind: &str) {
        let Some(mut chart_progress) = self.chart_progress.take() else {
            return;
        };
        let was = chart_progress.by_chart;
        chart_progress.by_chart = matches!(
            kind,
            "leg"
                | "heel-place"
                | "pick-up"
                | "gusset"
                | "foot"
                | "short-row-heel"
                | "heel-flap"
                | "heel-turn"
        );
        chart_progress.back_too = chart_progress.panel.all_round && kind == "leg";
        if was && !chart_progress.by_chart && chart_progress.done != [0; 2] {
            chart_progress.broken_off = true;
        }
        if chart_progress.done == [0; 2] {
            chart_progress.below = [self.half(BACK), self.half(FRONT)];
        }
        self.chart_progress = Some(chart_progress);
    }

    /// A stitch of the row below is being worked.
    pub(super) fn take_up(&mut self, id: Id) -> Result<(), String> {
        let part = self.made[id].part;
        match &mut self.chart_progress {
            Some(chart_progress) if !self.crossing => chart_progress.take_up(id, part),
            _ => Ok(()),
        }
    }

    /// Another needle is begun.
    pub(super) fn leave_the_chart(&mut self) {
        if let Some(chart_progress) = &mut self.chart_progress {
            chart_progress.looked_up = false;
        }
    }

    /// The row is looked up where a repeat begins.
    pub(super) fn look_up_row(&mut self, n: u32) -> Result<(), String> {
        let (_, id) = self.next_live()?;
        let part = self.made[id].part;
        let chart_progress = self.chart_progress.as_mut().ok_or("there is no chart")?;
        let half = chart_progress
            .half(part)
            .filter(|_| chart_progress.by_chart);
        let half = half.ok_or("nothing here is worked from the chart")?;
        if n as usize != chart_progress.row + 1 {
            return Err(format!("the chart is at row {}", chart_progress.row + 1));
        }
        let at = chart_progress.done[half];
        let wide = chart_progress.chart.wide();
        if !chart_progress
            .place_in_repeats(at)
            .is_some_and(|into| into.is_multiple_of(wide))
        {
            return Err(format!("no repeat begins at stitch {}", at + 1));
        }
        chart_progress.looked_up = true;
        self.last = None;
        Ok(())
    }

    /// The first of two groups waits on a cable needle, behind the work when the others go to the
    /// right in front of it, in front when it goes to the left itself.
    pub(super) fn cross(
        &mut self,
        over: u32,
        under: u32,
        to_the_right: bool,
        purl: bool,
    ) -> Result<(), String> {
        if self.wrong_side {
            return Err("the wrong side faces".into());
        }
        let (first, second) = if to_the_right {
            (under, over)
        } else {
            (over, under)
        };
        let mut held = Vec::new();
        for _ in 0..first {
            let (at, id) = self.next_live()?;
            self.take_up(id)?;
            self.remove(at);
            held.push(id);
        }
        if self.endless {
            // The list may end among them; the ring does not.
            self.needles[self.needle].rotate_left(self.at);
            self.at = 0;
        }
        for ahead in 0..second as usize {
            match self.needles[self.needle].get(self.at + ahead) {
                Some(Cell::Live(id)) => self.take_up(*id)?,
                other => return Err(format!("{other:?} lies among the crossing stitches")),
            }
        }
        self.crossing = true;
        for _ in 0..second {
            self.draw_through(1, How::Worked, to_the_right || !purl)?;
        }
        let back_on = held.iter().map(|id| Cell::Live(*id));
        self.needles[self.needle].splice(self.at..self.at, back_on);
        for _ in 0..first {
            self.draw_through(1, How::Worked, !to_the_right || !purl)?;
        }
        self.crossing = false;
        Ok(())
    }

    /// After a move: where a row came to its end, it has to be what the chart makes of the row below.
    ///
    /// # Errors
    /// The first stitch that is not.
    pub fn look_at_the_chart(&mut self) -> Result<(), String> {
        if self
            .chart_progress
            .as_ref()
            .is_some_and(|chart_progress| chart_progress.broken_off)
        {
            return Err("the section before broke a row of the chart off".into());
        }
        let Some(mut chart_progress) = self
            .chart_progress
            .take_if(|chart_progress| chart_progress.by_chart)
        else {
            return Ok(());
        };
        chart_progress.looked_up = false;
        for half in [BACK, FRONT] {
            let below = &chart_progress.below[half];
            if chart_progress.done[half] == 0 || chart_progress.done[half] < below.len() {
                continue;
            }
            let now = self.half(half);
            let due = chart_progress
                .chart
                .over(chart_progress.row, below, chart_progress.panel);
            let name = ["back", "front"][half];
            if now.len() != due.len() {
                return Err(format!("the {name} has {} stitches now", now.len()));
            }
            for (column, (id, due)) in now.iter().zip(&due).enumerate() {
                let stitch = &self.made[*id];
                let is = match due {
                    Due::Same(old) => id == old,
                    Due::New(parents, how, face) => {
                        stitch.parents[..] == parents[..]
                            && stitch.how == *how
                            && stitch.face == *face
                    }
                };
                if !is {
                    return Err(format!(
                        "row {} of the chart wants {due:?} at stitch {} of the {name}, not {id}: \
                         {stitch:?}",
                        chart_progress.row + 1,
                        column + 1
                    ));
                }
            }
            chart_progress.below[half] = now;
            chart_progress.done[half] = 0;
            if half == FRONT {
                chart_progress.row = (chart_progress.row + 1) % chart_progress.chart.tall();
            }
        }
        self.chart_progress = Some(chart_progress);
        Ok(())
    }
}
