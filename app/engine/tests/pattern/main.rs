//! Patterns as printed ones write them, all made up: what was misprinted on purpose is found at its
//! line, and no other line is called wrong.
#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

mod followed;
mod knitters;
mod notation;
mod pair;
mod socks;
mod written_down;

use std::collections::BTreeSet;

use evenloop_engine::needles::Needles;
use evenloop_engine::pattern::{Finding, check, completions, read_line};
use evenloop_engine::recipe::{Method, Recipe};
use evenloop_engine::sock::by_pattern;
use evenloop_engine::written_ops::{read_ops, write_ops};

/// Marks a line with a misprint; not part of the pattern.
const MISPRINT: &str = "!!";

/// A pattern of the corpus.
struct Printed {
    name: &'static str,
    /// Which of its sizes is knitted, from 0.
    size: Option<u8>,
    lines: Vec<&'static str>,
}

impl Printed {
    /// The text as it is printed.
    fn text(&self) -> String {
        let lines = self.lines.iter();
        let printed = lines.map(|line| line.trim_end_matches(MISPRINT).trim_end());
        printed.collect::<Vec<_>>().join("\n")
    }

    /// The lines with a misprint, from 1.
    fn planted(&self) -> BTreeSet<usize> {
        let planted = |(n, line): (usize, &&str)| line.ends_with(MISPRINT).then_some(n);
        (1..).zip(&self.lines).filter_map(planted).collect()
    }

    /// What is found in it.
    fn findings(&self) -> Vec<Finding> {
        check(&self.text(), self.size.map(usize::from))
    }

    /// A sock by it.
    fn recipe(&self, needles: Method) -> Recipe {
        let mut recipe = by_pattern(&self.text(), needles);
        if let Some(written) = &mut recipe.written {
            written.size = self.size;
        }
        recipe
    }
}

/// The patterns of the corpus.
fn corpus() -> Vec<Printed> {
    let mut patterns: Vec<Printed> = Vec::new();
    for line in include_str!("corpus.txt").lines() {
        match (line.strip_prefix("# "), patterns.last_mut()) {
            (Some(name), _) => {
                let size = name.strip_suffix(']');
                let size = size.and_then(|name| name.rsplit_once("[size ")?.1.parse::<u8>().ok());
                patterns.push(Printed {
                    name,
                    size: size.map(|size| size - 1),
                    lines: Vec::new(),
                });
            }
            (None, Some(pattern)) => pattern.lines.push(line),
            (None, None) => {}
        }
    }
    patterns
}

/// In which manners the corpus is printed, how many patterns each, and how many misprints were put in.
#[test]
fn the_corpus_holds_patterns_of_every_manner() {
    let patterns = corpus();
    let texts: Vec<String> = patterns.iter().map(Printed::text).collect();
    let with = |any: &[&str]| {
        let has = |text: &&String| any.iter().any(|some| text.contains(some));
        texts.iter().filter(has).count()
    };
    let manners = [
        ("abbreviated", with(&["CO ", "Rnd 1: K", "Rnd 1: *K"])),
        ("plain words", with(&["Cast on "])),
        ("British words", with(&["into a round", "yfwd"])),
        (
            "sizes in brackets",
            patterns.iter().filter(|one| one.size.is_some()).count(),
        ),
        ("tables", with(&["\t", " | "])),
        ("rows there and back", with(&["Row 1", "(WS)"])),
        ("from the toe up", with(&["m1", "CO 8 + 8", "Bind off"])),
    ];
    let planted: usize = patterns.iter().map(|one| one.planted().len()).sum();
    let lines: usize = patterns.iter().map(|one| one.lines.len()).sum();
    println!(
        "{} patterns, {lines} lines, {planted} misprints; {manners:?}",
        patterns.len()
    );
    let names: BTreeSet<&str> = patterns.iter().map(|one| one.name).collect();
    let different: BTreeSet<&String> = texts.iter().collect();
    assert_eq!(names.len(), patterns.len());
    assert_eq!(different.len(), patterns.len());
    assert!(
        patterns.len() >= 60 && planted >= 60,
        "{} {planted}",
        patterns.len()
    );
    assert!(manners.iter().all(|(_, many)| *many >= 2), "{manners:?}");
}

