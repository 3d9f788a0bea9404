//! Takes pictures of every screen in many states, at two phone sizes and in both themes, into
//! `tests/out/pictures`; and the few that the README shows into `tests/pictures`.
//!
//! Run it with `cargo run --release -p evenloop-tests --example pictures` after `server/start --build`.
//! With names as arguments only pictures whose name holds one of them are taken, or is it where it begins with a `=`.
//! `EVENLOOP_SIZES=320x568,1280x800` takes them at other sizes, `EVENLOOP_THEMES=dark` in one theme,
//! `EVENLOOP_LARGE=1` with larger letters, `EVENLOOP_LEFT=1` all of them for left-handed knitting.

#![allow(
    clippy::expect_used,
    reason = "a picture that cannot be taken stops the script"
)]

use std::fs;
use std::path::PathBuf;
use std::time::Duration;

use evenloop_engine::journal::Event;
use evenloop_engine::plan::{Plan, SectionKind, make};
use evenloop_engine::recipe::{
    Direction, Heel, Method, Motif, MotifPlacement, Recipe, Seating, Stripe, Yarns,
};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::trace::{Position, Trace};
use evenloop_tests::laid::{THEN, begun_at, cast_on, find, lay_out};
use evenloop_tests::phone::Phone;
use evenloop_tests::room_on_now;
use evenloop_tests::server::{Server, root};
use serde_json::json;
use tokio::time::sleep;

const SIZES: &str = "360x740,412x915";
const THEMES: &str = "light,dark";
/// What the README shows, all at 360 x 740 in the light theme.
const SHOWN: [&str; 5] = ["measure", "leg", "crossing-5", "gusset", "map"];

/// A sock and a place in it.
#[derive(Clone)]
struct Scene {
    name: String,
    path: &'static str,
    recipe: Recipe,
    at: Option<Position>,
    /// Logs of both socks, where they are more than a way to the place.
    logs: Option<[Vec<Event>; 2]>,
    /// What is done on the page before the picture is taken: a script for each touch.
    touches: Vec<&'static str>,
    /// Whether the knitter is left-handed.
    left: bool,
}

fn usual() -> Recipe {
    Recipe {
        stitches: Some(64),
        ..Recipe::default()
    }
}

fn sock(recipe: &Recipe) -> Plan {
    make(recipe).expect("a sock")
}

/// Now, with a sock at a place.
fn now(name: &str, recipe: &Recipe, at: Position) -> Scene {
    Scene {
        name: name.to_owned(),
        path: "/now",
        recipe: recipe.clone(),
        at: Some(at),
        logs: None,
        touches: Vec::new(),
        left: false,
    }
}

/// The other screens, with a sock in its gusset.
fn other_screens() -> Vec<Scene> {
    let plan = sock(&usual());
    let at = find(&plan, |kind, _| kind == SectionKind::Gusset)
        .get(6)
        .copied();
    [
        ("basket", "/"),
        ("measure", "/measure"),
        ("map", "/map"),
        ("keep", "/keep"),
        ("plan", "/plan"),
        ("plan-rounds", "/plan"),
        ("plan-share", "/plan"),
        ("basket-more", "/"),
        ("practice", "/keep"),
    ]
    .into_iter()
    .map(|(name, path)| Scene {
        name: name.to_owned(),
        path,
        recipe: usual(),
        // A form is filled in for a pair that is not there yet.
        at: at.filter(|_| name != "measure"),
        logs: None,
        touches: match name {
            "measure" => vec![MADE, AFRESH, FILLED, "scrollTo(0, 0)"],
            "plan-rounds" => vec!["document.querySelector('.part:nth-of-type(4)').scrollIntoView()"],
            "plan-share" => vec![
                "document.querySelector('.share summary').click()",
                "document.querySelector('.code').scrollIntoView()",
            ],
            "basket-more" => vec!["document.querySelector('.card .more summary').click()"],
            "practice" => vec![
                "document.querySelector('.settings .care').previousElementSibling.querySelector('button').click()",
                "return new Promise((done) => setTimeout(done, 2500))",
            ],
            _ => Vec::new(),
        },
        left: false,
    })
    .collect()
}

