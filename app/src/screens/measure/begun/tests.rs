//! What a change of one sock does to the other.

use evenloop_engine::journal::{Digest, Event, Journal};
use evenloop_engine::plan::make;
use evenloop_engine::recipe::{LeftRight, Method, Recipe, Seating, Toe};
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::Length;

use super::*;
use crate::store::{KnittedPlan, PairHead, PairProgress};

fn recipe(toe: Toe) -> Recipe {
    Recipe {
        toe,
        needles: Method::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        ..Recipe::default()
    }
}

fn pattern(recipe: &Recipe) -> Arc<KnittedPlan> {
    let plan = make(recipe).unwrap_or_else(|wrong| panic!("{wrong:?}"));
    let trace = Trace::of(&plan).unwrap_or_else(|wrong| panic!("{wrong:?}"));
    Arc::new(KnittedPlan { plan, trace })
}

/// A pair with so many steps done of each sock.
fn pair(toe: Toe, steps: [usize; 2], together: bool) -> OpenPair {
    let first = recipe(toe);
    let one = pattern(&first);
    let other = first.second_sock();
    let other = other.map_or_else(|| Arc::clone(&one), |second| pattern(&second));
    let patterns = [one, other];
    let journals = [0, 1].map(|sock| {
        let mut events = vec![];
        if steps[sock] > 0 {
            events.push(Event::Begin(1));
            events.push(Event::GoTo(
                2,
                Position {
                    step: steps[sock],
                    mv: 0,
                },
            ));
        }
        if sock == 0 && together {
            events.push(Event::Together(3, true));
        }
        Journal::replay(&events, &patterns[sock].trace)
    });
    let on = [0, 1].map(|sock| evenloop_engine::together::OnNeedles {
        plan: &patterns[sock].plan,
        trace: &patterns[sock].trace,
        journal: &journals[sock],
    });
    let head = PairHead {
        id: PairId::new(1, 2),
        name: "Grey ones".to_owned(),
        named: 0,
        created: 1,
        progress: PairProgress::of(on),
        readable: true,
    };
    let plan_digests =
        [0, 1].map(|sock: usize| Digest::of(&wire::write_plan(&patterns[sock].plan)));
    OpenPair {
        head,
        meant: Arc::clone(&patterns[0]),
        patterns,
        plan_digests,
        plan_texts: Arc::default(),
        journals,
        device: None,
        trouble: None,
    }
}

fn begun(toe: Toe, steps: [usize; 2], together: bool) -> Begun {
    Begun::of(PairId::new(1, 2), &pair(toe, steps, together))
}

const LEFT: Toe = Toe::Shaped {
    foot: LeftRight::Left,
};

/// The sock with another leg.
fn with_leg(begun: &Begun, leg: Length) -> Plan {
    let recipe = Recipe {
        leg,
        ..begun.pattern.plan.recipe.clone()
    };
    replan(&begun.pattern.plan, begun.done, &recipe).unwrap_or_else(|wrong| panic!("{wrong:?}"))
}

fn read(doc: &str) -> Plan {
    wire::read_plan(doc).unwrap_or_else(|wrong| panic!("{wrong:?}"))
}

#[test]
fn the_second_alone_leaves_the_first_as_it_was_knitted() {
    let end = make(&recipe(Toe::default()))
        .map_or(0, |plan| plan.sections.iter().map(|s| s.steps.len()).sum());
    let begun = begun(Toe::default(), [end, 5], false);
    assert_eq!((begun.sock, &begun.other), (2, &Other::Stays));
    let longer = with_leg(&begun, Length::cm(20));
    assert!(rounds(&longer, SectionKind::Leg) > rounds(&begun.pattern.plan, SectionKind::Leg));
    assert_eq!(
        begun.docs(&longer),
        Ok(NewPlans::Second(wire::write_plan(&longer)))
    );
}

#[test]
fn what_the_first_has_done_does_not_count_for_the_second_alone() {
    for first in [5, 60, 150] {
        let begun = begun(Toe::default(), [first, 5], false);
        assert_eq!((begun.sock, begun.done), (2, 5));
        assert_eq!(begun.knitted(SectionKind::Leg), 0);
    }
}

#[test]
fn the_first_is_followed_by_the_second() {
    let same = begun(Toe::default(), [5, 0], false);
    let longer = with_leg(&same, Length::cm(20));
    let doc = wire::write_plan(&longer);
    assert_eq!(same.docs(&longer), Ok(NewPlans::Both(doc, None)));

    let left = begun(LEFT, [5, 0], false);
    let longer = with_leg(&left, Length::cm(20));
    let Ok(NewPlans::Both(first, Some(second))) = left.docs(&longer) else {
        panic!("both socks change")
    };
    assert_eq!(read(&first), longer);
    assert_eq!(Some(read(&second).recipe), longer.recipe.second_sock());
}

#[test]
fn two_at_a_time_by_one_plan_change_together_whoever_is_at_hand() {
    for (steps, at_hand) in [([5, 5], 1), ([5, 4], 2), ([4, 5], 1)] {
        let begun = begun(Toe::default(), steps, true);
        assert_eq!(
            (begun.sock, &begun.other, begun.done),
            (at_hand, &Other::Same, 5)
        );
        let longer = with_leg(&begun, Length::cm(20));
        let doc = wire::write_plan(&longer);
        assert_eq!(begun.docs(&longer), Ok(NewPlans::Both(doc, None)));
        assert!(!begun.leaves_other(&longer));
    }
}

#[test]
fn two_at_a_time_left_and_right_change_together_whoever_is_at_hand() {
    for (steps, at_hand) in [([5, 5], 1), ([5, 4], 2)] {
        let begun = begun(LEFT, steps, true);
        assert_eq!(begun.sock, at_hand);
        let longer = with_leg(&begun, Length::cm(20));
        assert!(!begun.leaves_other(&longer));
        let Ok(NewPlans::Both(first, Some(second))) = begun.docs(&longer) else {
            panic!("both socks change")
        };
        let (first, second) = (read(&first), read(&second));
        assert_eq!(Some(&second.recipe), first.recipe.second_sock().as_ref());
        assert_eq!(first.recipe.leg, Length::cm(20));
        assert_eq!(first.recipe.toe, LEFT);
    }
}

#[test]
fn a_sock_that_is_too_far_on_stays_and_it_is_said() {
    let far = make(&recipe(LEFT)).map_or(0, |plan| {
        let foot = plan
            .sections
            .iter()
            .take_while(|s| s.kind != SectionKind::Foot);
        foot.map(|section| section.steps.len()).sum()
    });
    let begun = begun(LEFT, [far, 5], true);
    assert_eq!(begun.sock, 2);
    let recipe = Recipe {
        leg: Length::cm(8),
        ..begun.pattern.plan.recipe.clone()
    };
    let shorter = replan(&begun.pattern.plan, begun.done, &recipe);
    let shorter = shorter.unwrap_or_else(|wrong| panic!("{wrong:?}"));
    assert!(begun.leaves_other(&shorter));
    assert!(!begun.leaves_other(&begun.pattern.plan));
    let Ok(NewPlans::Both(first, Some(second))) = begun.docs(&shorter) else {
        panic!("both are stored")
    };
    let Other::Beside(own, _) = &begun.other else {
        panic!("two at a time")
    };
    assert_eq!(changes(own, &read(&first)), []);
    assert_eq!(read(&second), shorter);
}
