//! The server as a caller sees it: every status, header and limit, over real sockets.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::fs;
use std::io::{Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::process::Stdio;
use std::time::{Duration, Instant};

use evenloop_engine::wire;
use evenloop_tests::flood;
use evenloop_tests::server::{Server, command, root};
use reqwest::header::{HeaderMap, HeaderValue};
use reqwest::{Client, Method, Response, StatusCode};
use serde_json::{Value, json};

const RECIPE: &str = r#"{"foot":{"length":2400},
    "swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#;
/// Those with a place in the navigation.
const SCREENS: [&str; 6] = ["/", "/measure", "/now", "/map", "/keep", "/pattern"];

async fn get(server: &Server, path: &str) -> Response {
    Client::new()
        .get(server.url(path))
        .send()
        .await
        .expect("the server answers")
}

async fn get_packed(server: &Server, path: &str, encoding: &str) -> Response {
    Client::new()
        .get(server.url(path))
        .header("accept-encoding", encoding)
        .send()
        .await
        .expect("the server answers")
}

async fn plan(server: &Server, kind: &str, body: impl Into<reqwest::Body>) -> Response {
    Client::new()
        .post(server.url("/api/plan"))
        .header("content-type", kind)
        .body(body)
        .send()
        .await
        .expect("the server answers")
}

fn header(response: &Response, name: &str) -> String {
    let value = response.headers().get(name).map(HeaderValue::to_str);
    value.and_then(Result::ok).unwrap_or_default().to_owned()
}

/// Checks that an answer is a problem document of the expected status, and returns it.
async fn problem(response: Response, status: StatusCode) -> Value {
    assert_eq!(response.status(), status);
    assert_eq!(
        header(&response, "content-type"),
        "application/problem+json"
    );
    assert_eq!(header(&response, "cache-control"), "no-store");
    assert_security(response.headers());
    let text = response.text().await.expect("a problem has a body");
    let problem: Value = serde_json::from_str(&text).expect("a problem is JSON");
    assert_eq!(problem["status"], status.as_u16());
    for member in ["type", "title", "detail"] {
        let text = problem[member].as_str().unwrap_or_default();
        assert!(!text.is_empty(), "{member} in {problem}");
    }
    problem
}

fn assert_security(headers: &HeaderMap) {
    let value = |name: &str| {
        headers
            .get(name)
            .and_then(|value| value.to_str().ok())
            .unwrap_or("")
    };
    let policy = value("content-security-policy");
    assert!(policy.contains("default-src 'none'"), "{policy}");
    assert!(
        policy.contains("script-src 'self' 'wasm-unsafe-eval';"),
        "{policy}"
    );
    assert!(policy.contains("frame-ancestors 'none'"), "{policy}");
    assert!(!policy.contains("unsafe-inline"), "{policy}");
    assert_eq!(value("x-content-type-options"), "nosniff");
    assert_eq!(value("referrer-policy"), "no-referrer");
    assert_eq!(value("cross-origin-opener-policy"), "same-origin");
    assert!(value("permissions-policy").contains("screen-wake-lock=(self)"));
}

/// An address on the page that ends as given.
fn asset(html: &str, ending: &str) -> String {
    html.split('"')
        .find(|part| part.starts_with("/pkg/") && part.ends_with(ending))
        .unwrap_or_else(|| panic!("no {ending} in {html}"))
        .to_owned()
}

/// Sends raw bytes and reads whatever comes back until the server closes.
fn raw(address: SocketAddr, request: &[u8]) -> String {
    let mut stream = TcpStream::connect(address).expect("the server listens");
    stream
        .set_read_timeout(Some(Duration::from_secs(30)))
        .expect("sockets have timeouts");
    stream.write_all(request).expect("the server reads");
    let mut answer = Vec::new();
    // A server may close at once on nonsense; what it said before counts.
    let _ = stream.read_to_end(&mut answer);
    String::from_utf8_lossy(&answer).into_owned()
}

#[tokio::test]
async fn every_screen_reads_without_scripts() {
    let server = Server::start();
    for path in SCREENS {
        let response = get(&server, path).await;
        assert_eq!(response.status(), StatusCode::OK, "{path}");
        assert_eq!(
            header(&response, "content-type"),
            "text/html; charset=utf-8"
        );
        assert_eq!(header(&response, "cache-control"), "no-cache");
        assert_security(response.headers());
        let html = response.text().await.expect("a page has a body");
        assert!(
            html.starts_with("<!DOCTYPE html><html lang=\"en\""),
            "{html}"
        );
        assert!(html.contains("<h1"), "{path} has a heading");
        // A pattern of her own is reached from Measure and from the basket, not from the bar.
        assert_eq!(
            html.contains("aria-current=\"page\""),
            path != "/pattern",
            "{path} in the navigation"
        );
        assert!(html.contains("<noscript>"), "{path}");
        // Now has one more, which shows what was seen last until the app is awake.
        let scripts = if path == "/now" { 2 } else { 1 };
        assert_eq!(html.matches("<script").count(), scripts, "{path}");
        let files = html.matches("<script").zip(html.matches("src=\"/pkg/"));
        assert_eq!(files.count(), scripts, "{path}: each is a file");
        assert!(
            !html.contains(" style=\"") && !html.contains(" onclick"),
            "nothing inline"
        );
    }
}

#[tokio::test]
async fn a_page_is_the_same_each_time_and_packed_on_request() {
    let server = Server::start();
    let first = get(&server, "/now")
        .await
        .bytes()
        .await
        .expect("a page has a body");
    let second = get(&server, "/now")
        .await
        .bytes()
        .await
        .expect("a page has a body");
    assert_eq!(first, second);
    for encoding in ["br", "gzip"] {
        let response = get_packed(&server, "/now", encoding).await;
        assert_eq!(header(&response, "content-encoding"), encoding);
        assert_eq!(header(&response, "vary"), "accept-encoding");
        let packed = response.bytes().await.expect("a page has a body");
        assert!(packed.len() < first.len());
    }
}

#[tokio::test]
async fn a_query_changes_no_route_and_breaks_nothing() {
    let server = Server::start();
    for query in [
        "?",
        "?a=1&b",
        "?%",
        "?%ff%00",
        "?<script>alert(1)</script>",
        "?=&&==#",
    ] {
        let answer = raw(
            server.address(),
            format!("GET /now{query} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n").as_bytes(),
        );
        let ok = answer.starts_with("HTTP/1.1 200 ") || answer.starts_with("HTTP/1.1 400 ");
        assert!(ok, "{query}: {answer}");
        assert!(!answer.contains("<script>alert"), "{query}: {answer}");
    }
}

#[tokio::test]
async fn hashed_files_are_kept_for_ever_and_packed_beforehand() {
    let server = Server::start();
    let html = get(&server, "/")
        .await
        .text()
        .await
        .expect("a page has a body");
    for (ending, kind) in [
        (".js", "text/javascript"),
        (".css", "text/css"),
        (".wasm", "application/wasm"),
    ] {
        let path = asset(&html, ending);
        let plain = get(&server, &path).await;
        assert_eq!(plain.status(), StatusCode::OK);
        assert!(header(&plain, "content-type").starts_with(kind), "{path}");
        assert_eq!(
            header(&plain, "cache-control"),
            "public, max-age=31536000, immutable"
        );
        assert_eq!(header(&plain, "content-encoding"), "");
        assert_security(plain.headers());
        let size = plain.bytes().await.expect("a file has a body").len();
        let mut sizes = vec![size];
        for encoding in ["gzip", "br"] {
            let packed = get_packed(&server, &path, encoding).await;
            assert_eq!(packed.status(), StatusCode::OK);
            assert_eq!(header(&packed, "content-encoding"), encoding, "{path}");
            assert!(header(&packed, "content-type").starts_with(kind), "{path}");
            assert_eq!(header(&packed, "vary"), "accept-encoding");
            sizes.push(packed.bytes().await.expect("a file has a body").len());
        }
        assert!(
            sizes[2] < sizes[1] && sizes[1] < sizes[0],
            "{path}: {sizes:?}"
        );
    }
}

#[tokio::test]
async fn files_with_a_fixed_name_are_asked_for_again() {
    let server = Server::start();
    for (path, kind) in [
        ("/sw.js", "text/javascript"),
        ("/manifest.webmanifest", "application/manifest+json"),
    ] {
        let response = get(&server, path).await;
        assert_eq!(response.status(), StatusCode::OK, "{path}");
        assert_eq!(header(&response, "content-type"), kind, "{path}");
        assert_eq!(header(&response, "cache-control"), "no-cache", "{path}");
    }
}

#[tokio::test]
async fn the_manifest_names_files_that_exist() {
    let server = Server::start();
    let text = get(&server, "/manifest.webmanifest")
        .await
        .text()
        .await
        .expect("it has a body");
    let manifest: Value = serde_json::from_str(&text).expect("a manifest is JSON");
    assert_eq!(manifest["name"], "Evenloop");
    assert_eq!(manifest["display"], "standalone");
    assert!(
        manifest.get("orientation").is_none(),
        "no orientation is forced"
    );
    let icons = manifest["icons"].as_array().expect("there are icons");
    for purpose in ["any", "maskable"] {
        for size in ["192x192", "512x512"] {
            let fits = |icon: &&Value| icon["purpose"] == purpose && icon["sizes"] == size;
            let icon = icons
                .iter()
                .find(fits)
                .expect("an icon of each size and purpose");
            // Told from where the manifest lies, so that one build serves below any base.
            let path = icon["src"].as_str().expect("an icon has an address");
            let path = &format!("/{path}");
            assert_eq!(get(&server, path).await.status(), StatusCode::OK, "{path}");
        }
    }
}

#[tokio::test]
async fn a_missing_file_is_never_a_page() {
    let server = Server::start();
    for path in [
        "/pkg/evenloop.0000000000000000.js",
        "/pkg/",
        "/icons/none.png",
        "/favicon.ico",
    ] {
        problem(get(&server, path).await, StatusCode::NOT_FOUND).await;
    }
    problem(get(&server, "/api/none").await, StatusCode::NOT_FOUND).await;
    let lost = get(&server, "/no-such-screen").await;
    assert_eq!(lost.status(), StatusCode::NOT_FOUND);
    assert_eq!(header(&lost, "content-type"), "text/html; charset=utf-8");
    assert_eq!(header(&lost, "cache-control"), "no-store");
}

#[tokio::test]
async fn no_path_leads_out_of_the_site() {
    let server = Server::start();
    for path in [
        "/../site.json",
        "/pkg/../../site.json",
        "/pkg/..%2f..%2fsite.json",
        "/%2e%2e/site.json",
        "/pkg/..\\..\\site.json",
        "/pkg/%5c..%5c..%5csite.json",
        "//etc/passwd",
        "/pkg//../../../../../../etc/passwd",
        "/pkg/%00",
    ] {
        let request = format!("GET {path} HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n");
        let answer = raw(server.address(), request.as_bytes());
        let status = answer.split(' ').nth(1).unwrap_or_default();
        assert!(["400", "404"].contains(&status), "{path}: {answer}");
        assert!(
            !answer.contains("root:") && !answer.contains("\"build\""),
            "{path}"
        );
    }
}

#[tokio::test]
async fn health_is_plain() {
    let server = Server::start();
    let response = get(&server, "/healthz").await;
    assert_eq!(response.status(), StatusCode::OK);
    assert_eq!(header(&response, "cache-control"), "no-store");
    assert_eq!(response.text().await.expect("it has a body"), "ok\n");
}

#[tokio::test]
async fn a_recipe_becomes_the_plan_that_the_engine_makes() {
    let server = Server::start();
    let response = plan(&server, "application/json; charset=utf-8", RECIPE).await;
    assert_eq!(response.status(), StatusCode::OK);
    assert_eq!(header(&response, "content-type"), "application/json");
    assert_eq!(header(&response, "cache-control"), "no-store");
    assert_security(response.headers());
    let document = response.text().await.expect("a plan has a body");
    // Whole plans are too long to be printed when they differ.
    assert!(
        Ok(document) == wire::plan_document(RECIPE),
        "phone and server would differ"
    );
}

#[tokio::test]
async fn wrong_fields_are_named() {
    let server = Server::start();
    let mut recipe: Value = serde_json::from_str(RECIPE).expect("the sample is JSON");
    recipe["foot"]["length"] = json!(20_000);
    let response = plan(&server, "application/json", recipe.to_string()).await;
    let problem = problem(response, StatusCode::UNPROCESSABLE_ENTITY).await;
    let errors = problem["errors"].as_array().expect("there is a list");
    let field = errors[0]["field"].as_str().unwrap_or_default();
    assert!(field.contains("length"), "{problem}");
    assert!(!errors[0]["message"].as_str().unwrap_or_default().is_empty());
    assert!(!errors[0]["help"].as_str().unwrap_or_default().is_empty());
}

#[tokio::test]
async fn absurd_recipes_are_refused_with_a_reason() {
    let server = Server::start();
    for recipe in [
        "{}",
        "[]",
        "null",
        "1e400",
        "\"sock\"",
        r#"{"foot":{"length":-1},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#,
        r#"{"foot":{"length":1e308},"swatch":{}}"#,
        r#"{"foot":{"length":18446744073709551616}}"#,
        r#"{"foot":{"length":2400},"swatch":{"stitches":0,"width":0,"rounds":0,"height":0}}"#,
        r#"{"foot":{"length":2400},"swatch":{"stitches":65535,"width":1,"rounds":65535,"height":1}}"#,
        r#"{"foot":{"length":2400,"toes":6},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#,
    ] {
        let response = plan(&server, "application/json", recipe).await;
        let status = response.status();
        assert!([400, 422].contains(&status.as_u16()), "{recipe}: {status}");
        problem(response, status).await;
    }
}

#[tokio::test]
async fn what_is_not_json_is_a_bad_request() {
    let server = Server::start();
    let deep = "[".repeat(16_000);
    let bodies: [&[u8]; 6] = [
        b"",
        b"{",
        b"{'foot': 1}",
        b"{} {}",
        b"\xff\xfe{}",
        deep.as_bytes(),
    ];
    for body in bodies {
        let response = plan(&server, "application/json", body.to_vec()).await;
        problem(response, StatusCode::BAD_REQUEST).await;
    }
}

#[tokio::test]
async fn a_body_over_16_kib_is_too_large() {
    let server = Server::start();
    let filled = |size: usize| format!("{RECIPE}{}", " ".repeat(size - RECIPE.len()));
    let fits = plan(&server, "application/json", filled(16 * 1024)).await;
    assert_eq!(fits.status(), StatusCode::OK);
    let over = plan(&server, "application/json", filled(16 * 1024 + 1)).await;
    problem(over, StatusCode::PAYLOAD_TOO_LARGE).await;
    // In chunks, so that no length is announced.
    let mut request = b"POST /api/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n\
        Transfer-Encoding: chunked\r\nConnection: close\r\n\r\n"
        .to_vec();
    for _ in 0..17 {
        request.extend_from_slice(b"400\r\n");
        request.extend_from_slice(&[b' '; 0x400]);
        request.extend_from_slice(b"\r\n");
    }
    request.extend_from_slice(b"0\r\n\r\n");
    let answer = raw(server.address(), &request);
    assert!(answer.starts_with("HTTP/1.1 413 "), "{answer}");
    assert!(answer.contains("application/problem+json"), "{answer}");
}

#[tokio::test]
async fn only_json_is_read() {
    let server = Server::start();
    for kind in [
        "text/plain",
        "application/x-www-form-urlencoded",
        "application/jsonp",
        "",
    ] {
        let response = plan(&server, kind, RECIPE).await;
        problem(response, StatusCode::UNSUPPORTED_MEDIA_TYPE).await;
    }
}

#[tokio::test]
async fn a_wrong_method_is_told_the_right_ones() {
    let server = Server::start();
    for (method, path, right) in [
        (Method::GET, "/api/plan", "POST"),
        (Method::DELETE, "/api/plan", "POST"),
        (Method::POST, "/now", "GET"),
        (Method::POST, "/healthz", "GET"),
        (Method::POST, "/sw.js", "GET"),
        (Method::PUT, "/pkg/none.js", "GET"),
    ] {
        let request = Client::new().request(method.clone(), server.url(path));
        let response = request.send().await.expect("the server answers");
        let allowed = header(&response, "allow");
        assert!(
            allowed.contains(right),
            "{method} {path} allows {allowed:?}"
        );
        problem(response, StatusCode::METHOD_NOT_ALLOWED).await;
    }
}

#[tokio::test]
async fn a_head_has_the_headers_and_no_body() {
    let server = Server::start();
    let response = Client::new()
        .head(server.url("/now"))
        .send()
        .await
        .expect("it answers");
    assert_eq!(response.status(), StatusCode::OK);
    assert_security(response.headers());
    assert_eq!(response.bytes().await.expect("it ends").len(), 0);
}

#[tokio::test]
async fn nonsense_gets_no_further() {
    let server = Server::start();
    for request in [
        b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n".to_vec(),
        b"GET / HTTP/9.9\r\n\r\n".to_vec(),
        b"GET /\xff HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n".to_vec(),
        [
            b"GET / HTTP/1.1\r\nX: ".to_vec(),
            vec![b'x'; 64 * 1024],
            b"\r\n\r\n".to_vec(),
        ]
        .concat(),
    ] {
        let answer = raw(server.address(), &request);
        assert!(
            answer.is_empty() || answer.starts_with("HTTP/1.1 4"),
            "{answer}"
        );
    }
    assert_eq!(get(&server, "/healthz").await.status(), StatusCode::OK);
}

#[tokio::test]
async fn a_slow_body_is_not_waited_for() {
    let server = Server::start();
    let address = server.address();
    let begin = Instant::now();
    let answer = tokio::task::spawn_blocking(move || {
        let head = "POST /api/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n\
            Content-Length: 100\r\n\r\n{";
        raw(address, head.as_bytes())
    })
    .await
    .expect("the caller lives");
    assert!(answer.starts_with("HTTP/1.1 408 "), "{answer}");
    assert!(answer.contains("application/problem+json"), "{answer}");
    assert!(begin.elapsed() < Duration::from_secs(20));
}

#[tokio::test]
async fn a_slow_head_is_not_waited_for() {
    let server = Server::start();
    let address = server.address();
    let begin = Instant::now();
    tokio::task::spawn_blocking(move || raw(address, b"GET / HTTP/1.1\r\nHost: x\r\n"))
        .await
        .expect("the caller lives");
    assert!(begin.elapsed() < Duration::from_secs(25));
}

#[tokio::test(flavor = "multi_thread")]
async fn plans_that_are_too_many_at_once_are_refused_until_some_are_made() {
    let server = Server::start();
    let address = server.address();
    let flood = tokio::task::spawn_blocking(move || flood::overload(address, RECIPE, &[]));
    // What lies ready is handed out all the while.
    while !flood.is_finished() {
        for path in ["/now", "/sw.js", "/healthz"] {
            assert_eq!(get(&server, path).await.status(), StatusCode::OK, "{path}");
        }
    }
    let (answers, _) = flood.await.expect("the callers live");
    let count = |status: &str| {
        let start = format!("HTTP/1.1 {status} ");
        answers.iter().filter(|at| at.starts_with(&start)).count()
    };
    println!("{} made, {} refused", count("200"), count("503"));
    assert!(count("200") >= 512 && count("503") > 0);
    assert_eq!(count("200") + count("503"), answers.len());
    for refusal in answers.iter().filter(|at| at.starts_with("HTTP/1.1 503 ")) {
        assert!(refusal.contains("retry-after: 1\r\n"), "{refusal}");
        assert!(refusal.contains("application/problem+json"), "{refusal}");
    }
    let after = plan(&server, "application/json", RECIPE).await;
    assert_eq!(after.status(), StatusCode::OK);
}

#[tokio::test(flavor = "multi_thread")]
async fn bodies_that_do_not_arrive_take_nobody_s_turn() {
    flood::allow_many_sockets();
    let server = Server::start();
    // More than there are turns, and more than may be arriving at once.
    let mut callers: Vec<_> = (0..1_100)
        .map(|_| flood::begin_planning(server.address(), RECIPE))
        .collect();
    let begin = Instant::now();
    for _ in 0..20 {
        let answer = plan(&server, "application/json", RECIPE).await;
        assert_eq!(answer.status(), StatusCode::OK);
    }
    println!("20 plans meanwhile: {:?}", begin.elapsed());
    assert!(begin.elapsed() < Duration::from_secs(4));
    // The first to come has held a place the longest and made way for others; the last still has one.
    let mut last = callers.pop().expect("there are many");
    let first = callers.swap_remove(0);
    let answers = tokio::task::spawn_blocking(move || {
        last.write_all(b"}").expect("the server reads");
        (flood::read_all(first), flood::read_all(last))
    });
    let (first, last) = answers.await.expect("the callers live");
    assert!(first.starts_with("HTTP/1.1 503 "), "{first}");
    assert!(first.contains("retry-after: 1\r\n"), "{first}");
    assert!(last.starts_with("HTTP/1.1 200 "), "{last:.300}");
}

#[tokio::test]
async fn a_plan_is_compressed_as_its_caller_prefers() {
    let server = Server::start();
    let whole = plan(&server, "application/json", RECIPE).await;
    assert!(!whole.headers().contains_key("content-encoding"));
    assert_eq!(header(&whole, "vary"), "accept-encoding");
    let whole = whole.bytes().await.expect("a plan has a body");
    for encoding in ["gzip", "br"] {
        let response = Client::new()
            .post(server.url("/api/plan"))
            .header("content-type", "application/json")
            .header("accept-encoding", encoding)
            .body(RECIPE)
            .send()
            .await
            .expect("the server answers");
        assert_eq!(header(&response, "content-encoding"), encoding);
        assert_eq!(header(&response, "vary"), "accept-encoding");
        let packed = response.bytes().await.expect("a plan has a body");
        assert!(
            packed.len() * 3 < whole.len(),
            "{encoding}: {}",
            packed.len()
        );
        let page = get_packed(&server, "/plan?r=nothing", encoding).await;
        assert_eq!(header(&page, "content-encoding"), encoding);
        assert_eq!(header(&page, "content-type"), "text/html; charset=utf-8");
    }
}

#[tokio::test]
async fn a_part_of_a_file_is_sent_on_request() {
    let server = Server::start();
    let html = get(&server, "/").await.text().await.expect("it is text");
    let path = asset(&html, ".js");
    let whole = get(&server, &path).await;
    assert_eq!(header(&whole, "accept-ranges"), "bytes");
    let etag = header(&whole, "etag");
    let whole = whole.bytes().await.expect("a file has a body");
    let ask = async |headers: &[(&str, &str)]| {
        let mut request = Client::new().get(server.url(&path));
        for (name, value) in headers {
            request = request.header(*name, *value);
        }
        request.send().await.expect("the server answers")
    };
    let length = whole.len();
    for (range, part) in [
        ("bytes=0-9", 0..10),
        ("bytes=10-", 10..length),
        ("bytes=-7", length - 7..length),
    ] {
        // Packed, the same bytes would mean something else.
        let part_of = ask(&[("range", range), ("accept-encoding", "br")]).await;
        assert_eq!(part_of.status(), StatusCode::PARTIAL_CONTENT, "{range}");
        let said = format!("bytes {}-{}/{length}", part.start, part.end - 1);
        assert_eq!(header(&part_of, "content-range"), said);
        assert_eq!(header(&part_of, "etag"), etag);
        assert!(!part_of.headers().contains_key("content-encoding"));
        assert_security(part_of.headers());
        let body = part_of.bytes().await.expect("a part has a body");
        assert_eq!(body, whole[part], "{range}");
    }
    let held = ask(&[("range", "bytes=0-9"), ("if-range", &etag)]).await;
    assert_eq!(held.status(), StatusCode::PARTIAL_CONTENT);
    let other = ask(&[("range", "bytes=0-9"), ("if-range", "\"x\"")]).await;
    assert_eq!(other.status(), StatusCode::OK);
    assert_eq!(other.bytes().await.expect("a body"), whole);
    let beyond = ask(&[("range", &format!("bytes={length}-"))]).await;
    assert_eq!(
        header(&beyond, "content-range"),
        format!("bytes */{length}")
    );
    problem(beyond, StatusCode::RANGE_NOT_SATISFIABLE).await;
}

#[tokio::test]
async fn a_file_that_is_another_now_is_not_taken_for_the_one_that_is_meant() {
    let server = Server::start();
    for path in ["/now", "/sw.js", "/api/openapi.json"] {
        let etag = header(&get(&server, path).await, "etag");
        let ask = async |tags: &str| {
            let request = Client::new().get(server.url(path)).header("if-match", tags);
            request.send().await.expect("the server answers")
        };
        for tags in ["*", &etag, &format!("\"x\", {etag}")] {
            assert_eq!(ask(tags).await.status(), StatusCode::OK, "{path} {tags}");
        }
        problem(ask("\"x\"").await, StatusCode::PRECONDITION_FAILED).await;
    }
}

#[tokio::test]
async fn a_page_with_a_slash_behind_it_has_moved() {
    let client = Client::builder()
        .redirect(reqwest::redirect::Policy::none())
        .build()
        .expect("a client");
    for (base, address) in [("/", ""), ("/socks/", "/socks")] {
        let server = Server::start_packed(&[("EVENLOOP_BASE", base)]);
        let ask = async |path: &str| {
            let request = client.get(server.url(&format!("{address}{path}")));
            request.send().await.expect("the server answers")
        };
        for (path, to) in [
            ("/now/", "/now"),
            ("/plan/?r=a/b&pair=%2f", "/plan?r=a/b&pair=%2f"),
            ("/measure/?", "/measure?"),
        ] {
            let moved = ask(path).await;
            assert_eq!(moved.status(), StatusCode::PERMANENT_REDIRECT, "{path}");
            assert_eq!(header(&moved, "location"), format!("{address}{to}"));
            assert_security(moved.headers());
        }
        for path in ["/now//", "//now/", "/sw.js/", "/no-such-screen/"] {
            let status = ask(path).await.status();
            assert_eq!(status, StatusCode::NOT_FOUND, "{path}");
        }
        if base != "/" {
            let moved = ask("?pair=2").await;
            assert_eq!(header(&moved, "location"), "/socks/?pair=2");
        }
    }
}

#[tokio::test]
async fn a_stop_lets_an_answer_under_way_finish() {
    let mut server = Server::start();
    let mut caller = TcpStream::connect(server.address()).expect("the server listens");
    let (begun, rest) = RECIPE.as_bytes().split_at(10);
    let head = format!(
        "POST /api/plan HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n\
         Content-Length: {}\r\n\r\n",
        RECIPE.len()
    );
    caller.write_all(head.as_bytes()).expect("the server reads");
    caller.write_all(begun).expect("the server reads");
    tokio::time::sleep(Duration::from_millis(200)).await;
    server.ask_to_stop();
    assert!(
        server.wait(Duration::from_millis(500)).is_none(),
        "it waits for the answer"
    );
    let refused = TcpStream::connect(server.address());
    assert!(refused.is_err(), "no new callers are taken");
    caller.write_all(rest).expect("the server still reads");
    caller
        .set_read_timeout(Some(Duration::from_secs(10)))
        .expect("sockets have timeouts");
    let mut answer = String::new();
    caller
        .read_to_string(&mut answer)
        .expect("the answer is whole");
    assert!(answer.starts_with("HTTP/1.1 200 "), "{answer}");
    let plan = wire::plan_document(RECIPE).unwrap_or_default();
    assert!(answer.ends_with(&plan), "the plan arrived whole");
    let status = server
        .wait(Duration::from_secs(5))
        .expect("it ends when all is said");
    assert!(status.success(), "{status}");
}

#[tokio::test]
async fn an_idle_connection_holds_up_no_stop() {
    let mut server = Server::start();
    let idle = TcpStream::connect(server.address()).expect("the server listens");
    tokio::time::sleep(Duration::from_millis(100)).await;
    server.ask_to_stop();
    let status = server.wait(Duration::from_secs(5)).expect("it ends");
    assert!(status.success(), "{status}");
    drop(idle);
}

/// A service manager may ask for settings to be read again where there is nothing to read.
#[tokio::test]
async fn without_a_certificate_a_renewal_changes_nothing() {
    let mut server = Server::start();
    server.ask_to_renew();
    let ended = server.wait(Duration::from_millis(500));
    assert!(ended.is_none(), "it goes on: {ended:?}");
    assert_eq!(get(&server, "/healthz").await.status(), StatusCode::OK);
}

#[tokio::test]
async fn below_a_base_everything_is_there_and_nothing_elsewhere() {
    let server = Server::start_packed(&[("EVENLOOP_BASE", "/socks/")]);
    let html = get(&server, "/socks/now").await.text().await;
    let html = html.expect("a page has a body");
    for path in [
        "/socks/",
        "/socks/plan?r=x",
        "/socks/healthz",
        "/socks/sw.js",
    ] {
        assert_eq!(get(&server, path).await.status(), StatusCode::OK, "{path}");
    }
    let assets = html.split('"').filter(|part| part.contains("/pkg/"));
    let assets: Vec<&str> = assets.collect();
    assert!(assets.len() >= 4, "{html}");
    for path in assets {
        assert!(path.starts_with("/socks/pkg/"), "{path}");
        let response = get(&server, path).await;
        assert_eq!(response.status(), StatusCode::OK, "{path}");
        assert!(
            header(&response, "cache-control").contains("immutable"),
            "{path}"
        );
    }
    let planned = Client::new()
        .post(server.url("/socks/api/plan"))
        .header("content-type", "application/json")
        .body(RECIPE);
    let planned = planned.send().await.expect("the server answers");
    assert_eq!(planned.status(), StatusCode::OK);
    for path in [
        "/",
        "/now",
        "/sw.js",
        "/healthz",
        "/api/plan",
        "/socksy/now",
    ] {
        problem(get(&server, path).await, StatusCode::NOT_FOUND).await;
    }
    let lost = get(&server, "/socks/nowhere").await;
    assert_eq!(lost.status(), StatusCode::NOT_FOUND);
    assert_eq!(header(&lost, "content-type"), "text/html; charset=utf-8");
    // Told without the host, whatever the caller says that is.
    let answer = raw(
        server.address(),
        b"GET /socks HTTP/1.1\r\nHost: elsewhere\r\nConnection: close\r\n\r\n",
    );
    assert!(answer.starts_with("HTTP/1.1 308 "), "{answer}");
    assert!(answer.contains("\r\nlocation: /socks/\r\n"), "{answer}");
    assert!(!answer.contains("elsewhere"), "{answer}");
}

#[tokio::test]
async fn a_copy_that_is_still_right_is_not_sent_again() {
    let server = Server::start();
    for path in [
        "/now",
        "/sw.js",
        "/manifest.webmanifest",
        "/api/openapi.json",
    ] {
        for encoding in ["identity", "gzip", "br"] {
            let first = get_packed(&server, path, encoding).await;
            let again = Client::new()
                .get(server.url(path))
                .header("accept-encoding", encoding)
                .header("if-none-match", header(&first, "etag"))
                .send()
                .await
                .expect("the server answers");
            assert_eq!(
                again.status(),
                StatusCode::NOT_MODIFIED,
                "{path} {encoding}"
            );
            assert_security(again.headers());
            assert_eq!(again.bytes().await.expect("it ends").len(), 0);
        }
    }
}

/// Starts the command and returns its exit code and what it said.
fn start_in_vain(settings: &[(&str, &str)], arguments: &[&str]) -> (Option<i32>, String) {
    let output = command()
        .envs(settings.iter().copied())
        .args(arguments)
        .stdin(Stdio::null())
        .output()
        .expect("the server can be started");
    (
        output.status.code(),
        String::from_utf8_lossy(&output.stderr).into_owned(),
    )
}

/// Environment, arguments, and what the reason has to mention.
type Case<'a> = (&'a [(&'a str, &'a str)], &'a [&'a str], &'a str);

