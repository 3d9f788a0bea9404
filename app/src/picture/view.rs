//! Draws the picture. Shapes and words come from [`super::layout`]; colours and motion from
//! `style/picture.css` by class.

use std::sync::Arc;

use evenloop_engine::needles::{Needles, Origin};
use leptos::prelude::*;

use super::look::Look;
use super::say::{say, say_coming};
use super::scene::{Opening, Picture, PictureText, StitchBand, Total, Working};
use super::side_by_side::say_two;
use crate::tenths::tenths;

/// What hangs from one group of loops.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Knitted {
    /// The class that says the colour of the loops.
    pub hue: &'static str,
    /// The stitches as text of SVG, on the picture's field.
    pub stitches: String,
}

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
                <Patterns />
                {move || {
                    fabric
                        .with(|fabric| {
                            picture
                                .with(|picture| draw(picture, fabric.as_ref()))
                        })
                }}
            </svg>
        </figure>
    }
    .into_any()
}

/// The textures that tell groups apart without colour: name, side, turn and line of each.
pub(super) const TEXTURES: [[&str; 4]; 5] = [
    ["texture-back", "7", "rotate(0)", "M0 3.5H7"],
    ["texture-heel", "6", "rotate(0)", "M3 0V6"],
    ["texture-gusset-left", "7", "rotate(45)", "M3.5 0V7"],
    ["texture-gusset-right", "7", "rotate(-45)", "M3.5 0V7"],
    ["texture-sole", "8", "rotate(0)", "M2 2h1.5M6 6h1.5"],
];

/// The textures. One copy on a page is enough.
#[component]
pub fn Patterns() -> impl IntoView {
    let texture = |[id, size, turn, d]: [&'static str; 4]| {
        view! {
            <pattern
                id=id
                width=size
                height=size
                patternUnits="userSpaceOnUse"
                patternTransform=turn
            >
                <path class="texture" d=d></path>
            </pattern>
        }
    };
    view! { <defs>{TEXTURES.map(texture).into_iter().collect_view()}</defs> }.into_any()
}

/// The class that colours a part of the sock, and the texture drawn over it.
pub(crate) const fn class_and_texture(origin: Origin) -> (&'static str, Option<&'static str>) {
    match origin {
        Origin::Back => ("back", Some("url(#texture-back)")),
        Origin::Front => ("front", None),
        Origin::Heel => ("heel", Some("url(#texture-heel)")),
        Origin::GussetLeft => ("gusset-left", Some("url(#texture-gusset-left)")),
        Origin::Instep => ("instep", None),
        Origin::GussetRight => ("gusset-right", Some("url(#texture-gusset-right)")),
        Origin::Sole => ("sole", Some("url(#texture-sole)")),
    }
}

fn draw(picture: &Picture, fabric: Option<&GroupFabric>) -> AnyView {
    if let Some(words) = &picture.empty {
        let (wide, high) = Picture::SIZE;
        return view! {
            <text class="name" x=tenths(wide / 2.0).text() y=tenths(high / 2.0).text() text-anchor="middle">
                {words.clone()}
            </text>
        }
        .into_any();
    }
    let cables = picture
        .cables
        .iter()
        .map(|d| view! { <path class="cable" d=d.clone()></path> })
        .collect_view();
    let shafts = picture
        .shafts
        .iter()
        .map(|shaft| {
            view! { <path class=shaft.class() d=shaft.line.clone()></path> }
        })
        .collect_view();
    let bands = picture.bands.iter().enumerate();
    // Nothing hangs yet where loops are still to come.
    let hangs = fabric.filter(|_| !picture.to_come);
    let yarn = fabric.and_then(|fabric| fabric.yarn);
    let bands = bands.map(|(nth, one)| {
        let knitted = hangs.and_then(|fabric| (fabric.group)(one, nth));
        band(one, knitted, yarn.filter(|_| picture.to_come))
    });
    let bands = bands.collect_view();
    let openings = picture.openings.iter().map(opening).collect_view();
    let gaps = picture
        .gaps
        .iter()
        .map(|d| view! { <path class="gap" d=d.clone()></path> })
        .collect_view();
    let beads = picture
        .beads
        .iter()
        .map(|bead| {
            view! {
                <g class="bead">
                    <path d=bead.across.clone()></path>
                    <circle cx=tenths(bead.x).text() cy=tenths(bead.y).text() r="4.5"></circle>
                </g>
            }
        })
        .collect_view();
    let names = picture
        .names
        .iter()
        .map(|name| text("name", name))
        .collect_view();
    let totals = picture.totals.iter().map(total).collect_view();
    let strand = |working: &Working| {
        let class = yarn.map(|hue| format!("strand dyed {hue}"));
        view! {
            <g class=class.unwrap_or_else(|| "strand".to_owned())>
                <path class="yarn outline" d=working.yarn.clone()></path>
                <path class="yarn" d=working.yarn.clone()></path>
                <circle class="ball" cx=tenths(working.ball.0).text() cy=tenths(working.ball.1).text() r="6.5"></circle>
            </g>
        }
    };
    let waiting = picture.waiting.as_ref().map(strand);
    let strand = picture.working.as_ref().map(strand);
    let tip = picture
        .working
        .as_ref()
        .map(|working| view! { <path class="tip" d=working.needle.clone()></path> });
    let start = picture
        .start
        .as_ref()
        .map(|d| view! { <path class="start" d=d.clone()></path> });
    view! {
        {cables}
        {shafts}
        {bands}
        {openings}
        {gaps}
        {waiting}
        {strand}
        {tip}
        {beads}
        {start}
        {names}
        {totals}
    }
    .into_any()
}

