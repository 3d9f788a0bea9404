//! Hard moves as short sequences of pictures: what the hands do, frame by frame. Yarn and needles are lines with
//! depth ([`strand`]), stitches are made of them ([`stitches`]), and each sequence tells where they lie in each of
//! its frames; captions are the language's.
//!
//! May use the engine's names of moves and the text; must not know a screen, a plan or the browser. Everything is
//! drawn for a knitter whose right hand takes the stitches; for the other hand it is the mirror image.

mod bind_offs;
mod cast_ons;
mod closings;
mod edges;
mod graft;
mod gusset;
mod hems;
mod knitted_cast_on;
mod long_tail;
mod openings;
mod provisional;
mod rings;
mod sewn;
mod short_rows;
mod slip_knots;
mod stitches;
mod strand;
mod tubular;
mod tubular_cast_on;
mod worked;

#[cfg(test)]
mod tests;

use evenloop_engine::text::{English, KnittingHand, Technique};

use self::stitches::Frame;
use crate::text;

/// One frame of a sequence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MoveFrame {
    /// The inside of an SVG picture of the size of [`VIEW_BOX`].
    pub picture: String,
    /// What the hands do.
    pub caption: String,
    /// Stitches of the picture on the needle that holds them and on the one that takes them.
    pub on_needles: (usize, usize),
}

/// The part of the plane that every picture shows.
pub const VIEW_BOX: &str = "0 0 2400 1760";

/// The frames of a move, in order.
pub fn sequence(technique: Technique, english: English, hand: KnittingHand) -> Vec<MoveFrame> {
    use text::moves as said;
    match technique {
        Technique::K2tog => steps(hand, worked::k2tog(), said::k2tog(hand)),
        Technique::Ssk => steps(hand, worked::ssk(), said::ssk(hand)),
        Technique::P2tog => steps(hand, worked::p2tog(), said::p2tog(hand)),
        Technique::PickUp => steps(hand, edges::pick_up(), said::pick_up(hand)),
        Technique::MakeLeft => steps(hand, worked::make_left(), said::make_left(hand)),
        Technique::MakeRight => steps(hand, worked::make_right(), said::make_right(hand)),
        Technique::Double => steps(hand, short_rows::double(), said::double(hand)),
        Technique::DoubleWorked => {
            steps(hand, short_rows::double_worked(), said::double_worked(hand))
        }
        Technique::Graft => steps(hand, graft::graft(), said::graft(hand)),
        Technique::ClosedCastOn => {
            steps(hand, cast_ons::closed_cast_on(), said::closed_cast_on(hand))
        }
        Technique::Slip => steps(hand, worked::slip(), said::slip(hand)),
        Technique::YarnOver => steps(hand, worked::yarn_over(), said::yarn_over(hand)),
        Technique::Twisted => steps(
            hand,
            worked::through_the_back_loop(),
            said::through_the_back_loop(hand),
        ),
        Technique::Knit => steps(hand, worked::knit(), said::knit(hand)),
        Technique::Purl => steps(hand, worked::purl(), said::purl(hand)),
        Technique::LongTail => steps(hand, long_tail::long_tail(), said::long_tail(hand)),
        Technique::Join => steps(hand, rings::join(), said::join(hand)),
        Technique::MagicLoop => steps(hand, rings::magic_loop(), said::magic_loop(hand)),
        Technique::WrappedCastOn => steps(
            hand,
            cast_ons::wrapped_cast_on(),
            said::wrapped_cast_on(hand),
        ),
        Technique::Cable => steps(hand, worked::cable(), said::cable(hand)),
        Technique::JoinedHem => steps(hand, hems::joined(), said::joined_hem(hand)),
        Technique::SewnHem => steps(hand, hems::sewn(), said::sewn_hem(hand)),
        Technique::PlainBindOff => steps(
            hand,
            bind_offs::plain(),
            said::plain_bind_off(english, hand),
        ),
        Technique::TogetherBindOff => {
            steps(hand, bind_offs::together(), said::bind_off_of_two(hand))
        }
        Technique::YarnOverBindOff => steps(
            hand,
            bind_offs::yarn_over(),
            said::bind_off_with_yarn_overs(english, hand),
        ),
        Technique::SewnBindOff => steps(hand, sewn::sewn(), said::sewn_bind_off(english, hand)),
        Technique::TubularBindOff => steps(hand, sewn::tubular(), said::tubular_bind_off(hand)),
        Technique::TubularEdge => steps(hand, tubular::rounds(), said::tubular_rounds(hand)),
        Technique::TubularCastOn => steps(
            hand,
            tubular_cast_on::tubular(),
            said::tubular_cast_on(hand),
        ),
        Technique::TwistedLongTail => steps(
            hand,
            long_tail::twisted_long_tail(),
            said::twisted_long_tail(hand),
        ),
        Technique::KnittedOn => steps(hand, knitted_cast_on::knitted_on(), said::knitted_on(hand)),
        Technique::SlipKnot => steps(
            hand,
            slip_knots::slip_knot(),
            said::slip_knot(english, hand),
        ),
        Technique::ProvisionalCastOn => steps(
            hand,
            provisional::chain(),
            said::provisional_cast_on(english, hand),
        ),
        Technique::Waste => steps(hand, openings::waste(), said::waste(english, hand)),
        Technique::SnippedRow => steps(hand, openings::snipped_row(), said::snipped_row(hand)),
        Technique::DrawnClosed => steps(hand, closings::drawn_closed(), said::drawn_closed(hand)),
        Technique::Corner => steps(hand, closings::corner(), said::corner(hand)),
        Technique::Crossing => steps(hand, gusset::pick_up_gusset(), said::crossing(hand)),
    }
}

/// As many captions as frames.
fn steps<const N: usize>(
    hand: KnittingHand,
    frames: [Frame; N],
    captions: [String; N],
) -> Vec<MoveFrame> {
    frames
        .into_iter()
        .zip(captions)
        .map(|(frame, caption)| step(hand, &frame, caption))
        .collect()
}

fn step(hand: KnittingHand, frame: &Frame, caption: String) -> MoveFrame {
    let drawn = strand::drawn(frame.strands());
    let picture = match hand {
        KnittingHand::Right => drawn,
        KnittingHand::Left => {
            format!("<g transform=\"matrix(-1 0 0 1 2400 0)\">{drawn}</g>")
        }
    };
    MoveFrame {
        picture,
        caption,
        on_needles: frame.on_needles,
    }
}
