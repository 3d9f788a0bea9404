//! The server over real TLS, with a certificate made for the test: both versions of HTTP, plain
//! callers, a certificate renewed while it runs, and settings that cannot work.

#![allow(clippy::expect_used, reason = "a test that cannot go on stops")]

use std::fs;
use std::io::{Read, Write};
use std::net::TcpStream as PlainStream;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use evenloop_engine::wire;
use evenloop_tests::server::{Server, command, root};
use http_body_util::{BodyExt, Empty, Full};
use hyper::body::Bytes;
use hyper::{Request, Response, StatusCode};
use hyper_util::rt::{TokioExecutor, TokioIo, TokioTimer};
use rcgen::{CertifiedKey, KeyPair, generate_simple_self_signed};
use tempfile::TempDir;
use tokio::net::TcpStream;
use tokio_rustls::TlsConnector;
use tokio_rustls::client::TlsStream;
use tokio_rustls::rustls::crypto::ring;
use tokio_rustls::rustls::pki_types::{CertificateDer, ServerName};
use tokio_rustls::rustls::{ClientConfig, RootCertStore};

const RECIPE: &str = r#"{"foot":{"length":2400},
    "swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#;
/// A name that is set aside for tests (RFC 6761).
const NAME: &str = "socks.test";

/// A certificate and its key, on disk.
struct Papers {
    folder: TempDir,
    made: CertifiedKey<KeyPair>,
}

impl Papers {
    fn make() -> Self {
        let folder = tempfile::tempdir().expect("there is room");
        let made = write_papers(folder.path());
        Self { folder, made }
    }

    /// Other ones in the same place.
    fn renew(&mut self) {
        self.made = write_papers(self.folder.path());
    }

    fn path(&self, name: &str) -> String {
        self.folder.path().join(name).to_string_lossy().into_owned()
    }

    fn serve(&self) -> Server {
        Server::start_packed(&[
            ("EVENLOOP_TLS_CERT", &self.path("certificate.pem")),
            ("EVENLOOP_TLS_KEY", &self.path("key.pem")),
        ])
    }

    fn certificate(&self) -> CertificateDer<'static> {
        self.made.cert.der().clone()
    }
}

fn write_papers(folder: &Path) -> CertifiedKey<KeyPair> {
    let made = generate_simple_self_signed([NAME.to_owned()]).expect("a certificate can be made");
    fs::write(folder.join("certificate.pem"), made.cert.pem()).expect("there is room");
    fs::write(folder.join("key.pem"), made.signing_key.serialize_pem()).expect("there is room");
    made
}

/// A connection by somebody who trusts this one certificate and speaks these protocols.
async fn call(
    server: &Server,
    trusted: &CertificateDer<'static>,
    protocols: &[&str],
) -> std::io::Result<TlsStream<TcpStream>> {
    let mut roots = RootCertStore::empty();
    roots.add(trusted.clone()).expect("it is a certificate");
    let mut config = ClientConfig::builder_with_provider(Arc::new(ring::default_provider()))
        .with_safe_default_protocol_versions()
        .expect("ring knows TLS")
        .with_root_certificates(roots)
        .with_no_client_auth();
    config.alpn_protocols = protocols
        .iter()
        .map(|name| name.as_bytes().to_vec())
        .collect();
    let stream = TcpStream::connect(server.address()).await?;
    let name = ServerName::try_from(NAME).expect("it is a name");
    TlsConnector::from(Arc::new(config))
        .connect(name, stream)
        .await
}

async fn text<E: std::fmt::Debug>(
    response: Response<impl hyper::body::Body<Data = Bytes, Error = E>>,
) -> String {
    let body = response.into_body().collect().await.expect("it has a body");
    String::from_utf8(body.to_bytes().to_vec()).expect("it is text")
}

