//! From a recipe to every operation of the sock.
//!
//! A plan is sections of steps; a step is one round, one row, or a walk of single moves through a
//! hard place. One file a section; [`layout`] knows which stitches sit on which needle.

mod bind_off;
mod calf;
mod cast_on;
mod changes;
mod close;
mod cuff;
mod dress;
mod flap;
mod foot;
mod gusset;
mod late_heel;
mod layout;
mod leg;
mod make;
mod numbers;
mod outcome;
mod panel;
mod pick_up;
mod replan;
mod schedule;
mod seat;
mod short_heel;
mod short_rows;
mod toe;
mod toe_up_heel;
mod turn;

pub use changes::{Change, changes};
pub use make::make;
pub use outcome::{Caution, Outcome, SectionOutcome, YarnOutcome};
pub use replan::{replan, replan_second};
pub use turn::turned_count;

use crate::knit::Refusal;
use crate::needles::{Facing, Needles, Origin};
use crate::recipe::Recipe;
use crate::stitch::Op;

/// The parts of a sock. A sock has some of them, in the order of its construction.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SectionKind {
    /// Casting on, dividing and joining.
    CastOn,
    /// The ribbed cuff.
    Cuff,
    /// The plain leg.
    Leg,
    /// The slipped-stitch heel flap, worked back and forth.
    HeelFlap,
    /// The short rows that turn the heel.
    HeelTurn,
    /// Picking up along the flap and rearranging the stitches on the needles.
    PickUp,
    /// The gusset: decreased from the cuff down, increased from the toe up.
    Gusset,
    /// A heel in short rows there and back.
    ShortHeel,
    /// The waste yarn that keeps the place of a later heel.
    HeelPlace,
    /// The foot.
    Foot,
    /// The toe: decreased from the cuff down, increased from the toe up.
    Toe,
    /// Closing the toe: re-seating and grafting, or drawing together.
    Close,
    /// A heel knitted last, where the waste yarn was.
    LateHeel,
    /// Closing that heel.
    LateClose,
    /// Binding off the cuff.
    BindOff,
}

impl SectionKind {
    /// All sections in order.
    pub const ALL: [Self; 15] = [
        Self::CastOn,
        Self::Cuff,
        Self::Leg,
        Self::HeelFlap,
        Self::HeelTurn,
        Self::PickUp,
        Self::Gusset,
        Self::ShortHeel,
        Self::HeelPlace,
        Self::Foot,
        Self::Toe,
        Self::Close,
        Self::LateHeel,
        Self::LateClose,
        Self::BindOff,
    ];

    /// The name used in the stored form.
    pub const fn key(self) -> &'static str {
        match self {
            Self::CastOn => "cast-on",
            Self::Cuff => "cuff",
            Self::Leg => "leg",
            Self::HeelFlap => "heel-flap",
            Self::HeelTurn => "heel-turn",
            Self::PickUp => "pick-up",
            Self::Gusset => "gusset",
            Self::Foot => "foot",
            Self::Toe => "toe",
            Self::Close => "close",
            Self::ShortHeel => "short-row-heel",
            Self::HeelPlace => "heel-place",
            Self::LateHeel => "late-heel",
            Self::LateClose => "late-close",
            Self::BindOff => "bind-off",
        }
    }

    /// The section of that stored name.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|k| k.key() == key)
    }

    /// Calls stitches by what they have become when this section begins.
    pub(crate) fn rename(self, needles: &mut Needles) {
        use Origin::{Back, Front, GussetLeft, GussetRight, Heel, Instep, Sole};
        let rule: fn(Origin) -> Origin = match self {
            Self::HeelFlap | Self::HeelTurn | Self::ShortHeel => |o| match o {
                Back | Sole => Heel,
                Front => Instep,
                other => other,
            },
            Self::HeelPlace => |o| match o {
                Back => Sole,
                Front => Instep,
                other => other,
            },
            // the toe too: a short foot has no plain rounds
            Self::Foot | Self::Toe => |o| match o {
                Heel | GussetLeft | GussetRight => Sole,
                other => other,
            },
            Self::Leg | Self::Cuff => |o| match o {
                Heel | Sole => Back,
                Instep => Front,
                other => other,
            },
            Self::CastOn
            | Self::PickUp
            | Self::Gusset
            | Self::Close
            | Self::LateHeel
            | Self::LateClose
            | Self::BindOff => return,
        };
        needles.rename(rule);
    }
}

/// How a step is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Form {
    /// Once round; counted with one touch.
    Round,
    /// One row, back or forth; counted with one touch. Says which side faces.
    Row(Facing),
    /// Single moves, walked one touch each.
    Walk,
}

