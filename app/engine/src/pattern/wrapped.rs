//! Lines that were wrapped: which of them go on in the next one.
//!
//! Knows letters only; must not know what a line means. Small, so that a screen that only shows a line need not
//! carry the reader.

/// The line of that number, from 1, with those after it that it goes on in: as it was typed.
pub fn whole_line(text: &str, number: usize) -> Option<&str> {
    let before = number.checked_sub(1)?;
    let begin: usize = text.split_inclusive('\n').take(before).map(str::len).sum();
    let mut lines = text.split_inclusive('\n').skip(before);
    let first = lines.next()?;
    let mut end = begin + first.len();
    let mut read: String = first.chars().map(uniform).collect();
    for line in lines {
        let next: String = line.chars().map(uniform).collect();
        if next.trim().is_empty() || !(goes_on(&read) || continues(&next, line)) {
            break;
        }
        end += line.len();
        read = format!("{} {}", read.trim(), next.trim());
    }
    text.get(begin..end).map(str::trim)
}

/// One character for another: what stands for the same thing is the same, whatever the printer took.
pub(super) fn uniform(c: char) -> char {
    match c {
        'A'..='Z' => c.to_ascii_lowercase(),
        '\u{2010}'..='\u{2015}' | '\u{2212}' => '-',
        '\u{d7}' => 'x',
        '\u{2018}' | '\u{2019}' | '\u{2032}' => '\'',
        '\u{201c}' | '\u{201d}' | '\u{2033}' => '"',
        '\u{2217}' | '\u{2731}' => '*',
        '\u{bd}' => HALF,
        '\u{bc}' => QUARTER,
        '\u{be}' => THREE_QUARTERS,
        // bullets, tabs in a line of words, spaces of all widths
        '\u{2022}' | '\u{b7}' | '\u{25aa}' | '\u{25cf}' | '\u{2192}' => ' ',
        '\t' | ' '..='~' => c,
        c if c.is_whitespace() => ' ',
        _ => '~',
    }
}

/// One half as a single character.
pub(super) const HALF: char = '\u{1}';
/// One quarter as a single character.
pub(super) const QUARTER: char = '\u{2}';
/// Three quarters as a single character.
pub(super) const THREE_QUARTERS: char = '\u{3}';

/// Whether a line cannot end there: something is open, or a word waits for what it belongs to.
pub(super) fn goes_on(text: &str) -> bool {
    let text = text.trim_end();
    let count = |c| text.matches(c).count();
    let open = count('(') > count(')') || count('[') > count(']');
    let mut words = text.rsplit([' ', ',']);
    let last = words.next().unwrap_or_default();
    // "Rnd 2: knit" is whole
    if words.next().is_some_and(|word| word.ends_with([':', '.'])) {
        return open;
    }
    open || text.ends_with([',', ';', '*', '&'])
        || matches!(
            last,
            "k" | "p"
                | "to"
                | "and"
                | "rep"
                | "repeat"
                | "from"
                | "the"
                | "until"
                | "for"
                | "then"
                | "last"
                | "next"
                | "before"
                | "knit"
                | "purl"
                | "slip"
                | "end"
                | "of"
        ) && !text.ends_with("end")
}

/// Whether a line looks like the rest of the one before it.
pub(super) fn continues(uniform: &str, original: &str) -> bool {
    let begins = original.trim_start().chars().next();
    let word: String = uniform
        .trim_start()
        .chars()
        .take_while(char::is_ascii_alphanumeric)
        .collect();
    let label = word.starts_with("rnd") || word.starts_with("round") || word.starts_with("row");
    // "N1: ..." on a line of its own belongs to the round above it
    if needle_label(uniform.trim_start()) {
        return true;
    }
    !label
        && !again(uniform.trim_start())
        && (begins.is_some_and(|c| matches!(c, ')' | ']' | '*' | ',' | ';'))
            || begins.is_some_and(char::is_lowercase) && !uniform.contains(':')
            || matches!(word.as_str(), "rep") && uniform.contains('*'))
}

/// "rep last 2 rnds", "repeat rounds 1 and 2", "work even": a line of its own in whatever letters it begins.
fn again(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().take(3).collect();
    let rounds = |word: &&str| {
        let known = ["last", "rnd", "rnds", "round", "rounds", "row", "rows"];
        known.contains(word)
    };
    match words.as_slice() {
        ["rep" | "repeat", "the" | "these", third] => rounds(third),
        ["rep" | "repeat", second, ..] => rounds(second),
        ["work", "even", ..] => true,
        _ => false,
    }
}

/// "n1:", "needle 2:".
fn needle_label(text: &str) -> bool {
    let rest = ["needle", "ndl", "n"]
        .iter()
        .find_map(|word| text.strip_prefix(word));
    rest.is_some_and(|rest| {
        let rest = rest.trim_start();
        let digits = rest.trim_start_matches(|c: char| c.is_ascii_digit());
        digits.len() < rest.len() && digits.trim_start().starts_with([':', '-'])
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_is_shown_with_what_it_goes_on_in() {
        let text = "CUFF\n  Rnd 1: *K2, p2; rep from\n* to end.\r\nRnd 2: Knit.\n\nRnd 3: [k1,\np1] 4 times\n(8 sts)";
        assert_eq!(whole_line(text, 1), Some("CUFF"));
        assert_eq!(
            whole_line(text, 2),
            Some("Rnd 1: *K2, p2; rep from\n* to end.")
        );
        assert_eq!(whole_line(text, 4), Some("Rnd 2: Knit."));
        assert_eq!(whole_line(text, 6), Some("Rnd 3: [k1,\np1] 4 times"));
        let typed = "Rnd 1: knit\nrep last rnd twice\nwork even for 4 cm";
        assert_eq!(whole_line(typed, 1), Some("Rnd 1: knit"));
        assert_eq!(whole_line(typed, 2), Some("rep last rnd twice"));
        assert_eq!(whole_line(text, 0), None);
        assert_eq!(whole_line(text, 9), None);
    }
}