/// Places along the usual sock.
fn along_a_sock() -> Vec<Scene> {
    use SectionKind::{CastOn, Close, Cuff, Gusset, HeelFlap, HeelTurn, Leg, Toe};
    let recipe = usual();
    let plan = sock(&recipe);
    let places = [
        ("cast-on", CastOn, 0),
        ("cuff", Cuff, 3),
        ("leg", Leg, 20),
        ("flap-first", HeelFlap, 0),
        ("flap", HeelFlap, 11),
        ("turn", HeelTurn, 4),
        ("gusset", Gusset, 4),
        ("toe", Toe, 10),
        ("reach", Close, 0),
        ("seat", Close, 1),
        ("graft-first", Close, 2),
        ("graft", Close, 4),
    ];
    let mut out: Vec<Scene> = places
        .into_iter()
        .map(|(name, kind, nth)| now(name, &recipe, find(&plan, |k, _| k == kind)[nth]))
        .collect();
    let step = plan.sections.iter().map(|s| s.steps.len()).sum();
    out.push(now("finished", &recipe, Position { step, mv: 0 }));
    out.push(within_a_round(&recipe, &plan));
    let close = find(&plan, |kind, _| kind == Close);
    out.extend(close.last().map(|at| now("off", &recipe, *at)));
    let toe_up = Recipe {
        direction: Direction::ToeUp,
        ..recipe
    };
    let plan = sock(&toe_up);
    let up = |kind: SectionKind, nth: usize| find(&plan, |k, _| k == kind)[nth];
    out.extend([
        now("closed-cast-on", &toe_up, up(CastOn, 0)),
        now("bind-off", &toe_up, up(SectionKind::BindOff, 0)),
        now("bound-off", &toe_up, up(SectionKind::BindOff, 1)),
    ]);
    out
}

/// The first round of the gusset, put down after its first needle.
fn within_a_round(recipe: &Recipe, plan: &Plan) -> Scene {
    let at = find(plan, |kind, _| kind == SectionKind::Gusset)[0];
    let log = [&begun_at(at)[..], &[Event::Needles(THEN + 90, at, 1)]].concat();
    Scene {
        logs: Some([log, Vec::new()]),
        ..now("within-a-round", recipe, at)
    }
}

/// The gusset pick-up of each needle method, move by move, and a gusset round.
fn crossings() -> Vec<Scene> {
    let apart = Seating::InstepAndSole;
    let methods = [
        ("crossing", Method::default()),
        ("crossing-apart", Method::MagicLoop { seating: apart }),
        ("crossing-four", Method::FourDpns),
        ("crossing-five", Method::FiveDpns),
        ("crossing-short", Method::ShortCircular { length: None }),
    ];
    let mut out = Vec::new();
    for (name, needles) in methods {
        let recipe = Recipe { needles, ..usual() };
        let plan = sock(&recipe);
        let moves = find(&plan, |kind, _| kind == SectionKind::PickUp);
        for (i, at) in moves.into_iter().enumerate() {
            out.push(now(&format!("{name}-{}", i + 1), &recipe, at));
        }
        let gusset = find(&plan, |kind, _| kind == SectionKind::Gusset)[6];
        out.push(now(&format!("{name}-gusset"), &recipe, gusset));
    }
    out
}

/// A sock from the toe up with short rows; and screens with nothing to show.
fn others() -> Vec<Scene> {
    let toe_up = Recipe {
        direction: Direction::ToeUp,
        heel: Heel::ShortRow { between: 0 },
        ..usual()
    };
    let rows = find(&sock(&toe_up), |kind, _| kind == SectionKind::ShortHeel);
    let nothing = |name: &str, path| Scene {
        name: name.to_owned(),
        path,
        recipe: usual(),
        at: None,
        logs: None,
        touches: Vec::new(),
        left: false,
    };
    vec![
        now("short-row", &toe_up, rows[12]),
        now("short-row-out", &toe_up, rows[32]),
        nothing("empty", "/now"),
        nothing("empty-basket", "/"),
    ]
}

