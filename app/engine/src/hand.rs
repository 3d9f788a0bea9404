//! What can be counted on each real needle when a move is done.
//!
//! The simulator divides the ring by where needles will end once a walk is through. In the middle of a
//! walk stitches may still lie elsewhere: on two circulars the half heel that waits stays on the needle
//! that worked it, on double-pointed needles on one of its own. Uses the simulator's needles and the
//! method; knows no words.

use crate::needles::{Item, Needles, Origin};
use crate::plan::{Cue, StepForm};
use crate::recipe::Method;

/// Stitches on each needle, and those that wait.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct InHand {
    /// By needle, from the beginning of the round.
    pub per_needle: Vec<u16>,
    /// Half a turned heel that waits for the end of the round; 0 where none does, or where it lies on
    /// the needle at hand anyway.
    pub waiting: u16,
}

/// What can be counted after a move of a step of that form.
pub(crate) fn in_hand(method: Method, form: StepForm, cue: Cue, after: &Needles) -> InHand {
    let mut per_needle = after.per_needle();
    let waiting = waiting(cue, after);
    match method {
        Method::TwoCirculars { .. } if waiting > 0 => {
            if let [first, .., last] = per_needle.as_mut_slice() {
                *first += waiting;
                *last -= waiting;
            }
            InHand {
                per_needle,
                waiting,
            }
        }
        Method::FourDpns | Method::FiveDpns => {
            if let Some(last) = per_needle.last_mut() {
                *last -= waiting;
            }
            // a needle that is worked from one to another; where a chain is undone none is at work
            if form == StepForm::Walk
                && cue != Cue::UndoChain
                && let Some(here) = per_needle.get_mut(after.needle_at_tip())
            {
                let worked = worked_on_this(after);
                if worked > 0 {
                    *here = worked;
                }
            }
            InHand {
                per_needle,
                waiting,
            }
        }
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } | Method::ShortCircular { .. } => {
            InHand {
                per_needle,
                waiting: 0,
            }
        }
    }
}

/// Stitches of the heel's half that was left at the beginning of the crossing.
fn waiting(cue: Cue, needles: &Needles) -> u16 {
    if !matches!(
        cue,
        Cue::CrossBegin
            | Cue::CrossSecondHalf
            | Cue::PickUpLeft
            | Cue::CrossInstepFirst
            | Cue::CrossInstepSecond
            | Cue::PickUpRight
    ) {
        return 0;
    }
    let items: Vec<Item> = needles.items().skip(needles.tip()).collect();
    let last = items.iter().rev().find(|i| i.width() > 0);
    match last {
        Some(Item::Stitches(Origin::Heel, _, n)) => *n,
        _ => 0,
    }
}

/// Stitches before the working tip on its needle.
fn worked_on_this(needles: &Needles) -> u16 {
    let mut worked = 0;
    for item in needles.items().take(needles.tip()) {
        worked = match item {
            Item::End => 0,
            other => worked + other.width(),
        };
    }
    worked
}