/// What a move is for. The words are in [`crate::words`]; the counts come from the operations.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Cue {
    /// A round or row without shaping.
    Plain,
    /// A round or row that takes stitches away or adds them.
    Shape,
    /// The long-tail cast-on.
    CastOn,
    /// The closed cast-on of a toe.
    CastOnClosed,
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
    /// Binding off.
    BindOff,
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
    pub form: Form,
    /// Its moves; a round or row has exactly one.
    pub moves: Vec<Move>,
}

impl Step {
    /// One round.
    pub fn round(cue: Cue, ops: Vec<Op>) -> Self {
        Self {
            form: Form::Round,
            moves: vec![Move { cue, ops }],
        }
    }

    /// One row with that side facing.
    pub fn row(facing: Facing, cue: Cue, ops: Vec<Op>) -> Self {
        Self {
            form: Form::Row(facing),
            moves: vec![Move { cue, ops }],
        }
    }

    /// A walk through a hard place.
    pub fn walk(moves: Vec<(Cue, Vec<Op>)>) -> Self {
        Self {
            form: Form::Walk,
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

/// A whole sock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// What it was made from.
    pub recipe: Recipe,
    /// What it comes to: counts, finished measurements, yarn, cautions.
    pub outcome: Outcome,
    /// Every step.
    pub sections: Vec<Section>,
}

/// A plan the simulator refuses: which step, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unknittable {
    /// Index of the section.
    pub section: usize,
    /// Index of the step in the section.
    pub step: usize,
    /// Index of the move in the step.
    pub mv: usize,
    /// Why.
    pub why: Refusal,
}

impl std::fmt::Display for Unknittable {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(
            f,
            "section {}, step {}, move {}: {}",
            self.section + 1,
            self.step + 1,
            self.mv + 1,
            self.why
        )
    }
}

impl std::error::Error for Unknittable {}

/// What the end of a move means for the needles: a round must be whole; a walk that has come round
/// goes on from the beginning.
pub(crate) fn end_move(needles: &mut Needles, form: Form, last: bool) -> Result<(), Refusal> {
    match form {
        Form::Round => needles.end_round(),
        Form::Walk if last && needles.joined() && needles.stitches() > 0 && needles.at_end() => {
            needles.end_round()
        }
        Form::Walk | Form::Row(_) => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::foot::Foot;
    use crate::recipe::{Cuff, Direction, Edge, FlapTexture, Heel, Method, Toe, Turn};
    use crate::trace::Trace;
    use crate::units::Length;

    fn heels() -> Vec<Heel> {
        let mut all = vec![Heel::Afterthought];
        all.extend([0, 1, 3].map(|between| Heel::ShortRow { between }));
        for texture in FlapTexture::ALL {
            for turn in Turn::ALL {
                all.push(Heel::FlapAndGusset {
                    texture,
                    turn,
                    rows: None,
                    height: None,
                    corners: true,
                });
            }
        }
        all
    }

    /// Every choice with every other, on small, usual and large socks.
    #[test]
    fn every_combination_can_be_knitted() {
        let mut socks = 0;
        for stitches in [32, 36, 44, 60, 64, 84, 120] {
            for needles in Method::ALL {
                for direction in [Direction::CuffDown, Direction::ToeUp] {
                    for toe in &Toe::ALL {
                        if direction == Direction::ToeUp && *toe == Toe::Round {
                            continue;
                        }
                        for edge in Edge::ALL {
                            for heel in heels() {
                                let recipe = Recipe {
                                    direction,
                                    foot: Foot {
                                        length: Length::cm(34),
                                        ..Recipe::default().foot
                                    },
                                    cuff: Cuff {
                                        edge,
                                        length: Length::cm(2),
                                    },
                                    heel,
                                    leg: Length::cm(6),
                                    stitches: Some(stitches),
                                    toe: *toe,
                                    needles,
                                    ..Recipe::default()
                                };
                                let plan =
                                    make(&recipe).unwrap_or_else(|e| panic!("{recipe:?}: {e:?}"));
                                let trace =
                                    Trace::of(&plan).unwrap_or_else(|e| panic!("{recipe:?}: {e}"));
                                let end = trace.steps.last().map(|s| s.after().stitches());
                                assert_eq!(end, Some(0), "{recipe:?}");
                                socks += 1;
                            }
                        }
                    }
                }
            }
        }
        assert_eq!(socks, 7 * 7 * (7 + 6) * 7 * 13);
    }
}
