//! Versioned forms for what is stored and sent: recipes and plans as JSON.
//!
//! A plan is stored with its operations, so that a newer Evenloop never changes a sock that is half
//! knitted. The plan document is written by one function wherever it is made, and is the same to
//! the byte on phone and server.
//!
//! Pure. May use recipes and plans; must not know where anything is stored or sent.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::document;
use crate::error::{FieldError, Problem};
use crate::json::{Unreadable, from_json};
use crate::needles::Facing;
use crate::pattern::LineFinding;
use crate::plan::{
    Caution, Cue, Move, Outcome, Plan, PlanError, Section, SectionKind, Step, StepForm,
};
use crate::recipe::Recipe;
use crate::recipe::earlier::{EarlierChoices, needs_fourth_form};
use crate::sock;
use crate::stitch::Op;
use crate::written_ops::{NotAnOp, read_ops, write_ops};

/// The newest version of the plan document. The second one has the swatch's needles; the third one other
/// usual choices, and moves and operations that an older Evenloop does not know; the fourth one choices,
/// cautions, moves and operations that came after it.
pub const PLAN_VERSION: u32 = 4;

/// The version of a plan that has nothing of the fourth: an older Evenloop reads it.
const WITHOUT_THE_NEWEST: u32 = 3;

/// The oldest version in which a recipe's missing choices are what is usual today.
const AS_TODAY: u32 = 3;

/// Longest recipe document that is looked at, in bytes.
pub const RECIPE_LIMIT: usize = 16 * 1024;

/// Why a stored plan cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum WireError {
    /// Not JSON of the expected shape; the reason.
    Malformed(String),
    /// Written by a newer Evenloop.
    Newer(u32),
    /// An operation that this engine does not know.
    Op(NotAnOp),
}

impl fmt::Display for WireError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Malformed(why) => write!(f, "this is not a plan: {why}"),
            Self::Newer(v) => {
                write!(
                    f,
                    "this plan was made by a newer Evenloop (form {v}, known {PLAN_VERSION})"
                )
            }
            Self::Op(op) => write!(f, "this plan has an operation that is not known: {op}"),
        }
    }
}

impl std::error::Error for WireError {}

/// Recipe document in, plan document out: the one way on phone and server.
///
/// # Errors
/// Every field that is wrong; what Evenloop itself planned wrongly is another kind of error.
pub fn plan_document(recipe_json: &str) -> Result<String, PlanError> {
    let recipe = read_recipe(recipe_json)?;
    Ok(write_plan(&sock::make(&recipe)?))
}

/// Reads a recipe document. Unknown fields are refused: a typing error must not silently become a
/// default.
///
/// # Errors
/// Every field that is missing, unknown or cannot be read.
pub fn read_recipe(json: &str) -> Result<Recipe, Vec<FieldError>> {
    let wrong = |problem| vec![FieldError::new("recipe", problem)];
    if json.len() > RECIPE_LIMIT {
        return Err(wrong(Problem::RecipeTooLong {
            bytes: json.len(),
            most: RECIPE_LIMIT,
        }));
    }
    from_json(json).map_err(|refused| {
        let unreadable = |reason: String, line, column| {
            wrong(Problem::RecipeUnreadable {
                reason,
                line,
                column,
            })
        };
        match document::faults(json) {
            Ok(faults) if !faults.is_empty() => faults,
            // What recipes are read by is what this looks for; then no place is known.
            Ok(_) => unreadable(refused.to_string(), 1, 1),
            Err(why) => unreadable(why.to_string(), why.line(), why.column()),
        }
    })
}

/// Writes a recipe document, as it is sent to the server and as [`read_recipe`] reads it. What is stored are plans
/// ([`write_plan`]) and links.
pub fn write_recipe(recipe: &Recipe) -> String {
    to_json(recipe)
}

/// Writes a plan document. Neighbouring steps that are the same are written once with a number of
/// times.
pub fn write_plan(plan: &Plan) -> String {
    let sections = plan.sections.iter().map(SectionWire::of).collect();
    to_json(&PlanWire {
        evenloop: Tag::Plan,
        version: version_of(plan),
        recipe: plan.recipe.clone(),
        outcome: plan.outcome.clone(),
        sections,
        found: plan.found.clone(),
    })
}

