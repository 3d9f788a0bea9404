//! How a recipe is written: its fields, and of what kind each is.

/// Of what kind a value is.
pub(super) enum Shape {
    /// A number of the table of numbers.
    Number,
    /// A needle's size in hundredths of a millimetre.
    NeedleSize,
    /// On or off.
    Switch,
    /// One of these words.
    Words(&'static [&'static str]),
    /// A round of a motif in its written form.
    MotifRound,
    /// Any text.
    Text,
    /// Which size of a written pattern, from 0.
    PatternSize,
    /// A list of such.
    List(&'static Shape),
    /// Fields.
    Group(&'static [Field]),
    /// Fields, which ones depending on the word at `tag`.
    Kinds {
        tag: &'static str,
        kinds: &'static [(&'static str, &'static [Field])],
    },
    /// One of these words, or exactly one of these fields.
    Either {
        words: &'static [&'static str],
        groups: &'static [Field],
    },
}

/// Whether a field has to be there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Presence {
    /// Always.
    Needed,
    /// It can be left out.
    Usual,
    /// It can be left out or be `null`.
    Open,
}

/// A field and what stands in it.
pub(super) struct Field {
    pub(super) name: &'static str,
    pub(super) presence: Presence,
    pub(super) shape: Shape,
}

const fn needed(name: &'static str, shape: Shape) -> Field {
    Field {
        name,
        presence: Presence::Needed,
        shape,
    }
}

const fn usual(name: &'static str, shape: Shape) -> Field {
    Field {
        name,
        presence: Presence::Usual,
        shape,
    }
}

const fn open(name: &'static str, shape: Shape) -> Field {
    Field {
        name,
        presence: Presence::Open,
        shape,
    }
}

const YARN: Shape = Shape::Words(&["A", "B", "C", "D"]);
const SEATING: &[Field] = &[usual(
    "seating",
    Shape::Words(&["even-halves", "instep-and-sole"]),
)];

