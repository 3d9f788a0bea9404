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
use evenloop_engine::recipe::{Heel, Method, Recipe, Seating};
use evenloop_engine::trace::Position;
use evenloop_engine::units::Length;
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

fn scenes() -> Vec<Scene> {
    let usual = Recipe {
        stitches: Some(64),
        ..Recipe::default()
    };
    let mut out: Vec<Scene> = [
        ("basket", "/"),
        ("measure", "/measure"),
        ("map", "/map"),
        ("keep", "/keep"),
    ]
    .into_iter()
    .map(|(name, path)| {
        let plan = make(&usual).expect("a sock");
        let at = find(&plan, |kind, _| kind == SectionKind::Gusset)
            .get(6)
            .copied();
        Scene {
            name: name.to_owned(),
            path,
            recipe: usual.clone(),
            at,
        }
    })
    .collect();
    let mut now = |name: String, recipe: &Recipe, at: Position| {
        out.push(Scene {
            name,
            path: "/now",
            recipe: recipe.clone(),
            at: Some(at),
        });
    };
    let plan = make(&usual).expect("a sock");
    let nth = |kind: SectionKind, n: usize| find(&plan, |k, _| k == kind).get(n).copied();
    for (name, at) in [
        ("cast-on", nth(SectionKind::CastOn, 0)),
        ("cuff", nth(SectionKind::Cuff, 3)),
        ("leg", nth(SectionKind::Leg, 20)),
        ("flap-first", nth(SectionKind::HeelFlap, 0)),
        ("flap", nth(SectionKind::HeelFlap, 11)),
        ("turn", nth(SectionKind::HeelTurn, 4)),
        ("gusset", nth(SectionKind::Gusset, 4)),
        ("toe", nth(SectionKind::Toe, 10)),
        ("reach", nth(SectionKind::Close, 0)),
        ("seat", nth(SectionKind::Close, 1)),
        ("graft", nth(SectionKind::Close, 4)),
        (
            "finished",
            Some(Position {
                step: plan.sections.iter().map(|s| s.steps.len()).sum(),
                mv: 0,
            }),
        ),
    ] {
        now(name.to_owned(), &usual, at.expect("every sock has it"));
    }
    let toe_up = Recipe {
        direction: evenloop_engine::recipe::Direction::ToeUp,
        heel: Heel::ShortRow { between: 0 },
        ..usual.clone()
    };
    let short = make(&toe_up).expect("a sock");
    let rows = find(&short, |k, _| k == SectionKind::ShortHeel);
    now("short-row".to_owned(), &toe_up, rows[12]);
    now("short-row-out".to_owned(), &toe_up, rows[32]);
    for (name, needles) in [
        (
            "crossing",
            Method::MagicLoop {
                seating: Seating::EvenHalves,
            },
        ),
        (
            "crossing-apart",
            Method::MagicLoop {
                seating: Seating::InstepAndSole,
            },
        ),
        ("crossing-four", Method::FourDpns),
        ("crossing-five", Method::FiveDpns),
        ("crossing-short", Method::ShortCircular),
    ] {
        let recipe = Recipe {
            needles,
            ..usual.clone()
        };
        let plan = make(&recipe).expect("a sock");
        for (i, at) in find(&plan, |k, _| k == SectionKind::PickUp)
            .into_iter()
            .enumerate()
        {
            now(format!("{name}-{}", i + 1), &recipe, at);
        }
        let gusset = find(&plan, |k, _| k == SectionKind::Gusset)[6];
        now(format!("{name}-gusset"), &recipe, gusset);
    }
    let child = Recipe {
        foot: evenloop_engine::foot::Foot {
            length: Length::cm(9),
            ..usual.foot
        },
        ..Recipe::default()
    };
    out.push(Scene {
        name: "empty".to_owned(),
        path: "/now",
        recipe: child.clone(),
        at: None,
    });
    out.push(Scene {
        name: "empty-basket".to_owned(),
        path: "/",
        recipe: child,
        at: None,
    });
    out
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
    for (width, height) in SIZES {
        let phone = Phone::with_size(width, height).await;
        cast_on(&phone, &server).await;
        for scene in scenes() {
            if !scene.name.contains(&only) {
                continue;
            }
            lay_out(&phone, &scene).await;
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
