//! A pattern of the knitter's own.

use evenloop_engine::recipe::SockPart;
use evenloop_engine::text::{ProblemText, Typed};

use crate::text::Sentence;

pub(crate) const LEAD: &str =
    "Paste it, type it, or bring a text file. Evenloop knits it through and counts beside you.";
pub(crate) const YOURS: &str =
    "The text stays on this phone. A pattern you bought is yours to use, not to pass on.";

pub(crate) const TEXT: &str = "The pattern";
pub(crate) const TEXT_HINT: &str =
    "One round or row a line, as it is printed, with a line for each part: Cuff, Leg, Heel flap, …";
pub(crate) const COMPLETIONS: &str = "What may come next";
pub(crate) const FILE: &str = "Bring a text file";
pub(crate) const SAVE: &str = "Save as a text file";
pub(crate) const CLEAR: &str = "Clear";
/// In the empty text, in grey.
pub(crate) const TEXT_PLACEHOLDER: &str = "Cuff\nCast on 64 sts. Join in the round.\nRnd 1: *K2, p2; rep from * to end.\nRnds 2-16: Rep Rnd 1.";
pub(crate) const EXAMPLE: &str = "Show me an example";
pub(crate) const REPLACED: &str = "What was here before is kept for now.";
pub(crate) const PUT_BACK: &str = "Put it back";
pub(crate) const NO_FILE: &str =
    "That file could not be read as text. A text file, or a copied text, can.";
pub(crate) const FILE_TOO_LARGE: &str =
    "That file is too large to be a pattern. Copy the part that is knitted and paste it here.";
pub(crate) const NOT_SAVED: &str =
    "The browser would not save a file. Select the text and copy it.";

pub(crate) const FOUND: &str = "What was found";
pub(crate) const NOTHING_YET: &str = "Nothing here yet.";
pub(crate) const READING: &str = "Reading …";
pub(crate) const ALL_WELL: &str = "Every line was read, and every count is right.";
pub(crate) const FOUND_LEAD: &str = "Fix these lines, or let them stay where they still make a sock: each is followed as it is printed, and told again at its round.";

/// How much was found.
pub(crate) fn found(count: usize) -> String {
    match count {
        1 => "One line to look at".to_owned(),
        _ => format!("{count} lines to look at"),
    }
}

/// Names a line of the pattern; touched, it leads there.
pub(crate) fn line(number: u32) -> String {
    format!("Line {number}")
}

/// Takes a word that was probably meant in the place of what was typed.
pub(crate) fn write_instead(word: &Typed) -> String {
    format!("Write “{word}” instead")
}

/// Findings beyond those that are shown.
pub(crate) fn more(count: usize) -> String {
    format!("And {count} more, below these.")
}

pub(crate) const SIZE: &str = "Your size";

/// One of several sizes, by the number that the pattern first gives for it.
pub(crate) fn size(place: usize, number: &Typed) -> String {
    format!("Size {}: {number}", place + 1)
}

pub(crate) const PARTS: &str = "Who plans each part";
pub(crate) const PARTS_LEAD: &str = "What your pattern has is followed. What you choose here, Evenloop plans for the same stitches.";
pub(crate) const OURS: &str = "Let Evenloop plan";

/// A part that Evenloop may plan.
pub(crate) const fn part(part: SockPart) -> &'static str {
    match part {
        SockPart::Cuff => "the cuff",
        SockPart::Leg => "the leg",
        SockPart::Heel => "the heel",
        SockPart::Foot => "the foot",
        SockPart::Toe => "the toe",
    }
}

/// Parts that nobody knits yet.
pub(crate) fn missing(parts: &[SockPart]) -> String {
    let mut names = String::new();
    for (nth, one) in parts.iter().enumerate() {
        let between = match nth {
            0 => "",
            _ if nth + 1 == parts.len() => " and ",
            _ => ", ",
        };
        names.push_str(between);
        names.push_str(part(*one));
    }
    format!("This sock is not whole: your pattern leaves out {names}.")
}

pub(crate) const PLAN_MISSING: &str = "Let Evenloop plan what is missing";

pub(crate) const NEEDLES_LEAD: &str =
    "The pattern’s numbers stay. You choose only where the stitches sit.";

pub(crate) const KNOWN: Sentence = Sentence::Worded(|wording| {
    format!(
        "{} and foot, if you know them",
        wording.english.gauge_capital()
    )
});
pub(crate) const KNOWN_LEAD: &str =
    "Heights, lengths and yarn are worked out from these. Without them the usual ones are used.";
