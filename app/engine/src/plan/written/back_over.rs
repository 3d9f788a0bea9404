//! Short rows that go back over the beginning of the round: the round before ends where they reach to, and they begin
//! with what is left of it. The same stitches in the same order, so that all of the rows come to lie on one needle.

use super::lines::reach_of_short_rows;
use super::recut::divided;
use super::reseat::{bare, extent};
use crate::pattern::{FollowedLine, FollowedPart, Form};
use crate::stitch::Op;

/// The pattern's parts with such rows begun before the beginning of the round. Where that cannot be, they stay as they
/// are.
pub(super) fn begun_before(mut parts: Vec<FollowedPart>) -> Vec<FollowedPart> {
    for part in 0..parts.len() {
        for line in 0..parts[part].lines.len() {
            let before = match line.checked_sub(1) {
                Some(before) => Some((part, before)),
                None => (0..part)
                    .rev()
                    .find(|nth| !parts[*nth].lines.is_empty())
                    .map(|nth| (nth, parts[nth].lines.len() - 1)),
            };
            let Some((of, nth)) = before else { continue };
            let rows = &parts[part].lines[line..];
            let Some((round, row)) = cut_short(&parts[of].lines[nth], rows) else {
                continue;
            };
            parts[of].lines[nth] = round;
            parts[part].lines[line] = row;
        }
    }
    parts
}

/// The round without its last stitches, and the first row with them.
fn cut_short(round: &FollowedLine, rows: &[FollowedLine]) -> Option<(FollowedLine, FollowedLine)> {
    let row = rows.first().filter(|row| row.back_over > 0)?;
    if round.form != Form::Round || round.unread || row.ops.first() == Some(&Op::BeginHere) {
        return None;
    }
    let mut ops = bare(&round.ops);
    let mut rest = Vec::with_capacity(4);
    let mut left = row.back_over;
    while left > 0 {
        let op = ops.pop()?;
        let (takes, makes, whole) = extent(&op);
        if makes <= left {
            left -= makes;
            rest.push(op);
        } else if whole || takes != makes {
            return None;
        } else {
            rest.push(divided(&op, left)?);
            ops.push(divided(&op, makes - left)?);
            left = 0;
        }
    }
    rest.reverse();
    rest.extend(row.ops.iter().cloned());
    let row = FollowedLine {
        ops: rest,
        back_over: 0,
        ..row.clone()
    };
    let mut seated = rows.to_vec();
    seated[0] = row.clone();
    ops.push(Op::BeginHere);
    if reach_of_short_rows(&seated).checked_mul(2) == Some(round.after) {
        ops.push(Op::NameHeel);
    }
    let round = FollowedLine {
        form: Form::Walk,
        ops,
        ..round.clone()
    };
    Some((round, row))
}
