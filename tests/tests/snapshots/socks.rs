//! The socks whose instructions are kept: every choice at least once, on coarse gauges, so that a
//! sock is short enough to be read from end to end.

use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{
    Adjust, BindOff, CastOn, Cuff, Direction, Edge, FlapTexture, Girth, Heel, HeelOpening,
    HeelTurn, LeftRight, Method, Motif, MotifPlacement, Narrowing, Recipe, Rib, RoundsBy, Seating,
    Stripe, Toe, ToeCastOn, Yarns,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::swatch::{PatternRounds, PatternSwatch, Swatch};
use evenloop_engine::text::KnittingHand;
use evenloop_engine::units::Length;

/// A sock and the name of its file.
pub(crate) struct Sock {
    name: &'static str,
    pub(crate) recipe: Recipe,
    /// The hand that knits.
    pub(crate) hand: KnittingHand,
}

impl Sock {
    pub(crate) fn file(&self) -> String {
        format!("{}.txt", self.name)
    }
}

const MAGIC: Method = Method::MagicLoop {
    seating: Seating::EvenHalves,
};
const MAGIC_INSTEP: Method = Method::MagicLoop {
    seating: Seating::InstepAndSole,
};
const TWO: Method = Method::TwoCirculars {
    seating: Seating::EvenHalves,
};
const TWO_INSTEP: Method = Method::TwoCirculars {
    seating: Seating::InstepAndSole,
};

const EVEN: Toe = wedge(Narrowing::Even);
const ROUNDED: Toe = wedge(Narrowing::Rounded);
const LONG: Toe = wedge(Narrowing::Long);

const HEM: Edge = Edge::Hem { picot: false };
const PICOT: Edge = Edge::Hem { picot: true };

const FORETHOUGHT: Heel = Heel::Afterthought {
    opening: HeelOpening::WasteYarn,
};
const SNIPPED: Heel = Heel::Afterthought {
    opening: HeelOpening::Snipped,
};

const fn wedge(narrowing: Narrowing) -> Toe {
    Toe::Wedge { narrowing }
}

const fn flap(texture: FlapTexture, turn: HeelTurn, rows: Option<u16>, corners: bool) -> Heel {
    Heel::FlapAndGusset {
        texture,
        turn,
        rows,
        height: None,
        corners,
    }
}

/// One sock of each construction.
#[rustfmt::skip] // one line a sock
pub(crate) fn socks() -> Vec<Sock> {
    use Direction::{CuffDown, ToeUp};
    use FlapTexture::{EyeOfPartridge, GarterEdge, SlippedStitch};
    use HeelTurn::{Band, Round, Square};

    let rib = Edge::Rib;
    [
        ("down-flap-round-magic-loop", CuffDown, 48, flap(SlippedStitch, Round, None, false), ROUNDED, rib(Rib::TwoByTwo), MAGIC),
        ("down-partridge-square-magic-loop-instep", CuffDown, 36, flap(EyeOfPartridge, Square, None, true), EVEN, rib(Rib::OneByOne), MAGIC_INSTEP),
        ("down-garter-band-two-circulars", CuffDown, 40, flap(GarterEdge, Band, None, false), LONG, rib(Rib::ThreeByOne), TWO),
        ("down-flap-band-two-circulars-instep", CuffDown, 36, flap(SlippedStitch, Band, Some(20), true), Toe::Round, rib(Rib::Twisted), TWO_INSTEP),
        ("down-partridge-round-four-dpns", CuffDown, 36, flap(EyeOfPartridge, Round, None, true), ROUNDED, HEM, Method::FourDpns),
        ("down-garter-square-five-dpns", CuffDown, 36, flap(GarterEdge, Square, None, true), EVEN, PICOT, Method::FiveDpns),
        ("down-flap-round-short-circular", CuffDown, 32, flap(SlippedStitch, Round, None, false), ROUNDED, Edge::Rolled, Method::ShortCircular { length: None }),
        ("down-short-rows-magic-loop", CuffDown, 36, Heel::ShortRow { between: 0 }, EVEN, rib(Rib::OneByOne), MAGIC),
        ("down-short-rows-between-short-circular", CuffDown, 32, Heel::ShortRow { between: 3 }, LONG, HEM, Method::ShortCircular { length: None }),
        ("down-afterthought-four-dpns", CuffDown, 36, FORETHOUGHT, Toe::Round, rib(Rib::TwoByTwo), Method::FourDpns),
        ("up-flap-magic-loop", ToeUp, 48, flap(SlippedStitch, Round, None, false), ROUNDED, rib(Rib::TwoByTwo), MAGIC),
        ("up-partridge-two-circulars-instep", ToeUp, 36, flap(EyeOfPartridge, Round, None, false), EVEN, HEM, TWO_INSTEP),
        ("up-garter-short-circular", ToeUp, 40, flap(GarterEdge, Round, Some(16), false), LONG, Edge::Rolled, Method::ShortCircular { length: None }),
        ("up-short-rows-between-five-dpns", ToeUp, 32, Heel::ShortRow { between: 2 }, ROUNDED, PICOT, Method::FiveDpns),
        ("up-short-rows-two-circulars", ToeUp, 36, Heel::ShortRow { between: 0 }, EVEN, rib(Rib::Twisted), TWO),
        ("up-afterthought-magic-loop-instep", ToeUp, 36, FORETHOUGHT, EVEN, rib(Rib::ThreeByOne), MAGIC_INSTEP),
        ("up-flap-four-dpns", ToeUp, 36, flap(SlippedStitch, Round, None, false), LONG, rib(Rib::OneByOne), Method::FourDpns),
    ]
    .map(|(name, direction, stitches, heel, toe, edge, needles)| Sock {
        name,
        recipe: recipe(direction, stitches, heel, toe, edge, needles),
        hand: KnittingHand::Right,
    })
    .into_iter()
    .chain(left_handed())
    .chain(
        shaped()
            .into_iter()
            .chain(patterned())
            .chain(edged())
            .map(usual_but),
    )
    .collect()
}

/// A usual sock, and what is other in it.
type Other = (&'static str, Direction, Method, fn(&mut Recipe));

fn usual_but((name, direction, needles, other): Other) -> Sock {
    let flap = flap(FlapTexture::SlippedStitch, HeelTurn::Round, None, false);
    let edge = Edge::Rib(Rib::TwoByTwo);
    let mut recipe = recipe(direction, 40, flap, ROUNDED, edge, needles);
    other(&mut recipe);
    Sock {
        name,
        recipe,
        hand: KnittingHand::Right,
    }
}

/// One from either end with all that has a side: crosses, a toe for one foot, gusset edges, made stitches.
fn left_handed() -> impl Iterator<Item = Sock> {
    let down: Other = (
        "left-handed-down-cable-magic-loop",
        Direction::CuffDown,
        MAGIC,
        |r| {
            r.toe = Toe::Shaped {
                foot: LeftRight::Left,
            };
            r.cast_on = CastOn::KnittedOn;
            r.motif = Some(motif(&["p1 k4 p1", "p1 cl2/2 p1"], MotifPlacement::Front));
        },
    );
    let up: Other = ("left-handed-up-two-circulars", Direction::ToeUp, TWO, |r| {
        r.leg = Length::cm(24);
        r.calf = CALF.to_vec();
        r.bind_off = BindOff::WorkedTogether;
    });
    [down, up].into_iter().map(|sock| Sock {
        hand: KnittingHand::Left,
        ..usual_but(sock)
    })
}

/// Toes, legs and fits that few socks have.
fn shaped() -> Vec<Other> {
    use Direction::{CuffDown, ToeUp};
    vec![
        (
            "down-toe-short-rows-four-dpns",
            CuffDown,
            Method::FourDpns,
            |r| {
                r.toe = Toe::ShortRow;
                r.cast_on = CastOn::TwistedLongTail;
            },
        ),
        ("down-toe-left-magic-loop", CuffDown, MAGIC, |r| {
            r.toe = Toe::Shaped {
                foot: LeftRight::Left,
            };
            r.cast_on = CastOn::KnittedOn;
        }),
        ("down-calf-magic-loop", CuffDown, MAGIC, |r| {
            r.leg = Length::cm(24);
            r.calf = CALF.into();
        }),
        ("down-fit-two-circulars", CuffDown, TWO, |r| {
            r.cast_on = CastOn::SlipKnot;
            r.adjust = Adjust { leg: 2, foot: -1 };
            r.fit.high_instep = true;
            r.fit.wide_toes = true;
            r.fit.narrow_heel = true;
        }),
        (
            "up-toe-short-rows-short-circular",
            ToeUp,
            Method::ShortCircular { length: None },
            |r| {
                r.toe = Toe::ShortRow;
                r.bind_off = BindOff::Sewn;
            },
        ),
        ("up-toe-short-rows-magic-loop", ToeUp, MAGIC, |r| {
            r.toe = Toe::ShortRow;
            r.heel = Heel::ShortRow { between: 0 };
            r.bind_off = BindOff::WorkedTogether;
        }),
        ("up-toe-right-five-dpns", ToeUp, Method::FiveDpns, |r| {
            r.toe = Toe::Shaped {
                foot: LeftRight::Right,
            };
            r.toe_cast_on = ToeCastOn::Wrapped;
            r.bind_off = BindOff::YarnOver;
        }),
        ("up-calf-fit-two-circulars-instep", ToeUp, TWO_INSTEP, |r| {
            r.bind_off = BindOff::Plain;
            r.leg = Length::cm(24);
            r.calf = CALF.into();
            r.fit.high_instep = true;
            r.fit.wide_toes = true;
            r.fit.narrow_heel = true;
        }),
    ]
}

/// Edges and openings that few socks have.
fn edged() -> Vec<Other> {
    use Direction::{CuffDown, ToeUp};
    vec![
        (
            "down-tubular-one-by-one-five-dpns",
            CuffDown,
            Method::FiveDpns,
            |r| {
                r.stitches = Some(36);
                r.cuff.edge = Edge::Rib(Rib::OneByOne);
                r.cast_on = CastOn::Tubular;
                r.heel = SNIPPED;
            },
        ),
        ("down-tubular-two-by-two-magic-loop", CuffDown, MAGIC, |r| {
            r.stitches = Some(36);
            r.cast_on = CastOn::Tubular;
        }),
        (
            "down-tubular-twisted-short-circular",
            CuffDown,
            Method::ShortCircular { length: None },
            |r| {
                r.cuff.edge = Edge::Rib(Rib::Twisted);
                r.cast_on = CastOn::Tubular;
                r.heel = SNIPPED;
            },
        ),
        ("up-tubular-one-by-one-two-circulars", ToeUp, TWO, |r| {
            r.cuff.edge = Edge::Rib(Rib::OneByOne);
            r.bind_off = BindOff::Tubular;
            r.heel = SNIPPED;
        }),
        (
            "up-tubular-two-by-two-five-dpns",
            ToeUp,
            Method::FiveDpns,
            |r| {
                r.stitches = Some(36);
                r.bind_off = BindOff::Tubular;
            },
        ),
        (
            "up-tubular-twisted-magic-loop-instep",
            ToeUp,
            MAGIC_INSTEP,
            |r| {
                r.cuff.edge = Edge::Rib(Rib::Twisted);
                r.bind_off = BindOff::Tubular;
                r.heel = SNIPPED;
            },
        ),
        ("up-toe-chain-magic-loop", ToeUp, MAGIC, |r| {
            r.toe = Toe::ShortRow;
            r.toe_cast_on = ToeCastOn::Provisional;
            r.bind_off = BindOff::YarnOver;
            r.cuff.edge = HEM;
        }),
        ("up-toe-chain-four-dpns", ToeUp, Method::FourDpns, |r| {
            r.toe = Toe::ShortRow;
            r.toe_cast_on = ToeCastOn::Provisional;
            r.cuff.edge = PICOT;
            r.heel = Heel::ShortRow { between: 0 };
        }),
        ("up-toe-chain-two-circulars", ToeUp, TWO, |r| {
            r.toe = Toe::ShortRow;
            r.toe_cast_on = ToeCastOn::Provisional;
            r.cuff.edge = Edge::Rolled;
            r.bind_off = BindOff::Plain;
        }),
    ]
}

/// Motifs and stripes.
fn patterned() -> Vec<Other> {
    use Direction::{CuffDown, ToeUp};
    vec![
        ("down-lace-front-magic-loop", CuffDown, MAGIC, |r| {
            r.stitches = Some(48);
            r.motif = Some(motif(
                &[
                    "k1 yo ssk k3 k2tog yo",
                    "k8",
                    "k2 yo ssk k1 k2tog yo k1",
                    "k8",
                ],
                MotifPlacement::Front,
            ));
        }),
        (
            "down-cable-all-round-five-dpns",
            CuffDown,
            Method::FiveDpns,
            |r| {
                r.stitches = Some(48);
                r.motif = Some(motif(
                    &["p2 k4", "p2 k4", "p2 cl2/2", "p2 k4"],
                    MotifPlacement::AllRound,
                ));
            },
        ),
        (
            "up-twisted-all-round-two-circulars-instep",
            ToeUp,
            TWO_INSTEP,
            |r| {
                r.stitches = Some(48);
                r.motif = Some(motif(
                    &["kt1 p1 s1 p1", "kt1 p1 k1 p1", "crp1/1 k1 p1"],
                    MotifPlacement::AllRound,
                ));
            },
        ),
        ("down-panel-balanced-magic-loop", CuffDown, MAGIC, |r| {
            r.stitches = Some(48);
            r.motif = Some(Motif {
                balance: 2,
                edge: 1,
                ..motif(&["p2 k4", "p2 cl2/2"], MotifPlacement::Front)
            });
        }),
        ("up-lace-balanced-five-dpns", ToeUp, Method::FiveDpns, |r| {
            r.stitches = Some(48);
            r.motif = Some(Motif {
                balance: 1,
                ..motif(&["k1 yo ssk k1 k2tog yo", "k6"], MotifPlacement::Front)
            });
        }),
        (
            "down-calf-cable-front-four-dpns",
            CuffDown,
            Method::FourDpns,
            |r| {
                r.leg = Length::cm(24);
                r.calf = CALF.into();
                r.swatch.pattern = Some(PatternSwatch {
                    stitches: 24,
                    width: Length::cm(10),
                });
                r.swatch.pattern_rounds = Some(PatternRounds {
                    rounds: 31,
                    height: Length::cm(10),
                });
                r.motif = Some(Motif {
                    rounds_by: RoundsBy::Between,
                    ..motif(&["p1 k4 p1", "p1 cr2/2 p1"], MotifPlacement::Front)
                });
            },
        ),
        (
            "up-tender-legs-magic-loop-instep",
            ToeUp,
            MAGIC_INSTEP,
            |r| {
                r.fit.tender_legs = true;
            },
        ),
        ("down-stripes-magic-loop", CuffDown, MAGIC, |r| {
            let stripe = |yarn, rounds| Stripe { yarn, rounds };
            r.yarns = Some(Yarns {
                stripes: vec![stripe(Yarn::A, 2), stripe(Yarn::B, 3)],
                cuff: Yarn::C,
                heel: Yarn::C,
                toe: Yarn::D,
            });
        }),
    ]
}

fn motif(rows: &[&str], place: MotifPlacement) -> Motif {
    let read = |row: &&str| row.parse().unwrap_or_else(|why| panic!("{row}: {why}"));
    Motif {
        rows: rows.iter().map(read).collect(),
        place,
        ..Motif::default()
    }
}

/// A leg that widens by four shapings.
const CALF: [Girth; 2] = [
    Girth {
        height: Length::cm(8),
        circumference: Length::cm(23),
    },
    Girth {
        height: Length::cm(20),
        circumference: Length::cm(28),
    },
];

fn recipe(
    direction: Direction,
    stitches: u16,
    heel: Heel,
    toe: Toe,
    edge: Edge,
    needles: Method,
) -> Recipe {
    Recipe {
        direction,
        foot: Foot {
            length: Length::cm(26),
            circumference: Some(Length::cm(22)),
            heel_diagonal: None,
        },
        swatch: Swatch {
            unwashed: None,
            needle: None,
            pattern: None,
            pattern_rounds: None,
            flap: None,
            guess: None,
            stitches: 20,
            width: Length::cm(10),
            rounds: 28,
            height: Length::cm(10),
        },
        cuff: Cuff {
            edge,
            length: Length::cm(2),
        },
        leg: Length::cm(6),
        heel,
        toe,
        needles,
        stitches: Some(stitches),
        ..Recipe::default()
    }
}