#[tokio::test]
async fn a_page_and_a_plan_over_http_1() {
    let papers = Papers::make();
    let server = papers.serve();
    for protocols in [&["http/1.1"][..], &[]] {
        let stream = call(&server, &papers.certificate(), protocols).await;
        let stream = TokioIo::new(stream.expect("TLS is spoken"));
        let (mut ask, connection) = hyper::client::conn::http1::handshake(stream)
            .await
            .expect("HTTP/1.1 is spoken");
        tokio::spawn(connection);
        let page = Request::get("/now").header("host", NAME);
        let page = page.body(Full::default()).expect("a request");
        let answer = ask.send_request(page).await.expect("it answers");
        assert_eq!(answer.status(), StatusCode::OK);
        assert!(answer.headers().contains_key("content-security-policy"));
        assert!(text(answer).await.contains("<h1"));
        let plan = Request::post("/api/plan")
            .header("host", NAME)
            .header("content-type", "application/json")
            .body(Full::new(Bytes::from(RECIPE)))
            .expect("a request");
        let answer = ask.send_request(plan).await.expect("it answers");
        assert_eq!(answer.status(), StatusCode::OK);
        assert!(Ok(text(answer).await) == wire::plan_document(RECIPE));
    }
}

// More than one thread: the caller has to go on listening while the test waits for the server's end.
#[tokio::test(flavor = "multi_thread")]
async fn many_answers_at_once_over_http_2_and_a_stop_in_between() {
    let papers = Papers::make();
    let mut server = papers.serve();
    let stream = call(&server, &papers.certificate(), &["h2", "http/1.1"]).await;
    let stream = stream.expect("TLS is spoken");
    assert_eq!(stream.get_ref().1.alpn_protocol(), Some(&b"h2"[..]));
    let (ask, connection) =
        hyper::client::conn::http2::handshake(TokioExecutor::new(), TokioIo::new(stream))
            .await
            .expect("HTTP/2 is spoken");
    tokio::spawn(connection);
    let ask_page = |number: usize| {
        let mut ask = ask.clone();
        async move {
            let path = ["/now", "/measure", "/sw.js", "/plan?r=x"][number % 4];
            let request = Request::get(format!("https://{NAME}{path}"));
            let request = request.body(Empty::<Bytes>::new()).expect("a request");
            let answer = ask.send_request(request).await?;
            assert_eq!(answer.status(), StatusCode::OK);
            assert!(answer.headers().contains_key("content-security-policy"));
            assert!(!text(answer).await.is_empty());
            Ok::<_, hyper::Error>(())
        }
    };
    let asked: Vec<_> = (0..100)
        .map(|number| tokio::spawn(ask_page(number)))
        .collect();
    for answer in asked {
        answer.await.expect("no panic").expect("it answers");
    }
    server.ask_to_stop();
    let end = server.wait(Duration::from_secs(5)).expect("it ends");
    assert!(end.success(), "{end}");
}

// More than one thread: the connection has to go on being driven while the test waits.
#[tokio::test(flavor = "multi_thread")]
async fn pings_keep_no_connection_open_over_which_nothing_is_asked() {
    let papers = Papers::make();
    let server = papers.serve();
    let stream = call(&server, &papers.certificate(), &["h2"]).await;
    let stream = TokioIo::new(stream.expect("TLS is spoken"));
    let (mut ask, connection) = hyper::client::conn::http2::Builder::new(TokioExecutor::new())
        .timer(TokioTimer::new())
        .keep_alive_interval(Duration::from_secs(3))
        .keep_alive_while_idle(true)
        .handshake(stream)
        .await
        .expect("HTTP/2 is spoken");
    let connection = tokio::spawn(connection);
    for _ in 0..2 {
        tokio::time::sleep(Duration::from_secs(10)).await;
        let page = Request::get(format!("https://{NAME}/now"))
            .body(Empty::<Bytes>::new())
            .expect("a request");
        let answer = ask.send_request(page).await.expect("it answers");
        assert!(text(answer).await.contains("<h1"));
    }
    // Requests are a sign of life, so it has been open for twenty seconds; now there are none.
    let idle = Instant::now();
    let closed = tokio::time::timeout(Duration::from_secs(40), connection).await;
    assert!(closed.is_ok(), "still open after {:?}", idle.elapsed());
    assert!(
        idle.elapsed() > Duration::from_secs(20),
        "{:?}",
        idle.elapsed()
    );
}

