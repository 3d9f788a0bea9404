//! A knitting chart: what stands in its cells, how it is drawn, and a grid to write it in.
//!
//! May use the engine's motif rows and operations, and the app's words. Must not know a screen, or whose chart it is.

mod cells;
mod grid;
mod picture;
mod symbol;

pub use cells::{Cells, Symbol, symbols};
pub use grid::ChartGrid;
pub use picture::{Chart, chart_svg};
pub use symbol::drawn;
