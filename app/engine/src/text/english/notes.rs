//! The notes that go with hard places: why and how, in a few sentences.

use super::line::cross_key;
use super::lists::{joined, listed};
use crate::reach::ReachFrom;
use crate::recipe::{BindOff, CastOn, Direction, FlapTexture, HeelOpening, Method, Seating};
use crate::text::knitting_hand::KnittingHand;
use crate::text::messages::{ClosedCastOn, ContrastPart, MarkerChanges, MarkerPlace, Note};
use crate::text::wording::{WordForm, Wording};
use crate::units::Length;

/// How a double stitch comes about, named as it is in the rows below.
fn double_stitch(form: WordForm) -> String {
    let name = match form {
        WordForm::Short => "Double stitch (DS)",
        WordForm::Plain | WordForm::Spoken => "Double stitch",
    };
    format!(
        "{name}: after the turn, slip the first stitch with the yarn in front. Pull the yarn up and over the needle to the back, so that the stitch shows two legs. Before a purl stitch bring the yarn to the front again, between the needles. Later both legs are worked together."
    )
}

/// Why stitches just picked up are worked otherwise than the rest (common practice, no source).
const DRAWN_CLOSE: &str =
    " The picked-up stitches are knitted through the back loop this once, which draws them close.";

/// The usual remedy for the jog of stripes (common practice, no source).
const HIDE_THE_JOG: &str = " To hide it, slip the first stitch of each new yarn’s second round as if to purl, the yarn behind, if it is a knit stitch. The count stays the same.";

/// Some notes, one after the other.
pub(crate) fn notes(notes: &[Note], wording: Wording) -> String {
    let said: Vec<String> = notes.iter().map(|one| note(one, wording)).collect();
    said.join(" ")
}

