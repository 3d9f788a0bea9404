//! The motif over leg and instep, and yarns in stripes. Sections are written in plain knitting with
//! one yarn; here each step gets its motif round and its yarn as it is added.

use super::model::{Cue, Move, Step, StepForm};
use super::numbers::{Panel, PanelPiece};
use super::rounds::run_repeat;
use super::section_kind::SectionKind;
use crate::knit::Refusal;
use crate::needles::{Item, Needles, Origin};
use crate::recipe::{Direction, MotifPlacement, Recipe, Row, Yarns};
use crate::stitch::{Count, Op, Yarn, run};

/// What has been worked of motif and stripes so far.
#[derive(Clone)]
pub(super) struct MotifAndStripes<'a> {
    recipe: &'a Recipe,
    /// Where the motif lies on a half.
    panel: Option<Panel>,
    /// The motif's next round, from 0.
    row: usize,
    /// The next round of the stripes, from 0.
    stripe: u32,
}

impl<'a> MotifAndStripes<'a> {
    /// `row`: the motif's first round that is written here, from 0.
    pub(super) const fn new(recipe: &'a Recipe, panel: Option<Panel>, row: usize) -> Self {
        Self {
            recipe,
            panel,
            row,
            stripe: 0,
        }
    }

    /// Notes the stripe of a step from an earlier plan, when that yarn was in use before it.
    pub(super) fn follow(&mut self, kind: SectionKind, in_use: Yarn, step: &Step) {
        if let Some(yarns) = &self.recipe.yarns {
            // Earlier plans knitted across the instep in the yarn in use, which was no round of the
            // stripes.
            let first = step.moves.first().and_then(|m| m.ops.first());
            let worked_in = match first {
                Some(Op::Yarn(yarn)) => *yarn,
                _ => in_use,
            };
            if !across_the_instep(step) || worked_in == yarns.of_round(self.stripe) {
                self.yarn(yarns, kind, step);
            }
        }
    }

    /// A step of a section as it is really worked, begun on these needles.
    pub(super) fn apply(
        &mut self,
        kind: SectionKind,
        needles: &Needles,
        mut step: Step,
    ) -> Result<Step, Refusal> {
        if carries_motif(kind) && self.panel.is_some() {
            let mut now = needles.clone();
            for Move { ops, .. } in &mut step.moves {
                *ops = self.patterned(kind, &mut now, std::mem::take(ops))?;
            }
        }
        if let Some(yarns) = &self.recipe.yarns
            && let Some(yarn) = self.yarn(yarns, kind, &step)
            && yarn != needles.yarn()
            && let Some(first) = step.moves.first_mut()
        {
            first.ops.insert(0, Op::Yarn(yarn));
        }
        Ok(step)
    }

    /// The yarn a step is worked with; `None` where it goes on with the one in use.
    fn yarn(&mut self, yarns: &Yarns, kind: SectionKind, step: &Step) -> Option<Yarn> {
        use SectionKind as S;
        match (kind, step.form) {
            _ if across_the_instep(step) => Some(self.next_stripe(yarns)),
            (S::CastOn, _) => Some(match self.recipe.direction {
                Direction::CuffDown => yarns.cuff,
                Direction::ToeUp => yarns.toe,
            }),
            (S::Cuff, StepForm::Round) => Some(yarns.cuff),
            (S::Toe, StepForm::Round | StepForm::Row(_)) => Some(yarns.toe),
            (S::HeelFlap | S::HeelTurn | S::ShortHeel, StepForm::Row(_))
            | (S::LateHeel, StepForm::Round) => Some(yarns.heel),
            (S::Leg | S::Gusset | S::Foot | S::HeelPlace | S::ShortHeel, StepForm::Round)
            | (S::PickUp, StepForm::Walk) => Some(self.next_stripe(yarns)),
            _ => None,
        }
    }

    fn next_stripe(&mut self, yarns: &Yarns) -> Yarn {
        let yarn = yarns.of_round(self.stripe);
        self.stripe += 1;
        yarn
    }

    /// Puts the motif in place of plain knitting over stitches that carry it.
    fn patterned(
        &mut self,
        kind: SectionKind,
        needles: &mut Needles,
        ops: Vec<Op>,
    ) -> Result<Vec<Op>, Refusal> {
        let mut out = Vec::with_capacity(ops.len() + 4);
        for op in ops {
            match op {
                Op::Knit(n) => self.knit(kind, needles, n.get(), &mut out)?,
                other => {
                    needles.apply(&other)?;
                    out.push(other);
                }
            }
        }
        Ok(out)
    }

    fn knit(
        &mut self,
        kind: SectionKind,
        needles: &mut Needles,
        mut n: u16,
        out: &mut Vec<Op>,
    ) -> Result<(), Refusal> {
        let mut plain = 0;
        while n > 0 {
            let Some(Item::Stitches(origin, _, here)) = needles.next() else {
                // what cannot be knitted is refused when the step is worked
                plain += n;
                break;
            };
            let now = n.min(here);
            let column = needles.worked_of(origin);
            needles.work(now)?;
            n -= now;
            if !self.carries(kind, origin) {
                plain += now;
                continue;
            }
            run(out, Op::Knit, std::mem::take(&mut plain));
            self.slice(column, now, out)?;
            let top = matches!(origin, Origin::Front | Origin::Instep);
            if top && column + now == needles.stitches_of(origin) {
                self.row = (self.row + 1) % self.rows().len().max(1);
            }
        }
        run(out, Op::Knit, plain);
        Ok(())
    }