/// A cable on the front with stripes, and its chart.
fn patterned() -> Vec<Scene> {
    const PAUSE: &str = "document.querySelector('.to-pause').click()";
    const ROUNDS: &str = "document.querySelectorAll('.entries .entry')[5].click()";
    let row = |text: &str| text.parse().expect("a round of a pattern");
    let stripe = |yarn, rounds| Stripe { yarn, rounds };
    let recipe = Recipe {
        motif: Some(Motif {
            rows: ["p1 k4 p1", "p1 cr2/2 p1", "p1 k4 p1", "p1 k4 p1"]
                .map(row)
                .into(),
            place: MotifPlacement::Front,
            ..Motif::default()
        }),
        yarns: Some(Yarns {
            stripes: vec![stripe(Yarn::A, 4), stripe(Yarn::B, 4)],
            cuff: Yarn::B,
            heel: Yarn::C,
            toe: Yarn::C,
        }),
        ..usual()
    };
    let lace = Recipe {
        direction: Direction::ToeUp,
        motif: Some(Motif {
            rows: ["k1 yo ssk k1 k2tog yo", "k6", "k2 yo s1 k1 k2tog", "p6"]
                .map(row)
                .into(),
            place: MotifPlacement::AllRound,
            ..Motif::default()
        }),
        stitches: Some(60),
        ..Recipe::default()
    };
    let plan = sock(&recipe);
    let first = |wanted| find(&plan, |kind, _| kind == wanted);
    let leg = now("pattern-leg", &recipe, first(SectionKind::Leg)[5]);
    vec![
        leg.clone(),
        Scene {
            name: "pattern-around".to_owned(),
            touches: vec![PAUSE, ROUNDS],
            ..leg.clone()
        },
        now("pattern-change", &recipe, first(SectionKind::Leg)[4]),
        now("pattern-gusset", &recipe, first(SectionKind::Gusset)[4]),
        Scene {
            name: "pattern-map".to_owned(),
            path: "/map",
            ..now("", &recipe, first(SectionKind::Gusset)[4])
        },
        Scene {
            name: "weigh-yarns".to_owned(),
            touches: vec![
                "document.querySelector('.to-pause').click()",
                "document.querySelectorAll('.entries .entry')[3].click()",
                "const line = document.getElementById('grams'); line.value = '38.5';
                 line.dispatchEvent(new Event('input', { bubbles: true }));
                 line.closest('.pane, main').querySelector('.button.lead').click()",
            ],
            ..leg
        },
        Scene {
            name: "motif-map".to_owned(),
            path: "/map",
            ..now(
                "",
                &lace,
                find(&sock(&lace), |kind, _| kind == SectionKind::Leg)[20],
            )
        },
    ]
}