#[allow(clippy::too_many_lines)] // one arm for each note
fn note(note: &Note, wording: Wording) -> String {
    let about = |length: &Length| length.show_about(wording.unit);
    let hand = wording.hand;
    let (right, left_hand) = (hand.right(), hand.left());
    let double = || double_stitch(wording.form);
    match note {
        Note::FirstYarn(yarn) => format!("Begin with yarn {}.", yarn.letter()),
        Note::YarnChange {
            taken,
            again,
            left,
            carried,
            contrast,
        } => {
            let (taken, left) = (taken.letter(), left.letter());
            let part = match contrast {
                None => "",
                Some(ContrastPart::Cuff) => " for the contrasting cuff",
                Some(ContrastPart::Heel) => " for the contrasting heel",
                Some(ContrastPart::Toe) => " for the contrasting toe",
            };
            let taken = if *again {
                format!("Take up yarn {taken} again{part}")
            } else {
                format!("Join yarn {taken}{part}")
            };
            if *carried {
                format!("{taken}; carry yarn {left} up inside.")
            } else {
                format!("{taken}; cut yarn {left}, leaving a tail to weave in.")
            }
        }
        Note::CastOn(how, tail) => cast_on(*how, &about(tail), wording),
        Note::CastOnClosedBegin(how, tail) => closed_begin(*how, &about(tail), hand),
        Note::CastOnClosedFirst(how) => closed_first(*how, wording),
        Note::CastOnClosed(how) => closed_loops(*how).into(),
        Note::CastOnClosedTurn(how) => closed_turn(*how, hand),
        Note::ChainBegin => format!(
            "Provisional crochet cast-on: make a slip knot in smooth waste yarn of another {} and put it on a crochet hook. Hold the needle in the {left_hand} hand, its point to the {right}, the yarn behind it and the hook in front.",
            wording.english.colour()
        ),
        Note::Chain => {
            "Take the hook over the needle, catch the yarn and draw it over the needle through the loop on the hook: that lays one loop on the needle. Bring the yarn under the needle to the back again. Go on like this towards the point.".into()
        }
        Note::ChainEnd(tail) => format!(
            "Chain three or four more beside the needle, cut the waste yarn, draw it loosely through the last loop and tie a knot into its end: there the chain is undone later. Take up the sock’s own yarn, leaving about {} to weave in. The last loop is knitted first; all have their {right} leg in front.",
            about(tail)
        ),
        Note::UndoChain(method, n) => undo_chain(*method, *n, hand),
        Note::Tubular {
            knits: true,
            cast_on: true,
        } => format!("The knit loops alone are knitted, through the back loop: their {right} leg lies behind. If one has its {right} leg in front, knit it as usual. The purl loops are only slipped."),
        Note::Tubular { knits: true, .. } => {
            "For the tubular edge the knit stitches alone are knitted; the purl stitches are only slipped.".into()
        }
        Note::Tubular { knits: false, .. } => {
            "Now the purl stitches alone are purled, and the knit stitches slipped with the yarn behind. Both rounds together are one round high.".into()
        }
        Note::TubularCross { cast_on: true } => {
            "Of every four stitches the last two change places: so alternate knit and purl loops become a rib of two and two. It begins with the second knit stitch of a pair.".into()
        }
        Note::TubularCross { cast_on: false } => {
            "Of every four stitches the last two change places: so knit and purl stitches alternate, as the tubular edge needs.".into()
        }
        Note::CastOnClosedPart { method, then } => closed_part(*method, *then, hand),
        Note::FirstRound(how) => first_round(*how).into(),
        Note::YarnOverAtEnd => {
            "A yarn over lies at a needle’s end: bring the yarn to the front, lay it over the needle, and hold it there with a finger until the stitch after it is worked.".into()
        }
        Note::MountedTheOtherWay => {
            format!("The instep’s loops are mounted the other way, their {right} leg behind: knitted through the back loop they come out open.")
        }
        Note::Divide(method, counts) => divide(*method, counts),
        Note::Join => {
            "See that the edge is not twisted. The first stitch cast on comes next. Draw the yarn snug for the first two stitches; a gap that is left is closed later, with the tail.".into()
        }
        Note::TurnHem => "The hem folds along this round.".into(),
        Note::JoinHem => {
            format!("Fold the hem inside. For each stitch lift its loop of the cast-on edge onto the {left_hand} needle and knit the two together.")
        }
        Note::HemInside => "The inside of the hem; it is folded in later.".into(),
        Note::HemOutside => "The outside of the hem.".into(),
        Note::RolledEdge => "The edge rolls outward by itself.".into(),
        Note::ShapedLeg { measured: true } => {
            "The leg follows the calf, shaped on both sides of the 2 middle stitches of the back.".into()
        }
        Note::ShapedLeg { measured: false } => {
            "The leg has more room than the ankle: it is shaped on both sides of the 2 middle stitches of the back.".into()
        }
        Note::Flap {
            direction,
            texture,
            stitches,
            rows,
            narrows_from,
        } => flap(*direction, *texture, *stitches, *rows, *narrows_from),
        Note::PanelOffMiddle {
            panel,
            before,
            after,
            one_balances,
        } => off_the_middle(*panel, [*before, *after], *one_balances),
        Note::Ladders => {
            "Pull the yarn snug for the first two stitches of each needle, in every round. Otherwise a ladder of loose strands forms there.".into()
        }
        Note::TryOn(Direction::CuffDown, length, toe) => {
            let toe = toe.map_or(String::new(), |toe| {
                format!(", and on the foot it should reach to about {} before the tip of the toes", about_small(toe, wording))
            });
            format!(
                "Try the sock on now: from the back of the heel it should measure about {}{toe}.",
                about(length)
            )
        }
        Note::TryOn(Direction::ToeUp, length, _) => format!(
            "Try the sock on now: from the tip of the toe it should measure about {}.",
            about(length)
        ),
        Note::MeasureLeg(length, from) => {
            let from = match from {
                ReachFrom::CastOnEdge => "the cast-on edge",
                ReachFrom::BackOfHeel => "the back of the heel",
                ReachFrom::TipOfToe => "the tip of the toe",
                ReachFrom::AboveHeel | ReachFrom::BeginningOfPart => "where it begins above the heel",
            };
            format!(
                "This is the last round of the leg. When it is done, measure: from {from} the leg should be about {} long.",
                length.show(wording.unit)
            )
        }
        Note::MeasureGuess {
            direction,
            rounds,
            tall,
            flat,
        } => {
            let (part, fits) = match direction {
                Direction::CuffDown => ("leg", "it should pass the heel and sit snugly"),
                Direction::ToeUp => ("foot", "it should sit snugly"),
            };
            format!(
                "Measure now: the {} was a guess. Laid flat the sock should be about {} wide, and the {rounds} rounds of the {part} about {} tall. Try it on: {fits}. If the height is off, have the rest planned again with what you measured. If the width is off, start again with it: no later round can fix that.",
                wording.english.gauge(),
                flat.show(wording.unit),
                tall.show(wording.unit)
            )
        }
        Note::FromTheLateHeel(opening, length) => {
            let place = match opening {
                HeelOpening::WasteYarn => "waste yarn",
                HeelOpening::Snipped => "pin",
            };
            format!(
                "Before the toe is begun, lay a tape along the foot: from the {place}, where the heel will be, it should measure about {}.",
                about(length)
            )
        }
        Note::Stripes { second_round } => {
            let jog = "Where the round begins, each stripe ends one round higher than it begins. This small step, a jog, is normal in the round and shows least if you change yarns snugly.";
            let hide = if *second_round { HIDE_THE_JOG } else { "" };
            format!("{jog}{hide}")
        }
        Note::Carry => {
            "Carry a yarn loosely, so that the fabric still stretches, and twist the two once where the round begins.".into()
        }
        Note::Reinforce => {
            "A heel wears out first: a thin reinforcing thread, knitted along with the yarn from here to the end of the heel, makes it last.".into()
        }
        Note::Care => format!(
            "Wash the socks as the yarn’s {} says, press the water out in a towel and dry them flat, eased to size.",
            wording.english.ball_band()
        ),
        Note::TurnDown(left) => format!(
            "Short rows: turn where it says and leave the rest of the heel unworked. Each turn leaves a gap; later rows work the two stitches beside it together, until {left} heel stitches are left."
        ),
        Note::TurnUp(stitches) => {
            format!("Short rows over the middle {stitches} stitches. {}", double())
        }
        Note::ShortRowHeel(stitches) => {
            format!("Short rows over {stitches} stitches. {}", double())
        }
        Note::GussetDown { left, drawn_close } => format!(
            "Each decrease round takes 2 stitches, on the sole’s side of the instep, until {left} are left all round.{}",
            if *drawn_close { DRAWN_CLOSE } else { "" }
        ),
        Note::GussetUp(all) => format!(
            "Each increase round makes 2 stitches, on the sole’s side of the instep, until there are {all} all round."
        ),
        Note::ShortRowHeelHalfDone => {
            "Half the heel is done. Now all stitches are worked, those of the instep too, and both legs of each double stitch together; then the heel widens again, row by row.".into()
        }
        Note::ShortRowToe(Direction::ToeUp, stitches) => format!(
            "Short rows over the {stitches} stitches of needle 1; needle 2 waits. {}",
            double()
        ),
        Note::ShortRowToe(Direction::CuffDown, stitches) => format!(
            "Short rows over the sole’s {stitches} stitches; the instep waits for the graft. {}",
            double()
        ),
        Note::ShortRowToeOverChain(stitches) => format!(
            "Short rows over these {stitches} stitches; the other half of the toe waits in the chain. {}",
            double()
        ),
        Note::ShapedToe(direction, foot, end) => shaped_toe(*direction, hand.foot(*foot), *end),
        Note::ToeUp(all) => format!(
            "Each increase round makes 4 stitches, until there are {all} all round."
        ),
        Note::WedgeToe(each) => format!(
            "Each decrease round takes 4 stitches, until instep and sole have {each} each, for the graft."
        ),
        Note::RoundToe(left) => format!(
            "The decreases are spread round the toe, until {left} stitches are left to be drawn closed."
        ),
        Note::AfterthoughtHeel(each) => format!(
            "At each end of both needles pick up one stitch in the corner, from a firm loop, so that no hole is left; the next round closes them. Then the heel narrows like a toe, until {each} stitches are left on each needle, for the graft."
        ),
        Note::ReachHeel => "Knit to the end of the instep: the heel is worked from there.".into(),
        Note::SeatHeel(method, counts) => seat_heel(*method, counts),
        Note::SeatHeelByMarkers {
            at_marker: true,
        } => "The round begins at this marker now, at the heel’s side.".into(),
        Note::SeatHeelByMarkers {
            at_marker: false,
        } => "The round begins here now, at the heel’s side.".into(),
        Note::Crosses(crosses) => {
            let keys: Vec<String> = crosses.iter().map(|one| cross_key(*one, hand)).collect();
            format!("{}.", keys.join("; "))
        }
        Note::Markers(changes) => markers(changes),
        Note::Waiting(Method::FourDpns | Method::FiveDpns, n) => {
            format!("{n} heel stitches wait on a needle of their own.")
        }
        Note::Waiting(Method::TwoCirculars { .. }, n) => {
            format!("{n} heel stitches wait at the other end of needle 1 and are counted with it.")
        }
        Note::Waiting(_, n) => {
            format!("{n} heel stitches wait at the other end of needle 2 and are counted with it.")
        }
        Note::ReachMiddle => "Knit half the sole.".into(),
        Note::SeatMiddle(method, counts) => seat_middle(*method, counts),
        Note::SeatLeg(Method::ShortCircular { .. }, _) => {
            "The rounds of the leg begin here, at its side.".into()
        }
        Note::SeatLeg(method, counts) => {
            let from = match method {
                Method::FourDpns | Method::FiveDpns => "Slip stitches from needle to needle",
                Method::MagicLoop { .. } => "Slide the stitches",
                _ => "Slip the stitches",
            };
            format!("{from}, without working them, until the needles hold {}.", listed(counts))
        }
        Note::Waste => {
            "A piece of smooth waste yarn keeps the place of this forethought heel (many say afterthought); it is knitted there at the very end.".into()
        }
        Note::OpenWaste(direction, n) => format!(
            "{} below the waste yarn: {n} stitches. {}. Draw the waste yarn out stitch by stitch with a needle’s point. {}",
            upright(*direction, hand),
            other_side(*n, "the waste yarn", hand),
            JOIN_AT_THE_SOLE
        ),
        Note::RowToSnip => {
            "An afterthought heel: when all else is done, a strand of this round is snipped and the heel is knitted there. Hang a safety pin in the middle heel stitch you have just knitted: nothing else marks the place.".into()
        }
        Note::OpenRow(direction, n) => format!(
            "Find the pin. {} in the row below the pinned one: {n} stitches. {}.",
            upright(*direction, hand),
            other_side(*n, "the pinned row", hand)
        ),
        Note::SnipRow => format!(
            "Snip one strand in the middle of the pinned row and draw the yarn out to both sides, stitch by stitch, with a needle’s point, up to the last stitch at each end. The two ends are woven in later and help to close the corners. {JOIN_AT_THE_SOLE}"
        ),
        Note::CrossFirstHalf => {
            "The first half of the turned heel. These stitches wait until the end of the round.".into()
        }
        Note::RoundBegins => "From now on the round begins here.".into(),
        Note::CrossBegin(method) => cross_begin(*method).into(),
        Note::CrossSecondHalf => {
            "The second half of the turned heel, up to the flap’s edge.".into()
        }
        Note::CrossHeel => "Across the turned heel, up to the flap’s edge.".into(),
        Note::PickUpLeft {
            corner: one_more,
            marker,
        } => format!(
            "Along the flap’s {left_hand} edge, seen with the right side facing, from the heel to the instep: one stitch out of every slipped-stitch chain{}.{}",
            corner(*one_more),
            if *marker {
                " The marker shows where the instep begins."
            } else {
                ""
            }
        ),
        Note::CrossInstepFirst(method) => instep_first(*method).into(),
        Note::CrossInstepSecond { needle_two: true } => {
            "The rest of the instep, on needle 2. The marker shows where it ends; the open gap at the flap comes next.".into()
        }
        Note::CrossInstepSecond { needle_two: false } => {
            "The rest of the instep. The open gap at the flap comes next.".into()
        }
        Note::PickUpRight { corner: one_more } => format!(
            "Along the flap’s {right} edge, from the instep to the heel: one stitch out of every chain{}. The gap closes.",
            corner(*one_more)
        ),
        Note::CrossClose { needle_two, counts } => {
            let onto = if *needle_two { ", onto needle 2" } else { "" };
            let carry = if counts.len() > 1 {
                "the needles hold"
            } else {
                "the needle holds"
            };
            format!(
                "The heel stitches left at the start{onto}. The round is whole again; {carry} {}.",
                listed(counts)
            )
        }
        Note::CrossSole => {
            "Across the heel and along the first gusset. Needle 1 carries the sole and both gussets; the round begins at its start.".into()
        }
        Note::SeatMotif(Direction::ToeUp, counts) => format!(
            "Slide the stitches until the needles hold {}: no needle ends within a repeat of the stitch pattern.",
            listed(counts)
        ),
        Note::SeatMotif(Direction::CuffDown, counts) => format!(
            "From here on the knitting is plain. Slide the stitches until they are divided evenly, {}.",
            listed(counts)
        ),
        Note::ReachSide => "Knit to the end of the instep: the toe is worked from there.".into(),
        Note::SeatApart { method, counts } => {
            let take = match method {
                Method::ShortCircular { .. } => "Take a long circular or two needles. ",
                _ => "",
            };
            format!(
                "{take}{} the stitches, without working them, until the sole lies on needle 1 and the instep on needle 2, {}. The round begins at the sole’s side.",
                shift(*method),
                listed(counts)
            )
        }
        Note::ChangeNeedles(counts) => format!(
            "Soon the toe will not reach round the short needle. Slip the stitches onto a long circular, {}. The round still begins in the middle of the sole, at the needle’s tip.",
            listed(counts)
        ),
        Note::ToShortCircular => {
            "The toe reaches round the short circular now: slip the stitches onto it. The round begins here, in the middle of the sole.".into()
        }
        Note::ReachInstep => {
            "Knit half the sole: the yarn has to hang beside the instep.".into()
        }
        Note::SeatForGraft {
            method,
            counts,
        } => format!(
            "{} the stitches, without working them, until the instep lies on one needle and the sole on the other, {}.",
            shift(*method),
            listed(counts)
        ),
        Note::GraftStart {
            tail,
            instep_in_front,
        } => {
            let front = if *instep_in_front {
                "the instep"
            } else {
                "the sole"
            };
            format!(
                "Kitchener stitch: cut the yarn, leaving about {}, and thread it. Hold the needles parallel, wrong sides together, {front} in front, and begin at the end where the yarn hangs from the back needle.",
                about(tail)
            )
        }
        Note::GraftPair => "Draw the yarn up to the size of a stitch.".into(),
        Note::GraftEnd => "This is the last pair.".into(),
        Note::DrawClosed { tail, stitches } => format!(
            "Cut the yarn, leaving about {}, thread it and draw it twice through the last {stitches} stitches. Pull the hole shut.",
            about(tail)
        ),
        Note::BindOffBegin(tail) => format!(
            "Tubular {}: cut the yarn, leaving about {}, and thread it. First stitch, a knit one: as if to purl, leave it on. Second stitch, a purl one: come from behind between the two and go through it as if to knit, leave it on.",
            wording.english.bind_off_noun(),
            about(tail)
        ),
        Note::SewHem { tail, stitches } => format!(
            "Cut the yarn, leaving about {}, and thread it. Fold the hem inside along the turning round. Go through the first live stitch as if to purl and slip it off, then through the bump of the last round before the hem that lies in the same column. Do so with all {stitches} stitches; draw the yarn no tighter than your knitting, for the edge has to stretch.",
            about(tail)
        ),
        Note::BindOff {
            how,
            tail,
            hem,
            purls,
        } => {
            let work = bind_off(*how, &about(tail), *purls, wording);
            format!("{work}{}", end_of_bind_off(*how, *hem))
        }
        Note::FastenOff => {
            "Take the yarn to the inside, fasten it and weave it in. Weave in the other ends too.".into()
        }
    }
}