    fn rows(&self) -> &'a [Row] {
        self.recipe.motif.as_ref().map_or(&[], |m| &m.rows)
    }

    fn carries(&self, kind: SectionKind, origin: Origin) -> bool {
        match origin {
            Origin::Front | Origin::Instep => true,
            Origin::Back => {
                kind == SectionKind::Leg
                    && matches!(&self.recipe.motif, Some(m) if m.place == MotifPlacement::AllRound)
            }
            _ => false,
        }
    }

    /// `n` stitches of the motif's round at hand, from that column of the half on.
    fn slice(&self, column: u16, n: u16, out: &mut Vec<Op>) -> Result<(), Refusal> {
        let (Some(panel), Some(row)) = (self.panel, self.rows().get(self.row)) else {
            run(out, Op::Knit, n);
            return Ok(());
        };
        let end = column + n;
        let mut first = 0;
        for (piece, long) in panel.pieces() {
            let last = first + long;
            let (from, to) = (column.clamp(first, last), end.clamp(first, last));
            let begun = from - first;
            first = last;
            let here = to.saturating_sub(from);
            if here == 0 {
                continue;
            }
            match piece {
                PanelPiece::Plain => run(out, Op::Knit, here),
                PanelPiece::Edge => run(out, Op::Purl, here),
                PanelPiece::Repeats => {
                    let width = panel.width();
                    if !begun.is_multiple_of(width) || !here.is_multiple_of(width) {
                        return Err(Refusal::MotifCut);
                    }
                    run(
                        out,
                        Op::MotifRow,
                        u16::try_from(self.row + 1).unwrap_or(u16::MAX),
                    );
                    repeated(out, row.ops(), here / width);
                }
                PanelPiece::Balance => {
                    let (once, _) = row
                        .split(here)
                        .filter(|_| here == long)
                        .ok_or(Refusal::MotifCut)?;
                    repeated(out, &once, 1);
                }
            }
        }
        Ok(())
    }
}

/// Whether stitches of that section carry the motif, where they carry it at all.
const fn carries_motif(kind: SectionKind) -> bool {
    use SectionKind as S;
    match kind {
        S::Leg
        | S::HeelFlap
        | S::HeelTurn
        | S::PickUp
        | S::Gusset
        | S::ShortHeel
        | S::HeelPlace
        | S::Foot => true,
        S::CastOn | S::Cuff | S::Toe | S::Close | S::LateHeel | S::LateClose | S::BindOff => false,
    }
}

/// Whether a walk knits across the whole instep, on its way to the heel or to the side of a toe: that is
/// a round of the stripes there, or one of them would be twice as tall on the instep.
fn across_the_instep(step: &Step) -> bool {
    let across = |m: &Move| matches!(m.cue, Cue::ReachHeel | Cue::ReachSide);
    step.form == StepForm::Walk && step.moves.iter().any(across)
}

