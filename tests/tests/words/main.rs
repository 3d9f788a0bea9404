//! The words, read by a naive knitter: every instruction in every style is worked exactly as it is
//! written, "knit to 3 before the marker" by looking for the marker, and must come to the plan's
//! operations, stitch for stitch, with the count it promises on the needle it names.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

mod body;
mod cables;
mod closed;
mod grafts;
mod key;
mod lying;
mod markers;
mod mirror;
mod needed;
mod numbers;
mod pair;
mod seats;

use std::collections::VecDeque;
use std::thread;

use body::{Body, Side};
use evenloop_engine::plan::Plan;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::text::{
    English, Instructions, KnittingHand, Line, RunStyle, WordForm, Wording, instructions,
};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::LengthUnit;
use evenloop_engine::wire::{plan_document, read_plan, write_recipe};
use evenloop_tests::model::compare::{Verdict, hands_for, three_ways};
use evenloop_tests::model::hands::{Cell, Hands, only_moves_stitches};
use evenloop_tests::model::page::{self, Do, Page};
use evenloop_tests::model::recipes::{asked_for, numbered};
use grafts::Sewing;
use lying::Lying;
use numbers::Promises;

const STYLES: [Wording; 4] = [
    Wording {
        form: WordForm::Plain,
        reach: RunStyle::Counted,
        english: English::AsWritten,
        unit: LengthUnit::Cm,
        hand: KnittingHand::Right,
        two_socks: false,
    },
    Wording {
        form: WordForm::Plain,
        reach: RunStyle::ToMarker,
        english: English::AsWritten,
        unit: LengthUnit::Cm,
        hand: KnittingHand::Right,
        two_socks: false,
    },
    Wording {
        form: WordForm::Short,
        reach: RunStyle::Counted,
        english: English::AsWritten,
        unit: LengthUnit::Cm,
        hand: KnittingHand::Right,
        two_socks: false,
    },
    Wording {
        form: WordForm::Short,
        reach: RunStyle::ToMarker,
        english: English::AsWritten,
        unit: LengthUnit::Cm,
        hand: KnittingHand::Right,
        two_socks: false,
    },
];

/// A sock, and what a knitter who reads nothing but its words has made of it so far.
struct Reading {
    recipe: Recipe,
    plan: Plan,
    trace: Trace,
    page: Page,
    /// The section of each step, and its place there.
    places: Vec<(usize, usize)>,
    section: Option<usize>,
    hands: Hands,
    lying: Lying,
    promises: Promises,
    sewing: Sewing,
    /// What the words of the last move said, one by one.
    read: Vec<Do>,
    /// Its note.
    note: String,
}

impl Reading {
    fn begin(recipe: &Recipe) -> Self {
        Self::of(&plan_document(&write_recipe(recipe)).expect("it was planned before"))
    }

    /// The same for a plan as it is written.
    fn of(document: &str) -> Self {
        let plan = read_plan(document).expect("a plan that was written can be read");
        let trace = Trace::of(&plan).expect("it was knitted before");
        let page = page::read(document).expect("a plan that was written can be read");
        // A motif may be begun elsewhere in its repeat.
        let recipe = plan.recipe.clone();
        let places = page.sections.iter().enumerate();
        let places = places.flat_map(|(s, section)| (0..section.steps.len()).map(move |i| (s, i)));
        Self {
            hands: hands_for(&recipe),
            lying: Lying::on(recipe.needles),
            promises: Promises::default(),
            sewing: Sewing::default(),
            read: Vec::new(),
            note: String::new(),
            places: places.collect(),
            section: None,
            recipe,
            plan,
            trace,
            page,
        }
    }

    /// Works a move as it is written; how many lines were read.
    fn work(&mut self, at: Position, style: Wording) -> usize {
        let (section, index) = self.places[at.step];
        if self.section != Some(section) {
            self.end_section();
            self.section = Some(section);
            self.hands.begin_section(&self.page.sections[section]);
        }
        let step = self.page.sections[section].steps[index].clone();
        let said = instructions(&self.plan, &self.trace, at, style).expect("words for a move");
        if let Err(why) = self.follow(&said, &step, at.mv, style) {
            panic!(
                "{}\n{} {}: {:?} {:#?}\n{:?}\n{why}",
                write_recipe(&self.recipe),
                self.page.sections[section].kind,
                said.heading,
                said.note,
                said.lines,
                step.moves[at.mv].ops
            );
        }
        let live: u32 = self.hands.parts().iter().sum();
        assert_eq!(u32::from(said.total_after), live, "{} {at:?}", said.section);
        said.lines.iter().filter(|l| !l.text.is_empty()).count()
    }