/// To half a centimetre or a quarter of an inch.
fn about_small(length: Length, wording: Wording) -> String {
    length.round_figure(wording.unit).show(wording.unit)
}

fn cast_on(how: CastOn, tail: &str, wording: Wording) -> String {
    match how {
        CastOn::LongTail => format!(
            "Long-tail cast-on: leave a tail of about {tail}. Cast on loosely: the edge has to stretch over the heel."
        ),
        CastOn::TwistedLongTail => format!(
            "Twisted long-tail cast-on: leave a tail of about {tail}. Hold the yarn as for a long-tail cast-on, the tail round the thumb, the yarn from the {} over the index finger. Go with the needle under both strands of the thumb’s loop, over the far one down into the loop, and forward under the near one. Catch the finger’s strand, bend the thumb so that its loop opens, and draw the strand down through it. Let go of the thumb and draw the loop snug. The twist lets the edge stretch over the heel.",
            wording.english.ball()
        ),
        CastOn::SlipKnot => format!(
            "Slip-knot cast-on: leave a tail of about {tail} to weave in. Make a slip knot, put it onto the needle and draw it snug; go on with one slip knot beside the other."
        ),
        CastOn::Tubular => format!(
            "Tubular (Italian) cast-on: leave a tail of about {tail} and begin with a slip knot that is not counted. Hold the tail over the thumb and the yarn from the {} over the index finger. Knit loop: the needle goes from in front under both strands, up behind the finger’s, forward over it and out under the thumb’s. Purl loop: it goes from behind under both strands, up in front of the thumb’s, back over it and out under the finger’s. Begin with a knit loop and end with a purl one; then let the slip knot go.",
            wording.english.ball()
        ),
        CastOn::KnittedOn => format!(
            "Knitted cast-on: leave a tail of about {tail} to weave in. Begin with a slip knot: it is the first stitch. Knit each new loop out of the one before and put it onto the {} needle, loosely.",
            wording.hand.left()
        ),
    }
}

