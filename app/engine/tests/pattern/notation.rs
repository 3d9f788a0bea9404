//! The trade's notation, phrase by phrase: what is read of each, and what is told of what cannot be.

use evenloop_engine::pattern::{
    Expected, Finding, FindingKind, KnittersOwn, LineError, Stop, Trouble, check, follow,
    read_line, size_names,
};
use evenloop_engine::recipe::{Method, Recipe};
use evenloop_engine::sock::{by_pattern, look};
use evenloop_engine::text::pattern_finding;
use evenloop_engine::trace::Trace;
use evenloop_engine::written_ops::write_ops;

use crate::on_needles;
use crate::socks::all_socks;

/// A line or block as it is printed, the needles it is worked on, and the operations it comes to.
const LINES: [(&str, &str, &str); 21] = [
    (
        "*k2, p2; rep from * to end (64 sts)",
        "co64 join",
        "[k2 p2]16",
    ),
    (
        "k to 3 sts before marker, k2tog, k1, sm",
        "co20 join k10 m+L k10",
        "k7 k2tog k1 m>L",
    ),
    ("k2, [k1, p1] 4 times", "co10 join", "k2 [k1 p1]4"),
    ("skp, k8", "co10 join", "skp k8"),
    ("sl1-k2tog-psso, k7", "co10 join", "sk2p k7"),
    ("sl1, k2tog, psso, k7", "co10 join", "sk2p k7"),
    ("C4F, k6", "co10 join", "cl2/2 k6"),
    ("2/2 LC, k6", "co10 join", "cl2/2 k6"),
    ("2/2 RC, k6", "co10 join", "cr2/2 k6"),
    ("(k2tog, yo) x 3, k4", "co10 join", "[k2tog yo]3 k4"),
    (
        "[[k1, p1] twice, k1] 2 times",
        "co10 join",
        "[k1 p1]2 k1 [k1 p1]2 k1",
    ),
    ("ssk, k6, k2tog", "co10 join", "ssk k6 k2tog"),
    ("cdd, k7", "co10 join", "s2kp k7"),
    ("k3tog, k7", "co10 join", "k3tog k7"),
    ("k1 tbl, k9", "co10 join", "kt1 k9"),
    ("m1l, k10, m1r", "co10 join", "m1l k10 m1r"),
    ("kfb, k9", "co10 join", "kfb k9"),
    ("knit 2 together, purl to the end", "co10 join", "k2tog p8"),
    (
        "K10, work row 3 of Chart A over next 10 sts",
        "co20 join",
        "k10 as10-10",
    ),
    ("sl1 wyib, k9", "co10 join", "sb1 k9"),
    ("k to last 2 sts, k2tog", "co10 join", "k8 k2tog"),
];