/// The lowest version that can hold a plan.
fn version_of(plan: &Plan) -> u32 {
    let new_cue = |cue| {
        matches!(
            cue,
            Cue::ChainBegin
                | Cue::Chain
                | Cue::ChainEnd
                | Cue::UndoChain
                | Cue::Tubular
                | Cue::TubularCross
                | Cue::RowToSnip
                | Cue::OpenRow
                | Cue::SnipRow
                | Cue::BindOffBegin
                | Cue::SewHem
        )
    };
    let steps = plan.sections.iter().flat_map(|section| &section.steps);
    let newer = needs_fourth_form(&plan.recipe)
        || plan.outcome.cautions.contains(&Caution::FirmEdge)
        || steps.flat_map(|step| &step.moves).any(|mv| new_cue(mv.cue));
    if newer {
        PLAN_VERSION
    } else {
        WITHOUT_THE_NEWEST
    }
}

/// Reads a plan document.
///
/// # Errors
/// See [`WireError`].
pub fn read_plan(json: &str) -> Result<Plan, WireError> {
    // The version first: a newer form may differ anywhere else.
    let head: HeadWire = from_json(json).map_err(malformed)?;
    if head.version > PLAN_VERSION {
        return Err(WireError::Newer(head.version));
    }
    let mut wire: PlanWire = from_json(json).map_err(malformed)?;
    if head.version < AS_TODAY {
        let earlier: EarlierWire = from_json(json).map_err(malformed)?;
        earlier.recipe.or_as_before(&mut wire.recipe);
    }
    let sections = wire
        .sections
        .into_iter()
        .map(SectionWire::read)
        .collect::<Result<_, _>>()?;
    Ok(Plan {
        recipe: wire.recipe,
        outcome: wire.outcome,
        sections,
        found: wire.found,
    })
}

fn malformed(why: Unreadable) -> WireError {
    WireError::Malformed(why.to_string())
}

