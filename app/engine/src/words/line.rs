//! One needle's operations as one line of text.

use super::{Reach, WordForm, Wording};
use crate::needles::{Item, Needles};
use crate::recipe::Row;
use crate::stitch::{Cross, Lean, Marker, Op};

/// The line for operations that begin on these needles; empty when nothing is worked. With the rounds
/// of a chart, what they are is not said: "the chart 5 times" is the same in every round.
pub(super) fn text(ops: &[Op], before: &Needles, style: Wording, chart: Option<&[Row]>) -> String {
    if let Some(plain) = plain_knitting(ops, before, style) {
        return plain;
    }
    let mut needles = before.clone();
    let mut parts: Vec<String> = Vec::with_capacity(ops.len());
    let mut told = 0;
    for (at, op) in ops.iter().enumerate() {
        if let (Op::MotifRow(number), Some(rows)) = (op, chart)
            && let Some(row) = rows.get(usize::from(number.get()).saturating_sub(1))
        {
            let (times, length) = repeats(row.ops(), &ops[at + 1..]);
            parts.push(by_chart(times, style.form));
            told = at + 1 + length;
        } else if at >= told {
            parts.extend(said(op, &needles, style));
        }
        // A trace's operations have been done once already; what is refused is just not followed.
        if needles.apply(op).is_err() {
            break;
        }
    }
    // what names a round or a yarn is followed by the round itself
    let mut line = parts.join(", ").replace(":, ", ": ");
    if style.form == WordForm::Plain
        && let Some(at) = line.find(|c: char| c.is_ascii_alphabetic())
    {
        let upper = line[at..=at].to_ascii_uppercase();
        line.replace_range(at..=at, &upper);
    }
    line
}

/// How often a chart's round is worked, and over how many of the operations that follow its name.
fn repeats(row: &[Op], ops: &[Op]) -> (u16, usize) {
    let single = match row {
        [Op::Knit(n) | Op::Purl(n) | Op::KnitTwisted(n) | Op::Slip(n)] => Some(n.get()),
        _ => None,
    };
    match (ops.first(), single) {
        (Some(Op::Repeat(_, times)), _) => (times.get(), 1),
        // one kind of stitch is one run
        (Some(Op::Knit(n) | Op::Purl(n) | Op::KnitTwisted(n) | Op::Slip(n)), Some(width)) => {
            (n.get() / width, 1)
        }
        _ => (1, row.len()),
    }
}

fn by_chart(times: u16, form: WordForm) -> String {
    match (form, times) {
        (WordForm::Short, _) => format!("chart x {times}"),
        (WordForm::Plain, 1) => "the chart once".to_owned(),
        (WordForm::Plain, _) => format!("the chart {times} times"),
    }
}

/// Operations that lie on no needle: a chart's.
pub(super) fn alone(ops: &[Op], form: WordForm) -> String {
    let style = Wording {
        form,
        reach: Reach::Counted,
        ..Wording::default()
    };
    let none = Needles::new();
    let said: Vec<String> = ops.iter().filter_map(|op| said(op, &none, style)).collect();
    said.join(", ")
}

/// Plain knitting over markers is one thing to do, whatever hangs on the way.
fn plain_knitting(ops: &[Op], before: &Needles, style: Wording) -> Option<String> {
    let markers = ops
        .iter()
        .filter(|op| matches!(op, Op::SlipMarker(_)))
        .count();
    let plain = ops
        .iter()
        .all(|op| matches!(op, Op::Knit(_) | Op::SlipMarker(_) | Op::Next));
    if style.reach == Reach::Counted || markers == 0 || !plain {
        return None;
    }
    let end = if before.items().any(|i| i == Item::End) {
        "needle"
    } else {
        "round"
    };
    Some(match (style.form, markers) {
        (WordForm::Short, 1) => format!("k to end of {end}, slipping m"),
        (WordForm::Short, _) => format!("k to end of {end}, slipping m as they come"),
        (WordForm::Plain, 1) => format!("Knit to the end of the {end}, slipping the marker"),
        (WordForm::Plain, _) => format!("Knit to the end of the {end}, slipping markers"),
    })
}

