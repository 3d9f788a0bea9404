//! The lines that take a number: what stands before each, and what it asks for.

use evenloop_engine::units::{Length, LengthUnit};

use crate::text::{NumberText, Sentence};

const fn asking(label: &'static str, asks: &'static str) -> NumberText {
    NumberText {
        label: Sentence::Fixed(label),
        asks: Sentence::Fixed(asks),
        empty: Sentence::Fixed(""),
    }
}

const fn labelled(label: &'static str) -> NumberText {
    asking(label, "")
}

const fn washed(label: &'static str) -> NumberText {
    NumberText {
        empty: Sentence::Fixed("Width and height before washing belong together."),
        ..labelled(label)
    }
}

const fn in_pattern(label: &'static str) -> NumberText {
    NumberText {
        empty: Sentence::Fixed("Stitches and width in the pattern belong together."),
        ..labelled(label)
    }
}

const fn rounds_in_pattern(label: &'static str) -> NumberText {
    NumberText {
        empty: Sentence::Fixed("Rounds and height in the pattern belong together."),
        ..labelled(label)
    }
}

const fn on_flap(label: &'static str) -> NumberText {
    NumberText {
        empty: Sentence::Fixed("Rows and height of the flap belong together."),
        ..labelled(label)
    }
}

const BAND: Sentence = Sentence::Worded(|wording| match wording.unit {
    LengthUnit::Cm => format!("Grams and {} belong together.", wording.english.metres()),
    LengthUnit::Inch => "Ounces and yards belong together.".to_owned(),
});

pub(crate) const FOOT_LENGTH: NumberText = asking(
    "A. Length of the foot",
    "Back of the heel to the longest toe.",
);
pub(crate) const FOOT_CIRCUMFERENCE: NumberText = asking(
    "B. Round the ball",
    "Where it is widest. If left empty: estimated from the length.",
);
pub(crate) const HEEL_DIAGONAL: NumberText = asking(
    "C. Round heel and instep",
    "Under the heel, over the bend of the ankle. If left empty: estimated.",
);
pub(crate) const SWATCH_STITCHES: NumberText = labelled("Stitches");
pub(crate) const SWATCH_WIDTH: NumberText = labelled("over a width of");
pub(crate) const SWATCH_ROUNDS: NumberText = labelled("Rounds");
pub(crate) const SWATCH_HEIGHT: NumberText = labelled("over a height of");
pub(crate) const UNWASHED_WIDTH: NumberText = washed("Width before washing");
pub(crate) const UNWASHED_HEIGHT: NumberText = washed("Height before washing");
pub(crate) const PATTERN_STITCHES: NumberText = NumberText {
    asks: Sentence::Fixed(
        "Of a washed swatch in the pattern. If left empty: estimated from its stitches.",
    ),
    ..in_pattern("Stitches in the pattern")
};
pub(crate) const PATTERN_WIDTH: NumberText = in_pattern("over a width of");
pub(crate) const PATTERN_ROUNDS: NumberText = NumberText {
    asks: Sentence::Worded(|wording| {
        format!(
            "Of the same swatch. If left empty: as many as in {}.",
            wording.english.stockinette()
        )
    }),
    ..rounds_in_pattern("Rounds in the pattern")
};
pub(crate) const PATTERN_HEIGHT: NumberText = rounds_in_pattern("over a height of");
pub(crate) const MOTIF_BALANCE: NumberText = asking(
    "Balancing stitches",
    "The 1 in “a multiple of 8 plus 1”: worked once more after the last repeat.",
);
pub(crate) const MOTIF_EDGE: NumberText =
    asking("Edge stitches", "Purled on each side of the pattern.");
pub(crate) const FLAP_SWATCH_ROWS: NumberText = NumberText {
    asks: Sentence::Fixed(
        "Of a flap that is knitted, in this yarn. If left empty: estimated from its texture.",
    ),
    ..on_flap("Rows of a measured flap")
};
pub(crate) const FLAP_SWATCH_HEIGHT: NumberText = on_flap("over a height of");
pub(crate) const CUFF_LENGTH: NumberText = labelled("Height of the cuff");
pub(crate) const LEG: NumberText = asking("Leg, top edge to heel", "The cuff is part of it.");
pub(crate) const GIRTH_HEIGHT: NumberText = labelled("Height above the heel");
pub(crate) const GIRTH_ROUND: NumberText = labelled("Round the leg there");
pub(crate) const HEEL_ROWS: NumberText = asking(
    "Rows of the heel flap",
    "An even number. If left empty: as many as the flap has stitches, so that it is square.",
);
pub(crate) const HEEL_HEIGHT: NumberText = NumberText {
    asks: Sentence::Worded(|wording| {
        let [low, high] = [5, 7].map(|cm| Length::cm(cm).show(wording.unit));
        format!(
            "From the floor to the hollow under the ankle bone; {low} to {high} is usual. If left empty: square."
        )
    }),
    ..labelled("Height of the heel flap")
};
pub(crate) const HEEL_BETWEEN: NumberText = asking(
    "Rounds between its halves",
    "2 or 3 give a high instep room.",
);
pub(crate) const EASE_PERCENT: NumberText = asking(
    "Smaller than the foot by",
    "Its negative ease: a sock stretches a little to stay up.",
);
pub(crate) const LENGTH_EASE: NumberText = asking(
    "Shorter than the foot by",
    "Half as much for small children.",
);
pub(crate) const STITCHES: NumberText = asking(
    "Stitches around",
    "A multiple of 4. If left empty: worked out from foot and swatch.",
);
pub(crate) const STRIPE_ROUNDS: NumberText = labelled("Rounds");
pub(crate) const BALL_GRAMS: NumberText = NumberText {
    label: Sentence::Worded(|wording| {
        let grams = match wording.unit {
            LengthUnit::Cm => "Grams",
            LengthUnit::Inch => "Ounces",
        };
        format!("{grams} in a {}", wording.english.ball())
    }),
    empty: BAND,
    ..labelled("")
};
pub(crate) const BALL_METRES: NumberText = NumberText {
    label: Sentence::Worded(|wording| {
        let metres = match wording.unit {
            LengthUnit::Cm => wording.english.metres_capital(),
            LengthUnit::Inch => "Yards",
        };
        format!("{metres} in a {}", wording.english.ball())
    }),
    empty: BAND,
    ..labelled("")
};
pub(crate) const BAND_STITCHES: NumberText = NumberText {
    label: Sentence::Worded(|wording| format!("Stitches on the {}", wording.english.ball_band())),
    ..asking(
        "",
        "In 10\u{a0}cm, or 4\u{a0}in. If left empty: what such yarn usually gives.",
    )
};
