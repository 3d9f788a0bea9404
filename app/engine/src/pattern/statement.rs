//! Lines of a pattern as what they are: a round with its instructions, a repeat of rounds, a heading.
//!
//! Knows the grammar of lines; must not know needles.

use winnow::Parser;
use winnow::ascii::{space0, space1};
use winnow::combinator::{alt, opt, preceded, terminated};
use winnow::error::{ErrMode, ParserError};
use winnow::token::{one_of, take_while};

use super::failure::{Failure, Parsed};
use super::finding::FindingKind;
use super::followed::Part;
use super::grammar::instructions;
use super::measured::{Measured, measured};
use super::page::{Logical, is_note};
use super::piece::{Extent, Piece, Pieces, Placed, Spot, Stitch, Stop, moved};
use super::repeats::counted_times;
use super::vocabulary::{Expected, nearest};
use super::words::{any_of, number, stitches, word};
use crate::needles::Facing;

/// A line and what it says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Statement {
    pub spot: Spot,
    pub says: Says,
}

impl Statement {
    /// The same so many lines further down.
    pub(super) fn moved(mut self, by: i64) -> Self {
        if by == 0 {
            return self;
        }
        self.spot = self.spot.moved(by);
        match &mut self.says {
            Says::Work { pieces, .. } => *pieces = moved(pieces, by).into(),
            Says::Unread { at, .. } => *at = at.moved(by),
            Says::As { .. }
            | Says::Again { .. }
            | Says::Measured(_)
            | Says::Flat(_)
            | Says::Join
            | Says::Graft
            | Says::Draw
            | Says::Close
            | Says::Heading(_)
            | Says::Remark => {}
        }
        self
    }
}

/// What a line says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Says {
    /// Instructions, with the numbers of the rounds or rows they are for; none for the next one.
    Work {
        label: Option<Label>,
        pieces: Pieces,
    },
    /// Rounds that are worked as others.
    As { label: Label, rounds: Vec<u16> },
    /// Rounds again: these, or so many of the last ones.
    Again { rounds: Rounds, until: Until },
    /// Rounds up to a height.
    Measured(Measured),
    /// So many stitches are worked back and forth from here.
    Flat(u16),
    /// Joining into a round.
    Join,
    /// Grafting what is left.
    Graft,
    /// Drawing the yarn through what is left.
    Draw,
    /// Closing the toe; how is not said.
    Close,
    /// A part of the sock begins: rounds are numbered anew. Which one, where its name says it.
    Heading(Option<Part>),
    /// A remark.
    Remark,
    /// Not understood.
    Unread {
        /// What it is called, where that could be read.
        label: Option<Label>,
        /// The count in brackets at its end, where there is one.
        said: Option<u16>,
        /// The line, as it stands in the text.
        text: String,
        /// Where reading stopped.
        at: Spot,
        /// Nothing in it is wrong: it only ends before it says all.
        begun: bool,
        found: FindingKind,
    },
}

/// What a round or row is called.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Label {
    pub row: bool,
    pub facing: Option<Facing>,
    /// None for "next" and for rounds with a name.
    pub numbers: Vec<u16>,
    /// "and all even rounds": every second one from the first number on.
    pub every_second: bool,
    /// The numbers stand in the pattern; else they only say how many rounds there are.
    pub printed: bool,
}

/// Which rounds are worked again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Rounds {
    Last(u16),
    Numbered(Vec<u16>),
    /// The last one that decreases or increases.
    Shaping,
}

/// How long they are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Until {
    Times(u16),
    Stitches(u16),
    /// No gap of a turned row is left.
    AllWorked,
}

/// Reads a sentence of one kind.
type Sentence = dyn Fn(&mut &str) -> Parsed<Says>;

/// Most rounds that a range may name.
const MOST_ROUNDS: u16 = 500;

