//! A whole pair, knitted by touching the pad on a slow phone, with the mistakes that a knitter makes on
//! the way: too many touches, a missed decrease, a lost place, ripping back; a leg that is to be longer,
//! a gauge measured in the sock, a note, the yarn weighed. The second sock follows the first. After
//! every touch the screen is held against the engine, and in the end everything stored is.
//!
//! The phone is four times slower than this machine and loads over a slow mobile network (150 ms there
//! and back, 1.6 Mbit/s: what is commonly called slow 4G).

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{Plan, Section, SectionKind};
use evenloop_engine::text::{self, Wording};
use evenloop_engine::together::Sock;
use evenloop_engine::trace::Position;
use evenloop_tests::knitter::{Stored, hurry, until_seen};
use evenloop_tests::laid::touch_cast_on;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::{ask_for_more_rounds, open_change};
use thirtyfour::Key;
use thirtyfour::cdp::domains::network::NetworkConditions;

/// What the knitter types: the line of the form, and the text. Thick yarn, a small foot.
const TYPED: [(&str, &str); 8] = [
    ("foot-length", "18"),
    ("foot-circumference", "22,2"),
    ("swatch-stitches", "16"),
    ("swatch-width", "10"),
    ("swatch-rounds", "20"),
    ("swatch-height", "10"),
    ("cuff-length", "1"),
    ("leg", "4"),
];

/// A phone, and all that was touched on it.
struct Knitter {
    phone: Phone,
    stored: Stored,
    sock: Sock,
}

impl Knitter {
    fn at(&self) -> Position {
        self.stored.logs[self.sock.index()].position()
    }

    fn plan(&self) -> &Plan {
        &self.stored.plans[self.sock.index()]
    }

    fn end(&self) -> Position {
        self.stored.traces[self.sock.index()].end()
    }

    /// The section at hand and the index of the step in it.
    fn here(&self) -> (SectionKind, usize) {
        let step = &self.stored.traces[self.sock.index()].steps[self.at().step];
        (step.kind, step.index)
    }

    fn per_needle(&self, at: Position) -> Vec<u16> {
        let trace = &self.stored.traces[self.sock.index()];
        trace
            .needles_at(at)
            .expect("stitches are on them")
            .per_needle()
    }

    /// Waits until the screen says what the engine does.
    async fn agree(&self) {
        let i = self.sock.index();
        let (plan, trace) = (&self.stored.plans[i], &self.stored.traces[i]);
        let told = text::instructions(plan, trace, self.at(), Wording::default());
        let told = told.expect("it is not finished");
        let counts: Vec<u16> = told.lines.iter().map(|line| line.count_after).collect();
        until_seen(
            &self.phone,
            &format!("{} {counts:?}", told.heading),
            |seen| seen.heading == told.heading && seen.counts == counts,
        )
        .await;
    }

    fn happened(&mut self, event: Event) {
        self.stored.push(self.sock, event);
    }

    async fn touch(&mut self) {
        self.phone.tap(".pad").await;
        self.happened(Event::Done(0));
        if self.at() == self.end() {
            self.phone.find(".finished").await;
        } else {
            self.agree().await;
        }
    }

    async fn undo(&mut self) {
        self.phone.tap(".undo").await;
        self.happened(Event::Undo(0));
        self.agree().await;
    }

    /// Knits on to a step of a section.
    async fn knit_to(&mut self, kind: SectionKind, index: usize) {
        while self.here() != (kind, index) {
            self.touch().await;
        }
    }

    /// What the phone has stored goes as far as was touched; its plans are the ones in force.
    async fn look_again(&mut self) {
        let now = Stored::on(&self.phone).await;
        let i = self.sock.index();
        let kinds = |stored: &Stored| -> Vec<_> {
            let events = stored.logs[i].events().iter();
            let events =
                events.filter(|e| matches!(e, Event::Done(_) | Event::Undo(_) | Event::GoTo(..)));
            events.map(std::mem::discriminant).collect()
        };
        assert_eq!(
            kinds(&now),
            kinds(&self.stored),
            "nothing is lost or invented"
        );
        assert_eq!(now.logs[i].position(), self.at());
        self.stored = now;
    }

    async fn open_page(&self, number: usize) {
        self.phone.tap(".to-pause").await;
        self.phone
            .tap(&format!(".entries .entry:nth-of-type({number})"))
            .await;
        self.phone.find(".pane-head").await;
    }

    /// Takes the change and comes back to the needles at the same place.
    async fn accept_change(&mut self) {
        self.phone.tap(".at-hand .button.lead").await;
        self.phone.find(".pad").await;
        let before = self.at();
        self.stored = Stored::on(&self.phone).await;
        assert_eq!(self.at(), before, "the place stays");
        self.agree().await;
    }

