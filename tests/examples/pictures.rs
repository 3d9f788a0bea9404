//! Takes pictures of every screen in many states, at two phone sizes and in both themes, into
//! `tests/out/pictures`; and the few that the README shows into `tests/pictures`.
//!
//! Run it with `cargo run --release -p evenloop-tests --example pictures` after `server/build`.
//! With a name as argument only pictures whose name holds it are taken.

#![allow(
    clippy::expect_used,
    reason = "a picture that cannot be taken stops the script"
)]

use std::fs;
use std::path::PathBuf;

use evenloop_engine::journal::{Event, write_chunk};
use evenloop_engine::plan::{Cue, Plan, SectionKind, make};
use evenloop_engine::recipe::{Direction, Heel, Method, Recipe, Seating};
use evenloop_engine::trace::Position;
use evenloop_engine::wire::write_plan;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::{Server, root};

const SIZES: [(u32, u32); 2] = [(360, 740), (412, 915)];
const THEMES: [&str; 2] = ["light", "dark"];
/// What the README shows, all at 360 x 740 in the light theme.
const SHOWN: [&str; 5] = ["measure", "leg", "crossing-5", "gusset", "map"];
/// 2026-11-25 08:00 UTC: pictures must not change with the day they are taken on.
const THEN: u64 = 1_795_593_600;

/// A sock and a place in it.
#[derive(Clone)]
struct Scene {
    name: String,
    path: &'static str,
    recipe: Recipe,
    at: Option<Position>,
}

/// The step where a section begins, and the moves of a cue.
fn find(plan: &Plan, wanted: impl Fn(SectionKind, Cue) -> bool) -> Vec<Position> {
    let mut step = 0;
    let mut out = Vec::new();
    for section in &plan.sections {
        for one in &section.steps {
            for (mv, done) in one.moves.iter().enumerate() {
                if wanted(section.kind, done.cue) {
                    out.push(Position { step, mv });
                }
            }
            step += 1;
        }
    }
    out
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
    ]
    .into_iter()
    .map(|(name, path)| Scene {
        name: name.to_owned(),
        path,
        recipe: usual(),
        at,
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
        ("graft", Close, 4),
    ];
    let mut out: Vec<Scene> = places
        .into_iter()
        .map(|(name, kind, nth)| now(name, &recipe, find(&plan, |k, _| k == kind)[nth]))
        .collect();
    let step = plan.sections.iter().map(|s| s.steps.len()).sum();
    out.push(now("finished", &recipe, Position { step, mv: 0 }));
    out
}

/// The gusset pick-up of each needle method, move by move, and a gusset round.
fn crossings() -> Vec<Scene> {
    let apart = Seating::InstepAndSole;
    let methods = [
        ("crossing", Method::default()),
        ("crossing-apart", Method::MagicLoop { seating: apart }),
        ("crossing-four", Method::FourDpns),
        ("crossing-five", Method::FiveDpns),
        ("crossing-short", Method::ShortCircular),
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
    };
    vec![
        now("short-row", &toe_up, rows[12]),
        now("short-row-out", &toe_up, rows[32]),
        nothing("empty", "/now"),
        nothing("empty-basket", "/"),
    ]
}

/// Lays a pair on the phone as the app stores it, at a place.
async fn lay_out(phone: &Phone, scene: &Scene) {
    let Some(at) = scene.at else {
        phone.ask("localStorage.clear()").await;
        return;
    };
    let plan = make(&scene.recipe).expect("a sock");
    let log = write_chunk(0, &[Event::Begin(THEN), Event::GoTo(THEN + 60, at)]);
    let entries = serde_json::json!({
        "evenloop:pair:p1:plan": write_plan(&plan),
        "evenloop:pair:p1:log:1:0": log,
        // the note about storage has been read
        "evenloop:told": "1",
    });
    let script = format!(
        "const head = Object.entries(localStorage).find(([key]) => key.endsWith(':head'));
         const id = head[0].split(':')[2];
         for (const [key, value] of Object.entries({entries}))
             localStorage.setItem(key.replace('p1', id), value);"
    );
    phone.ask(&script).await;
}

/// Casts on once, so that the pair is stored as the app stores it.
async fn cast_on(phone: &Phone, server: &Server) {
    phone.open(&server.url("/measure")).await;
    phone.ask("localStorage.clear()").await;
    phone.reload().await;
    phone.tap(".at-hand button").await;
    phone
        .until(
            "casting on leads to Now",
            "return location.pathname === '/now'",
        )
        .await;
    phone.find(".pad").await;
}

async fn take(phone: &Phone, to: PathBuf) {
    fs::create_dir_all(to.parent().expect("a file lies in a folder"))
        .expect("a folder can be made");
    phone
        .browser()
        .screenshot(&to)
        .await
        .expect("the screen can be taken");
}

#[tokio::main]
async fn main() {
    let only = std::env::args().nth(1).unwrap_or_default();
    let server = Server::start();
    let scenes = [other_screens(), along_a_sock(), crossings(), others()].concat();
    for (width, height) in SIZES {
        let phone = Phone::with_size(width, height).await;
        cast_on(&phone, &server).await;
        for scene in scenes.iter().filter(|scene| scene.name.contains(&only)) {
            lay_out(&phone, scene).await;
            phone.open(&server.url(scene.path)).await;
            tokio::time::sleep(std::time::Duration::from_millis(250)).await;
            for theme in THEMES {
                phone
                    .ask(&format!(
                        "document.documentElement.dataset.theme = '{theme}'"
                    ))
                    .await;
                tokio::time::sleep(std::time::Duration::from_millis(80)).await;
                let name = format!("{}-{width}-{theme}.png", scene.name);
                take(&phone, root().join("tests/out/pictures").join(name)).await;
                if (width, theme) == (360, "light") && SHOWN.contains(&scene.name.as_str()) {
                    take(
                        &phone,
                        root()
                            .join("tests/pictures")
                            .join(format!("{}.png", scene.name)),
                    )
                    .await;
                }
            }
            if scene.at.is_none() {
                cast_on(&phone, &server).await;
            }
        }
    }
}