#[test]
fn what_keeps_it_from_starting_is_said_kindly() {
    let taken = TcpListener::bind("127.0.0.1:0").expect("there is a free port");
    let address = taken.local_addr().expect("it has an address").to_string();
    let site = root().join("target/site");
    let site = site.to_string_lossy();
    let cases: [Case<'_>; 9] = [
        (
            &[("EVENLOOP_SITE", "/nowhere")],
            &[],
            "server/start --build",
        ),
        (
            &[("EVENLOOP_ADDR", "here"), ("EVENLOOP_SITE", &site)],
            &[],
            "EVENLOOP_ADDR",
        ),
        (
            &[("EVENLOOP_ADDR", &address), ("EVENLOOP_SITE", &site)],
            &[],
            "already listens",
        ),
        (
            &[("EVENLOOP_LOG_FORMAT", "xml"), ("EVENLOOP_SITE", &site)],
            &[],
            "text or json",
        ),
        (&[("EVENLOOP_BASE", "/so cks/")], &[], "EVENLOOP_BASE"),
        (&[], &["export", "--base", "..", "x"], "--base"),
        (&[], &["bundle"], "bundle FILE"),
        (&[], &["knit"], "--help"),
        (&[], &["pack", "one"], "Usage"),
    ];
    for (settings, arguments, expected) in cases {
        let (code, said) = start_in_vain(settings, arguments);
        assert_eq!(code, Some(1), "{said}");
        assert!(said.contains(expected), "{said}");
        assert!(!said.contains("panicked"), "{said}");
    }
}

/// Whoever builds the same sources with the same tools gets the same site, wherever that is.
#[test]
fn nothing_tells_where_the_site_was_built() {
    let here = root().canonicalize().expect("we are somewhere");
    let here = here.to_string_lossy();
    let mut looked_at = 0;
    for entry in walkdir::WalkDir::new(root().join("target/site")) {
        let entry = entry.expect("the site can be read");
        let name = entry.file_name().to_string_lossy();
        if !entry.file_type().is_file() || name.ends_with(".br") || name.ends_with(".gz") {
            continue;
        }
        let content = fs::read(entry.path()).expect("the file can be read");
        for place in ["registry/src", "/.cargo/", &here] {
            let told = content
                .windows(place.len())
                .any(|at| at == place.as_bytes());
            assert!(!told, "{name} tells of {place}");
        }
        looked_at += 1;
    }
    assert!(looked_at > 20, "{looked_at} files");
}
