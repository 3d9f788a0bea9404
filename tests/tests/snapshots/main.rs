//! Every instruction of one whole sock of each construction, as it is read: kept as text files in
//! `tests/snapshots`, so that a changed word is seen and read by a person before it is kept.
//!
//! Renewed only when asked: `EVENLOOP_RENEW=1 cargo test --release -p evenloop-tests --test
//! snapshots`, and then read what `git diff tests/snapshots` shows.

mod page;
mod socks;

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use evenloop_engine::recipe::{
    BindOff, CastOn, Direction, Edge, FlapTexture, Heel, HeelOpening, HeelTurn, Method,
    MotifPlacement, Recipe, Rib, RoundsBy, Toe, ToeCastOn,
};
use similar::{ChangeTag, TextDiff};
use socks::{Sock, socks};

/// Set, it rewrites the files instead of comparing.
const RENEW: &str = "EVENLOOP_RENEW";

const HOW_TO_RENEW: &str = "Read each changed line as a knitter would. If all are right:\n    \
     EVENLOOP_RENEW=1 cargo test --release -p evenloop-tests --test snapshots";

fn folder() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("snapshots")
}

fn renewing() -> bool {
    std::env::var_os(RENEW).is_some()
}

#[test]
fn every_instruction_is_as_it_was_last_read() {
    let mut wrong = Vec::new();
    for sock in socks() {
        let path = folder().join(sock.file());
        let now = page::of(&sock);
        if renewing() {
            fs::create_dir_all(folder()).expect("the folder can be made");
            fs::write(&path, now).expect("the file can be written");
            continue;
        }
        match fs::read_to_string(&path) {
            Ok(kept) if kept == now => {}
            Ok(kept) => wrong.push(difference(&sock, &kept, &now)),
            Err(why) => wrong.push(format!("{}: {why}", sock.file())),
        }
    }
    assert!(
        wrong.is_empty(),
        "instructions have changed:\n\n{}\n{HOW_TO_RENEW}",
        wrong.join("\n")
    );
}

/// What is gone and what has come, with the line before for its place.
fn difference(sock: &Sock, kept: &str, now: &str) -> String {
    let diff = TextDiff::from_lines(kept, now);
    let mut text = format!("{}\n", sock.file());
    for group in diff.grouped_ops(1) {
        for op in group {
            for change in diff.iter_changes(&op) {
                let sign = match change.tag() {
                    ChangeTag::Delete => '-',
                    ChangeTag::Insert => '+',
                    ChangeTag::Equal => ' ',
                };
                text.push(sign);
                text.push_str(change.value());
            }
        }
        text.push_str(" ...\n");
    }
    text
}

/// A file without a sock would never be compared again.
#[test]
fn every_file_has_its_sock() {
    let known: BTreeSet<String> = socks().iter().map(Sock::file).collect();
    assert_eq!(known.len(), socks().len(), "two socks share a name");
    let mut strange = Vec::new();
    for entry in fs::read_dir(folder()).expect("the folder is there") {
        let name = entry.expect("the folder can be read").file_name();
        let name = name.to_string_lossy().into_owned();
        if !known.contains(&name) {
            strange.push(name);
        }
    }
    assert!(
        strange.is_empty(),
        "no sock is called so (delete the file or add the sock): {strange:?}"
    );
}

/// Every choice is in some sock. A new one wants a line in `socks.rs`.
#[test]
fn every_choice_is_in_some_sock() {
    let recipes: Vec<_> = socks().into_iter().map(|sock| sock.recipe).collect();
    for needles in Method::ALL {
        for direction in [Direction::CuffDown, Direction::ToeUp] {
            // Every method and seating either way: their crossings are worded differently.
            assert!(
                recipes
                    .iter()
                    .any(|r| r.needles == needles && r.direction == direction),
                "{needles:?} {direction:?}"
            );
        }
    }
    for edge in Edge::ALL {
        assert!(recipes.iter().any(|r| r.cuff.edge == edge), "{edge:?}");
    }
    for toe in Toe::ALL {
        assert!(recipes.iter().any(|r| r.toe == toe), "{toe:?}");
    }
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        let heels: Vec<Heel> = recipes
            .iter()
            .filter(|r| r.direction == direction)
            .map(|r| r.heel)
            .collect();
        let has = |wanted: &dyn Fn(&Heel) -> bool| heels.iter().any(wanted);
        for wanted in HeelOpening::ALL {
            assert!(
                has(&|h| *h == Heel::Afterthought { opening: wanted }),
                "{wanted:?} {direction:?}"
            );
        }
        assert!(has(&|h| *h == Heel::ShortRow { between: 0 }));
        assert!(has(
            &|h| matches!(h, Heel::ShortRow { between } if *between > 0)
        ));
        for wanted in FlapTexture::ALL {
            assert!(
                has(&|h| matches!(h, Heel::FlapAndGusset { texture, .. } if *texture == wanted)),
                "{wanted:?} {direction:?}"
            );
        }
    }
    for place in [MotifPlacement::AllRound, MotifPlacement::Front] {
        let here = |r: &Recipe| r.motif.as_ref().is_some_and(|m| m.place == place);
        assert!(recipes.iter().any(here), "{place:?}");
    }
    let motifs = || recipes.iter().filter_map(|r| r.motif.as_ref());
    assert!(motifs().any(|m| m.balance > 0) && motifs().any(|m| m.edge > 0));
    assert!(motifs().any(|m| m.rounds_by != RoundsBy::default()));
    assert!(recipes.iter().any(|r| r.swatch.pattern_rounds.is_some()));
    assert!(recipes.iter().any(|r| r.fit.tender_legs));
    assert!(recipes.iter().any(|r| r.yarns.is_some()));
    for cast_on in CastOn::ALL {
        let here = |r: &Recipe| r.direction == Direction::CuffDown && r.cast_on == cast_on;
        assert!(recipes.iter().any(here), "{cast_on:?}");
    }
    for picot in [false, true] {
        let hem = Edge::Hem { picot };
        let sewn = |r: &Recipe| r.direction == Direction::ToeUp && r.cuff.edge == hem;
        assert!(recipes.iter().any(sewn), "{hem:?} from the toe up");
    }
    for direction in [Direction::CuffDown, Direction::ToeUp] {
        for rib in [Rib::OneByOne, Rib::TwoByTwo, Rib::Twisted] {
            let tubular = |r: &Recipe| r.direction == direction && r.tubular_rib() == Some(rib);
            assert!(recipes.iter().any(tubular), "{rib:?} {direction:?}");
        }
    }
    for cast_on in ToeCastOn::ALL {
        assert!(
            recipes
                .iter()
                .any(|r| r.direction == Direction::ToeUp && r.toe_cast_on == cast_on),
            "{cast_on:?}"
        );
    }
    for bind_off in BindOff::ALL {
        let here =
            |r: &Recipe| r.direction == Direction::ToeUp && !r.sews_hem() && r.bind_off == bind_off;
        assert!(recipes.iter().any(here), "{bind_off:?}");
    }
    for wanted in HeelTurn::ALL {
        assert!(
            recipes.iter().any(|r| r.direction == Direction::CuffDown
                && matches!(r.heel, Heel::FlapAndGusset { turn, .. } if turn == wanted)),
            "{wanted:?}"
        );
    }
}