fn closed_begin(how: ClosedCastOn, tail: &str, hand: KnittingHand) -> String {
    match how {
        ClosedCastOn::Magic => format!(
            "Magic cast-on: leave a tail of about {tail}. Hold two needle tips together, one above the other, points to the {}.",
            hand.left()
        ),
        ClosedCastOn::Wrapped => format!(
            "Wrapped (Turkish) cast-on: leave a tail of about {tail}. Hold two needle tips together, their points to the {}, one above the other.",
            hand.right()
        ),
    }
}

fn closed_first(how: ClosedCastOn, wording: Wording) -> String {
    match how {
        ClosedCastOn::Magic => format!(
            "Take the yarn from behind over the upper needle, down in front and between the two to the back; its tail stays behind. That is the upper needle’s first loop. Now the tail goes up over your index finger, the yarn from the {} down over your thumb, both behind the needles.",
            wording.english.ball()
        ),
        ClosedCastOn::Wrapped => format!(
            "Let the tail hang down in front of both needles, and hold it there with your {} thumb.",
            wording.hand.left()
        ),
    }
}

const fn closed_loops(how: ClosedCastOn) -> &'static str {
    match how {
        ClosedCastOn::Magic => {
            "Alternately: the finger’s strand from behind under the lower needle, up in front and between the two to the back; then the thumb’s strand from behind over the upper needle, down in front and between the two to the back. Begin and end with the lower one; draw each loop snug."
        }
        ClosedCastOn::Wrapped => {
            "Take the yarn under both needles to the back, up behind both, over the top and down in front of both, again and again, like a spring towards the points: one loop on each needle every time. After the last time over the top it goes between the two to the back."
        }
    }
}

