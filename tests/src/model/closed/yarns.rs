//! In which yarn each step is worked.

use evenloop_engine::recipe::{Direction, Recipe};
use serde_json::Value;

use crate::model::page::Step;

/// What decides a step's yarn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Thread {
    /// The cuff's.
    Cuff,
    /// The heel's.
    Heel,
    /// The toe's.
    Toe,
    /// The next round of the stripes.
    Stripe,
    /// Whatever is in hand.
    InHand,
}

impl Thread {
    /// What decides the yarn of a step in that section.
    pub fn of(section: &str, step: &Step, toe_up: bool) -> Self {
        let walk = step.form == "walk";
        let round = step.form == "round";
        // On the way to the heel or to the side of a toe the whole instep is knitted across: a round
        // of the stripes, or one of them would be there twice.
        let across = |cue: &str| matches!(cue, "reach-heel" | "reach-side");
        match section {
            _ if walk && step.moves.iter().any(|mv| across(&mv.cue)) => Self::Stripe,
            "cast-on" if toe_up => Self::Toe,
            "cast-on" | "bind-off" => Self::Cuff,
            "cuff" if !walk => Self::Cuff,
            "toe" if !walk => Self::Toe,
            "pick-up" => Self::Stripe,
            "leg" | "gusset" | "foot" | "heel-place" | "short-row-heel" if round => Self::Stripe,
            "heel-flap" | "heel-turn" | "short-row-heel" if !walk => Self::Heel,
            "late-heel" if round => Self::Heel,
            _ => Self::InHand,
        }
    }
}

/// The yarns of a recipe, read from its written form.
#[derive(Debug, Clone)]
pub struct Stripes {
    rounds: Vec<char>,
    parts: [char; 3],
    toe_up: bool,
    /// Rounds of the stripes that were begun.
    begun: usize,
}

impl Stripes {
    /// The yarns of a recipe; one yarn where it names none.
    pub fn of(recipe: &Recipe) -> Self {
        let written = serde_json::to_value(&recipe.yarns).unwrap_or(Value::Null);
        let letter = |value: &Value| {
            let text = value.as_str().unwrap_or("A");
            text.chars().next().unwrap_or('A')
        };
        let mut rounds = Vec::new();
        for stripe in written["stripes"].as_array().into_iter().flatten() {
            let times = stripe["rounds"].as_u64().unwrap_or(0);
            rounds.extend((0..times).map(|_| letter(&stripe["yarn"])));
        }
        if rounds.is_empty() {
            rounds.push('A');
        }
        Self {
            rounds,
            parts: ["cuff", "heel", "toe"].map(|part| letter(&written[part])),
            toe_up: recipe.direction == Direction::ToeUp,
            begun: 0,
        }
    }

    /// Whether a stripe is in another yarn than the heel.
    pub(super) fn spare_the_heel(&self) -> bool {
        self.rounds.iter().any(|yarn| *yarn != self.parts[1])
    }

    /// The yarn of the next step, when one is in hand.
    pub fn next(&mut self, section: &str, step: &Step, in_hand: char) -> char {
        match Thread::of(section, step, self.toe_up) {
            Thread::Cuff => self.parts[0],
            Thread::Heel => self.parts[1],
            Thread::Toe => self.parts[2],
            Thread::InHand => in_hand,
            Thread::Stripe => {
                self.begun += 1;
                self.rounds[(self.begun - 1) % self.rounds.len()]
            }
        }
    }
}
