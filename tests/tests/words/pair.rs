//! Two at a time: both socks of a pair on the same needles, each worked from its own words, needle by
//! needle. A sock ends before its needle does: on needle 1 the first sock comes first, on needle 2 the
//! second, and behind it hang the other's stitches.
//!
//! Common practice, no source: front and front, turn, back and back.

use evenloop_engine::journal::{Event, Journal};
use evenloop_engine::needles::Facing;
use evenloop_engine::plan::StepForm;
use evenloop_engine::recipe::{Method, Recipe, Seating};
use evenloop_engine::sock::{by_pattern, make, replan};
use evenloop_engine::text::{Wording, instructions};
use evenloop_engine::together::{OnNeedles, PairFit, Sock, WhoseTurn, fit, turn};
use evenloop_engine::trace::Position;
use evenloop_engine::wire::write_plan;
use evenloop_tests::model::compare::{Verdict, three_ways};
use evenloop_tests::model::recipes::seeded;

use super::{Reading, STYLES};

struct Pair {
    socks: [Reading; 2],
    logs: [Journal; 2],
}

impl Pair {
    fn on_needles(&self) -> [OnNeedles<'_>; 2] {
        [0, 1].map(|i| OnNeedles {
            plan: &self.socks[i].plan,
            trace: &self.socks[i].trace,
            journal: &self.logs[i],
        })
    }

    fn at(&self, sock: Sock) -> Position {
        self.logs[sock.index()].position()
    }

    /// How it is said to this sock: whether the other hangs on the needles beside it.
    fn wording(&self, sock: Sock, style: Wording) -> Wording {
        let other = &self.socks[sock.other().index()].hands;
        Wording {
            two_socks: !other.ring().is_empty(),
            ..style
        }
    }

    /// The needles that a sock's words name in a move, in their order.
    fn named(&self, sock: Sock, style: Wording) -> Vec<u8> {
        let own = &self.socks[sock.index()];
        let said = instructions(&own.plan, &own.trace, self.at(sock), style);
        let lines = said.expect("words for a move").lines;
        let lines = lines.iter().filter(|line| !line.text.is_empty());
        lines.filter_map(|line| line.needle).collect()
    }

    /// What hangs on each needle, the socks in the order in which they come there when the right side
    /// faces: the first sock first on needle 1, last on needle 2.
    fn hanging(&self) -> [[usize; 2]; 2] {
        [0, 1].map(|needle| {
            let mut counts = [0, 1].map(|sock| {
                let hands = &self.socks[sock].hands;
                let first = super::first_needle(hands);
                let at = (first + needle) % hands.needles.len();
                self.socks[sock].lying.counted_at(hands, at)
            });
            if needle == 1 {
                counts.reverse();
            }
            counts
        })
    }
}

/// The line of the same needle in both socks' words is worked before the next needle's, in an order in
/// which the socks come to hand; each keeps the count that its own words promise.
#[test]
fn both_socks_are_worked_from_their_words_needle_by_needle() {
    let seating = Seating::InstepAndSole;
    let all = seeded(260).enumerate().map(|(i, recipe)| Recipe {
        needles: if i % 2 == 0 {
            Method::MagicLoop { seating }
        } else {
            Method::TwoCirculars { seating }
        },
        ..recipe
    });
    let knitted = all.filter(|r| matches!(three_ways(r), Ok(Verdict::Knitted { .. })));
    let (mut pairs, mut together, mut read) = (0, 0, 0);
    for (i, first) in knitted.enumerate() {
        let style = STYLES[i % STYLES.len()];
        let second = first.second_sock().unwrap_or_else(|| first.clone());
        let mut pair = Pair {
            socks: [Reading::begin(&first), Reading::begin(&second)],
            logs: [Journal::new(), Journal::new()],
        };
        while let Some(now) = turn(pair.on_needles()) {
            if now == WhoseTurn::Both {
                together += 1;
                in_hand_by_needle(&pair, style);
            }
            for sock in now.socks() {
                let (at, style) = (pair.at(*sock), pair.wording(*sock, style));
                let i = sock.index();
                read += pair.socks[i].work(at, style);
                pair.logs[i].push(Event::Done(0), &pair.socks[i].trace);
            }
            if now == WhoseTurn::Both {
                // The socks hang side by side, none of one among the other's: each needle holds both parts.
                let both = pair.hanging();
                let whole: usize = both.iter().flatten().sum();
                let each = pair.socks.each_ref().map(|s| s.hands.ring().len());
                assert_eq!(whole, each[0] + each[1], "{both:?}");
            }
        }
        for sock in &mut pair.socks {
            sock.end_section();
            assert!(
                sock.hands.ring().is_empty(),
                "a sock is left on the needles"
            );
        }
        pairs += 1;
    }
    assert!(
        pairs > 80 && together > 5_000 && read > 20_000,
        "{pairs} {together} {read}"
    );
}

