//! What stands hidden in every page, for the day it is needed.

pub(crate) const BROKEN: &str = "Something went wrong on this page. What you have knitted is kept on this device; please reload to go on.";
pub(crate) const WAITING: &str = "Not all of Evenloop has arrived yet. It is asked for again and again until it is here; what you have knitted is kept on this device.";