    async fn count(&self, page: &str, counts: &[u16]) {
        for (needle, count) in counts.iter().enumerate() {
            let line = self.phone.find(&format!("#{page}-{needle}")).await;
            line.send_keys(Key::Control + "a")
                .await
                .expect("it is chosen");
            line.send_keys(count.to_string())
                .await
                .expect("it is typed");
        }
    }

    async fn until_said(&self, css: &str, text: &str) {
        let script = format!(
            "return document.querySelector({css:?})?.textContent.includes({text:?}) ?? false"
        );
        self.phone.until(text, &script).await;
    }

    /// Goes where the app proposes, and remembers where that was.
    async fn go_there(&mut self, css: &str) {
        let before = self.stored.logs[self.sock.index()].events().len();
        self.phone.tap(css).await;
        self.phone
            .until(
                "the pane is closed",
                "return !document.querySelector('.pane[open]')",
            )
            .await;
        let now = Stored::on(&self.phone).await;
        let events = now.logs[self.sock.index()].events();
        let last = events.last().expect("something happened").clone();
        assert!(
            matches!(last, Event::GoTo(..)) && events.len() > before,
            "{last:?}"
        );
        self.happened(last);
        self.agree().await;
    }
}

fn rounds(plan: &Plan, kind: SectionKind) -> usize {
    let section = plan.sections.iter().find(|s| s.kind == kind);
    section.map_or(0, Section::counted)
}

async fn slow_phone() -> Phone {
    let phone = Phone::unpack().await;
    phone.slow_down(4).await;
    let tools = phone.browser().cdp();
    let network = tools.network();
    network.enable().await.expect("the network can be watched");
    network
        .emulate_network_conditions(NetworkConditions {
            offline: false,
            latency: 150,
            download_throughput: 200_000,
            upload_throughput: 94_000,
            connection_type: None,
        })
        .await
        .expect("the network can be slowed down");
    phone
}

/// Measures and casts on, as a knitter does.
async fn cast_on(server: &Server) -> Knitter {
    let phone = slow_phone().await;
    phone.open(&server.url("/measure")).await;
    for (id, text) in TYPED {
        phone.write(&format!("#{id}"), text).await;
    }
    phone
        .until(
            "the outcome follows the form",
            "return document.querySelector('.at-hand strong')?.textContent.includes('32')",
        )
        .await;
    touch_cast_on(&phone).await;
    let stored = Stored::on(&phone).await;
    let knitter = Knitter {
        phone,
        stored,
        sock: Sock::First,
    };
    knitter.agree().await;
    hurry(&knitter.phone, 30).await;
    knitter
}

/// Leg: weighed, touched too often, ripped back and thought better of, made longer.
async fn leg(knitter: &mut Knitter) {
    knitter.knit_to(SectionKind::Leg, 1).await;
    knitter.open_page(4).await;
    knitter.phone.write("#grams", "60").await;
    knitter.phone.tap(".pane .button.lead").await;
    knitter.until_said(".answer", "Weigh again").await;
    knitter.phone.tap(".pane-foot .button").await;

    // The phone lay on the sofa, and a child found the pad.
    let place = knitter.at();
    for _ in 0..3 {
        knitter.touch().await;
    }
    for _ in 0..3 {
        knitter.undo().await;
    }
    assert_eq!(knitter.at(), place);

    // Ripped back to the first round; no, the other sock; and then really.
    for really in [false, true] {
        knitter.phone.tap(".to-pause").await;
        knitter.phone.tap(".entries .entry:nth-of-type(6)").await;
        knitter.phone.tap(".stops .stop:first-child").await;
        knitter.go_there(".ask .button.lead").await;
        assert_eq!(knitter.here(), (SectionKind::Leg, 0));
        if !really {
            knitter.undo().await;
            assert_eq!(knitter.at(), place);
        }
    }
    knitter.look_again().await;

    // Held against the shin the leg is too short.
    let before = rounds(knitter.plan(), SectionKind::Leg);
    open_change(&knitter.phone).await;
    ask_for_more_rounds(&knitter.phone, "Leg", 2).await;
    knitter.accept_change().await;
    assert_eq!(rounds(knitter.plan(), SectionKind::Leg), before + 2);
    hurry(&knitter.phone, 30).await;
}