fn to_json<T: Serialize>(value: &T) -> String {
    // Our own plain structs: no map keys, no floats, nothing that serde_json can refuse.
    serde_json::to_string(value).unwrap_or_default()
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Tag {
    Plan,
}

#[derive(Deserialize)]
struct HeadWire {
    #[allow(dead_code)] // read so that another document is not taken for a plan
    evenloop: Tag,
    version: u32,
}

/// What a plan's recipe says itself.
#[derive(Deserialize)]
struct EarlierWire {
    recipe: EarlierChoices,
}

#[derive(Serialize, Deserialize)]
struct PlanWire {
    evenloop: Tag,
    version: u32,
    recipe: Recipe,
    outcome: Outcome,
    sections: Vec<SectionWire>,
    // An older Evenloop reads past it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    found: Vec<LineFinding>,
}

#[derive(Serialize, Deserialize)]
struct SectionWire {
    #[serde(with = "crate::plan::section_key")]
    kind: SectionKind,
    steps: Vec<StepWire>,
}

#[derive(Serialize, Deserialize, PartialEq)]
struct StepWire {
    form: FormWire,
    #[serde(default = "once", skip_serializing_if = "is_once")]
    times: u16,
    moves: Vec<MoveWire>,
}

#[derive(Serialize, Deserialize, PartialEq)]
struct MoveWire {
    cue: CueWire,
    ops: String,
}

const fn once() -> u16 {
    1
}

#[allow(clippy::trivially_copy_pass_by_ref)] // serde's signature
const fn is_once(n: &u16) -> bool {
    *n == 1
}

/// Most steps a stored section may unfold to: a bound against a damaged or hostile document.
const MOST_STEPS: usize = 10_000;

/// Most single operations of a stored move, repeats written out: likewise.
const MOST_OPS: u32 = 4_000;

/// Operations of a list with its repeats written out.
fn written_out(ops: &[Op]) -> u32 {
    ops.iter()
        .map(|op| match op {
            Op::Repeat(inner, times) => written_out(inner).saturating_mul(times.get().into()),
            _ => 1,
        })
        .fold(0, u32::saturating_add)
}

impl SectionWire {
    fn of(section: &Section) -> Self {
        let mut steps: Vec<StepWire> = Vec::new();
        let mut before: Option<&Step> = None;
        for step in &section.steps {
            match steps.last_mut() {
                Some(last) if before == Some(step) && last.times < u16::MAX => last.times += 1,
                _ => steps.push(StepWire::of(step)),
            }
            before = Some(step);
        }
        Self {
            kind: section.kind,
            steps,
        }
    }

    fn read(self) -> Result<Section, WireError> {
        let mut steps = Vec::new();
        for wire in self.steps {
            let times = usize::from(wire.times);
            if steps.len() + times > MOST_STEPS {
                return Err(WireError::Malformed(
                    "a section has too many steps".to_owned(),
                ));
            }
            let step = wire.read()?;
            steps.extend(std::iter::repeat_n(step, times));
        }
        Ok(Section {
            kind: self.kind,
            steps,
        })
    }
}

impl StepWire {
    fn of(step: &Step) -> Self {
        let moves = step
            .moves
            .iter()
            .map(|m| MoveWire {
                cue: CueWire(m.cue),
                ops: write_ops(&m.ops),
            })
            .collect();
        Self {
            form: FormWire::of(step.form),
            times: 1,
            moves,
        }
    }

    fn read(self) -> Result<Step, WireError> {
        if self.moves.is_empty() || (self.form != FormWire::Walk && self.moves.len() != 1) {
            return Err(WireError::Malformed(
                "a step has the wrong number of moves".to_owned(),
            ));
        }
        let moves = self
            .moves
            .into_iter()
            .map(|m| {
                let ops = read_ops(&m.ops).map_err(WireError::Op)?;
                if written_out(&ops) > MOST_OPS {
                    return Err(WireError::Malformed("a move is too long".to_owned()));
                }
                Ok(Move { cue: m.cue.0, ops })
            })
            .collect::<Result<_, _>>()?;
        Ok(Step {
            form: self.form.read(),
            moves,
        })
    }
}

#[derive(Serialize, Deserialize, PartialEq, Clone, Copy)]
#[serde(rename_all = "kebab-case")]
enum FormWire {
    Round,
    RsRow,
    WsRow,
    Walk,
}

impl FormWire {
    const fn of(form: StepForm) -> Self {
        match form {
            StepForm::Round => Self::Round,
            StepForm::Row(Facing::RightSide) => Self::RsRow,
            StepForm::Row(Facing::WrongSide) => Self::WsRow,
            StepForm::Walk => Self::Walk,
        }
    }

    const fn read(self) -> StepForm {
        match self {
            Self::Round => StepForm::Round,
            Self::RsRow => StepForm::Row(Facing::RightSide),
            Self::WsRow => StepForm::Row(Facing::WrongSide),
            Self::Walk => StepForm::Walk,
        }
    }
}

#[derive(PartialEq, Clone, Copy)]
struct CueWire(Cue);

/// Stored names of cues. Never rename one: half-knitted socks carry them.
const CUES: [(Cue, &str); 52] = [
    (Cue::Plain, "plain"),
    (Cue::Shape, "shape"),
    (Cue::TurnHem, "turn-hem"),
    (Cue::JoinHem, "join-hem"),
    (Cue::DrawClosed, "draw-closed"),
    (Cue::CastOn, "cast-on"),
    (Cue::Divide, "divide"),
    (Cue::Join, "join"),
    (Cue::CastOnClosedBegin, "cast-on-closed-begin"),
    (Cue::CastOnClosed, "cast-on-closed"),
    (Cue::CastOnClosedTurn, "cast-on-closed-turn"),
    (Cue::CastOnClosedPart, "cast-on-closed-part"),
    (Cue::ReachMiddle, "reach-middle"),
    (Cue::SeatMiddle, "seat-middle"),
    (Cue::ReachHeel, "reach-heel"),
    (Cue::SeatHeel, "seat-heel"),
    (Cue::SeatMotif, "seat-motif"),
    (Cue::ReachSide, "reach-side"),
    (Cue::SeatApart, "seat-apart"),
    (Cue::SeatLeg, "seat-leg"),
    (Cue::ToShortCircular, "to-short-circular"),
    (Cue::Waste, "waste"),
    (Cue::OpenWaste, "open-waste"),
    (Cue::RowToSnip, "row-to-snip"),
    (Cue::OpenRow, "open-row"),
    (Cue::SnipRow, "snip-row"),
    (Cue::BindOffBegin, "bind-off-begin"),
    (Cue::BindOff, "bind-off"),
    (Cue::SewHem, "sew-hem"),
    (Cue::ChainBegin, "chain-begin"),
    (Cue::Chain, "chain"),
    (Cue::ChainEnd, "chain-end"),
    (Cue::UndoChain, "undo-chain"),
    (Cue::Tubular, "tubular"),
    (Cue::TubularCross, "tubular-cross"),
    (Cue::CrossFirstHalf, "cross-first-half"),
    (Cue::CrossBegin, "cross-begin"),
    (Cue::CrossSecondHalf, "cross-second-half"),
    (Cue::CrossHeel, "cross-heel"),
    (Cue::PickUpLeft, "pick-up-left"),
    (Cue::CrossInstepFirst, "cross-instep-first"),
    (Cue::CrossInstepSecond, "cross-instep-second"),
    (Cue::PickUpRight, "pick-up-right"),
    (Cue::CrossClose, "cross-close"),
    (Cue::CrossSole, "cross-sole"),
    (Cue::ChangeNeedles, "change-needles"),
    (Cue::ReachInstep, "reach-instep"),
    (Cue::SeatForGraft, "seat-for-graft"),
    (Cue::GraftStart, "graft-start"),
    (Cue::GraftPair, "graft-pair"),
    (Cue::GraftEnd, "graft-end"),
    (Cue::FastenOff, "fasten-off"),
];

impl Serialize for CueWire {
    fn serialize<S: serde::Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        let name = CUES
            .iter()
            .find(|(c, _)| *c == self.0)
            .map_or("plain", |(_, n)| n);
        s.serialize_str(name)
    }
}