/// Notes and weighings, on the first sock and on the second, and the map of a sock that went its own
/// way.
fn noted() -> Vec<Scene> {
    const OPEN: &str = "document.querySelector('.to-pause').click()";
    const NOTE: &str = "document.querySelectorAll('.entries .entry')[2].click()";
    const WEIGH: &str = "document.querySelectorAll('.entries .entry')[3].click()";
    const LEG: &str = "document.querySelectorAll('.sections summary')[2].click()";
    const SEEN: &str = "document.querySelector('.stop.noted').scrollIntoView({ block: 'center' })";
    let recipe = usual();
    let plan = sock(&recipe);
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg);
    let mut log = vec![Event::Begin(THEN)];
    log.extend((1..=40).map(|n| Event::Done(THEN + n * 150)));
    log.push(Event::Weighed(THEN + 6_100, leg[4], Some(485)));
    log.push(Event::Note(
        THEN + 6_200,
        leg[12],
        "Pulled snug at the needle ends; a marker every tenth round".to_owned(),
    ));
    log.push(Event::GoTo(THEN + 6_300, leg[30]));
    log.push(Event::Weighed(THEN + 6_310, leg[30], Some(444)));
    log.push(Event::GoTo(THEN + 6_320, leg[12]));
    let mut whole = log.clone();
    whole.push(Event::GoTo(
        THEN + 6_400,
        Trace::of(&plan).expect("a sock").end(),
    ));
    let scene = |name: &str, logs: [&[Event]; 2], path, touches| Scene {
        path,
        touches,
        logs: Some(logs.map(<[Event]>::to_vec)),
        ..now(name, &recipe, leg[12])
    };
    vec![
        scene("noted", [&log, &[]], "/now", vec![]),
        scene("note", [&log, &[]], "/now", vec![OPEN, NOTE]),
        scene("weigh", [&log, &[]], "/now", vec![OPEN, WEIGH]),
        scene("noted-map", [&log, &[]], "/map", vec![]),
        scene("noted-rounds", [&log, &[]], "/map", vec![LEG, SEEN]),
        scene(
            "noted-end",
            [&log, &[]],
            "/map",
            vec!["window.scrollTo(0, 99999)"],
        ),
        scene("noted-second", [&whole, &begun_at(leg[12])], "/now", vec![]),
    ]
}

/// Both socks on one needle: level, one after the other, one of them behind.
fn two_at_a_time() -> Vec<Scene> {
    const OPEN: &str = "document.querySelector('.to-pause').click()";
    const PAGE: &str = "document.querySelectorAll('.entries .entry')[4].click()";
    let recipe = Recipe {
        needles: Method::MagicLoop {
            seating: Seating::InstepAndSole,
        },
        ..usual()
    };
    let plan = sock(&recipe);
    let at = |kind, nth: usize| find(&plan, |k, _| k == kind)[nth];
    let leg = at(SectionKind::Leg, 20);
    let scene = |name: &str, first, second, touches| Scene {
        touches,
        logs: Some([
            [&begun_at(first)[..], &[Event::Together(THEN + 60, true)]].concat(),
            begun_at(second).to_vec(),
        ]),
        ..now(name, &recipe, first)
    };
    let level = |name, place| scene(name, place, place, Vec::new());
    vec![
        level("two-leg", leg),
        level("two-flap", at(SectionKind::HeelFlap, 11)),
        level("two-turn", at(SectionKind::HeelTurn, 0)),
        level("two-pick-up", at(SectionKind::PickUp, 0)),
        level("two-gusset", at(SectionKind::Gusset, 4)),
        scene("two-behind", leg, at(SectionKind::Leg, 15), Vec::new()),
        scene("two-page", leg, leg, vec![OPEN, PAGE]),
    ]
}

/// Hard moves explained.
fn explained() -> Vec<Scene> {
    const HOW: &str = "document.querySelector('.how').click()";
    const ALL: &str = "document.querySelector('.note .how').click()";
    let recipe = usual();
    let plan = sock(&recipe);
    let toe_up = Recipe {
        direction: Direction::ToeUp,
        heel: Heel::ShortRow { between: 0 },
        ..usual()
    };
    let up = sock(&toe_up);
    let rows = find(&up, |kind, _| kind == SectionKind::ShortHeel);
    let bind_off = find(&up, |kind, _| kind == SectionKind::BindOff)[0];
    let first = |wanted| find(&plan, |kind, _| kind == wanted);
    let scene = |name, recipe: &Recipe, at, touch| Scene {
        touches: vec![touch],
        ..now(name, recipe, at)
    };
    vec![
        scene("how-gusset", &recipe, first(SectionKind::Gusset)[4], HOW),
        scene("how-flap", &recipe, first(SectionKind::HeelFlap)[3], HOW),
        scene("how-crossing", &recipe, first(SectionKind::PickUp)[0], ALL),
        scene("how-pick-up", &recipe, first(SectionKind::PickUp)[3], HOW),
        scene("how-graft", &recipe, first(SectionKind::Close)[4], ALL),
        scene("how-double", &toe_up, rows[12], HOW),
        scene("how-cast-on", &recipe, first(SectionKind::CastOn)[0], ALL),
        scene("how-bind-off", &toe_up, bind_off, ALL),
    ]
}

