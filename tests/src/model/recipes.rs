//! Made-up socks over the whole range: both directions, every method and seating, edge, heel and
//! toe, calves, motifs, stripes, every number of stitches, gauges and feet. Most can be knitted; many
//! cannot, and have to say so.

mod charts;
mod dice;

use evenloop_engine::foot::Foot;
use evenloop_engine::recipe::{
    Adjust, Ball, BindOff, CastOn, CircularLength, Cuff, Direction, Edge, Fit, FlapTexture, Girth,
    Heel, HeelOpening, HeelTurn, Method, MotifPlacement, Recipe, Rib, RoundsBy, Stripe, Toe,
    ToeCastOn, Yarns,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::swatch::{
    FirstGuess, FlapSwatch, PatternRounds, PatternSwatch, Swatch, Unwashed,
};
use evenloop_engine::units::Length;
use evenloop_engine::yarn_weight::WeightName;

use super::closed;
use dice::Dice;

/// The first `count` of an endless, always equal row of made-up socks; with `EVENLOOP_SEED` of another row.
pub fn seeded(count: usize) -> impl Iterator<Item = Recipe> {
    (0..count).map(numbered)
}

/// The number that an environment variable holds, if it is set.
///
/// # Panics
/// If it holds something else.
#[allow(clippy::expect_used, reason = "whoever sets it has to be told")]
pub fn asked_for(variable: &str) -> Option<usize> {
    let asked = std::env::var(variable).ok()?;
    Some(asked.parse().expect("the variable holds a number"))
}

/// The number of the first sock of the row that `EVENLOOP_SEED` names: rows begin so far from each other.
fn first_of_row() -> usize {
    const APART: usize = 1_000_003;
    asked_for("EVENLOOP_SEED").map_or(0, |seed| seed.wrapping_mul(APART))
}

/// The made-up sock of that number in its row.
pub fn numbered(number: usize) -> Recipe {
    let mut recipe = thrown(first_of_row().wrapping_add(number));
    let rib = matches!(
        recipe.cuff.edge,
        Edge::Rib(Rib::OneByOne | Rib::TwoByTwo | Rib::Twisted)
    );
    // What goes with few edges and toes is met there often, and elsewhere now and then, to be refused.
    let seldom = number.is_multiple_of(16);
    if rib && !number.is_multiple_of(3) {
        recipe.cast_on = CastOn::Tubular;
        recipe.bind_off = BindOff::Tubular;
    } else if !rib && !seldom {
        if recipe.cast_on == CastOn::Tubular {
            recipe.cast_on = CastOn::LongTail;
        }
        if recipe.bind_off == BindOff::Tubular {
            recipe.bind_off = BindOff::Plain;
        }
    }
    if matches!(recipe.heel, Heel::Afterthought { .. }) && !seldom {
        recipe.fit.high_instep = false;
    }
    if recipe.toe == Toe::ShortRow && !number.is_multiple_of(4) {
        recipe.toe_cast_on = ToeCastOn::Provisional;
    } else if recipe.toe_cast_on == ToeCastOn::Provisional && !seldom {
        recipe.toe_cast_on = ToeCastOn::Magic;
    }
    recipe
}

fn thrown(number: usize) -> Recipe {
    let dice = &mut Dice::thrown(number as u64);
    let swatch = swatch(dice);
    let foot = foot(dice);
    // A long leg shows little that a short one does not, and costs as much as all the rest.
    let (cuff, leg) = if dice.chance(3) {
        (dice.among(50, 2500), dice.among(100, 4500))
    } else {
        let cuff = dice.among(50, 800);
        (cuff, (cuff + dice.among(0, 600)).max(100))
    };
    let motif = dice.chance(30).then(|| charts::motif(dice));
    let calf = if dice.chance(if motif.is_some() { 14 } else { 28 }) {
        calf(dice, &foot, leg)
    } else {
        Vec::new()
    };
    // Chosen stitches seldom carry whole repeats.
    let all_round = motif
        .as_ref()
        .is_some_and(|m| m.place == MotifPlacement::AllRound);
    let choose = dice.chance(if all_round { 15 } else { 60 });
    let mut recipe = Recipe {
        direction: if dice.chance(60) {
            Direction::CuffDown
        } else {
            Direction::ToeUp
        },
        foot,
        swatch,
        fit: fit(dice),
        cuff: Cuff {
            edge: dice.one_of(&Edge::ALL),
            length: Length(cuff),
        },
        cast_on: dice.one_of(&CastOn::ALL),
        toe_cast_on: dice.one_of(&ToeCastOn::ALL),
        bind_off: dice.one_of(&BindOff::ALL),
        leg: Length(leg),
        calf,
        adjust: adjust(dice),
        heel: heel(dice),
        toe: dice.one_of(&Toe::ALL),
        needles: needles(dice),
        motif,
        yarns: dice.chance(30).then(|| yarns(dice)),
        stitches: choose.then(|| chosen(dice, &foot, &swatch)),
        ball: dice.chance(10).then(|| Ball {
            grams: dice.small(5, 1000),
            metres: dice.small(10, 5000),
        }),
        // a pattern's sock is no sum of ours
        written: None,
    };
    measured_more(dice, &mut recipe);
    recipe
}

/// What few knitters measure or ask for: swatches in the motif and of a flap, stitches beside a panel,
/// room for tender legs.
fn measured_more(dice: &mut Dice, recipe: &mut Recipe) {
    let plain = recipe.swatch;
    if dice.chance(40) {
        let percent = dice.among(70, 125);
        let stitches = u32::from(plain.stitches) * dice.among(50, 150) / 100;
        let width = plain.width.0 * stitches * percent / 100 / u32::from(plain.stitches);
        recipe.swatch.pattern = Some(PatternSwatch {
            stitches: u16::try_from(stitches.clamp(4, 200)).unwrap_or(4),
            width: Length(width.clamp(200, 3000)),
        });
    }
    if dice.chance(if recipe.motif.is_some() { 75 } else { 15 }) {
        let percent = dice.among(75, 130);
        let rounds = u32::from(plain.rounds) * dice.among(50, 150) / 100;
        let height = plain.height.0 * rounds * percent / 100 / u32::from(plain.rounds);
        recipe.swatch.pattern_rounds = Some(PatternRounds {
            rounds: u16::try_from(rounds.clamp(4, 240)).unwrap_or(4),
            height: Length(height.clamp(200, 3000)),
        });
    }
    let flap = matches!(recipe.heel, Heel::FlapAndGusset { .. });
    if flap && dice.chance(20) {
        let rows = dice.small(10, 60);
        let height = plain.height.0 * u32::from(rows) * dice.among(70, 100)
            / (100 * u32::from(plain.rounds));
        recipe.swatch.flap = Some(FlapSwatch {
            rows,
            height: Length(height.clamp(100, 2000)),
        });
    }
    let front = matches!(&recipe.motif, Some(m) if m.place == MotifPlacement::Front);
    let all_round = recipe.motif.is_some() && !front;
    recipe.fit.tender_legs = dice.chance(if all_round { 1 } else { 12 });
    let chart = closed::chart(recipe).ok().flatten();
    if let Some((motif, chart)) = recipe.motif.as_mut().zip(chart) {
        let often = if front { 60 } else { 5 };
        // Mostly where every round can be broken off.
        let whole = (1..chart.wide()).filter(|n| chart.breaks_off(*n));
        let whole: Vec<u16> = whole.filter_map(|n| u16::try_from(n).ok()).collect();
        if dice.chance(often) && !whole.is_empty() {
            motif.balance = dice.one_of(&whole);
        } else if dice.chance(3) {
            motif.balance = dice.small(0, motif.width());
        }
        if dice.chance(often) {
            motif.edge = dice.small(0, 2);
        }
        motif.rounds_by = dice.one_of(&RoundsBy::ALL);
    }
    recipe.swatch.guess = dice.chance(15).then(|| FirstGuess {
        yarn: dice.one_of(&WeightName::ALL),
        band_stitches: dice.chance(50).then(|| dice.small(10, 50)),
    });
}

fn needles(dice: &mut Dice) -> Method {
    match dice.one_of(&Method::ALL) {
        Method::ShortCircular { .. } if dice.chance(60) => Method::ShortCircular {
            length: Some(dice.one_of(&CircularLength::ALL)),
        },
        other => other,
    }
}

/// A number of stitches; one that is far too wide for the foot seldom.
fn chosen(dice: &mut Dice, foot: &Foot, swatch: &Swatch) -> u16 {
    let round = foot.circumference.map_or(foot.length.0, |round| round.0);
    let wide = |stitches: u16| {
        2 * u32::from(stitches) * swatch.width.0 > 3 * round * u32::from(swatch.stitches)
    };
    let stitches = 4 * dice.small(8, 30);
    if wide(stitches) {
        4 * dice.small(8, 30)
    } else {
        stitches
    }
}

/// What a knitter may want instead of a sock that is half knitted: another thing or two.
pub fn wish_instead(number: usize, recipe: &Recipe) -> Recipe {
    let dice = &mut Dice::thrown(!(number as u64));
    let mut wish = recipe.clone();
    for _ in 0..dice.among(1, 2) {
        match dice.among(0, 9) {
            0..=3 => wish.needles = dice.one_of(&Method::ALL),
            4 => wish.adjust = adjust(dice),
            5 => {
                // A round gauge measured in the sock.
                let percent = dice.among(92, 109);
                let height = (wish.swatch.height.0 * percent / 100).max(200);
                if (18 * height..=80 * height).contains(&(1000 * u32::from(wish.swatch.rounds))) {
                    wish.swatch.height = Length(height);
                }
            }
            6 => wish.foot.length = Length((wish.foot.length.0 + dice.among(0, 40)).min(3400)),
            7 => wish.leg = Length((wish.leg.0 + dice.among(0, 200)).min(4500)),
            8 => wish.toe = dice.one_of(&Toe::ALL),
            _ => {
                wish.heel = heel(dice);
                wish.fit = Fit {
                    high_instep: dice.chance(15),
                    wide_toes: dice.chance(15),
                    narrow_heel: dice.chance(20),
                    ..wish.fit
                };
            }
        }
    }
    wish
}

/// A swatch of 15 to 48 stitches to 10 cm, counted over some width and height, with rounds in
/// the proportion to stitches that knitting has.
fn swatch(dice: &mut Dice) -> Swatch {
    loop {
        // Gauges in tenths of a stitch to 10 cm.
        let gauge = dice.among(150, 480);
        let rounds = (gauge * dice.among(115, 160) / 100).clamp(180, 800);
        let (width, height) = (dice.among(400, 1500), dice.among(400, 1500));
        let (stitches, rounds) = (gauge * width / 10_000, rounds * height / 10_000);
        // Counting whole stitches moves the gauge; keep those that are still in range.
        let fits = (15 * width..=48 * width).contains(&(1000 * stitches))
            && (18 * height..=80 * height).contains(&(1000 * rounds));
        if !fits {
            continue;
        }
        let before = |dice: &mut Dice, washed: u32| {
            let percent = dice.among(90, 112);
            Length((washed * percent / 100).clamp(200, 3000))
        };
        return Swatch {
            stitches: u16::try_from(stitches).unwrap_or(u16::MAX),
            width: Length(width),
            rounds: u16::try_from(rounds).unwrap_or(u16::MAX),
            height: Length(height),
            unwashed: dice.chance(25).then(|| Unwashed {
                width: before(dice, width),
                height: before(dice, height),
            }),
            needle: None,
            pattern: None,
            pattern_rounds: None,
            flap: None,
            guess: None,
        };
    }
}

fn foot(dice: &mut Dice) -> Foot {
    let length = dice.among(900, 3400);
    Foot {
        length: Length(length),
        circumference: dice
            .chance(50)
            .then(|| Length((length * dice.among(80, 110) / 100).clamp(900, 3600))),
        heel_diagonal: dice.chance(50).then(|| Length(dice.among(1300, 4000))),
    }
}

fn fit(dice: &mut Dice) -> Fit {
    Fit {
        ease_percent: u8::try_from(dice.among(0, 25)).unwrap_or(0),
        length_ease: Length(dice.among(0, 300)),
        high_instep: dice.chance(15),
        wide_toes: dice.chance(15),
        narrow_heel: dice.chance(20),
        tender_legs: false,
    }
}

fn heel(dice: &mut Dice) -> Heel {
    match dice.among(0, 6) {
        0 => Heel::ShortRow {
            between: dice.small(0, 6),
        },
        1 | 2 => Heel::Afterthought {
            opening: dice.one_of(&HeelOpening::ALL),
        },
        _ => {
            let rows = dice.chance(30).then(|| 2 * dice.small(4, 40));
            let most = if dice.chance(90) { 900 } else { 1500 };
            let height = dice.chance(if rows.is_some() { 3 } else { 20 });
            Heel::FlapAndGusset {
                texture: dice.one_of(&FlapTexture::ALL),
                turn: dice.one_of(&HeelTurn::ALL),
                rows,
                height: height.then(|| Length(dice.among(200, most))),
                corners: dice.chance(50),
            }
        }
    }
}

/// Girths of a leg of that height, and some above it: mostly like a leg, a little wider with every
/// measure.
fn calf(dice: &mut Dice, foot: &Foot, leg: u32) -> Vec<Girth> {
    let ankle = foot.circumference.map_or(foot.length.0 * 95 / 100, |c| c.0);
    let mut height = 0;
    let mut round = ankle;
    let mut girths = Vec::new();
    for _ in 0..dice.among(1, 4) {
        height += dice.among(100, (leg / 2).max(200));
        round = round * dice.among(92, 125) / 100;
        if height <= 4500 {
            girths.push(Girth {
                height: Length(height),
                circumference: Length(round.clamp(1200, 6000)),
            });
        }
    }
    girths
}

/// Mostly none, mostly a few rounds, seldom as many as there may be.
fn adjust(dice: &mut Dice) -> Adjust {
    if dice.chance(80) {
        return Adjust::default();
    }
    let most = if dice.chance(80) { 12 } else { 99 };
    let mut rounds = || {
        let rounds = i16::try_from(dice.among(0, 2 * most)).unwrap_or(0);
        rounds - i16::try_from(most).unwrap_or(0)
    };
    Adjust {
        leg: rounds(),
        foot: rounds(),
    }
}

fn yarns(dice: &mut Dice) -> Yarns {
    let stripes = if dice.chance(90) { 6 } else { 12 };
    let stripes = dice.among(1, stripes);
    Yarns {
        stripes: (0..stripes)
            .map(|_| Stripe {
                yarn: dice.one_of(&Yarn::ALL),
                rounds: if dice.chance(90) {
                    dice.small(1, 12)
                } else {
                    dice.small(1, 60)
                },
            })
            .collect(),
        cuff: dice.one_of(&Yarn::ALL),
        heel: dice.one_of(&Yarn::ALL),
        toe: dice.one_of(&Yarn::ALL),
    }
}