/// A whole recipe.
pub(super) const RECIPE: Shape = Shape::Group(&[
    usual("direction", Shape::Words(&["cuff-down", "toe-up"])),
    needed(
        "foot",
        Shape::Group(&[
            needed("length", Shape::Number),
            open("circumference", Shape::Number),
            open("heel_diagonal", Shape::Number),
        ]),
    ),
    needed(
        "swatch",
        Shape::Group(&[
            needed("stitches", Shape::Number),
            needed("width", Shape::Number),
            needed("rounds", Shape::Number),
            needed("height", Shape::Number),
            open(
                "unwashed",
                Shape::Group(&[
                    needed("width", Shape::Number),
                    needed("height", Shape::Number),
                ]),
            ),
            open(
                "pattern",
                Shape::Group(&[
                    needed("stitches", Shape::Number),
                    needed("width", Shape::Number),
                ]),
            ),
            open(
                "pattern_rounds",
                Shape::Group(&[
                    needed("rounds", Shape::Number),
                    needed("height", Shape::Number),
                ]),
            ),
            open(
                "flap",
                Shape::Group(&[
                    needed("rows", Shape::Number),
                    needed("height", Shape::Number),
                ]),
            ),
            open("needle", Shape::NeedleSize),
            open(
                "guess",
                Shape::Group(&[
                    needed(
                        "yarn",
                        Shape::Words(&["lace", "fingering", "sport", "dk", "worsted", "bulky"]),
                    ),
                    open("band_stitches", Shape::Number),
                ]),
            ),
        ]),
    ),
    usual(
        "fit",
        Shape::Group(&[
            needed("ease_percent", Shape::Number),
            needed("length_ease", Shape::Number),
            usual("high_instep", Shape::Switch),
            usual("wide_toes", Shape::Switch),
            usual("narrow_heel", Shape::Switch),
            usual("tender_legs", Shape::Switch),
        ]),
    ),
    usual(
        "cuff",
        Shape::Group(&[
            usual(
                "edge",
                Shape::Either {
                    words: &["rolled"],
                    groups: &[
                        needed("rib", Shape::Words(&["1x1", "2x2", "3x1", "twisted-1x1"])),
                        needed("hem", Shape::Group(&[needed("picot", Shape::Switch)])),
                    ],
                },
            ),
            needed("length", Shape::Number),
        ]),
    ),
    usual(
        "cast_on",
        Shape::Words(&[
            "long-tail",
            "twisted-long-tail",
            "knitted-on",
            "slip-knot",
            "tubular",
        ]),
    ),
    usual(
        "toe_cast_on",
        Shape::Words(&["magic", "wrapped", "provisional"]),
    ),
    usual(
        "bind_off",
        Shape::Words(&["plain", "sewn", "tubular", "worked-together", "yarn-over"]),
    ),
    usual("leg", Shape::Number),
    usual(
        "calf",
        Shape::List(&Shape::Group(&[
            needed("height", Shape::Number),
            needed("circumference", Shape::Number),
        ])),
    ),
    usual(
        "adjust",
        Shape::Group(&[usual("leg", Shape::Number), usual("foot", Shape::Number)]),
    ),
    usual(
        "heel",
        Shape::Kinds {
            tag: "kind",
            kinds: &[
                (
                    "flap-and-gusset",
                    &[
                        usual(
                            "texture",
                            Shape::Words(&["slipped-stitch", "eye-of-partridge", "garter-edge"]),
                        ),
                        usual("turn", Shape::Words(&["round", "square", "band"])),
                        open("rows", Shape::Number),
                        open("height", Shape::Number),
                        usual("corners", Shape::Switch),
                    ],
                ),
                ("short-row", &[usual("between", Shape::Number)]),
                (
                    "afterthought",
                    &[usual("opening", Shape::Words(&["waste-yarn", "snipped"]))],
                ),
            ],
        },
    ),
    usual(
        "toe",
        Shape::Kinds {
            tag: "kind",
            kinds: &[
                (
                    "wedge",
                    &[usual(
                        "narrowing",
                        Shape::Words(&["even", "rounded", "long"]),
                    )],
                ),
                ("round", &[]),
                ("short-row", &[]),
                (
                    "shaped",
                    &[needed("foot", Shape::Words(&["left", "right"]))],
                ),
            ],
        },
    ),
    usual(
        "needles",
        Shape::Kinds {
            tag: "method",
            kinds: &[
                ("magic-loop", SEATING),
                ("two-circulars", SEATING),
                ("four-dpns", &[]),
                ("five-dpns", &[]),
                (
                    "short-circular",
                    &[open(
                        "length",
                        Shape::Words(&["20-cm", "23-cm", "25-cm", "30-cm"]),
                    )],
                ),
            ],
        },
    ),
    open(
        "motif",
        Shape::Group(&[
            needed("rows", Shape::List(&Shape::MotifRound)),
            usual("place", Shape::Words(&["all-round", "front"])),
            usual("balance", Shape::Number),
            usual("edge", Shape::Number),
            usual("rounds_by", Shape::Words(&["plain", "between", "pattern"])),
        ]),
    ),
    open(
        "yarns",
        Shape::Group(&[
            needed(
                "stripes",
                Shape::List(&Shape::Group(&[
                    needed("yarn", YARN),
                    needed("rounds", Shape::Number),
                ])),
            ),
            usual("cuff", YARN),
            usual("heel", YARN),
            usual("toe", YARN),
        ]),
    ),
    open("stitches", Shape::Number),
    open(
        "written",
        Shape::Group(&[
            needed("text", Shape::Text),
            open("size", Shape::PatternSize),
            usual(
                "ours",
                Shape::List(&Shape::Words(&["cuff", "leg", "heel", "foot", "toe"])),
            ),
        ]),
    ),
    open(
        "ball",
        Shape::Group(&[
            needed("grams", Shape::Number),
            needed("metres", Shape::Number),
        ]),
    ),
]);
