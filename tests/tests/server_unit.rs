//! `server/evenloop.service`: the program starts and serves within the unit's limits on a machine with many
//! processors, whose threads come to the most there ever are.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt as _;
use std::process::Command;

use evenloop_tests::flood::overload;
use evenloop_tests::server::{Server, command, root};
use evenloop_tests::site::{copy, packed};

const RECIPE: &str = r#"{
    "foot": { "length": 2400 },
    "swatch": { "stitches": 30, "width": 1000, "rounds": 42, "height": 1000 }
}"#;
const PAGE: &str = "GET /now HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n";
/// A user that nobody is; systemd takes its own for the unit from the same range.
const USER: &str = "61999";

/// A limit of the unit.
fn limit(name: &str) -> String {
    let unit = fs::read_to_string(root().join("server/evenloop.service")).expect("there is a unit");
    let begin = format!("{name}=");
    let limit = unit.lines().find_map(|line| line.strip_prefix(&begin));
    limit.unwrap_or_else(|| panic!("no {name}")).to_owned()
}

/// The program as the unit starts it: as root, for a user who may have no more tasks than the unit. The limit
/// counts all processes of a user, so without root there is none.
fn under_limits(program: &str) -> Command {
    let mut limited = Command::new("prlimit");
    let files = limit("LimitNOFILE");
    limited.arg(format!("--nofile={files}:{files}"));
    if rustix::process::geteuid().is_root() {
        let tasks = limit("TasksMax");
        limited.arg(format!("--nproc={tasks}:{tasks}"));
        limited.args(["setpriv", "--reuid", USER, "--regid", USER]);
        limited.args(["--clear-groups", "--no-new-privs", "--"]);
    }
    limited.arg(program);
    limited
}

#[test]
fn with_64_processors_the_program_serves_within_the_limits() {
    let folder = tempfile::tempdir().expect("there is room");
    // Whoever the user is, this may be read.
    fs::set_permissions(folder.path(), Permissions::from_mode(0o755)).expect("it is ours");
    let (program, site) = (folder.path().join("evenloop"), folder.path().join("site"));
    fs::copy(command().get_program(), &program).expect("there is room");
    copy(&packed(), &site);
    let server = Server::start_program(
        under_limits(&program.to_string_lossy()),
        &site,
        ([127, 0, 0, 1], 0).into(),
        &[("EVENLOOP_PROCESSORS", "64")],
    );
    let (plans, pages) = overload(server.address(), RECIPE, &[PAGE; 20]);
    assert!(pages.iter().all(|page| page.starts_with("HTTP/1.1 200 ")));
    let planned = plans
        .iter()
        .filter(|plan| plan.starts_with("HTTP/1.1 200 "));
    let planned = planned.count();
    let (threads, memory) = (server.threads(), server.most_memory());
    println!("{planned} plans with {threads} threads in {memory} KiB");
    assert!(planned >= 500, "{planned}");
    let tasks: u64 = limit("TasksMax").parse().expect("a number");
    let mib = limit("MemoryMax");
    let mib: u64 = mib
        .strip_suffix('M')
        .and_then(|mib| mib.parse().ok())
        .expect("MiB");
    // 16 that answer, 32 that plan and the first one: what a machine of 64 comes to.
    assert_eq!(threads, 49);
    // Half is left for connections and for what a longer life adds.
    assert!(threads <= tasks / 2, "{threads} of {tasks}");
    assert!(memory <= mib * 1024 / 2, "{memory} KiB of {mib} MiB");
}
