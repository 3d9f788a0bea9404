//! What the hands do in each frame of a move. One caption a frame, in order.

use evenloop_engine::text::{English, KnittingHand};

/// For whom the frames are drawn, and the other way round.
pub(crate) const LEFT_HANDED: &str = "For left-handed knitting";
pub(crate) const LEFT_HANDED_NOTE: &str =
    "The stitches go from the right needle to the left one, and everything is the mirror image.";
pub(crate) const BACK: &str = "Back";
pub(crate) const NEXT: &str = "Next";
pub(crate) const PLAY: &str = "Play";
pub(crate) const STOP: &str = "Stop";
/// What the frames are, for the ear.
pub(crate) const FRAMES: &str = "Step by step";

/// Which frame is shown.
pub(crate) fn frame(number: usize, of: usize) -> String {
    format!("{number} of {of}")
}

/// The side of the hand that takes the stitches, and the other side.
const fn sides(hand: KnittingHand) -> (&'static str, &'static str) {
    (hand.right(), hand.left())
}

pub(crate) fn knit(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!("The yarn is behind. The next stitch is the first one on the {left} needle."),
        format!(
            "Put the {right} needle into it from front to back, over the leg in front and under the {left} needle."
        ),
        format!(
            "Take the yarn round the {right} needle: up behind its point and back between the two needles."
        ),
        "Draw that loop through the stitch to the front.".to_owned(),
        format!(
            "Let the old stitch slip off the {left} needle. It hangs round the foot of the new one."
        ),
    ]
}

pub(crate) fn purl(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        "The yarn is in front. You see the bumps of the purl side.".to_owned(),
        format!(
            "Put the {right} needle into the next stitch from the {right}: under its leg in front, and in front of the {left} needle."
        ),
        format!("Take the yarn over the {right} needle, down behind it, and to the front again."),
        "Push that loop through the stitch to the back.".to_owned(),
        format!(
            "Let the old stitch slip off the {left} needle. Its head is the bump in front of the new stitch."
        ),
    ]
}

pub(crate) fn k2tog(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!("Two stitches are to become one: the first two on the {left} needle."),
        format!(
            "Put the {right} needle into both at once from front to back: through the second, then the first."
        ),
        format!("Take the yarn round the {right} needle as for a knit stitch."),
        "Draw the loop through both stitches to the front.".to_owned(),
        format!("Let both slip off. The second one lies on top, so they lean to the {right}."),
    ]
}

pub(crate) fn ssk(hand: KnittingHand) -> [String; 7] {
    let (right, left) = sides(hand);
    [
        format!("Two stitches are to become one: the first two on the {left} needle."),
        format!("Put the {right} needle into the first one as if to knit."),
        format!("Slip it to the {right} needle. It has turned: its {left} leg is in front now."),
        "Slip the second one the same way, by itself.".to_owned(),
        format!(
            "Put the {left} needle into the fronts of both, from the {left}. The {right} needle lies behind."
        ),
        format!("Take the yarn round the {right} needle and draw it through both."),
        format!("Let both slip off. The first one lies on top, so they lean to the {left}."),
    ]
}

pub(crate) fn p2tog(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!(
            "The yarn is in front. The first two stitches on the {left} needle are to become one."
        ),
        format!(
            "Put the {right} needle into both at once as if to purl: under both legs in front."
        ),
        format!("Take the yarn over the {right} needle and down behind it."),
        "Push the loop through both stitches to the back.".to_owned(),
        "Let both slip off the needle. One stitch is left of the two.".to_owned(),
    ]
}

pub(crate) fn through_the_back_loop(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!("The yarn is behind. The first stitch on the {left} needle is knitted twisted."),
        format!(
            "Put the {right} needle behind the {left} one, into the leg at the back, from the {right}."
        ),
        format!("Take the yarn round the {right} needle as for a knit stitch."),
        "Draw the loop through to the front.".to_owned(),
        "Let the old stitch slip off. Its legs cross below the new one.".to_owned(),
    ]
}

pub(crate) fn slip(hand: KnittingHand) -> [String; 4] {
    let (right, left) = sides(hand);
    [
        "The yarn is behind and stays there.".to_owned(),
        format!("Put the {right} needle into the stitch as if to purl."),
        format!("Move it from the {left} needle to the {right} one. It is not worked."),
        "Knit the next stitch. The yarn runs behind the slipped one: do not pull it tight."
            .to_owned(),
    ]
}

