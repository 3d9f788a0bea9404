//! Pictures of socks for screens that are whole without them: what draws them is loaded when the first one is
//! asked for. Map and Plan, which draw from the start, have it in their own parts.
//!
//! May use the store, the engine's stored forms and the fabric; must not know any screen. On the server
//! it is simply there.

// The attribute that marks where to split writes foreign functions, which the tool puts in.
#![allow(unsafe_code)]

use std::sync::Arc;

use evenloop_engine::link::read_link;
use evenloop_engine::plan::{Plan, make};
use evenloop_engine::trace::Trace;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::fabric::{Detail, Drawing, FabricPicture};
use crate::hue::Hue;
use crate::store::{self, PairId};

/// What is drawn when all of a sock is to be seen.
const fn small(hues: [Hue; 4], name: &str) -> Drawing<'_> {
    Drawing {
        detail: Detail::Strokes,
        hues,
        at: None,
        name,
    }
}

/// Why there is no picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoPicture {
    /// What draws it cannot be had.
    NotLoaded,
    /// The pair does not open.
    Shut,
    /// The recipe makes no sock, or its plan cannot be knitted.
    NoSock,
}

impl From<SplitLoaderError> for NoPicture {
    fn from(_: SplitLoaderError) -> Self {
        Self::NotLoaded
    }
}

/// The sock of a pair that is on the needles, as far as it is knitted.
///
/// # Errors
/// When the pair does not open, or this cannot be had.
#[wasm_split(pictures, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn of_pair(id: PairId, hues: [Hue; 4]) -> Result<FabricPicture, NoPicture> {
    let pair = store::here().open(&id).map_err(|_| NoPicture::Shut)?;
    let sock = usize::from(pair.head.progress.sock.saturating_sub(1));
    let both = pair.patterns.get(sock).zip(pair.journals.get(sock));
    let (pattern, journal) = both.ok_or(NoPicture::Shut)?;
    let drawing = Drawing {
        at: (!pair.head.progress.finished).then(|| journal.position()),
        ..small(hues, "pair")
    };
    FabricPicture::of(&pattern.plan, &pattern.trace, &drawing).ok_or(NoPicture::NoSock)
}

/// The whole sock of a plan, closely.
///
/// # Errors
/// When the plan cannot be knitted, or this cannot be had.
#[wasm_split(pictures, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn of_plan(plan: Arc<Plan>, hues: [Hue; 4]) -> Result<FabricPicture, NoPicture> {
    let trace = Trace::of(&plan).map_err(|_| NoPicture::NoSock)?;
    let drawing = Drawing {
        detail: Detail::Legs,
        ..small(hues, "plan")
    };
    FabricPicture::of(&plan, &trace, &drawing).ok_or(NoPicture::NoSock)
}

/// The whole sock of a recipe's link.
///
/// # Errors
/// When the recipe makes no sock, or this cannot be had.
#[wasm_split(pictures, wasm_split_path = ::leptos::wasm_split, fallible)]
pub fn of_link(link: String, hues: [Hue; 4]) -> Result<FabricPicture, NoPicture> {
    let recipe = read_link(&link).map_err(|_| NoPicture::NoSock)?;
    let plan = make(&recipe).map_err(|_| NoPicture::NoSock)?;
    let trace = Trace::of(&plan).map_err(|_| NoPicture::NoSock)?;
    FabricPicture::of(&plan, &trace, &small(hues, "recipe")).ok_or(NoPicture::NoSock)
}
