//! Every screen in British and in American words: no word of the other country is left anywhere.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::Duration;

use evenloop_engine::link::write_link;
use evenloop_engine::needle_size::Needle;
use evenloop_engine::plan::{SectionKind, make};
use evenloop_engine::recipe::Recipe;
use evenloop_engine::swatch::Swatch;
use evenloop_tests::laid::{begun_at, cast_on, find, lay_out, patterned};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::go;

/// Everything at once that is called differently: bound off, in colours, in seed stitch.
fn sock() -> Recipe {
    Recipe {
        swatch: Swatch {
            needle: Needle::all().nth(4),
            ..Swatch::default()
        },
        ..patterned()
    }
}

/// What only the other country says (common practice of both countries' patterns, no source).
const BRITISH: &str = "cast(ing)?[ -]off|tension|stocking stitch|moss stitch|colours?|metres?|grey|ball band|(its own|in a|from the|other) ball";
const AMERICAN: &str =
    "bind(ing)?[ -]off|bound off|gauge|stockinette|seed stitch|colors?|meters?|gray|skeins?|label";

/// Every sentence of the page that holds one of some words, folded away or not, seen or only heard.
async fn saying(phone: &Phone, words: &str) -> String {
    let script = format!(
        "const words = /\\b({words})\\b/i;
         const texts = document.createTreeWalker(document.querySelector('.app'), NodeFilter.SHOW_TEXT);
         const found = [];
         while (texts.nextNode()) {{
             const around = texts.currentNode.parentElement;
             if (around.closest('.choice')?.querySelector('[name=english]')) continue;
             if (words.test(texts.currentNode.data)) found.push(texts.currentNode.data);
         }}
         for (const told of document.querySelectorAll('[aria-label]'))
             if (words.test(told.getAttribute('aria-label'))) found.push(told.getAttribute('aria-label'));
         return found.join(' | ')"
    );
    let found = phone.ask(&script).await;
    found.as_str().expect("a text").to_owned()
}

#[tokio::test]
async fn no_screen_speaks_the_words_of_the_other_country() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    let plan = make(&sock()).expect("a sock");
    let places = [SectionKind::Leg, SectionKind::BindOff]
        .map(|wanted| find(&plan, |kind, _| kind == wanted)[0]);
    for (nth, (own, other)) in [(BRITISH, AMERICAN), (AMERICAN, BRITISH)]
        .into_iter()
        .enumerate()
    {
        phone.open(&server.url("/keep")).await;
        let choose = format!("document.querySelectorAll('input[name=english]')[{nth}].click()");
        phone.ask(&choose).await;
        let mut own_words = 0;
        for at in places {
            lay_out(&phone, &plan, [&begun_at(at), &[]]).await;
            let link = write_link(&sock());
            for path in [
                "/",
                &format!("/measure?r={link}"),
                "/now",
                "/map",
                "/keep",
                &format!("/plan?r={link}"),
            ] {
                phone.open(&server.url(path)).await;
                tokio::time::sleep(Duration::from_millis(200)).await;
                if path.starts_with("/measure") {
                    // something that is wrong with the gauge
                    phone.write("#swatch-stitches", "90").await;
                    phone.ask("document.activeElement.blur()").await;
                }
                if path == "/now" {
                    phone.tap(".to-pause").await;
                }
                if path == "/map" {
                    phone
                        .ask("document.querySelectorAll('.sections details').forEach((one) => { one.open = true })")
                        .await;
                    tokio::time::sleep(Duration::from_millis(200)).await;
                }
                let found = saying(&phone, other).await;
                assert_eq!(found, "", "on {path}");
                own_words += usize::from(!saying(&phone, own).await.is_empty());
            }
        }
        assert!(own_words >= 6, "{own_words} screens were looked at in vain");
    }
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_told_on_the_needles_is_told_in_the_unit_that_was_chosen() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    cast_on(&phone, &server).await;
    for (nth, unit) in ["cm", "in", "cm"].into_iter().enumerate() {
        phone.open(&server.url("/keep")).await;
        let choose = format!(
            "document.querySelectorAll('input[name=unit]')[{}].click()",
            nth % 2
        );
        phone.ask(&choose).await;
        go(&phone, "/now").await;
        let tail = format!("leave a tail of about \\d+\\u00a0{unit}\\.");
        let told =
            format!("return /{tail}/.test(document.querySelector('.now .note')?.textContent)");
        phone
            .until(&format!("the tail is told in {unit}"), &told)
            .await;
    }
    phone.put_away().await;
}
