//! A recipe and a plan that leave the phone: as an address, as a code, on paper, as plain text.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::time::{Duration, Instant};

use evenloop_engine::link::{read_link, write_link};
use evenloop_engine::plan::make;
use evenloop_engine::recipe::{Heel, Motif, MotifPlacement, Recipe};
use evenloop_engine::units::Length;
use evenloop_tests::laid::cast_on;
use evenloop_tests::phone::Phone;
use evenloop_tests::server::{Server, root};

/// A sock that is no default.
fn recipe() -> Recipe {
    Recipe {
        heel: Heel::ShortRow { between: 2 },
        leg: Length::cm(21),
        stitches: Some(68),
        ..Recipe::default()
    }
}

async fn value(phone: &Phone, id: &str) -> String {
    let script = format!("return document.getElementById('{id}').value");
    phone
        .ask(&script)
        .await
        .as_str()
        .unwrap_or_default()
        .to_owned()
}

async fn settled(phone: &Phone) {
    phone
        .until("the address is done with", "return location.search === ''")
        .await;
}

/// Unfolds the leg and the fit: their lines are made when they are first looked at.
async fn unfold(phone: &Phone) {
    for css in ["#leg", "#stitches"] {
        phone.unfold(css).await;
    }
}

#[tokio::test]
async fn a_recipe_from_an_address_stands_in_an_untouched_form_at_once() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    let link = write_link(&recipe());
    phone.open(&server.url(&format!("/measure?r={link}"))).await;
    settled(&phone).await;
    unfold(&phone).await;
    assert_eq!(value(&phone, "leg").await, "21");
    assert_eq!(value(&phone, "stitches").await, "68");
    phone.put_away().await;
}

#[tokio::test]
async fn a_recipe_never_takes_the_place_of_a_draft_unasked_and_gives_it_back() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    phone.open(&server.url("/measure")).await;
    unfold(&phone).await;
    let type_leg = "const line = document.getElementById('leg');
        line.value = '12.5'; line.dispatchEvent(new Event('input', { bubbles: true }))";
    phone.ask(type_leg).await;
    let link = write_link(&recipe());
    let address = server.url(&format!("/measure?r={link}"));

    phone.open(&address).await;
    phone.find(".arrival .button.lead").await;
    unfold(&phone).await;
    assert_eq!(value(&phone, "leg").await, "12.5", "not yet answered");
    phone.tap(".arrival .button:not(.lead)").await;
    settled(&phone).await;
    assert_eq!(value(&phone, "leg").await, "12.5", "left as it is");

    phone.open(&address).await;
    phone.tap(".arrival .button.lead").await;
    settled(&phone).await;
    unfold(&phone).await;
    assert_eq!(value(&phone, "leg").await, "21");
    // the old one waits, over a reload as well
    phone.reload().await;
    phone.tap(".arrival .button:not(.bare)").await;
    unfold(&phone).await;
    phone
        .until(
            "the draft is back",
            "return document.getElementById('leg').value === '12.5'",
        )
        .await;
    phone.put_away().await;
}

#[tokio::test]
async fn a_broken_link_says_so_and_leaves_the_form() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    for link in ["1broken", "9abc", "", "%3Cscript%3E", "1e30"] {
        phone.open(&server.url(&format!("/measure?r={link}"))).await;
        phone.find(".arrival .notice.wrong").await;
        settled(&phone).await;
        unfold(&phone).await;
        assert_eq!(value(&phone, "leg").await, "", "{link}");
        phone.open(&server.url(&format!("/plan?r={link}"))).await;
        let said = phone.text(".plan-sheet").await;
        assert!(said.starts_with("This link"), "{link}: {said}");
    }
    phone.put_away().await;
}

