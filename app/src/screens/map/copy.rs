//! Every sentence of Map.

use evenloop_engine::words;

use evenloop_engine::plan::SectionKind;

pub(super) const TITLE: &str = "Map";
pub(super) const HERE: &str = "you are here";
pub(super) const TO_NOW: &str = "Back to the needles";
pub(super) const SECTIONS: &str = "From the first stitch to the last";
pub(super) const FINISHED: &str = "This sock is finished.";
pub(super) const DONE: &str = "done";

/// The drawing, for the ear.
pub(super) fn drawing(at: Option<SectionKind>, whole: (usize, usize)) -> String {
    let (done, of) = whole;
    match at {
        Some(kind) => format!(
            "The sock drawn to scale, knitted as far as the {}: {done} of {of} steps.",
            words::section_name(kind).to_lowercase()
        ),
        None => "The sock drawn to scale, all of it knitted.".to_owned(),
    }
}

/// Said after the place was changed.
pub(super) const MOVED: &str = "Your place has been moved. Undo on Now brings the old one back.";