    fn follow(
        &mut self,
        said: &Instructions,
        step: &page::Step,
        mv: usize,
        style: Wording,
    ) -> Result<(), String> {
        let worked = &step.moves[mv];
        let mut lines: Vec<&Line> = said.lines.iter().filter(|l| !l.text.is_empty()).collect();
        let note = said.note.as_deref().unwrap_or_default();
        let hands = &mut self.hands;
        hands.begin_move(&step.form);
        self.promises.begin_move(hands, &step.form);
        // where nothing is worked, whole needles are counted
        let opened = worked
            .ops
            .iter()
            .any(|op| matches!(op, Do::OpenProvisional(_)));
        self.lying.walked = step.form == "walk" && !opened;
        let lay = seats::Lay::of(hands);
        let last = mv + 1 == step.moves.len();
        if grafts::grafts(&worked.ops) {
            self.sewing.work(&lines, &hands.per_needle())?;
            lines.clear();
            if !self.sewing.is_whole() && worked.ops.contains(&Do::GraftEnd) {
                return Err("a stitch was sewn once".into());
            }
        }
        self.read = work_as_written(hands, &worked.ops, &lines, note, style, &self.lying)?;
        note.clone_into(&mut self.note);
        self.lying.read(note, hands)?;
        resting(&said.lines, hands, &self.lying)?;
        seats::told(note, &worked.ops, hands)?;
        lay.carried_out(note, &worked.ops, hands)?;
        numbers::tried_on(note, &self.recipe)?;
        numbers::beside_a_panel(note, &self.recipe, hands)?;
        numbers::measured(note, &self.recipe)?;
        let shaped = step.form == "round" && worked.cue == "shape";
        self.promises.read(note, shaped, hands)?;
        markers::none_falls_off(hands, !last)?;
        hands.look_at_the_chart()
    }

    /// Holds the section that was worked to what was promised of it.
    fn end_section(&mut self) {
        if let (Some(section), Err(why)) = (self.section, self.promises.end_section(&self.hands)) {
            panic!(
                "{}\n{}: {why}",
                write_recipe(&self.recipe),
                self.page.sections[section].kind
            );
        }
    }
}

/// Recipes that are read, of which about half can be knitted; `EVENLOOP_WORDS` asks for others.
const DEFAULT: usize = 2_200;

/// Socks, moves and lines that were read.
#[derive(Default)]
struct ReadSocks {
    socks: usize,
    moves: usize,
    lines: usize,
}

impl ReadSocks {
    fn sock(&mut self, recipe: &Recipe, style: Wording) {
        let mut sock = Reading::begin(recipe);
        for step in 0..sock.places.len() {
            let (section, index) = sock.places[step];
            for mv in 0..sock.page.sections[section].steps[index].moves.len() {
                self.lines += sock.work(Position { step, mv }, style);
                self.moves += 1;
            }
        }
        sock.end_section();
        self.socks += 1;
    }
}

#[test]
fn whoever_works_what_is_written_makes_the_plans_stitches() {
    let count = asked_for("EVENLOOP_WORDS").unwrap_or(DEFAULT);
    let threads = thread::available_parallelism().map_or(1, usize::from);
    let reads = thread::scope(|scope| {
        let readers: Vec<_> = (0..threads)
            .map(|thread| {
                scope.spawn(move || {
                    let mut read = ReadSocks::default();
                    for number in (thread..count).step_by(threads) {
                        let recipe = numbered(number);
                        if matches!(three_ways(&recipe), Ok(Verdict::Knitted { .. })) {
                            read.sock(&recipe, STYLES[number % STYLES.len()]);
                        }
                    }
                    read
                })
            })
            .collect();
        let reads = readers.into_iter().map(thread::ScopedJoinHandle::join);
        reads.collect::<Result<Vec<ReadSocks>, _>>()
    });
    let reads = reads.expect("words that can be worked");
    let sum = |of: fn(&ReadSocks) -> usize| reads.iter().map(of).sum::<usize>();
    let (socks, lines) = (sum(|r| r.socks), sum(|r| r.lines));
    println!(
        "{count} recipes: {socks} socks of {} moves and {lines} lines were worked as they are written",
        sum(|r| r.moves)
    );
    assert!(socks * 11 >= count * 5, "only {socks} socks were read");
    assert!(lines > socks * 50, "only {lines} lines were read");
}

