//! Shares the length of a needle among the groups on it: in proportion to their stitches, but none
//! so narrow that its count could not be read.

/// What one thing on a needle asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Share {
    /// Its stitches; 0 for what has a fixed width.
    pub stitches: u16,
    /// The least width it can do with.
    pub least: f32,
}

impl Share {
    fn at(self, scale: f32) -> f32 {
        self.least.max(scale * f32::from(self.stitches))
    }
}

/// The greatest width of one stitch with which everything fits into `room`; 0 when even the least
/// widths are too much.
pub(super) fn scale(shares: &[Share], room: f32) -> f32 {
    let mut held = vec![false; shares.len()];
    loop {
        let mut left = room;
        let mut stitches = 0.0;
        for (share, held) in shares.iter().zip(&held) {
            if *held || share.stitches == 0 {
                left -= share.least;
            } else {
                stitches += f32::from(share.stitches);
            }
        }
        if stitches == 0.0 || left <= 0.0 {
            return 0.0;
        }
        let scale = left / stitches;
        let mut settled = true;
        for (share, held) in shares.iter().zip(&mut held) {
            if !*held && share.stitches > 0 && scale * f32::from(share.stitches) < share.least {
                *held = true;
                settled = false;
            }
        }
        if settled {
            return scale;
        }
    }
}

/// The widths, together no wider than `room`.
pub(super) fn widths(shares: &[Share], room: f32, scale: f32) -> Vec<f32> {
    let mut widths: Vec<f32> = shares.iter().map(|s| s.at(scale)).collect();
    let sum: f32 = widths.iter().sum();
    if sum > room && sum > 0.0 {
        for width in &mut widths {
            *width *= room / sum;
        }
    }
    widths
}

/// Moves labels of given widths, each wished at a centre, as little as needed so that they keep
/// `apart` from each other and within `low..high`. `None` when they cannot fit side by side.
/// Centres must ascend.
pub(super) fn settle(wished: &[(f32, f32)], low: f32, high: f32, apart: f32) -> Option<Vec<f32>> {
    let all: f32 = wished.iter().map(|(_, w)| w).sum();
    let gaps = u16::try_from(wished.len().saturating_sub(1)).ok()?;
    if all + apart * f32::from(gaps) > high - low {
        return None;
    }
    let mut centres = Vec::with_capacity(wished.len());
    let mut edge = low;
    for (centre, width) in wished {
        let centre = centre.max(edge + width / 2.0);
        centres.push(centre);
        edge = centre + width / 2.0 + apart;
    }
    let mut edge = high;
    for (centre, (_, width)) in centres.iter_mut().zip(wished).rev() {
        *centre = centre.min(edge - width / 2.0);
        edge = *centre - width / 2.0 - apart;
    }
    Some(centres)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(a: f32, b: f32) -> bool {
        (a - b).abs() < 0.01
    }

    #[test]
    fn shares_are_in_proportion_where_they_can_be() {
        let shares = [
            Share {
                stitches: 10,
                least: 20.0,
            },
            Share {
                stitches: 30,
                least: 20.0,
            },
            Share {
                stitches: 0,
                least: 40.0,
            },
        ];
        let scale = scale(&shares, 240.0);
        assert!(close(scale, 5.0));
        assert!(
            widths(&shares, 240.0, scale)
                .iter()
                .zip([50.0, 150.0, 40.0])
                .all(|(a, b)| close(*a, b))
        );
    }

    #[test]
    fn a_narrow_group_keeps_its_least_width() {
        let shares = [
            Share {
                stitches: 1,
                least: 20.0,
            },
            Share {
                stitches: 99,
                least: 20.0,
            },
        ];
        let got = widths(&shares, 100.0, scale(&shares, 100.0));
        assert!(close(got[0], 20.0) && close(got[1], 80.0), "{got:?}");
    }

    #[test]
    fn too_much_is_squeezed_not_lost() {
        let shares = [Share {
            stitches: 1,
            least: 80.0,
        }; 3];
        let got = widths(&shares, 120.0, scale(&shares, 120.0));
        assert!(close(got.iter().sum(), 120.0));
    }

    #[test]
    fn labels_give_way_to_each_other() {
        let got = settle(&[(10.0, 40.0), (20.0, 40.0), (30.0, 40.0)], 0.0, 140.0, 4.0);
        let got = got.expect("three labels of 40 fit into 140");
        assert!(
            got.windows(2).all(|w| w[1] - w[0] >= 44.0 - 0.01),
            "{got:?}"
        );
        assert!(got[0] >= 20.0 && got[2] <= 120.0, "{got:?}");
        assert_eq!(settle(&[(0.0, 80.0), (9.0, 80.0)], 0.0, 150.0, 4.0), None);
    }
}
