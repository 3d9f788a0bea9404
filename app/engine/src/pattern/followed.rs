//! What a pattern comes to when it is followed, as data: parts of the sock, and in each of them what is
//! worked, line by line, in operations on the pattern's own needles.
//!
//! Knows operations and needles; must not know how a line is read, nor on which needles the sock is knitted.

use crate::needles::{Facing, Item, Needles, Origin};
use crate::stitch::Op;

/// A part of the sock that a pattern may have a heading for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Part {
    /// The cast-on edge.
    CastOn,
    /// The cuff.
    Cuff,
    /// The leg.
    Leg,
    /// The heel's flap, or a heel that is not told apart.
    HeelFlap,
    /// The turn of the heel.
    HeelTurn,
    /// A heel in short rows.
    ShortRowHeel,
    /// The place of a heel that is knitted last.
    HeelPlace,
    /// The heel that is knitted there.
    LateHeel,
    /// Picking up along the flap.
    PickUp,
    /// The gusset.
    Gusset,
    /// The foot.
    Foot,
    /// The toe.
    Toe,
    /// Closing the toe.
    Close,
    /// Binding off.
    BindOff,
}

/// How a line is worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// Once round.
    Round,
    /// A row, back or forth, with that side facing.
    Row(Facing),
    /// Outside any round: from where the last line ended.
    Walk,
    /// The last stitches of two halves are grafted.
    Graft,
    /// The yarn is drawn through the last stitches.
    Draw,
}

/// One line of the pattern, worked once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FollowedLine {
    /// Which line of the text it is, from 1.
    pub line: u32,
    /// How it is worked.
    pub form: Form,
    /// What is done. Needle ends in it are the pattern's own, markers too.
    pub ops: Vec<Op>,
    /// Stitches on all needles when it is done.
    pub after: u16,
    /// In the first of some short rows: over how many stitches before the beginning of the round they go back.
    pub back_over: u16,
    /// Whether its words could not be followed: then `ops` keep no more than the count of stitches.
    pub unread: bool,
}

/// Where a round begins, seen from the sole or the back of the leg.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RoundBegins {
    /// Stitches of the sole that are worked last in the round: none where it begins at the sole's side.
    pub after: u16,
    /// All stitches of the sole.
    pub of: u16,
}

impl RoundBegins {
    /// Where the next round begins on these needles; `None` where rows or an open edge lie on them.
    pub(crate) fn of(needles: &Needles) -> Option<Self> {
        let in_rows = |item| matches!(item, Item::Edge { .. } | Item::Gap);
        if !needles.joined()
            || needles.facing() == Facing::WrongSide
            || needles.items().any(in_rows)
        {
            return None;
        }
        let mut round = needles.clone();
        round.begin_here();
        let top = [Origin::Instep, Origin::Front];
        let (mut after, mut of) = (0, 0);
        for item in round.items() {
            match item {
                Item::Stitches(origin, ..) | Item::Double(origin) | Item::Wrapped(origin, _)
                    if top.contains(&origin) =>
                {
                    after = 0;
                }
                other => {
                    after += other.width();
                    of += other.width();
                }
            }
        }
        let told = after <= of && of > 0 && of < round.stitches();
        told.then_some(Self { after, of })
    }
}

/// A part and its lines.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FollowedPart {
    /// Which one; `None` where the pattern names none.
    pub part: Option<Part>,
    /// Where the round begins when the part does; `None` where that is not known.
    pub begins: Option<RoundBegins>,
    /// Its lines in the order in which they are worked.
    pub lines: Vec<FollowedLine>,
}
