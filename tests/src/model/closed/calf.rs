//! How many pairs of stitches a calf adds to the leg, round by round above the heel.

use super::No;

/// Half up, also below nothing.
const fn nearest(a: i64, b: i64) -> i64 {
    (2 * a + b).div_euclid(2 * b)
}

/// A place in the leg: rounds above the heel, pairs of stitches more than at the ankle.
type Point = (i64, i64);

/// Pairs on the line between two points.
const fn between(low: Point, high: Point, round: i64) -> i64 {
    low.1 + nearest((high.1 - low.1) * (round - low.0), high.0 - low.0)
}

/// Pairs after 0, 1, 2, ... `leg` rounds above the heel, along straight lines through the points
/// that lie in the leg, and upright above the last; even at the top.
///
/// # Errors
/// Two points in one round, or a line that needs more than one pair in a round.
pub(super) fn pairs(points: &[(u32, u32)], leg: u32) -> Result<Vec<u32>, No> {
    let leg = i64::from(leg);
    let mut line: Vec<Point> = vec![(0, 0)];
    for &(round, pairs) in points {
        let (round, pairs) = (i64::from(round), i64::from(pairs));
        let last = line[line.len() - 1];
        if last.0 >= leg {
            break;
        }
        if round <= last.0 {
            return Err(No::Calf);
        }
        let reached = round.min(leg);
        line.push((reached, between(last, (round, pairs), reached)));
    }
    let last = line[line.len() - 1];
    if last.0 < leg {
        line.push((leg, last.1));
    }
    if let Some(top) = line.last_mut() {
        top.1 += top.1 % 2;
    }
    let mut all = Vec::new();
    for ends in line.windows(2) {
        let first = if all.is_empty() {
            ends[0].0
        } else {
            ends[0].0 + 1
        };
        all.extend((first..=ends[1].0).map(|round| between(ends[0], ends[1], round)));
    }
    if all.is_empty() {
        all.push(0);
    }
    if all.windows(2).any(|two| (two[1] - two[0]).abs() > 1) {
        return Err(No::Calf);
    }
    Ok(all
        .into_iter()
        .map(|pairs| u32::try_from(pairs).unwrap_or_default())
        .collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_calf_grows_along_a_line() {
        assert_eq!(pairs(&[(4, 2)], 4), Ok(vec![0, 1, 1, 2, 2]));
        assert_eq!(pairs(&[(2, 1)], 4), Ok(vec![0, 1, 1, 2, 2]));
        assert_eq!(pairs(&[(8, 4)], 4), Ok(vec![0, 1, 1, 2, 2]));
        assert_eq!(pairs(&[(3, 3), (6, 2)], 6), Ok(vec![0, 1, 2, 3, 3, 2, 2]));
        assert_eq!(pairs(&[(1, 2)], 4), Err(No::Calf));
        assert_eq!(pairs(&[(4, 2), (4, 3)], 9), Err(No::Calf));
        assert_eq!(pairs(&[], 2), Ok(vec![0, 0, 0]));
        assert_eq!(pairs(&[(9, 2)], 0), Ok(vec![0]));
    }
}