#[test]
fn every_misprint_is_found_at_its_line_and_nothing_else() {
    let mut wrong = Vec::new();
    for pattern in corpus() {
        let name = pattern.name;
        let planted = pattern.planted();
        let findings = pattern.findings();
        let found: BTreeSet<usize> = findings.iter().map(|f| f.spot.line as usize).collect();
        if found != planted {
            wrong.push(format!("{name}: planted {planted:?}, found {findings:#?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

fn on_needles(before: &str) -> Needles {
    let mut needles = Needles::new();
    for round in before.split('|') {
        let ops = read_ops(round).expect("operations");
        needles.apply_all(&ops).expect("they can be worked");
        if needles.joined() && needles.tip() > 0 {
            needles.end_round().expect("whole rounds");
        }
    }
    needles
}

fn read(text: &str, needles: &Needles) -> String {
    write_ops(&read_line(text, needles).expect(text))
}

/// "Knit" names no leg: a stitch that was turned on the needle is worked so that it comes out open.
#[test]
fn a_stitch_that_lies_the_other_way_is_worked_through_its_leading_leg() {
    let usual = on_needles("co8 join");
    assert_eq!(read("sl3 kwise, k5", &usual), "sk3 k5");
    assert_eq!(read("slip 1 wyib kwise, k7", &usual), "sk1 k7");
    assert_eq!(read("sl1 wyif, sl1 wyib, sl1, k5", &usual), "sf1 sb1 s1 k5");
    let turned = on_needles("co8 join | k2 sk3 k3");
    assert_eq!(read("k8", &turned), "k2 kt3 k3");
    assert_eq!(read("p to end", &turned), "p2 pt3 p3");
    assert_eq!(read("k2, k3 tbl, k3", &turned), "k2 kt3 k3");
    assert_eq!(read("k1 tbl, k1, sl3 kwise, k3", &turned), "kt1 k1 sk3 k3");
    let magic = on_needles("cm4");
    assert_eq!(read("k8", &magic), "k4 / kt4");
}

#[test]
fn cast_ons_and_corners_are_read() {
    let none = Needles::new();
    assert_eq!(
        read("Wind the yarn 8 times round both needles", &none),
        "cc8"
    );
    assert_eq!(read("wrap 8 + 8", &none), "cc8");
    assert_eq!(read("CO 8 + 8", &none), "cm8");
    assert_eq!(read("lay 8 loops on each of the two needles", &none), "cm8");
    let corner = on_needles("co8 join");
    assert_eq!(read("k1 + corner, k7", &corner), "kc k7");
    let said = "Knit 1 together with a loop lifted from the corner, knit 7";
    assert_eq!(read(said, &corner), "kc k7");
    assert!(read_line("k2, k1 + corner", &corner).is_err());
}

/// Letters taken out, exchanged, doubled and put in at random: nothing panics, nothing hangs.
#[test]
fn ten_thousand_mutations_are_read_without_harm() {
    let alphabet: Vec<char> = "kp0123456789*[](){},;:. stogmurndw&\u{bd}\u{d7}\n~x-/"
        .chars()
        .collect();
    let texts: Vec<Vec<char>> = corpus()
        .iter()
        .map(|pattern| pattern.lines.join("\n").chars().collect())
        .collect();
    let seed = std::env::var("EVENLOOP_SEED").ok();
    let mut seed: u64 = seed.and_then(|n| n.parse().ok()).unwrap_or(1);
    let mut dice = |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        (seed >> 33) as usize % below.max(1)
    };
    for nth in 0..10_000 {
        let mut text = texts[nth % texts.len()].clone();
        for _ in 0..=dice(4) {
            let at = dice(text.len());
            match dice(4) {
                0 => {
                    text.remove(at);
                }
                1 => text.insert(at, alphabet[dice(alphabet.len())]),
                2 => text[at] = alphabet[dice(alphabet.len())],
                _ => {
                    let end = (at + dice(30)).min(text.len());
                    let part = text[at..end].to_vec();
                    text.splice(at..at, part);
                }
            }
        }
        let text: String = text.into_iter().collect();
        let lines = text.lines().count().max(1);
        for finding in check(&text, Some(dice(3))) {
            assert!((finding.spot.line as usize) <= lines, "{finding:?}");
        }
        let cursor = dice(text.len() + 1);
        for one in completions(&text, cursor) {
            assert!(
                one.begun <= cursor && text.is_char_boundary(cursor - one.begun),
                "{one:?}"
            );
        }
    }
}

/// Brackets in brackets, stars without an end, numbers beyond all measure.
#[test]
fn hostile_texts_end_soon() {
    for text in [
        "[".repeat(50_000),
        "*".repeat(50_000),
        "Rnd 1: ".to_owned() + &"k1, ".repeat(50_000),
        "CO 1000 sts. Join.\nRnd 1: [[[[[k1] 1000 times] 1000 times] 1000 times] 1000 times] 1000 times".to_owned(),
        "CO 10 sts. Join.\nRnds 1-60000: Knit.\nRep last 60000 rnds 60000 times.".to_owned(),
        "CO 10 sts. Join.\nRnd 1: [[] 9 times, (k0) 65000 times] 65000 times".to_owned(),
    ] {
        let begun = std::time::Instant::now();
        assert!(!check(&text, None).is_empty() , "{}", &text[..20]);
        assert!(begun.elapsed().as_secs() < 20, "{}", &text[..20]);
    }
}

/// Three hundred rounds are read and knitted at once; only told, since a busy machine is slower.
#[test]
fn three_hundred_rounds_are_quick() {
    let mut text = "CO 64 sts. Join.\n".to_owned();
    for n in 1..=300 {
        let line = format!("Rnd {n}: *K2, p2; rep from * to end. (64 sts)\n");
        text.push_str(&line);
    }
    let mut best = std::time::Duration::MAX;
    for _ in 0..20 {
        let begun = std::time::Instant::now();
        assert_eq!(check(&text, None), []);
        best = best.min(begun.elapsed());
    }
    println!("300 rounds: {best:?}");
    assert!(best.as_millis() < 500, "{best:?}");
}
