//! The walk through the screens.

pub(crate) const BASKET: &str = "The basket holds your pairs: those on the needles, and those that are done. Touch one to knit on.";
pub(crate) const MEASURE: &str = "Here a sock begins: a foot, a swatch, a few choices. The plan is at the end of the page and follows every change. “Cast on” puts the pair in the basket.";
pub(crate) const NOW: &str = "The round at hand, once a pair is cast on: what to do on each needle, and how many stitches it holds afterwards. The large pad counts; Undo takes one back.";
pub(crate) const MAP: &str =
    "The whole sock to scale, filled as far as it is knitted. Touch a part to read its rounds.";
pub(crate) const KEEP: &str = "Words, letters and light as you like them, and a backup of everything. Without an account, all of it lives on this device alone: now and then, save a backup.";

pub(crate) const LABEL: &str = "A walk through the screens";
pub(crate) const END: &str = "End the walk";
pub(crate) const DONE: &str = "That was all";

/// Goes on to the next screen.
pub(crate) fn on_to(screen: &str) -> String {
    format!("On to {screen}")
}

/// Which step this is.
pub(crate) fn step(number: usize, of: usize) -> String {
    format!("{number} / {of}")
}
