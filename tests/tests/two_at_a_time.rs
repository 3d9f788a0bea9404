//! Both socks of a pair on one needle, knitted by touching one pad: from cast-on to the last tail,
//! with an undo, a reload in the middle of a heel, and one sock ripped back alone. After every touch
//! the screen is held against the engine, and at the end both logs against those of two socks knitted
//! one after the other.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::foot::Foot;
use evenloop_engine::journal::{Event, Journal};
use evenloop_engine::needles::Facing;
use evenloop_engine::plan::{Plan, SectionKind, StepForm, make};
use evenloop_engine::recipe::{Cuff, LeftRight, Method, Recipe, Seating, Toe};
use evenloop_engine::swatch::Swatch;
use evenloop_engine::text::{self, Wording};
use evenloop_engine::together::{Sock, WhoseTurn, turn};
use evenloop_engine::trace::Trace;
use evenloop_engine::units::Length;
use evenloop_engine::wire::write_plan;
use evenloop_tests::knitter::{Seen, Stored, hurry, look, until_seen};
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;

/// A small sock in thick yarn, its toe shaped for the left foot, seated as magic loop usually is.
fn small_sock() -> Recipe {
    Recipe {
        foot: Foot {
            length: Length::cm(20),
            circumference: Some(Length::cm(20)),
            heel_diagonal: None,
        },
        swatch: Swatch {
            unwashed: None,
            needle: None,
            pattern: None,
            pattern_rounds: None,
            flap: None,
            guess: None,
            stitches: 16,
            width: Length::cm(10),
            rounds: 20,
            height: Length::cm(10),
        },
        cuff: Cuff {
            length: Length::cm(1),
            ..Cuff::default()
        },
        leg: Length::cm(3),
        stitches: Some(32),
        toe: Toe::Shaped {
            foot: LeftRight::Left,
        },
        ..Recipe::default()
    }
}

fn made(recipe: &Recipe) -> Plan {
    make(recipe).unwrap_or_else(|wrong| panic!("{wrong:?}"))
}

/// Lays a pair out whose second sock has a plan of its own.
async fn lay_out_pair(phone: &Phone, plans: [&Plan; 2], logs: [&[Event]; 2]) {
    lay_out(phone, plans[0], logs).await;
    let own = serde_json::Value::from(write_plan(plans[1]));
    phone
        .ask(&format!(
            "const plan = Object.keys(localStorage).find((key) => key.endsWith(':plan'));
             localStorage.setItem(plan + ':2', {own});"
        ))
        .await;
}

/// What the screen has to say while this is stored.
fn expected(stored: &Stored, now: WhoseTurn) -> (String, Vec<u16>) {
    let told = now.socks().iter().map(|sock| {
        let i = sock.index();
        let at = stored.logs[i].position();
        text::instructions(&stored.plans[i], &stored.traces[i], at, Wording::default())
            .expect("not finished")
    });
    let told: Vec<_> = told.collect();
    let counts = match &told[..] {
        // Both socks on each needle, in the order in which they come there; once where they do the same.
        [first, second] => {
            let at = stored.logs[0].position();
            let step = stored.plans[0].step(at.step).expect("not finished");
            let back = step.form == StepForm::Row(Facing::WrongSide);
            let mut counts = Vec::new();
            for needle in 0..first.lines.len().max(second.lines.len()) {
                let mut two = [first.lines.get(needle), second.lines.get(needle)];
                if back || needle % 2 == 1 {
                    two.reverse();
                }
                let same = two[0] == two[1];
                let told = two.into_iter().flatten().map(|line| line.count_after);
                counts.extend(told.take(if same { 1 } else { 2 }));
            }
            counts
        }
        _ => told[0].lines.iter().map(|line| line.count_after).collect(),
    };
    (told[0].heading.clone(), counts)
}

fn whose(now: WhoseTurn) -> &'static str {
    match now {
        WhoseTurn::Both => "Both socks",
        WhoseTurn::InTurn(Sock::First) | WhoseTurn::CatchUp(Sock::First) => "First sock",
        WhoseTurn::InTurn(Sock::Second) | WhoseTurn::CatchUp(Sock::Second) => "Second sock",
    }
}