/// Written patterns, all made up; without the one that picks up more stitches than its edge has chains, which these
/// hands do not know.
fn patterns() -> Vec<String> {
    let all = include_str!("../../../app/engine/tests/pattern/socks.txt");
    let each = all.split("\n# ").map(|one| one.split_once('\n'));
    let named = each.map(|one| one.expect("a name and its text"));
    let known = named.filter(|(name, _)| !name.contains("more than chains"));
    known.map(|(_, text)| text.to_owned()).collect()
}

/// A pair by a pattern, cast on and begun in even halves: seated for two where it is, both socks are worked from
/// their words to the end.
#[test]
fn a_pair_by_a_pattern_in_even_halves_is_seated_for_two_where_it_is() {
    let by = |text: &str, seating| by_pattern(text, Method::MagicLoop { seating });
    let (mut pairs, mut together, mut read) = (0, 0, 0);
    for text in patterns() {
        let begun = make(&by(&text, Seating::EvenHalves)).expect("a sock");
        assert_ne!(fit(&begun), PairFit::Fits);
        let steps: usize = begun.sections.iter().map(|s| s.steps.len()).sum();
        for done in (0..steps).step_by(13) {
            let seated = replan(&begun, done, &by(&text, Seating::InstepAndSole));
            let seated = seated.expect("the rest of it");
            assert_eq!(fit(&seated), PairFit::Fits);
            let document = write_plan(&seated);
            let style = STYLES[pairs % STYLES.len()];
            let mut pair = Pair {
                socks: [Reading::of(&document), Reading::of(&document)],
                logs: [Journal::new(), Journal::new()],
            };
            // Each by itself as far as it had come.
            for sock in Sock::BOTH {
                while pair.at(sock).step < done {
                    let at = pair.at(sock);
                    read += pair.socks[sock.index()].work(at, style);
                    let own = &pair.socks[sock.index()].trace;
                    pair.logs[sock.index()].push(Event::Done(0), own);
                }
            }
            while let Some(now) = turn(pair.on_needles()) {
                together += usize::from(now == WhoseTurn::Both);
                for sock in now.socks() {
                    let (at, style) = (pair.at(*sock), pair.wording(*sock, style));
                    let i = sock.index();
                    read += pair.socks[i].work(at, style);
                    pair.logs[i].push(Event::Done(0), &pair.socks[i].trace);
                }
            }
            for sock in &mut pair.socks {
                sock.end_section();
                assert!(
                    sock.hands.ring().is_empty(),
                    "a sock is left on the needles"
                );
            }
            pairs += 1;
        }
    }
    assert!(
        pairs > 20 && together > 1_000 && read > 4_000,
        "{pairs} {together} {read}"
    );
}

/// A round of both names each needle once, needle 1 before needle 2, and alike in both; a row of both lies
/// on one needle.
fn in_hand_by_needle(pair: &Pair, style: Wording) {
    let [first, second] = Sock::BOTH.map(|sock| pair.named(sock, pair.wording(sock, style)));
    assert_eq!(first, second, "the two are not worked on the same needles");
    let step = pair.socks[0].plan.step(pair.at(Sock::First).step);
    let form = step.expect("a step").form;
    match form {
        StepForm::Round => assert!(first == [1, 2], "a round on {first:?}"),
        StepForm::Row(Facing::RightSide | Facing::WrongSide) => {
            assert!(first == [1], "a row on {first:?}");
        }
        StepForm::Walk => panic!("a walk is worked by one sock after the other"),
    }
}

/// A needle with both socks on it does not end where a sock does: words that say so mean too many stitches.
#[test]
#[should_panic(expected = "comes first")]
fn the_end_of_the_needle_is_not_the_end_of_a_sock() {
    let recipe = Recipe {
        needles: Method::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        ..Recipe::default()
    };
    let mut sock = Reading::begin(&recipe);
    let line = "Knit to 3 before the end of the needle, knit 2 together, knit 1";
    let cuff = sock.places.iter().position(|(section, _)| *section == 1);
    for step in 0..cuff.expect("a cuff") {
        let (section, index) = sock.places[step];
        for mv in 0..sock.page.sections[section].steps[index].moves.len() {
            sock.work(Position { step, mv }, STYLES[1]);
        }
    }
    let both = Wording {
        two_socks: true,
        ..STYLES[1]
    };
    let mut reader = super::Reader::of(line, "", both);
    reader
        .next(&sock.hands)
        .unwrap_or_else(|why| panic!("{why}"));
}