/// A row so many times; a row of one kind of stitch is one run. A yarn over at its end belongs to it,
/// not to whatever follows.
fn repeated(out: &mut Vec<Op>, row: &[Op], times: u16) {
    let long = |n: Count| n.get().saturating_mul(times);
    match row {
        [Op::Knit(n)] => run(out, Op::Knit, long(*n)),
        [Op::Purl(n)] => run(out, Op::Purl, long(*n)),
        [Op::KnitThroughBackLoop(n)] => run(out, Op::KnitThroughBackLoop, long(*n)),
        [Op::Slip(n)] => run(out, Op::Slip, long(*n)),
        _ => {
            let mut row = row.to_vec();
            for op in row.iter_mut().rev().take_while(|op| **op == Op::YarnOver) {
                *op = Op::YarnOverBehind;
            }
            run_repeat(out, row, times);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Plan, make};
    use crate::recipe::{Heel, HeelOpening, Method, Motif, Stripe};
    use crate::trace::Trace;
    use crate::written_ops::write_ops;

    fn cables(place: MotifPlacement) -> Motif {
        Motif {
            rows: ["p1 k4 p1", "p1 cr2/2 p1", "p1 k4 p1"]
                .into_iter()
                .filter_map(|row| row.parse().ok())
                .collect(),
            place,
            ..Motif::default()
        }
    }

    fn sock(recipe: Recipe) -> Plan {
        let plan = make(&recipe).expect("a sock");
        Trace::of(&plan).expect("it can be knitted");
        plan
    }

    fn rounds(plan: &Plan, kind: SectionKind) -> Vec<String> {
        let of_kind = plan.sections.iter().filter(|s| s.kind == kind);
        let moves = of_kind.flat_map(|s| &s.steps).flat_map(|s| &s.moves);
        moves.map(|m| write_ops(&m.ops)).collect()
    }

    #[test]
    fn a_motif_lies_in_the_middle_of_the_front_and_is_not_cut() {
        let plan = sock(Recipe {
            motif: Some(cables(MotifPlacement::Front)),
            stitches: Some(64),
            ..Recipe::default()
        });
        let leg = rounds(&plan, SectionKind::Leg);
        assert_eq!(leg[0], "k32 / k1 row1 [p1 k4 p1]5 k1 /");
        assert_eq!(leg[1], "k32 / k1 row2 [p1 cr2/2 p1]5 k1 /");
        assert_eq!(leg[3], leg[0]);
        let foot = rounds(&plan, SectionKind::Foot);
        let split = "k16 m>L k1 row3 [p1 k4 p1]2 / row3 [p1 k4 p1]3 k1 m>R k16 /";
        assert!(foot.contains(&split.to_owned()), "{foot:?}");
        let toe = rounds(&plan, SectionKind::Toe);
        assert_eq!(
            toe[0], "lc@29 lo@32",
            "needles are even again in the plain toe"
        );
    }

    #[test]
    fn a_motif_all_round_has_whole_repeats_on_back_and_front() {
        let plan = sock(Recipe {
            motif: Some(cables(MotifPlacement::AllRound)),
            ..Recipe::default()
        });
        // 24 cm of foot are 22.8 cm round; less 10 % at 30 stitches 61.6, and 68 where cables draw in a
        // tenth: six times twelve
        assert_eq!(plan.outcome.stitches, 72);
        let leg = rounds(&plan, SectionKind::Leg);
        assert_eq!(leg[0], "row1 [p1 k4 p1]6 / row1 [p1 k4 p1]6 /");
    }

    #[test]
    fn a_motif_keeps_its_round_from_section_to_section() {
        for direction in [Direction::CuffDown, Direction::ToeUp] {
            for heel in [
                Heel::default(),
                Heel::ShortRow { between: 1 },
                Heel::Afterthought {
                    opening: HeelOpening::WasteYarn,
                },
                Heel::Afterthought {
                    opening: HeelOpening::Snipped,
                },
            ] {
                for needles in Method::ALL {
                    let plan = sock(Recipe {
                        direction,
                        heel,
                        needles,
                        motif: Some(cables(MotifPlacement::Front)),
                        stitches: Some(64),
                        ..Recipe::default()
                    });
                    let mut numbers = Vec::new();
                    for section in &plan.sections {
                        for mv in section.steps.iter().flat_map(|s| &s.moves) {
                            for op in &mv.ops {
                                if let Op::MotifRow(n) = op
                                    && numbers.last() != Some(&n.get())
                                {
                                    numbers.push(n.get());
                                }
                            }
                        }
                    }
                    assert!(numbers.len() > 90, "{}", numbers.len());
                    let follows = |w: &[u16]| w[1] == w[0] % 3 + 1;
                    assert!(numbers.windows(2).all(follows), "{direction:?} {heel:?}");
                }
            }
        }
    }

    #[test]
    fn needles_that_would_cut_a_wide_repeat_are_refused() {
        let recipe = Recipe {
            motif: Some(Motif {
                rows: ["p3 k18 p3".parse().expect("a row")].into(),
                place: MotifPlacement::Front,
                ..Motif::default()
            }),
            stitches: Some(64),
            ..Recipe::default()
        };
        let refused = make(&recipe).expect_err("one repeat lies across the middle");
        assert_eq!(refused.fields()[0].field, "needles.seating");
    }

    #[test]
    fn stripes_go_on_from_leg_to_foot() {
        let stripe = |yarn, rounds| Stripe { yarn, rounds };
        let plan = sock(Recipe {
            yarns: Some(Yarns {
                stripes: vec![stripe(Yarn::A, 2), stripe(Yarn::B, 3)],
                cuff: Yarn::B,
                heel: Yarn::C,
                toe: Yarn::C,
            }),
            stitches: Some(64),
            ..Recipe::default()
        });
        assert_eq!(rounds(&plan, SectionKind::CastOn)[0], "yB co64");
        let leg = rounds(&plan, SectionKind::Leg);
        let changes: Vec<_> = leg.iter().map(|ops| ops.get(..2)).collect();
        let expected = ["yA", "k3", "yB", "k3", "k3", "yA", "k3"];
        assert!(
            changes.iter().zip(expected).all(|(a, b)| *a == Some(b)),
            "{changes:?}"
        );
        assert!(rounds(&plan, SectionKind::HeelFlap)[0].starts_with("yC "));
        let used: Vec<_> = plan.outcome.yarns.iter().map(|y| y.yarn).collect();
        assert_eq!(used, [Yarn::A, Yarn::B, Yarn::C]);
        let all: u32 = plan.outcome.sections.iter().map(|s| s.yarn_dm).sum();
        let parts: u32 = plan.outcome.yarns.iter().map(|y| y.yarn_dm).sum();
        assert!(all.abs_diff(parts) < 10, "{all} and {parts}");
    }
}
