//! What lies on the needles at the end of every round, row and walked section.

use evenloop_engine::recipe::{Recipe, ToeCastOn};

use super::seats::{cuff_needles, foot_needles, heel_needles, leg_needles, toe_method};
use super::toe::{Tip, Wedge};
use super::{Shape, Sums, rounds_of_its_place};

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

/// What lies on the needles at the end of every round, row and walked section, in order.
pub fn expected(recipe: &Recipe, s: &Sums) -> Vec<Expected> {
    let sock = Sock { recipe, s };
    let mut sections = Vec::new();
    if s.toe_up {
        sections.push(walked("cast-on", sock.toe_begun()));
        sections.push(sock.toe_up());
        sections.push(sock.foot());
        sections.extend(sock.heel());
        sections.push(sock.leg());
        sections.push(sock.cuff());
        sections.push(walked("bind-off", nothing()));
    } else {
        sections.push(walked("cast-on", sock.cuff_state()));
        sections.push(sock.cuff());
        sections.push(sock.leg());
        sections.extend(sock.heel());
        sections.push(sock.foot());
        sections.push(sock.toe());
        sections.push(walked("close", nothing()));
    }
    if let Shape::Late { wedge } = s.shape {
        sections.push(Sock::late_heel(wedge));
        sections.push(walked("late-close", nothing()));
    }
    sections
}

fn walked(section: &'static str, state: State) -> Expected {
    Expected {
        section,
        walked: true,
        states: vec![state],
    }
}

fn worked(section: &'static str, states: Vec<State>) -> Expected {
    Expected {
        section,
        walked: false,
        states,
    }
}

fn nothing() -> State {
    State {
        needles: Vec::new(),
        parts: [0; 7],
    }
}

/// A sock about to be counted.
struct Sock<'a> {
    recipe: &'a Recipe,
    s: &'a Sums,
}