pub(crate) fn yarn_over(hand: KnittingHand) -> [String; 4] {
    let (right, _) = sides(hand);
    [
        "The yarn is behind, as after a knit stitch.".to_owned(),
        "Bring it to the front, between the points of the two needles.".to_owned(),
        format!("Lay it over the {right} needle to the back."),
        "Knit the next stitch. The strand over the needle is a new stitch, with a hole below it."
            .to_owned(),
    ]
}

pub(crate) fn make_left(hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        "Between the two needles runs a strand, from the last stitch to the next.".to_owned(),
        format!("Lift it with the {left} needle, from front to back."),
        format!(
            "Put the {right} needle into the leg at the back. That is tight, and as it should be."
        ),
        format!("Take the yarn round the {right} needle."),
        "Draw the loop through to the front.".to_owned(),
        format!(
            "Let the strand slip off. Its legs cross: no hole, and a new stitch that leans to the {left}."
        ),
    ]
}

pub(crate) fn make_right(hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        "Between the two needles runs a strand, from the last stitch to the next.".to_owned(),
        format!("Lift it with the {left} needle, from back to front."),
        format!(
            "Put the {right} needle into the leg in front: its point draws that leg to the {right}, and the two cross."
        ),
        format!("Take the yarn round the {right} needle."),
        "Draw the loop through to the front.".to_owned(),
        format!(
            "Let the strand slip off. Its legs cross: no hole, and a new stitch that leans to the {right}."
        ),
    ]
}

pub(crate) fn double(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!(
            "You have turned. The stitch you worked last is now the first on the {left} needle; the yarn hangs from it."
        ),
        format!(
            "Bring the yarn to the front. Put the {right} needle into that stitch as if to purl."
        ),
        format!("Slip it to the {right} needle. The yarn hangs in front."),
        "Pull the yarn up and over the needle to the back, until the two legs of the stitch lie over it."
            .to_owned(),
        "Keep it snug and work the next stitch. The two legs count as one stitch.".to_owned(),
    ]
}

pub(crate) fn double_worked(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!("The double stitch is next on the {left} needle: two legs over it."),
        format!("Put the {right} needle under both legs at once."),
        format!("Take the yarn round the {right} needle."),
        "Draw the loop through, below both legs, to the front.".to_owned(),
        "Let both legs slip off together. The two legs were one stitch: the count stays."
            .to_owned(),
    ]
}

pub(crate) fn pick_up(hand: KnittingHand) -> [String; 5] {
    let (right, _) = sides(hand);
    [
        "The edge of the flap lies on top, the right side facing you: a chain of long stitches. The yarn is behind.".to_owned(),
        format!(
            "Put the {right} needle in below the next chain, from front to back, so that both its strands lie on it."
        ),
        "Take the yarn round the needle behind the fabric.".to_owned(),
        "Draw the loop through to the front.".to_owned(),
        "That is one stitch. Each chain gets one.".to_owned(),
    ]
}

pub(crate) fn graft(hand: KnittingHand) -> [String; 8] {
    let (right, left) = sides(hand);
    [
        format!(
            "Drawn laid flat: the front needle below, the back needle above. You work from the {right} to the {left}."
        ),
        "To begin, front needle: through the first stitch as if to purl. It stays on.".to_owned(),
        "To begin, back needle: through the first stitch as if to knit. It stays on.".to_owned(),
        "Front needle: through the first stitch as if to knit. Let it off.".to_owned(),
        "Front needle: through the next stitch as if to purl. It stays on.".to_owned(),
        "Back needle: through the first stitch as if to purl. Let it off.".to_owned(),
        "Back needle: through the next stitch as if to knit. It stays on.".to_owned(),
        "Repeat the last four. Drawn up, the thread is a row of V’s like all the others."
            .to_owned(),
    ]
}

pub(crate) fn magic_loop(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!(
            "Half the stitches lie on each needle. Both points look to the {right}, the cable makes a loop at the {left}. The yarn hangs at the needle behind."
        ),
        format!(
            "Pull the needle behind out to the {right}. Its stitches slide onto the cable, and the needle is free to knit."
        ),
        "Knit the stitches in front with it. Pull the first one snug.".to_owned(),
        "All of this half is knitted: that is half a round. Turn the work round.".to_owned(),
        "The other half lies in front. Slide both halves to the points, and begin again."
            .to_owned(),
    ]
}

