//! Whose each part of the sock is: the pattern's, or planned by us for the same stitches.

use evenloop_engine::recipe::{Direction, Heel, SockPart, Toe};
use leptos::prelude::*;

use super::desk::Desk;
use super::form::{heels, toes};
use super::step::step;
use crate::parts::plain::{button, following, group, paragraph};
use crate::parts::{Choice, Notice, Select, Switch, Tone};
use crate::text::measure::choices;
use crate::text::pattern as text;

const PARTS: [(SockPart, &str); 5] = [
    (SockPart::Cuff, "ours-cuff"),
    (SockPart::Leg, "ours-leg"),
    (SockPart::Heel, "ours-heel"),
    (SockPart::Foot, "ours-foot"),
    (SockPart::Toe, "ours-toe"),
];

const fn heel_name(heel: Heel) -> &'static str {
    match heel {
        Heel::FlapAndGusset { .. } => choices::HEEL_FLAP.name,
        Heel::ShortRow { .. } => choices::HEEL_SHORT_ROW.name,
        Heel::Afterthought { .. } => choices::HEEL_AFTERTHOUGHT.name,
    }
}

const fn toe_name(toe: Toe) -> &'static str {
    use evenloop_engine::recipe::Narrowing::{Even, Long, Rounded};

    match toe {
        Toe::Wedge { narrowing: Rounded } => choices::TOE_ROUNDED.name,
        Toe::Wedge { narrowing: Even } => choices::TOE_EVEN.name,
        Toe::Wedge { narrowing: Long } => choices::TOE_LONG.name,
        Toe::Round => choices::TOE_ROUND.name,
        Toe::ShortRow => choices::TOE_SHORT_ROW.name,
        Toe::Shaped { .. } => choices::TOE_SHAPED.name,
    }
}

#[component]
pub(super) fn PartsStep(desk: Desk) -> impl IntoView {
    let switches: Vec<AnyView> = PARTS
        .map(|(part, name)| {
            let on = Signal::derive(move || desk.form.read().is_ours(part));
            let on_change = Callback::new(move |ours| {
                desk.change(|form| form.set_ours(part, ours));
            });
            view! { <Switch name choice=Choice::plain(text::part(part)) on on_change /> }.into_any()
        })
        .into();
    let missing = following("told", move || {
        let missing = desk.checked.with(|checked| {
            checked
                .as_ref()
                .map_or_else(Vec::new, |c| c.missing.clone())
        });
        if missing.is_empty() {
            return Vec::new();
        }
        vec![lacking(desk, missing)]
    });
    let ours = move |part| Memo::new(move |_| desk.form.read().is_ours(part));
    let (heel, toe) = (ours(SockPart::Heel), ours(SockPart::Toe));
    let direction = Memo::new(move |_| {
        let checked = desk.checked.read();
        checked
            .as_ref()
            .map_or(Direction::CuffDown, |checked| checked.direction)
    });
    let picks = move || {
        vec![
            heel.get().then(|| choose_heel(desk)),
            toe.get().then(|| choose_toe(desk, direction.get())),
        ]
    };
    step(
        text::PARTS,
        text::PARTS_LEAD,
        vec![
            missing,
            view! {
                <fieldset class="choice-group">
                    <legend>{text::OURS}</legend>
                    <div class="choices few">{switches}</div>
                </fieldset>
                <div class="picks">{picks}</div>
            }
            .into_any(),
        ],
    )
}

/// Offers to plan what nobody knits.
fn lacking(desk: Desk, missing: Vec<SockPart>) -> AnyView {
    let said = text::missing(&missing);
    let plan = Callback::new(move |()| {
        desk.change(|form| {
            for part in &missing {
                form.set_ours(*part, true);
            }
        });
        desk.look();
    });
    view! {
        <Notice tone=Tone::Mind>
            {paragraph("", said)}
            {group("buttons", vec![button("button", text::PLAN_MISSING, None, plan)])}
        </Notice>
    }
    .into_any()
}

fn choose_heel(desk: Desk) -> AnyView {
    let picked = Signal::derive(move || {
        let name = heel_name(desk.form.read().heel);
        heels()
            .iter()
            .position(|heel| heel_name(*heel) == name)
            .unwrap_or(0)
    });
    let on_pick = Callback::new(move |nth: usize| {
        if let Some(heel) = heels().get(nth) {
            desk.change(|form| form.heel = *heel);
        }
    });
    let options = heels().map(|heel| heel_name(heel).to_owned()).into();
    view! { <Select id="ours-heel-kind" label=choices::HEEL.say(desk.wording.get_untracked()) options picked on_pick /> }
        .into_any()
}

fn choose_toe(desk: Desk, direction: Direction) -> AnyView {
    let picked = Signal::derive(move || {
        let toe = desk.form.read().toe;
        toes(direction)
            .iter()
            .position(|one| *one == toe)
            .unwrap_or(0)
    });
    let on_pick = Callback::new(move |nth: usize| {
        if let Some(toe) = toes(direction).get(nth) {
            desk.change(|form| form.toe = *toe);
        }
    });
    let options = toes(direction)
        .iter()
        .map(|toe| toe_name(*toe).to_owned())
        .collect();
    view! { <Select id="ours-toe-kind" label=choices::TOE.say(desk.wording.get_untracked()) options picked on_pick /> }
        .into_any()
}
