//! Closed forms: what a cuff-down sock comes to, by plain integer arithmetic from its recipe.
//!
//! Sources of the forms. Common practice, no source, unless said otherwise:
//! the square flap on half the stitches; the round turn's count `T(H)` (worked out by hand for
//! every even `H` from 12 to 60); a square turn on a middle third; two gusset decreases in every
//! second round (published example); a wedge toe of four decreases; a round toe of eight. The
//! numbers left to graft are common practice, no source.

use evenloop_engine::recipe::{Edge, Heel, Method, Narrowing, Recipe, Seating, Toe, Turn};

/// Why there is no such sock.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum No {
    /// The stitches around would be outside 32 to 120.
    Around,
    /// The flap is so shallow that after the pick-up there are fewer stitches than around.
    FlapTooShallow,
    /// A construction that these forms do not reach yet: from the toe up, or a heel without a flap.
    Unreached,
    /// Heel, gusset and toe are longer than the foot, even with a gusset narrowed every round.
    FootTooShort,
}

/// The whole sock in numbers.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sums {
    /// Stitches around, a multiple of four.
    pub around: u32,
    /// Rounds of the cuff; of a hem, facing, turning round, outside and joining round.
    pub cuff_rounds: u32,
    /// Rounds that show of the cuff.
    pub cuff_height: u32,
    /// Whether the cuff is folded and knitted to its cast-on edge.
    pub hem: bool,
    /// Rounds from the cuff to the heel.
    pub leg_rounds: u32,
    /// Stitches of the heel flap.
    pub heel: u32,
    /// Rows of the heel flap.
    pub flap_rows: u32,
    /// Stitches of the flap when the turn begins: a band heel narrows its flap first.
    pub flap_end: u32,
    /// Stitches left when the heel is turned.
    pub turned: u32,
    /// Short rows of the turn; one decrease in each.
    pub turn_rows: u32,
    /// Stitches picked up along each edge.
    pub per_side: u32,
    /// Stitches right after the pick-up.
    pub peak: u32,
    /// Rounds that the pick-up adds to the foot.
    pub pick_up_rounds: u32,
    /// Rounds with two gusset decreases.
    pub gusset_decreases: u32,
    /// All rounds of the gusset.
    pub gusset_rounds: u32,
    /// Whether the foot was too short for a gusset narrowed every second round.
    pub gusset_every_round: bool,
    /// Plain rounds between gusset and toe.
    pub foot_rounds: u32,
    /// All rounds of the toe.
    pub toe_rounds: u32,
    /// Pairs of stitches grafted; none where the toe is drawn closed.
    pub pairs: u32,
}

/// `a * b / c` to the nearest whole.
fn nearest(a: u64, b: u64, c: u64) -> u32 {
    u32::try_from((2 * a * b + c) / (2 * c)).unwrap_or(u32::MAX)
}

/// Stitches around: circumference x (1 - ease) x gauge, to the nearest multiple of four, in one
/// rounding: quarters of the exact count.
fn stitches_around(recipe: &Recipe) -> u32 {
    if let Some(n) = recipe.stitches {
        return u32::from(n);
    }
    let length = u64::from(recipe.foot.length.0);
    // Measured in tenths of a millimetre; the estimate of 95 % is kept to a tenth of a millimetre.
    let round = recipe
        .foot
        .circumference
        .map_or((length * 95 + 50) / 100, |c| u64::from(c.0));
    let left = 100 - u64::from(recipe.fit.ease_percent);
    let stitches = u64::from(recipe.swatch.stitches);
    let over = u64::from(recipe.swatch.width.0);
    4 * nearest(round * left, stitches, 400 * over)
}

/// Stitches left by the round turn: `H/2 + 2` when `H/2` is even, `H/2 + 3` when it is odd.
pub fn turned_round(heel: u32) -> u32 {
    let half = heel / 2;
    half + 2 + half % 2
}

/// Stitches left by the square turn: the even number nearest to a third.
pub fn turned_square(heel: u32) -> u32 {
    2 * nearest(heel.into(), 1, 6)
}

