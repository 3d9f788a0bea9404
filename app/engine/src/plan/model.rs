//! What a plan is made of: sections of steps, a step of moves, a move of operations.
//!
//! Used by everything that writes, reads or shows a plan. Knows operations and needles; must not know
//! how a section is planned.

use super::outcome::Outcome;
use super::section_kind::SectionKind;
use crate::knit::Refusal;
use crate::needles::{Facing, Needles};
use crate::pattern::{LineFinding, whole_line};
use crate::recipe::Recipe;
use crate::stitch::Op;

/// How a step is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StepForm {
    /// Once round; counted with one touch.
    Round,
    /// One row, back or forth; counted with one touch. Says which side faces.
    Row(Facing),
    /// Single moves, walked one touch each.
    Walk,
}

/// What a move is for. The words are in [`crate::text`]; the counts come from the operations.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Cue {
    /// A round or row without shaping.
    Plain,
    /// A round or row that takes stitches away or adds them.
    Shape,
    /// The long-tail cast-on.
    CastOn,
    /// Holding the needles of a closed cast-on, and in a second move of it the tail and the first loop.
    CastOnClosedBegin,
    /// The loops of a closed cast-on.
    CastOnClosed,
    /// Turning both needles round, so that the first one can be knitted.
    CastOnClosedTurn,
    /// Drawing the needle that waits out to its cable.
    CastOnClosedPart,
    /// The hook and the waste yarn of a provisional cast-on.
    ChainBegin,
    /// The loops of its chain, over one needle.
    Chain,
    /// The end of the chain, and the working yarn.
    ChainEnd,
    /// Undoing the chain, its loops onto a second needle.
    UndoChain,
    /// A round that knits one kind of stitches of a tubular edge by itself.
    Tubular,
    /// The round that crosses stitches between a tubular edge and a rib of two and two.
    TubularCross,
    /// Across half the sole, to where the round is going to begin.
    ReachMiddle,
    /// From the beginning at a side to the beginning in the middle of the sole.
    SeatMiddle,
    /// On to the end of the instep, so that the heel can be worked.
    ReachHeel,
    /// The whole sole on one needle, the round beginning at its side.
    SeatHeel,
    /// The needles' ends to where they do not cut the motif, or back to the middle after it.
    SeatMotif,
    /// On to the end of the instep, before sole and instep are set apart.
    ReachSide,
    /// Sole and instep on a needle each, for a toe that needs it.
    SeatApart,
    /// The leg's own division of the stitches.
    SeatLeg,
    /// From the first needles to the short circular.
    ToShortCircular,
    /// Knitting with the waste yarn.
    Waste,
    /// Taking the waste yarn out.
    OpenWaste,
    /// The round of which a strand is snipped later.
    RowToSnip,
    /// The stitches above and below that round, onto two needles.
    OpenRow,
    /// Snipping its strand and drawing it out.
    SnipRow,
    /// Threading up for a tubular bind-off, and its first two stitches.
    BindOffBegin,
    /// Binding off.
    BindOff,
    /// Sewing a hem's live stitches down inside.
    SewHem,
    /// The round along which a hem folds.
    TurnHem,
    /// The round that knits a folded hem together.
    JoinHem,
    /// Dividing the cast-on stitches over the needles.
    Divide,
    /// Joining into a round.
    Join,
    /// The first half of the turned heel; these stitches are left behind as the round's end.
    CrossFirstHalf,
    /// The round begins at the middle of the heel from here on.
    CrossBegin,
    /// The second half of the turned heel.
    CrossSecondHalf,
    /// Across the whole turned heel.
    CrossHeel,
    /// Along the left edge of the flap.
    PickUpLeft,
    /// The instep, or its first half where it is divided.
    CrossInstepFirst,
    /// The second half of the instep.
    CrossInstepSecond,
    /// Along the right edge of the flap; the open gap closes.
    PickUpRight,
    /// The heel stitches that were left, to the end of the round.
    CrossClose,
    /// The sole and the left gusset, to the end of the needle.
    CrossSole,
    /// From a short circular to needles on which the toe can be worked.
    ChangeNeedles,
    /// To the first marker or needle end, before the graft.
    ReachInstep,
    /// Instep on one needle, sole on the other.
    SeatForGraft,
    /// Threading up and the first two passes of the tapestry needle.
    GraftStart,
    /// One pair of stitches grafted.
    GraftPair,
    /// The last pair.
    GraftEnd,
    /// Drawing the last stitches of a round toe closed.
    DrawClosed,
    /// Cut, fasten off, weave in.
    FastenOff,
}

/// Operations done in one go, and what they are for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Move {
    /// What it is for.
    pub cue: Cue,
    /// What hands do.
    pub ops: Vec<Op>,
}

impl Move {
    /// The number, from 1, of the motif's round that is worked in it.
    pub fn motif_round(&self) -> Option<u16> {
        self.ops.iter().find_map(|op| match op {
            Op::MotifRow(n) => Some(n.get()),
            _ => None,
        })
    }
}

/// One round, one row, or one walk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// How it is worked.
    pub form: StepForm,
    /// Its moves; a round or row has exactly one.
    pub moves: Vec<Move>,
}