/// Lines without words say what lies on each needle when a move has only shifted stitches, or laid them
/// there: all of it can be counted in the hand.
fn resting(lines: &[Line], hands: &Hands, lying: &Lying) -> Result<(), String> {
    let silent = || lines.iter().filter(|line| line.text.is_empty());
    if !hands.joined {
        // Before the edge is joined nothing says which needle is the first.
        let said: Vec<usize> = silent().map(|line| line.count_after.into()).collect();
        let held: Vec<usize> = hands.per_needle().iter().map(|n| *n as usize).collect();
        let turned = |n: usize| [&held[n..], &held[..n]].concat() == said;
        return if said.is_empty() || (0..held.len()).any(turned) {
            Ok(())
        } else {
            Err(format!("the needles hold {held:?}, not {said:?}"))
        };
    }
    for line in silent() {
        let Some(named) = line.needle else {
            let all = hands.ring().len();
            if usize::from(line.count_after) == all {
                continue;
            }
            return Err(format!("{} are said of {all}", line.count_after));
        };
        let first = first_needle(hands);
        let needle = (first + usize::from(named) - 1) % hands.needles.len();
        let held = lying.counted_at(hands, needle);
        if held != usize::from(line.count_after) {
            return Err(format!(
                "needle {named} holds {held}, not {}",
                line.count_after
            ));
        }
    }
    Ok(())
}

/// The needle at whose start the round begins.
fn first_needle(hands: &Hands) -> usize {
    let begins = |needle: &Vec<Cell>| needle.contains(&Cell::Begin);
    hands.needles.iter().position(begins).unwrap_or(0)
}

/// Works a move's operations, each of them as the next words have it. What the words said, one by one.
fn work_as_written(
    hands: &mut Hands,
    ops: &[Do],
    lines: &[&Line],
    note: &str,
    style: Wording,
    lying: &Lying,
) -> Result<Vec<Do>, String> {
    let mut read = Vec::new();
    let mut markers = markers::Told::read(note, hands)?;
    let told_by_the_note = only_moves_stitches(ops);
    let mut lines = lines.iter();
    let mut reader: Option<(Reader, &Line)> = None;
    for op in ops {
        if *op == Do::NextNeedle {
            if let Some((reader, line)) = reader.take() {
                reader.finished()?;
                count_is_kept(hands, line, lying)?;
            }
            hands.one(op)?;
            continue;
        }
        for one in one_by_one(op) {
            let by_note = match one {
                Do::TakeOff(_) | Do::Hang(..) => true,
                Do::Place(_) => told_by_the_note,
                _ => false,
            };
            if by_note {
                markers.next_is(&one)?;
            } else if is_said(&one) {
                if reader.is_none() {
                    let line = lines.next().ok_or("there are no words for it")?;
                    reader = Some((Reader::of(&line.text, note, style), line));
                }
                let (reader, _) = reader.as_mut().ok_or("no line is being read")?;
                let due = reader.next(hands)?;
                if !same(&due, &one) {
                    return Err(format!("the words say {due:?}, the plan {one:?}"));
                }
                read.push(due);
            }
            hands.one(&one)?;
        }
    }
    if let Some((reader, line)) = reader {
        reader.finished()?;
        count_is_kept(hands, line, lying)?;
    }
    match lines.next() {
        Some(line) => Err(format!("{:?} was not worked", line.text)),
        None => markers.finished(hands).map(|()| read),
    }
}