pub(crate) fn join(hand: KnittingHand) -> [String; 4] {
    let (right, _) = sides(hand);
    [
        format!(
            "Shown on magic loop; on other needles the same two stitches meet. The lower edge hangs down all the way round, nowhere twisted. The yarn comes from the stitch cast on last; the first one, with the tail, lies at the {right} of the front needle."
        ),
        "Pull out the needle behind, so that you can knit with it.".to_owned(),
        "Knit into the first stitch you cast on, with the yarn from the last one.".to_owned(),
        "Pull the yarn snug: the ring is closed. The round begins here.".to_owned(),
    ]
}

pub(crate) fn long_tail(hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        format!(
            "The needle is in the {right} hand. In the {left} hand the yarn goes over the finger, and the tail round the thumb."
        ),
        "Go with the point under the strand in front of the thumb, from below.".to_owned(),
        "With that strand on the needle go on to the yarn at the finger.".to_owned(),
        "Go over it, so that it lies round the point.".to_owned(),
        "Draw it back down, through the loop that is round the thumb.".to_owned(),
        "Take the thumb out and pull the tail. A new stitch, with a bump of the tail below it."
            .to_owned(),
    ]
}

pub(crate) fn closed_cast_on(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!(
            "Hold two needles in the {right} hand, one above the other, points to the {left}. The yarn goes from behind over the upper one, down in front and between the two to the back; its tail goes over the finger, the working yarn over the thumb."
        ),
        "The finger’s strand: from behind under the lower needle, up in front and between the two to the back."
            .to_owned(),
        "The thumb’s strand: from behind over the upper needle, down in front and between the two to the back. Behind the needles it hooks round the other one."
            .to_owned(),
        "And the finger’s strand once more, round the lower needle. Go on alternately.".to_owned(),
        format!(
            "As many loops on each needle as you need; the newest ones are at the {left}. Between the needles the toe is closed."
        ),
    ]
}

pub(crate) fn wrapped_cast_on(hand: KnittingHand) -> [String; 4] {
    let (right, left) = sides(hand);
    [
        format!(
            "Hold two needles together in the {left} hand, their points to the {right}. The tail hangs in front of both, under the thumb. Take the yarn under both to the back, up behind both, over the top and down in front."
        ),
        format!("Once more round both, to the {right} of the first time."),
        "Each time over the top lays a loop on each needle.".to_owned(),
        format!(
            "As many times as each needle needs stitches. After the last time over the top the yarn goes between the two to the back. The upper needle is knitted first; its stitches have their {right} leg in front."
        ),
    ]
}

pub(crate) fn cable(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!(
            "Shown with one stitch over one: the first two on the {left} needle change places."
        ),
        "Slip the first one to a cable needle and hold it in front of the work.".to_owned(),
        format!("Knit the second one from the {left} needle, behind it."),
        format!(
            "Put the one that waited back on the {left} needle, or knit it from the cable needle."
        ),
        format!(
            "Both are on the {right} needle. The first lies on top and leans to the {left}. Held in back it would lie below, and the other would lean to the {right}."
        ),
    ]
}

pub(crate) fn plain_bind_off(english: English, hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!(
            "In the middle of the edge: one stitch is on the {right} needle, and beside it lies the edge that is {}, a chain.",
            english.bound_off()
        ),
        "Work the next stitch, loosely: knit a knit stitch, purl a purl one. Now there are two, as after the first two stitches of the edge."
            .to_owned(),
        format!(
            "Put the {left} needle into the {right} one of the two, from the {left}, under its leg in front."
        ),
        format!("Lift it over the other stitch and over the point of the {right} needle."),
        format!(
            "Let it go. It lies round the foot of the other one, which stays on the {right} needle: one stitch is {}.",
            english.bound_off()
        ),
    ]
}

pub(crate) fn bind_off_of_two(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!(
            "In the middle of the edge: the first stitch on the {left} needle is the one made last, which was slipped back; the second has not been worked yet."
        ),
        format!(
            "Put the {right} needle behind the {left} one, into the legs at the back of both, from the {right}."
        ),
        format!("Take the yarn round the {right} needle as for a knit stitch."),
        "Draw the loop through both and let them slip off. One new stitch; the first of the two lies round its foot."
            .to_owned(),
        format!(
            "Slip it back to the {left} needle as if to purl, and begin again with it and the next one. Before a purl stitch bring the yarn to the front and purl the two together."
        ),
    ]
}