/// The needles at rest: checks, and the way to another round.
fn at_rest() -> Vec<Scene> {
    const CHANGE: &str = "document.querySelector('.entries a.entry').click()";
    const LONGER: &str =
        "document.querySelector(\"[aria-label^='One more: Rounds of the foot']\").click()";
    const DOWN: &str = "document.querySelector('.beside').scrollIntoView()";
    const OPEN: &str = "document.querySelector('.to-pause').click()";
    const FIRST: &str = "document.querySelectorAll('.entries .entry')[0].click()";
    const SECOND: &str = "document.querySelectorAll('.entries .entry')[1].click()";
    const LESS: &str = "document.querySelector('.stepper .button').click()";
    const ROUNDS: &str = "document.querySelectorAll('.entries .entry')[5].click()";
    const BACK: &str = "document.querySelector('.stops .stop').click()";
    const SHOWN: &str = "document.querySelector('.by-sight summary').click()";
    let recipe = usual();
    let plan = sock(&recipe);
    let gusset = find(&plan, |kind, _| kind == SectionKind::Gusset)[7];
    let leg = find(&plan, |kind, _| kind == SectionKind::Leg)[7];
    [
        ("pause", gusset, vec![OPEN]),
        ("change", gusset, vec![OPEN, CHANGE, LONGER]),
        ("change-plan", gusset, vec![OPEN, CHANGE, LONGER, DOWN]),
        ("count-right", gusset, vec![OPEN, FIRST]),
        ("count-less", gusset, vec![OPEN, FIRST, LESS]),
        ("count-far", gusset, vec![OPEN, FIRST, LESS, LESS, LESS]),
        ("lost-gusset", gusset, vec![OPEN, SECOND]),
        ("lost-leg", leg, vec![OPEN, SECOND]),
        ("lost-sight", gusset, vec![OPEN, SECOND, SHOWN]),
        ("around-back", gusset, vec![OPEN, ROUNDS, BACK]),
    ]
    .into_iter()
    .map(|(name, at, touches)| Scene {
        touches,
        ..now(name, &recipe, at)
    })
    .collect()
}

/// What is in a fold is made when it is first unfolded.
const MADE: &str =
    "document.querySelectorAll('details.fold').forEach((fold) => { fold.open = true; })";
/// Names for touches, and a form with nothing in it.
const AFRESH: &str = "
    document.querySelectorAll('details.fold').forEach((fold) => { fold.open = false; });
    window.press = (text) => [...document.querySelectorAll('.measure button')]
        .find((button) => button.textContent.trim().startsWith(text)).click();
    window.choose = (name, nth = 0) =>
        document.querySelectorAll(`input[name=${name}]`)[nth].click();
    window.write = (id, text) => {
        const line = document.getElementById(id);
        line.value = text;
        line.dispatchEvent(new Event('input', { bubbles: true }));
        line.dispatchEvent(new Event('blur'));
    };
    window.show = (css) => {
        let fold = document.querySelector(css).closest('details');
        while (fold) {
            fold.open = true;
            fold = fold.parentElement.closest('details');
        }
        document.querySelector(css).scrollIntoView();
    };
    press('Clear the form');";
/// A foot and a swatch.
const FILLED: &str = "
    for (const [id, text] of [['foot-length', '24'], ['swatch-stitches', '30'],
            ['swatch-width', '10'], ['swatch-rounds', '42'], ['swatch-height', '10']]) {
        write(id, text);
    }";
/// Choices that open more of the form.
const PATTERN: &str = "choose('patterned')";
const YARNS: &str = "choose('yarns', 2)";
const PLACE: &str = "press('Add a place')";