/// The needle that was just worked holds what the line promised, and is the one it named.
fn count_is_kept(hands: &Hands, line: &Line, lying: &Lying) -> Result<(), String> {
    let held = lying.counted(hands);
    if held != usize::from(line.count_after) {
        return Err(format!(
            "{:?} promises {}, but {held} are there",
            line.text, line.count_after
        ));
    }
    // Binding off or sewing down goes over all needles: none is named.
    let text = line.text.to_lowercase();
    let names_none = hands.endless || text.starts_with('b') || text.starts_with("sew down");
    if names_none != line.needle.is_none() && hands.joined {
        return Err(format!("{:?} names needle {:?}", line.text, line.needle));
    }
    if let (Some(named), true) = (line.needle, hands.joined) {
        let first = first_needle(hands);
        let needles = hands.needles.len();
        let number = (hands.needle + needles - first) % needles + 1;
        if number != usize::from(named) {
            return Err(format!(
                "{:?} names needle {named}, it is {number}",
                line.text
            ));
        }
    }
    Ok(())
}

/// Whether hands read about this in a line; the rest is told in notes.
fn is_said(op: &Do) -> bool {
    !matches!(
        op,
        Do::Join
            | Do::TakeOff(_)
            | Do::Flat(_)
            | Do::Split(_)
            | Do::Merge(_)
            | Do::BeginHere
            | Do::GraftStart
            | Do::Graft(_)
            | Do::GraftEnd
            | Do::Draw(_)
            | Do::Hang(..)
            | Do::OpenWaste(_)
            | Do::Snip(_)
            | Do::OpenProvisional(_)
            | Do::FastenOff
    )
}

/// A marker's name is not said.
fn same(said: &Do, op: &Do) -> bool {
    match (said, op) {
        // Which stitch a yarn over belongs to is not said either.
        (Do::Place(_), Do::Place(_))
        | (Do::Pass(_), Do::Pass(_))
        | (Do::YarnOver, Do::YarnOverBehind) => true,
        // How many of them are the back's is told where they are divided.
        (Do::CastOn(one, other), Do::CastOn(back, front))
        | (Do::CastOnTubular(one, other), Do::CastOnTubular(back, front)) => {
            one + other == back + front
        }
        _ => said == op,
    }
}

/// A run as single stitches.
fn one_by_one(op: &Do) -> Vec<Do> {
    let (make, n): (fn(u32) -> Do, u32) = match *op {
        Do::Knit(n) => (Do::Knit, n),
        Do::Purl(n) => (Do::Purl, n),
        Do::Slip(n) => (Do::Slip, n),
        Do::SlipInFront(n) => (Do::SlipInFront, n),
        Do::KnitBack(n) => (Do::KnitBack, n),
        Do::Fold(n) => (Do::Fold, n),
        Do::PickUp(n) => (Do::PickUp, n),
        Do::Graft(n) => (Do::Graft, n),
        Do::KnitDouble(n) => (Do::KnitDouble, n),
        Do::PurlDouble(n) => (Do::PurlDouble, n),
        Do::Waste(n) => (Do::Waste, n),
        Do::KnitToSnip(n) => (Do::KnitToSnip, n),
        ref other => return vec![other.clone()],
    };
    (0..n).map(|_| make(1)).collect()
}

/// Plain knitting to the end whatever hangs on the way.
const THROUGH: &str = "through";

/// One line, read word by word by someone who looks at the needles now and then.
struct Reader {
    short: bool,
    body: Body,
    /// What the note says an abbreviated cross stands for.
    keys: Vec<(String, Do)>,
    parts: VecDeque<String>,
    due: VecDeque<Do>,
    line: String,
}

