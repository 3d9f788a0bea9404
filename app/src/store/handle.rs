//! The store as a value: all its rules, over one shelf.

use super::shelf::Shelf;

#[cfg(feature = "hydrate")]
use super::browser::Browser as Here;
#[cfg(not(feature = "hydrate"))]
use super::shelf::NoShelf as Here;

/// Everything the app keeps, over one shelf. Its methods stand in the files of what they are about.
#[derive(Clone, Copy)]
pub struct Store<'a> {
    shelf: &'a dyn Shelf,
}

impl<'a> Store<'a> {
    /// The store over a shelf.
    pub(super) const fn on(shelf: &'a dyn Shelf) -> Self {
        Self { shelf }
    }

    /// What it is kept on.
    pub(super) const fn shelf(self) -> &'a dyn Shelf {
        self.shelf
    }
}

/// The store of this browser; on the server one that refuses everything.
pub const fn here() -> Store<'static> {
    Store::on(&Here)
}