fn closed_turn(how: ClosedCastOn, hand: KnittingHand) -> String {
    let right = hand.right();
    match how {
        ClosedCastOn::Magic => format!(
            "Hold both strands and turn the needles like a wheel until their points lie to the {right}: the lower needle lies above now. It is knitted first."
        ),
        ClosedCastOn::Wrapped => {
            format!("Keep the points to the {right}. The upper needle is knitted first.")
        }
    }
}

fn closed_part(method: Method, then: Option<ClosedCastOn>, hand: KnittingHand) -> String {
    let right = hand.right();
    let other = match method {
        Method::MagicLoop { .. } | Method::ShortCircular { .. } => {
            format!(
                "Draw the needle below to the {right} until its loops lie on the cable; its tip is the one to knit with."
            )
        }
        Method::TwoCirculars { .. } => {
            format!(
                "Draw the needle below to the {right} until its loops lie on its cable; knit with the other end of the needle above."
            )
        }
        Method::FourDpns | Method::FiveDpns => {
            "Leave the needle below where it is and knit with an empty one.".into()
        }
    };
    let turn = match then {
        Some(ClosedCastOn::Magic) => {
            " The other needle follows when the work has been turned like a wheel again."
        }
        Some(ClosedCastOn::Wrapped) => {
            " The other needle follows when the work has been turned like a wheel."
        }
        None => "",
    };
    format!("{other}{turn}")
}