impl Reader {
    fn of(line: &str, note: &str, style: Wording) -> Self {
        let short = style.form == WordForm::Short;
        let mut text = line.to_owned();
        if !short && let Some(at) = text.find(|c: char| c.is_ascii_alphabetic()) {
            let first = text[at..=at].to_ascii_lowercase();
            text.replace_range(at..=at, &first);
        }
        // With two socks on the needles each of them ends before its needle does.
        let text = match (style.two_socks, short) {
            (false, _) => text,
            (true, false) if !text.contains("the end of the needle") => {
                text.replace("the end of this sock", "the end of the needle")
            }
            (true, true) if !text.contains("end of needle") => {
                text.replace("end of this sock", "end of needle")
            }
            (true, _) => text.replace("end of", "end of both socks on"),
        };
        let through = [
            "knit to the end of the needle, slipping the marker",
            "knit to the end of the needle, slipping markers",
            "knit to the end of the round, slipping the marker",
            "knit to the end of the round, slipping markers",
            "k to end of needle, slipping m",
            "k to end of needle, slipping m as they come",
            "k to end of round, slipping m",
            "k to end of round, slipping m as they come",
        ];
        let text = if through.contains(&text.as_str()) {
            THROUGH.to_owned()
        } else {
            text
        };
        // Commas within one thing to do.
        let text = text
            // The row of a chart is named before it is worked.
            .replace(": ", ":, ")
            .replace(", each together with the cast-on loop below it", " folded")
            .replace("turn, make a double stitch", "turn double")
            .replace("turn, DS", "turn double")
            .replace(
                " with the waste yarn, slide them back and knit them with the working yarn",
                " waste",
            )
            .replace(
                " with waste yarn, slide back, k again with working yarn",
                " waste",
            );
        let mut parts = VecDeque::new();
        let mut part = String::new();
        let mut starred = false;
        for piece in pieces(&text) {
            let piece = piece.as_str();
            if !part.is_empty() {
                part.push_str(", ");
            }
            part.push_str(piece);
            starred ^= piece.matches('*').count() % 2 == 1;
            if !starred {
                parts.push_back(std::mem::take(&mut part));
            }
        }
        Self {
            short,
            body: Body::of(style),
            keys: cables::keys(note, Body::of(style)),
            parts,
            due: VecDeque::new(),
            line: line.to_owned(),
        }
    }

    /// The next single thing to do.
    fn next(&mut self, hands: &Hands) -> Result<Do, String> {
        while self.due.is_empty() {
            let part = self.parts.pop_front();
            let part = part.ok_or_else(|| format!("{:?} ends too early", self.line))?;
            self.due.extend(self.understand(&part, hands)?);
        }
        self.due
            .pop_front()
            .ok_or_else(|| "nothing is due".to_owned())
    }

    fn finished(&self) -> Result<(), String> {
        if self.due.is_empty() && self.parts.is_empty() {
            Ok(())
        } else {
            Err(format!(
                "{:?} goes on: {:?} {:?}",
                self.line, self.due, self.parts
            ))
        }
    }

    /// What a part of the line asks for, one by one, with these needles before the eyes.
    fn understand(&self, part: &str, hands: &Hands) -> Result<Vec<Do>, String> {
        if part == THROUGH {
            let met = hands.to_the_end().into_iter().map(|cell| match cell {
                Cell::Live(_) => Ok(Do::Knit(1)),
                Cell::Marker(_) => Ok(Do::Pass(' ')),
                other => Err(format!("{other:?} is in the way")),
            });
            return met.collect();
        }
        if let Some(rest) = part.strip_prefix('*') {
            let (inner, how_often) = rest.split_once("* ").ok_or("a repeat does not end")?;
            let mut once = Vec::new();
            for piece in pieces(inner) {
                once.extend(one_by_one(&self.plainly(&piece)?));
            }
            let times = if let Some(times) = how_often.strip_suffix(" times") {
                number(times)?
            } else {
                let place = how_often
                    .strip_prefix("to ")
                    .ok_or("a repeat without an end")?;
                let takes: u32 = once.iter().map(takes).sum();
                let distance = self.distance(place, hands)?;
                if distance % takes != 0 {
                    return Err(format!("{part:?} does not come out even over {distance}"));
                }
                distance / takes
            };
            return Ok((0..times).flat_map(|_| once.clone()).collect());
        }
        if !part.contains(" to the cable needle")
            && let Some((verb, place)) = part.split_once(" to ")
        {
            let (before, place) = match place.split_once(" before ") {
                Some((before, place)) => {
                    let before = before.split_once(" stitch").map_or(before, |(n, _)| n);
                    (number(before)?, place)
                }
                None => (0, place),
            };
            let run = self.distance(place, hands)?.checked_sub(before);
            let run = run.ok_or_else(|| format!("{part:?}: there are not so many"))?;
            let make = match verb {
                "knit" | "k" => Do::Knit,
                "purl" | "p" => Do::Purl,
                _ => return Err(format!("{verb:?} to somewhere")),
            };
            return Ok(one_by_one(&make(run)));
        }
        Ok(one_by_one(&self.plainly(part)?))
    }

