//! Yarn that was weighed, in sentences.

use crate::journal::Decigrams;
use crate::text::messages::{Enough, Weighed};
use crate::text::wording::Wording;
use crate::units::LengthUnit;
use crate::yarn::{GramRange, Verdict};
use crate::yarn_amount::show_decigrams;

/// "41 g", "41.5 g": as the scale shows it.
pub fn grams(tenths: Decigrams) -> String {
    show_decigrams(tenths, LengthUnit::Cm)
}

/// The same, with ounces behind it where lengths are in inches.
fn shown(tenths: Decigrams, unit: LengthUnit) -> String {
    match unit {
        LengthUnit::Cm => grams(tenths),
        LengthUnit::Inch => format!("{} ({})", grams(tenths), show_decigrams(tenths, unit)),
    }
}

/// "12 to 14 g": to the gram, below ten grams to the tenth; never narrower than it is. "Up to 3 g" where it may
/// be nothing.
fn between(range: GramRange, unit: LengthUnit) -> String {
    let GramRange {
        mut least,
        mut most,
    } = range;
    if most >= 100 {
        least = least / 10 * 10;
        most = most.div_ceil(10) * 10;
    }
    let [from, to] = [least, most].map(|tenths| {
        let shown = [LengthUnit::Cm, LengthUnit::Inch].map(|unit| show_decigrams(tenths, unit));
        shown.map(|one| one.split('\u{a0}').next().unwrap_or_default().to_owned())
    });
    if least == most {
        return format!("about {}", shown(least, unit));
    }
    if least == 0 {
        return format!("up to {}", shown(most, unit));
    }
    match unit {
        LengthUnit::Cm => format!("{} to {}\u{a0}g", from[0], to[0]),
        LengthUnit::Inch => format!(
            "{} to {}\u{a0}g ({} to {}\u{a0}oz)",
            from[0], to[0], from[1], to[1]
        ),
    }
}

/// One thing that a weighing says.
pub(crate) fn weighed(one: Weighed, wording: Wording) -> String {
    let Wording { unit, english, .. } = wording;
    match one {
        Weighed::TenRounds { grams, rows, own } => {
            let what = if rows { "rows" } else { "rounds" };
            let whence = if own {
                "by your own weighings".into()
            } else {
                format!("by the {}", english.ball_band())
            };
            format!(
                "Ten {what} like this one take {}, {whence}.",
                between(grams, unit)
            )
        }
        Weighed::Sock(enough) => verdict("The rest of this sock needs", enough, unit),
        Weighed::Pair(enough) => verdict("This sock and the second need", enough, unit),
        Weighed::Leg {
            rounds,
            planned,
            both,
        } => {
            let whose = if both { "Both legs" } else { "This leg" };
            format!(
                "{whose} can safely have {rounds} rounds under the cuff; {planned} are planned."
            )
        }
        Weighed::Halves(enough) => {
            let each = shown(enough.left, unit);
            verdict(
                &format!("To knit two at a time, wind off {each} for each; each needs"),
                enough,
                unit,
            )
        }
    }
}

fn verdict(what: &str, enough: Enough, unit: LengthUnit) -> String {
    let needed = between(enough.need.needed, unit);
    let left = shown(enough.left, unit);
    let answer = match enough.need.verdict {
        Verdict::Enough => format!("{left} is enough."),
        Verdict::NotEnough(missing) => {
            format!("{left} is not enough, {} short.", between(missing, unit))
        }
        Verdict::TooClose {
            again: Some(rounds),
        } => format!("with {left} that is too close to tell. Weigh again after {rounds} rounds."),
        Verdict::TooClose { again: None } => {
            format!("with {left} that is too close to tell, and may stay so to the end.")
        }
    };
    format!("{what} {needed}: {answer}")
}