/// Reads a line.
pub(super) fn statements(line: &Logical) -> Vec<Statement> {
    let text = line.text.as_str();
    let here = |says| {
        vec![Statement {
            spot: line.spot(0),
            says,
        }]
    };
    if is_heading(text) {
        return here(Says::Heading(heading(text)));
    }
    let mut input = text;
    if let Ok(label) = label(&mut input) {
        let from = text.len() - input.len();
        let mut ahead = input;
        if let Ok(rounds) = as_round(&mut ahead) {
            let at = text.len() - ahead.len();
            let rest = instructions(ahead, &|further| line.spot(at + further));
            let is_count = |placed: &Placed| matches!(placed.piece, Piece::Count(_));
            if let Some(pieces) = rest.ok().filter(|rest| rest.iter().all(is_count)) {
                let mut out = here(Says::As { label, rounds });
                out.extend((!pieces.is_empty()).then(|| Statement {
                    spot: line.spot(at),
                    says: Says::Work {
                        label: None,
                        pieces: pieces.into(),
                    },
                }));
                return out;
            }
        }
        return here(match instructions(input, &|at| line.spot(from + at)) {
            Ok(pieces) if !pieces.is_empty() => Says::Work {
                label: Some(label),
                pieces: pieces.into(),
            },
            Ok(_) => unread(line, Some(label), text.len(), Expected::Instruction),
            Err(failure) => unread(
                line,
                Some(label),
                from + failure.at(input),
                failure.expected,
            ),
        });
    }
    if is_note(text) {
        return here(Says::Remark);
    }
    let mut out = Vec::new();
    let mut at = 0;
    for sentence in text.split_inclusive(". ") {
        let said = sentence.trim_end();
        let said = said.strip_suffix('.').unwrap_or(said);
        let says = sentence_says(line, at, said);
        out.extend(says.into_iter().map(|says| Statement {
            spot: line.spot(at),
            says,
        }));
        at += sentence.len();
    }
    out
}

fn unread(line: &Logical, label: Option<Label>, at: usize, expected: Expected) -> Says {
    let end = line.text.trim_end_matches(['.', ' ']).len();
    let begun = at >= end;
    // a word that is read in part is misspelt as a whole
    let at = match line.text.get(..at).filter(|_| !begun) {
        Some(read) => read
            .trim_end_matches(|c: char| c.is_ascii_alphanumeric())
            .len(),
        None => at,
    };
    Says::Unread {
        label,
        said: count_at_end(&line.text),
        text: line.original.clone(),
        at: line.spot(at),
        begun,
        found: FindingKind::Unread {
            expected,
            nearest: nearest(line.text.get(at..).unwrap_or_default()),
        },
    }
}

/// The count in brackets that a line ends with, whatever stands before it.
fn count_at_end(text: &str) -> Option<u16> {
    let mut input = text.rsplit_once('(')?.1;
    terminated(number, (space0, stitches))
        .parse_next(&mut input)
        .ok()
}

/// Whether a line is nothing but the name of a part.
fn is_heading(text: &str) -> bool {
    heading(text).is_some() || bare(text) == "finishing"
}

fn bare(text: &str) -> &str {
    text.trim_end_matches([':', '.'])
}

/// What the parts of a sock are called where a line names one; each part by its usual name first.
pub(super) const PART_NAMES: [(&str, Part); 30] = [
    ("cuff", Part::Cuff),
    ("ribbing", Part::Cuff),
    ("leg", Part::Leg),
    ("heel flap", Part::HeelFlap),
    ("heel", Part::HeelFlap),
    ("heel turn", Part::HeelTurn),
    ("turn heel", Part::HeelTurn),
    ("turn the heel", Part::HeelTurn),
    ("short row heel", Part::ShortRowHeel),
    ("short-row heel", Part::ShortRowHeel),
    ("heel placement", Part::HeelPlace),
    ("heel opening", Part::HeelPlace),
    ("place of the heel", Part::HeelPlace),
    ("afterthought heel", Part::LateHeel),
    ("forethought heel", Part::LateHeel),
    ("pick up", Part::PickUp),
    ("gusset pick-up", Part::PickUp),
    ("gusset", Part::Gusset),
    ("gussets", Part::Gusset),
    ("gusset shaping", Part::Gusset),
    ("shape gusset", Part::Gusset),
    ("foot", Part::Foot),
    ("instep", Part::Foot),
    ("toe", Part::Toe),
    ("shape toe", Part::Toe),
    ("toe shaping", Part::Toe),
    ("cast on", Part::CastOn),
    ("bind off", Part::BindOff),
    ("cast off", Part::BindOff),
    ("closing the toe", Part::Close),
];

