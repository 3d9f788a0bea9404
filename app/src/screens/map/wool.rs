//! What a section is filled with: the yarns' hatchings and the motif's lines, as SVG patterns. Few
//! nodes however many stripes there are and however often a motif repeats itself.

use evenloop_engine::plan::SectionKind;
use evenloop_engine::stitch::Yarn;
use leptos::prelude::*;

use super::drawing::{Region, Texture};
use crate::hue::Hue;
use crate::parts::yarn_class;

/// A piece of a section that is filled alike.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Wool<'a> {
    /// The yarn; `None` where there is only one.
    yarn: Option<Yarn>,
    /// Whether it is knitted.
    knitted: bool,
    /// Where it lies.
    area: &'a str,
}

impl<'a> Wool<'a> {
    /// The pieces of a section, one upon the other.
    pub(super) fn of(region: &'a Region) -> Vec<Self> {
        if region.bands.is_empty() {
            let one = |knitted, area| Self {
                yarn: None,
                knitted,
                area,
            };
            let knitted = region.knitted.as_deref().map(|area| one(true, area));
            return [one(false, &region.area)]
                .into_iter()
                .chain(knitted)
                .collect();
        }
        let bands = region.bands.iter().map(|band| Self {
            yarn: Some(band.yarn),
            knitted: band.knitted,
            area: &band.area,
        });
        bands.collect()
    }
}

/// A yarn's colour and its hatching: plain, lines, dots and squares, as everywhere.
pub(super) fn hatching(yarn: Yarn, hues: [Hue; 4]) -> AnyView {
    let lines = match yarn {
        Yarn::A => "",
        Yarn::B => "M-1 1l2-2M0 5l5-5M4 6l2-2",
        Yarn::C => "M2.5 2.5h.01",
        Yarn::D => "M0 2.5h5M2.5 0v5",
    };
    view! {
        <pattern
            id=hatching_id(yarn)
            class=yarn_class(yarn, hues)
            width="5"
            height="5"
            patternUnits="userSpaceOnUse"
        >
            <rect width="5" height="5"></rect>
            <path d=lines></path>
        </pattern>
    }
    .into_any()
}

/// The motif in ink, or in what can be seen on each yarn, lying as each part does.
pub(super) fn texture(texture: &Texture, regions: &[Region], hues: [Hue; 4]) -> AnyView {
    let mut inks: Vec<Option<Yarn>> = regions
        .iter()
        .flat_map(|region| Wool::of(region).into_iter().map(|wool| wool.yarn))
        .collect();
    inks.sort_unstable();
    inks.dedup();
    let (width, height) = texture.tile;
    let marks = inks.iter().map(|ink| {
        let class = ink.map_or_else(String::new, |yarn| yarn_class(yarn, hues));
        view! {
            <pattern
                id=format!("motif-{}", ink_key(*ink))
                class=format!("motif {class}")
                width=width.to_string()
                height=height.to_string()
                patternUnits="userSpaceOnUse"
            >
                <path d=texture.marks.clone()></path>
            </pattern>
        }
    });
    let parts = texture.parts.iter().map(|patch| {
        let kind = patch.kind;
        let lie = patch.lie.map(|number| format!("{number:.4}")).join(" ");
        let lying = inks.iter().map(|ink| {
            view! {
                <pattern
                    id=motif_id(kind, *ink)
                    href=format!("#motif-{}", ink_key(*ink))
                    patternTransform=format!("matrix({lie})")
                ></pattern>
            }
        });
        view! {
            <clipPath id=patch_id(kind)>
                <path d=patch.area.clone()></path>
            </clipPath>
            {lying.collect_view()}
        }
    });
    view! {
        {marks.collect_view()}
        {parts.collect_view()}
    }
    .into_any()
}

/// One piece, with the motif on it where the section carries it.
pub(super) fn piece(wool: &Wool<'_>, kind: SectionKind, patterned: bool) -> AnyView {
    let state = if wool.knitted { "knitted" } else { "to-come" };
    let area = wool.area.to_owned();
    let filled = (wool.yarn.is_some() || wool.knitted).then(|| {
        let fill = wool.yarn.map(|yarn| format!("url(#{})", hatching_id(yarn)));
        let class = if fill.is_some() { "band" } else { "plain" };
        view! { <path class=format!("{class} {state}") d=area.clone() fill=fill></path> }
    });
    let motif = patterned.then(|| {
        view! {
            <path
                class=format!("repeats {state}")
                d=area.clone()
                fill=format!("url(#{})", motif_id(kind, wool.yarn))
                clip-path=format!("url(#{})", patch_id(kind))
            ></path>
        }
    });
    view! {
        {filled}
        {motif}
    }
    .into_any()
}

fn hatching_id(yarn: Yarn) -> String {
    format!("hatching-{}", yarn.letter())
}

fn motif_id(kind: SectionKind, ink: Option<Yarn>) -> String {
    format!("motif-{}-{}", kind.key(), ink_key(ink))
}

fn patch_id(kind: SectionKind) -> String {
    format!("motif-{}", kind.key())
}

fn ink_key(ink: Option<Yarn>) -> String {
    ink.map_or_else(|| "ink".to_owned(), |yarn| yarn.letter().to_string())
}
