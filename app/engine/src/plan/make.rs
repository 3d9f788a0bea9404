//! Recipe to plan: the numbers are decided, then every section is written in its order.

use super::decide::decide;
use super::error::{PlanBug, PlanError};
use super::maker::{Kept, Maker};
use super::model::{Plan, Section};
use super::numbers::{Numbers, check_fit};
use super::parts;
use super::section_kind::SectionKind;
use super::sections::cuff;
use super::totals::outcome;
use super::written;
use crate::error::{FieldError, Problem};
use crate::knit::Refusal;
use crate::pattern::FollowedPart;
use crate::recipe::{BindOff, CastOn, Recipe};

/// Makes the whole sock. The plan's recipe may have its motif begun elsewhere in the repeat: where a yarn
/// over would else lie at a needle's end.
///
/// # Errors
/// Every field that is out of range, or, when each is in range by itself, the field that makes such
/// a sock impossible, with what would help. What Evenloop itself planned wrongly is another kind of error.
pub fn make(recipe: &Recipe) -> Result<Plan, PlanError> {
    recipe.check()?;
    if recipe.written.is_some() {
        return Err(unread_pattern().into());
    }
    let recipe = &for_tender_legs(recipe);
    let plan = as_it_is(recipe)?;
    Ok(begun_elsewhere(recipe, &plan, as_it_is).unwrap_or(plan))
}

/// The plan made again with its repeat begun elsewhere, where that keeps every yarn over between two
/// stitches; `None` where there is nothing to keep, or no such place.
pub(super) fn begun_elsewhere(
    recipe: &Recipe,
    plan: &Plan,
    made: impl Fn(&Recipe) -> Result<Plan, PlanError>,
) -> Option<Plan> {
    let motif = recipe
        .motif
        .as_ref()
        .filter(|_| plan.has_loose_yarn_over())?;
    motif.held_at_the_ends().into_iter().find_map(|motif| {
        let held = made(&Recipe {
            motif: Some(motif),
            ..recipe.clone()
        });
        held.ok().filter(|held| !held.has_loose_yarn_over())
    })
}

/// Makes it with its repeats begun as they are written.
fn as_it_is(recipe: &Recipe) -> Result<Plan, PlanError> {
    let numbers = decide(recipe, Some(&recipe.calf))?;
    check_fit(recipe, numbers.around)?;
    write(recipe, numbers, Kept::default())
}

/// Makes the sock of a pattern that has been read ([`crate::sock::make`] reads and makes it). Kept apart from
/// [`make`], so that who plans only socks of ours need not carry the reader.
///
/// # Errors
/// As [`make`].
pub fn make_followed(recipe: &Recipe, parts: Vec<FollowedPart>) -> Result<Plan, PlanError> {
    recipe.check()?;
    match &recipe.written {
        Some(pattern) => written::write(recipe, pattern, parts, Kept::default()),
        None => make(recipe),
    }
}

/// A pattern that was not read here.
pub(super) fn unread_pattern() -> FieldError {
    FieldError::new("written", Problem::PatternUnread)
}

/// The recipe with the edge that tender legs want: the stretchiest there is.
pub(super) fn for_tender_legs(recipe: &Recipe) -> Recipe {
    let mut recipe = recipe.clone();
    if recipe.fit.tender_legs {
        recipe.cast_on = CastOn::FOR_TENDER_LEGS;
        recipe.bind_off = BindOff::FOR_TENDER_LEGS;
    }
    recipe
}

/// Writes every section that is not kept, and knits all of them.
pub(super) fn write(recipe: &Recipe, numbers: Numbers, kept: Kept<'_>) -> Result<Plan, PlanError> {
    let mut maker = Maker::new(numbers, recipe, kept);
    write_sock(&mut maker, recipe).map_err(|bug| match bug.refusal {
        // a leg that was begun for another height
        Refusal::RoundsMissing => FieldError::new("leg", Problem::LegRoundsMissing).into(),
        _ => PlanError::Bug(bug),
    })?;
    let numbers = with_rounds_worked(maker.numbers, recipe, &maker.sections);
    let outcome = outcome(recipe, &numbers, &maker.sections, maker.peak);
    Ok(Plan {
        recipe: recipe.clone(),
        outcome,
        sections: maker.sections,
    })
}

