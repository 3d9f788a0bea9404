//! How far a pair is, in a few words: for its card, and where two devices are compared.
//!
//! May use what the store knows of progress; must not know any screen.

use evenloop_engine::text as engine_text;
use evenloop_engine::text::Wording;

use crate::store::PairProgress;
use crate::text;

/// Which sock is on the needles, and where.
pub fn words(progress: &PairProgress, wording: Wording) -> String {
    if progress.finished {
        return text::basket::PAIR_DONE.to_owned();
    }
    let total = progress.total;
    // The section's name is the only word of it that differs between wordings.
    let section = progress.section();
    let section = section.map_or("", |kind| engine_text::section_name(kind, wording.english));
    match (progress.both, progress.done) {
        (Some([0, 0]), _) => text::basket::TOGETHER_NOT_BEGUN.to_owned(),
        (Some([first, second]), _) if first == second => {
            text::basket::together(section, first, total)
        }
        (Some(both), _) => text::basket::together_apart(section, both, total),
        (None, 0) => text::basket::not_begun(progress.sock),
        (None, done) if done >= total => text::basket::FIRST_DONE.to_owned(),
        (None, done) => text::basket::on_needles(progress.sock, section, done, total),
    }
}
