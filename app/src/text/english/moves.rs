//! What the hands do in each frame of a move. One caption a frame, in order.

use evenloop_engine::text::KnittingHand;

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
            "Put the {right} needle into the next stitch from the {right}: under its leg in front, and before the {left} needle."
        ),
        format!("Take the yarn over the {right} needle, down behind it, and to the front again."),
        "Push that loop through the stitch to the back.".to_owned(),
        format!(
            "Let the old stitch slip off the {left} needle. Its head is the bump before the new stitch."
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
        "The edge of the flap lies on top, the right side before you: a chain of long stitches. The yarn is behind.".to_owned(),
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
        "Go with the point under the strand before the thumb, from below.".to_owned(),
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
        "And the finger’s strand once more, round the lower needle. Go on by turns.".to_owned(),
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
