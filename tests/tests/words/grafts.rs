//! Grafts, sewn as their words have it: a sewing needle goes into the first stitch of the needle that a line names, as if
//! to knit or to purl, and the stitch stays or comes off.
//!
//! What makes a row of knit stitches of it is common practice, and can be tried with a thread on two needles: every
//! stitch is met twice, the one in front as if to purl and then as if to knit, the one behind the other way round, and only
//! then comes off.

use evenloop_engine::text::Line;
use evenloop_tests::model::page::Do;

/// Which way the sewing needle goes in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Knit,
    Purl,
}

/// How the first stitch on the front needle and on the back one was met, where it was met once.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Sewing {
    met: [Option<Way>; 2],
}

/// Whether a move grafts.
pub(crate) fn grafts(ops: &[Do]) -> bool {
    let sews = |op: &Do| matches!(op, Do::GraftStart | Do::Graft(_) | Do::GraftEnd);
    ops.iter().any(sews)
}

impl Sewing {
    /// Works the lines of a move on so many stitches on each needle.
    pub(crate) fn work(&mut self, lines: &[&Line], on_needles: &[u32]) -> Result<(), String> {
        if lines.len() != 2 {
            return Err(format!("{} needles are told of", lines.len()));
        }
        for (nth, line) in lines.iter().enumerate() {
            let text = line.text.to_lowercase();
            let (needle, words) = text
                .split_once(' ')
                .ok_or_else(|| format!("{text:?} names no needle"))?;
            if needle.trim_end_matches(':') != ["front", "back"][nth]
                || line.needle != [Some(1), Some(2)][nth]
            {
                return Err(format!("{text:?} for needle {:?}", line.needle));
            }
            let mut left = on_needles.get(nth).copied().unwrap_or(0);
            for (turn, words) in words.split(", next").enumerate() {
                let is_off = words.ends_with("off");
                if !is_off && !words.ends_with("on") {
                    return Err(format!("{words:?} does not say what becomes of the stitch"));
                }
                if left == 0 {
                    return Err(format!("{text:?}: no stitch is left"));
                }
                let way = way(words)?;
                let due = [[Way::Purl, Way::Knit], [Way::Knit, Way::Purl]][nth];
                self.met[nth] = match (self.met[nth], is_off) {
                    (None, false) if way == due[0] => Some(way),
                    (Some(_), true) if way == due[1] && turn == 0 => {
                        left -= 1;
                        None
                    }
                    (met, _) => return Err(format!("{text:?} where the stitch was met {met:?}")),
                };
            }
            if left != u32::from(line.count_after) {
                return Err(format!("{left} are left, not {}", line.count_after));
            }
        }
        Ok(())
    }

    /// Nothing was left half sewn.
    pub(crate) fn is_whole(self) -> bool {
        self.met == [None; 2]
    }
}

fn way(words: &str) -> Result<Way, String> {
    let knit = words.contains("as if to knit") || words.contains("kwise");
    let purl = words.contains("as if to purl") || words.contains("pwise");
    match (knit, purl) {
        (true, false) => Ok(Way::Knit),
        (false, true) => Ok(Way::Purl),
        _ => Err(format!("{words:?} names no way in")),
    }
}