    /// How many stitches lie before a place; it has to be the first thing in the way.
    fn distance(&self, place: &str, hands: &Hands) -> Result<u32, String> {
        let (stitches, thing) = hands.before_the_next_thing();
        let name = match (&thing, self.short) {
            (Some(Cell::Marker('B')), false) => "the start marker",
            (Some(Cell::Marker('B')), true) => "start marker",
            (Some(Cell::Marker(_)), false) => "the marker",
            (Some(Cell::Marker(_)), true) => "m",
            (Some(Cell::Edge(..)), false) => "the end of the row",
            (Some(Cell::Edge(..)), true) => "end of row",
            (Some(Cell::Live(_)), false) => "the double stitch",
            (Some(Cell::Live(_)), true) => "DS",
            (Some(Cell::Gap), false) => "the gap",
            (Some(Cell::Gap), true) => "gap",
            (_, false) => "the end of the needle",
            (_, true) => "end of needle",
        };
        if name == place {
            Ok(stitches)
        } else {
            Err(format!(
                "the words look for {place:?}, but {thing:?} comes first"
            ))
        }
    }

    /// Words without a place in them.
    fn plainly(&self, words: &str) -> Result<Do, String> {
        if self.short {
            short(words, &self.keys, self.body)
        } else {
            plain(words, self.body)
        }
    }
}

/// Stitches of the left needle that an operation uses.
fn takes(op: &Do) -> u32 {
    match *op {
        Do::Knit(n)
        | Do::Purl(n)
        | Do::Slip(n)
        | Do::SlipInFront(n)
        | Do::KnitBack(n)
        | Do::Fold(n) => n,
        Do::K2tog | Do::Ssk | Do::P2tog => 2,
        Do::Cross { over, under, .. } => over + under,
        _ => 0,
    }
}

fn number(text: &str) -> Result<u32, String> {
    text.parse()
        .map_err(|_| format!("{text:?} is not a number"))
}

/// A yarn's letter.
fn letter(text: &str) -> Result<char, String> {
    match text {
        "A" | "B" | "C" | "D" => Ok(char::from(text.as_bytes()[0])),
        _ => Err(format!("{text:?} is not a yarn")),
    }
}

/// A line's or a repeat's parts; a cross with its commas is one of them.
fn pieces(text: &str) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for piece in text.split(", ") {
        match out.last_mut() {
            Some(last) if cables::goes_on(last) => {
                last.push_str(", ");
                last.push_str(piece);
            }
            _ => out.push(piece.to_owned()),
        }
    }
    out
}

/// Words before a number, words after it, what is done so many times.
type Counted = (&'static str, &'static str, fn(u32) -> Do);

/// The first that fits is meant: the longer come first.
fn counted(words: &str, table: &[Counted]) -> Result<Do, String> {
    for (front, back, make) in table {
        let between = words
            .strip_prefix(front)
            .and_then(|rest| rest.strip_suffix(back));
        if let Some(n) = between.and_then(|n| n.parse().ok()) {
            return Ok(make(n));
        }
    }
    Err(format!("{words:?} means nothing"))
}

const PLAIN: [Counted; 18] = [
    ("pick up and knit ", " along the edge", Do::PickUp),
    (
        "wind the yarn ",
        " times round both needles",
        Do::CastOnWrapped,
    ),
    ("lay ", " loops on each of the two needles", Do::CastOnMagic),
    ("cast on ", " knit and purl loops alternately", |n| {
        Do::CastOnTubular(n.div_ceil(2), n / 2)
    }),
    (
        "chain ",
        " over the needle with the waste yarn",
        Do::CastOnProvisional,
    ),
    ("sew down ", " inside", Do::SewDown),
    ("knit ", " and pin the middle one", Do::KnitToSnip),
    ("cast on ", "", |n| Do::CastOn(n.div_ceil(2), n / 2)),
    ("bind off ", "", Do::BindOff),
    ("knit ", " through the back loop", Do::KnitBack),
    ("knit ", " folded", Do::Fold),
    ("knit ", " waste", Do::Waste),
    ("knit ", " double stitches", Do::KnitDouble),
    ("purl ", " double stitches", Do::PurlDouble),
    ("knit ", "", Do::Knit),
    ("purl ", "", Do::Purl),
    ("slip ", " with the yarn in front", Do::SlipInFront),
    ("slip ", "", Do::Slip),
];

