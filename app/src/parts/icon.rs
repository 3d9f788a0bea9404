//! Our own line drawings, each one path on a field of 24 by 24. They never stand without words.

use leptos::prelude::*;

/// What a drawing shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sign {
    /// A basket with a handle.
    Basket,
    /// A piece of measuring tape.
    Tape,
    /// Stitches in a ring with a needle through them.
    Ring,
    /// A sock.
    Sock,
    /// A lidded box.
    Chest,
    /// All is well.
    Well,
    /// Something to think about.
    Mind,
    /// Something is wrong.
    Wrong,
    /// Opens something further.
    Onward,
}

impl Sign {
    const fn path(self) -> &'static str {
        match self {
            Self::Basket => {
                "M3.5 10h17l-1.7 8.4a2 2 0 0 1-2 1.6H7.2a2 2 0 0 1-2-1.6z M7 10c.4-7.6 9.6-7.6 10 0 \
                 M4.3 14h15.4 M9.5 10l.6 10 M14.5 10l-.6 10"
            }
            Self::Tape => {
                "M2.8 16.2 16.2 2.800l5 5L7.8 21.200z M6.3 12.700l2.2 2.2 M9.5 9.500l3.2 3.2 \
                 M12.7 6.300l2.2 2.2"
            }
            Self::Ring => {
                "M12 7.500c5 0 9 2.1 9 4.800s-4 4.8-9 4.8-9-2.1-9-4.8 4-4.8 9-4.800z \
                 M12 11c2.6 0 4.6.6 4.6 1.400s-2 1.4-4.6 1.4-4.6-.6-4.6-1.400S9.4 11 12 11z \
                 M17.5 2.5 6.5 21.5"
            }
            Self::Sock => {
                "M7.5 3h8v9.300c0 .8.3 1.5.9 2.100l3 2.700c1.9 1.7.7 4.9-1.9 4.900h-2.600c-1.2 \
                 0-2.3-.4-3.2-1.200l-4.2-3.600V3z M7.5 6.500h8 M7.5 14.500c2.5-.6 4 .6 4.2 2.7"
            }
            Self::Chest => {
                "M4.5 10v9a1.5 1.5 0 0 0 1.5 1.500h12a1.5 1.5 0 0 0 1.5-1.500v-9 \
                 M4.5 4.500h15A1.5 1.5 0 0 1 21 6v2.500a1.5 1.5 0 0 1-1.5 1.500h-15A1.5 1.5 0 0 \
                 1 3 8.500V6a1.5 1.5 0 0 1 1.5-1.500z M10 14h4"
            }
            Self::Well => "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18z M8 12.300l2.8 2.800L16 9.5",
            Self::Mind => "M12 3a9 9 0 1 0 0 18 9 9 0 0 0 0-18z M12 11v5.5 M12 7.600v.1",
            Self::Wrong => "M12 3.5 21.5 20h-19z M12 10v4.5 M12 17.200v.1",
            Self::Onward => "M9 5l7 7-7 7",
        }
    }
}

/// One drawing, silent to a screen reader.
#[component]
pub fn Icon(
    /// What it shows.
    sign: Sign,
) -> impl IntoView {
    view! {
        <svg class="icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
            <path d=sign.path()></path>
        </svg>
    }
    .into_any()
}
