//! Whether a pattern fits, in sentences.

use crate::refit::Advice;
use crate::text::wording::Wording;

/// One piece of advice.
pub fn advice(advice: &Advice, wording: Wording) -> String {
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
                (percent, true) => format!("{percent}\u{a0}% less than the foot"),
                (percent, false) => format!("{percent}\u{a0}% more than the foot"),
            };
            let begin = match (place, chosen, fits) {
                (Some(place), true, true) => format!("Size {place} fits"),
                (Some(place), true, false) => format!("Size {place} does not fit well"),
                (Some(place), false, _) => format!("Size {place} would fit better"),
                (None, _, true) => "It fits".to_owned(),
                (None, _, false) => "It does not fit well".to_owned(),
            };
            format!("{begin}: in your gauge its {stitches} stitches measure {round} round, {than}.")
        }
        Advice::Count(stitches) => {
            format!(
                "{stitches} stitches would fit, or the number near it that the pattern’s repeat divides."
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
            format!("In your gauge its foot comes to {comes_to}; yours wants {wanted}: {many}.")
        }
        Advice::Leg { was, is } => {
            format!("For the height that its leg has in {was} rounds, your gauge takes {is}.")
        }
    }
}
