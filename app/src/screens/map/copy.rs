//! Every sentence of Map.

use evenloop_engine::journal::Seconds;
use evenloop_engine::recipe::Recipe;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::together::Sock;

pub(super) const TITLE: &str = "Map";
pub(super) const HERE: &str = "you are here";
pub(super) const TO_NOW: &str = "Back to the needles";
pub(super) const SECTIONS: &str = "From the first stitch to the last";
pub(super) const FINISHED: &str = "This sock is finished.";
pub(super) const DONE: &str = "done";
pub(super) const FAINT: &str = "Faint: still to be knitted.";

/// The drawing, for the ear.
pub(super) fn drawing(at: Option<&str>, whole: (usize, usize), recipe: &Recipe) -> String {
    let (done, of) = whole;
    let sock = match at {
        Some(section) => format!(
            "The sock drawn to scale, knitted as far as the {}: {done} of {of} steps.",
            section.to_lowercase()
        ),
        None => "The sock drawn to scale, all of it knitted.".to_owned(),
    };
    let yarns = recipe.yarns.as_ref().map_or(String::new(), |yarns| {
        format!(" With {}.", of_yarns(&yarns.used()))
    });
    let motif = match recipe.motif {
        Some(_) => " The motif is drawn on it.",
        None => "",
    };
    sock + &yarns + motif
}

/// Which yarns: "yarn A", "yarns A, B and C".
pub(super) fn of_yarns(yarns: &[Yarn]) -> String {
    let letters: Vec<String> = yarns.iter().map(|y| y.letter().to_string()).collect();
    match letters.split_last() {
        Some((last, [])) => format!("yarn {last}"),
        Some((last, others)) => format!("yarns {} and {last}", others.join(", ")),
        None => String::new(),
    }
}

/// Said after the place was changed.
pub(super) const MOVED: &str = "Your place has been moved. Undo brings the old one back.";
pub(super) const UNDO: &str = "Undo";

pub(super) const OTHERWISE: &str = "Not as it was planned";

/// What is told of one sock.
pub(super) fn on_sock(sock: Sock, text: &str) -> String {
    format!("{}: {text}", crate::text::now::sock(sock))
}

/// Time so far, and time left for one sock or both.
pub(super) fn time(spent: Seconds, left: Option<Seconds>, both: bool) -> Option<String> {
    let what = if both { "both socks" } else { "this sock" };
    let so_far = (spent >= 60).then(|| format!("{} of knitting so far.", about(spent)))?;
    Some(match left {
        Some(left) if left > 0 => format!(
            "{so_far} {} to the end of {what}, if you go on at your own pace.",
            about(left)
        ),
        _ => so_far,
    })
}

/// So long, no finer than it is sure.
fn about(seconds: Seconds) -> String {
    let minutes = seconds.div_ceil(60);
    match minutes {
        0..20 => format!("About {minutes} min"),
        20..120 => format!("About {} min", (minutes + 2) / 5 * 5),
        _ => match (minutes + 15) / 30 {
            halves if halves % 2 == 1 => format!("About {}½ h", halves / 2),
            halves => format!("About {} h", halves / 2),
        },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn time_is_told_no_finer_than_it_is_sure() {
        assert_eq!(about(61), "About 2 min");
        assert_eq!(about(43 * 60), "About 45 min");
        assert_eq!(about(119 * 60), "About 120 min");
        assert_eq!(about(140 * 60), "About 2½ h");
        assert_eq!(about(7200), "About 2 h");
        assert_eq!(time(30, Some(99), false), None);
        assert_eq!(
            time(600, None, false).as_deref(),
            Some("About 10 min of knitting so far.")
        );
    }
}
