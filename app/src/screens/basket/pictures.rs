//! The pictures of the basket, drawn one after the other once the words stand: none keeps a touch waiting.

use std::future::Future;
use std::time::Duration;

use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::fabric::FabricPicture;
use crate::lazy_pictures::NoPicture;

/// By then the basket's words are painted.
const FIRST: Duration = Duration::from_millis(250);

/// Between two pictures a touch finds its answer.
const EACH: Duration = Duration::from_millis(60);

/// A picture that is drawn when its turn has come; none where what draws it cannot be had.
pub(super) fn in_turn<Coming>(
    nth: usize,
    draw: impl Fn() -> Coming + 'static,
) -> Signal<Option<FabricPicture>>
where
    Coming: Future<Output = Result<FabricPicture, NoPicture>> + 'static,
{
    let picture = RwSignal::new(None);
    Effect::new(move || {
        let coming = draw();
        let turn = u32::try_from(nth).unwrap_or(u32::MAX);
        let ask = move || {
            spawn_local(async move {
                let drawn = coming.await.ok();
                // The card may have gone meanwhile.
                picture.try_set(drawn);
            });
        };
        set_timeout(ask, FIRST.saturating_add(EACH.saturating_mul(turn)));
    });
    picture.into()
}
