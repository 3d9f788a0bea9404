//! The two copies of what is stored, in a simulated browser that fails: thousands of histories of kills,
//! lost connections, questions answered late or never, full and wiped stores, second windows and pages kept for the
//! way back, played by `simulation/copies.mjs` with the script that the page really loads.
//!
//! `EVENLOOP_HISTORIES=20000` plays so many; a history that loses a touch is told by its seed.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

const SCRIPT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../public/echo.js");
const SIMULATION: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/simulation/copies.mjs");

fn play(script: &Path, histories: [&str; 2]) -> Output {
    let out = Command::new("node")
        .arg(SIMULATION)
        .arg(script)
        .args(histories)
        .output()
        .expect("node is installed");
    println!("{}", String::from_utf8_lossy(&out.stdout));
    out
}

#[test]
fn no_history_loses_a_touch_or_brings_back_what_was_taken_away() {
    let histories = std::env::var("EVENLOOP_HISTORIES");
    let histories = histories.map_or(8_000, |text| text.parse().expect("a number"));
    // Half of them beside the other half.
    let half: u64 = histories / 2;
    let halves = [[half, 1], [histories - half, half + 1]];
    std::thread::scope(|scope| {
        let halves = halves.map(|half| {
            scope.spawn(move || {
                let [histories, first] = half.map(|number| number.to_string());
                play(Path::new(SCRIPT), [&histories, &first])
            })
        });
        for half in halves {
            let out = half.join().expect("it is played");
            assert!(
                out.status.success(),
                "{}",
                String::from_utf8_lossy(&out.stderr)
            );
        }
    });
}

/// A script without one of its guards, which the simulation has to notice.
fn is_noticed(guard: &str, without: &str) {
    is_noticed_in(["1000", "1"], guard, without);
}

/// The same where it takes a rare history: so many from a seed, or one by its steps.
fn is_noticed_in(histories: [&str; 2], guard: &str, without: &str) {
    let script = fs::read_to_string(SCRIPT).expect("the script");
    assert_eq!(script.matches(guard).count(), 1, "{guard}");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("echo.js");
    fs::write(&path, script.replace(guard, without)).expect("a script");
    let out = play(&path, histories);
    let said = String::from_utf8_lossy(&out.stdout);
    assert!(said.contains("shortest, seed"), "{without} is not noticed");
}

#[test]
fn putting_back_what_is_older_is_noticed() {
    is_noticed(
        "  } else if (version > mine) {\n    if (apart)",
        "  } else if (version) {\n    if (apart)",
    );
}

#[test]
fn forgetting_what_waits_because_another_window_went_on_is_noticed() {
    // on to another page, a full store, a touch, back, two touches in the window that knows of none of it
    let steps =
        "3881638365,2809947867,837472940,2190102657,2095595802,3147354599,531583437,2274589050";
    is_noticed_in(
        ["steps", steps],
        "if (number >= WAITS && version <= mine) {",
        "if (false) {",
    );
}

#[test]
fn putting_a_text_over_one_that_waits_is_noticed() {
    // two windows, a full store, a touch in one of them, room again, a touch in the other, a kill
    let steps = "34904786,3257757962,1088501810,3293648553,343824875,3551334999";
    is_noticed_in(
        ["steps", steps],
        "if (apart && (unseen",
        "if (false && (unseen",
    );
}

#[test]
fn a_second_copy_that_is_never_made_whole_is_noticed() {
    is_noticed(
        "    unconfirmed.set(key, { key, sent: false });\n    found = true;",
        "    found = true;",
    );
}

#[test]
fn going_on_before_the_answer_from_an_older_text_is_noticed() {
    is_noticed(
        "} else if (version > (begun.get(entry.key) ?? versionOf(entry.key))) {",
        "} else if (false) {",
    );
}

#[test]
fn dropping_an_answer_that_comes_late_is_noticed() {
    is_noticed(
        "if (!mended || emptied()) mend(found, number);",
        "if (!mended && unconfirmed.size === 0) mend(found, number);",
    );
}

#[test]
fn going_by_versions_alone_is_noticed() {
    // a text of which no version was told
    is_noticed(
        "const here = localStorage.getItem(key);\n  const mine = versionOf(key);\n  const logs",
        "const mine = versionOf(key);\n  if (version === mine) return true;\n  const here = localStorage.getItem(key);\n  const logs",
    );
}

#[test]
fn putting_back_a_log_over_one_that_goes_on_from_it_is_noticed() {
    is_noticed(
        "if (apart || (logs && goesOn(text, here))) tellAgain(key, version);\n    else restore",
        "restore",
    );
}

#[test]
fn putting_a_log_over_another_that_it_does_not_go_on_from_is_noticed() {
    // a kill, a full store, touches before the answer, another page, and localStorage is emptied after a touch
    let steps = "2926141289,2187980314,133977314,2949211599,657862925,1503456638,2950840795,568545894,1423861508,11948793929";
    is_noticed_in(
        ["steps", steps],
        "(unseen || (isLog(said) && isLog(text)))",
        "unseen",
    );
}

#[test]
fn saying_how_far_an_emptied_store_is_known_is_noticed() {
    is_noticed(
        "if (emptied()) putBack().catch(disconnect);\n  else note",
        "note",
    );
}

#[test]
fn leaving_a_single_lost_text_lost_is_noticed() {
    is_noticed("(here === null && version === mine) ||", "");
}

#[test]
fn taking_an_emptied_store_for_one_that_lost_nothing_is_noticed() {
    is_noticed("return numbered && number === 0;", "return false;");
}

#[test]
fn keeping_what_found_no_room_from_an_emptied_store_is_noticed() {
    is_noticed("if (cleared) unstored.clear();", "");
}

#[test]
fn taking_versions_from_before_a_store_was_emptied_is_noticed() {
    is_noticed_in(
        ["200", "1000"],
        "Math.min(before, begun.get(key) ?? before)",
        "begun.get(key) ?? before",
    );
}

#[test]
fn telling_each_text_of_an_operation_by_itself_is_noticed() {
    is_noticed("queueMicrotask(tell);", "asked = false; tell();");
}

#[test]
fn taking_an_aborted_transaction_for_done_is_noticed() {
    is_noticed(
        "begin(base, 'readwrite', done, () => lose(batch))",
        "begin(base, 'readwrite', done, disconnect)",
    );
}

#[test]
fn waiting_for_an_answer_for_ever_is_noticed() {
    is_noticed("    giveUp();", "    waits = true;");
}

#[test]
fn keeping_a_connection_that_was_given_up_is_noticed() {
    // no answer at all, on to another page, a rest, and IndexedDB is back
    let steps = "1433825597,1912291123,1853623235,2661506504,2935111067";
    is_noticed_in(["steps", steps], "else asked.result.close();", "");
}

#[test]
fn leaving_transactions_to_a_page_that_runs_no_more_is_noticed() {
    is_noticed("for (const transaction of running) abort(transaction);", "");
}
