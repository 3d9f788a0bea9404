//! The choices: what is asked, and the name of each answer with a sentence about it.

use crate::text::{Named, Sentence};

const fn named(name: &'static str, note: &'static str) -> Named {
    Named { name, note }
}

const fn plain(name: &'static str) -> Named {
    named(name, "")
}
pub(crate) const UNIT_CM: Named = plain("cm");
pub(crate) const UNIT_INCH: Named = plain("inches");

pub(crate) const GAUGE_BY: Sentence =
    Sentence::Worded(|wording| format!("The {}", wording.english.gauge()));
pub(crate) const BY_SWATCH: Named = plain("I have a swatch");
pub(crate) const BY_GUESS: Named = plain("No swatch yet");

pub(crate) const WEIGHT: Sentence = Sentence::Fixed("The yarn is");
pub(crate) const WEIGHT_LACE: Named = named("Lace", "2-ply or 3-ply: thinner than sock yarn.");
pub(crate) const WEIGHT_FINGERING: Named = named("Fingering", "4-ply: most sock yarn.");
pub(crate) const WEIGHT_SPORT: Named = named("Sport", "5-ply: a little thicker.");
pub(crate) const WEIGHT_DK: Named = named("DK", "8-ply: for house socks and boots.");
pub(crate) const WEIGHT_WORSTED: Named = named("Worsted", "10-ply, or aran: for thick socks.");
pub(crate) const WEIGHT_BULKY: Named = named("Bulky", "12-ply, or chunky: for slippers.");

pub(crate) const DIRECTION: Sentence = Sentence::Fixed("The sock is knitted");
pub(crate) const CUFF_DOWN: Named = named(
    "From the cuff down",
    "The usual way; the toe is closed last.",
);
pub(crate) const TOE_UP: Named = named(
    "From the toe up",
    "Begun closed at the toe; it can be tried on, and the leg takes what yarn is left.",
);

pub(crate) const EDGE: Sentence = Sentence::Fixed("The top");
pub(crate) const RIB_TWO_BY_TWO: Named = named("2 by 2 rib", "Knit 2, purl 2: springy.");
pub(crate) const RIB_ONE_BY_ONE: Named = named("1 by 1 rib", "Knit 1, purl 1: finer and flatter.");
pub(crate) const RIB_THREE_BY_ONE: Named =
    named("3 by 1 rib", "Knit 3, purl 1: smooth, grips a little less.");
pub(crate) const RIB_TWISTED: Named = named(
    "Twisted rib",
    "Knit 1 through the back loop, purl 1: crisp.",
);
pub(crate) const HEM: Named = named("Folded hem", "Double and plain; grips less than rib.");
pub(crate) const HEM_PICOT: Named =
    named("Picot hem", "The same, folded along a row of small points.");
pub(crate) const ROLLED: Named = named(
    "Rolled",
    "Plain knitting that rolls by itself; grips least.",
);

pub(crate) const CAST_ON: Sentence = Sentence::Fixed("The cast-on");
pub(crate) const CAST_ON_LONG_TAIL: Named = named(
    "Long-tail",
    "The usual one: firm, and stretchy enough for most legs.",
);
pub(crate) const CAST_ON_TWISTED: Named = named(
    "Twisted long-tail",
    "A twist in every loop (German, or old Norwegian): stretchier. For high insteps and legs that must not be squeezed.",
);
pub(crate) const CAST_ON_KNITTED: Named = named(
    "Knitted on",
    "No long tail to guess, so none can be too short. Firmer: work it loosely.",
);

pub(crate) const CAST_ON_SLIP_KNOT: Named = named(
    "Slip knots",
    "Every stitch a slip knot: stretches as far as the rib does, and no tail can be too short. Slow.",
);

pub(crate) const CAST_ON_TUBULAR: Named = named(
    "Tubular",
    "For ribs of 1 by 1 and 2 by 2: the rib rolls round the edge and stretches as it does. Slow.",
);

pub(crate) const TOE_CAST_ON: Sentence = Sentence::Fixed("The toe’s cast-on");
pub(crate) const TOE_CAST_ON_MAGIC: Named = named(
    "Magic",
    "Loops laid alternately round two needles: no seam, no slack. Those of one needle are then knitted through the back loop.",
);
pub(crate) const TOE_CAST_ON_WRAPPED: Named = named(
    "Wrapped (Turkish)",
    "The yarn wound round two needles like a spring: quicker, and its loops are drawn up afterwards.",
);