/// Stitches that a band heel takes out of its flap before the turn, two in each of three rows.
const BAND: u32 = 6;

/// Stitches left to graft in all.
pub fn left_to_graft(around: u32) -> u32 {
    match around {
        0..48 => 12,
        48..=80 => 16,
        81..=100 => 20,
        _ => 24,
    }
}

/// Decrease rounds worked in the toe's first `round` rounds, each block beginning with its
/// decrease round.
fn toe_decreases_by(narrowing: Narrowing, around: u32, round: u32) -> u32 {
    let (third, second) = toe_blocks(narrowing, around);
    let slow = 3 * third;
    let middle = slow + 2 * second;
    if round <= slow {
        round.div_ceil(3)
    } else if round <= middle {
        third + (round - slow).div_ceil(2)
    } else {
        third + second + (round - middle)
    }
}

/// Decrease rounds of the toe followed by two plain rounds, and by one; the rest by none.
fn toe_blocks(narrowing: Narrowing, around: u32) -> (u32, u32) {
    let all = (around - left_to_graft(around)) / 4;
    match narrowing {
        Narrowing::Even => (0, all),
        // The last count not below half of the stitches is around - 4 * floor(around / 8).
        Narrowing::Rounded => (0, around / 8),
        Narrowing::Long => (around / 16, around / 8 - around / 16),
    }
}

fn wedge_rounds(narrowing: Narrowing, around: u32) -> u32 {
    let (third, second) = toe_blocks(narrowing, around);
    (around - left_to_graft(around)) / 4 + second + 2 * third
}

/// Stitches of each of a round toe's eight wedges after so many of its rounds. It is as long as
/// the rounded wedge toe; the plain rounds after each decrease round are in proportion to the
/// width that is left, the sum so far to the nearest whole. Where eight do not divide the
/// stitches, four go in a first round: until then the wedges are half a stitch wider.
fn round_toe_halves_by(around: u32, round: u32) -> u32 {
    let extra = u32::from(!around.is_multiple_of(8));
    let first = around / 8;
    let decreases = first - 1;
    let plain = wedge_rounds(Narrowing::Rounded, around) - extra - decreases;
    if round < extra {
        return 2 * first + 1;
    }
    // Plain rounds after the first i decrease rounds: widths first-1, first-2, ...
    let plain_after = |i: u32| {
        let widths = i * first - i * (i + 1) / 2;
        nearest(plain.into(), widths.into(), (first * decreases / 2).into())
    };
    let begun = |i: u32| extra + i + plain_after(i - 1);
    let done = (1..=decreases).take_while(|&i| begun(i) <= round).count();
    2 * (first - u32::try_from(done).unwrap_or(u32::MAX))
}