/// Waits until the screen says what the engine does.
async fn agree(phone: &Phone, stored: &Stored) -> (WhoseTurn, Seen) {
    let now = turn(stored.on_needles()).expect("not finished");
    let (heading, counts) = expected(stored, now);
    let what = format!("{now:?}, {heading}, {counts:?}");
    let seen = until_seen(phone, &what, |seen| {
        seen.whose == whose(now) && seen.heading == heading && seen.counts == counts
    })
    .await;
    (now, seen)
}

async fn touch(phone: &Phone, stored: &mut Stored) {
    let now = turn(stored.on_needles()).expect("not finished");
    phone.tap(".pad").await;
    for sock in now.socks() {
        stored.push(*sock, Event::Done(0));
    }
}

async fn open_page(phone: &Phone, name: &str) {
    phone.tap(".to-pause").await;
    phone.find(".entries").await;
    phone
        .ask(&format!(
            "[...document.querySelectorAll('.entries .entry')]
                .find((one) => one.querySelector('.name').textContent === {name:?}).click()"
        ))
        .await;
}

/// The moves of a log that were not taken back.
fn standing(journal: &Journal, trace: &Trace) -> usize {
    assert_eq!(journal.position(), trace.end(), "it is knitted to its end");
    let mut standing = Vec::new();
    for event in journal.events() {
        match event {
            Event::Done(_) | Event::GoTo(..) => standing.push(event),
            Event::Undo(_) => drop(standing.pop()),
            _ => {}
        }
    }
    let done = |event: &&&Event| matches!(event, Event::Done(_));
    standing.iter().filter(done).count()
}

/// What is stored is what was touched, and what two socks knitted one after the other come to; the
/// second has a round more that was ripped back.
async fn hold_against_touches(phone: &Phone, remembered: &Stored, touches: usize) {
    let kept = Stored::on(phone).await;
    let letters = |log: &Journal| {
        let events = log.events().iter();
        // What the knitter did; the store itself notes plans, chains and the device.
        let own = |e: &&Event| !matches!(e, Event::Begin(_)) && !e.is_bond();
        let kinds = events.filter(own);
        kinds.map(std::mem::discriminant).collect::<Vec<_>>()
    };
    let mut all = 0;
    for (i, again) in [0, 1].into_iter().enumerate() {
        assert_eq!(
            letters(&kept.logs[i]),
            letters(&remembered.logs[i]),
            "sock {i}"
        );
        let alone: usize = kept.traces[i].steps.iter().map(|s| s.moves.len()).sum();
        assert_eq!(standing(&kept.logs[i], &kept.traces[i]), alone + again);
        all += alone;
    }
    assert!(touches < all, "{touches} touches for {all} moves");
}

/// One undo takes back the round of both, and a touch counts it again.
async fn undo_a_round_of_both(phone: &Phone, stored: &mut Stored) {
    let before = stored.logs.each_ref().map(Journal::position);
    touch(phone, stored).await;
    agree(phone, stored).await;
    phone.tap(".undo").await;
    for sock in Sock::BOTH {
        stored.push(sock, Event::Undo(0));
    }
    agree(phone, stored).await;
    assert_eq!(stored.logs.each_ref().map(Journal::position), before);
}

/// The second sock is ripped back by a round, alone; undo brings it back; ripped again it is behind.
async fn rip_back_undo_and_rip_again(phone: &Phone, stored: &mut Stored) {
    for again in [true, false] {
        rip_back_the_second(phone, stored).await;
        let (now, seen) = agree(phone, stored).await;
        assert_eq!(now, WhoseTurn::CatchUp(Sock::Second));
        let told = "The second sock is behind: work it alone as far as round 2";
        assert!(seen.turn.starts_with(told), "{}", seen.turn);
        if again {
            phone.tap(".undo").await;
            stored.push(Sock::Second, Event::Undo(0));
            let (now, _) = agree(phone, stored).await;
            assert_eq!(now, WhoseTurn::Both);
        }
    }
}

