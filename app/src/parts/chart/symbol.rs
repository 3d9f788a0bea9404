//! The trade's usual chart symbols as line drawings, and their names in words. A cell is 24 by 24;
//! charts show the right side and are read from right to left, upward. For left-handed knitting the style
//! sheet shows the mirror image.

use evenloop_engine::stitch::{Cross, Lean};
use evenloop_engine::text::KnittingHand;
use leptos::prelude::*;

use super::cells::Symbol;
use crate::tenths::tenths;
use crate::text;

/// Side of a cell in the drawing.
pub(super) const SIDE: u16 = 24;

impl Symbol {
    /// Its name, as it is read out to who knits with that hand.
    pub fn name(self, hand: KnittingHand) -> String {
        match self {
            Self::Knit => text::chart::KNIT.to_owned(),
            Self::Purl => text::chart::PURL.to_owned(),
            Self::Twisted => text::chart::TWISTED.to_owned(),
            Self::Slipped => text::chart::SLIPPED.to_owned(),
            Self::YarnOver => text::chart::YARN_OVER.to_owned(),
            Self::K2tog => text::chart::K2TOG.to_owned(),
            Self::Ssk => text::chart::SSK.to_owned(),
            Self::Cross(cross) => text::chart::cross(cross, hand),
        }
    }

    /// It in a box of its own, as text of SVG, silent to a screen reader.
    pub fn svg(self) -> String {
        let wide = self.span() * usize::from(SIDE);
        format!(
            "<svg class=\"chart-picture\" viewBox=\"0 0 {wide} {SIDE}\" width=\"{wide}\" aria-hidden=\"true\" focusable=\"false\"><path class=\"chart-box\" d=\"M0 0h{wide}v{SIDE}H0z\"/><path d=\"{}\"/></svg>",
            self.path()
        )
    }

    /// Its lines, in a field as many cells wide as it covers; a knit stitch is an empty cell.
    pub fn path(self) -> String {
        match self {
            Self::Knit => String::new(),
            Self::Purl => "M6 12h12".to_owned(),
            Self::Twisted => "M6 20C16 17 17 4 12 4S8 17 18 20".to_owned(),
            Self::Slipped => "M6 5l6 14 6-14".to_owned(),
            Self::YarnOver => "M12 6a6 6 0 1 0 0 12a6 6 0 1 0 0-12z".to_owned(),
            Self::K2tog => "M5 20 19 4".to_owned(),
            Self::Ssk => "M19 20 5 4".to_owned(),
            Self::Cross(cross) => cross_path(cross),
        }
    }
}

/// The band on top as two lines from edge to edge, the one behind as the two ends that are to be
/// seen of it, each with a bar where it is purled.
fn cross_path(cross: Cross) -> String {
    let wide = f32::from(cross.width() * SIDE);
    let over = f32::from(cross.over.get() * SIDE);
    let under = wide - over;
    // Drawn leaning to the right: what lies on top comes from the left.
    let x = |x: f32| match cross.lean {
        Lean::Right => x,
        Lean::Left => wide - x,
    };
    let line = |from: (f32, f32), to: (f32, f32)| {
        let [left, right] = [x(from.0), x(to.0)].map(tenths);
        let [begin, end] = [from.1, to.1].map(tenths);
        format!("M{left} {begin}L{right} {end}")
    };
    let part = |a: f32, b: f32, share: f32| a + (b - a) * share;
    let (low, high, gap) = (21.0, 3.0, 3.0);
    let mut path = line((gap, low), (under + gap, high));
    path += &line((over - gap, low), (wide - gap, high));
    let (right_low, right_high) = ((wide - gap, low), (under - gap, high));
    let (left_low, left_high) = ((over + gap, low), (gap, high));
    let end = (part(right_low.0, right_high.0, 0.3), part(low, high, 0.3));
    path += &line(right_low, end);
    let end = (part(left_high.0, left_low.0, 0.3), part(high, low, 0.3));
    path += &line(left_high, end);
    if cross.purl {
        path += &line((wide - 12.0, low), (wide - 6.0, low));
        path += &line((6.0, high), (12.0, high));
    }
    path
}

/// A symbol in a field of its own, silent to a screen reader.
pub fn drawn(symbol: Symbol) -> AnyView {
    let wide = symbol.span() * usize::from(SIDE);
    view! {
        <svg
            class="chart-symbol"
            viewBox=format!("0 0 {wide} {SIDE}")
            aria-hidden="true"
            focusable="false"
        >
            <path d=symbol.path()></path>
        </svg>
    }
    .into_any()
}
