//! The pattern's pick-up as our own: the same stitches, seated as the knitter wants them. This is where
//! both needles come to hold half the stitches, and the round to begin in the middle of the heel.

use crate::stitch::{Op, run};

/// A pick-up along both edges of a flap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Crossing {
    /// Stitches of the turned heel.
    pub heel: u16,
    /// Stitches picked up along the left edge and along the right one, corners not counted.
    pub along: (u16, u16),
    /// Whether each side has a corner of its own.
    pub corners: bool,
    /// Stitches of the instep.
    pub instep: u16,
}

impl Crossing {
    /// The operations of the pick-up, up to the heel's first stitch.
    pub(super) fn ops(&self) -> Vec<Op> {
        let mut ops = Vec::with_capacity(6);
        let corner = self.corners.then_some(Op::PickUpCorner);
        run(&mut ops, Op::Knit, self.heel);
        run(&mut ops, Op::PickUpAlong, self.along.0);
        ops.extend(corner.clone());
        run(&mut ops, Op::Knit, self.instep);
        ops.extend(corner);
        run(&mut ops, Op::PickUpAlong, self.along.1);
        ops
    }
}

/// Reads a pick-up out of its bare operations, and what is worked after its second edge; `None` where it
/// goes another way.
pub(super) fn crossing(bare: &[Op]) -> Option<(Crossing, Vec<Op>)> {
    let hands = bare.iter().filter(|op| {
        !matches!(
            op,
            Op::Place(_) | Op::Remove(_) | Op::BeginHere | Op::PatternLine(_)
        )
    });
    let mut reader = RemainingOps(hands.collect());
    let heel = reader.plain();
    let left = reader.edge()?;
    let left_corner = reader.corner();
    let instep = reader.plain();
    let right_corner = reader.corner();
    let right = reader.edge()?;
    let known = left_corner == right_corner && instep > 0 && heel > 1;
    let after = reader.0.into_iter().cloned().collect();
    known.then_some((
        Crossing {
            heel,
            along: (left, right),
            corners: left_corner,
            instep,
        },
        after,
    ))
}

struct RemainingOps<'a>(Vec<&'a Op>);

impl RemainingOps<'_> {
    /// Stitches that are knitted.
    fn plain(&mut self) -> u16 {
        let mut sum = 0_u16;
        while let Some(Op::Knit(n)) = self.0.first() {
            sum = sum.saturating_add(n.get());
            self.0.remove(0);
        }
        sum
    }

    /// Stitches that are picked up along an edge.
    fn edge(&mut self) -> Option<u16> {
        match self.0.first() {
            Some(Op::PickUp(n) | Op::PickUpAlong(n)) => {
                let n = n.get();
                self.0.remove(0);
                Some(n)
            }
            _ => None,
        }
    }

    fn corner(&mut self) -> bool {
        let here = self.0.first() == Some(&&Op::PickUpCorner);
        if here {
            self.0.remove(0);
        }
        here
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::written_ops::read_ops;

    #[test]
    fn a_pick_up_is_known_wherever_it_ends() {
        let read = |text| crossing(&read_ops(text).expect("operations"));
        let ops = |text| read_ops(text).expect("operations");
        let usual = Crossing {
            heel: 18,
            along: (16, 16),
            corners: false,
            instep: 32,
        };
        let middle = read("k18 pu16 m+1 k32 m+2 pu16 k9");
        assert_eq!(middle, Some((usual, ops("k9"))));
        let with_corners = Crossing {
            corners: true,
            ..usual
        };
        let side = read("k9 k9 pu16 puc k32 puc pu16");
        assert_eq!(side, Some((with_corners, Vec::new())));
        assert_eq!(read("k18 pu16 k2tog k30 pu16 k9"), None);
        assert_eq!(read("k18 pu16 k32"), None);
    }
}