/// A group; before it is knitted it may have the colour of its yarn already.
fn band(band: &StitchBand, knitted: Option<Knitted>, yarn: Option<&'static str>) -> AnyView {
    let (class, texture) = class_and_texture(band.origin);
    let rests = if band.rests { "band rests" } else { "band" };
    let count = text("count", &band.count);
    match knitted {
        None => view! {
            <g class=yarn.map_or_else(|| format!("{rests} {class}"), |hue| format!("{rests} of-yarn {hue}"))>
                <path class="fabric" d=band.fabric.clone()></path>
                <path class="over" d=band.fabric.clone() fill=texture.unwrap_or("none")></path>
                <path class="loops" d=band.loops.clone()></path>
                {count}
            </g>
        }
        .into_any(),
        Some(Knitted { hue, stitches }) => view! {
            <g class=format!("{rests} knitted {hue}")>
                <g class="stitches" inner_html=stitches></g>
                <path class="loops" d=band.loops.clone()></path>
                {count}
            </g>
        }
        .into_any(),
    }
}

fn opening(opening: &Opening) -> impl IntoView + use<> {
    view! {
        <g class="opening">
            <path d=opening.outline.clone()></path>
            {opening.count.as_ref().map(|count| text("count", count))}
        </g>
    }
}

fn total(total: &Total) -> impl IntoView + use<> {
    let class = if total.works { "total works" } else { "total" };
    let left = total.x - total.wide / 2.0;
    let (circle, high) = (tenths(left + 9.0), tenths(total.y));
    let number = total.number.map(|number| {
        view! {
            <circle cx=circle.text() cy=high.text() r="9"></circle>
            <text class="number" x=circle.text() y=high.text() text-anchor="middle" dy="0.36em">
                {number.to_string()}
            </text>
        }
    });
    let (left, top) = (tenths(left).text(), tenths(total.y - 9.0).text());
    let (wide, middle) = (
        tenths(total.wide).text(),
        tenths(total.middle_of_text()).text(),
    );
    view! {
        <g class=class>
            <rect x=left y=top width=wide height="18" rx="9"></rect>
            {number}
            <text class="sum" x=middle y=high.text() text-anchor="middle" dy="0.36em">
                {total.text.clone()}
            </text>
        </g>
    }
}

fn text(class: &'static str, text: &PictureText) -> impl IntoView + use<> {
    let anchor = text.hold.anchor();
    let (x, y) = (tenths(text.x), tenths(text.y));
    let turn = (text.turn != 0.0).then(|| format!("rotate({} {x} {y})", tenths(text.turn)));
    // Turned by a group of its own: for left-handed knitting the style sheet turns the letters back.
    view! {
        <g transform=turn>
            <text class=class x=x.text() y=y.text() text-anchor=anchor dy="0.36em">
                {text.words.clone()}
            </text>
        </g>
    }
}
