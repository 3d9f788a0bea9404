//! Lengths inside sentences. Whoever writes a sentence does not know in which unit it will be read,
//! so a length is written into it as `‹2450›` (tenths of a millimetre) and turned into words by
//! [`shown`] when the unit is known. The end of a range is written `‹900+›` or `‹3400-›`, so that
//! its rounding never leads outside the range, and what is only about so long `‹2000~›`. A gauge is
//! written in the same way, `‹315#›` (tenths of a stitch to 10 cm), and `‹#›` is what it is counted over:
//! 10 cm or 4 in.

use std::borrow::Cow;

use crate::swatch::Gauge;
use crate::units::{Length, LengthUnit};

const OPEN: char = '‹';
const CLOSE: char = '›';

impl Length {
    /// As what is only "about" so long.
    pub(crate) fn told_about(self) -> String {
        format!("{OPEN}{}~{CLOSE}", self.tenths())
    }
}

/// A sentence with its lengths in a unit; what only looks like a length stays as it stands.
pub fn shown(sentence: &str, unit: LengthUnit) -> Cow<'_, str> {
    if !sentence.contains(OPEN) {
        return sentence.into();
    }
    let mut out = String::with_capacity(sentence.len());
    let mut rest = sentence;
    while let Some((before, after)) = rest.split_once(OPEN) {
        out.push_str(before);
        let told = after
            .split_once(CLOSE)
            .and_then(|(told, tail)| Some((length(told, unit)?, tail)));
        if let Some((length, tail)) = told {
            out.push_str(&length);
            rest = tail;
        } else {
            out.push(OPEN);
            rest = after;
        }
    }
    out.push_str(rest);
    out.into()
}

fn length(told: &str, unit: LengthUnit) -> Option<String> {
    if told == "#" {
        return Some(Gauge::over(unit).show(unit));
    }
    let gauge = |digits: &str| digits.parse().ok().map(Gauge);
    if let Some(least) = told.strip_suffix("#+") {
        return Some(gauge(least)?.show_least(unit));
    }
    if let Some(most) = told.strip_suffix("#-") {
        return Some(gauge(most)?.show_most(unit));
    }
    if let Some(it) = told.strip_suffix('#') {
        return Some(gauge(it)?.show(unit));
    }
    let read = |digits: &str| digits.parse().ok().map(Length);
    Some(if let Some(least) = told.strip_suffix('+') {
        read(least)?.show_least(unit)
    } else if let Some(most) = told.strip_suffix('-') {
        read(most)?.show_most(unit)
    } else if let Some(about) = told.strip_suffix('~') {
        read(about)?.show_about(unit)
    } else {
        read(told)?.show(unit)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_is_shown_in_either_unit() {
        let sentence = "It is ‹800›; it can be ‹900+› to ‹3400-›.";
        assert_eq!(
            shown(sentence, LengthUnit::Cm),
            "It is 8\u{a0}cm; it can be 9\u{a0}cm to 34\u{a0}cm."
        );
        assert_eq!(
            shown(sentence, LengthUnit::Inch),
            "It is 3¼\u{a0}in; it can be 3¾\u{a0}in to 13¼\u{a0}in."
        );
    }

    #[test]
    fn about_so_long_is_whole() {
        let sentence = format!("about {}", Length::mm(204).told_about());
        assert_eq!(shown(&sentence, LengthUnit::Cm), "about 20\u{a0}cm");
        assert_eq!(shown(&sentence, LengthUnit::Inch), "about 8\u{a0}in");
    }

    #[test]
    fn a_gauge_is_told_as_it_is_counted() {
        let sentence = "It is ‹315#› in ‹#›; it can be ‹150#+› to ‹480#-›.";
        assert_eq!(
            shown(sentence, LengthUnit::Cm),
            "It is 31.5 in 10\u{a0}cm; it can be 15 to 48."
        );
        // 4 in are 10.16 cm
        assert_eq!(
            shown(sentence, LengthUnit::Inch),
            "It is 32 in 4\u{a0}in; it can be 15.3 to 48.7."
        );
    }

    #[test]
    fn what_is_no_length_stays() {
        for text in [
            "plain",
            "‹",
            "‹x›",
            "‹12",
            "a ‹ b › c",
            "›‹",
            "‹99999999999›",
            "‹x#›",
            "‹#+›",
            "‹99999999999#›",
        ] {
            assert_eq!(shown(text, LengthUnit::Inch), text);
        }
        assert_eq!(shown("‹‹100›", LengthUnit::Cm), "‹1\u{a0}cm");
    }
}
