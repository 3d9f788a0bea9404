//! What a plan claims it comes to, held against the closed forms and against what hands did.

use evenloop_engine::recipe::Recipe;
use serde_json::Value;

use super::closed::{self, Shape, Sums};
use super::hands::Hands;
use super::page::Section;

/// What the plan claims before it is knitted.
pub(super) fn agree(recipe: &Recipe, outcome: &Value, s: &Sums) -> Result<(), String> {
    let (flap_rows, turned, picked_up) = match s.shape {
        Shape::Flap {
            rows,
            turned,
            per_side,
            ..
        } => (rows, turned, per_side),
        Shape::FlapToeUp { gusset, .. } => (2 * gusset.shapings, s.heel, 0),
        Shape::ShortRow { .. } | Shape::Late { .. } => (0, 0, 0),
    };
    let claims = [
        ("stitches", s.around.into()),
        ("circumference", closed::foot_tube(recipe, s.around)),
        ("heel_stitches", s.heel.into()),
        ("flap_rows", flap_rows.into()),
        ("turned", turned.into()),
        ("picked_up", picked_up.into()),
        ("peak", closed::peak(s).into()),
        ("toe_left", s.toe_left.into()),
        ("graft_pairs", s.pairs.into()),
        ("cast_on", s.top().into()),
        ("foot_length", closed::foot_length(recipe, s, true)),
        ("leg_length", closed::leg_length(recipe, s, true)),
    ];
    for (field, ours) in claims {
        if outcome[field].as_u64() != Some(ours) {
            return Err(format!(
                "outcome.{field} is {}, by the closed forms {ours}",
                outcome[field]
            ));
        }
    }
    let before_washing = [
        ("leg_on_needles", closed::leg_length(recipe, s, false)),
        ("foot_on_needles", closed::foot_length(recipe, s, false)),
    ];
    for (field, ours) in before_washing {
        let ours = recipe.swatch.unwashed.map(|_| ours);
        if outcome[field].as_u64() != ours {
            return Err(format!(
                "outcome.{field} is {}, by the closed forms {ours:?}",
                outcome[field]
            ));
        }
    }
    Ok(())
}

/// What hands did in a section.
pub(super) struct Done {
    kind: String,
    worked: u64,
    loops: u64,
    /// Rounds and rows, as a knitter counts them: what is walked is none.
    counted: usize,
}

impl Done {
    /// Everything until now.
    pub(super) fn so_far(section: &Section, hands: &Hands) -> Self {
        Self {
            kind: section.kind.clone(),
            worked: hands.worked,
            loops: hands.loops.iter().sum(),
            counted: section.steps.iter().filter(|s| s.form != "walk").count(),
        }
    }

    pub(super) fn since(self, before: &Self) -> Self {
        Self {
            worked: self.worked - before.worked,
            loops: self.loops - before.loops,
            ..self
        }
    }
}

/// What the plan claims of work and yarn, counted stitch by stitch.
pub(super) fn agree_on_yarn(
    recipe: &Recipe,
    outcome: &Value,
    hands: &Hands,
    sections: &[Done],
) -> Result<(), String> {
    let claimed = &outcome["stitches_worked"];
    if claimed.as_u64() != Some(hands.worked) {
        return Err(format!(
            "outcome.stitches_worked is {claimed}, by hand {}",
            hands.worked
        ));
    }
    let decimetres = |loops: u64| decimetres(recipe, loops);
    let listed = outcome["sections"]
        .as_array()
        .map_or(&[][..], Vec::as_slice);
    if listed.len() != sections.len() {
        return Err(format!("{} sections are listed", listed.len()));
    }
    for (claim, done) in listed.iter().zip(sections) {
        if claim["kind"].as_str() != Some(&done.kind)
            || claim["worked"].as_u64() != Some(done.worked)
            || claim["steps"].as_u64() != u64::try_from(done.counted).ok()
            || !about(&claim["yarn_dm"], decimetres(done.loops))
        {
            return Err(format!(
                "outcome claims {claim}, by hand {} {} {} with {} decimetres",
                done.kind,
                done.counted,
                done.worked,
                decimetres(done.loops)
            ));
        }
    }
    let listed = outcome["yarns"].as_array().map_or(&[][..], Vec::as_slice);
    if listed.is_empty() {
        let others: u64 = hands.loops[1..].iter().sum();
        return if recipe.yarns.is_some() || others > 0 {
            Err("the yarns are not listed".into())
        } else {
            Ok(())
        };
    }
    for (letter, loops) in ["A", "B", "C", "D"].into_iter().zip(hands.loops) {
        let claim = listed.iter().find(|yarn| yarn["yarn"] == letter);
        let Some(claim) = claim else {
            if loops > 0 {
                return Err(format!("yarn {letter} is used, but not listed"));
            }
            continue;
        };
        if !about(&claim["yarn_dm"], decimetres(loops)) {
            return Err(format!(
                "outcome claims {claim}, by hand {} decimetres",
                decimetres(loops)
            ));
        }
        let Some(metres) = claim["yarn_dm"].as_u64().map(|dm| (dm * 11).div_ceil(100)) else {
            return Err(format!("no length: {claim}"));
        };
        let grams = recipe
            .ball
            .map(|ball| (metres * u64::from(ball.grams)).div_ceil(ball.metres.into()));
        if claim["metres"].as_u64() != Some(metres) || claim["grams"].as_u64() != grams {
            return Err(format!("{claim}: {metres} metres, {grams:?} grams"));
        }
    }
    Ok(())
}

/// The same to a decimetre: halves may be rounded either way.
fn about(claim: &Value, ours: f64) -> bool {
    claim
        .as_f64()
        .is_some_and(|claim| (claim - ours).abs() < 0.6)
}

/// Yarn for so many hundredths of plain loops: each is the square root of 21.6 over the stitches of a
/// square centimetre long (Munden 1959, plain knitting relaxed in water; the constant from memory).
#[allow(clippy::cast_precision_loss)] // far below what a float holds
fn decimetres(recipe: &Recipe, loops: u64) -> f64 {
    let swatch = recipe.swatch;
    let stitches = f64::from(u32::from(swatch.stitches) * u32::from(swatch.rounds));
    let area = f64::from(swatch.width.0) * f64::from(swatch.height.0) / 10_000.0;
    loops as f64 / 100.0 * (21.6 * area / stitches).sqrt() / 10.0
}
