//! Numbers that a pattern can do without: a gauge, the foot, and what is cast on where the text does not say.

use evenloop_engine::recipe::{Direction, Number, Recipe, SockPart, Unit};
use evenloop_engine::swatch::Gauge;
use evenloop_engine::text::{self as engine_text, ProblemText};
use evenloop_engine::units::LengthUnit;
use leptos::prelude::*;

use super::desk::Desk;
use super::form::{GivenNumber, NumberWrong};
use crate::parts::{Folded, ShownText, TextField};
use crate::text::pattern as text;

const fn id(number: GivenNumber) -> &'static str {
    match number {
        GivenNumber::Stitches => "pattern-stitches",
        GivenNumber::Rounds => "pattern-rounds",
        GivenNumber::Foot => "pattern-foot",
        GivenNumber::Leg => "pattern-leg",
        GivenNumber::Ball => "pattern-ball",
        GivenNumber::Around => "pattern-around",
    }
}

const fn label(number: GivenNumber) -> &'static str {
    match number {
        GivenNumber::Stitches => text::STITCHES,
        GivenNumber::Rounds => text::ROUNDS,
        GivenNumber::Foot => text::FOOT,
        GivenNumber::Leg => text::LEG,
        GivenNumber::Ball => text::BALL,
        GivenNumber::Around => text::AROUND,
    }
}

/// What is taken where nothing is given.
fn hint(number: GivenNumber, unit: LengthUnit) -> String {
    let usual = match number.field().get(&Recipe::default()) {
        Some(Number::Length(length)) => length.show(unit),
        Some(Number::Whole(whole)) => whole.to_string(),
        None if number == GivenNumber::Ball => return text::BALL_HINT.to_owned(),
        None => return text::AROUND_HINT.to_owned(),
    };
    match number {
        GivenNumber::Stitches | GivenNumber::Rounds => {
            text::over(&Gauge::over(unit).show(unit), &usual)
        }
        GivenNumber::Foot | GivenNumber::Leg | GivenNumber::Ball | GivenNumber::Around => {
            text::usual(&usual)
        }
    }
}

#[component]
pub(super) fn NumbersStep(desk: Desk) -> impl IntoView {
    let around = Memo::new(move |_| {
        // As it was read last: the text itself is too long to be looked through at every letter.
        let checked = desk.checked.read();
        let direction = checked.as_ref().map(|checked| checked.direction);
        desk.form.read().is_ours(match direction {
            Some(Direction::ToeUp) => SockPart::Toe,
            Some(Direction::CuffDown) | None => SockPart::Cuff,
        })
    });
    let inside = move || {
        let known = [
            GivenNumber::Stitches,
            GivenNumber::Rounds,
            GivenNumber::Foot,
            GivenNumber::Leg,
            GivenNumber::Ball,
        ];
        view! {
            <div class="unfolded">
                <p class="soft">{text::KNOWN_LEAD}</p>
                <div class="fields">{known.map(|number| line(desk, number)).into_iter().collect_view()}</div>
            </div>
        }
        .into_any()
    };
    view! {
        <section class="step">
            {move || {
                around
                    .get()
                    .then(|| view! { <div class="fields">{line(desk, GivenNumber::Around)}</div> })
            }}
            <Folded class="more" summary=ShownText::from(text::KNOWN).shown().into_any() inside=Box::new(inside) />
        </section>
    }
    .into_any()
}

fn line(desk: Desk, number: GivenNumber) -> AnyView {
    let unit = Memo::new(move |_| desk.form.read().unit);
    let is_length = number.field().unit() == Unit::Length;
    let error = Signal::derive(move || {
        let checked = desk.checked.read();
        let wrong = &checked.as_ref()?.wrong;
        let (_, why) = wrong.iter().find(|(of, _)| *of == number)?;
        let wording = engine_text::Wording {
            unit: unit.get(),
            ..desk.wording.get()
        };
        Some(match why {
            NumberWrong::Unread(typed) => text::no_number(typed),
            NumberWrong::Refused(error) => {
                let ProblemText { message, help } = engine_text::problem(&error.problem, wording);
                ProblemText { message, help }
            }
        })
    });
    let sign = move || match unit.get() {
        _ if !is_length => "",
        LengthUnit::Cm => "cm",
        LengthUnit::Inch => "in",
    };
    view! {
        <TextField
            id=id(number)
            label=label(number)
            optional=true
            hint=Signal::derive(move || hint(number, unit.get()))
            unit=Signal::derive(sign)
            inputmode=if is_length { "decimal" } else { "numeric" }
            value=Signal::derive(move || desk.form.read().number(number).to_owned())
            on_input=Callback::new(move |text| desk.change(|form| *form.number_mut(number) = text))
            on_leave=Callback::new(|()| ())
            error
        />
    }
    .into_any()
}
