//! One module a screen. A screen shows and asks; it never computes a count.

pub mod basket;
pub mod keep;
pub mod map;
pub mod measure;
pub mod now;
pub mod plan;

pub use basket::BasketScreen;
pub use keep::KeepScreen;
pub use map::MapScreen;
pub use measure::MeasureScreen;
pub use now::NowScreen;
pub use plan::PlanScreen;
