//! From a shoe size to the foot's length, for a knitter who cannot measure the foot.

use evenloop_engine::recipe::NumberField;
use evenloop_engine::shoe::{Scale, foot_length};
use evenloop_engine::text::ProblemText;
use evenloop_engine::units::{Length, LengthUnit};
use leptos::prelude::*;

use super::bound::More;
use crate::parts::{Select, TextField};
use crate::screens::measure::desk::Desk;
use crate::screens::measure::form::plain_number;
use crate::text::measure as text;

/// A scale as it is asked for. Children's sizes begin again at 1 after 13½, so they are two.
#[derive(Clone, Copy)]
struct Sizes {
    /// What it is called.
    name: &'static str,
    scale: Scale,
    /// Smallest and largest, in half sizes as they are written on the shoe.
    halves: (u16, u16),
    /// What the engine counts on top of what is written.
    more: u16,
}

/// Half sizes before a child's sizes begin again: 13½ is the last.
const AGAIN: u16 = 26;

const fn sizes(name: &'static str, scale: Scale) -> Sizes {
    let halves = scale.halves();
    Sizes {
        name,
        scale,
        halves,
        more: 0,
    }
}

const fn small(name: &'static str, scale: Scale) -> Sizes {
    let (low, _) = scale.halves();
    Sizes {
        name,
        scale,
        halves: (low, AGAIN + 1),
        more: 0,
    }
}

const fn older(name: &'static str, scale: Scale) -> Sizes {
    let (_, high) = scale.halves();
    Sizes {
        name,
        scale,
        halves: (2, high - AGAIN),
        more: AGAIN,
    }
}

/// In the order of the form.
const SCALES: [Sizes; 8] = [
    sizes(text::SCALE_EU, Scale::Eu),
    sizes(text::SCALE_UK, Scale::Uk),
    small(text::SCALE_UK_SMALL, Scale::UkChild),
    older(text::SCALE_UK_OLDER, Scale::UkChild),
    sizes(text::SCALE_US_WOMEN, Scale::UsWomen),
    sizes(text::SCALE_US_MEN, Scale::UsMen),
    small(text::SCALE_US_SMALL, Scale::UsChild),
    older(text::SCALE_US_OLDER, Scale::UsChild),
];

impl Sizes {
    /// The foot of a size as it is typed; `None` for what is no size of this scale.
    fn foot(self, typed: &str) -> Option<Length> {
        let halves = read_halves(typed)?;
        let (low, high) = self.halves;
        (low..=high)
            .contains(&halves)
            .then(|| foot_length(self.scale, halves + self.more))?
    }
}

/// Half sizes: 39 is 78, 39½ or 39.5 or 39,5 is 79.
fn read_halves(typed: &str) -> Option<u16> {
    let text = typed.trim().replace('½', ".5").replace(',', ".");
    let (whole, part) = text.split_once('.').unwrap_or((&text, "0"));
    let half = match part.trim_end_matches('0') {
        "" => 0,
        "5" => 1,
        _ => return None,
    };
    let whole: u16 = whole.trim_end().parse().ok().filter(|size| *size < 100)?;
    Some(2 * whole + half)
}

/// A list of scales, a line for the size, and a button that fills in the foot's length.
#[component]
pub(super) fn ShoeSize(desk: Desk) -> impl IntoView {
    let place = RwSignal::new(0_usize);
    let typed = RwSignal::new(String::new());
    let filled = RwSignal::new(None::<Length>);
    let left = RwSignal::new(false);
    let scale = move || SCALES[place.get()];
    let foot = Memo::new(move |_| scale().foot(&typed.read()));
    let range = move || {
        let (low, high) = scale().halves;
        text::size_range(low, high)
    };
    let error = Memo::new(move |_| {
        let wrong = left.get() && foot.get().is_none() && !typed.read().trim().is_empty();
        wrong.then(|| ProblemText {
            message: text::NO_SIZE.to_owned(),
            help: range(),
        })
    });
    let fill = move |_| {
        left.set(true);
        let Some(length) = foot.get_untracked() else {
            return;
        };
        // An estimate: in inches it is no finer than a tape.
        let length = match desk.form.read_untracked().unit {
            LengthUnit::Cm => length,
            unit @ LengthUnit::Inch => length.round_figure(unit),
        };
        desk.form.update(|form| {
            let text = plain_number(length, form.unit);
            form.type_into(NumberField::FootLength, text);
        });
        filled.set(Some(length));
    };
    view! {
        <More title=text::SHOE>
            <p class="soft">{text::SHOE_TEXT}</p>
            <Select
                id="shoe-scale"
                label=text::SCALE
                options=SCALES.map(|sizes| sizes.name.to_owned()).to_vec()
                picked=place
                on_pick=Callback::new(move |nth| {
                    if nth < SCALES.len() {
                        place.set(nth);
                    }
                })
            />
            <TextField
                id="shoe-size"
                label=text::SIZE
                hint=Signal::derive(range)
                value=typed
                on_input=Callback::new(move |text| typed.set(text))
                on_leave=Callback::new(move |()| left.set(true))
                error
            />
            <button type="button" class="button" id="shoe-fill" on:click=fill>
                {move || text::fill_in(foot.get(), desk.wording())}
            </button>
            <p class="soft" aria-live="polite">
                {move || filled.get().map(|length| text::filled_in(length, desk.wording()))}
            </p>
        </More>
    }
    .into_any()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_are_read_as_people_write_them() {
        for (typed, halves) in [
            ("39", Some(78)),
            (" 39½ ", Some(79)),
            ("39.5", Some(79)),
            ("39,50", Some(79)),
            ("4.0", Some(8)),
            ("39 1/2", None),
            ("39.3", None),
            ("", None),
            ("½", None),
            ("-4", None),
            ("99999", None),
        ] {
            assert_eq!(read_halves(typed), halves, "{typed}");
        }
    }

    #[test]
    fn every_size_of_every_scale_has_a_foot_and_no_other() {
        for sizes in SCALES {
            let (low, high) = sizes.halves;
            let write = |halves: u16| format!("{}.{}", halves / 2, halves % 2 * 5);
            let mut before = Length::default();
            for halves in low..=high {
                let foot = sizes.foot(&write(halves)).expect("a size");
                assert!(foot > before, "{:?} {halves}", sizes.scale);
                before = foot;
            }
            assert_eq!(sizes.foot(&write(low - 1)), None);
            assert_eq!(sizes.foot(&write(high + 1)), None);
        }
    }

    #[test]
    fn a_childs_sizes_begin_again_after_thirteen_and_a_half() {
        let [before, after] = [SCALES[2].foot("13½"), SCALES[3].foot("1")];
        let (before, after) = (before.expect("a size"), after.expect("a size"));
        let step = after.less(before);
        assert!(Length::mm(3) < step && step < Length::mm(6), "{step}");
    }
}
