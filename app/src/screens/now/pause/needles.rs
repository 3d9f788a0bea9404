//! What was counted on each needle.

use leptos::prelude::*;

use crate::parts::Stepper;
use crate::parts::plain::group;
use crate::text;

/// Most stitches on a needle that can be entered: more than any sock has.
const MOST: u16 = 400;

/// A stepper for each needle; one number is all of them. `page` makes their ids unique, and `due`, where that is told, is
/// what each should hold: said where another number was counted.
pub(super) fn needles(counted: RwSignal<Vec<u16>>, due: &[u16], page: &str) -> AnyView {
    let many = counted.with_untracked(Vec::len);
    let steppers = (0..many).map(|needle| {
        let due = due.get(needle).copied();
        let label = Signal::derive(move || {
            let here = counted.with(|counted| counted.get(needle).copied());
            let name = if many == 1 {
                text::pause::ALL.to_owned()
            } else {
                text::pause::needle(needle + 1)
            };
            match due.filter(|due| here != Some(*due)) {
                Some(due) => text::pause::should_be(&name, due),
                None => name,
            }
        });
        let value = Signal::derive(move || counted.with(|c| c.get(needle).copied().unwrap_or(0)));
        let change = Callback::new(move |number| {
            counted.update(|c| {
                if let Some(here) = c.get_mut(needle) {
                    *here = number;
                }
            });
        });
        let id = format!("{page}-{needle}");
        view! { <Stepper id label value on_change=change most=MOST /> }.into_any()
    });
    group("steppers", steppers.collect())
}
