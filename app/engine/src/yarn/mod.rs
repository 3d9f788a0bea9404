//! Metres and grams. The only floating point of the engine: it never decides a count, and its
//! results are rounded to whole decimetres before anyone sees them. Only operations that are
//! exact to the last bit everywhere (`+ * / sqrt`) are used, so phone and server agree.
//!
//! Model: yarn in one stitch, l = sqrt(ks / S), S = stitches x rounds per square centimetre, with
//! ks = 21.6 for wet-relaxed plain knitting (Munden 1959; constant from memory). Fitted on
//! machine-knit wool: for hand knitting an estimate within about a tenth.
//!
//! May use plans and their swatch, and what was weighed in a log. Must not know a sentence, and nothing it finds
//! may change a plan.

mod budget;
mod rate;
mod scale;
mod usage;

pub use budget::{Budget, Halves, Need, Verdict, budget, budget_of};
pub use scale::{GramRange, read_grams, scale_step};
pub use usage::{
    KS_WET, Usage, decimetres, grams, loop_length_cm, usage, usage_at, usage_by_yarn, usage_from,
    with_allowance,
};