/// The part whose name a line is, where it is nothing else.
pub(super) fn heading(text: &str) -> Option<Part> {
    let text = bare(text);
    let named = PART_NAMES.iter().find(|(name, _)| *name == text);
    named.map(|(_, part)| *part)
}

// ---------------------------------------------------------------- labels

fn rounds_word(input: &mut &str) -> Parsed<bool> {
    alt((
        any_of(&["rounds", "round", "rnds", "rnd", "rds", "rd"]).value(false),
        any_of(&["rows", "row"]).value(true),
    ))
    .parse_next(input)
}

/// What the round or row of a line is called, where the line begins with that.
pub(super) fn label_of(text: &str) -> Option<Label> {
    let mut input = text;
    label(&mut input).ok()
}

fn label(input: &mut &str) -> Parsed<Label> {
    let named = opt(terminated(
        any_of(&[
            "next",
            "set-up",
            "setup",
            "set up",
            "decrease",
            "dec",
            "increase",
            "inc",
            "foundation",
            "plain",
        ]),
        space1,
    ))
    .parse_next(input)?
    .is_some();
    let row = rounds_word(input)?;
    space0.parse_next(input)?;
    let numbers = if named { Vec::new() } else { numbers(input)? };
    let every_second = opt((
        (space0, opt(','), space0, any_of(&["and", "&"]), space1),
        any_of(&[
            "all even",
            "every even",
            "all following even",
            "every alt",
            "every alternate",
            "all odd",
            "every foll alt",
            "every following alternate",
        ]),
        space1,
        rounds_word,
    ))
    .parse_next(input)?
    .is_some();
    let mut facing = None;
    loop {
        // a tab may be what parts a table's columns
        take_while(0.., ' ').parse_next(input)?;
        let side = opt((
            opt('('),
            alt((
                any_of(&["ws", "wrong side"]).value(Facing::WrongSide),
                any_of(&["rs", "right side"]).value(Facing::RightSide),
            )),
            opt(')'),
        ))
        .parse_next(input)?;
        let named = opt((
            '(',
            any_of(&[
                "dec rnd",
                "inc rnd",
                "decrease round",
                "increase round",
                "decrease rnd",
                "dec row",
                "plain rnd",
            ]),
            ')',
        ))
        .parse_next(input)?;
        match (side, named) {
            (Some((_, side, _)), _) => facing = Some(side),
            (None, Some(_)) => {}
            _ => break,
        }
    }
    one_of([':', '.', '-', '=', '|', '\t']).parse_next(input)?;
    space0.parse_next(input)?;
    Ok(Label {
        row,
        facing,
        numbers,
        every_second,
        printed: true,
    })
}

/// "4", "2-16", "1 to 4", "2, 4 and 6".
fn numbers(input: &mut &str) -> Parsed<Vec<u16>> {
    let mut out = vec![number(input)?];
    loop {
        let range = opt(preceded(
            alt((
                (space0, '-', space0).void(),
                (space1, word("to"), space1).void(),
            )),
            number,
        ))
        .parse_next(input)?;
        if let (Some(to), Some(from)) = (range, out.last().copied()) {
            if to.saturating_sub(from) > MOST_ROUNDS {
                return Err(ErrMode::Backtrack(Failure::from_input(input)));
            }
            out.extend(from + 1..=to);
            continue;
        }
        let more = opt(preceded(
            alt((
                (
                    space0,
                    one_of([',', '&']),
                    space0,
                    opt((word("and"), space1)),
                )
                    .void(),
                (space1, word("and"), space1).void(),
            )),
            number,
        ))
        .parse_next(input)?;
        match more {
            Some(n) if out.len() < usize::from(MOST_ROUNDS) => out.push(n),
            _ => return Ok(out),
        }
    }
}