const SHORT: [Counted; 16] = [
    ("pick up and k", "", Do::PickUp),
    ("join hem over ", "", Do::Fold),
    ("CO ", " k and p alternately", |n| {
        Do::CastOnTubular(n.div_ceil(2), n / 2)
    }),
    ("ch ", " over needle with waste yarn", Do::CastOnProvisional),
    ("sew down ", "", Do::SewDown),
    ("k", " and pin the middle one", Do::KnitToSnip),
    ("CO ", "", |n| Do::CastOn(n.div_ceil(2), n / 2)),
    ("BO ", "", Do::BindOff),
    ("k", " tbl", Do::KnitBack),
    ("k", " waste", Do::Waste),
    ("k ", " DS", Do::KnitDouble),
    ("p ", " DS", Do::PurlDouble),
    ("sl", " wyif", Do::SlipInFront),
    ("sl", "", Do::Slip),
    ("k", "", Do::Knit),
    ("p", "", Do::Purl),
];

fn plain(words: &str, body: Body) -> Result<Do, String> {
    if let Some(row) = words.strip_prefix("pattern round ") {
        return Ok(Do::Row(number(row.trim_end_matches(':'))?));
    }
    if let Some(yarn) = words.strip_prefix("with yarn ") {
        return Ok(Do::Yarn(letter(yarn)?));
    }
    if words.contains("the cable needle") {
        return cables::plain(words);
    }
    Ok(match words {
        "knit 2 together" => Do::K2tog,
        "purl 2 together" => Do::P2tog,
        "slip-slip-knit" => Do::Ssk,
        "yarn over" => Do::YarnOver,
        "make 1 left" => body.make(Side::Left),
        "make 1 right" => body.make(Side::Right),
        "turn double" => Do::TurnDouble,
        "knit the double stitch" => Do::KnitDouble(1),
        "purl the double stitch" => Do::PurlDouble(1),
        "turn" => Do::Turn,
        "place a marker" => Do::Place(' '),
        "slip the marker" => Do::Pass(' '),
        "pick up and knit 1 in the corner" => Do::PickUpCorner,
        "knit 1 together with a loop lifted from the corner"
        | "knit the double stitch together with a loop lifted from the corner" => Do::KnitCorner,
        _ => return counted(words, &PLAIN),
    })
}

fn short(words: &str, keys: &[(String, Do)], body: Body) -> Result<Do, String> {
    if let Some(row) = words.strip_prefix("rnd ") {
        return Ok(Do::Row(number(row.trim_end_matches(':'))?));
    }
    if let Some(yarn) = words.strip_prefix("with ") {
        return Ok(Do::Yarn(letter(yarn)?));
    }
    if let Some((_, cross)) = keys.iter().find(|(name, _)| name == words) {
        return Ok(cross.clone());
    }
    // Both needles of a closed cast-on are told.
    if let Some((one, other)) = words.strip_prefix("CO ").and_then(|n| n.split_once(" + "))
        && one == other
    {
        return Ok(Do::CastOnMagic(number(one)?));
    }
    if let Some((one, other)) = words
        .strip_prefix("wrap ")
        .and_then(|n| n.split_once(" + "))
        && one == other
    {
        return Ok(Do::CastOnWrapped(number(one)?));
    }
    Ok(match words {
        "k2tog" => Do::K2tog,
        "p2tog" => Do::P2tog,
        "ssk" => Do::Ssk,
        "yo" => Do::YarnOver,
        "m1l" => body.make(Side::Left),
        "m1r" => body.make(Side::Right),
        "turn double" => Do::TurnDouble,
        "k DS" => Do::KnitDouble(1),
        "p DS" => Do::PurlDouble(1),
        "turn" => Do::Turn,
        "pm" => Do::Place(' '),
        "sm" => Do::Pass(' '),
        "pick up and k1 in the corner" => Do::PickUpCorner,
        "k1 + corner" | "k DS + corner" => Do::KnitCorner,
        _ => return counted(words, &SHORT),
    })
}