fn said(op: &Op, needles: &Needles, style: Wording) -> Option<String> {
    let short = style.form == WordForm::Short;
    let text = |plain: &str, abbreviated: &str| {
        Some(if short {
            abbreviated.to_owned()
        } else {
            plain.to_owned()
        })
    };
    match op {
        Op::Knit(n) => Some(run("knit", "k", n.get(), needles, style)),
        Op::Purl(n) => Some(run("purl", "p", n.get(), needles, style)),
        Op::KnitTwisted(n) => Some(if short {
            format!("k{n} tbl")
        } else {
            format!("knit {n} through the back loop")
        }),
        Op::YarnOver | Op::YarnOverBehind => text("yarn over", "yo"),
        Op::FoldJoin(n) => Some(if short {
            format!("join hem over {n}")
        } else {
            format!("knit {n}, each together with the cast-on loop below it")
        }),
        Op::Slip(n) => Some(if short {
            format!("sl{n}")
        } else {
            format!("slip {n}")
        }),
        Op::K2tog => text("knit 2 together", "k2tog"),
        Op::Ssk => text("ssk", "ssk"),
        Op::P2tog => text("purl 2 together", "p2tog"),
        Op::PickUp(n) => Some(if short {
            format!("pick up {n}")
        } else {
            format!("pick up and knit {n} along the edge")
        }),
        Op::PickUpCorner => text(
            "pick up and knit 1 in the corner",
            "pick up 1 in the corner",
        ),
        Op::Turn => text("turn", "turn"),
        Op::TurnDouble => text("turn, make a double stitch", "turn, DS"),
        Op::KnitDouble(n) => Some(doubles("knit", "k", n.get(), short)),
        Op::PurlDouble(n) => Some(doubles("purl", "p", n.get(), short)),
        Op::MakeLeft => text("make 1 left", "m1l"),
        Op::MakeRight => text("make 1 right", "m1r"),
        Op::CastOnClosed(n) => Some(if short {
            format!("CO {n} + {n}")
        } else {
            format!("wrap {n} loops round each of the two needles")
        }),
        Op::BindOff(n) => Some(if short {
            format!("BO {n}")
        } else {
            format!("bind off {n}")
        }),
        Op::Waste(n) => Some(if short {
            format!("k{n} with waste yarn, slide back, k again with working yarn")
        } else {
            format!(
                "knit {n} with the waste yarn, slide them back and knit them with the working yarn"
            )
        }),
        Op::Place(_) => text("place a marker", "pm"),
        Op::SlipMarker(_) => text("slip the marker", "sm"),
        Op::CastOn(n) => Some(cast_on(n.get(), short)),
        Op::CastOnUneven(back, front) => {
            Some(cast_on(back.get().saturating_add(front.get()), short))
        }
        Op::Cross(cross) => Some(crossed(*cross, short)),
        Op::MotifRow(n) => Some(if short {
            format!("row {n}:")
        } else {
            format!("motif round {n}:")
        }),
        Op::Yarn(yarn) => Some(if short {
            format!("with {}", yarn.letter())
        } else {
            format!("with yarn {}", yarn.letter())
        }),
        Op::Repeat(ops, times) => Some(repeat(ops, times.get(), needles, style)),
        // Shifting, joining and grafting are told by a move's note.
        Op::Next
        | Op::Join
        | Op::Remove(_)
        | Op::WorkFlat(_)
        | Op::LoopOut(_)
        | Op::LoopIn(_)
        | Op::BeginHere
        | Op::Hang(..)
        | Op::OpenWaste(_)
        | Op::GraftStart
        | Op::Graft(_)
        | Op::GraftEnd
        | Op::DrawClosed(_)
        | Op::FastenOff => None,
    }
}

/// A run, counted or up to the place where it stops.
fn run(plain: &str, short: &str, n: u16, needles: &Needles, style: Wording) -> String {
    let abbreviated = style.form == WordForm::Short;
    if style.reach == Reach::ToMarker
        && let Some((distance, stop)) = next_stop(needles)
        && let Some(rest) = distance.checked_sub(n)
        && rest <= 4
        && n > 4
    {
        let verb = if abbreviated { short } else { plain };
        let stop = stop.name(abbreviated);
        return if rest == 0 {
            format!("{verb} to {stop}")
        } else {
            format!("{verb} to {rest} before {stop}")
        };
    }
    if abbreviated {
        format!("{short}{n}")
    } else {
        format!("{plain} {n}")
    }
}