impl<'de> Deserialize<'de> for CueWire {
    fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        let name = String::deserialize(d)?;
        CUES.iter()
            .find(|(_, n)| *n == name)
            .map(|(c, _)| Self(*c))
            .ok_or_else(|| serde::de::Error::custom("unknown kind of move"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::needle_size::Needle;
    use crate::plan::make;
    use crate::recipe::{BindOff, CastOn, Cuff, Direction, Edge, Heel, HeelOpening};
    use crate::text::{self, Wording};

    #[test]
    fn every_cue_has_a_stored_name_of_its_own() {
        for (i, (cue, name)) in CUES.iter().enumerate() {
            assert!(
                CUES[i + 1..].iter().all(|(c, n)| c != cue && n != name),
                "{name} stands twice"
            );
        }
    }

    #[test]
    fn a_plan_reads_back() {
        let plan = make(&Recipe::default()).expect("the default recipe is a sock");
        let text = write_plan(&plan);
        assert_eq!(read_plan(&text), Ok(plan.clone()));
        assert!(text.starts_with(r#"{"evenloop":"plan","version":3,"#));
        let mut noted = plan;
        noted.recipe.swatch.needle = Needle::all().next();
        let text = write_plan(&noted);
        assert_eq!(read_plan(&text), Ok(noted));
        assert!(text.starts_with(r#"{"evenloop":"plan","version":3,"#));
    }

    /// A sock under way is bound off and picked up as it was planned.
    #[test]
    fn an_older_plan_keeps_what_was_usual_then() {
        let recipe = Recipe {
            bind_off: BindOff::Plain,
            ..Recipe::default()
        };
        let plan = make(&recipe).expect("a sock");
        let text = write_plan(&plan)
            .replacen(r#""version":3"#, r#""version":1"#, 1)
            .replacen(r#""bind_off":"plain","#, "", 1);
        assert!(!text.contains("bind_off\":"), "{}", &text[..400]);
        assert_eq!(read_plan(&text), Ok(plan));
    }

    /// A plan is marked as newer only where an earlier Evenloop could not read it.
    #[test]
    fn only_what_is_new_makes_a_plan_newer() {
        let tubular = Recipe {
            cast_on: CastOn::Tubular,
            ..Recipe::default()
        };
        let snipped = Recipe {
            heel: Heel::Afterthought {
                opening: HeelOpening::Snipped,
            },
            ..Recipe::default()
        };
        let sewn = Recipe {
            direction: Direction::ToeUp,
            cuff: Cuff {
                edge: Edge::Hem { picot: false },
                ..Cuff::default()
            },
            ..Recipe::default()
        };
        let firm = Recipe {
            cast_on: CastOn::KnittedOn,
            ..Recipe::default()
        };
        for (recipe, version) in [
            (Recipe::default(), 3),
            (tubular, 4),
            (snipped, 4),
            (sewn, 4),
            (firm, 4),
        ] {
            let plan = make(&recipe).expect("a sock");
            let text = write_plan(&plan);
            let head = format!(r#"{{"evenloop":"plan","version":{version},"#);
            assert!(text.starts_with(&head), "{recipe:?}");
            assert_eq!(read_plan(&text), Ok(plan));
        }
    }

    #[test]
    fn a_newer_plan_is_not_guessed_at() {
        let text = r#"{"evenloop":"plan","version":5,"strange":[]}"#;
        assert_eq!(read_plan(text), Err(WireError::Newer(5)));
    }

    #[test]
    fn an_unknown_field_is_named() {
        let err = read_recipe(r#"{"foot":{"length":2400,"lenght":1},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#)
            .expect_err("there is a typing error");
        assert_eq!(err.len(), 1);
        assert_eq!(err[0].field, "foot.lenght");
        let said = text::problem(&err[0].problem, Wording::default());
        assert!(said.help.contains("length"), "{}", said.help);
    }
}