#[test]
fn phrases_are_read_into_operations() {
    let mut wrong = Vec::new();
    for (said, before, ops) in LINES {
        let came = match read_line(said, &on_needles(before)) {
            Ok(came) => evenloop_engine::written_ops::write_ops(&came),
            Err(why) => format!("{why:?}"),
        };
        if came != ops {
            wrong.push(format!("{said}: {came}, not {ops}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The stitches after each round and row that a pattern comes to; nothing may be found in it.
fn counts(text: &str) -> Vec<u16> {
    let (parts, findings) = follow(text, None, None, &KnittersOwn::default());
    assert_eq!(findings, [], "{text}");
    let lines = parts.iter().flat_map(|part| &part.lines);
    assert!(lines.clone().all(|line| !line.unread), "{text}");
    lines.map(|line| line.after).collect()
}

#[test]
fn rounds_are_repeated_numbered_and_measured() {
    let after_cast_on = |text: &str| counts(&format!("CO 64 sts. Join.\n{text}"))[1..].to_vec();
    let rib = "Rnd 1: *k2, p2; rep from * to end (64 sts)\n";
    assert_eq!(
        after_cast_on(&format!("{rib}Rnds 2-16: rep Rnd 1.")),
        [64; 16]
    );
    assert_eq!(after_cast_on(&format!("{rib}Rnd 2: as round 1")), [64; 2]);
    assert_eq!(after_cast_on(&format!("{rib}next rnd: knit")), [64; 2]);
    assert_eq!(after_cast_on(&format!("{rib}[k2, p2] 16 times")), [64; 2]);
    let shaped = "Rnd 1: k1, ssk, k to last 3 sts, k2tog, k1\nRnd 2: knit\n";
    let down = after_cast_on(&format!("{shaped}rep rnds 1 and 2 once"));
    assert_eq!((down.len(), down.last()), (4, Some(&60)));
    let down = after_cast_on(&format!("{shaped}rep last 2 rnds until 52 sts rem"));
    assert_eq!((down.len(), down.last()), (12, Some(&52)));
    // as many rounds as the usual gauge takes
    let swatch = Recipe::default().swatch;
    let rounds = |tenths: u32| u32::from(swatch.rounds) * tenths / swatch.height.0;
    let many = |text: &str| u32::try_from(after_cast_on(text).len()).expect("few rounds");
    let tall = many(&format!("{rib}work even for 15 cm"));
    assert!(tall.abs_diff(rounds(1_500) + 1) <= 1, "{tall}");
    let leg = many(&format!("LEG\n{rib}work even until leg measures 6 in"));
    assert!(leg.abs_diff(rounds(1_524)) <= 1, "{leg}");
    // a line that is wrapped, and what stands around it on the page
    let wrapped = "~~ 4 ~~\nRnd 1: *k2, p2; rep\nfrom * to end (64\nsts)";
    assert_eq!(after_cast_on(wrapped), [64]);
    let needles = "Rnd 1:\nN1: k16.\nN2: p32.\nN3: k16.";
    assert_eq!(after_cast_on(needles), [64]);
}

/// A pattern that names needles need not say how the stitches are divided over them: as many needles as it names, else
/// as the knitter's own method has it.
#[test]
fn needles_are_named_where_nothing_divides_the_stitches() {
    let after =
        |text: &str| counts(&format!("CO 64 sts. Join.\nKnit 2 rnds.\n{text}"))[3..].to_vec();
    let three = "Rnd 1:\nN1: K to last 3 sts, k2tog, k1.\nN2: K1, ssk, k to last 3 sts, k2tog, k1.\n\
        N3: K1, ssk, k to end. (60 sts)\nRnd 2: Knit.\nRep last 2 rnds until 32 sts rem.";
    assert_eq!(after(three).last(), Some(&32));
    let four = "Rnd 1: N1: K to last 3 sts, k2tog, k1. N2: K1, ssk, k to end. N3: K to last 3 sts, k2tog, k1. \
        N4: K1, ssk, k to end. (60 sts)";
    assert_eq!(after(four), [60]);
    let sole_first = "Rnd 1: N1: K1, ssk, k26, k2tog, k1. N2: K1, ssk, k13. N3: K to last 3 sts of needle, k2tog, k1.";
    assert_eq!(after(sole_first), [60]);
    let two =
        "Rnd 1: N1: K1, ssk, k to last 3 sts, k2tog, k1. N2: K1, ssk, k to last 3 sts, k2tog, k1.";
    assert_eq!(after(two), [60]);
    // what speaks of no needle goes on over their ends
    let on = "Rnd 1: N1: Knit. N2: Knit. N3: Knit. N4: Knit.\nRnd 2: K15, k2tog, k to end.";
    assert_eq!(after(on), [64, 63]);
    let each = "Rnd 1: *K1, ssk, k to last 3 sts of needle, k2tog, k1; rep from * to end.";
    let on_needles = |needles: Method| {
        let recipe = by_pattern(
            &format!("CO 64 sts. Join.\n{each}\nRnd 2: Knit.\nBind off all sts."),
            needles,
        );
        let looked = look(&recipe);
        assert_eq!(looked.findings, [], "{needles:?}");
        let trace = Trace::of(&looked.plan.expect("a sock")).expect("a sock");
        let fewest = trace
            .steps
            .iter()
            .map(|step| step.after().stitches())
            .filter(|n| *n > 0);
        fewest.min()
    };
    for (needles, left) in [
        (Method::default(), 60),
        (Method::FourDpns, 58),
        (Method::FiveDpns, 56),
        (Method::ShortCircular { length: None }, 62),
    ] {
        assert_eq!(on_needles(needles), Some(left), "{needles:?}");
    }
    // one stitch too many on the second needle is told there
    let wrong = "CO 64 sts. Join.\nRnd 1: N1: K13, k2tog, k1. N2: K1, ssk, k26, k2tog, k1. N3: K1, ssk, k12.";
    let findings = check(wrong, None);
    assert_eq!(findings.len(), 1, "{findings:?}");
}

/// A repeat that asks for a round too many is told once, at its own line.
#[test]
fn a_repeat_of_the_wrong_rounds_is_told_once() {
    let mut told = 0;
    for (name, text) in all_socks() {
        for (nth, line) in text.lines().enumerate() {
            for (two, three) in [
                ("last 2 rows", "last 3 rows"),
                ("last 2 rnds", "last 3 rnds"),
            ] {
                if !line.contains(two) {
                    continue;
                }
                let lines = text.lines().enumerate();
                let lines = lines.map(|(n, line)| {
                    if n == nth {
                        line.replace(two, three)
                    } else {
                        line.to_owned()
                    }
                });
                let text = lines.collect::<Vec<_>>().join("\n");
                let findings = check(&text, None);
                let at: Vec<usize> = findings.iter().map(|f| f.spot.line as usize).collect();
                told += at.len();
                assert!(
                    at.is_empty() || at == [nth + 1],
                    "{name}, line {}: {findings:?}",
                    nth + 1
                );
            }
        }
    }
    assert!(told >= 8, "{told}");
}

#[test]
fn wraps_are_picked_up_on_the_way() {
    let heel =
        "CO 40 sts. Join.\nRow 1: k18, w&t\nRow 2: p16, w&t\nRow 3: k14, w&t\nRow 4: p12, w&t\n";
    for said in [
        "picking up the wraps as you come to them",
        "working the wraps together with their stitches",
        "knitting the remaining wraps with their sts",
        "lifting wraps on the way",
    ] {
        let ops = worked(&format!("{heel}Next rnd: k to end, {said}."));
        assert_eq!(
            ops.last().map(String::as_str),
            Some("k12 kw1 k1 kw1 k21"),
            "{said}"
        );
    }
}

#[test]
fn edges_are_picked_up_and_rows_turned() {
    let heel = "CO 64 sts. Join.\nWork back and forth on the next 32 sts.\n\
        Row 1 (RS): *sl1, k1; rep from * to end, turn\nRow 2 (WS): sl1, p31, turn\n\
        Rep last 2 rows 15 more times.\n\
        K32, pick up and knit 16, pm, k32, pm, pick up and knit 16, k16";
    assert_eq!(counts(heel).last(), Some(&96));
    let turn = "CO 24 sts. Join.\nWork back and forth on the next 12 sts.\n\
        Row 1: k7, ssk, k1, turn\nRow 2: Sl1, p3, p2tog, p1, turn\nRow 3: sl1, k to 1 st before gap, ssk, k1, turn";
    assert_eq!(counts(turn)[1..], [23, 22, 21]);
    let turned = "CO 40 sts. Join.\nRow 1: k20, w&t\nRow 2: p18, wrap and turn\nNext rnd: k to end";
    assert_eq!(counts(turned).last(), Some(&40));
    let double = "CO 40 sts. Join.\nRow 1: k20, turn and make a double stitch\n\
        Row 2: p18, turn, DS\nNext rnd: k to end";
    assert_eq!(counts(double).last(), Some(&40));
}

/// The operations of each line that a pattern comes to; nothing may be found in it.
fn worked(text: &str) -> Vec<String> {
    let (parts, findings) = follow(text, None, None, &KnittersOwn::default());
    assert_eq!(findings, [], "{text}");
    let lines = parts.iter().flat_map(|part| &part.lines);
    lines.map(|line| write_ops(&line.ops)).collect()
}

/// Every manner of notation that printed patterns have, one a line: what stands before it, the line, how many rounds,
/// rows and walks the lines come to, and what the last of them works.
const MANNERS: [(&str, &str, usize, &str); 24] = [
    (
        ROUND,
        "Rnd 1: *k2, p2; rep from * to end (64 sts)",
        2,
        "[k2 p2]16",
    ),
    (RIB, "Rnds 2-16: rep Rnd 1", 16, "[k2 p2]16"),
    (
        TURN,
        "Row 3 (WS): sl1, p5, p2tog, p1, turn",
        4,
        "s1 p5 p2tog p1 t",
    ),
    (
        "CO 64 sts. Join.\nRnd 1: k32, pm, k32",
        "Rnd 2: k to 3 sts before marker, k2tog, k1, sm, k to end",
        2,
        "k29 k2tog k1 m>1 k32",
    ),
    (RIB, "work even for 15 cm", 64, "[k2 p2]16"),
    (
        "CO 64 sts. Join.\nLEG\nRnd 1: knit",
        "work even until leg measures 6 in",
        64,
        "k64",
    ),
    (
        ROUND,
        "Rnd 1: [k3, yo, k2tog, k11] 4 times",
        2,
        "[k3 yo k2tog k11]4",
    ),
    (RIB, "next rnd: knit", 2, "k64"),
    (
        "CO 72 sts. Join.\nRnd 1: *k7, k2tog; rep from * to end\nRnd 2: *k8; rep from * to end",
        "Dec rnd: *k30, k2tog; rep from * to end",
        3,
        "[k30 k2tog]2",
    ),
    (
        "CO 72 sts. Join.\nRnd 1: k1, ssk, k to last 3 sts, k2tog, k1\nRnd 2: knit",
        "rep last 2 rnds until 64 sts rem",
        8,
        "k64",
    ),
    (
        FLAP,
        "K32, pick up and knit 16, pm, k32, pm, pick up and knit 16, k16",
        33,
        "",
    ),
    (ROUND, "Row 1: k30, turn, DS", 2, "k30 td"),
    (ROUND, "Row 1: k30, wrap and turn", 2, "k30 tw"),
    (ROUND, "Rnd 1: skp, k62", 2, "skp k62"),
    (ROUND, "Rnd 1: sl1-k2tog-psso, k61", 2, "sk2p k61"),
    (ROUND, "Rnd 1: C4F, k60", 2, "cl2/2 k60"),
    (ROUND, "Rnd 1: 2/2 LC, k60", 2, "cl2/2 k60"),
    (ROUND, "Rnd 1: (k2tog, yo) x 3, k58", 2, "[k2tog yo]3 k58"),
    (
        ROUND,
        "Rnd 1: *[k1, p1] twice, [p1, [k1] 3 times] twice; rep from * to last 4 sts, k4",
        2,
        "",
    ),
    (ROUND, "Rnd 1: N1: k16. N2: p32. N3: k16.", 2, ""),
    (RIB, "Rnd 2: as round 1", 2, "[k2 p2]16"),
    (
        ROUND,
        "Rnd 1: work row 3 of Chart A over next 24 sts, k40",
        2,
        "as24-24 k40",
    ),
    (
        ROUND,
        "~~ 4 ~~\nRnd 1: *k2, p2; rep\nfrom * to end (64\nsts)",
        2,
        "[k2 p2]16",
    ),
    (ROUND, "Work rnds 1-8 of Chart B.", 9, "as64-64"),
];
const ROUND: &str = "CO 64 sts. Join.\nKnit 1 rnd.";
const RIB: &str = "CO 64 sts. Join.\nRnd 1: *k2, p2; rep from * to end";
const TURN: &str = "CO 40 sts. Join.\nTurn work. Work back and forth on the next 20 sts.\n\
    Row 1 (WS): sl1, p19, turn\nRow 2 (RS): sl1, k11, ssk, k1, turn";
const FLAP: &str = "CO 64 sts. Join.\nWork back and forth on the next 32 sts.\n\
    Row 1 (RS): *sl1, k1; rep from * to end, turn\nRow 2 (WS): sl1, p31, turn\n\
    Rep last 2 rows 15 more times.";

#[test]
fn each_manner_of_writing_is_read() {
    let mut wrong = Vec::new();
    for (before, line, many, last) in MANNERS {
        let text = format!("{before}\n{line}");
        let (parts, findings) = follow(&text, None, None, &KnittersOwn::default());
        let lines = parts.iter().flat_map(|part| &part.lines);
        let came: Vec<String> = lines.map(|line| write_ops(&line.ops)).collect();
        let (rounds, ops) = (came.len() - 1, came.last().map_or("", String::as_str));
        if !findings.is_empty() {
            wrong.push(format!("{line}: {findings:?}"));
        }
        if rounds != many || (!last.is_empty() && ops != last) {
            wrong.push(format!("{line}: {rounds} {ops}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The double stitch is made where the work is turned, and many patterns say so at the beginning of the next row.
#[test]
fn a_double_stitch_at_the_beginning_of_a_row_belongs_to_the_turn_before_it() {
    let cast_on = "CO 40 sts. Join.\nKnit 2 rnds.\n";
    let at_the_turn = "Row 1 (RS): K20, turn, DS.\nRow 2 (WS): P18, turn, DS.\nNext rnd: K to end.";
    let said = worked(&format!("{cast_on}{at_the_turn}"));
    assert_eq!(said[3..], ["k20 td", "p18 td", "k17 kd1 k20"], "{said:?}");
    for at_the_beginning in [
        "Row 1 (RS): K20, turn.\nRow 2 (WS): DS, p18, turn.\nNext rnd: DS, k to end.",
        "Row 1 (RS): K20, turn.\nRow 2 (WS): Make a double stitch, p18, turn.\nNext rnd: MDS, k to end.",
        "Row 1 (RS): K20, turn work.\nRow 2 (WS): mds, p18, turn work.\nNext rnd: DS, knit to end of round.",
    ] {
        let read = worked(&format!("{cast_on}{at_the_beginning}"));
        assert_eq!(read, said, "{at_the_beginning}");
    }
    let again = "Row 1: K20, turn.\nRow 2: DS, p18, turn.\nRow 3: DS, k to DS, turn.\nRow 4: DS, p to DS, turn.\nRep last 2 rows twice.\nNext rnd: DS, k to end.";
    let read = worked(&format!("{cast_on}{again}"));
    let rows = [
        "k20 td", "p18 td", "k17 td", "p16 td", "k15 td", "p14 td", "k13 td", "p12 td",
    ];
    assert_eq!(read[3..11], rows, "{read:?}");
    // no turn comes before it
    let alone = check(&format!("{cast_on}Rnd 3: DS, k39."), None);
    let [Finding { spot, what }] = alone.as_slice() else {
        panic!("{alone:?}");
    };
    assert_eq!(
        (spot.line, pattern_finding(what)),
        (3, "There is no double stitch here.".to_owned())
    );
}

/// Where a heel lies about the beginning of the round, its rows go back over it.
#[test]
fn short_rows_go_back_over_the_beginning_of_the_round() {
    let cast_on = "CO 40 sts. Join.\nKnit 2 rnds.\n";
    let heel = "Row 1 (RS): K9, w&t.\nRow 2 (WS): P18, w&t.\nRow 3 (RS): K to 1 st before wrapped st, w&t.\nRow 4 (WS): P to 1 st before wrapped st, w&t.\nNext rnd: K to end. (40 sts)\nRnd 1: K20, p20.";
    let (parts, findings) = follow(
        &format!("{cast_on}{heel}"),
        None,
        None,
        &KnittersOwn::default(),
    );
    assert_eq!(findings, []);
    let lines: Vec<_> = parts.iter().flat_map(|part| &part.lines).collect();
    let ops: Vec<String> = lines.iter().map(|line| write_ops(&line.ops)).collect();
    // from the ninth stitch before the beginning, which was wrapped, nine before and nine after it
    assert_eq!(
        ops[3..7],
        ["k9 tw", "p9 p9 tw", "k17 tw", "p16 tw"],
        "{ops:?}"
    );
    assert_eq!(lines[3].back_over, 10);
    // to the beginning, and no further
    assert_eq!(ops[7..], ["k8 bor", "k20 p20"], "{ops:?}");
    // a stitch too many from the beginning of the round is a misprint
    let from_the_beginning = "Row 1 (RS): K20, w&t.\nRow 2 (WS): P21, w&t.";
    let findings = check(&format!("{cast_on}{from_the_beginning}"), None);
    assert_eq!(findings.len(), 1, "{findings:?}");
}

#[test]
fn of_several_sizes_one_is_read() {
    let text = "CO 56 (64, 72) sts. Join.\nRnd 1: *k2, p2; rep from * to end [56 (64, 72) sts]";
    assert_eq!(size_names(text), ["56", "64", "72"]);
    for (size, stitches) in [56, 64, 72].into_iter().enumerate() {
        let (parts, findings) = follow(text, Some(size), None, &KnittersOwn::default());
        assert_eq!(findings, []);
        assert_eq!(parts[0].lines[1].after, stitches);
    }
}

/// What is not understood says where, what was expected, and the nearest word; it is kept as text to be followed, and
/// its count is asked for.
#[test]
fn what_is_not_understood_is_told_and_kept() {
    let text = "CO 64 sts. Join.\n\n  Rnd 1: k30, k2tgo, k32 (63 sts)\nRnd 2: knit (63 sts)";
    let (parts, findings) = follow(text, None, None, &KnittersOwn::default());
    let [finding] = findings.as_slice() else {
        panic!("{findings:?}");
    };
    assert_eq!((finding.spot.line, finding.spot.column), (3, 15));
    let told = FindingKind::Unread {
        expected: Expected::Instruction,
        nearest: Some("k2tog"),
    };
    assert_eq!(finding.what, told);
    assert!(pattern_finding(&finding.what).contains("“k2tog”"));
    let kept = &parts[0].lines[1];
    assert!(
        kept.unread && kept.line == 3 && kept.after == 63,
        "{kept:?}"
    );
    let spoken = "Rnd 1: k2, and so on as you like it";
    let why = read_line(spoken, &on_needles("co64 join"));
    assert!(matches!(why, Err(LineError::Unread { .. })), "{why:?}");
}

/// Each kind of finding at its line, in a sentence with what is probably the cause.
#[test]
fn a_finding_tells_its_line_and_the_likely_cause() {
    let cast_on = "CO 24 sts. Join.\n";
    let flat = "Work back and forth on the next 12 sts.\nRow 1: sl1, k11, turn\n";
    for (rest, line, says) in [
        (
            "Rnd 1: k23",
            2,
            "works 23 of 24 stitches: one stitch is left",
        ),
        ("Rnd 1: k23", 2, "a number in it is too small"),
        ("Rnd 1: k20, p5", 2, "needs 5 stitches, but only 4 are left"),
        (
            "Rnd 1: k24 (23 sts)",
            2,
            "says 23 stitches, but there are 24: 1 more",
        ),
        ("Rnd 1: k24 (23 sts)", 2, "the number is misprinted"),
        ("Rnd 1: k to marker, k2tog", 2, "no marker ahead"),
        (
            "Rnd 1: *k2, p3; rep from * to end",
            2,
            "does not come out even over 24 stitches: 4 remain",
        ),
        ("Rnd 1: k24\nRnd 2: as rnd 7", 3, "no round 7"),
        (
            "Rnd 1: k10, k2tog, k12\nGraft the toe.",
            3,
            "no two equal halves",
        ),
        (
            "Rnd 1: k1, ssk, k to last 3 sts, k2tog, k1\nRep last rnd until 7 sts rem.",
            3,
            "never 7 stitches",
        ),
        (
            "Rnd 1: k24, pick up and knit 8",
            2,
            "no edge here to pick up from",
        ),
    ] {
        let findings = check(&format!("{cast_on}{rest}"), None);
        let [Finding { spot, what }] = findings.as_slice() else {
            panic!("{rest}: {findings:?}");
        };
        let said = pattern_finding(what);
        assert_eq!(spot.line, line, "{rest}: {said}");
        assert!(said.contains(says), "{rest}: {said}");
    }
    let row = check(
        &format!("{cast_on}{flat}Row 2: sl1, p to 3 sts before gap, turn"),
        None,
    );
    assert_eq!(row.len(), 1, "{row:?}");
    assert_eq!(
        row[0].what,
        FindingKind::Unworkable(Trouble::NoSuchPlace(Stop::Gap))
    );
}
