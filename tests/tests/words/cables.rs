//! Crosses, worked as they are told: so many stitches wait on a cable needle in front or in back, so many
//! are worked from the left needle, then those that waited. What was held in front passes over.
//!
//! 2/2 LC and its like: common practice, no source.

use evenloop_tests::model::page::Do;

use super::body::{Body, Side};

/// Whether a part of a line is a cross of which the rest is still to come.
pub(crate) fn goes_on(part: &str) -> bool {
    part.matches(" to the cable needle").count() > part.matches(" from the cable needle").count()
}

/// "slip 2 to the cable needle, hold it in front, knit 2, knit 2 from the cable needle".
pub(crate) fn plain(words: &str) -> Result<Do, String> {
    let parts: Vec<&str> = words.split(", ").collect();
    let [wait, hold, first, then] = parts[..] else {
        return Err(format!("{words:?} is not a cross"));
    };
    let waiting = wait
        .strip_prefix("slip ")
        .and_then(|rest| rest.strip_suffix(" to the cable needle"));
    let from = then.strip_suffix(" from the cable needle");
    crossed(waiting, hold.strip_prefix("hold it in "), first, from, " ")
        .ok_or_else(|| format!("{words:?} is not a cross"))
}

/// "2/2 LC: sl2 to cn, hold in front, k2, k2 from cn; ..." at the end of a note.
/// A name that does not say how the cross leans in the fabric of who works it is none.
pub(crate) fn keys(note: &str, body: Body) -> Vec<(String, Do)> {
    let mut keys = Vec::new();
    for key in note.split("; ").flat_map(|s| s.split(". ")) {
        let Some((name, meaning)) = key.trim_end_matches('.').split_once(": ") else {
            continue;
        };
        let parts: Vec<&str> = meaning.split(", ").collect();
        let [wait, hold, first, then] = parts[..] else {
            continue;
        };
        let waiting = wait
            .strip_prefix("sl")
            .and_then(|rest| rest.strip_suffix(" to cn"));
        let from = then.strip_suffix(" from cn");
        if let Some(cross) = crossed(waiting, hold.strip_prefix("hold in "), first, from, "")
            && body.lean(&cross) == leans(name)
        {
            keys.push((name.to_owned(), cross));
        }
    }
    keys
}

/// "2/2 LC", "2/1 RPC".
fn leans(name: &str) -> Option<Side> {
    let (_, letters) = name.rsplit_once(' ')?;
    match letters.strip_suffix('C')?.trim_end_matches('P') {
        "L" => Some(Side::Left),
        "R" => Some(Side::Right),
        _ => None,
    }
}

fn crossed(
    waiting: Option<&str>,
    hold: Option<&str>,
    first: &str,
    from: Option<&str>,
    between: &str,
) -> Option<Do> {
    let waiting: u32 = waiting?.parse().ok()?;
    // Whether it is purled, and how many.
    let run = |words: &str| {
        let (verb, n) = words.split_at(words.find(|c: char| c.is_ascii_digit())?);
        let verb = verb.strip_suffix(between)?;
        let purl = match verb {
            "knit" | "k" => false,
            "purl" | "p" => true,
            _ => return None,
        };
        Some((purl, n.parse::<u32>().ok()?))
    };
    let (first, from) = (run(first)?, run(from?)?);
    if from.1 != waiting {
        return None;
    }
    // What is held in front lies on top, and what lies on top is knitted.
    let (over, under, to_the_right) = match hold? {
        "front" => (from, first, false),
        "back" => (first, from, true),
        _ => return None,
    };
    (!over.0).then_some(Do::Cross {
        over: over.1,
        under: under.1,
        to_the_right,
        purl: under.0,
    })
}
