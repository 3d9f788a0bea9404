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
    let histories = histories.as_deref().unwrap_or("4000");
    let out = play(Path::new(SCRIPT), [histories, "1"]);
    assert!(
        out.status.success(),
        "{}",
        String::from_utf8_lossy(&out.stderr)
    );
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
    // a full store, a touch, a connection that is lost, room again, a touch that reaches the disk
    let steps = "366779098,224889587,1749996468,117906951,2725299866,3900101652,2080335526";
    is_noticed_in(
        ["steps", steps],
        "if (version > versionOf(entry.key)) restore",
        "if (version) restore",
    );
}

#[test]
fn forgetting_what_waits_because_another_window_went_on_is_noticed() {
    is_noticed_in(
        ["1000", "1001"],
        "else if (entry.number >= WAITS && localStorage",
        "else if (false && localStorage",
    );
}

#[test]
fn putting_a_text_over_one_that_waits_is_noticed() {
    // two windows, a full store, a touch in one of them, room again, a touch in the other, a kill
    let steps = "34904786,3257757962,1088501810,3293648553,343824875,3551334999";
    is_noticed_in(
        ["steps", steps],
        "if (apart && (there",
        "if (false && (there",
    );
}

#[test]
fn putting_what_waits_over_what_had_room_is_noticed() {
    // the same with a connection that is lost before the first touch, and a look at the second copy
    let steps = "2669858332,2681694447,1530445124,596103686,2814253191,3950845975,3515507998";
    is_noticed_in(["steps", steps], "if (one.held && apart) {", "if (false) {");
}

#[test]
fn a_second_copy_that_is_never_made_whole_is_noticed() {
    is_noticed(
        "if (there === undefined || there < version) unconfirmed",
        "if (there !== undefined && there < version) unconfirmed",
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
        "if (!mended) mend(found, number);",
        "if (!mended && unconfirmed.size === 0) mend(found, number);",
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
    is_noticed("else asked.result.close();", "");
}

#[test]
fn leaving_transactions_to_a_page_that_runs_no_more_is_noticed() {
    is_noticed("for (const transaction of running) abort(transaction);", "");
}