/// Measure with what not every sock has.
fn asked() -> Vec<Scene> {
    let scene = |name: &str, touches: &[&'static str]| Scene {
        path: "/measure",
        touches: [&[MADE, AFRESH, FILLED], touches].concat(),
        ..now(name, &usual(), Position::default())
    };
    let empty = |name: &str, touches: &[&'static str]| Scene {
        path: "/measure",
        touches: [&[MADE, AFRESH], touches].concat(),
        ..now(name, &usual(), Position::default())
    };
    vec![
        empty("measure-empty", &["scrollTo(0, 0)"]),
        empty("measure-empty-plan", &["show('#plan')"]),
        empty(
            "measure-empty-said",
            &["document.querySelector('.at-hand button').click()"],
        ),
        empty(
            "measure-guess",
            &[
                "write('foot-length', '24'); choose('gauge-by', 1)",
                "show('input[name=gauge-by]')",
            ],
        ),
        empty("measure-swatch", &["show('input[name=gauge-by]')"]),
        scene(
            "measure-shoe",
            &["write('shoe-size', '39½'); show('#shoe-scale')"],
        ),
        scene("measure-fit", &["choose('wide-toes'); show('#ease')"]),
        scene(
            "measure-toe",
            &["choose('toe', 5)", "show('input[name=first-foot]')"],
        ),
        scene(
            "measure-leg",
            &[
                PLACE,
                "write('girth-height-0', '12'); write('girth-round-0', '25'); write('leg', '36')",
                PLACE,
                "write('girth-height-1', '30'); write('girth-round-1', '37')",
                "show('.leg-drawing')",
            ],
        ),
        scene(
            "measure-leg-wrong",
            &[
                PLACE,
                "write('girth-height-0', '12'); write('girth-round-0', '99')",
                "show('#girth-height-0')",
            ],
        ),
        scene(
            "measure-yarns",
            &[YARNS, "press('Add a stripe')", "show('.strip')"],
        ),
        scene("measure-colours", &[YARNS, "show('#hue-A')"]),
        scene(
            "measure-chart",
            &[PATTERN, "press('Cable')", "show('.symbols')"],
        ),
        scene(
            "measure-chart-wrong",
            &[
                PATTERN,
                "press('Small lace')",
                "press('yo')",
                "document.querySelector('[data-round=\"1\"][data-cell=\"3\"]').click()",
                "show('.chart-grid')",
            ],
        ),
        scene(
            "measure-chart-wide",
            &[
                PATTERN,
                "press('cross left')",
                "write('chart-width', '24'); write('chart-height', '12')",
                "show('.chart-grid')",
            ],
        ),
        scene(
            "measure-large",
            &[
                PATTERN,
                "document.documentElement.style.fontSize = '200%'",
                "show('.symbols')",
            ],
        ),
    ]
}

/// The screen of a pattern of the knitter's own.
fn followed() -> Vec<Scene> {
    const EXAMPLE: &str = "[...document.querySelectorAll('.pattern-screen button')]
        .find((button) => button.textContent.includes('example')).click()";
    const MISPRINTS: &str = "const area = document.getElementById('pattern-text');
        area.value = area.value.replace('Sl1, p31', 'Sl1, p30').replace('k2tog, k1, sm', 'k2tgo, k1, sm');
        area.dispatchEvent(new Event('input', { bubbles: true }));
        return new Promise((done) => setTimeout(done, 900))";
    const CAST_ON: &str = "document.querySelector('.at-hand button').click()";
    const SHOW: &str = "document.querySelector('.found-in-pattern').scrollIntoView()";
    const PARTS: &str =
        "document.querySelector('input[name=ours-cuff]').closest('.step').scrollIntoView()";
    const PLAN: &str = "document.getElementById('plan').scrollIntoView()";
    let scene = |name: &str, touches: &[&'static str]| Scene {
        name: name.to_owned(),
        path: "/pattern",
        recipe: usual(),
        at: None,
        logs: None,
        touches: touches.to_vec(),
        left: false,
    };
    vec![
        scene("pattern-empty", &[]),
        scene("pattern-example", &[EXAMPLE]),
        scene("pattern-parts", &[EXAMPLE, PARTS]),
        scene("pattern-plan", &[EXAMPLE, PLAN]),
        scene("pattern-found", &[EXAMPLE, MISPRINTS, SHOW]),
        scene("pattern-now", &[EXAMPLE, CAST_ON]),
    ]
}