#[tokio::test]
async fn a_small_pair_is_knitted_two_at_a_time() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let first = small_sock();
    let second = first.second_sock().expect("the other foot's");
    lay_out_pair(&phone, [&made(&first), &made(&second)], [&[], &[]]).await;
    phone.open(&server.url("/now")).await;
    hurry(&phone, 30).await;

    // Offered before anything is on the needles; the seating it takes comes with it.
    phone.tap(".offer").await;
    let page = phone.text(".pane-body").await;
    assert!(
        page.contains("After the heel, instep and sole each get a needle of their own"),
        "{page}"
    );
    phone.tap(".pane .button.lead").await;
    until_seen(&phone, "the first sock's turn", |seen| {
        seen.turn == "The first sock alone; the second waits."
    })
    .await;
    let mut stored = Stored::on(&phone).await;
    assert!(stored.logs[0].together());
    for plan in &stored.plans {
        assert_eq!(
            plan.recipe.needles,
            Method::MagicLoop {
                seating: Seating::InstepAndSole
            }
        );
    }
    assert_ne!(stored.plans[0], stored.plans[1], "left and right");

    let mut touches = 0;
    let (mut undone, mut reloaded, mut ripped, mut apart) = (false, false, false, false);
    while let Some(now) = turn(stored.on_needles()) {
        let (_, seen) = agree(&phone, &stored).await;
        let i = now.sock().index();
        let at = stored.logs[i].position();
        let step = &stored.traces[i].steps[at.step];
        let (kind, index) = (step.kind, step.index);
        if kind == SectionKind::Leg && index == 2 && !undone {
            undone = true;
            undo_a_round_of_both(&phone, &mut stored).await;
        }
        if kind == SectionKind::HeelTurn && index == 3 && !reloaded {
            // In the middle of the first heel the phone is put away.
            reloaded = true;
            assert_eq!(now, WhoseTurn::InTurn(Sock::First));
            phone.reload().await;
            hurry(&phone, 30).await;
            agree(&phone, &stored).await;
        }
        if kind == SectionKind::HeelFlap && index == 1 {
            assert_eq!(seen.turn, "Wrong side: the second sock, then the first.");
        }
        if kind == SectionKind::Foot && index == 1 && !ripped {
            ripped = true;
            rip_back_undo_and_rip_again(&phone, &mut stored).await;
            continue;
        }
        // Toes of a left and a right sock are not the same, and both are told.
        apart |= now == WhoseTurn::Both && seen.counts.len() > 2;
        touch(&phone, &mut stored).await;
        touches += 1;
    }
    let all = [undone, reloaded, ripped, apart];
    assert_eq!(all, [true; 4], "undone, reloaded, ripped, apart");
    let done = phone.text(".finished h1").await;
    assert_eq!(done, "The pair is knitted");

    hold_against_touches(&phone, &stored, touches).await;

    // Undo takes back the very last move, of the second sock alone.
    phone.tap(".undo").await;
    until_seen(&phone, "the second sock again", |seen| {
        seen.whose == "Second sock"
    })
    .await;
    phone.open(&server.url("/")).await;
    phone
        .until(
            "the basket tells of both",
            "return document.querySelector('.card').textContent.includes('Two at a time: ')",
        )
        .await;
    phone.put_away().await;
}