/// Modules of the code that is drawn, as grey pixels, four to a module.
async fn drawn(phone: &Phone) -> (usize, Vec<u8>) {
    let found = phone
        .ask(
            "const code = document.querySelector('.share svg.code');
             return [code.viewBox.baseVal.width, code.querySelector('path').getAttribute('d')];",
        )
        .await;
    let side = usize::try_from(found[0].as_u64().expect("a side")).expect("a small one");
    let scale = 4;
    let mut grey = vec![255; side * side * scale * scale];
    for run in found[1].as_str().expect("a path").split('M').skip(1) {
        let numbers: Vec<usize> = run
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|n| n.parse().ok())
            .collect();
        let [x, y, long] = numbers[..3] else {
            panic!("{run}")
        };
        for py in y * scale..(y + 1) * scale {
            for px in x * scale..(x + long) * scale {
                grey[py * side * scale + px] = 0;
            }
        }
    }
    (side * scale, grey)
}

#[tokio::test]
async fn the_plan_at_hand_is_read_offline_and_its_code_leads_to_the_same_recipe() {
    let mut server = Some(Server::start());
    let mut phone = Phone::unpack().await;
    let here = server.as_ref().expect("it runs").url("");
    cast_on(&phone, server.as_ref().expect("it runs")).await;
    phone.until_offline_ready().await;
    drop(server.take());
    phone.forgive("ERR_CONNECTION_REFUSED");

    phone.open(&format!("{here}/plan")).await;
    phone.find(".share").await;
    let sheet = phone.text(".plan-sheet").await;
    for word in [
        "Everyday socks",
        "60 stitches",
        "Gusset pick-up",
        "Around the sock",
    ] {
        assert!(sheet.contains(word), "{word}: {sheet}");
    }
    let address = value_of(&phone, ".share .address").await;
    let (_, link) = address.split_once("/plan?r=").expect("a recipe's address");
    assert_eq!(read_link(link), Ok(Recipe::default()));

    phone.tap(".share summary").await;
    phone.find(".share svg.code").await;
    let (side, grey) = drawn(&phone).await;
    let mut image =
        rqrr::PreparedImage::prepare_from_greyscale(side, side, |x, y| grey[y * side + x]);
    let codes = image.detect_grids();
    assert_eq!(codes.len(), 1);
    let (_, read) = codes[0].decode().expect("a camera can read it");
    assert_eq!(read, address);
    phone.put_away().await;
}

async fn value_of(phone: &Phone, css: &str) -> String {
    let script = format!("return document.querySelector({css:?}).value");
    phone
        .ask(&script)
        .await
        .as_str()
        .expect("a value")
        .to_owned()
}

/// Pages of a PDF, by its own count.
fn pages(pdf: &str) -> usize {
    let bytes = base64(pdf);
    let text = String::from_utf8_lossy(&bytes);
    text.matches("/Type /Page\n").count()
        + text.matches("/Type /Page/").count()
        + text.matches("/Type /Page ").count()
}

fn base64(text: &str) -> Vec<u8> {
    let value = |c: u8| match c {
        b'A'..=b'Z' => c - b'A',
        b'a'..=b'z' => c - b'a' + 26,
        b'0'..=b'9' => c - b'0' + 52,
        b'+' => 62,
        _ => 63,
    };
    let mut out = Vec::new();
    for four in text.trim_end_matches('=').as_bytes().chunks(4) {
        let group = four
            .iter()
            .fold(0_u32, |sum, c| sum << 6 | u32::from(value(*c)));
        let bytes = (group << (6 * (4 - four.len()))).to_be_bytes();
        out.extend_from_slice(&bytes[1..four.len()]);
    }
    out
}

/// Paper carries the sheet alone, the same on A4 and Letter, whatever the theme.
#[tokio::test]
async fn the_plan_goes_on_paper_of_both_sizes() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    let link = write_link(&recipe());
    phone.open(&server.url(&format!("/plan?r={link}"))).await;
    phone.find(".doing").await;
    for (width, height) in [(8.27, 11.69), (8.5, 11.0)] {
        let pdf = phone.print(width, height).await;
        let pages = pages(&pdf);
        assert!((3..=8).contains(&pages), "{pages} pages");
    }
    phone.put_away().await;
}

