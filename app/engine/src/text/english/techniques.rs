//! Hard moves, explained in a few sentences each.

use crate::text::knitting_hand::KnittingHand;
use crate::text::technique::Technique;
use crate::text::variety::English;

impl Technique {
    /// What it is called: what leans in the fabric, by the side it leans to there.
    pub const fn name(self, english: English, hand: KnittingHand) -> &'static str {
        match self {
            Self::K2tog => "Knit 2 together (k2tog)",
            Self::Ssk => "Slip, slip, knit (ssk)",
            Self::P2tog => "Purl 2 together (p2tog)",
            Self::PickUp => "Pick up and knit",
            Self::MakeLeft | Self::MakeRight => {
                if matches!(
                    (self, hand),
                    (Self::MakeLeft, KnittingHand::Right) | (Self::MakeRight, KnittingHand::Left)
                ) {
                    "Make 1 left (m1l)"
                } else {
                    "Make 1 right (m1r)"
                }
            }
            Self::Double => "Double stitch (DS)",
            Self::DoubleWorked => "Working a double stitch (DS)",
            Self::Graft => "Grafting (Kitchener stitch)",
            Self::ClosedCastOn => "Magic cast-on",
            Self::WrappedCastOn => "Wrapped (Turkish) cast-on",
            Self::ProvisionalCastOn => "Provisional cast-on",
            Self::TubularEdge => "Tubular edge",
            Self::Crossing => "Picking up the gusset",
            Self::Slip => "Slipping a stitch",
            Self::YarnOver => "Yarn over (yo)",
            Self::Twisted => "Through the back loop (tbl)",
            Self::DrawnClosed => "Drawing closed",
            Self::Corner => "Closing a corner",
            Self::Waste => "Waste yarn",
            Self::SnippedRow => "Snipping a row",
            Self::Cable => "Cable",
            Self::Knit => "Knit",
            Self::Purl => "Purl",
            Self::LongTail => "Long-tail cast-on",
            Self::Join => "Joining in the round",
            Self::MagicLoop => "Magic loop",
            Self::TwistedLongTail => "Twisted long-tail cast-on",
            Self::KnittedOn => "Knitted cast-on",
            Self::SlipKnot => "Slip-knot cast-on",
            Self::TubularCastOn => "Tubular (Italian) cast-on",
            Self::PlainBindOff => english.binding_off_capital(),
            Self::SewnBindOff => english.sewn_bind_off(),
            Self::TubularBindOff => english.tubular_bind_off(),
            Self::TogetherBindOff => english.bind_off_of_two(),
            Self::YarnOverBindOff => english.bind_off_with_yarn_overs(),
            Self::JoinedHem => "Joining a hem",
            Self::SewnHem => "Sewing a hem down",
        }
    }

    /// How it is done; for a knitter whose left hand takes the stitches everything is the mirror image. That
    /// decreases then lean to the other side is common practice, no source.
    #[allow(clippy::too_many_lines)] // one arm for each move
    pub fn text(self, english: English, hand: KnittingHand) -> String {
        let (right, left) = (hand.right(), hand.left());
        match self {
            Self::K2tog => {
                format!("Put the {right} needle into two stitches at once, as if to knit: through the second and then the first. Knit them as one. The second lies on top, so the decrease leans to the {right}.")
            }
            Self::Ssk => {
                format!("Slip two stitches to the {right} needle, one after the other, each as if to knit. Put the {left} needle into the fronts of both and knit them as one from there. The decrease leans to the {left}.")
            }
            Self::P2tog => {
                format!("Put the {right} needle into the next two stitches at once, as if to purl, and purl them as one. Seen from the right side it leans to the {right}.")
            }
            Self::PickUp => {
                "With the right side facing you, put the needle under both strands of a chain at the edge. Lay the yarn round it and draw a loop through: a new stitch. In a corner go in where the fabric is firm, so that no hole stays.".into()
            }
            Self::MakeLeft => {
                format!("With the {left} needle lift the strand between the needles from front to back. Knit it through its back leg: it twists, leans to the {left} and leaves no hole.")
            }
            Self::MakeRight => {
                format!("With the {left} needle lift the strand between the needles from back to front. Knit it through its front leg: it twists, leans to the {right} and leaves no hole.")
            }
            Self::Double => {
                "After the turn slip the first stitch as if to purl, the yarn in front. Pull the yarn up and over the needle to the back, until both legs of the stitch lie on the needle like two. It still counts as one. Keep the yarn snug while you work the next stitch.".into()
            }
            Self::DoubleWorked => {
                "Put the needle under both legs of the double stitch and knit, or purl, them as one. Two legs were one stitch, so the count stays.".into()
            }
            Self::Graft => {
                "The thread makes a row of stitches between the two needles. Each stitch is met twice: in front, as if to knit and off, the next as if to purl and left on; behind, as if to purl and off, the next as if to knit and left on. After a few pairs draw the loops to the size of your stitches.".into()
            }
            Self::ClosedCastOn => {
                format!("Two needles held together get loops alternately, the lower one from the finger’s strand, the upper one from the thumb’s; behind the needles the strands hook into each other, so that the toe is closed from the start. Knit across the one needle, turn the work like a wheel and knit across the other. The upper needle’s loops have their {right} leg behind: they are knitted through the back loop, or they would twist.")
            }
            Self::WrappedCastOn => {
                "The yarn goes round two needles held together like a spring, up behind both and down in front of both, so that each time round lays a loop on each needle. Knit across the one needle, turn the work like a wheel and knit across the other. Loose loops are drawn up afterwards, towards the tail.".into()
            }
            Self::ProvisionalCastOn => {
                format!("A chain of smooth waste yarn is crocheted round the needle: each chain stitch leaves one loop on it. Later the chain is undone from the end where it was finished, and each loop of the sock’s own yarn that comes free goes onto a needle, its {right} leg in front. Between so many stitches lie one fewer whole loops; half a loop at the end makes up for it.")
            }
            Self::TubularEdge => {
                "Knit and purl stitches alternate. In one round only the knit stitches are knitted and the purl stitches slipped with the yarn in front, in the next only the purl stitches are purled and the knit ones slipped with the yarn behind. So front and back of the edge are two layers that hang together at the end only, and the rib rolls round it.".into()
            }
            Self::Crossing => {
                format!("After the heel is turned the sock becomes round again. From the middle of the heel knit to its edge, pick up along its {left} edge, knit the instep, pick up along the {right} edge, and end with the half of the heel that waited. Until the second pick-up there is one open gap, between instep and flap: that is as it should be.")
            }
            Self::Slip => {
                format!("Put the {right} needle into the stitch as if to purl and move it across unworked. The yarn stays on the wrong side of the fabric: behind while the right side faces you, in front while the wrong side does. With the yarn in front it lies in front of the needles whichever side faces you.")
            }
            Self::YarnOver => {
                format!("Bring the yarn to the front between the needles and lay it over the {right} one, then work on. The strand is a new stitch with a hole under it.")
            }
            Self::Twisted => {
                format!("Put the needle into the back leg of the stitch instead of the front one, and knit it. A stitch mounted the usual way, its {right} leg in front, twists: its legs cross and it stands out more firmly. One whose {right} leg lies behind comes out open.")
            }
            Self::DrawnClosed => {
                "Cut the yarn, thread it and take it through all stitches, one after the other, as if to purl, twice round. Let the needles go and pull until the hole is shut. Take the end to the inside.".into()
            }
            Self::Corner => {
                format!("Where heel and instep meet the fabric is pulled apart. With the {left} needle lift a loop there, a leg of a firm stitch rather than a long strand. Beside the first heel stitch knit both together; beside the last one slip that stitch as if to knit, lift the loop and knit the two as for an ssk.")
            }
            Self::Waste => {
                format!(
                    "Let the working yarn hang and knit the heel’s stitches with a smooth piece of another {}. Slide them back to the {left} needle and knit them once more, with the working yarn. Later the piece is pulled out and leaves two rows of open stitches.",
                    english.colour()
                )
            }
            Self::SnippedRow => {
                "Stitches below and above the row lie on needles before anything is cut, so that nothing can run. Snip one strand in the middle of the row and draw it out to both sides, stitch by stitch, with a needle’s point. Leave the last stitch at each end in: its end is woven in later and closes the corner.".into()
            }
            Self::Cable => {
                format!("Slip the first stitches to a cable needle and hold it in front or in back of the work, as it says. Work the next ones from the {left} needle, then those from the cable needle. Held in front the cable leans to the {left}, in back to the {right}.")
            }
            Self::Knit => {
                format!("Put the {right} needle into the stitch from front to back, take the yarn round it and draw a loop through. The old stitch slips off.")
            }
            Self::Purl => {
                format!("The yarn is in front. Put the {right} needle into the stitch from the {right}, in front of the other needle, take the yarn over it and push a loop through to the back.")
            }
            Self::LongTail => {
                "Each stitch is a loop of the yarn, with a half hitch of the tail below it. Two strands make it, so a long tail is left before the first one.".into()
            }
            Self::Join => {
                "The first stitch that was cast on is knitted next, with the yarn from the last one: so the row becomes a ring. Look first that its edge is not twisted round the needle; that cannot be fixed later.".into()
            }
            Self::MagicLoop => {
                "One long circular needle holds the sock in two halves. The half in front is knitted while the other one waits on the cable; then the work is turned.".into()
            }
            Self::TwistedLongTail => {
                "A long-tail cast-on with one twist more in each loop, which lets the edge stretch farther. The needle goes under both strands at the thumb and comes down into the thumb’s loop from above before it fetches the yarn from the finger.".into()
            }
            Self::KnittedOn => {
                format!("Put the {right} needle into the last loop as if to knit and draw a new one through. Put that onto the {left} needle, beside the old one, which stays on. Work loosely: the edge is firm.")
            }
            Self::SlipKnot => {
                format!("Each stitch is a slip knot, put onto the needle and drawn snug. The strand that is drawn through the loop is the one to the {}, so no long tail is needed.", english.ball())
            }
            Self::TubularCastOn => {
                "Loops are laid on the needle alternately: a knit one from the finger’s strand, a purl one from the thumb’s. The edge has no knots, so it stretches as the rib does. Keep both strands taut until the next row is begun, for nothing else holds the last loop.".into()
            }
            Self::PlainBindOff => {
                format!("With two stitches on the {right} needle the first is lifted over the second and off. So each stitch holds the one before it, and the last one is held by the end of the yarn. Work loosely, with a larger needle: the edge has to pass the heel.")
            }
            Self::SewnBindOff => {
                "The thread goes through two stitches as if to purl and back through the first as if to knit, and that one is slipped off. Draw it up loosely, so that the edge can stretch.".into()
            }
            Self::TubularBindOff => {
                "A thread grafts the knit stitches to the purl stitches, so that the rib rolls round the edge. Each stitch is met twice: a knit one as if to purl and left on, then as if to knit and off; a purl one from behind as if to knit and left on, then as if to purl and off.".into()
            }
            Self::TogetherBindOff => {
                format!("Two stitches are knitted together through the back loop, and the new one goes back to the {left} needle, to be taken together with the next. Where the second of the two is a purl stitch they are purled together.")
            }
            Self::YarnOverBindOff => {
                "The yarn is laid over the needle before each stitch: backwards before a knit stitch, the usual way before a purl stitch. Then the yarn over and the stitch before are lifted over the new one. The yarn overs lengthen the edge, so that it stretches most of all.".into()
            }
            Self::JoinedHem => {
                format!("The hem is folded inside, so that its cast-on edge lies behind the needle. With the {left} needle lift the loop of that edge that lies behind the next stitch, and knit the two together. Go on column by column, or the hem would lie askew.")
            }
            Self::SewnHem => {
                "The hem is folded inside, its stitches still on the needle. The thread goes through the first of them as if to purl, and through the bump in the same column below it; so each one is held. Draw it no tighter than your knitting.".into()
            }
        }
    }
}
