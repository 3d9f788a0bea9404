//! The picture on a page that follows the needles. What is in it is written by [`super::markup`], in three layers: in a
//! round that changes no count, only the groups are put into the page anew.

use std::sync::Arc;

use evenloop_engine::needles::Needles;
use leptos::prelude::*;

use super::look::Look;
use super::markup::{BandLook, Knitted, bands, over, patterns, under};
use super::say::{say, say_coming};
use super::scene::{Picture, StitchBand};
use super::side_by_side::say_two;
use crate::tenths::tenths;

/// What is known of the fabric on the needles.
#[derive(Clone)]
pub struct GroupFabric {
    /// Draws what hangs from a group, which is the n-th of the picture, counted from 0.
    pub group: DrawGroup,
    /// The class that says the colour of the yarn that is worked with.
    pub yarn: Option<&'static str>,
}

/// See [`GroupFabric::group`].
pub type DrawGroup = Arc<dyn Fn(&StitchBand, usize) -> Option<Knitted> + Send + Sync>;

/// The picture of these needles with its words for the ear.
#[component]
pub fn NeedlePicture(
    /// What is on the needles.
    #[prop(into)]
    needles: Signal<Needles>,
    /// What the needles look like.
    #[prop(into)]
    look: Signal<Look>,
    /// Whether the heel is worked back and forth.
    #[prop(into)]
    flat: Signal<bool>,
    /// The second sock beside this one, while both are worked.
    #[prop(into)]
    second: Signal<Option<Needles>>,
    /// Whether another sock lies on the same needles.
    #[prop(into)]
    shared: Signal<bool>,
    /// Where nothing is on the needles, what comes onto them next.
    #[prop(into)]
    to_come: Signal<Option<Needles>>,
    /// The fabric of each group; groups are plain areas until there is one.
    #[prop(into)]
    fabric: Signal<Option<GroupFabric>>,
) -> impl IntoView {
    let picture = Memo::new(move |_| {
        let (look, flat) = (look.get(), flat.get());
        needles.with(|n| {
            second.with(|second| match second {
                Some(second) => Picture::of_two(n, second, look, flat),
                None => to_come.with(|to_come| match to_come {
                    Some(to_come) => Picture::coming(to_come, look),
                    None => Picture::of(n, look, flat).shared(shared.get()),
                }),
            })
        })
    });
    let words = Memo::new(move |_| {
        let (look, flat) = (look.get(), flat.get());
        needles.with(|n| {
            second.with(|second| match second {
                Some(second) => say_two(n, second, look, flat),
                None => to_come.with(|to_come| match to_come {
                    Some(to_come) => say_coming(n, to_come, look),
                    None => say(n, look, flat),
                }),
            })
        })
    });
    let below = Memo::new(move |_| picture.with(under));
    let groups = Memo::new(move |_| {
        fabric.with(|fabric| picture.with(|picture| groups(picture, fabric.as_ref())))
    });
    let yarn = Memo::new(move |_| fabric.with(|fabric| fabric.as_ref()?.yarn));
    let above = Memo::new(move |_| picture.with(|picture| over(picture, yarn.get())));
    let (wide, high) = Picture::SIZE;
    view! {
        <figure class="needles" class:to-come=move || picture.with(|picture| picture.to_come)>
            <svg
                viewBox=format!("0 0 {} {}", tenths(wide), tenths(high))
                preserveAspectRatio="xMidYMin"
                role="img"
                aria-label=move || words.get()
                focusable="false"
            >
                <defs inner_html=patterns()></defs>
                <g inner_html=move || below.get()></g>
                <g inner_html=move || groups.get()></g>
                <g inner_html=move || above.get()></g>
            </svg>
        </figure>
    }
    .into_any()
}

/// The groups as they are knitted; before that they may have the colour of their yarn already.
fn groups(picture: &Picture, fabric: Option<&GroupFabric>) -> String {
    // Nothing hangs yet where loops are still to come.
    let hangs = fabric.filter(|_| !picture.to_come);
    let yarn = fabric.filter(|_| picture.to_come);
    let yarn = yarn.and_then(|fabric| fabric.yarn);
    bands(picture, |band, nth| {
        match hangs.and_then(|fabric| (fabric.group)(band, nth)) {
            Some(knitted) => BandLook::Knitted(knitted),
            None => yarn.map_or(BandLook::OfPart, BandLook::OfYarn),
        }
    })
}