impl Sock<'_> {
    /// The leg with so many pairs of stitches more than the ankle.
    fn leg_state(&self, pairs: u32) -> State {
        let half = self.s.around / 2;
        State {
            needles: leg_needles(self.recipe, self.s, pairs),
            parts: [half + 2 * pairs, half, 0, 0, 0, 0, 0],
        }
    }

    fn cuff_state(&self) -> State {
        let pairs = (self.s.top() - self.s.around) / 2;
        State {
            needles: cuff_needles(self.recipe, self.s, pairs),
            ..self.leg_state(pairs)
        }
    }

    fn leg(&self) -> Expected {
        let above_heel = self.s.calf.iter().map(|pairs| self.leg_state(*pairs));
        let states = if self.s.toe_up {
            above_heel.skip(1).collect()
        } else {
            above_heel.rev().skip(1).collect()
        };
        worked("leg", states)
    }

    fn cuff(&self) -> Expected {
        worked("cuff", vec![self.cuff_state(); self.s.cuff_rounds as usize])
    }

    /// The heel worked flat on so many stitches, the instep waiting.
    fn flat(&self, heel: u32) -> State {
        let instep = self.s.around / 2;
        State {
            needles: heel_needles(self.recipe.needles, self.s, heel),
            parts: [0, 0, heel, 0, instep, 0, 0],
        }
    }

    /// The round whole again, the sole with so many stitches.
    fn round(&self, sole: u32) -> State {
        let instep = self.s.around / 2;
        State {
            needles: foot_needles(self.recipe.needles, sole / 2, instep, self.s.split()),
            parts: [0, 0, 0, 0, instep, 0, sole],
        }
    }

    fn foot(&self) -> Expected {
        worked(
            "foot",
            vec![self.round(self.s.heel); self.s.foot_rounds as usize],
        )
    }

    fn heel(&self) -> Vec<Expected> {
        let heel = self.s.heel;
        match self.s.shape {
            Shape::Flap {
                rows,
                end,
                turned,
                turn_rows,
                per_side,
                gusset,
                ..
            } => {
                let side = |decreases: u32| self.gusset_state(turned, per_side - decreases);
                // Rows in which a band heel narrows its flap: the last three with the right side
                // facing.
                let narrowed = |row: u32| ((row + 7).saturating_sub(rows) / 2).min(3);
                let narrows = u32::from(end < heel);
                vec![
                    worked(
                        "heel-flap",
                        (1..=rows)
                            .map(|row| self.flat(heel - 2 * narrows * narrowed(row)))
                            .collect(),
                    ),
                    worked(
                        "heel-turn",
                        (1..=turn_rows).map(|row| self.flat(end - row)).collect(),
                    ),
                    walked("pick-up", side(0)),
                    worked(
                        "gusset",
                        (1..=gusset.rounds)
                            .map(|r| side(gusset.shaped_by(r)))
                            .collect(),
                    ),
                ]
            }
            Shape::FlapToeUp { gusset, each_side } => {
                let wide = heel + 2 * gusset.shapings;
                vec![
                    worked(
                        "gusset",
                        (1..=gusset.rounds)
                            .map(|r| self.round(heel + 2 * gusset.shaped_by(r)))
                            .collect(),
                    ),
                    worked(
                        "heel-turn",
                        vec![self.flat(wide); 2 * each_side as usize + 2],
                    ),
                    worked(
                        "heel-flap",
                        (1..=2 * gusset.shapings)
                            .map(|row| self.flat(wide - row))
                            .collect(),
                    ),
                ]
            }
            // Double stitches count one each: nothing changes but the shape.
            Shape::ShortRow {
                each_side,
                between,
                folded,
            } => {
                let fold = if folded { 2 } else { 1 + between };
                let rows = 2 * each_side + fold + (2 * each_side + 2) + 2;
                vec![worked(
                    "short-row-heel",
                    vec![self.flat(heel); rows as usize],
                )]
            }
            Shape::Late { .. } => {
                let State { needles, .. } = self.flat(heel);
                let parts = [0, 0, 0, 0, heel, 0, heel];
                let rounds = rounds_of_its_place(self.recipe);
                vec![worked("heel-place", vec![State { needles, parts }; rounds])]
            }
        }
    }

    fn gusset_state(&self, turned: u32, side: u32) -> State {
        let instep = self.s.around / 2;
        State {
            needles: foot_needles(
                self.recipe.needles,
                turned / 2 + side,
                instep,
                self.s.split(),
            ),
            parts: [0, 0, turned, side, instep, side, 0],
        }
    }

    /// A toe with so many stitches each on instep and sole.
    fn toe_state(&self, instep: u32) -> State {
        let needles = match self.s.tip {
            // Sole and instep, as they are grafted.
            Tip::Cup { .. } | Tip::Shaped(_) => vec![instep; 2],
            Tip::Wedge(_) | Tip::Round(_) => {
                let method = toe_method(self.recipe.needles);
                foot_needles(method, instep / 2, instep, instep / 2)
            }
        };
        State {
            needles,
            parts: [0, 0, 0, 0, instep, 0, instep],
        }
    }

    fn toe(&self) -> Expected {
        let state = |r| self.toe_state(self.s.tip.instep_by(r));
        worked("toe", (1..=self.s.tip.worked()).map(state).collect())
    }

    /// The cast-on, sole on the first needle, instep on the second; or still in a chain.
    fn toe_begun(&self) -> State {
        let half = self.s.toe_left / 2;
        if self.recipe.toe_cast_on == ToeCastOn::Provisional {
            return State {
                needles: vec![half],
                parts: [0, 0, 0, 0, 0, 0, half],
            };
        }
        State {
            needles: vec![half, half],
            parts: [0, 0, 0, 0, half, 0, half],
        }
    }

    fn toe_up(&self) -> Expected {
        if let Tip::Cup { .. } = self.s.tip {
            let mut toe = self.toe();
            // The chain is undone when the short rows are done; two rounds follow.
            let rows = toe.states.len().saturating_sub(2);
            if self.recipe.toe_cast_on == ToeCastOn::Provisional {
                toe.states[..rows].fill(self.toe_begun());
            }
            return toe;
        }
        let state = |r| self.toe_state(self.s.tip.instep_up_by(r));
        let later = (2..=self.s.toe_rounds).map(state);
        worked(
            "toe",
            std::iter::once(self.toe_begun()).chain(later).collect(),
        )
    }

    /// The opening of the waste yarn with two stitches made in each corner, then a wedge.
    fn late_heel(wedge: Wedge) -> Expected {
        let state = |round: u32| {
            let half = wedge.instep_by(round - 1);
            State {
                needles: vec![half, half],
                parts: [half, 0, 0, 0, 0, 0, half],
            }
        };
        worked("late-heel", (1..=1 + wedge.rounds()).map(state).collect())
    }
}
