//! What is said around the screens: above them by the service worker's news, in their place while they wake or cannot,
//! by the worker itself without signal, and by the browser of the installed app.

use std::fs;
use std::path::Path;

use evenloop_tests::phone::Phone;
use evenloop_tests::server::{Server, made_up};
use evenloop_tests::site::{build_of, copy};

use crate::looking::{look, look_past};

/// Every text of the manifest and of its ways in, as a page.
const MANIFEST: &str = "
    const manifest = await (await fetch('/manifest.webmanifest')).json();
    const main = document.querySelector('main');
    main.replaceChildren(...[manifest.description, ...manifest.shortcuts.map((one) => one.name)].map((text) => {
        const line = document.createElement('p');
        line.textContent = text;
        return line;
    }));
    return manifest.shortcuts.length";

/// The same site as another build: only its name is another.
fn of_another_build(site: &Path, to: &Path) {
    copy(site, to);
    let ours = build_of(site);
    let other: String = ours.chars().rev().collect();
    assert_ne!(ours, other);
    for (file, compressed) in [("site.json", false), ("files/sw.js", true)] {
        let file = to.join(file);
        let text = fs::read_to_string(&file).expect("a copy can be read");
        assert!(text.contains(&ours), "{} names its build", file.display());
        fs::write(&file, text.replace(&ours, &other)).expect("a copy is writable");
        for end in ["br", "gz"].into_iter().filter(|_| compressed) {
            let name = format!("{}.{end}", file.display());
            fs::remove_file(name).expect("a copy can be removed");
        }
    }
}

/// All that is said around the screens, on a phone of its own.
pub(crate) async fn walk_around(all: &mut Vec<String>) {
    let site = made_up().join("site");
    let server = Server::start_made_up();
    let address = server.address();
    let mut phone = Phone::unpack().await;
    for text in ["Failed to fetch", "ERR_FAILED", "503"] {
        phone.forgive(text);
    }
    phone.open(&server.url("/")).await;
    phone.until_offline_ready().await;
    phone.find("[role=status] .bar").await;
    look(&phone, "everything is stored", all).await;
    let ways = phone.ask_later(MANIFEST).await;
    assert_eq!(ways, 2, "the installed app's ways in");
    look(&phone, "the manifest", all).await;

    // What stands there while the page wakes or where it cannot is in the page from the start.
    phone.reload().await;
    let hidden = "return [...document.querySelectorAll('#waiting, #trouble')].filter((one) => one.textContent.trim()).length";
    assert_eq!(phone.ask(hidden).await, 2);
    phone
        .ask(
            "for (const one of document.querySelectorAll('#waiting, #trouble')) one.hidden = false",
        )
        .await;
    look(&phone, "waiting and trouble", all).await;

    server.stop();
    let folder = tempfile::tempdir().expect("there is room for a site");
    of_another_build(&site, folder.path());
    let newer = Server::start_made_up_of(folder.path(), address);
    phone
        .ask_later(
            "await (await navigator.serviceWorker.getRegistration()).update(); return 'asked'",
        )
        .await;
    phone.find("[role=status] .button.lead").await;
    look(&phone, "a newer build", all).await;

    newer.stop();
    phone
        .ask_later(
            "for (const name of await caches.keys()) await caches.delete(name); return 'gone'",
        )
        .await;
    phone.open_file(&format!("http://{address}/map")).await;
    let title = phone.ask(
        "return document.querySelector('h1') !== null && document.querySelector('main') === null",
    );
    assert_eq!(title.await, true, "the worker's own page");
    // Its title ends in the app's name.
    look_past(&phone, "Evenloop", "no signal", all).await;
    phone.put_away().await;
}
