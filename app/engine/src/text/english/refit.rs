//! Whether a pattern fits, in sentences.

use crate::refit::Advice;
use crate::text::wording::Wording;

/// One piece of advice.
pub fn advice(advice: &Advice, wording: Wording) -> String {
    let gauge = wording.english.gauge();
    match advice {
        Advice::Size {
            place,
            chosen,
            stitches,
            round,
            ease_permille,
            fits,
        } => {
            let round = round.show(wording.unit);
            let percent = (ease_permille.unsigned_abs() + 5) / 10;
            let than = match (percent, *ease_permille > 0) {
                (0, _) => "as much as the foot".to_owned(),
                (percent, true) => format!("{percent}% less than the foot"),
                (percent, false) => format!("{percent}% more than the foot"),
            };
            let begin = match (place, chosen, fits) {
                (Some(place), true, true) => format!("Size {place} fits"),
                (Some(place), true, false) => format!("Size {place} does not fit well"),
                (Some(place), false, _) => format!("Size {place} would fit better"),
                (None, _, true) => "It fits".to_owned(),
                (None, _, false) => "It does not fit well".to_owned(),
            };
            format!(
                "{begin}: at your {gauge} its {stitches} stitches measure {round} around, {than}."
            )
        }
        Advice::Count(stitches) => {
            format!(
                "{stitches} stitches would fit, or the nearest number that holds whole repeats of the pattern."
            )
        }
        Advice::Foot {
            comes_to,
            wanted,
            rounds,
        } => {
            let (comes_to, wanted) = (comes_to.show(wording.unit), wanted.show(wording.unit));
            let more = if *rounds > 0 { "more" } else { "fewer" };
            let many = match rounds.unsigned_abs() {
                1 => format!("one round {more}"),
                n => format!("{n} rounds {more}"),
            };
            format!(
                "At your {gauge} the sock’s foot comes to {comes_to}; you need {wanted}: {many}."
            )
        }
        Advice::Leg { was, is } => {
            format!(
                "To make its {was} rounds of leg without the cuff as tall at your {gauge}, knit {is}."
            )
        }
    }
}