pub(crate) const STITCHES: &str = "Stitches";
pub(crate) const ROUNDS: &str = "Rounds";
pub(crate) const FOOT: &str = "Length of the foot";
pub(crate) const LEG: &str = "Length of the leg, with its cuff";
pub(crate) const BALL: &str = "Round the ball of the foot";
pub(crate) const BALL_HINT: &str = "If left empty: as wide as a foot of that length usually is.";
pub(crate) const AROUND: &str = "Stitches to cast on";
pub(crate) const AROUND_HINT: &str = "Only where your pattern does not cast on.";

/// Over which width or height a gauge is counted, and what is taken where none is given.
pub(crate) fn over(length: &str, usual: &str) -> String {
    format!("Over {length}. If left empty: {usual}.")
}

/// What is taken where nothing is given.
pub(crate) fn usual(usual: &str) -> String {
    format!("If left empty: {usual}.")
}

/// Said of a line that is no number.
pub(crate) fn no_number(typed: &Typed) -> ProblemText {
    ProblemText {
        message: format!("“{typed}” is not a number."),
        help: String::new(),
    }
}

/// Said where what was found keeps the sock from being knitted through; the first such line.
pub(crate) fn mend_first(line: u32) -> String {
    format!("As printed, this sock cannot be knitted to the end. Fix line {line} first.")
}

pub(crate) const FITS: &str = "Does it fit?";
pub(crate) const FITS_LEAD: Sentence = Sentence::Worded(|wording| {
    format!(
        "Enter your {} and your foot above, then see which of its sizes fits, and whether its leg and foot come out as long as they should.",
        wording.english.gauge()
    )
});
pub(crate) const SEE_FIT: &str = "See whether it fits";
pub(crate) const NO_GAUGE: Sentence = Sentence::Worded(|wording| {
    format!(
        "The fit cannot be worked out without your {}: enter its stitches and rounds above.",
        wording.english.gauge()
    )
});
pub(crate) const FIT_AS_IT_IS: &str = "Nothing needs to be changed.";
pub(crate) const NO_SOCK_YET: &str =
    "The pattern makes no sock yet: see what was found in it first.";
pub(crate) const CHANGE_ROUNDS: &str = "Change these rounds in the text";

/// Takes another of the pattern's sizes.
pub(crate) fn take_size(place: usize) -> String {
    format!("Use size {place}")
}

pub(crate) const NOTHING_TO_PLAN: &str = "Once there is a pattern here, its sock is drawn.";
pub(crate) const PASTE_FIRST: &str = "No pattern yet";

/// What comes with an address, where something stands already.
pub(crate) const CAME: &str =
    "A pattern came with this link. What is here now is kept if you use it.";
pub(crate) const TAKE: &str = "Use this pattern";
pub(crate) const LEAVE: &str = "Do not use it";
pub(crate) const NONE_CAME: &str = "There is no pattern in this link.";

pub(crate) const CHANGE_LEAD: &str = "What is knitted stays as it is, and so do the pattern’s numbers. The stitches can sit on other needles from here on.";
pub(crate) const FOLLOWED: &str = "The pattern it is knitted by";

/// A whole sock, made up for this: what a text may look like.
pub(crate) const EXAMPLE_TEXT: &str = "\
CUFF
Cast on 64 sts. Join in the round.
Rnd 1: *K2, p2; rep from * to end. (64 sts)
Rnds 2-16: Rep Rnd 1.
LEG
Knit 50 rnds.
HEEL FLAP
Work back and forth on the next 32 sts.
Row 1 (RS): *Sl1, k1; rep from * to end, turn.
Row 2 (WS): Sl1, p31, turn.
Rep last 2 rows 15 more times.
HEEL TURN
Row 1: K17, ssk, k1, turn.
Row 2: Sl1, p3, p2tog, p1, turn.
Row 3: Sl1, k to 1 st before gap, ssk, k1, turn.
Row 4: Sl1, p to 1 st before gap, p2tog, p1, turn.
Rep last 2 rows 5 more times. (18 sts)
GUSSET
K18, pick up and knit 16 sts along side of heel flap, pm, k32, pm, pick up and knit 16 sts along other side, k9. (82 sts)
Rnd 1: K to 3 sts before marker, k2tog, k1, sm, k to marker, sm, k1, ssk, k to end.
Rnd 2: Knit.
Rep last 2 rnds until 64 sts rem.
FOOT
Knit 40 rnds.
TOE
Rnd 1: K to 3 sts before marker, k2tog, k1, sm, k1, ssk, k to 3 sts before marker, k2tog, k1, sm, k1, ssk, k to end.
Rnd 2: Knit.
Rep last 2 rnds until 20 sts rem.
Graft the toe.
";