impl Step {
    /// One round.
    pub fn round(cue: Cue, ops: Vec<Op>) -> Self {
        Self {
            form: StepForm::Round,
            moves: vec![Move { cue, ops }],
        }
    }

    /// One row with that side facing.
    pub fn row(facing: Facing, cue: Cue, ops: Vec<Op>) -> Self {
        Self {
            form: StepForm::Row(facing),
            moves: vec![Move { cue, ops }],
        }
    }

    /// A walk through a hard place.
    pub fn walk(moves: Vec<(Cue, Vec<Op>)>) -> Self {
        Self {
            form: StepForm::Walk,
            moves: moves
                .into_iter()
                .map(|(cue, ops)| Move { cue, ops })
                .collect(),
        }
    }
}

/// One section and its steps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// Which part of the sock.
    pub kind: SectionKind,
    /// Its steps in order.
    pub steps: Vec<Step>,
}

impl Section {
    /// How many rounds and rows it has.
    pub fn counted(&self) -> usize {
        self.steps
            .iter()
            .filter(|s| s.form != StepForm::Walk)
            .count()
    }

    /// The number from 1 of a step among the section's rounds and rows; `None` for a walk.
    pub fn number(&self, index: usize) -> Option<usize> {
        let counted = |s: &&Step| s.form != StepForm::Walk;
        self.steps.get(index).filter(counted)?;
        Some(self.steps.iter().take(index + 1).filter(counted).count())
    }
}

/// A whole sock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// What it was made from.
    pub recipe: Recipe,
    /// What it comes to: counts, finished measurements, yarn, cautions.
    pub outcome: Outcome,
    /// Every step.
    pub sections: Vec<Section>,
    /// What was found in the knitter's own pattern when this was made of it, in the order of its lines. A plan of
    /// an earlier Evenloop has none.
    pub found: Vec<LineFinding>,
}

impl Move {
    /// Which line of the knitter's own pattern is worked in it, from 1; the first where there are several.
    pub fn pattern_line_number(&self) -> Option<u16> {
        self.pattern_line_numbers().next()
    }

    /// Which lines of the knitter's own pattern are worked in it, from 1.
    fn pattern_line_numbers(&self) -> impl Iterator<Item = u16> {
        self.ops.iter().filter_map(|op| match op {
            Op::PatternLine(n) => Some(n.get()),
            _ => None,
        })
    }

    /// Whether the pattern's own words say how it is worked, and the plan no more than what it comes to.
    pub fn is_by_count(&self) -> bool {
        let by_count = |op: &Op| matches!(op, Op::AsWritten(..));
        self.ops.iter().any(by_count)
    }
}

impl Plan {
    /// Whether a section follows a pattern of the knitter's own: the recipe's choices say nothing of it then.
    pub fn follows_pattern(&self, kind: SectionKind) -> bool {
        let written = self.recipe.written.as_ref();
        written.is_some_and(|written| !written.is_ours(kind.part()))
    }

    /// The line of the knitter's own pattern that is worked in a move, as she typed it, with those it goes on in.
    pub fn pattern_line(&self, mv: &Move) -> Option<&str> {
        let written = self.recipe.written.as_ref()?;
        whole_line(&written.text, usize::from(mv.pattern_line_number()?))
    }

    /// What was found in the lines of the knitter's own pattern that are worked in a move.
    pub fn found_in(&self, mv: &Move) -> impl Iterator<Item = &LineFinding> {
        let here = |found: &&LineFinding| {
            let mut lines = mv.pattern_line_numbers();
            lines.any(|line| u32::from(line) == found.line)
        };
        self.found.iter().filter(here)
    }

    /// The first step in which the heel is worked: its first row, or the first round of one that is knitted last.
    pub fn first_of_heel(&self) -> Option<usize> {
        let mut steps = self.sections.iter().flat_map(|section| {
            let kind = section.kind;
            section.steps.iter().map(move |step| (kind, step.form))
        });
        let begins = |(kind, form): (SectionKind, StepForm)| match kind {
            SectionKind::HeelFlap | SectionKind::HeelTurn | SectionKind::ShortHeel => {
                matches!(form, StepForm::Row(_))
            }
            SectionKind::LateHeel => form == StepForm::Round,
            _ => false,
        };
        steps.position(begins)
    }

    /// How many steps of a section are among the first so many of the sock.
    pub fn steps_among(&self, steps: usize, kind: SectionKind) -> usize {
        let mut first = 0;
        for section in &self.sections {
            if section.kind == kind {
                return steps.saturating_sub(first).min(section.steps.len());
            }
            first += section.steps.len();
        }
        0
    }
}

/// What the end of a move means for the needles: a round must be whole; a walk that has come round
/// goes on from the beginning.
pub(crate) fn end_move(needles: &mut Needles, form: StepForm, last: bool) -> Result<(), Refusal> {
    match form {
        StepForm::Round => needles.end_round(),
        StepForm::Walk
            if last
                && needles.joined()
                && needles.stitches() > 0
                && needles.facing() == Facing::RightSide
                && needles.at_end() =>
        {
            needles.end_round()
        }
        StepForm::Walk | StepForm::Row(_) => Ok(()),
    }
}
