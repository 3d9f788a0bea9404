//! A pattern of the knitter's own in the made-up language: with a misprint, whether it fits, cast on, followed on Now, and
//! begun. Her own words stand there as she typed them.

use evenloop_engine::plan::SectionKind;
use evenloop_tests::laid::{
    SMALL_PATTERN, begun_at, find, lay_out, small_pattern_mended, small_sock_by_pattern,
};
use evenloop_tests::phone::Phone;
use evenloop_tests::server::Server;
use evenloop_tests::touching::paste_pattern;

use crate::UNFOLD;
use crate::looking::look_past;

/// One of three sizes, in another gauge than hers.
const SIZED: &str = "Gauge: 32 sts and 44 rnds to 10 cm\nCUFF\nCO 56 (64, 72) sts. Join.\nKnit 8 rnds.\n\
                     LEG\nKnit 44 rnds.\nFOOT\nKnit 50 rnds.\n";

/// The foot and the swatch.
const MEASURES: [(&str, &str); 4] = [
    ("pattern-stitches", "32"),
    ("pattern-rounds", "33"),
    ("pattern-foot", "26"),
    ("pattern-ball", "22"),
];

const SEE_WHETHER_IT_FITS: &str = "[...document.querySelectorAll('.pattern-screen .told')]
    .map((told) => told.parentElement.querySelector('.buttons button')).find(Boolean).click()";

/// Types it, asks whether it fits and follows it, on a phone that has a pair.
pub(crate) async fn walk_pattern(phone: &Phone, server: &Server, all: &mut Vec<String>) {
    phone.open(&server.url("/pattern")).await;
    paste_pattern(phone, SMALL_PATTERN).await;
    phone.find(".found-in-pattern li").await;
    phone.ask(UNFOLD).await;
    look_past(phone, SMALL_PATTERN, "a pattern with a misprint", all).await;

    paste_pattern(phone, SIZED).await;
    let anew =
        "return !document.querySelector('.found-in-pattern').textContent.includes('to last 4 sts')
        && document.querySelector('#plan .headline') !== null";
    phone.until("the other pattern was read", anew).await;
    phone.ask(SEE_WHETHER_IT_FITS).await;
    look_past(phone, SIZED, "a fit without a swatch", all).await;
    phone.ask(UNFOLD).await;
    for (id, value) in MEASURES {
        phone.write(&format!("#{id}"), value).await;
    }
    phone.ask(SEE_WHETHER_IT_FITS).await;
    phone.find(".pattern-screen .told .buttons button").await;
    look_past(phone, SIZED, "a pattern that fits in another size", all).await;

    let typed = small_pattern_mended();
    let plan = small_sock_by_pattern();
    for kind in [
        SectionKind::Cuff,
        SectionKind::HeelFlap,
        SectionKind::HeelTurn,
        SectionKind::Gusset,
        SectionKind::Toe,
    ] {
        let at = find(&plan, |one, _| one == kind)[0];
        lay_out(phone, &plan, [&begun_at(at), &[]]).await;
        phone.open(&server.url("/now")).await;
        phone.find(".pad").await;
        look_past(phone, &typed, &format!("the {kind:?} of a pattern"), all).await;
    }
    for path in ["/map", "/plan", "/"] {
        phone.open(&server.url(path)).await;
        phone.ask(UNFOLD).await;
        look_past(phone, &typed, &format!("{path} of a pattern"), all).await;
    }
    change_what_is_begun(phone, server, &typed, all).await;
}

/// From Now to the pattern's screen, where the rest of a begun one can be seated anew.
async fn change_what_is_begun(phone: &Phone, server: &Server, typed: &str, all: &mut Vec<String>) {
    phone.open(&server.url("/now")).await;
    phone.tap(".to-pause").await;
    phone.tap("dialog[open] a.entry").await;
    phone.find("input[name=seating]").await;
    phone.ask(UNFOLD).await;
    look_past(phone, typed, "a begun pattern", all).await;
    phone
        .ask("document.querySelectorAll('input[name=seating]')[1].click()")
        .await;
    look_past(phone, typed, "a begun pattern on other needles", all).await;
    assert_eq!(phone.ask("return location.pathname").await, "/pattern");
}