const fn first_round(how: ClosedCastOn) -> &'static str {
    match how {
        ClosedCastOn::Magic => {
            "Before the first stitch lay the tail between the needle and the working yarn: it keeps the first loop. Draw it snug when that is knitted."
        }
        ClosedCastOn::Wrapped => {
            "Hold the tail until the first stitch of the other needle is knitted: it keeps that loop. Draw loose loops up towards it afterwards, one after the other."
        }
    }
}

fn undo_chain(method: Method, n: u16, hand: KnittingHand) -> String {
    let onto = match method {
        Method::MagicLoop { .. } | Method::ShortCircular { .. } => "the needle’s other tip",
        Method::TwoCirculars { .. } => "the second circular needle",
        Method::FourDpns | Method::FiveDpns => "an empty needle",
    };
    format!(
        "Undo the chain from its knotted end, stitch by stitch, and put each loop of the sock’s own yarn that comes free onto {onto}, its {} leg in front. You get only {} whole loops; take the half loop beside the yarn’s tail as the last, so that both needles hold {n}.",
        hand.right(),
        n.saturating_sub(1)
    )
}

/// `purls`: whether any stitch of the edge is a purl one.
fn bind_off(how: BindOff, tail: &str, purls: bool, wording: Wording) -> String {
    let Wording { english, hand, .. } = wording;
    let left = hand.left();
    let noun = english.bind_off_noun();
    match (how, purls) {
        (BindOff::Plain, true) => format!(
            "{} in pattern, the knits knitted and the purls purled, loosely and with a larger needle: the edge has to pass the heel.",
            english.bind_off_capital()
        ),
        (BindOff::Plain, false) => format!(
            "{} loosely and with a larger needle, knitting every stitch: the edge has to pass the heel.",
            english.bind_off_capital()
        ),
        (BindOff::Sewn, _) => format!(
            "Sewn {}: cut the yarn, leaving about {tail}, and thread it. Go through two stitches as if to purl, back through the first as if to knit, slip that one off; go on like this, loosely.",
            english.bind_off_noun()
        ),
        (BindOff::Tubular, _) => {
            "First stitch as if to knit, slip it off; pass the purl stitch by and go through the next knit stitch as if to purl, leave it on. Then the purl stitch, now the first: as if to purl, slip it off; come from behind, between the knit stitch and the next purl stitch, and go through that as if to knit, leave it on. Draw the yarn up to the size of a stitch and begin again. At the end use the first two stitches of the round once more.".into()
        }
        (BindOff::WorkedTogether, true) => format!(
            "Two-together {noun}, in pattern. Knit two together through the back loop, or purl two together where the second is a purl; slip the new stitch back to the {left} needle as if to purl and take it together with the next one."
        ),
        (BindOff::WorkedTogether, false) => format!(
            "Two-together {noun}. Knit two together through the back loop; slip the new stitch back to the {left} needle as if to purl and take it together with the next one."
        ),
        (BindOff::YarnOver, true) => format!(
            "Yarn-over {noun}, in pattern. Before a knit stitch lay the yarn over the needle backwards, from behind over the top to the front, and take it to the back again; before a purl stitch lay it over from the front to the back, and bring it to the front again. {LIFT_OVER}"
        ),
        (BindOff::YarnOver, false) => format!(
            "Yarn-over {noun}. Before each stitch lay the yarn over the needle backwards, from behind over the top to the front, and take it to the back again. {LIFT_OVER}"
        ),
    }
}