pub(crate) fn bind_off_with_yarn_overs(english: English, hand: KnittingHand) -> [String; 7] {
    let (right, left) = sides(hand);
    [
        format!(
            "In the middle of the edge: one stitch is on the {right} needle, and beside it lies the edge that is {}.",
            english.bound_off()
        ),
        format!(
            "Before a knit stitch lay the yarn over the {right} needle backwards: from behind over the top to the front, and below the needle to the back again."
        ),
        "Knit the next stitch. The yarn over lies beside it, and then the stitch from before."
            .to_owned(),
        format!("With the {left} needle lift the yarn over across the new stitch and off."),
        "Lift the stitch from before across it too, and off.".to_owned(),
        format!(
            "One stitch stays on the needle, and one is {}. Begin again.",
            english.bound_off()
        ),
        format!(
            "Before a purl stitch: the yarn is in front. Lay it over the {right} needle to the back, and below the needle to the front again. Then purl, and lift both across."
        ),
    ]
}

pub(crate) fn sewn_bind_off(english: English, hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        format!(
            "In the middle of the edge: the yarn is cut and threaded. The stitches on the {left} needle wait; those at the {right} are {}.",
            english.bound_off()
        ),
        format!(
            "Put the threaded needle through the first two stitches as if to purl, from the {right} to the {left}."
        ),
        "Draw the thread through both. They stay on.".to_owned(),
        format!(
            "Go back through the first one as if to knit, from the {left} to the {right}: in at the front, out behind."
        ),
        format!(
            "Let that one off the {left} needle, and draw the thread up loosely. The next one is the first now."
        ),
        "Begin again: through two as if to purl, back through the first, and let it off. In front the thread lies over the edge like a cord that can stretch."
            .to_owned(),
    ]
}

pub(crate) fn tubular_bind_off(hand: KnittingHand) -> [String; 8] {
    let (_, left) = sides(hand);
    [
        format!(
            "The beginning of the edge: knit and purl stitches alternate. The yarn is cut and threaded; the first stitch on the {left} needle is a knit one."
        ),
        "To begin: through the first stitch, a knit one, as if to purl. It stays on.".to_owned(),
        "To begin: from behind between the two, and through the purl stitch as if to knit. It stays on."
            .to_owned(),
        "Through the knit stitch as if to knit. Let it off.".to_owned(),
        "Pass the purl stitch by, in front, and go through the next knit stitch as if to purl. It stays on."
            .to_owned(),
        "Through the purl stitch, now the first one, as if to purl. Let it off.".to_owned(),
        "From behind, between the knit stitch and the next purl stitch, and through that as if to knit. It stays on."
            .to_owned(),
        "Repeat the last four. Drawn up, the thread leads each knit stitch over to a purl stitch behind it, and the rib rolls round the edge."
            .to_owned(),
    ]
}

pub(crate) fn tubular_rounds(hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        format!(
            "The first of the two rounds: a knit stitch is next on the {left} needle, and it is knitted. The yarn is behind."
        ),
        "It is done; a purl stitch is next, and it is only slipped.".to_owned(),
        format!(
            "Bring the yarn to the front between the needles, and put the {right} needle into the purl stitch as if to purl."
        ),
        format!(
            "Move it to the {right} needle. The yarn passes in front of it, then to the back again."
        ),
        "Knit the next knit stitch. The yarn lies in front of the purl stitch. Go on like this all the way round."
            .to_owned(),
        "The second round is the other way round: the purl stitches are purled, and the knit ones slipped with the yarn behind."
            .to_owned(),
    ]
}

pub(crate) fn tubular_cast_on(hand: KnittingHand) -> [String; 8] {
    let (right, left) = sides(hand);
    [
        format!(
            "The needle is in the {right} hand, the loops so far on it. In the {left} hand the yarn goes over the finger and the tail over the thumb."
        ),
        "A knit loop: go with the point from in front under both strands.".to_owned(),
        "Up behind the finger’s strand, and forward over it.".to_owned(),
        "Out under the thumb’s strand: a knit loop of the finger’s lies on the needle.".to_owned(),
        "A purl loop: go from behind under both strands.".to_owned(),
        "Up in front of the thumb’s strand, and back over it.".to_owned(),
        "Out under the finger’s strand: a purl loop of the thumb’s lies on the needle.".to_owned(),
        "Alternate knit and purl loops. Under each loop runs the other strand. Keep both taut until the next row."
            .to_owned(),
    ]
}

