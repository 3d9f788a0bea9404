//! A sock replanned when it is half knitted: what is knitted stays to the operation, a heel that is
//! begun is finished, and the rest is what the closed forms say of the new wish with the old choices
//! in what is there already. The whole is knitted by hand, through the change of needles.

use std::cmp::Ordering;

use evenloop_engine::plan::{Plan, PlanError, make, replan};
use evenloop_engine::recipe::{BindOff, CastOn, Direction, Edge, Heel, Recipe};
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::{write_plan, write_recipe};

use super::closed::{self, Expected, Gusset, Shape, State, Sums};
use super::compare::{Verdict, agree, as_due, begun_elsewhere, hands_for, needles_in_set};
use super::hands::Hands;
use super::loose;
use super::page::{self, Page, Section};

/// Replans a sock after so many of its steps and looks at what comes of it.
///
/// # Errors
/// What is not as it should be.
pub fn after(old: &Recipe, done: usize, wish: &Recipe) -> Result<Verdict, String> {
    let plan = make(old).map_err(|errors| format!("there is no sock to begin with: {errors:?}"))?;
    let mut wish = wish.clone();
    // the edges that tender legs want
    if wish.fit.tender_legs {
        wish.cast_on = CastOn::TwistedLongTail;
        wish.bind_off = BindOff::YarnOver;
    }
    let same_motif = wish.motif == old.motif;
    let (old, wish) = (&begun_elsewhere(old, &plan.recipe)?, &wish);
    let before = page::read(&write_plan(&plan))?;
    let tubular = closed::tubular_edge(old).is_some();
    let begun = Begun::of(&before, done, old.direction == Direction::ToeUp, tubular);
    let mut kept = begun.kept(old, wish)?;
    // A motif that was begun elsewhere in its repeat stays so once it is knitted.
    let knitted = rows_of_motif(&before, done);
    if same_motif && knitted {
        kept.motif.clone_from(&plan.recipe.motif);
    }
    let new = match replan(&plan, done, wish) {
        Ok(new) => new,
        Err(PlanError::Impossible(errors)) => return refused(&kept, &begun, old, &errors),
        Err(PlanError::Bug(bug)) => return Err(format!("planned wrongly: {bug}")),
    };
    let page = page::read(&write_plan(&new))?;
    if kept.motif != new.recipe.motif {
        if same_motif && knitted {
            return Err("the columns of the motif do not stay where they are".into());
        }
        loose::is_begun_later(&kept, &new.recipe)?;
        kept.motif.clone_from(&new.recipe.motif);
    }
    if !knitted {
        loose::look(&kept, &page)?;
    }
    let same = same_steps(&before, &page);
    if same < done {
        return Err(format!("step {same} of {done} that are knitted is another"));
    }
    let due = Due::of(old, &kept, &begun)?;
    // where no round of the motif is knitted yet, the repeat may be begun elsewhere
    let on_the_needles = Recipe {
        motif: new.recipe.motif.clone(),
        ..old.clone()
    };
    due.knit(&on_the_needles, wish, &new, &page, same)
}

/// Fields for which a wish is refused whatever is knitted.
fn refused(
    kept: &Recipe,
    begun: &Begun,
    old: &Recipe,
    errors: &[evenloop_engine::error::FieldError],
) -> Result<Verdict, String> {
    let fields = errors.iter().map(|e| e.field.to_string()).collect();
    match Due::of(old, kept, begun) {
        Err(_) => Ok(Verdict::Refused(fields)),
        Ok(due)
            if old.needles != kept.needles
                && closed::too_narrow(kept, due.sums.around).is_some() =>
        {
            Ok(Verdict::Refused(fields))
        }
        Ok(_) => Err(format!(
            "refused, but the closed forms have it: {errors:?}\nkept: {}",
            write_recipe(kept)
        )),
    }
}

/// Whether a round of a motif is among so many steps.
fn rows_of_motif(page: &Page, steps: usize) -> bool {
    let all = page.sections.iter().flat_map(|section| &section.steps);
    let mut ops = all.take(steps).flat_map(|step| &step.moves);
    ops.any(|mv| mv.ops.iter().any(|op| matches!(op, page::Do::Row(_))))
}

/// Steps from the first on that are the same on both pages.
fn same_steps(one: &Page, other: &Page) -> usize {
    let steps = |page: &Page| -> Vec<(String, page::Step)> {
        let sections = page.sections.iter();
        sections
            .flat_map(|s| s.steps.iter().map(|step| (s.kind.clone(), step.clone())))
            .collect()
    };
    let (one, other) = (steps(one), steps(other));
    one.iter().zip(&other).take_while(|(a, b)| a == b).count()
}

