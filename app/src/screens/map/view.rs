//! Shows the sock as real fabric as far as it is knitted; what is to come is only outlined. Every section
//! carries the number it has in the list below; each yarn has its letter in the key.

use evenloop_engine::plan::SectionKind;
use evenloop_engine::recipe::Yarns;
use evenloop_engine::stitch::Yarn;
use evenloop_engine::text as engine_text;
use leptos::prelude::*;

use crate::fabric::{Detail, Drawing, Field, SockPicture, TouchPart};
use crate::hue::Hue;
use crate::in_hand::Session;
use crate::parts::YarnPatch;
use crate::preferences::use_preferences;
use crate::tenths::tenths;
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
    let drawing = Memo::new(move |_| draw(session, hues.get()));
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
    let corner = move || {
        drawing
            .read()
            .as_ref()
            .is_some_and(|drawing| drawing.corner)
    };
    let field = move || {
        drawing
            .read()
            .as_ref()
            .map(|drawing| drawing.field.view_box())
    };
    view! {
        <figure class="sock-drawing" class:corner=corner>
            <svg
                viewBox=field
                preserveAspectRatio="xMinYMin"
                role="img"
                aria-label=spoken
                focusable="false"
            >
                {move || {
                    let drawing = drawing.read();
                    drawing.as_ref().map(|drawing| shown(session, drawing, on_touch))
                }}
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

/// What is drawn of a sock at one moment.
#[derive(Debug, Clone, PartialEq)]
struct DrawnSock {
    fabric: String,
    parts: Vec<TouchPart>,
    /// Letter, colour and place of each yarn, where there are several.
    marks: Vec<(char, &'static str, (f32, f32))>,
    stand: String,
    field: Field,
    corner: bool,
}

/// Nothing where plan and trace do not belong together.
fn draw(session: Session, hues: [Hue; 4]) -> Option<DrawnSock> {
    let at = session.at();
    session.with(|pair| {
        let picture = SockPicture::of(pair.plan, pair.trace)?;
        let fabric = picture.markup(&Drawing {
            detail: Detail::Legs,
            hues,
            at: Some(at),
            name: "map",
        });
        Some(DrawnSock {
            fabric,
            parts: picture.touch_parts(),
            marks: match pair.plan.recipe.yarns {
                Some(_) => picture
                    .marks()
                    .into_iter()
                    .map(|(yarn, at)| (yarn.letter(), Hue::of(yarn, hues).class(), at))
                    .collect(),
                None => Vec::new(),
            },
            stand: picture.stand_path(at),
            field: picture.field(),
            corner: picture.has_free_corner(),
        })
    })
}

fn shown(session: Session, drawing: &DrawnSock, on_touch: Callback<usize>) -> AnyView {
    // Letters and lines are in tenths of a millimetre of the sock: keep them alike on a small and a large
    // one.
    let unit = drawing.field.wide.max(drawing.field.high) / 330.0;
    let units = |number: f32| tenths(unit * number).text();
    let section = |part: &TouchPart| {
        session.with(|pair| {
            let sections = &pair.plan.sections;
            sections.iter().position(|s| s.kind == part.kind)
        })
    };
    let parts = drawing.parts.iter().map(|part| {
        let section = section(part).unwrap_or(0);
        let (x, y) = (tenths(part.label.0), tenths(part.label.1));
        view! {
            <g class="part" on:click=move |_| on_touch.run(section)>
                <path class="area" d=part.area.clone()></path>
                <circle cx=x.text() cy=y.text() r=units(11.0) stroke-width=units(1.2)></circle>
                <text x=x.text() y=y.text() dy="0.36em" text-anchor="middle" font-size=units(14.0)>
                    {section + 1}
                </text>
            </g>
        }
    });
    let marks = drawing.marks.iter().map(|(letter, hue, (x, y))| {
        view! {
            <text
                class=format!("yarn-mark {hue}")
                x=tenths(*x).text()
                y=tenths(*y).text()
                dy="0.36em"
                text-anchor="middle"
                font-size=units(14.0)
                stroke-width=units(5.0)
            >
                {letter.to_string()}
            </text>
        }
    });
    view! {
        <g inner_html=drawing.fabric.clone()></g>
        <path class="stand" d=drawing.stand.clone() stroke-width=units(3.0)></path>
        {marks.collect_view()}
        {parts.collect_view()}
    }
    .into_any()
}

/// The class that colours a section.
pub(super) const fn section_class(kind: SectionKind) -> &'static str {
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
