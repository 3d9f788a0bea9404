//! Yarn that was weighed, in sentences.

use crate::journal::Decigrams;
use crate::text::messages::{Enough, Weighed};
use crate::text::variety::English;
use crate::yarn::Will;

/// "41 g", "41.5 g": as the scale shows it.
pub fn grams(tenths: Decigrams) -> String {
    match tenths % 10 {
        0 => format!("{}\u{a0}g", tenths / 10),
        part => format!("{}.{part}\u{a0}g", tenths / 10),
    }
}

/// An estimate: no finer than it is sure.
fn about_grams(tenths: Decigrams) -> String {
    if tenths >= 100 {
        grams((tenths + 5) / 10 * 10)
    } else {
        grams(tenths)
    }
}

/// One thing that a weighing says.
pub(crate) fn weighed(one: Weighed, english: English) -> String {
    match one {
        Weighed::TenRounds { grams, rows, own } => {
            let what = if rows { "rows" } else { "rounds" };
            let whence = if own {
                "by your own weighings".into()
            } else {
                format!("by the {}", english.ball_band())
            };
            format!(
                "Ten {what} like the one at hand take about {}, {whence}.",
                about_grams(grams)
            )
        }
        Weighed::Sock(enough) => will("The rest of this sock needs".into(), enough),
        Weighed::Pair(enough) => will("This sock and the second need".into(), enough),
        Weighed::Leg {
            rounds,
            planned,
            both,
        } => {
            let whose = if both { "both legs" } else { "this leg" };
            format!(
                "With a tenth to spare, {whose} can have {rounds} rounds under the cuff; {planned} are planned."
            )
        }
        Weighed::Halves(enough) => will(
            format!(
                "To knit both socks at a time, wind off {} for each; each needs",
                grams(enough.left)
            ),
            enough,
        ),
    }
}

fn will(what: String, enough: Enough) -> String {
    let answer = match enough.will {
        Will::Do => "will do".into(),
        Will::Perhaps => "may just do; nobody can tell to within a tenth".into(),
        Will::Lack(missing) => format!("will not do, about {} are missing", about_grams(missing)),
    };
    format!(
        "{what} about {}: {} {answer}.",
        about_grams(enough.needed),
        grams(enough.left)
    )
}