/// How much of each section is done.
struct Begun {
    /// Its key, its steps done, its rounds or rows done.
    sections: Vec<(String, usize, usize)>,
    up: bool,
    /// Whether the cuff has a tubular edge.
    tubular: bool,
}

impl Begun {
    fn of(page: &Page, done: usize, up: bool, tubular: bool) -> Self {
        let mut left = done;
        let sections = page.sections.iter().map(|section| {
            let here = left.min(section.steps.len());
            left -= here;
            let rounds = section.steps[..here]
                .iter()
                .filter(|step| step.form != "walk")
                .count();
            (section.kind.clone(), here, rounds)
        });
        Self {
            sections: sections.collect(),
            up,
            tubular,
        }
    }

    fn is(&self, section: &str) -> bool {
        self.sections
            .iter()
            .any(|(kind, done, _)| kind == section && *done > 0)
    }

    fn any(&self, sections: &[&str]) -> bool {
        sections.iter().any(|section| self.is(section))
    }

    /// Whether something after a section is begun.
    fn past(&self, section: &str, order: &[Expected]) -> bool {
        let after = order.iter().skip_while(|one| one.section != section);
        after.skip(1).any(|later| self.is(later.section))
    }

    /// Whether the leg is done, so that nothing is left of it to be wanted.
    fn leg_is_knitted(&self) -> bool {
        if self.up {
            self.any(&["cuff", "bind-off"])
        } else {
            self.any(&["heel-flap", "heel-turn", "short-row-heel", "heel-place"])
        }
    }

    /// Whether the last rounds of a cuff of so many are begun that lead to a tubular edge: then it ends
    /// as it was begun.
    fn ends_tubular(&self, rounds: usize) -> bool {
        self.tubular && self.up && self.is("cuff") && self.rounds("cuff") + 2 >= rounds
    }

    fn rounds(&self, section: &str) -> usize {
        let found = self.sections.iter().find(|(kind, ..)| kind == section);
        found.map_or(0, |(_, _, rounds)| *rounds)
    }

    /// The wish, with the old choices in all that is there already.
    fn kept(&self, old: &Recipe, wish: &Recipe) -> Result<Recipe, String> {
        let mut kept = wish.clone();
        let Some((_, 1.., _)) = self.sections.first() else {
            return Ok(kept);
        };
        let sums = closed::sums(old).map_err(|no| format!("{no:?}"))?;
        kept.stitches = u16::try_from(sums.around).ok();
        let up = old.direction == Direction::ToeUp;
        if !up || self.is("leg") {
            kept.calf.clone_from(&old.calf);
        }
        if self.is("cuff") {
            kept.cuff.edge = old.cuff.edge;
            if self.tubular || kept.bind_off == BindOff::Tubular {
                kept.bind_off = old.bind_off;
            }
            if matches!(old.cuff.edge, Edge::Hem { .. }) {
                kept.cuff.length = old.cuff.length;
            }
        }
        if up || self.is("toe") {
            kept.toe = old.toe;
            kept.fit.wide_toes = old.fit.wide_toes;
        }
        let heel = [
            "heel-flap",
            "heel-turn",
            "gusset",
            "short-row-heel",
            "heel-place",
        ];
        if self.any(&heel) {
            kept.heel = old.heel;
            kept.fit.high_instep = old.fit.high_instep;
            kept.fit.narrow_heel = old.fit.narrow_heel;
            // However many rows that came to.
            let flap = match sums.shape {
                Shape::Flap { rows, .. } => Some(rows),
                Shape::FlapToeUp { gusset, .. } => Some(2 * gusset.shapings),
                Shape::ShortRow { .. } | Shape::Late { .. } => None,
            };
            if let Heel::FlapAndGusset { rows, height, .. } = &mut kept.heel {
                *rows = flap.and_then(|rows| u16::try_from(rows).ok());
                *height = None;
            }
        }
        Ok(kept)
    }
}