/// The sums of a recipe whose numbers are in their ranges.
///
/// # Errors
/// Why there is no such sock.
pub fn sums(recipe: &Recipe) -> Result<Sums, No> {
    let around = stitches_around(recipe);
    if !(32..=120).contains(&around) {
        return Err(No::Around);
    }
    let rounds_in = |tenths: u32| {
        nearest(
            tenths.into(),
            recipe.swatch.rounds.into(),
            recipe.swatch.height.0.into(),
        )
    };
    let cuff_height = rounds_in(recipe.cuff.length.0).max(1);
    let cuff_rounds = match recipe.cuff.edge {
        Edge::Rib(_) | Edge::Rolled => cuff_height,
        Edge::Hem { .. } => 2 * cuff_height + 2,
    };
    let leg_rounds = rounds_in(recipe.leg.0).saturating_sub(cuff_height);

    let heel = around / 2;
    let Heel::FlapAndGusset {
        turn,
        rows,
        corners,
        ..
    } = recipe.heel
    else {
        return Err(No::Unreached);
    };
    let flap_rows = rows.map_or(heel, u32::from);
    let flap_end = if turn == Turn::Band {
        heel - BAND
    } else {
        heel
    };
    let turned = match turn {
        Turn::Round => turned_round(flap_end),
        Turn::Square | Turn::Band => turned_square(flap_end),
    };
    let turn_rows = flap_end - turned;
    let per_side = flap_rows / 2 + u32::from(corners);
    let peak = turned + 2 * per_side + around / 2;
    if peak < around {
        return Err(No::FlapTooShallow);
    }
    let gusset_decreases = (peak - around) / 2;

    let (toe_rounds, pairs) = match recipe.toe {
        Toe::Wedge { narrowing } => (wedge_rounds(narrowing, around), left_to_graft(around) / 2),
        Toe::Round => (wedge_rounds(Narrowing::Rounded, around), 0),
    };

    let foot = rounds_in(
        recipe
            .foot
            .length
            .0
            .saturating_sub(recipe.fit.length_ease.0),
    );
    // With the sole on one needle the heel, the left edge and the instep are knitted twice before
    // the round is whole.
    let pick_up_rounds = match recipe.needles.seating() {
        Some(Seating::InstepAndSole) => 2,
        Some(Seating::EvenHalves) | None => 1,
    };
    let fixed = turn_rows + pick_up_rounds + toe_rounds;
    let (gusset_every_round, gusset_rounds) = if fixed + 2 * gusset_decreases <= foot {
        (false, 2 * gusset_decreases)
    } else if fixed + gusset_decreases <= foot {
        (true, gusset_decreases)
    } else {
        return Err(No::FootTooShort);
    };
    Ok(Sums {
        around,
        cuff_rounds,
        cuff_height,
        hem: matches!(recipe.cuff.edge, Edge::Hem { .. }),
        leg_rounds,
        heel,
        flap_rows,
        flap_end,
        turned,
        turn_rows,
        per_side,
        peak,
        pick_up_rounds,
        gusset_decreases,
        gusset_rounds,
        gusset_every_round,
        foot_rounds: foot - fixed - gusset_rounds,
        toe_rounds,
        pairs,
    })
}

/// The parts of a sock that can be on the needles, in the order of [`State::parts`].
pub const PARTS: [&str; 7] = [
    "back",
    "front",
    "heel",
    "gusset left",
    "instep",
    "gusset right",
    "sole",
];

/// What lies on the needles: stitches per needle from the beginning of the round, and stitches of
/// each part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct State {
    /// Stitches on each needle.
    pub needles: Vec<u32>,
    /// Stitches of each of [`PARTS`].
    pub parts: [u32; 7],
}

/// What is expected of one section: the state at the end of each of its rounds or rows, or, for a
/// section that is walked, at its end only.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Expected {
    /// The section's key in the written plan.
    pub section: &'static str,
    /// Whether it is walked.
    pub walked: bool,
    /// The states.
    pub states: Vec<State>,
}

/// Stitches of one repeat of the cuff: knit and purl of a rib, the two of a picot.
fn edge_repeat(edge: Edge) -> u32 {
    match edge {
        Edge::Rib(rib) => {
            let (knit, purl) = rib.repeat();
            u32::from(knit + purl)
        }
        Edge::Hem { .. } => 2,
        Edge::Rolled => 1,
    }
}

/// Stitches per needle in leg and cuff.
fn leg_needles(method: Method, edge: Edge, n: u32) -> Vec<u32> {
    match method {
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } => vec![n / 2, n / 2],
        Method::FourDpns => {
            let repeat = edge_repeat(edge);
            // Whole repeats, the first needles one more where three do not divide them.
            (0..3).map(|i| (n / repeat + 2 - i) / 3 * repeat).collect()
        }
        Method::FiveDpns => vec![n / 4; 4],
        Method::ShortCircular => vec![n],
    }
}

/// Stitches per needle while the heel is worked flat on its own `heel` stitches.
fn heel_needles(method: Method, heel: u32, instep: u32) -> Vec<u32> {
    match method {
        // Four double-pointed needles are just enough to cross when the instep waits on one.
        Method::MagicLoop { .. } | Method::TwoCirculars { .. } | Method::FourDpns => {
            vec![heel, instep]
        }
        Method::FiveDpns => vec![heel, instep / 2, instep / 2],
        Method::ShortCircular => vec![heel + instep],
    }
}

