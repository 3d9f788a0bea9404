//! A knitting chart: what stands in its cells, how it is drawn, and a grid to write it in.

mod cells;
mod grid;
mod picture;
mod symbol;

pub use cells::{Cells, Symbol, symbols};
pub use grid::ChartGrid;
pub use picture::{Chart, chart_svg};
pub use symbol::drawn;