/// Pairs of a calf above the heel: what is knitted, then towards what is wanted, a pair a round.
fn go_on(was: &Sums, wanted: &Sums, done: usize) -> Vec<u32> {
    let all = wanted.leg_rounds as usize;
    // After how many of the leg's rounds, counted from the end where it is begun.
    let at = |pairs: &[u32], round: usize, leg: usize| -> u32 {
        let above = if wanted.toe_up {
            round
        } else {
            leg.saturating_sub(round)
        };
        pairs.get(above).or(pairs.last()).copied().unwrap_or(0)
    };
    let then = was.leg_rounds as usize;
    let mut path: Vec<u32> = (0..=done).map(|round| at(&was.calf, round, then)).collect();
    for round in done + 1..=all {
        let (last, due) = (path[round - 1], at(&wanted.calf, round, all));
        // Away from the ankle only while the line itself goes there; else it is waited for.
        let line = at(&wanted.calf, round - 1, all);
        path.push(match due.cmp(&last) {
            Ordering::Less if wanted.toe_up && line <= due => last,
            Ordering::Less => last - 1,
            Ordering::Greater if !wanted.toe_up && line >= due => last,
            Ordering::Greater => last + 1,
            Ordering::Equal => last,
        });
    }
    if !wanted.toe_up {
        path.reverse();
    }
    path
}

/// Shaping rounds among so many rounds of a gusset, and whether the last of them was one.
fn shaped(gusset: Gusset, rounds: usize) -> (u32, bool) {
    let rounds = u32::try_from(rounds).unwrap_or(0);
    let now = gusset.shaped_by(rounds);
    (now, rounds > 0 && gusset.shaped_by(rounds - 1) < now)
}

/// Rounds that a gusset that is begun still needs: at the new pace, after the plain round that is due.
fn gusset_to_come(begun: &Begun, was: &Sums, wanted: &Sums) -> Option<u32> {
    let (then, now) = (was.shape.gusset()?, wanted.shape.gusset()?);
    let (done, pending) = shaped(then, begun.rounds("gusset"));
    let left = now.shapings.saturating_sub(done);
    Some(if now.rounds > now.shapings {
        2 * left + u32::from(pending)
    } else {
        left
    })
}

/// Rounds left for the foot after a heel that was picked up as the needles of that time wanted it, and
/// a gusset that goes on at another pace.
fn foot_after_heel(was: &Sums, wanted: &Sums, begun: &Begun) -> u32 {
    if wanted.toe_up {
        // Below the gusset it is knitted.
        return if begun.is("gusset") {
            was.foot_rounds
        } else {
            wanted.foot_rounds
        };
    }
    let (
        Shape::Flap {
            pick_up_rounds: then,
            gusset: knitted,
            ..
        },
        Shape::Flap {
            pick_up_rounds: now,
            gusset,
            ..
        },
    ) = (was.shape, wanted.shape)
    else {
        return wanted.foot_rounds;
    };
    let mut room = wanted.foot_rounds + gusset.rounds;
    if begun.any(&["heel-flap", "heel-turn", "pick-up"]) {
        room = (room + now).saturating_sub(then);
    }
    let done = begun.rounds("gusset");
    let taken = if begun.any(&["foot", "toe", "close"]) {
        knitted.rounds
    } else if done > 0 {
        u32::try_from(done).unwrap_or(0) + gusset_to_come(begun, was, wanted).unwrap_or(0)
    } else {
        gusset.rounds
    };
    room.saturating_sub(taken)
}

/// A gusset as far as it is knitted, then at the new pace.
fn gusset(
    done: usize,
    (was, before): (&Sums, &Expected),
    (now, wanted): (&Sums, Expected),
) -> Expected {
    let (Some(then), Some(now)) = (was.shape.gusset(), now.shape.gusset()) else {
        return wanted;
    };
    if done == 0 {
        return wanted;
    }
    let slow = now.rounds > now.shapings;
    let state = |shapings: u32| {
        let round = if slow { 2 * shapings - 1 } else { shapings };
        wanted.states.get(round as usize - 1).cloned()
    };
    let (shapings, pending) = shaped(then, done);
    let mut states: Vec<State> = before.states.iter().take(done).cloned().collect();
    if slow && pending {
        states.extend(state(shapings));
    }
    for next in shapings + 1..=now.shapings {
        states.extend(state(next));
        if slow {
            states.extend(state(next));
        }
    }
    Expected { states, ..wanted }
}

/// What each section has to come to, round by round.
struct Due {
    sections: Vec<Expected>,
    sums: Sums,
}