fn cast_on(n: u16, short: bool) -> String {
    if short {
        format!("CO {n}")
    } else {
        format!("cast on {n}")
    }
}

/// A cable cross as charts write it: stitches on top, stitches behind, and which way it leans.
fn crossed(cross: Cross, short: bool) -> String {
    let (over, under) = (cross.over, cross.under);
    let lean = match (cross.lean, short) {
        (Lean::Left, true) => "LC",
        (Lean::Right, true) => "RC",
        (Lean::Left, false) => "left",
        (Lean::Right, false) => "right",
    };
    match (short, cross.purl) {
        (true, false) => format!("{over}/{under} {lean}"),
        (true, true) => format!("{over}/{under} {}P{}", &lean[..1], &lean[1..]),
        (false, false) => format!("cross {over} over {under} to the {lean}"),
        (false, true) => format!("cross {over} over {under} purled to the {lean}"),
    }
}

fn doubles(plain: &str, short: &str, n: u16, abbreviated: bool) -> String {
    match (abbreviated, n) {
        (true, 1) => format!("{short} DS"),
        (true, n) => format!("{short} {n} DS"),
        (false, 1) => format!("{plain} the double stitch"),
        (false, n) => format!("{plain} {n} double stitches"),
    }
}

fn repeat(ops: &[Op], times: u16, needles: &Needles, style: Wording) -> String {
    let inner: Vec<String> = ops
        .iter()
        .filter_map(|op| {
            said(
                op,
                needles,
                Wording {
                    reach: Reach::Counted,
                    ..style
                },
            )
        })
        .collect();
    let inner = inner.join(", ");
    let one: u16 = ops.iter().map(width).sum();
    if style.reach == Reach::ToMarker
        && let Some((distance, stop)) = next_stop(needles)
        && u32::from(distance) == u32::from(one) * u32::from(times)
    {
        return format!("*{inner}* to {}", stop.name(style.form == WordForm::Short));
    }
    format!("*{inner}* {times} times")
}

/// Stitches that an operation takes off the left needle.
fn width(op: &Op) -> u16 {
    match op {
        Op::Knit(n) | Op::Purl(n) | Op::KnitTwisted(n) | Op::FoldJoin(n) | Op::Slip(n) => n.get(),
        Op::K2tog | Op::Ssk | Op::P2tog => 2,
        Op::Cross(cross) => cross.width(),
        _ => 0,
    }
}

/// Something a run can be worked up to.
enum Stop {
    Marker(Marker),
    NeedleEnd,
    RowEnd,
    Gap,
    Double,
}

impl Stop {
    const fn name(&self, short: bool) -> &'static str {
        match (self, short) {
            (Self::Marker(Marker::Round), false) => "the round's marker",
            (Self::Marker(Marker::Round), true) => "BOR marker",
            (Self::Marker(_), false) => "the marker",
            (Self::Marker(_), true) => "m",
            (Self::NeedleEnd, false) => "the end of the needle",
            (Self::NeedleEnd, true) => "end of needle",
            (Self::RowEnd, false) => "the end of the row",
            (Self::RowEnd, true) => "end of row",
            (Self::Gap, false) => "the gap",
            (Self::Gap, true) => "gap",
            (Self::Double, false) => "the double stitch",
            (Self::Double, true) => "DS",
        }
    }
}

/// How many stitches lie before the next thing that stops a run, and what it is.
fn next_stop(needles: &Needles) -> Option<(u16, Stop)> {
    let mut distance = 0;
    for item in needles.upcoming() {
        let stop = match item {
            Item::Stitches(_, n) => {
                distance += n;
                continue;
            }
            Item::Double(_) => Stop::Double,
            Item::Marker(m) => Stop::Marker(m),
            Item::End => Stop::NeedleEnd,
            Item::Edge { .. } => Stop::RowEnd,
            Item::Gap => Stop::Gap,
        };
        return Some((distance, stop));
    }
    None
}