pub(crate) const TOE_CAST_ON_PROVISIONAL: Named = named(
    "Provisional, crocheted",
    "For a toe in short rows: a chain of waste yarn over one needle, undone when the toe is done.",
);

pub(crate) const BIND_OFF: Sentence =
    Sentence::Worded(|wording| format!("The {}", wording.english.bind_off_noun()));
pub(crate) const BIND_OFF_PLAIN: Named = named(
    "Plain, a needle one size larger",
    "The one every knitter knows. Stretchy enough for most legs if you work it loosely.",
);
pub(crate) const BIND_OFF_SEWN: Named = named(
    "Sewn",
    "With a tapestry needle: soft and stretchy, looks like the cast-on edge. Slow.",
);
pub(crate) const BIND_OFF_TUBULAR: Named = named(
    "Tubular, grafted",
    "For ribs of 1 by 1 and 2 by 2: with a tapestry needle, the rib rolls round the edge and stretches as it does. Slow.",
);
pub(crate) const BIND_OFF_TOGETHER: Named = named(
    "Two together",
    "Two worked together, the new one slipped back: stretchy and neat, and nothing to thread.",
);
pub(crate) const BIND_OFF_YARN_OVER: Named = named(
    "With yarn overs",
    "A yarn over before every stitch, lifted over with it: stretches most; the edge waves a little.",
);

pub(crate) const HEEL: Sentence = Sentence::Fixed("The heel");
pub(crate) const HEEL_FLAP: Named = named(
    "Flap and gusset",
    "A thick flap behind the heel and a gusset beside it: fits most feet well.",
);
pub(crate) const HEEL_SHORT_ROW: Named = named(
    "Short rows",
    "Turned in short rows, without flap or gusset: quick, close, good for stripes.",
);
pub(crate) const HEEL_AFTERTHOUGHT: Named = named(
    "Afterthought",
    "Knitted last, in an opening between two rounds; easy to replace.",
);

pub(crate) const OPENING: Sentence = Sentence::Fixed("The opening for the heel");
pub(crate) const OPENING_WASTE_YARN: Named = named(
    "Waste yarn",
    "A row of it keeps the place and is drawn out later (forethought).",
);
pub(crate) const OPENING_SNIPPED: Named = named(
    "Snipped",
    "Nothing is knitted in; later a strand is snipped and its row drawn out.",
);

pub(crate) const TEXTURE: Sentence = Sentence::Fixed("The flap");
pub(crate) const FLAP_SLIPPED: Named = named(
    "Slipped stitch",
    "Slipped stitches above each other: thick, like a fine rib.",
);
pub(crate) const FLAP_PARTRIDGE: Named = named(
    "Eye of partridge",
    "Slipped stitches between each other: softer, with small dots.",
);
pub(crate) const FLAP_GARTER_EDGE: Named = named(
    "Slipped stitch, garter edge",
    "Three stitches of garter at both edges: easy to pick up from.",
);

pub(crate) const TURN: Sentence = Sentence::Fixed("The turn");
pub(crate) const TURN_ROUND: Named = named(
    "Round",
    "Each row a stitch longer: a rounded cup, suits most heels.",
);
pub(crate) const TURN_SQUARE: Named = named(
    "Square",
    "The middle third stays as wide as it is (the Dutch heel).",
);
pub(crate) const TURN_BAND: Named = named(
    "Band",
    "Like the square turn, under a flap that narrows first: rounder.",
);

pub(crate) const FLAP_BY: Sentence = Sentence::Fixed("Set the flap’s height by");
pub(crate) const FLAP_BY_ROWS: Named = plain("number of rows");
pub(crate) const FLAP_BY_HEIGHT: Named = plain("measured height");

pub(crate) const TOE: Sentence = Sentence::Fixed("The toe");
pub(crate) const TOE_ROUNDED: Named = named(
    "Wedge, rounded",
    "Narrows slowly, then in every round; grafted. Suits most feet.",
);
pub(crate) const TOE_EVEN: Named = named(
    "Wedge, even",
    "Narrows in every second round all the way: longer and straight; grafted.",
);
pub(crate) const TOE_LONG: Named = named(
    "Wedge, long",
    "Slower still at first, for long toes; grafted.",
);
pub(crate) const TOE_ROUND: Named = named(
    "Round",
    "Narrows evenly all round; the last stitches are drawn closed.",
);
pub(crate) const TOE_SHORT_ROW: Named = named(
    "Short rows",
    "Turned like a short-row heel, over the sole alone; its two halves are joined on top.",
);
pub(crate) const TOE_SHAPED: Named = named(
    "Shaped for left and right",
    "Slopes more at the little toe, as feet do. Each sock fits one foot; grafted.",
);

