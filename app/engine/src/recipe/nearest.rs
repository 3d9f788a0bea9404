//! What of a recipe would fit where something else was asked for.

use serde::{Deserialize, Serialize};

/// The number of stitches that fits where another was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub struct NearestFit {
    /// Stitches around.
    pub stitches: u16,
    /// Whether it needs the motif on the front only.
    #[serde(default)]
    pub front_only: bool,
}
