//! Text becomes elements, and the address of a script, only where nothing runs in it: what is injected is refused
//! by the browser itself (Trusted Types), on our server by a header and on any static host by each page's own
//! policy, in three engines (Chromium, `WebKit` of 2025 on, Firefox 148 on). That every screen still works stands in all the other tests on a phone, which fail
//! for what breaks the policy.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::process::Command;

use evenloop_tests::engine::Engine;
use evenloop_tests::phone::Phone;
use evenloop_tests::plain::Plain;
use evenloop_tests::server::{Server, command, root};
use serde_json::{Value, json};

const PAGES: [&str; 6] = ["/", "/measure", "/now", "/map", "/keep", "/plan"];

/// What somebody might get into a text that becomes elements.
const INJECTED: [&str; 18] = [
    "<img src=x onerror=alert(1)>",
    "<img src=\"x\">",
    "<p onclick=\"alert(1)\">a</p>",
    "<p ONCLICK=\"alert(1)\">a</p>",
    "<p class=\"a\"onclick=\"alert(1)\">a</p>",
    "<p\tonclick=\"alert(1)\">a</p>",
    "<p/onclick=\"alert(1)\">a</p>",
    "<p class=\"a\" style=\"color: red\">a</p>",
    "<svg onload=\"alert(1)\"></svg>",
    "<svg><script>alert(1)</script></svg>",
    "<SCRIPT>alert(1)</SCRIPT>",
    "<a href=\"javascript:alert(1)\">a</a>",
    "<a href=\"//elsewhere.example/\">a</a>",
    "<a href=\"/\\elsewhere.example/\">a</a>",
    "<iframe srcdoc=\"a\"></iframe>",
    "<form action=\"/\"></form>",
    "<p class=\"a<b\">a</p>",
    "<!-- a --><p>a</p>",
];
/// What the app itself makes elements of.
const SHOWN: [&str; 6] = [
    "",
    "no element: 2 > 1 &lt; 3 & more",
    "<p class=\"soft small\">a<br>b</p><!><!---->",
    "<svg viewBox=\"0 0 1 1\" aria-hidden=\"true\"><g class=\"fabric\" transform=\"matrix(1 0 0 1 0 0)\">\
     <path d=\"M0 0L1 1\" stroke-width=\"2\"/><use href=\"#a-b\"/></g></svg>",
    "<a class=\"button\" href=\"/now\">a</a><a href=\"?r=1\">b</a>",
    "<details open><summary>a</summary></details>",
];

/// What a page lets through of what it should not, and refuses of what it should let through.
fn look() -> String {
    let (injected, plain) = (json!(INJECTED), json!(SHOWN));
    format!(
        "const wrong = [];
         const refused = (what, make) => {{
             try {{ make(); wrong.push(`${{what}} passes`); }} catch (error) {{
                 if (error.name !== 'TypeError') wrong.push(`${{what}}: ${{error}}`);
             }}
         }};
         const at = () => document.createElement('div');
         for (const text of {injected}) {{
             refused(text, () => {{ at().innerHTML = text; }});
             refused(`after: ${{text}}`, () => at().insertAdjacentHTML('beforeend', text));
         }}
         for (const text of {plain}) {{
             try {{ at().innerHTML = text; }} catch (error) {{ wrong.push(`${{text}} is refused`); }}
         }}
         refused('a script', () => {{ document.createElement('script').src = '/pkg/a.js'; }});
         refused('a script of text', () => {{ document.createElement('script').text = 'a()'; }});
         refused('a frame', () => {{ document.createElement('iframe').srcdoc = '<script></script>'; }});
         refused('another policy', () => trustedTypes.createPolicy('other', {{ createHTML: (a) => a }}));
         refused('the same policy', () => trustedTypes.createPolicy('default', {{ createHTML: (a) => a }}));
         const registered = await navigator.serviceWorker?.register('/echo.js').then(
             () => 'another worker passes', (error) => error.name === 'TypeError' ? '' : String(error));
         if (registered) wrong.push(registered);
         return wrong"
    )
}

async fn refuses_what_is_injected(phone: &mut Phone, url: impl Fn(&str) -> String) {
    for text in [
        "rusted",
        "This document requires",
        "policy",
        "Policy",
        "TypeError",
        "inline against",
    ] {
        phone.forgive(text);
    }
    for path in PAGES {
        phone.open(&url(path)).await;
        if phone.ask("return typeof trustedTypes").await == "object" {
            assert_eq!(phone.ask_later(&look()).await, json!([]), "{path}");
        } else {
            // Such as Firefox before 148: there the rest of the policy has to do.
            assert_eq!(phone.engine(), Engine::Firefox, "Trusted Types are missing");
            assert_eq!(phone.ask_later(RUNS).await, false, "{path}");
        }
    }
}

/// Whether what is injected is run.
const RUNS: &str = "
    document.body.insertAdjacentHTML(
        'beforeend',
        '<img src=\"data:,a\" onerror=\"window.ran = true\"><svg onload=\"window.ran = true\"></svg>');
    const script = document.createElement('script');
    script.text = 'window.ran = true';
    document.body.append(script);
    await new Promise((done) => setTimeout(done, 500));
    return window.ran === true";

async fn on_our_server(engine: Engine) {
    let server = Server::start();
    let mut phone = Phone::of(engine).await;
    refuses_what_is_injected(&mut phone, |path| server.url(path)).await;
    phone.put_away().await;
}

#[tokio::test]
async fn what_is_injected_is_refused_in_chromium() {
    on_our_server(Engine::Chromium).await;
}

#[tokio::test]
async fn what_is_injected_is_refused_in_firefox() {
    on_our_server(Engine::Firefox).await;
}

#[tokio::test]
async fn what_is_injected_is_refused_in_webkit() {
    on_our_server(Engine::WebKit).await;
}

/// A host that sends no header of ours.
#[tokio::test]
async fn what_is_injected_is_refused_on_a_static_host() {
    let folder = tempfile::tempdir().expect("there is room");
    let mut export: Command = command();
    export.env("EVENLOOP_SITE", root().join("target/site"));
    let exported = export.arg("export").arg(folder.path()).output();
    assert!(exported.expect("it runs").status.success());
    let plain = Plain::serve(folder.path());
    let page = reqwest::get(plain.url("/now/")).await.expect("it answers");
    assert!(page.headers().get("content-security-policy").is_none());
    let mut phone = Phone::unpack().await;
    refuses_what_is_injected(&mut phone, |path| plain.url(path)).await;
    // Nothing of another place is loaded either, and nothing that stands in the page itself is run.
    let loaded = phone
        .ask_later(
            "return await new Promise((done) => {
                 addEventListener('securitypolicyviolation', ({ effectiveDirective }) => done(effectiveDirective));
                 const picture = document.createElement('img');
                 picture.src = 'http://127.0.0.1:1/a.png';
                 document.body.append(picture);
             })",
        )
        .await;
    assert_eq!(loaded, Value::from("img-src"));
    phone.forgive("img-src");
    phone.forgive("127.0.0.1:1");
    phone.put_away().await;
}