#[tokio::test]
async fn strangers_are_not_trusted_and_plain_callers_are_told() {
    let papers = Papers::make();
    let server = papers.serve();
    let others = Papers::make();
    assert!(call(&server, &others.certificate(), &[]).await.is_err());

    let mut plain = PlainStream::connect(server.address()).expect("the server listens");
    plain
        .write_all(b"GET / HTTP/1.1\r\nHost: x\r\n\r\n")
        .expect("the server reads");
    let mut answer = String::new();
    // The rest of the request is not taken, so the connection may break after the answer.
    let _ = plain.read_to_string(&mut answer);
    assert!(answer.starts_with("HTTP/1.1 400 "), "{answer}");
    assert!(
        answer.ends_with("https:// in front of this site's address"),
        "{answer}"
    );

    let mut broken = PlainStream::connect(server.address()).expect("the server listens");
    broken.write_all(&[22; 2_000]).expect("the server reads");
    let mut answer = Vec::new();
    let _ = broken.read_to_end(&mut answer);
    assert!(!answer.starts_with(b"HTTP"));
    assert!(call(&server, &papers.certificate(), &[]).await.is_ok());
}

/// Tries until it is so; a signal takes its time.
async fn until_trusted(server: &Server, certificate: &CertificateDer<'static>) -> bool {
    for _ in 0..100 {
        if call(server, certificate, &[]).await.is_ok() {
            return true;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    false
}

#[tokio::test]
async fn a_certificate_is_renewed_while_it_runs() {
    let mut papers = Papers::make();
    let server = papers.serve();
    let old = papers.certificate();
    assert!(call(&server, &old, &[]).await.is_ok());
    papers.renew();
    assert!(
        call(&server, &old, &[]).await.is_ok(),
        "not before it is asked to"
    );
    server.ask_to_renew();
    assert!(until_trusted(&server, &papers.certificate()).await);
    assert!(call(&server, &old, &[]).await.is_err());
    // What cannot be used changes nothing.
    fs::write(papers.path("key.pem"), "no key").expect("there is room");
    server.ask_to_renew();
    tokio::time::sleep(Duration::from_millis(300)).await;
    assert!(call(&server, &papers.certificate(), &[]).await.is_ok());
}

#[test]
fn what_cannot_be_used_is_named() {
    let papers = Papers::make();
    let others = Papers::make();
    let (certificate, key) = (papers.path("certificate.pem"), papers.path("key.pem"));
    let (other_key, nowhere) = (others.path("key.pem"), papers.path("nowhere.pem"));
    let site = root().join("target/site");
    for (certificate, key, expected) in [
        (Some(&certificate), None, "EVENLOOP_TLS_KEY is not"),
        (None, Some(&key), "EVENLOOP_TLS_CERT is not"),
        (Some(&nowhere), Some(&key), "nowhere.pem"),
        (Some(&certificate), Some(&nowhere), "nowhere.pem"),
        (Some(&key), Some(&key), "holds no certificate"),
        (
            Some(&certificate),
            Some(&certificate),
            "certificate.pem cannot",
        ),
        (Some(&certificate), Some(&other_key), "do not make TLS"),
    ] {
        let mut command = command();
        command
            .env("EVENLOOP_SITE", &site)
            .env("EVENLOOP_ADDR", "127.0.0.1:0");
        for (name, value) in [
            ("EVENLOOP_TLS_CERT", certificate),
            ("EVENLOOP_TLS_KEY", key),
        ] {
            if let Some(value) = value {
                command.env(name, value);
            }
        }
        let output = command.output().expect("it can be started");
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{expected}: {said}");
        assert!(said.contains(expected), "{expected}: {said}");
    }
}