/// "as round 1", "rep rnds 1 and 2", "repeat rows 1-2".
fn as_round(input: &mut &str) -> Parsed<Vec<u16>> {
    (
        opt((any_of(&["work", "knit"]), space1)),
        any_of(&["as", "as for", "repeat", "rep"]),
        space1,
    )
        .void()
        .parse_next(input)?;
    (rounds_word, space0).parse_next(input)?;
    let out = numbers(input)?;
    take_while(0.., [' ', '.']).parse_next(input)?;
    Ok(out)
}

// ---------------------------------------------------------------- sentences

fn sentence_says(line: &Logical, from: usize, said: &str) -> Vec<Says> {
    if said.trim().is_empty() {
        return Vec::new();
    }
    let whole = |read: &Sentence| {
        let mut input = said;
        read(&mut input).ok().filter(|_| input.trim().is_empty())
    };
    let to_a_height: &Sentence = &|input| measured.map(Says::Measured).parse_next(input);
    let first: [&Sentence; 6] = [&again, &flat, &even, to_a_height, &charted, &loose];
    if let Some((one, other)) = then_again(said) {
        let mut says = sentence_says(line, from, one);
        let at = from + said.len() - other.len();
        says.extend(sentence_says(line, at, other));
        return says;
    }
    if let Some(says) = first.into_iter().find_map(whole) {
        return vec![says];
    }
    match instructions(said, &|at| line.spot(from + at)) {
        Ok(pieces) => vec![Says::Work {
            label: None,
            pieces: pieces.into(),
        }],
        Err(failure) => {
            if remark(said) {
                return vec![Says::Remark];
            }
            let mut says = unread(line, None, from + failure.at(said), failure.expected);
            if let Says::Unread { begun, .. } = &mut says {
                *begun |= first.into_iter().any(|read| ends_early(said, read));
            }
            vec![says]
        }
    }
}

/// "rep last 2 rnds until 32 sts rem, then work rnd 1 only until 16 sts rem": both.
fn then_again(said: &str) -> Option<(&str, &str)> {
    let (one, other) = said.split_once(", then ")?;
    let both = [one, other].into_iter().all(|said| {
        let mut input = said;
        again(&mut input).is_ok() && input.trim().is_empty()
    });
    both.then_some((one, other))
}

/// Whether a sentence of that kind only ends before it says all.
fn ends_early(said: &str, read: &Sentence) -> bool {
    let mut input = said;
    match read(&mut input) {
        Err(ErrMode::Backtrack(failure) | ErrMode::Cut(failure)) => failure.at(said) == said.len(),
        _ => false,
    }
}

/// Words that no hands follow: nothing in them counts, and none begins like an instruction.
fn remark(said: &str) -> bool {
    let begins = said.trim_start();
    let word: String = begins
        .chars()
        .take_while(char::is_ascii_alphanumeric)
        .collect();
    let works = [
        "k", "p", "knit", "purl", "sl", "slip", "work", "rep", "repeat", "pick", "bind", "cast",
        "co", "bo", "turn", "rnd", "rnds", "row", "rows", "round", "rounds", "n1", "n2", "n3",
        "n4",
    ];
    let first = begins.chars().next().unwrap_or(' ');
    // "Knt 50 rnds"
    let misspelt = said.contains(|c: char| c.is_ascii_digit())
        && nearest(said).is_some_and(|meant| works.contains(&meant));
    if said.contains("in short rows") && !works.contains(&word.as_str()) {
        return true;
    }
    !works.contains(&word.as_str())
        && !misspelt
        && !matches!(first, '*' | '[' | '(')
        && !said.contains("sts")
        && !said.contains("k2tog")
        && !said.contains("ssk")
}