/// How a stitch is bound off that has a yarn over before it.
const LIFT_OVER: &str = "Work the stitch and lift the yarn over across it; then, from the second stitch on, lift the stitch before across it too.";

const fn end_of_bind_off(how: BindOff, hem: bool) -> &'static str {
    match (how, hem) {
        (BindOff::Sewn | BindOff::Tubular, false) => "",
        (BindOff::Sewn | BindOff::Tubular, true) => {
            " Fold the hem inside and sew its edge down loosely."
        }
        (_, false) => {
            " Cut the yarn, leaving a tail to weave in, and draw it through the last loop."
        }
        (_, true) => {
            " Cut the yarn, leaving enough to sew with, and draw it through the last loop. Fold the hem inside and sew its edge down loosely."
        }
    }
}

/// Held so that the rows lie as they were knitted, "below" means the row before.
fn upright(direction: Direction, hand: KnittingHand) -> String {
    let up = match direction {
        Direction::CuffDown => "toe",
        Direction::ToeUp => "cuff",
    };
    format!(
        "Hold the sock with its {up} up, so that each V stands on its point. Put a needle through the {} leg of each V",
        hand.right()
    )
}

/// Above a row lie the feet of the stitches there, and one fewer whole loops between them.
fn other_side(n: u16, row: &str, hand: KnittingHand) -> String {
    let (right, left) = (hand.right(), hand.left());
    format!(
        "Turn the sock upside down and put a second needle through the {right} legs beyond {row}: there are only {} whole loops, and half a loop at each end; take the half at the {left} as the last, so that both needles hold {n}",
        n.saturating_sub(1)
    )
}

/// Where a heel that is knitted last begins.
const JOIN_AT_THE_SOLE: &str = "The needle at the sole is knitted first: join the working yarn at its beginning, and leave a tail to close the corner with. The round begins there.";

fn shaped_toe(direction: Direction, which: &str, end: u16) -> String {
    let shaped = match direction {
        Direction::ToeUp => {
            format!("widens faster on the side of the little toe, until there are {end} all round")
        }
        Direction::CuffDown => format!(
            "narrows faster on the side of the little toe, until instep and sole have {end} each, for the graft"
        ),
    };
    format!(
        "This toe is for the {which} foot: it {shaped}. The other sock’s toe is its mirror image."
    )
}

fn flap(
    direction: Direction,
    texture: FlapTexture,
    stitches: u16,
    rows: usize,
    narrows_from: Option<usize>,
) -> String {
    let border = match texture {
        FlapTexture::GarterEdge if direction == Direction::CuffDown => {
            " Both edges are garter stitch: each row begins with the yarn in front of the slipped stitch; then take it back between the needles."
        }
        FlapTexture::GarterEdge => " Both edges are garter stitch.",
        FlapTexture::EyeOfPartridge => {
            " In every second right-side row the slipped stitches move over by one."
        }
        FlapTexture::SlippedStitch => "",
    };
    let slipping = "Slip purlwise, the yarn on the wrong side.";
    match direction {
        Direction::ToeUp => format!(
            "The flap grows up the back of the heel; the decrease that ends each row takes in one gusset stitch. {slipping}{border}"
        ),
        Direction::CuffDown => {
            let narrows = narrows_from.map_or_else(String::new, |row| {
                format!(" From row {row} on each right-side row takes 2 stitches at its middle.")
            });
            format!(
                "From here only the next {stitches} stitches are worked, back and forth; the instep waits. {slipping} The slipped edges make the chains you pick up from later.{border} The flap has {rows} rows and ends after a wrong-side row.{narrows}"
            )
        }
    }
}

fn off_the_middle(panel: u16, beside: [u16; 2], one_balances: bool) -> String {
    let [before, after] = beside.map(|n| match n {
        0 => "no plain stitch".to_owned(),
        1 => "1 plain stitch".to_owned(),
        n => format!("{n} plain stitches"),
    });
    let balanced = if one_balances {
        " A balancing stitch would put it in the middle."
    } else {
        ""
    };
    format!(
        "The panel of {panel} stitches lies half a stitch off the middle: {before} before it, {after} after it.{balanced}"
    )
}

/// Along one needle stitches slide; to another one they are slipped.
const fn shift(method: Method) -> &'static str {
    match method {
        Method::MagicLoop { .. } => "Slide",
        _ => "Slip",
    }
}