/// What the pair needs, what is abbreviated, and the crossing, on the screen and on paper: inside the page, and as large
/// as it can be read there.
#[tokio::test]
async fn a_plan_lists_what_is_needed_and_abbreviated_and_draws_the_crossing() {
    const SHOWN: &str = "
        const sheet = document.querySelector('.plan-sheet');
        const page = document.documentElement.clientWidth;
        const seen = (one) => one.checkVisibility() && one.getBoundingClientRect().width > 0;
        const inside = (one) => one.getBoundingClientRect().right <= page + 1;
        const needed = [...sheet.querySelectorAll('.needed dt')].filter(seen);
        const key = [...sheet.querySelectorAll('.short dt')].filter(seen).map((one) => one.textContent);
        const stills = [...sheet.querySelectorAll('.still svg')].filter(seen);
        const letters = stills.flatMap((one) => [...one.querySelectorAll('text')])
            .map((one) => one.getBoundingClientRect().height);
        const crossing = [...sheet.querySelectorAll('.part')].find((one) => one.querySelector('.still'));
        return [needed.length, key, stills.length,
            [...stills, ...sheet.querySelectorAll('.key dd')].every(inside), Math.min(...letters),
            crossing.querySelector('h4').textContent, seen(document.querySelector('.doing'))];";
    let server = Server::start();
    let phone = Phone::unpack().await;
    let link = write_link(&Recipe::default());
    phone.open(&server.url("/keep")).await;
    phone
        .ask(
            "localStorage.setItem('evenloop:settings',
                 JSON.stringify({ style: { form: 'short', reach: 'to-marker' } }))",
        )
        .await;
    phone.open(&server.url(&format!("/plan?r={link}"))).await;
    phone.find(".doing").await;
    phone
        .until(
            "the words are short",
            "return document.querySelector('.short') !== null",
        )
        .await;
    // 360 pixels, and a sheet of A4 without its margins; a point is 4/3 of a pixel
    for (media, width, least) in [("screen", 360, 10.0), ("print", 688, 8.0)] {
        phone
            .tools(
                "Emulation.setEmulatedMedia",
                serde_json::json!({ "media": media }),
            )
            .await;
        evenloop_tests::room_on_now::resize(&phone, (width, 900)).await;
        let shown = phone.ask(SHOWN).await;
        assert_eq!(shown[0], 5, "{media}: {shown}");
        let key = shown[1].to_string();
        for one in ["k2tog", "ssk", "sl", "* … *"] {
            assert!(key.contains(one), "{media}: {key}");
        }
        assert!(!key.contains("m1l"), "{media}: {key}");
        assert_eq!(shown[2], 6, "{media}: {shown}");
        assert_eq!(shown[3], true, "{media}: {shown}");
        let height = shown[4].as_f64().unwrap_or_default();
        assert!(height >= least, "{media}: letters of {height} pixels");
        assert_eq!(shown[5], "Gusset pick-up", "{media}: {shown}");
        assert_eq!(shown[6], media == "screen", "{media}: {shown}");
    }
    let pages = pages(&phone.print(8.27, 11.69).await);
    assert!((3..=5).contains(&pages), "{pages} pages");
    phone.put_away().await;
}