/// "rep last 2 rnds until 64 sts rem", "repeat rounds 1 and 2 seven more times".
fn again(input: &mut &str) -> Parsed<Says> {
    let verb = alt((
        any_of(&["repeat", "rep"]).value(true),
        any_of(&["work", "then work"]).value(false),
    ))
    .parse_next(input)?;
    (space1, opt((any_of(&["the", "these"]), space1))).parse_next(input)?;
    let last = alt((
        (
            any_of(&["last"]),
            space1,
            opt(terminated(number, space1)),
            rounds_word,
        )
            .map(|((), _, n, _)| Rounds::Last(n.unwrap_or(1))),
        (number, space1, rounds_word).map(|(n, _, _)| Rounds::Last(n)),
    ));
    let shaping = (
        any_of(&["dec", "decrease", "inc", "increase"]),
        space1,
        rounds_word,
    );
    let mut named = alt((
        shaping.value(Rounds::Shaping),
        preceded((rounds_word, space0), numbers).map(Rounds::Numbered),
    ));
    // "work 10 rounds" asks for new ones
    let rounds = if verb {
        alt((named, last)).parse_next(input)?
    } else {
        named.parse_next(input)?
    };
    opt((space1, any_of(&["only", "alone"]))).parse_next(input)?;
    space1.parse_next(input)?;
    let until = alt((
        (
            any_of(&["until", "till"]),
            space1,
            opt((word("all"), space1)),
            opt((word("the"), space1)),
            opt((any_of(&["heel", "gusset", "side"]), space1)),
            opt((stitches, space1)),
            any_of(&[
                "have been worked",
                "have been decreased",
                "are worked",
                "are decreased",
                "have been used",
                "are used up",
            ]),
        )
            .value(Until::AllWorked),
        // they were worked once where they stand
        (word("a total of"), space1, counted_times)
            .map(|((), _, n)| Until::Times(n.saturating_sub(1))),
        (
            word("until"),
            space1,
            opt((any_of(&["there are", "you have"]), space1)),
            number,
            space0,
            opt(stitches),
            space0,
            opt(any_of(&["remain", "rem", "are left", "left"])),
            opt((space0, any_of(&["in total", "on the needles"]))),
        )
            .map(|((), _, _, n, ..)| Until::Stitches(n)),
        terminated(counted_times, opt((space0, any_of(&["more"])))).map(Until::Times),
    ))
    .parse_next(input)?;
    opt((
        space0,
        '(',
        number,
        space0,
        opt(stitches),
        space0,
        opt(any_of(&["remain", "rem"])),
        ')',
    ))
    .parse_next(input)?;
    Ok(Says::Again { rounds, until })
}

/// "work rounds 1-8 of Chart A": so many rounds, whatever is in them.
fn charted(input: &mut &str) -> Parsed<Says> {
    (any_of(&["work", "follow"]), space1).parse_next(input)?;
    opt((word("the"), space1)).parse_next(input)?;
    (rounds_word, space0).parse_next(input)?;
    let rounds = numbers(input)?;
    (space1, any_of(&["of", "from"]), space1).parse_next(input)?;
    take_while(0.., |c: char| c != '.')
        .verify(|words: &str| words.contains("chart") && !words.contains("sts"))
        .parse_next(input)?;
    Ok(Says::Work {
        label: Some(Label {
            row: false,
            facing: None,
            numbers: rounds,
            every_second: false,
            printed: false,
        }),
        pieces: [Placed {
            spot: Spot::default(),
            piece: Piece::Charted,
        }]
        .into(),
    })
}

