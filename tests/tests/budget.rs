//! What a page may weigh on its way to a phone. Fails when one grows past its budget; a budget is
//! raised on purpose only, and lowered when a page has become lighter.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::collections::BTreeSet;

use evenloop_tests::server::{Server, root};
use reqwest::Client;

/// Bytes as they are sent to a browser that takes brotli.
async fn weight(server: &Server, path: &str) -> usize {
    let answer = Client::new()
        .get(server.url(path))
        .header("accept-encoding", "br")
        .send()
        .await
        .expect("the server answers");
    assert!(answer.status().is_success(), "{path}: {}", answer.status());
    answer.bytes().await.expect("an answer has a body").len()
}

async fn text(server: &Server, path: &str) -> String {
    let answer = Client::new().get(server.url(path)).send().await;
    let answer = answer.expect("the server answers");
    answer.text().await.expect("pages and scripts are text")
}

/// How the files end that the first touch waits for.
const ENDINGS: [&str; 3] = [".js", ".css", ".wasm"];

/// Everything that a page names and a browser therefore fetches before the page can be touched.
async fn first_load(server: &Server, path: &str) -> BTreeSet<String> {
    let page = text(server, path).await;
    let files: BTreeSet<String> = page
        .split('"')
        .filter(|part| part.starts_with("/pkg/"))
        // Icons and drawings come when they are shown.
        .filter(|file| ENDINGS.iter().any(|ending| file.ends_with(ending)))
        .map(str::to_owned)
        .chain([path.to_owned()])
        .collect();
    for script in ["/evenloop.js", "/echo.", "/boot."] {
        assert!(
            files.iter().any(|file| file.contains(script)),
            "{path} does not name {script}"
        );
    }
    files
}

#[tokio::test]
async fn no_page_grows_past_its_budget() {
    let server = Server::start();
    let budget = std::fs::read_to_string(root().join("tests/budget.txt")).expect("there is one");
    let lines = budget.lines().filter(|line| !line.starts_with('#'));
    let mut pages = 0;
    let mut heavy = Vec::new();
    for line in lines {
        let (path, limit) = line.split_once(' ').expect("a path and a number");
        let limit: usize = limit.trim().parse().expect("a number of bytes");
        let mut sum = 0;
        for file in first_load(&server, path).await {
            sum += weight(&server, &file).await;
        }
        println!("{path:10} {sum:8} of {limit}");
        if sum > limit {
            heavy.push(format!("{path} weighs {sum} bytes, its budget is {limit}"));
        }
        pages += 1;
    }
    assert_eq!(pages, 7, "every screen has a budget");
    assert!(heavy.is_empty(), "{}", heavy.join("; "));
}
