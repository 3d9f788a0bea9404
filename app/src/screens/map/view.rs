//! Draws the sock. Every section carries the number it has in the list below; what is knitted is
//! filled, what is not is only outlined. With several yarns both are striped, and what is to come is
//! fainter; each yarn has a hatching of its own and its letter in the key below.

use evenloop_engine::plan::SectionKind;
use evenloop_engine::recipe::Yarns;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::text as engine_text;
use leptos::prelude::*;

use super::drawing::{Drawing, MARGIN, Region, Texture};
use super::wool::{self, Wool};
use crate::hue::Hue;
use crate::in_hand::Session;
use crate::parts::YarnPatch;
use crate::preferences::use_preferences;
use crate::text;

#[component]
pub(super) fn SockDrawing(
    /// The pair.
    session: Session,
    /// A section was touched: its index in the plan.
    on_touch: Callback<usize>,
) -> impl IntoView {
    let preferences = use_preferences();
    let hues = Memo::new(move |_| preferences.get().hues);
    let yarns = session.with(|pair| pair.plan.recipe.yarns.as_ref().map(Yarns::used));
    let key = yarns.clone().map(|yarns| key(yarns, hues));
    let drawing = Memo::new(move |_| draw(session));
    let here = move || {
        let at = session.at();
        session.with(|pair| {
            let section = pair.trace.steps.get(at.step)?.section;
            let progress = *pair.plan.section_progress(at).get(section)?;
            let english = preferences.get().style.english;
            Some((
                engine_text::section_name(progress.kind, english),
                text::now::progress(&progress),
            ))
        })
    };
    let spoken = move || {
        let at = session.at();
        session.with(|pair| {
            let kind = pair.trace.steps.get(at.step).map(|s| s.kind);
            let english = preferences.get().style.english;
            let section = kind.map(|kind| engine_text::section_in_text(kind, english));
            let recipe = &pair.plan.recipe;
            text::map::drawing(
                section,
                pair.trace.progress(at),
                &recipe.yarns.as_ref().map(Yarns::used).unwrap_or_default(),
                recipe.motif.is_some(),
            )
        })
    };
    let field = session.with(|pair| Drawing::of(pair.plan, pair.trace, &[], None));
    let (left, size) = (field.left, field.size);
    view! {
        <figure class="sock-drawing" class:corner=field.corner>
            <svg
                viewBox=format!("{left:.1} 0 {:.1} {:.1}", size.0, size.1)
                preserveAspectRatio="xMinYMin"
                role="img"
                aria-label=spoken
                focusable="false"
            >
                <defs>
                    {move || yarns.iter().flatten().map(|yarn| wool::hatching(*yarn, hues.get())).collect_view()}
                </defs>
                {move || drawing.with(|drawing| shown(session, drawing, hues.get(), on_touch))}
            </svg>
            <figcaption>
                {move || match here() {
                    Some((section, much)) => {
                        view! {
                            <span class="small">{text::map::HERE}</span>
                            <strong>{section}</strong>
                            <span>{much}</span>
                        }
                            .into_any()
                    }
                    None => text::map::FINISHED.into_any(),
                }}
            </figcaption>
            {key}
        </figure>
    }
    .into_any()
}

/// The yarns by letter and colour, and what faint means.
fn key(yarns: Vec<Yarn>, hues: Memo<[Hue; 4]>) -> AnyView {
    let one = |yarn: Yarn| {
        view! {
            <li>
                <YarnPatch yarn hues />
                <span>{move || Hue::of(yarn, hues.get()).name()}</span>
            </li>
        }
    };
    view! {
        <div class="yarn-key">
            <ul>{yarns.into_iter().map(one).collect_view()}</ul>
            <p class="soft small">{text::map::FAINT}</p>
        </div>
    }
    .into_any()
}

fn draw(session: Session) -> Drawing {
    let at = session.at();
    session.with(|pair| {
        let here = pair.trace.steps.get(at.step).map(|s| s.section);
        Drawing::of(pair.plan, pair.trace, &pair.plan.section_progress(at), here)
    })
}

fn shown(
    session: Session,
    drawing: &Drawing,
    hues: [Hue; 4],
    on_touch: Callback<usize>,
) -> impl IntoView + use<> {
    // letters and lines are in millimetres of the sock: keep them alike on a small and a large one
    let unit = drawing.size.0.max(drawing.size.1) / 330.0;
    let section = |region: &Region| {
        let kind = region.kind;
        session.with(|pair| {
            pair.plan
                .sections
                .iter()
                .position(|s| s.kind == kind)
                .unwrap_or(0)
        })
    };
    let regions = drawing
        .regions
        .iter()
        .map(|region| {
            let texture = drawing.texture.as_ref();
            area(region, texture, section(region), unit, on_touch)
        })
        .collect_view();
    let numbers = drawing
        .regions
        .iter()
        .map(|region| number(region, section(region), unit, on_touch))
        .collect_view();
    let stand = drawing.stand.as_ref().map(|d| {
        view! { <path class="stand" d=d.clone() stroke-width=unit * 5.0></path> }
    });
    view! {
        <defs>
            <clipPath id="sock-outline">
                <path d=drawing.outline.clone()></path>
            </clipPath>
            {drawing.texture.as_ref().map(|texture| wool::texture(texture, &drawing.regions, hues))}
        </defs>
        <path class="ground" d=drawing.outline.clone()></path>
        <g clip-path="url(#sock-outline)">
            {regions}
            <path class="side" d=drawing.side.clone() stroke-width=unit * 1.2></path>
            {stand}
        </g>
        <path class="outline" d=drawing.outline.clone() stroke-width=unit * 1.8></path>
        {numbers}
    }
}

fn area(
    region: &Region,
    texture: Option<&Texture>,
    section: usize,
    unit: f32,
    on_touch: Callback<usize>,
) -> impl IntoView + use<> {
    let patterned = texture.is_some_and(|t| t.parts.iter().any(|p| p.kind == region.kind));
    let pieces = Wool::of(region)
        .into_iter()
        .map(|wool| wool::piece(&wool, region.kind, patterned))
        .collect_view();
    view! {
        <g class=format!("part {}", dress(region.kind)) on:click=move |_| on_touch.run(section)>
            <path class="area" d=region.area.clone()></path>
            {pieces}
            <path class="border" d=region.area.clone() stroke-width=unit * 1.2></path>
        </g>
    }
}

fn number(
    region: &Region,
    section: usize,
    unit: f32,
    on_touch: Callback<usize>,
) -> impl IntoView + use<> {
    let (x, y) = (region.label.x + MARGIN, region.label.y + MARGIN);
    view! {
        <g class="part" on:click=move |_| on_touch.run(section)>
            <circle cx=x cy=y r=unit * 11.0 stroke-width=unit * 1.2></circle>
            <text x=x y=y dy="0.36em" text-anchor="middle" font-size=unit * 14.0>
                {section + 1}
            </text>
        </g>
    }
}

/// The class that colours a section.
pub(super) const fn dress(kind: SectionKind) -> &'static str {
    match kind {
        SectionKind::CastOn | SectionKind::Cuff | SectionKind::Leg | SectionKind::BindOff => {
            "front"
        }
        SectionKind::HeelFlap
        | SectionKind::HeelTurn
        | SectionKind::ShortHeel
        | SectionKind::HeelPlace
        | SectionKind::LateHeel
        | SectionKind::LateClose => "heel",
        SectionKind::PickUp | SectionKind::Gusset => "gusset-left",
        SectionKind::Foot => "sole",
        SectionKind::Toe | SectionKind::Close => "instep",
    }
}