/// A motif's rounds are given by its chart, so that its sock needs no more paper than a plain one.
#[tokio::test]
async fn a_patterned_sock_goes_on_five_pages() {
    let server = Server::start();
    let phone = Phone::unpack().await;
    let rows = [
        "p1 k4 p1",
        "p1 k4 p1",
        "p1 cr2/2 p1",
        "p1 k4 p1",
        "k6",
        "p6",
    ];
    let recipe = Recipe {
        motif: Some(Motif {
            rows: rows.map(|row| row.parse().expect("a round")).into(),
            place: MotifPlacement::AllRound,
            ..Motif::default()
        }),
        stitches: Some(72),
        ..Recipe::default()
    };
    let link = write_link(&recipe);
    phone.open(&server.url(&format!("/plan?r={link}"))).await;
    phone.find(".doing").await;
    let sheet = phone.text(".plan-sheet").await;
    assert!(sheet.contains("he chart 6 times"), "{sheet}");
    assert!(sheet.contains("Rounds of the chart: 1 to 6, "), "{sheet}");
    for (paper, width, height) in [("a4", 8.27, 11.69), ("letter", 8.5, 11.0)] {
        let pdf = phone.print(width, height).await;
        let out = root().join("tests/out");
        std::fs::create_dir_all(&out).expect("tests may write to tests/out");
        std::fs::write(out.join(format!("motif-{paper}.pdf")), base64(&pdf))
            .expect("it is kept to be looked at");
        let pages = pages(&pdf);
        assert!((2..=5).contains(&pages), "{pages} pages of {paper}");
    }
    phone.put_away().await;
}

/// What a reader without JavaScript gets is what the phone makes of the same address.
#[tokio::test]
async fn the_page_of_a_link_reads_without_scripts() {
    let server = Server::start();
    let link = write_link(&recipe());
    let url = server.url(&format!("/plan?r={link}"));
    let html = reqwest::get(&url)
        .await
        .expect("the server answers")
        .text()
        .await
        .expect("a page");
    let outcome = make(&recipe()).expect("a sock").outcome;
    assert!(html.contains(&format!("{} stitches around", outcome.stitches)));
    assert!(html.contains("Rounds 1 to "), "{html}");
    assert!(html.contains("class=\"ticks\""));

    let phone = Phone::unpack().await;
    // In words that British and American knitters both understand: the server knows of no reader.
    phone.open(&server.url("/keep")).await;
    phone
        .ask("document.querySelector('input[name=english]').click()")
        .await;
    phone
        .until(
            "the choice is stored",
            "const settings = localStorage.getItem('evenloop:settings');
             if (!/\"english\":\"[a-z]+\"/.test(settings ?? '')) return false;
             localStorage.setItem('evenloop:settings',
                 settings.replace(/\"english\":\"[a-z]+\"/g, '\"english\":\"as-written\"'));
             return true",
        )
        .await;
    phone.open(&url).await;
    phone.find(".doing").await;
    let made = phone
        .ask(
            "return document.querySelector('.plan-sheet').innerHTML
                 .replaceAll(/><\\/(?:path|circle|rect)>/g, '/>').replaceAll('&nbsp;', '\u{a0}')",
        )
        .await;
    let made = made.as_str().expect("a sheet");
    let (_, sheet) = html.split_once("plan-sheet\">").expect("the sheet");
    let (sheet, _) = sheet.split_once("</article>").expect("its end");
    assert_eq!(made, sheet);
    phone.put_away().await;
}

#[tokio::test]
async fn hostile_links_get_a_kind_page_and_no_echo() {
    let server = Server::start();
    let long = format!("1{}", "A".repeat(30_000));
    for link in [
        "",
        "1",
        "2",
        "1AAAA",
        "%3Cscript%3Ealert(1)%3C/script%3E",
        "1%3Csvg%20onload=alert(1)%3E",
        long.as_str(),
    ] {
        let begin = Instant::now();
        let answer = reqwest::get(server.url(&format!("/plan?r={link}")))
            .await
            .expect("the server answers");
        assert!(answer.status().is_success(), "{link}: {}", answer.status());
        let html = answer.text().await.expect("a page");
        assert!(html.contains("This link"), "{link}");
        assert!(!html.contains("alert(1)"), "{link}");
        assert!(begin.elapsed() < Duration::from_secs(2), "{link}");
    }
}