fn write_sock(m: &mut Maker, recipe: &Recipe) -> Result<(), PlanBug> {
    for part in parts::order(recipe.direction) {
        parts::part(m, recipe, part)?;
    }
    parts::late_heel(m)
}

/// A sock that was replanned may have other rounds than its numbers want: what was knitted already
/// counts as it is.
fn with_rounds_worked(mut numbers: Numbers, recipe: &Recipe, sections: &[Section]) -> Numbers {
    let rounds = |kind| {
        let section = sections.iter().find(|s| s.kind == kind);
        section.map_or(0, |s| u16::try_from(s.counted()).unwrap_or(u16::MAX))
    };
    let came = rounds(SectionKind::Gusset) + rounds(SectionKind::Foot);
    let planned = numbers.foot_and_gusset();
    numbers.whole_foot = (numbers.whole_foot + came).saturating_sub(planned);
    numbers.leg = rounds(SectionKind::Leg);
    numbers.cuff = cuff::height(recipe, rounds(SectionKind::Cuff));
    numbers
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::foot::Foot;
    use crate::recipe::{
        Cuff, Direction, Edge, FlapTexture, Heel, HeelOpening, HeelTurn, Method, Toe, ToeCastOn,
    };
    use crate::swatch::Swatch;
    use crate::trace::Trace;
    use crate::units::Length;

    fn heels() -> Vec<Heel> {
        let openings = HeelOpening::ALL.into_iter();
        let mut all: Vec<Heel> = openings
            .map(|opening| Heel::Afterthought { opening })
            .collect();
        all.extend([0, 1, 3].map(|between| Heel::ShortRow { between }));
        for texture in FlapTexture::ALL {
            for turn in HeelTurn::ALL {
                all.push(Heel::FlapAndGusset {
                    texture,
                    turn,
                    rows: None,
                    height: None,
                    corners: true,
                });
            }
        }
        all
    }

    fn tubular(edge: Edge) -> bool {
        matches!(edge, Edge::Rib(rib) if rib.can_be_tubular())
    }

    /// A gauge at which few stitches reach round a short circular and many do not exceed the foot.
    fn reaching_round(stitches: u16) -> Swatch {
        Swatch {
            stitches: if stitches > 60 { 30 } else { 20 },
            ..Swatch::default()
        }
    }

    /// Every choice with every other, on small, usual and large socks.
    #[test]
    fn every_combination_can_be_knitted() {
        let mut socks = 0;
        for stitches in [32, 36, 44, 60, 64, 84, 120] {
            for needles in Method::ALL {
                for direction in [Direction::CuffDown, Direction::ToeUp] {
                    for toe in &Toe::ALL {
                        if direction == Direction::ToeUp && *toe == Toe::Round {
                            continue;
                        }
                        for edge in Edge::ALL {
                            for heel in heels() {
                                let recipe = Recipe {
                                    direction,
                                    foot: Foot {
                                        length: Length::cm(34),
                                        ..Recipe::default().foot
                                    },
                                    cuff: Cuff {
                                        edge,
                                        length: Length::cm(2),
                                    },
                                    heel,
                                    leg: Length::cm(6),
                                    stitches: Some(stitches),
                                    swatch: reaching_round(stitches),
                                    toe: *toe,
                                    cast_on: if tubular(edge) && socks % 2 == 0 {
                                        CastOn::Tubular
                                    } else {
                                        CastOn::ALL[socks % 4]
                                    },
                                    bind_off: if tubular(edge) && socks % 2 == 0 {
                                        BindOff::Tubular
                                    } else {
                                        BindOff::default()
                                    },
                                    toe_cast_on: if *toe == Toe::ShortRow {
                                        ToeCastOn::ALL[socks % 3]
                                    } else {
                                        ToeCastOn::ALL[socks % 2]
                                    },
                                    needles,
                                    ..Recipe::default()
                                };
                                let plan =
                                    make(&recipe).unwrap_or_else(|e| panic!("{recipe:?}: {e:?}"));
                                let trace =
                                    Trace::of(&plan).unwrap_or_else(|e| panic!("{recipe:?}: {e}"));
                                let end = trace.steps.last().map(|s| s.after().stitches());
                                assert_eq!(end, Some(0), "{recipe:?}");
                                socks += 1;
                            }
                        }
                    }
                }
            }
        }
        assert_eq!(socks, 7 * 7 * (7 + 6) * 7 * 14);
    }
}