/// Everything that is mirrored for left-handed knitting.
fn left_handed() -> Vec<Scene> {
    use SectionKind::{CastOn, Close, Cuff, Gusset, Leg, PickUp, Toe};
    let recipe = Recipe {
        motif: Some(Motif {
            rows: ["p1 k4 p1", "p1 cl2/2 p1", "p1 k4 p1", "p1 k4 p1"]
                .iter()
                .map(|row| row.parse().expect("a round"))
                .collect(),
            place: MotifPlacement::Front,
            ..Motif::default()
        }),
        ..usual()
    };
    let plan = sock(&recipe);
    let at = |kind: SectionKind, nth: usize| find(&plan, |k, _| k == kind)[nth];
    let places = [
        ("left-cast-on", CastOn, 0),
        ("left-cuff", Cuff, 3),
        ("left-cables", Leg, 21),
        ("left-crossing-1", PickUp, 1),
        ("left-crossing-3", PickUp, 3),
        ("left-crossing-5", PickUp, 5),
        ("left-gusset", Gusset, 4),
        ("left-toe", Toe, 6),
        ("left-graft", Close, 4),
    ];
    let mut scenes: Vec<Scene> = places
        .into_iter()
        .map(|(name, kind, nth)| now(name, &recipe, at(kind, nth)))
        .collect();
    let elsewhere = [
        ("left-basket", "/", vec![]),
        ("left-map", "/map", vec![]),
        ("left-keep", "/keep", vec![]),
        ("left-plan", "/plan", vec![]),
        (
            "left-plan-chart",
            "/plan",
            vec!["document.querySelector('.plan-sheet .chart-picture').scrollIntoView()"],
        ),
    ];
    scenes.extend(elsewhere.into_iter().map(|(name, path, touches)| Scene {
        path,
        touches,
        ..now(name, &recipe, at(Gusset, 4))
    }));
    scenes.push(Scene {
        touches: vec!["document.querySelector('.lines .how').click()"],
        ..now("left-explained", &recipe, at(Gusset, 4))
    });
    scenes.extend(asked().into_iter().filter_map(|scene| {
        let chart = matches!(scene.name.as_str(), "measure-chart" | "measure-toe");
        let name = format!("left-{}", scene.name);
        chart.then_some(Scene { name, ..scene })
    }));
    for scene in &mut scenes {
        scene.left = true;
    }
    scenes
}

/// What the environment asks for by this name, or what is usual.
fn asked_for(name: &str, usual: &str) -> Vec<String> {
    let text = std::env::var(name).unwrap_or_else(|_| usual.to_owned());
    text.split(',').map(str::to_owned).collect()
}

/// Chooses left-handed knitting, as Settings keeps it.
const LEFT: &str = "
    const kept = JSON.parse(localStorage.getItem('evenloop:settings') ?? '{}');
    const style = { form: 'plain', reach: 'to-marker', hand: 'left' };
    localStorage.setItem('evenloop:settings', JSON.stringify({ ...kept, style }))";

/// Chooses larger letters, as Settings keeps it.
const LARGE: &str = "
    const kept = JSON.parse(localStorage.getItem('evenloop:settings') ?? '{}');
    localStorage.setItem('evenloop:settings', JSON.stringify({ ...kept, big_text: true }))";

async fn take(phone: &Phone, to: PathBuf) {
    fs::create_dir_all(to.parent().expect("a file lies in a folder"))
        .expect("a folder can be made");
    phone
        .browser()
        .screenshot(&to)
        .await
        .expect("the screen can be taken");
}

/// Waits for the fabric on the needles, which comes after the rest of the screen; not longer than five seconds.
async fn until_fabric_hangs(phone: &Phone) {
    for _ in 0..50 {
        let plain = "return document.querySelector('.now .needles .band:not(.knitted)') !== null";
        if phone.ask(plain).await != json!(true) {
            return;
        }
        sleep(Duration::from_millis(100)).await;
    }
}