/// Goes back to the foot's first round with the second sock only.
async fn rip_back_the_second(phone: &Phone, stored: &mut Stored) {
    open_page(phone, "Where was I").await;
    phone
        .ask("document.querySelectorAll('.which .button')[1].click()")
        .await;
    phone
        .until(
            "the second sock is chosen",
            "return document.querySelectorAll('.which .button')[1].ariaPressed === 'true'",
        )
        .await;
    phone.tap(".pane-foot .button").await;
    // Closed again it is everybody's turn: looking at one sock moves nothing.
    agree(phone, stored).await;
    let foot = find(&stored.plans[1], |kind, _| kind == SectionKind::Foot)[0];
    open_page(phone, "Where was I").await;
    phone
        .ask("document.querySelectorAll('.which .button')[1].click()")
        .await;
    phone.unfold(".by-sight .stretch").await;
    phone
        .until(
            "the second sock's rounds are told",
            "return document.querySelectorAll('.which .button')[1].ariaPressed === 'true'",
        )
        .await;
    phone.unfold(".by-sight .stretch").await;
    // Rounds since the foot began: none is the first round.
    phone
        .ask(
            "const foot = [...document.querySelectorAll('.by-sight .stretch')]
                .find((card) => card.querySelector('h3').textContent === 'Foot');
             foot.querySelector('.spot').click();",
        )
        .await;
    phone
        .until(
            "it is asked",
            "return document.querySelector('.by-sight .go .button.lead') !== null",
        )
        .await;
    let lead = phone.text(".by-sight .go .button.lead").await;
    assert_eq!(lead, "Only the second sock");
    phone.tap(".by-sight .go .button.lead").await;
    stored.push(Sock::Second, Event::GoTo(0, foot));
}

#[tokio::test]
async fn two_at_a_time_is_begun_late_left_again_and_refused_kindly() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let seating = Seating::InstepAndSole;
    let recipe = Recipe {
        toe: Toe::default(),
        needles: Method::MagicLoop { seating },
        ..small_sock()
    };
    let plan = made(&recipe);
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[2];

    // The first sock is in its leg, the second not begun: it catches up alone.
    lay_out(&phone, &plan, [&begun_at(leg), &[]]).await;
    phone.open(&server.url("/now")).await;
    open_page(&phone, "Two at a time").await;
    phone.tap(".pane .button.lead").await;
    let seen = until_seen(&phone, "the second sock", |seen| {
        seen.whose == "Second sock"
    })
    .await;
    assert_eq!(
        seen.turn,
        "The second sock is behind: work it alone as far as round 3 of the leg."
    );
    assert_eq!(seen.section, "Cast on");
    phone.reload().await;
    until_seen(&phone, "the same again", |again| *again == seen).await;

    // A weighing is one sock's own ball.
    open_page(&phone, "Weigh the yarn").await;
    phone.write("#grams", "48").await;
    phone.tap(".pane .button.lead").await;
    phone
        .until(
            "it is told at the second sock's place",
            "return document.querySelector('.answer').textContent.includes('48\u{a0}g before')",
        )
        .await;
    phone
        .ask("document.querySelectorAll('.which .button')[0].click()")
        .await;
    phone
        .until(
            "the first sock has none",
            "return document.querySelector('.answer').textContent.trim() === ''",
        )
        .await;
    phone.tap(".pane-foot .button").await;

    // Left again: one after the other, the first where it was.
    open_page(&phone, "Two at a time").await;
    phone
        .tap(".pane .button:not(.lead):not([aria-label])")
        .await;
    until_seen(&phone, "no turns any more", |seen| seen.turn.is_empty()).await;
    assert!(!Stored::on(&phone).await.logs[0].together());

    // Needles that hold one sock.
    let points = made(&Recipe {
        needles: Method::FiveDpns,
        ..recipe.clone()
    });
    lay_out(&phone, &points, [&[], &[]]).await;
    phone.open(&server.url("/now")).await;
    let seen = look(&phone).await;
    assert!(seen.turn.is_empty());
    assert_eq!(
        phone.ask("return document.querySelector('.offer')").await,
        serde_json::Value::Null
    );
    open_page(&phone, "Two at a time").await;
    let page = phone.text(".pane-body").await;
    assert!(page.contains("hold one sock"), "{page}");

    // A sock that is off the needles.
    let end = Trace::of(&plan).expect("a sock").end();
    lay_out(&phone, &plan, [&begun_at(end), &begun_at(leg)]).await;
    phone.open(&server.url("/now")).await;
    open_page(&phone, "Two at a time").await;
    let page = phone.text(".pane-body").await;
    assert!(page.contains("off the needles already"), "{page}");
    phone.put_away().await;
}
