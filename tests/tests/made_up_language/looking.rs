//! Looks at a page: which of its words are not the language's, and what overflows.

use std::time::Duration;

use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use serde_json::json;

/// What may stand there unmarked: units, the letters of yarns and measured lengths, and whose
/// sizes of needles and shoes are told.
const ALLOWED: &str = "['cm', 'in', 'mm', 'm', 'g', 'A', 'B', 'C', 'D', 'US', 'UK', 'EU']";

/// Every word of the page that is not the language's, seen or heard. What was typed has no letters of
/// the alphabet that are unmarked; an address is no sentence.
const FOREIGN: &str = "
    const allowed = new Set([...ALLOWED, ...(TYPED.match(/[\\p{L}]+/gu) ?? [])]);
    // A date is written by the browser, in its own language.
    for (let month = 0; month < 12; month += 1)
        for (const hour of [1, 13]) {
            const date = new Date(2026, month, 1, hour).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });
            for (const word of date.match(/[\\p{L}]+/gu)) allowed.add(word);
        }
    const foreign = (text) => (text.match(/[\\p{L}]+/gu) ?? [])
        .some((word) => /[A-Za-z]/.test(word) && !allowed.has(word));
    const found = new Set();
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
        const text = texts.currentNode.data;
        if (texts.currentNode.parentElement.closest('script, style, noscript, code, pre')) continue;
        if (foreign(text)) found.add(text.trim());
    }
    for (const name of ['aria-label', 'title', 'alt', 'placeholder'])
        for (const one of document.querySelectorAll(`[${name}]`))
            if (foreign(one.getAttribute(name))) found.add(`${name}: ${one.getAttribute(name)}`);
    if (foreign(document.title)) found.add(`title: ${document.title}`);
    return [...found]";

/// What is wider than the room it has: the page, or something with text in it that neither scrolls
/// nor is meant to be cut off with an ellipsis.
const OVERFLOWING: &str = "
    const found = [];
    const page = document.documentElement;
    // What is only heard takes no room.
    const heard = [...document.querySelectorAll('.unseen')];
    for (const one of heard) one.style.display = 'none';
    if (page.scrollWidth > innerWidth) found.push(`the page: ${page.scrollWidth}`);
    for (const one of document.querySelectorAll('body *')) {
        if (!one.checkVisibility({ visibilityProperty: true }) || one.closest('svg, .unseen')) continue;
        const texts = [...one.childNodes].filter((node) => node.nodeType === 3 && node.data.trim());
        if (!texts.length) continue;
        const style = getComputedStyle(one);
        const cut = style.textOverflow === 'ellipsis' || ['auto', 'scroll'].includes(style.overflowX);
        let scrolls = false;
        for (let up = one; up; up = up.parentElement)
            scrolls ||= ['auto', 'scroll'].includes(getComputedStyle(up).overflowX) && up.scrollWidth > up.clientWidth
                && up.matches('.chart-scroll, pre, input');
        const range = document.createRange();
        for (const text of texts) {
            range.selectNodeContents(text);
            const right = Math.max(...[...range.getClientRects()].map((box) => box.right));
            // Not its scroll width: what widens a button for a finger is no text.
            const room = style.display === 'inline' ? innerWidth : Math.min(innerWidth, one.getBoundingClientRect().right);
            if (!cut && !scrolls && right > room + 1)
                found.push(`${one.tagName}.${one.className} reaches ${right}, not ${room}: ${text.data.slice(0, 60)}`);
        }
    }
    for (const one of heard) one.style.display = '';
    return found";

/// Looks at the page as it is.
pub(crate) async fn look(phone: &Phone, what: &str, wrong: &mut Vec<String>) {
    look_past(phone, "", what, wrong).await;
}

/// Looks at the page as it is, where the knitter has typed a text: each of its words may stand there.
pub(crate) async fn look_past(phone: &Phone, typed: &str, what: &str, wrong: &mut Vec<String>) {
    tokio::time::sleep(Duration::from_millis(200)).await;
    let foreign = FOREIGN
        .replace("ALLOWED", ALLOWED)
        .replace("TYPED", &json!(typed).to_string());
    for script in [foreign.as_str(), OVERFLOWING] {
        let found = phone.ask(script).await;
        let found = found.as_array().expect("a list");
        wrong.extend(found.iter().map(|one| format!("{what}: {one}")));
    }
}

pub(crate) async fn walk(
    phone: &Phone,
    server: &Server,
    path: &str,
    steps: &[&str],
    wrong: &mut Vec<String>,
) {
    phone.open(&server.url(path)).await;
    tokio::time::sleep(Duration::from_millis(200)).await;
    for step in steps {
        phone.ask(step).await;
        tokio::time::sleep(Duration::from_millis(200)).await;
    }
    look(phone, &format!("{path} {steps:?}"), wrong).await;
}

/// A sentence of another language that does not fit, on the page as it is.
const PLANTED: &str = "
    const planted = document.createElement('p');
    planted.textContent = 'Knit '.repeat(40);
    planted.style.whiteSpace = 'nowrap';
    planted.setAttribute('aria-label', 'a sock');
    document.querySelector('main').append(planted);";

/// Whoever looks so would have seen it.
pub(crate) async fn planted_is_seen(phone: &Phone) {
    phone.ask(PLANTED).await;
    let mut seen = Vec::new();
    look(phone, "planted", &mut seen).await;
    for what in ["Knit", "aria-label: a sock", "the page: ", "P. reaches "] {
        let found = seen.iter().any(|one| one.contains(what));
        assert!(found, "{what} is not in {seen:?}");
    }
}