impl Due {
    fn of(old: &Recipe, kept: &Recipe, begun: &Begun) -> Result<Self, String> {
        let was = closed::sums(old).map_err(|no| format!("{no:?}"))?;
        let up = was.toe_up;
        // Where the cuff reached the heel the stitches that were cast on are the ankle's.
        let straight =
            begun.leg_is_knitted() || (!up && begun.is("cast-on") && was.leg_rounds == 0);
        let mut legless = kept.clone();
        if straight {
            legless.calf.clear();
        }
        let sums = if straight {
            closed::sums_past_the_leg(&legless)
        } else {
            closed::sums(&legless)
        };
        let mut sums = sums.map_err(|no| format!("{no:?}"))?;
        let before = closed::expected(old, &was);
        if begun.is("cuff") && matches!(kept.cuff.edge, Edge::Hem { .. }) {
            // Both sides of a fold are as high as the first was knitted.
            let whole = sums.cuff_height + sums.leg_rounds;
            sums.cuff_height = was.cuff_height;
            sums.cuff_rounds = was.cuff_rounds;
            sums.leg_rounds = whole.saturating_sub(was.cuff_height);
        }
        if begun.leg_is_knitted() {
            sums.leg_rounds = was.leg_rounds;
            sums.calf.clone_from(&was.calf);
        } else if begun.is("cast-on") && !sums.toe_up || begun.is("leg") {
            if !sums.toe_up && begun.is("leg") {
                // The leg is measured with its cuff, whatever that came to.
                let whole = sums.cuff_height + sums.leg_rounds;
                sums.cuff_height = was.cuff_height;
                sums.cuff_rounds = was.cuff_rounds;
                sums.leg_rounds = whole.saturating_sub(was.cuff_height);
            }
            let done = u32::try_from(begun.rounds("leg")).unwrap_or(0);
            sums.leg_rounds = sums.leg_rounds.max(done);
            let path = go_on(&was, &sums, begun.rounds("leg"));
            let end = |pairs: &[u32]| {
                let end = if up { pairs.last() } else { pairs.first() };
                end.copied()
            };
            if end(&path) != end(&sums.calf) {
                return Err("too few rounds are left of the leg".into());
            }
            sums.calf = path;
        }
        sums.foot_rounds = foot_after_heel(&was, &sums, begun);
        if begun.is("leg") && kept.needles != old.needles {
            // On other needles than the leg was begun on they end after even numbers of what is there.
            let done = u32::try_from(begun.rounds("leg")).unwrap_or(0);
            sums.seated_after(done);
        }
        let sections = closed::expected(kept, &sums)
            .into_iter()
            .map(|section| {
                let past = begun.past(section.section, &before);
                let before = before.iter().find(|b| b.section == section.section);
                match before {
                    Some(before) if section.section == "gusset" && !past => {
                        gusset(begun.rounds("gusset"), (&was, before), (&sums, section))
                    }
                    Some(before) => Self::section(begun, past, before, section),
                    None => section,
                }
            })
            .collect();
        let mut due = Self { sections, sums };
        due.sums.whole_foot = due.rounds_of_the_foot(&was, begun);
        due.sums.cuff_height = match (kept.cuff.edge, due.sums.toe_up, due.rounds("cuff")) {
            // Facing, turning round, outside; joined from the cuff down.
            (Edge::Hem { .. }, true, rounds) => rounds.saturating_sub(1) / 2,
            (Edge::Hem { .. }, false, rounds) => rounds.saturating_sub(2) / 2,
            (_, _, rounds) if closed::tubular_edge(kept).is_some() => rounds.saturating_sub(1),
            (_, _, rounds) => rounds,
        };
        due.sums.leg_rounds = due.rounds("leg");
        Ok(due)
    }

    /// Rounds or rows of a section.
    fn rounds(&self, kind: &str) -> u32 {
        let section = self.sections.iter().find(|s| s.section == kind);
        section.map_or(0, |s| u32::try_from(s.states.len()).unwrap_or(0))
    }

    /// Rounds of the whole foot as it is knitted.
    fn rounds_of_the_foot(&self, was: &Sums, begun: &Begun) -> u32 {
        let picked_up = begun.any(&["heel-flap", "heel-turn", "pick-up"]);
        let shape = if picked_up {
            was.shape
        } else {
            self.sums.shape
        };
        let heel = match shape {
            Shape::Flap {
                turn_rows,
                pick_up_rounds,
                ..
            } => turn_rows + pick_up_rounds + self.rounds("gusset"),
            Shape::FlapToeUp { each_side, .. } => 2 * each_side + 2 + self.rounds("gusset"),
            Shape::ShortRow { .. } | Shape::Late { .. } => shape.takes(self.sums.toe_up),
        };
        heel + self.rounds("foot") + self.sums.toe_rounds
    }

