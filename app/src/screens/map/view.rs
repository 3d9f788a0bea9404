//! Shows the sock as real fabric as far as it is knitted; what is to come is only outlined. Every section
//! carries the number it has in the list below; each yarn has its letter in the key.

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
    /// Where on that line "you are here" is marked.
    here: Option<(f32, f32)>,
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
            here: picture.stand_point(at),
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
        let (x, y) = part.label;
        // As on a row of the list: a number to be touched, and the sign of what opens.
        let plate = |class, dy: f32| {
            view! {
                <rect
                    class=class
                    x=tenths(x - unit * PLATE.0 / 2.0).text()
                    y=tenths(y - unit * (PLATE.1 / 2.0 - dy)).text()
                    width=units(PLATE.0)
                    height=units(PLATE.1)
                    rx=units(PLATE.1 / 2.0)
                    stroke-width=units(1.4)
                ></rect>
            }
        };
        let opens = format!(
            "M{} {}l{} {} {} {}",
            tenths(x + unit * 8.0),
            tenths(y - unit * 4.5),
            tenths(unit * 4.5),
            tenths(unit * 4.5),
            tenths(unit * -4.5),
            tenths(unit * 4.5)
        );
        view! {
            <g class="part" on:click=move |_| on_touch.run(section)>
                <path class="area" d=part.area.clone()></path>
                {plate("depth", 2.5)}
                {plate("plate", 0.0)}
                <text
                    x=tenths(x - unit * 4.5).text()
                    y=tenths(y).text()
                    dy="0.36em"
                    text-anchor="middle"
                    font-size=units(15.0)
                >
                    {section + 1}
                </text>
                <path class="opens" d=opens stroke-width=units(2.2)></path>
            </g>
        }
    });
    let marks = drawing.marks.iter().map(|(letter, hue, at)| {
        let (x, y) = beside_plates(*at, &drawing.parts, unit, drawing.field.wide / 2.0);
        view! {
            <text
                class=format!("yarn-mark {hue}")
                x=tenths(x).text()
                y=tenths(y).text()
                dy="0.36em"
                text-anchor="middle"
                font-size=units(14.0)
                stroke-width=units(5.0)
            >
                {letter.to_string()}
            </text>
        }
    });
    let here = drawing.here.map(|(x, y)| {
        view! {
            <circle
                class="here"
                cx=tenths(x).text()
                cy=tenths(y).text()
                r=units(6.0)
                stroke-width=units(2.5)
            ></circle>
        }
    });
    view! {
        <g inner_html=drawing.fabric.clone()></g>
        <path class="stand" d=drawing.stand.clone() stroke-width=units(3.0)></path>
        {marks.collect_view()}
        {parts.collect_view()}
        {here}
    }
    .into_any()
}

/// Width and height of what a part's number stands on, on a sock as large as the field of 330.
const PLATE: (f32, f32) = (38.0, 24.0);

/// Where a yarn's letter stands: where it would lie under a number, beside that, on the side of the sock's middle.
fn beside_plates((x, y): (f32, f32), parts: &[TouchPart], unit: f32, middle: f32) -> (f32, f32) {
    let (wide, high) = (unit * (PLATE.0 / 2.0 + 8.0), unit * (PLATE.1 / 2.0 + 8.0));
    let under = parts
        .iter()
        .map(|part| part.label)
        .find(|label| (label.0 - x).abs() < wide && (label.1 - y).abs() < high);
    match under {
        None => (x, y),
        Some((label, _)) if label > middle => (label - wide, y),
        Some((label, _)) => (label + wide, y),
    }
}