/// Gives the window a size such as 360x740.
async fn resize(phone: &Phone, size: &str) {
    let (width, height) = size.split_once('x').expect("a size is 360x740");
    let [width, height] = [width, height].map(|side| side.parse().expect("a number of pixels"));
    room_on_now::resize(phone, (width, height)).await;
}

/// Whether pictures of this name are asked for by the arguments.
fn is_asked_for(name: &str) -> bool {
    let mut arguments = std::env::args().skip(1).peekable();
    arguments.peek().is_none()
        || arguments.any(|asked| match asked.strip_prefix('=') {
            Some(whole) => name == whole,
            None => name.contains(&asked),
        })
}

/// Lays out what a scene shows and opens its page.
async fn open(phone: &Phone, server: &Server, scene: &Scene, left: bool, large: bool) {
    if let Some(at) = scene.at {
        // Beside an open Now nothing else is to write what it knits by.
        phone.open(&server.url("/keep")).await;
        let begun = || [begun_at(at).to_vec(), Vec::new()];
        let [first, second] = scene.logs.clone().unwrap_or_else(begun);
        lay_out(phone, &sock(&scene.recipe), [&first, &second]).await;
    } else {
        // Now would store its pair again where it was emptied under it.
        phone.open(&server.url("/measure")).await;
        phone.forget().await;
        // That offline use is ready is no part of the picture.
        phone
            .ask("localStorage.setItem('evenloop:told', '1')")
            .await;
    }
    if scene.left || left {
        phone.ask(LEFT).await;
    }
    if large {
        phone.ask(LARGE).await;
    }
    if scene.at.is_some() && scene.path == "/" {
        // What a card says of a pair is written when the pair is opened.
        phone.open(&server.url("/now")).await;
    }
    phone.open(&server.url(scene.path)).await;
    for touch in &scene.touches {
        sleep(Duration::from_millis(120)).await;
        phone.ask(touch).await;
    }
}

#[tokio::main]
async fn main() {
    let server = Server::start();
    let scenes = [
        other_screens(),
        along_a_sock(),
        crossings(),
        others(),
        at_rest(),
        noted(),
        patterned(),
        two_at_a_time(),
        explained(),
        asked(),
        followed(),
        left_handed(),
    ]
    .concat();
    let sizes = asked_for("EVENLOOP_SIZES", SIZES);
    let themes = asked_for("EVENLOOP_THEMES", THEMES);
    let large = std::env::var_os("EVENLOOP_LARGE").is_some();
    let left = std::env::var_os("EVENLOOP_LEFT").is_some();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    for scene in scenes.iter().filter(|scene| is_asked_for(&scene.name)) {
        resize(&phone, &sizes[0]).await;
        open(&phone, &server, scene, left, large).await;
        for size in &sizes {
            resize(&phone, size).await;
            sleep(Duration::from_millis(250)).await;
            until_fabric_hangs(&phone).await;
            for theme in &themes {
                phone
                    .ask(&format!(
                        "document.documentElement.dataset.theme = '{theme}'"
                    ))
                    .await;
                sleep(Duration::from_millis(80)).await;
                let hand = if left { "-left" } else { "" };
                let letters = if large { "-large" } else { "" };
                let name = format!("{}-{size}-{theme}{letters}{hand}.png", scene.name);
                take(&phone, root().join("tests/out/pictures").join(name)).await;
                if size == "360x740"
                    && theme == "light"
                    && !large
                    && !left
                    && SHOWN.contains(&scene.name.as_str())
                {
                    let name = format!("{}.png", scene.name);
                    take(&phone, root().join("tests/pictures").join(name)).await;
                }
            }
        }
        if scene.name == "practice" {
            // The tiny sock is in hand now, and nothing else is to be laid over it.
            phone.open(&server.url("/measure")).await;
            phone.forget().await;
        }
        if scene.at.is_none() || scene.name == "practice" {
            cast_on(&phone, &server).await;
        }
    }
}