/// Heel and gusset: a note, a miscount that is two rounds, a decrease that was missed.
async fn heel(knitter: &mut Knitter) {
    knitter.knit_to(SectionKind::HeelTurn, 0).await;
    knitter.open_page(3).await;
    let area = knitter.phone.find("#note").await;
    area.send_keys("tight here, use the big needle")
        .await
        .expect("it can be written in");
    knitter.phone.tap(".pane .button.lead").await;
    knitter
        .until_said(".instruction .remark", "tight here")
        .await;

    knitter.knit_to(SectionKind::Gusset, 6).await;
    let (at, earlier) = (
        knitter.at(),
        Position {
            step: knitter.at().step - 2,
            mv: 0,
        },
    );
    let counts = knitter.per_needle(earlier);
    assert_ne!(counts, knitter.per_needle(at));
    knitter.open_page(1).await;
    knitter.count("count", &counts).await;
    knitter
        .until_said(".findings", "earlier than you thought")
        .await;
    knitter.go_there(".findings .button.lead").await;
    assert_eq!(knitter.per_needle(knitter.at()), counts);
    knitter.knit_to(SectionKind::Gusset, 7).await;

    knitter.open_page(1).await;
    knitter.phone.tap("[aria-label='One more: Needle 1']").await;
    knitter
        .until_said(".findings strong", "One stitch too many on needle 1")
        .await;
    let told = knitter.phone.text(".findings").await;
    assert!(told.contains("missed"), "{told}");
    knitter.phone.tap(".pane-foot .button").await;
    knitter.look_again().await;
}

/// Foot and toe: the gauge as it is in the sock, the yarn, and a place that was lost.
async fn foot(knitter: &mut Knitter) {
    knitter.knit_to(SectionKind::Foot, 1).await;
    let before = rounds(knitter.plan(), SectionKind::Foot);
    open_change(&knitter.phone).await;
    knitter.phone.write("#swatch-rounds", "24").await;
    knitter.until_said(".beside", "Foot: ").await;
    knitter.accept_change().await;
    assert!(
        rounds(knitter.plan(), SectionKind::Foot) > before,
        "more rounds to the same length"
    );
    hurry(&knitter.phone, 30).await;

    knitter.open_page(4).await;
    knitter.phone.write("#grams", "41,5").await;
    knitter.phone.tap(".pane .button.lead").await;
    knitter
        .until_said(".answer", "This sock and the second need")
        .await;
    knitter.phone.tap(".pane-foot .button").await;

    knitter.knit_to(SectionKind::Toe, 4).await;
    let counts = knitter.per_needle(Position {
        step: knitter.at().step - 2,
        mv: 0,
    });
    knitter.open_page(2).await;
    knitter.count("lost", &counts).await;
    knitter.until_said(".stretches", "Toe").await;
    knitter
        .phone
        .ask(
            "[...document.querySelectorAll('.stretch')]
                .find((card) => card.querySelector('h3').textContent === 'Toe')
                .querySelector('.spot').click()",
        )
        .await;
    knitter.go_there(".stretch .go .button.lead").await;
    assert_eq!(knitter.per_needle(knitter.at()), counts);
    assert_eq!(knitter.here().0, SectionKind::Toe);
    knitter.look_again().await;
}

#[tokio::test]
async fn a_pair_is_knitted_with_every_mistake_on_a_slow_phone() {
    let server = Server::start();
    let mut knitter = cast_on(&server).await;
    leg(&mut knitter).await;
    heel(&mut knitter).await;
    foot(&mut knitter).await;
    while knitter.at() != knitter.end() {
        knitter.touch().await;
    }
    knitter.look_again().await;
    let first = knitter.plan().clone();

    // The second sock is knitted as the first was in the end, and remembers its note.
    knitter.phone.tap(".finished .button.lead").await;
    knitter.phone.find(".pad").await;
    knitter.sock = Sock::Second;
    knitter.stored = Stored::on(&knitter.phone).await;
    assert_eq!(*knitter.plan(), first, "the second follows the first");
    knitter.agree().await;
    let mut remembered = false;
    while knitter.at() != knitter.end() {
        if knitter.here() == (SectionKind::HeelTurn, 0) {
            knitter
                .until_said(
                    ".instruction .remark",
                    "On the first sock you noted here: “tight here, use the big needle”",
                )
                .await;
            remembered = true;
        }
        knitter.touch().await;
    }
    assert!(remembered);
    knitter.look_again().await;
    let done = knitter.phone.text(".finished h1").await;
    assert_eq!(done, "The pair is knitted");
    for (log, trace) in knitter.stored.logs.iter().zip(&knitter.stored.traces) {
        assert_eq!(log.position(), trace.end());
    }
    knitter.phone.open(&server.url("/")).await;
    knitter.until_said(".card", "Both socks are done.").await;
    knitter.phone.put_away().await;
}
