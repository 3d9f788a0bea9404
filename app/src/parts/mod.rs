//! Pieces that more than one screen uses: heads, notices, fields, choices, icons, navigation.
//!
//! May use leptos, the fabric's pictures, the engine's error type, its operations and its words; must not know
//! any screen, storage or the clock. They show what they are given and report what is done to them.

mod chart;
mod choice;
mod fabric_picture;
mod field;
mod folded;
mod icon;
mod lazy;
mod nav;
mod notice;
mod page_head;
mod pane;
pub mod plain;
mod select;
mod stepper;
mod wording;
mod yarn;

pub use chart::{Cells, Chart, ChartGrid, Symbol, chart_svg, drawn, symbols};
pub use choice::{Choice, ChoiceGroup, Switch, Width};
pub use fabric_picture::FabricFigure;
pub use field::{Said, TextField, pair_name};
pub use folded::Folded;
pub use icon::{Icon, Sign};
pub use lazy::{Coming, later, soon};
pub use nav::NavBar;
pub use notice::{Notice, Tone, failure, outcome};
pub use page_head::PageHead;
pub use pane::Pane;
pub use select::Select;
pub use stepper::Stepper;
pub use wording::{ShownText, problem, provide_wording, said, use_wording};
pub use yarn::{YarnPatch, YarnPick, yarn_class};