/// "work back and forth on the next 32 sts".
fn flat(input: &mut &str) -> Parsed<Says> {
    opt((
        any_of(&[
            "heel flap is worked",
            "the heel flap is worked",
            "the heel is worked",
            "heel is worked",
            "work heel flap",
            "work the heel flap",
            "work heel",
            "work the heel",
        ]),
        space1,
    ))
    .parse_next(input)?;
    opt((any_of(&["work", "working", "worked"]), space1)).parse_next(input)?;
    opt((word("back and forth"), space1)).parse_next(input)?;
    opt((word("in rows"), space1)).parse_next(input)?;
    (any_of(&["on", "over"]), space1).parse_next(input)?;
    opt((word("the"), space1)).parse_next(input)?;
    opt((any_of(&["next", "first", "these"]), space1)).parse_next(input)?;
    let n = number(input)?;
    (
        space0,
        opt((word("heel"), space1)),
        opt(stitches),
        space0,
        opt((
            opt(','),
            space0,
            any_of(&[
                "only",
                "back and forth",
                "back and forth in rows",
                "in rows",
            ]),
        )),
    )
        .parse_next(input)?;
    Ok(Says::Flat(n))
}

/// "knit 4 rnds", "work 10 rounds even".
fn even(input: &mut &str) -> Parsed<Says> {
    let stitch = alt((
        any_of(&["knit", "k", "work"]).value(Stitch::Knit),
        any_of(&["purl", "p"]).value(Stitch::Purl),
    ))
    .parse_next(input)?;
    space1.parse_next(input)?;
    opt((
        any_of(&["even", "plain", "straight"]),
        space1,
        opt((word("for"), space1)),
    ))
    .parse_next(input)?;
    let n = number(input)?;
    (space1, rounds_word).parse_next(input)?;
    opt((
        space1,
        any_of(&[
            "even",
            "plain",
            "straight",
            "in st st",
            "in stockinette",
            "in stocking stitch",
            "in stockinette stitch",
        ]),
    ))
    .parse_next(input)?;
    if n == 0 || n > MOST_ROUNDS {
        return Err(ErrMode::Backtrack(Failure::from_input(input)));
    }
    let piece = Piece::Run(stitch, Extent::To(0, Stop::End));
    let pieces = [Placed {
        spot: Spot::default(),
        piece,
    }];
    let numbers = (1..=n).collect();
    Ok(Says::Work {
        label: Some(Label {
            row: false,
            facing: None,
            numbers,
            every_second: false,
            printed: false,
        }),
        pieces: pieces.into(),
    })
}

/// What is told with many words around it.
fn loose(input: &mut &str) -> Parsed<Says> {
    let says = alt((
        closed_toe,
        any_of(&["join"]).value(Says::Join),
        any_of(&["graft", "kitchener"]).value(Says::Graft),
        (
            any_of(&["cut", "break"]),
            space1,
            opt((word("the"), space1)),
            word("yarn"),
            take_while(0.., |c: char| c != '.').verify_map(|rest: &str| {
                if rest.contains("through") {
                    Some(Says::Draw)
                } else if rest.contains("graft") || rest.contains("kitchener") {
                    Some(Says::Graft)
                } else {
                    None
                }
            }),
        )
            .map(|(.., says)| says),
    ))
    .parse_next(input)?;
    take_while(0.., |_| true).parse_next(input)?;
    Ok(says)
}

/// "Close the toe", "close toe with Kitchener stitch".
fn closed_toe(input: &mut &str) -> Parsed<Says> {
    any_of(&["close the toe", "close toe", "close up the toe"]).parse_next(input)?;
    let how = take_while(0.., |c: char| c != '.').parse_next(input)?;
    let any = |words: &[&str]| words.iter().any(|word| how.contains(word));
    Ok(if any(&["graft", "kitchener"]) {
        Says::Graft
    } else if any(&["through", "draw", "thread"]) {
        Says::Draw
    } else {
        Says::Close
    })
}
