//! Outside checks of the whole: the engine against an independent count.

pub mod model;