/// Taken off first, then placed: where the knitter is, and ahead from there.
fn markers(changes: &MarkerChanges) -> String {
    let mut said = Vec::with_capacity(3);
    match changes.off.as_slice() {
        [] => {}
        _ if changes.none_left => said.push("Take all markers off.".into()),
        [one] => said.push(format!("Take off the marker {}.", marker_place(*one))),
        [MarkerPlace::InstepBegins, MarkerPlace::InstepEnds] => {
            said.push("Take off the markers at both ends of the instep.".into());
        }
        several => {
            let places: Vec<String> = several.iter().map(|p| marker_place(*p).into()).collect();
            said.push(format!("Take off the markers {}.", joined(&places)));
        }
    }
    if changes.here {
        said.push("Place a marker here.".into());
    }
    let ahead: Vec<String> = changes
        .ahead
        .iter()
        .enumerate()
        .map(|(nth, (n, place))| {
            let one = if nth == 0 { "a marker" } else { "one" };
            format!("{one} after {n} stitches, {}", marker_place(*place))
        })
        .collect();
    if !ahead.is_empty() {
        said.push(format!(
            "Counted from here, place {}.",
            ahead.join(", and ")
        ));
    }
    said.join(" ")
}

const fn marker_place(place: MarkerPlace) -> &'static str {
    match place {
        MarkerPlace::MiddleOfSole => "in the middle of the sole",
        MarkerPlace::InstepBegins => "where the instep begins",
        MarkerPlace::InstepEnds => "where the instep ends",
        MarkerPlace::HeelEnds => "where the heel ends",
        MarkerPlace::BackEnds => "where the back of the leg ends",
        MarkerPlace::FrontEnds => "where the front of the leg ends",
    }
}

const fn corner(picked_up: bool) -> &'static str {
    if picked_up {
        ", and one in the corner to prevent a hole"
    } else {
        ""
    }
}

fn divide(method: Method, counts: &[u16]) -> String {
    match method {
        Method::MagicLoop { .. } => format!(
            "Slide the stitches to the cable and pull a loop of it out between two of them: {}. Hold the half that was cast on first in front; draw the needle out of the other half, where the yarn hangs, and knit with that point.",
            listed(counts)
        ),
        Method::TwoCirculars { .. } => format!(
            "Slip them onto two circular needles: {}. The stitches of each are worked with its own other end.",
            listed(counts)
        ),
        Method::FourDpns => format!(
            "Slip them onto three needles: {}. Work with the empty one.",
            listed(counts)
        ),
        Method::FiveDpns => format!(
            "Slip them onto four needles: {}. Work with the empty one.",
            listed(counts)
        ),
        Method::ShortCircular { .. } => {
            "Spread them round the whole needle. The round begins after the last one.".into()
        }
    }
}

fn seat_heel(method: Method, counts: &[u16]) -> String {
    match method {
        Method::MagicLoop { .. } => format!(
            "Slide the stitches, without working them, until needle 1 holds the heel alone: {}. The round begins at its side.",
            listed(counts)
        ),
        _ => format!(
            "The heel gets needle 1 to itself. Slip stitches purlwise from needle to needle until they hold {}. The round begins at the heel’s side.",
            listed(counts)
        ),
    }
}

fn seat_middle(method: Method, counts: &[u16]) -> String {
    let here = "The round begins here from now on, in the middle of the sole.";
    match method {
        Method::ShortCircular { .. } => here.into(),
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => format!(
            "{here} {} the stitches until the needles hold {}.",
            shift(method),
            listed(counts)
        ),
        Method::FourDpns | Method::FiveDpns => format!(
            "{here} Slip stitches from needle to needle until they hold {}.",
            listed(counts)
        ),
    }
}

const fn cross_begin(method: Method) -> &'static str {
    match method {
        Method::MagicLoop { .. } => {
            "Pull the cable out here. From now on the round begins here, in the middle of the heel."
        }
        Method::TwoCirculars { .. } => {
            "From now on the round begins here, in the middle of the heel. Slide these stitches back along the cable and go on with the same needle."
        }
        Method::FourDpns | Method::FiveDpns => {
            "From now on the round begins here, in the middle of the heel. Leave these stitches on their needle and go on with the empty one."
        }
        Method::ShortCircular { .. } => {
            "From now on the round begins here, in the middle of the heel."
        }
    }
}

const fn instep_first(method: Method) -> &'static str {
    match method {
        Method::MagicLoop {
            seating: Seating::EvenHalves,
        } => {
            "Slide the instep stitches up to the needle’s tip and knit the first half of them. Then pull the cable out: needle 1 ends here, in the middle of the instep."
        }
        Method::TwoCirculars {
            seating: Seating::EvenHalves,
        } => {
            "Go on with the same needle over the first half of the instep. Needle 1 ends here; the rest stays on needle 2."
        }
        Method::FourDpns => {
            "Across the instep, on its own needle. The open gap at the flap comes next."
        }
        Method::FiveDpns => "The first half of the instep, on its own needle.",
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => "Across the instep, on needle 2.",
        Method::ShortCircular { .. } => {
            "Across the instep. The marker that was the round’s beginning now shows where the instep ends."
        }
    }
}
