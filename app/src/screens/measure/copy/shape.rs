//! What Measure says of the choices that shape a sock.

use evenloop_engine::leg_length::LegName;

use crate::parts::Choice;

pub(in crate::screens::measure) const EDGE: &str = "The top";
pub(in crate::screens::measure) const EDGES: [Choice; 7] = [
    Choice::with_note("2 by 2 rib", "Knit 2, purl 2: springy."),
    Choice::with_note("1 by 1 rib", "Knit 1, purl 1: finer and flatter."),
    Choice::with_note("3 by 1 rib", "Knit 3, purl 1: smooth, holds a little less."),
    Choice::with_note(
        "Twisted rib",
        "Knit 1 through the back loop, purl 1: crisp.",
    ),
    Choice::with_note("Folded hem", "Double and plain; holds less than rib."),
    Choice::with_note("Picot hem", "The same, folded along a row of small points."),
    Choice::with_note(
        "Rolled",
        "Plain knitting that rolls by itself; holds least.",
    ),
];
pub(in crate::screens::measure) const TEXTURE: &str = "The flap";
pub(in crate::screens::measure) const TEXTURES: [Choice; 3] = [
    Choice::with_note(
        "Slipped stitch",
        "Slipped stitches above each other: thick, like a fine rib.",
    ),
    Choice::with_note(
        "Eye of partridge",
        "Slipped stitches between each other: softer, with small dots.",
    ),
    Choice::with_note(
        "Slipped stitch, garter edge",
        "Three stitches of garter at both edges: easy to pick up from.",
    ),
];
pub(in crate::screens::measure) const DIRECTION_STEP: &str = "Which end first";
pub(in crate::screens::measure) const DIRECTION: &str = "The sock is knitted";
pub(in crate::screens::measure) const DIRECTIONS: [Choice; 2] = [
    Choice::with_note(
        "From the cuff down",
        "The usual way; the toe is closed last.",
    ),
    Choice::with_note(
        "From the toe up",
        "Begun closed at the toe; it can be tried on, and the leg takes what yarn is left.",
    ),
];
pub(in crate::screens::measure) const HEEL_KIND: &str = "The heel";
pub(in crate::screens::measure) const HEEL_KINDS: [Choice; 3] = [
    Choice::with_note(
        "Flap and gusset",
        "A thick flap behind the heel and a gusset beside it: fits most feet well.",
    ),
    Choice::with_note(
        "Short rows",
        "Turned in short rows, without flap or gusset: quick, close, good for stripes.",
    ),
    Choice::with_note(
        "Afterthought",
        "A waste yarn keeps its place; it is knitted last, and easily knitted anew.",
    ),
];
pub(in crate::screens::measure) const TURN: &str = "The turn";
pub(in crate::screens::measure) const TURNS: [Choice; 3] = [
    Choice::with_note(
        "Round",
        "Each row a stitch longer: a rounded cup, suits most heels.",
    ),
    Choice::with_note(
        "Square",
        "The middle third stays as wide as it is (the Dutch heel).",
    ),
    Choice::with_note(
        "Band",
        "The same under a flap narrowed first: rounder than the square one.",
    ),
];
pub(in crate::screens::measure) const CORNERS: Choice = Choice::with_note(
    "Pick up in the corners too",
    "One more stitch where flap and instep meet, on both sides, against holes.",
);
pub(in crate::screens::measure) const TOE: &str = "The toe";
pub(in crate::screens::measure) const TOES: [Choice; 6] = [
    Choice::with_note(
        "Wedge, rounded",
        "Narrows slowly, then in every round; grafted. Suits most feet.",
    ),
    Choice::with_note(
        "Wedge, even",
        "Narrows in every second round all the way: longer and straight; grafted.",
    ),
    Choice::with_note(
        "Wedge, long",
        "Slower still at first, for long toes; grafted.",
    ),
    Choice::with_note(
        "Round",
        "Narrows evenly all round; the last stitches are drawn closed.",
    ),
    Choice::with_note(
        "Short rows",
        "Turned like a short-row heel, over the sole alone; its two halves are joined on top.",
    ),
    Choice::with_note(
        "Shaped for left and right",
        "Slopes more at the little toe, as feet do. Each sock has its foot; grafted.",
    ),
];
pub(in crate::screens::measure) const FIRST_FOOT: &str = "The first sock is for the";
pub(in crate::screens::measure) const FEET: [Choice; 2] =
    [Choice::plain("left foot"), Choice::plain("right foot")];
