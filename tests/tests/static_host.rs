//! The exported site on a plain static server that knows nothing of the app: it is put on a phone,
//! a sock is cast on without anyone to make its plan, and all of it opens with the server gone.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

use evenloop_tests::phone::Phone;
use evenloop_tests::server::{command, root};

/// Python's own file server, killed when dropped.
struct Plain {
    child: Child,
    port: u16,
}

impl Plain {
    fn serve(folder: &std::path::Path) -> Self {
        let mut child = Command::new("python3")
            .args([
                "-u",
                "-m",
                "http.server",
                "0",
                "--bind",
                "127.0.0.1",
                "--directory",
            ])
            .arg(folder)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("python3 is installed");
        let mut line = String::new();
        let output = child.stdout.take().expect("its output is piped");
        BufReader::new(output)
            .read_line(&mut line)
            .expect("it says where it is");
        let port = line
            .split_whitespace()
            .skip_while(|word| *word != "port")
            .nth(1)
            .and_then(|port| port.parse().ok())
            .unwrap_or_else(|| panic!("no port in {line:?}"));
        Self { child, port }
    }

    fn url(&self, path: &str) -> String {
        format!("http://127.0.0.1:{}{path}", self.port)
    }
}

impl Drop for Plain {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn export(folder: &std::path::Path) -> std::process::Output {
    command()
        .arg("export")
        .arg(folder)
        .env("EVENLOOP_SITE", root().join("target/site"))
        .output()
        .expect("the server's command runs")
}

#[tokio::test]
async fn the_exported_site_works_from_a_plain_static_server() {
    let folder = tempfile::tempdir().expect("a folder");
    let site = folder.path().join("site");
    assert!(export(&site).status.success());

    let host = Plain::serve(&site);
    let mut phone = Phone::unpack().await;
    phone.open(&host.url("/")).await;
    phone.until_offline_ready().await;
    // Nobody makes plans here, so the phone does; what a refused request says is no fault of ours.
    phone.forgive("/api/plan");
    phone.open(&host.url("/measure")).await;
    phone.tap(".at-hand .button.lead").await;
    phone
        .until("Now is open", "return location.pathname.startsWith('/now')")
        .await;
    let begun = phone.text("main").await;
    assert!(begun.contains("Cast on"), "{begun}");

    let urls = ["/", "/measure", "/now", "/now/", "/map", "/keep"].map(|path| host.url(path));
    drop(host);
    for url in urls {
        phone.open(&url).await;
        let words = phone.text("main").await;
        assert!(!words.contains("Nothing is here"), "{url}: {words}");
        assert!(!words.is_empty(), "{url} shows something");
    }
    assert!(phone.complaints().await.is_empty());
    phone.put_away().await;
}

#[test]
fn an_export_never_mixes_with_what_is_there() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("mine.txt"), "mine").expect("a file");
    let refused = export(folder.path());
    assert!(!refused.status.success());
    let said = String::from_utf8_lossy(&refused.stderr);
    assert!(said.contains("is not empty"), "{said}");
}