pub(crate) fn twisted_long_tail(hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        format!(
            "The needle is in the {right} hand. In the {left} hand the yarn goes over the finger, and the tail round the thumb: one strand in front of it, one behind."
        ),
        "Go with the point under both strands at the thumb.".to_owned(),
        "Come down into the thumb’s loop from above, and towards you: the loop twists.".to_owned(),
        "Go over the yarn at the finger, so that it lies round the point.".to_owned(),
        "Bend the thumb, so that its loop opens, and draw the yarn back down through it: a loop lies on the needle."
            .to_owned(),
        "Take the thumb out and pull the tail. A new stitch, with a twist of the tail below it."
            .to_owned(),
    ]
}

pub(crate) fn knitted_on(hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        format!(
            "Some loops are on the {left} needle; the first of all was a slip knot. The yarn is behind."
        ),
        format!("Put the {right} needle into the last loop from front to back, as if to knit."),
        format!("Take the yarn round the {right} needle."),
        format!("Draw it through to the front. The old loop stays on the {left} needle."),
        format!(
            "Put the new loop onto the {left} needle, from the front: the {right} needle goes out of it."
        ),
        format!("Draw it up, not too tight. It is the last loop now, its {right} leg in front."),
    ]
}

pub(crate) fn slip_knot(english: English, hand: KnittingHand) -> [String; 5] {
    let (_, left) = sides(hand);
    [
        format!(
            "Slip knots are on the needle. From the last one the yarn goes to the {}, here to the {left}.",
            english.ball()
        ),
        format!(
            "Lay it in a ring, so that the end that goes to the {} lies behind the ring.",
            english.ball()
        ),
        "Fetch that end through the ring to the front: a loop.".to_owned(),
        "Put the loop onto the needle, and move the knot close to the last one.".to_owned(),
        "Draw it snug, so that it still slides. Each slip knot is one stitch.".to_owned(),
    ]
}

pub(crate) fn provisional_cast_on(english: English, hand: KnittingHand) -> [String; 8] {
    let (right, left) = sides(hand);
    [
        format!(
            "Smooth waste yarn of another {}: a slip knot is on the hook. The needle is in the {left} hand, its point to the {right}, the yarn behind it and the hook in front.",
            english.colour()
        ),
        "Some loops are on the needle. The yarn is behind it, and the last link of the chain on the hook."
            .to_owned(),
        "Take the hook over the needle and catch the yarn.".to_owned(),
        "Draw it over the needle and through the loop on the hook: one more loop lies on the needle."
            .to_owned(),
        "Bring the yarn under the needle to the back again. Go on like this towards the point."
            .to_owned(),
        "Chain three or four more beside the needle and cut the yarn. A knot in its end shows where the chain is undone later."
            .to_owned(),
        format!(
            "Later, the sock turned upside down: undo the chain from its knotted end. Each loop of the sock’s own yarn that comes free goes onto a needle, its {right} leg in front."
        ),
        "Loop by loop, until the chain is gone. There is one loop fewer than in the chain; half a loop at the end makes up for it."
            .to_owned(),
    ]
}

pub(crate) fn waste(english: English, hand: KnittingHand) -> [String; 8] {
    let (right, left) = sides(hand);
    [
        format!(
            "Let the working yarn hang. Take a smooth piece of another {}.",
            english.colour()
        ),
        "Knit the heel’s stitches with it. Its ends hang down.".to_owned(),
        format!("Slide them back to the {left} needle, without turning."),
        "Knit them once more, with the working yarn, and go on as if nothing had been. The piece lies in the fabric as one row."
            .to_owned(),
        "Later, the sock held so that each V stands on its point: the piece is a row of its own.".to_owned(),
        format!(
            "Put a needle through the {right} leg of each V in the row below it. Turn the sock upside down and put another one through the {right} legs beyond it; both are drawn the first way up."
        ),
        "Draw the piece out, stitch by stitch, with a needle’s point.".to_owned(),
        "Two rows of open stitches are on the needles. Above lies one fewer: half a loop at each end makes up for it."
            .to_owned(),
    ]
}

