//! The areas of the parts of a sock, drawn round their stitches: the ground beneath the fabric, what is
//! still to be knitted, and what can be touched.

use evenloop_engine::stitch::Yarn;

use super::path::Path;
use super::point::Point;
use super::stitch::Region;

/// One row or round of a part, as far as it can be seen.
#[derive(Debug, Clone)]
pub(crate) struct RowShape {
    /// Its ends, on the side of the front and of the back.
    pub(crate) ends: (Point, Point),
    /// Where its stitches begin and end, from front to back.
    pub(crate) bases: Vec<Point>,
    pub(crate) heads: Vec<Point>,
    /// Its yarn; where it changes within the row, the first.
    pub(crate) yarn: Yarn,
    /// How many stitches of the sock are made when it is done.
    pub(crate) made: usize,
}

/// A part of the sock.
#[derive(Debug, Clone)]
pub(crate) struct PartShape {
    /// Which part.
    pub(crate) region: Region,
    /// The yarn it begins with.
    pub(crate) yarn: Yarn,
    /// Its rows in the order knitted.
    pub(crate) rows: Vec<RowShape>,
}

impl PartShape {
    /// The area of the rows that are done when so many stitches are made; empty when none is.
    pub(crate) fn area(&self, made: usize, steps: f32) -> Path {
        let mut path = Path::new(steps);
        let done = self.rows.partition_point(|row| row.made <= made);
        let rows = self.rows.get(..done).unwrap_or_default();
        let (Some(first), Some(last)) = (rows.first(), rows.last()) else {
            return path;
        };
        let around = rows
            .iter()
            .map(|row| row.ends.0)
            .chain(last.heads.iter().copied())
            .chain(rows.iter().rev().map(|row| row.ends.1))
            .chain(first.bases.iter().rev().copied());
        let begin = first.ends.0;
        path.go(begin);
        around.skip(1).for_each(|at| path.line(at));
        path.close(begin);
        path
    }

    /// The middle of it, for a label.
    pub(crate) fn middle(&self) -> Option<Point> {
        let row = self.rows.get(self.rows.len() / 2)?;
        Some(row.ends.0.toward(row.ends.1, 0.5))
    }
}
