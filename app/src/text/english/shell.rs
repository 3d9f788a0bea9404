//! What the document around the app says by itself.

pub(crate) const DESCRIPTION: &str =
    "A sock plan that fits, and a companion that counts beside the knitting.";
pub(crate) const WITHOUT_SCRIPTS: &str =
    "The plan can be read without JavaScript; counting rounds needs it.";
pub(crate) const TROUBLE: &str = "Something went wrong on this page. What you have knitted is kept on this device; please reload to go on.";
pub(crate) const WAITING: &str = "Not all of Evenloop has arrived yet. It is asked for again and again until it is here; what you have knitted is kept on this device.";
