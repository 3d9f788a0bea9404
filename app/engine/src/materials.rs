//! What has to be at hand for a pair before the first stitch: read off a plan, and off what the simulator saw of it.
//!
//! Pure. May use plans and traces; must not know words.

use crate::needle_size::Needle;
use crate::needles::{Item, Needles};
use crate::plan::Plan;
use crate::recipe::{BindOff, Method};
use crate::stitch::{Op, Yarn};
use crate::trace::Trace;

/// One thing that is needed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Material {
    /// Yarn for both socks, the allowance of a tenth included.
    Yarn {
        /// Which of several; none where there is one.
        yarn: Option<Yarn>,
        /// Metres.
        metres: u32,
        /// Grams, where the ball's band is known.
        grams: Option<u32>,
        /// Whole balls, where the ball's band is known.
        balls: Option<u32>,
    },
    /// What it is knitted on.
    Needles(Method, Option<Needle>),
    /// What the toe is knitted on where it does not reach round a short circular needle; of the same size.
    ForTheToe,
    /// A thicker needle to bind off with; its size, where that of the others is known and there is one.
    ToBindOff(Option<Needle>),
    /// So many markers at once.
    Markers(usize),
    /// A safety pin, which marks where a row is snipped.
    SafetyPin,
    /// A needle that holds the stitches of a cable.
    CableNeedle,
    /// Waste yarn.
    WasteYarn {
        /// It keeps the place of the heel.
        heel: bool,
        /// It is cast on over.
        cast_on: bool,
    },
    /// A hook for the chain of a provisional cast-on.
    CrochetHook,
    /// A needle to weave the ends in, and to sew with.
    DarningNeedle {
        /// Stitches are grafted.
        graft: bool,
        /// Stitches are drawn closed.
        draw: bool,
        /// An edge is sewn.
        sew: bool,
    },
    /// A thread that is knitted along with the heel, for those who like it.
    ReinforcingThread,
}

/// All that a pair needs, in the order in which it is bought and laid out. Both socks take the same: a second
/// one that is the mirror image is no other sock.
pub fn materials(plan: &Plan, trace: &Trace) -> Vec<Material> {
    let recipe = &plan.recipe;
    let used = Used::of(plan);
    let mut all = yarns(plan);
    all.push(Material::Needles(recipe.needles, recipe.swatch.needle));
    if matches!(recipe.needles, Method::ShortCircular { .. }) && seen(trace).any(is_divided) {
        all.push(Material::ForTheToe);
    }
    if used.bind_off && recipe.binds_off_plainly() {
        let thicker = recipe.swatch.needle.and_then(Needle::larger);
        all.push(Material::ToBindOff(thicker));
    }
    match seen(trace).map(markers).max() {
        None | Some(0) => {}
        Some(most) => all.push(Material::Markers(most)),
    }
    if used.pin {
        all.push(Material::SafetyPin);
    }
    if used.cross {
        all.push(Material::CableNeedle);
    }
    if used.waste || used.chain {
        all.push(Material::WasteYarn {
            heel: used.waste,
            cast_on: used.chain,
        });
    }
    if used.chain {
        all.push(Material::CrochetHook);
    }
    let sews_bind_off = matches!(recipe.bind_off, BindOff::Sewn | BindOff::Tubular);
    all.push(Material::DarningNeedle {
        graft: used.graft,
        draw: used.draw,
        sew: used.sew || (used.bind_off && recipe.sews_edge() && sews_bind_off),
    });
    if plan.first_of_heel().is_some() {
        all.push(Material::ReinforcingThread);
    }
    all
}

/// The yarn of both socks.
fn yarns(plan: &Plan) -> Vec<Material> {
    let outcome = &plan.outcome;
    let pair = |yarn, metres: u32, grams: Option<u32>| {
        let metres = metres.saturating_mul(2);
        let in_ball = plan.recipe.ball.map(|ball| u32::from(ball.metres).max(1));
        Material::Yarn {
            yarn,
            metres,
            grams: grams.map(|grams| grams.saturating_mul(2)),
            balls: in_ball.map(|in_ball| metres.div_ceil(in_ball)),
        }
    };
    if outcome.yarns.is_empty() {
        return vec![pair(None, outcome.metres, outcome.grams)];
    }
    let each = outcome.yarns.iter();
    each.map(|one| pair(Some(one.yarn), one.metres, one.grams))
        .collect()
}

/// The needles before and after every move.
fn seen(trace: &Trace) -> impl Iterator<Item = &Needles> {
    trace.steps.iter().flat_map(|step| {
        let after = step.moves.iter().map(|mv| &mv.after);
        std::iter::once(&step.before).chain(after)
    })
}

fn is_divided(needles: &Needles) -> bool {
    needles.per_needle().len() > 1
}

fn markers(needles: &Needles) -> usize {
    needles
        .items()
        .filter(|item| matches!(item, Item::Marker(_)))
        .count()
}

/// What of a plan's operations needs a thing of its own.
#[derive(Default)]
#[allow(clippy::struct_excessive_bools)] // each is a thing of its own
struct Used {
    cross: bool,
    waste: bool,
    chain: bool,
    pin: bool,
    graft: bool,
    draw: bool,
    sew: bool,
    bind_off: bool,
}

impl Used {
    fn of(plan: &Plan) -> Self {
        let mut used = Self::default();
        let steps = plan.sections.iter().flat_map(|section| &section.steps);
        let moves = steps.flat_map(|step| &step.moves);
        let mut left: Vec<&Op> = moves.flat_map(|mv| &mv.ops).collect();
        while let Some(op) = left.pop() {
            match op {
                Op::Cross(_) => used.cross = true,
                Op::Waste(_) => used.waste = true,
                Op::CastOnProvisional(_) => used.chain = true,
                Op::KnitToSnip(_) => used.pin = true,
                Op::GraftStart | Op::Graft(_) => used.graft = true,
                Op::DrawClosed(_) => used.draw = true,
                Op::SewDown(_) => used.sew = true,
                Op::BindOff(_) => used.bind_off = true,
                Op::Repeat(inner, _) => left.extend(inner),
                _ => {}
            }
        }
        used
    }
}