    /// A section as it was begun and as it is wanted.
    fn section(begun: &Begun, past: bool, before: &Expected, wanted: Expected) -> Expected {
        let kind = wanted.section;
        let finished_as_begun = matches!(
            kind,
            "cast-on"
                | "heel-flap"
                | "heel-turn"
                | "pick-up"
                | "short-row-heel"
                | "heel-place"
                | "close"
                | "bind-off"
                | "late-heel"
                | "late-close"
        );
        // A flap is picked up on the needles it was begun on.
        let to_the_pick_up = matches!(kind, "heel-turn" | "pick-up")
            && begun.any(&["heel-flap", "heel-turn"])
            && begun.sections.iter().any(|(kind, ..)| kind == "pick-up");
        // Between turn and flap from the toe up nobody changes needles either.
        let to_the_flap = kind == "heel-flap" && begun.is("heel-turn");
        let tubular_end = kind == "cuff" && begun.ends_tubular(before.states.len());
        if to_the_flap
            || tubular_end
            || (finished_as_begun && begun.is(kind))
            || to_the_pick_up
            || past
        {
            return before.clone();
        }
        let done = begun.rounds(kind);
        let mut states: Vec<State> = before.states.iter().take(done).cloned().collect();
        states.extend(wanted.states.into_iter().skip(done));
        Expected { states, ..wanted }
    }

    /// Knits the new plan by hand: on the old needles first, on the new ones from `same` steps on.
    fn knit(
        &self,
        old: &Recipe,
        wish: &Recipe,
        plan: &Plan,
        page: &Page,
        same: usize,
    ) -> Result<Verdict, String> {
        let trace = Trace::of(plan).map_err(|e| format!("the engine refuses its plan: {e}"))?;
        let mut hands = hands_for(old);
        let (mut moves, mut steps) = (0, 0);
        let mut due = self.sections.iter();
        for section in &page.sections {
            let due = due
                .find(|d| d.section == section.kind || !d.states.is_empty())
                .filter(|d| d.section == section.kind)
                .ok_or_else(|| format!("section {} was not expected here", section.kind))?;
            hands.begin_section(section);
            let mut worked = 0;
            for (index, step) in section.steps.iter().enumerate() {
                if steps == same {
                    hands.set_of = needles_in_set(wish.needles);
                }
                let place = |why: String| format!("{} {}: {why}", section.kind, index + 1);
                for (m, mv) in step.moves.iter().enumerate() {
                    hands.work(mv, &step.form).map_err(place)?;
                    let traced = trace.steps.get(steps).and_then(|s| s.moves.get(m));
                    let traced = traced.ok_or("the trace lacks it")?;
                    agree(&hands, &traced.after).map_err(place)?;
                    moves += 1;
                }
                steps += 1;
                if step.form != "walk" {
                    let state = due.states.get(worked).filter(|_| !due.walked);
                    let state = state.ok_or_else(|| place("one too many".into()))?;
                    as_due(&hands, state).map_err(place)?;
                    worked += 1;
                }
            }
            Self::at_the_end(&hands, section, due, worked)?;
        }
        if let Some(missing) = due.find(|d| !d.states.is_empty()) {
            return Err(format!("section {} is missing", missing.section));
        }
        if let Some(dropped) = hands.made.iter().position(|stitch| !stitch.used) {
            return Err(format!("stitch {dropped} was dropped"));
        }
        let claimed = &page.outcome["stitches_worked"];
        if claimed.as_u64() != Some(hands.worked) {
            return Err(format!(
                "outcome.stitches_worked is {claimed}, by hand {}",
                hands.worked
            ));
        }
        let s = &self.sums;
        for (field, ours) in [
            ("stitches", s.around.into()),
            ("foot_length", closed::foot_length(wish, s, true)),
            ("leg_length", closed::leg_length(wish, s, true)),
        ] {
            if page.outcome[field].as_u64() != Some(ours) {
                return Err(format!(
                    "outcome.{field} is {}, as it is knitted {ours}",
                    page.outcome[field]
                ));
            }
        }
        Ok(Verdict::Knitted {
            moves,
            stitches: hands.made.len(),
        })
    }

    fn at_the_end(
        hands: &Hands,
        section: &Section,
        due: &Expected,
        worked: usize,
    ) -> Result<(), String> {
        if due.walked {
            return due.states.iter().try_for_each(|state| {
                as_due(hands, state).map_err(|why| format!("at the end of {}: {why}", section.kind))
            });
        }
        if worked == due.states.len() {
            Ok(())
        } else {
            Err(format!(
                "{} has {worked} rounds or rows, by the closed forms {}",
                section.kind,
                due.states.len()
            ))
        }
    }
}
