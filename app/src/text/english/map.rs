//! Map.

use evenloop_engine::stitch::Yarn;
use evenloop_engine::together::Sock;

pub(crate) const HERE: &str = "you are here";
pub(crate) const TO_NOW: &str = "Back to the needles";
pub(crate) const SECTIONS: &str = "From the first stitch to the last";
pub(crate) const FINISHED: &str = "This sock is finished.";
pub(crate) const DONE: &str = "done";
pub(crate) const FAINT: &str = "Faint: still to be knitted.";

/// The drawing, for the ear: knitted as far as this section and so many steps, with these yarns where
/// there are several.
pub(crate) fn drawing(
    section: Option<&str>,
    (done, of): (usize, usize),
    yarns: &[Yarn],
    motif: bool,
) -> String {
    let sock = match section {
        Some(section) => format!(
            "The sock drawn to scale, knitted as far as the {section}: {done} of {of} steps."
        ),
        None => "The sock drawn to scale, all of it knitted.".to_owned(),
    };
    let yarns = if yarns.is_empty() {
        String::new()
    } else {
        format!(" With {}.", of_yarns(yarns))
    };
    let motif = if motif {
        " The stitch pattern is drawn on it."
    } else {
        ""
    };
    sock + &yarns + motif
}

/// Which yarns: "yarn A", "yarns A, B and C".
pub(crate) fn of_yarns(yarns: &[Yarn]) -> String {
    let letters: Vec<String> = yarns.iter().map(|y| y.letter().to_string()).collect();
    match letters.split_last() {
        Some((last, [])) => format!("yarn {last}"),
        Some((last, others)) => format!("yarns {} and {last}", others.join(", ")),
        None => String::new(),
    }
}

/// Said after the place was changed.
pub(crate) const MOVED: &str = "Your place has been moved. Undo brings the old one back.";
pub(crate) const UNDO: &str = "Undo";

pub(crate) const OTHERWISE: &str = "Not as it was planned";

/// What is told of one sock.
pub(crate) fn on_sock(sock: Sock, text: &str) -> String {
    format!("{}: {text}", super::now::sock(sock))
}

/// How long a section is, after how much of it is done.
pub(crate) fn of_length(length: &str) -> String {
    format!(" · {length}")
}

/// Which yarns a section takes, after how much of it is done.
pub(crate) fn with_yarns(yarns: &[Yarn]) -> String {
    format!(" · {}", of_yarns(yarns))
}

/// So many minutes.
pub(crate) fn minutes(minutes: u64) -> String {
    format!("About {minutes} min")
}

/// So many hours, and perhaps half an hour more.
pub(crate) fn hours(hours: u64, half: bool) -> String {
    let half = if half { "½" } else { "" };
    format!("About {hours}{half} h")
}

/// Time so far.
pub(crate) fn so_far(spent: &str) -> String {
    format!("{spent} of knitting so far.")
}

/// Time left for one sock or both.
pub(crate) fn left(left: &str, both: bool) -> String {
    let what = if both { "both socks" } else { "this sock" };
    format!("{left} to the end of {what}, if you go on at your own pace.")
}

/// Time so far and time left.
pub(crate) fn time(so_far: &str, left: &str) -> String {
    format!("{so_far} {left}")
}