pub(crate) const FIRST_FOOT: Sentence = Sentence::Fixed("The first sock is for the");
pub(crate) const FOOT_LEFT: Named = plain("left foot");
pub(crate) const FOOT_RIGHT: Named = plain("right foot");

pub(crate) const PLACE: Sentence = Sentence::Fixed("Where it is knitted");
pub(crate) const PLACE_ALL_ROUND: Named = named(
    "All round the leg",
    "And on the instep. The stitch count is adjusted to whole repeats.",
);
pub(crate) const PLACE_FRONT: Named = named(
    "On the front",
    "Of the leg, and on the instep: as many repeats as fit, in the middle.",
);
pub(crate) const ROUNDS_BY: Sentence =
    Sentence::Fixed("If pattern and plain knitting differ in height");
pub(crate) const ROUNDS_BY_PLAIN: Named = named(
    "Go by the plain side",
    "The sole lies flat; the pattern stretches or gathers a little.",
);
pub(crate) const ROUNDS_BY_BETWEEN: Named =
    named("Halfway between", "Both give way, each by half.");
pub(crate) const ROUNDS_BY_PATTERN: Named = named(
    "Go by the pattern",
    "The pattern lies as on its swatch; the plain side follows.",
);

pub(crate) const METHOD: Sentence = Sentence::Fixed("What you knit on");
pub(crate) const MAGIC_LOOP: Named = named(
    "Magic loop",
    "One long circular, its cable pulled out between two halves.",
);
pub(crate) const TWO_CIRCULARS: Named = named(
    "Two circulars",
    "Two circular needles; each works its own half.",
);
pub(crate) const FOUR_DPNS: Named = named(
    "Four double-pointed",
    "Three hold the stitches, you knit with the fourth.",
);
pub(crate) const FIVE_DPNS: Named = named(
    "Five double-pointed",
    "Four hold the stitches, you knit with the fifth.",
);
pub(crate) const SHORT_CIRCULAR: Named = named(
    "One short circular",
    "Stitches all the way round it; the toe moves to a long circular.",
);

pub(crate) const CIRCULAR_LENGTH: Sentence = Sentence::Fixed("Length of the circular");
pub(crate) const CIRCULAR_20: Named = plain("20 cm, 8 in");
pub(crate) const CIRCULAR_23: Named = plain("23 cm, 9 in");
pub(crate) const CIRCULAR_25: Named = plain("25 cm, 10 in");
pub(crate) const CIRCULAR_30: Named = plain("30 cm, 12 in");

pub(crate) const SEATING: Sentence = Sentence::Fixed("After the heel, the stitches sit");
pub(crate) const EVEN_HALVES: Named = named(
    "In even halves",
    "The round begins at the middle of the sole. Each needle has half the sole and half the instep: always the same number on both.",
);
pub(crate) const INSTEP_AND_SOLE: Named = named(
    "Instep and sole apart",
    "One needle has the instep, the other the sole with both gussets. The round begins at the side.",
);

pub(crate) const CORNERS: Named = named(
    "Pick up in the corners too",
    "One more stitch where flap and instep meet, on both sides, to prevent holes.",
);
pub(crate) const PATTERNED: Named = named(
    "A stitch pattern on leg and instep",
    "One repeat as a chart. Toe, heel and sole stay plain.",
);
pub(crate) const HIGH_INSTEP: Named = named(
    "A high instep",
    "A longer flap and with it a wider gusset; in a short-row heel, rounds in its middle.",
);
pub(crate) const WIDE_TOES: Named = named(
    "Wide toes",
    "The toe ends eight stitches wider: four above and four below.",
);
pub(crate) const TENDER_LEGS: Named = named(
    "Tender or swollen legs",
    "Leg and cuff without negative ease; the stretchiest cast-on or edge.",
);
pub(crate) const NARROW_HEEL: Named = named(
    "A narrow heel",
    "The cup of the heel is two stitches narrower.",
);

/// What is wrong with where stitches sit.
pub(crate) const AT_SEATING: Sentence = Sentence::Fixed("Where stitches sit");