pub(in crate::screens::measure) const METHOD: &str = "What you knit on";
pub(in crate::screens::measure) const METHODS: [Choice; 5] = [
    Choice::with_note(
        "Magic loop",
        "One long circular, its cable pulled out between two halves.",
    ),
    Choice::with_note(
        "Two circulars",
        "Two circular needles; each works its own half.",
    ),
    Choice::with_note(
        "Four double-pointed",
        "Three hold the stitches, the fourth works.",
    ),
    Choice::with_note(
        "Five double-pointed",
        "Four hold the stitches, the fifth works.",
    ),
    Choice::with_note(
        "One short circular",
        "Stitches all the way round it; the toe moves to a long circular.",
    ),
];
pub(in crate::screens::measure) const SEATING: &str = "After the heel, the stitches sit";
pub(in crate::screens::measure) const SEATINGS: [Choice; 2] = [
    Choice::with_note(
        "In even halves",
        "The round begins at the middle of the sole. Each needle has half the sole and half the instep: always the same number on both.",
    ),
    Choice::with_note(
        "Instep and sole apart",
        "One needle has the instep, the other the sole with both gussets. The round begins at the side.",
    ),
];

pub(in crate::screens::measure) const COURTESY: &str = "For tender or swollen legs";
pub(in crate::screens::measure) const COURTESY_TEXT: &str = "A cuff must never bind. With swelling, diabetes or poor circulation choose less ease (the sock then is wider) and a loose cast-on, and ask those who treat the wearer. Wool can irritate; let the wearer try the yarn on the skin first.";
pub(in crate::screens::measure) const CAST_ON_HOW: &str = "How it is cast on";
pub(in crate::screens::measure) const CAST_ON_KIND: &str = "The cast-on";
pub(in crate::screens::measure) const CAST_ONS: [Choice; 3] = [
    Choice::with_note(
        "Long-tail",
        "The usual one: firm enough, and it gives enough for most legs.",
    ),
    Choice::with_note(
        "Twisted long-tail",
        "A twist in every loop (German, or old Norwegian): gives most. For high insteps and legs that must not be bound.",
    ),
    Choice::with_note(
        "Knitted on",
        "No long tail to guess, so none can be too short. Firmer: work it loosely.",
    ),
];
pub(in crate::screens::measure) const BIND_OFF_HOW: &str = "How it is bound off";
pub(in crate::screens::measure) const BIND_OFF_KIND: &str = "The bind-off";
pub(in crate::screens::measure) const BIND_OFFS: [Choice; 3] = [
    Choice::with_note(
        "Plain, a needle one size larger",
        "Known to every hand. Enough for most legs when it is done loosely.",
    ),
    Choice::with_note(
        "Sewn",
        "With a tapestry needle: soft and stretchy, looks like the cast-on edge. Slow.",
    ),
    Choice::with_note(
        "With yarn overs",
        "A yarn over before every stitch, lifted over with it: gives most; the edge waves a little.",
    ),
];
pub(in crate::screens::measure) const LEGS: &str = "Lengths by name";
pub(in crate::screens::measure) const LEGS_TEXT: &str = "How long socks of a name usually are, for this foot: common practice, only a beginning. Choosing one fills in the line above.";
pub(in crate::screens::measure) const FLAP_BY: &str = "How tall the flap is, by";
pub(in crate::screens::measure) const FLAP_BYS: [Choice; 2] =
    [Choice::plain("its rows"), Choice::plain("its height")];
pub(in crate::screens::measure) const HIGH_INSTEP: Choice = Choice::with_note(
    "A high instep",
    "A longer flap and with it a wider gusset; in a short-row heel, rounds in its middle.",
);
pub(in crate::screens::measure) const WIDE_TOES: Choice = Choice::with_note(
    "Wide toes",
    "The toe ends eight stitches wider: four above and four below.",
);
pub(in crate::screens::measure) const NARROW_HEEL: Choice = Choice::with_note(
    "A narrow heel",
    "The cup of the heel is two stitches narrower.",
);
pub(in crate::screens::measure) const THIS_FOOT: &str = "This foot has";

/// The name of a leg's length.
pub(in crate::screens::measure) const fn leg_name(name: LegName) -> &'static str {
    match name {
        LegName::Ankle => "Ankle",
        LegName::Crew => "Crew",
        LegName::MidCalf => "Mid-calf",
        LegName::Knee => "Knee",
    }
}