/// Stitches per needle from the pick-up to the toe, where `half` stitches lie between the middle
/// of the sole and the instep on either side.
fn foot_needles(method: Method, half: u32, instep: u32) -> Vec<u32> {
    match method {
        Method::MagicLoop { seating } | Method::TwoCirculars { seating } => match seating {
            Seating::EvenHalves => vec![half + instep / 2; 2],
            Seating::InstepAndSole => vec![2 * half, instep],
        },
        Method::FourDpns => vec![half, instep, half],
        Method::FiveDpns => vec![half, instep / 2, instep / 2, half],
        Method::ShortCircular => vec![2 * half + instep],
    }
}

/// What lies on the needles at the end of every round, row and walked section.
pub fn expected(recipe: &Recipe, s: &Sums) -> Vec<Expected> {
    let (n, half, method) = (s.around, s.around / 2, recipe.needles);
    let leg = State {
        needles: leg_needles(method, recipe.cuff.edge, n),
        parts: [half, half, 0, 0, 0, 0, 0],
    };
    let heel = |heel: u32| State {
        needles: heel_needles(method, heel, half),
        parts: [0, 0, heel, 0, half, 0, 0],
    };
    let gusset = |decreases: u32| {
        let side = s.per_side - decreases;
        State {
            needles: foot_needles(method, s.turned / 2 + side, half),
            parts: [0, 0, s.turned, side, half, side, 0],
        }
    };
    // A round that decreases comes first, then the plain one.
    let gusset_by = |round: u32| {
        if s.gusset_every_round {
            round
        } else {
            round.div_ceil(2)
        }
    };
    let foot = State {
        needles: foot_needles(method, n / 4, half),
        parts: [0, 0, 0, 0, half, 0, half],
    };
    // The toe no longer reaches round a short circular.
    let toe_method = match method {
        Method::ShortCircular => Method::MagicLoop {
            seating: Seating::EvenHalves,
        },
        other => other,
    };
    let toe = |round: u32| {
        let instep = match recipe.toe {
            Toe::Wedge { narrowing } => half - 2 * toe_decreases_by(narrowing, n, round),
            Toe::Round => 2 * round_toe_halves_by(n, round),
        };
        State {
            needles: foot_needles(toe_method, instep / 2, instep),
            parts: [0, 0, 0, 0, instep, 0, instep],
        }
    };
    // Rows in which a band heel narrows its flap: the last three with the right side facing.
    let narrowed = |row: u32| (row + 7).saturating_sub(s.flap_rows).div_euclid(2).min(3);
    let flap = |row: u32| {
        heel(if s.flap_end < s.heel {
            s.heel - 2 * narrowed(row)
        } else {
            s.heel
        })
    };
    let walked = |section, state| Expected {
        section,
        walked: true,
        states: vec![state],
    };
    let worked = |section, states| Expected {
        section,
        walked: false,
        states,
    };
    vec![
        walked("cast-on", leg.clone()),
        worked("cuff", vec![leg.clone(); s.cuff_rounds as usize]),
        worked("leg", vec![leg; s.leg_rounds as usize]),
        worked("heel-flap", (1..=s.flap_rows).map(flap).collect()),
        worked(
            "heel-turn",
            (1..=s.turn_rows)
                .map(|row| heel(s.flap_end - row))
                .collect(),
        ),
        walked("pick-up", gusset(0)),
        worked(
            "gusset",
            (1..=s.gusset_rounds)
                .map(|r| gusset(gusset_by(r)))
                .collect(),
        ),
        worked("foot", vec![foot; s.foot_rounds as usize]),
        worked("toe", (1..=s.toe_rounds).map(toe).collect()),
        walked(
            "close",
            State {
                needles: Vec::new(),
                parts: [0; 7],
            },
        ),
    ]
}
