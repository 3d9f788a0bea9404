//! The fabric that hangs from the needles in the picture of Now: it grows with every touch. What draws it comes when the
//! screen is awake; until then, and where it cannot be had, the picture is plain.

// The attribute that marks where to split writes foreign functions, which the tool puts in; what it
// marks has to have a result.
#![allow(unsafe_code, clippy::unnecessary_wraps)]

use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use evenloop_engine::together::Sock;
use leptos::prelude::*;
use leptos::task::spawn_local;
use leptos::wasm_split::{SplitLoaderError, wasm_split};

use crate::fabric::{Detail, Drawing, HangingFabric, HangingPiece};
use crate::hue::Hue;
use crate::in_hand::Session;
use crate::picture::{GroupFabric, Knitted, StitchBand};
use crate::preferences::use_preferences;
use crate::store::KnittedPlan;

/// By then the screen answers touches.
const AWAKE: Duration = Duration::from_millis(400);

/// The fabric of the picture's groups, anew whenever `seen` is raised.
pub(super) fn fabric(session: Session, seen: RwSignal<()>) -> Signal<Option<GroupFabric>> {
    let preferences = use_preferences();
    let drawn_by = RwSignal::new(None::<Arc<dyn Hang>>);
    Effect::new(move || {
        set_timeout(
            move || {
                spawn_local(async move {
                    let hang = hanging(session).await.ok();
                    // The screen may have been left meanwhile.
                    drawn_by.try_set(hang);
                });
            },
            AWAKE,
        );
    });
    Signal::derive(move || {
        seen.track();
        let hues = preferences.get().hues;
        let hang = drawn_by.get()?;
        let yarn = hang.yarn(hues);
        Some(GroupFabric {
            group: Arc::new(move |band, nth| hang.group(band, nth, hues)),
            yarn,
        })
    })
}

/// What draws the fabric at the place where the knitting is, in the colours of yarns A to D.
trait Hang: Send + Sync {
    /// One group of the picture.
    fn group(&self, band: &StitchBand, nth: usize, hues: [Hue; 4]) -> Option<Knitted>;

    /// The class of the colour of the yarn that is worked with.
    fn yarn(&self, hues: [Hue; 4]) -> Option<&'static str>;
}

/// What draws, in a part of its own.
#[wasm_split(hanging, wasm_split_path = ::leptos::wasm_split, fallible)]
fn hanging(session: Session) -> Result<Arc<dyn Hang>, SplitLoaderError> {
    Ok(Arc::new(Hangings {
        session,
        socks: Mutex::new([None, None]),
    }))
}

/// The knitting of a sock, and what it is knitted by.
type Knitting = Option<(Arc<KnittedPlan>, HangingFabric)>;

/// Both socks of the pair in hand.
struct Hangings {
    session: Session,
    socks: Mutex<[Knitting; 2]>,
}

impl Hangings {
    /// Looks at the fabric of a sock, knitted to where it is.
    fn with<T>(&self, sock: Sock, look: impl FnOnce(&HangingFabric) -> Option<T>) -> Option<T> {
        self.session.with_sock(sock, |pair| {
            let knitted = &pair.pair.patterns[sock.index()];
            // What a panic left behind is begun anew.
            let mut socks = self.socks.lock().unwrap_or_else(PoisonError::into_inner);
            let mine = &mut socks[sock.index()];
            // The rest of a sock may have been planned anew.
            if !matches!(mine, Some((plan, _)) if Arc::ptr_eq(plan, knitted)) {
                *mine = Some((Arc::clone(knitted), HangingFabric::of(&knitted.plan)));
            }
            let (_, fabric) = mine.as_mut()?;
            fabric.follow(pair.plan, pair.trace, pair.journal.position())?;
            look(fabric)
        })
    }
}

impl Hang for Hangings {
    fn group(&self, band: &StitchBand, nth: usize, hues: [Hue; 4]) -> Option<Knitted> {
        let shown = untrack(|| self.session.sock());
        let sock = match band.sock {
            Sock::First => shown,
            Sock::Second => shown.other(),
        };
        self.with(sock, |fabric| {
            let piece = HangingPiece {
                first: band.first,
                hooks: &band.hooks,
                room: band.room(),
            };
            let drawing = Drawing {
                detail: Detail::Legs,
                hues,
                at: None,
                name: &format!("hung{nth}"),
            };
            Some(Knitted {
                hue: Hue::of(fabric.yarn(band.first)?, hues).class(),
                stitches: fabric.markup(&piece, &drawing)?,
            })
        })
    }

    fn yarn(&self, hues: [Hue; 4]) -> Option<&'static str> {
        let sock = untrack(|| self.session.sock());
        self.with(sock, |fabric| {
            Some(Hue::of(fabric.working_yarn(), hues).class())
        })
    }
}
