//! Several things in one sentence.

/// "32 and 32", "24, 20 and 20".
pub(crate) fn listed(counts: &[u16]) -> String {
    let counts: Vec<String> = counts.iter().map(u16::to_string).collect();
    joined(&counts)
}

/// "a", "a and b", "a, b and c".
pub(crate) fn joined(parts: &[String]) -> String {
    match parts {
        [] => String::new(),
        [one] => one.clone(),
        [start @ .., last] => format!("{} and {last}", start.join(", ")),
    }
}

/// "a", "a or b", "a, b or c".
pub(crate) fn alternatives(parts: &[&str]) -> String {
    match parts {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [start @ .., last] => format!("{} or {last}", start.join(", ")),
    }
}

/// "64 stitches, 32 and 32"; one needle's stitches are not told twice.
pub fn counts(per_needle: &[u16]) -> String {
    let all: u32 = per_needle.iter().map(|n| u32::from(*n)).sum();
    let all = match all {
        1 => "1 stitch".to_owned(),
        _ => format!("{all} stitches"),
    };
    match per_needle {
        [] | [_] => all,
        _ => format!("{all}, {}", listed(per_needle)),
    }
}
