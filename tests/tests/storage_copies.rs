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

/// Histories in which a script of before once lost something, each by its steps.
const ONCE_LOST: [&str; 5] = [
    // planned anew; a full store and two touches before the answer; all is cleared while another waits, and a kill
    "26383911992,3653794662,672409138,10818544457,2924993200",
    // planned anew; all is cleared while a touch waits, and the copies are compared
    "27989115777,37897520273",
    // a touch, a full store and another; all is cleared, not even a number finds room, and a touch comes
    "1162843079,1759535536,1657380194,9836738594,1333379916",
    // planned anew twice; all is cleared on a full store, and two texts of one key are set aside in one transaction
    "31738409990,36180402646",
    // planned anew; a full store, and all is cleared while a touch waits; touches that still find no room, and a kill
    "26499634867,759287416,8968489069,1869659129,2411133549",
];

#[test]
fn histories_in_which_something_was_lost_once_lose_nothing() {
    for steps in ONCE_LOST {
        let out = play(Path::new(SCRIPT), ["steps", steps]);
        assert!(out.status.success(), "{steps}");
    }
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
        "  } else if (version > mine) {\n    if (logs",
        "  } else if (version) {\n    if (logs",
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
fn putting_what_waits_over_what_another_window_had_room_for_is_noticed() {
    // a kill, a full store and a touch before the answer, a touch in another window, two more, and a kill
    is_noticed_in(
        [
            "steps",
            "3350708017,1602241186,1108464686,1586175180,62486643,37615201021",
        ],
        "if (one.held && apart && text !== null) {",
        "if (false) {",
    );
}

#[test]
fn forgetting_what_waits_when_the_same_window_goes_on_without_it_is_noticed() {
    // a full store, a second window, no connection, a touch, room again, and two touches
    is_noticed_in(
        [
            "steps",
            "3836310607,1377243097,3536488005,652875892,3418075828,890200651,1527261241,3697942824",
        ],
        "if (held !== null && text && !saysAll(text, held))",
        "if (false)",
    );
}

#[test]
fn forgetting_the_rest_of_what_was_withheld_is_noticed() {
    // planned anew and killed; a full store, and touches before the answer; room again, a touch, and a kill
    is_noticed_in(
        ["steps", "27448010973,1831882705,557773439"],
        "if (withheld.size > 0) setWithheldAside(key);",
        "",
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
        "} else if (number === 0 || entry.version > before(entry.key)) {",
        "} else if (false) {",
    );
}

#[test]
fn a_plan_put_back_under_a_log_that_went_on_without_it_is_noticed() {
    is_noticed("if (!here || !there) return false;", "return false;");
}

/// What either store still knows of a text that was taken away so many days ago.
fn known_of_what_was_taken_away(days: &str, more: &[&str]) -> String {
    let out = Command::new("node")
        .args([SIMULATION, SCRIPT, "taken", days])
        .args(more)
        .output()
        .expect("node is installed");
    String::from_utf8_lossy(&out.stdout).trim().to_owned()
}

#[test]
fn what_was_taken_away_is_remembered_for_thirty_days_and_then_forgotten_by_both_copies() {
    for lost in [&[][..], &["lost"]] {
        let known = |days| known_of_what_was_taken_away(days, lost);
        assert_eq!(known("29"), "known: a version, an entry");
        assert_eq!(known("31"), "known:");
    }
}

#[test]
fn what_is_stored_anew_while_the_copies_are_compared_is_not_forgotten() {
    for days in ["29", "31"] {
        assert_eq!(
            known_of_what_was_taken_away(days, &["anew"]),
            "known: a text, a version, an entry"
        );
    }
}

/// What becomes of a planned pair whose local storage is emptied while a touch waits for room, and with a script that
/// lacks one of its guards.
fn emptied_while_a_touch_waits(more: &[&str], guard: Option<[&str; 2]>) -> String {
    let mut script = fs::read_to_string(SCRIPT).expect("the script");
    if let Some([guard, without]) = guard {
        assert_eq!(script.matches(guard).count(), 1, "{guard}");
        script = script.replace(guard, without);
    }
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("echo.js");
    fs::write(&path, script).expect("a script");
    let out = Command::new("node")
        .arg(SIMULATION)
        .arg(&path)
        .arg("emptied")
        .args(more)
        .output()
        .expect("node is installed");
    String::from_utf8_lossy(&out.stdout).trim().to_owned()
}

#[test]
fn a_touch_that_waits_goes_on_under_its_plan_where_all_is_emptied() {
    let whole = "1,2,3 by plan 1, set aside:";
    assert_eq!(emptied_while_a_touch_waits(&[], None), whole);
    let guards = [
        [" && !isMissing(key));", ");"],
        [
            "} else if (cleared && goesOnFrom(entry)) {",
            "} else if (false) {",
        ],
    ];
    for guard in guards {
        assert_ne!(emptied_while_a_touch_waits(&[], Some(guard)), whole);
    }
}

#[test]
fn a_touch_that_waits_beside_another_window_s_is_set_aside_where_all_is_emptied() {
    let whole = "1,3 by plan 1, set aside: 1,2";
    assert_eq!(emptied_while_a_touch_waits(&["apart"], None), whole);
    let guard = [
        "OF_PLAN.test(key) && text !== null && isMissing(key)",
        "false",
    ];
    assert_ne!(emptied_while_a_touch_waits(&["apart"], Some(guard)), whole);
}

#[test]
fn comparing_over_what_waits_since_another_slice_is_noticed() {
    // a touch; the copies are compared, the store is full, and a touch comes while a pair is being read
    is_noticed_in(
        ["steps", "1955566712,38253916044"],
        "the second copy is about to hear of it.\n    if (unconfirmed.has(key)) continue;",
        "the second copy is about to hear of it.",
    );
}

#[test]
fn going_on_without_what_another_window_has_told_since_is_noticed() {
    // two windows and a full store: one goes on without the other's text while that one tells more of it
    is_noticed_in(
        [
            "steps",
            "3829138092,4096443295,2186288903,2860567278,1885002033,1177114133,1966012790,4141536903",
        ],
        "const without = overtaken.has(one.key) && !one.gone;",
        "const without = false;",
    );
}

#[test]
fn telling_a_log_without_the_plan_of_another_window_is_noticed() {
    // two windows: one tells a log with the other's new plan before that one has told the plan, and a kill
    is_noticed_in(
        ["steps", "35007745690"],
        "for (const key of plansUnder(batch)) {",
        "for (const key of []) {",
    );
}

#[test]
fn comparing_the_first_slice_alone_is_noticed() {
    is_noticed(
        "    tell();\n  }\n  same = !found;",
        "    tell();\n    break;\n  }\n  same = !found;",
    );
}

#[test]
fn overlooking_that_a_store_is_emptied_before_the_first_slice_is_noticed() {
    // planned anew; all is cleared before the copies are compared, and planned anew once more
    is_noticed_in(
        ["steps", "32517826827,34706727085"],
        "  numbered = known() > 0;\n",
        "  numbered = false;\n",
    );
}

#[test]
fn dropping_an_answer_that_comes_late_is_noticed() {
    is_noticed(
        "if (!mended || emptied()) mend(found, emptied() ? 0 : number);",
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
    // two touches, and writes that reach the disk in any order
    is_noticed_in(
        ["steps", "3798308368,4043247089,23442814082"],
        "if (logs && saysAll(here, text)) tellAgain(key, version);\n    else restore",
        "restore",
    );
}

#[test]
fn saying_how_far_an_emptied_store_is_known_is_noticed() {
    // a touch whose version was lost, another before an answer that takes a while, and all is cleared
    is_noticed_in(
        ["steps", "8531590136,161210002,4232034101,11657433862"],
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
    is_noticed("    unstored.clear();\n", "");
}

#[test]
fn forgetting_the_version_of_what_still_waits_is_noticed() {
    // a touch, a full store and another; all is cleared, not even a number finds room, and a touch comes
    is_noticed_in(
        [
            "steps",
            "1162843079,1759535536,1657380194,9836738594,1333379916",
        ],
        "if (held) unstored.set(key, held.version);",
        ";",
    );
}

#[test]
fn setting_two_texts_aside_under_one_key_is_noticed() {
    is_noticed_in(
        ["steps", "31738409990,36180402646"],
        "beside.set(free, text);",
        "",
    );
}

#[test]
fn setting_a_plan_aside_without_the_log_that_waits_is_noticed() {
    is_noticed_in(
        [
            "steps",
            "26499634867,759287416,8968489069,1869659129,2411133549",
        ],
        "if (started) withheld.set(key, text);\n    return;",
        "return;",
    );
}

#[test]
fn leaving_what_waits_where_the_app_passes_over_it_is_noticed() {
    // planned anew; all is cleared while a touch waits, and the copies are compared
    is_noticed_in(
        ["steps", "27989115777,37897520273"],
        "} else if (cleared && goesOnFrom(entry)) {",
        "} else if (false) {",
    );
}

#[test]
fn telling_what_an_emptied_store_holds_before_all_is_back_is_noticed() {
    // an operation in a hidden page, a silence, and all is cleared
    is_noticed_in(
        ["steps", "3647853040,1259474934,3826914912,11465247270"],
        "if (emptied()) {\n    // Versions have",
        "if (false) {\n    // Versions have",
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