pub(crate) fn snipped_row(hand: KnittingHand) -> [String; 6] {
    let right = hand.right();
    [
        "The row in which the pin hangs, the sock held so that each V stands on its point."
            .to_owned(),
        format!("Put a needle through the {right} leg of each V in the row below it."),
        format!(
            "Turn the sock upside down and put another one through the {right} legs beyond the row; both are drawn the first way up. Nothing can run now."
        ),
        "Snip one strand in the middle of the row, and nothing else.".to_owned(),
        "Draw the yarn out to both sides, stitch by stitch, with a needle’s point.".to_owned(),
        "Leave the last stitch at each end in. Both ends are woven in later and close the corners."
            .to_owned(),
    ]
}

pub(crate) fn drawn_closed(hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        "The last stitches are on the needles. The yarn is cut and threaded.".to_owned(),
        format!(
            "Put the threaded needle through the first stitch as if to purl, from the {right} to the {left}."
        ),
        "On through all the others, one after the other, all the way round.".to_owned(),
        "Twice round, seen from above. Then let the needles go.".to_owned(),
        "Pull the thread: the hole is shut.".to_owned(),
        "Take the end through the middle to the inside, and weave it in there.".to_owned(),
    ]
}

pub(crate) fn corner(hand: KnittingHand) -> [String; 8] {
    let (right, left) = sides(hand);
    [
        format!(
            "Between the instep, on the {right} needle, and the first heel stitch the fabric is pulled apart. Below lies a firm stitch."
        ),
        format!("Lift a leg of it with the {left} needle. It lies before the heel stitch now."),
        format!(
            "Put the {right} needle into both at once, as if to knit: through the heel stitch, then the loop."
        ),
        "Knit them together: one stitch, and the gap is closed. The count stays.".to_owned(),
        "At the heel’s other end: the last heel stitch, and the firm stitch beyond it.".to_owned(),
        format!(
            "Slip the heel stitch to the {right} needle as if to knit: it turns. Lift the loop with the {left} one."
        ),
        format!("Put the {left} needle into the fronts of both, from the {left}, as for an ssk."),
        "Knit both together: this gap is closed, too.".to_owned(),
    ]
}

pub(crate) fn crossing(hand: KnittingHand) -> [String; 6] {
    let (right, left) = sides(hand);
    [
        format!(
            "Seen from above, the turned heel near you: the flap’s edges lie at the {left} and at the {right}, the instep waits opposite. The heel’s first half is knitted; it waits, and the round begins in the middle."
        ),
        "Knit the second half of the heel, up to the flap’s edge.".to_owned(),
        format!(
            "Pick up and knit along the {left} edge, one stitch out of each chain, up to the instep."
        ),
        format!(
            "Knit the instep. At the {right} there is still a gap between instep and flap: that is as it should be."
        ),
        format!(
            "Pick up and knit along the {right} edge, from the instep to the heel. The gap closes."
        ),
        "Knit the half of the heel that waited: the round is whole again.".to_owned(),
    ]
}

pub(crate) fn joined_hem(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        "The hem is folded inside: its cast-on edge lies behind the needles.".to_owned(),
        format!(
            "With the {left} needle lift the loop of that edge that lies behind the next stitch."
        ),
        format!(
            "Put the {right} needle into both at once, as if to knit: through the stitch, then the loop."
        ),
        format!("Take the yarn round the {right} needle and draw it through both."),
        "Let both off: one stitch, and the edge is joined there. The count stays.".to_owned(),
    ]
}

pub(crate) fn sewn_hem(hand: KnittingHand) -> [String; 5] {
    let (right, left) = sides(hand);
    [
        format!(
            "Seen from inside: the hem folded down, its stitches on a needle, below it the bumps of the sock. You sew from the {right} to the {left}."
        ),
        "Put the threaded needle through the first stitch as if to purl, and let it off."
            .to_owned(),
        "Then through the bump in the same column, of the last round before the hem.".to_owned(),
        "Draw the thread up no tighter than your knitting. That stitch is held.".to_owned(),
        "Stitch by stitch, always straight down: the edge has to stretch.".to_owned(),
    ]
}
