//! A knitting chart: what stands in its cells, and how it is drawn.

mod cells;

pub use cells::{Cells, Symbol, symbols};
