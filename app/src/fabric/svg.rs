//! The picture as text of SVG: a few paths for each yarn, each used more than once.
//!
//! The viewBox is in tenths of a millimetre. What is thick and what is shaded is written here; which
//! colours that is, `style/fabric.css` says.

use std::fmt::Write as _;

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::stitch::Yarn;
use evenloop_engine::trace::{Position, Trace};

use super::path::Path;
use super::point::Point;
use super::sock::SockPicture;
use super::stitch::Region;
use super::yarn_paths::{Detail, FabricPaths, YarnPaths};
use crate::hue::Hue;
use crate::tenths::{tenths, whole};

/// Units of a viewBox in a millimetre.
const UNITS: f32 = 10.0;

/// How a sock is drawn.
#[derive(Debug, Clone, Copy)]
pub struct Drawing<'a> {
    /// How closely.
    pub detail: Detail,
    /// The colours of yarns A to D.
    pub hues: [Hue; 4],
    /// Where the knitting is; all of it is knitted without.
    pub at: Option<Position>,
    /// What its parts are called; no other picture of the page may be called so.
    pub name: &'a str,
}

/// The field of a picture: left, top, width, height.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Field {
    /// Its left edge.
    pub left: f32,
    /// Its upper edge.
    pub top: f32,
    /// How wide it is.
    pub wide: f32,
    /// How high it is.
    pub high: f32,
}

impl Field {
    /// As an attribute.
    pub fn view_box(self) -> String {
        let Self {
            left,
            top,
            wide,
            high,
        } = self;
        let [left, top, wide, high] = [left, top, wide, high].map(whole);
        format!("{left} {top} {wide} {high}")
    }
}

/// A picture to be shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FabricPicture {
    /// The viewBox of its `svg` element.
    pub view_box: String,
    /// What stands inside.
    pub markup: String,
}

impl FabricPicture {
    /// Draws the sock of a plan; `None` where the trace is not the plan's.
    pub fn of(plan: &Plan, trace: &Trace, drawing: &Drawing<'_>) -> Option<Self> {
        let picture = SockPicture::of(plan, trace)?;
        Some(Self {
            view_box: picture.field().view_box(),
            markup: picture.markup(drawing),
        })
    }
}

/// A part of the sock that can be touched.
#[derive(Debug, Clone, PartialEq)]
pub struct TouchPart {
    /// Its section.
    pub kind: SectionKind,
    /// Where it lies, as a path.
    pub area: String,
    /// Where its label stands.
    pub label: (f32, f32),
}

/// What stitches are drawn with: the class that says the tone, and how thick, in widths of a stitch.
struct Tone(&'static str, f32);

impl SockPicture {
    /// The field that holds all of it.
    pub fn field(&self) -> Field {
        let (from, to) = self.frame();
        Field {
            left: from.x * UNITS,
            top: from.y * UNITS,
            wide: (to.x - from.x) * UNITS,
            high: (to.y - from.y) * UNITS,
        }
    }

    /// Whether the field's upper right corner is free, above the foot: for words.
    pub fn has_free_corner(&self) -> bool {
        let field = self.field();
        // The origin is where leg and instep meet, in the middle of the leg.
        let (leg, ankle) = (-2.0 * field.left, -field.top);
        leg <= field.wide * 0.5 && ankle >= field.wide * 0.45
    }

    /// What can be touched, in the order knitted.
    pub fn touch_parts(&self) -> Vec<TouchPart> {
        let part = |part: &super::shapes::PartShape| {
            let Point { x, y } = part.middle()?;
            Some(TouchPart {
                kind: section(part.region),
                area: part.area(usize::MAX, UNITS).into_text(),
                label: (x * UNITS, y * UNITS),
            })
        };
        self.parts().iter().filter_map(part).collect()
    }

    /// Each yarn that is used, and where on its widest stripe its letter stands.
    pub fn marks(&self) -> Vec<(Yarn, (f32, f32))> {
        let marks = self.yarn_marks().into_iter();
        marks
            .map(|(yarn, Point { x, y })| (yarn, (x * UNITS, y * UNITS)))
            .collect()
    }

    /// The line where knitting stands.
    pub fn stand_path(&self, at: Position) -> String {
        self.stand(at).into_text()
    }

    /// The middle of that line; nothing before the first row.
    pub fn stand_point(&self, at: Position) -> Option<(f32, f32)> {
        let Point { x, y } = self.stand_middle(at)?;
        Some((x * UNITS, y * UNITS))
    }

    /// What stands inside the `svg` element.
    pub fn markup(&self, drawing: &Drawing<'_>) -> String {
        let made = drawing.at.map_or(usize::MAX, |at| self.made_before(at));
        let paths = self.paths(made, drawing.detail);
        let mut out = Markup {
            text: String::with_capacity(150_000),
            drawing: *drawing,
            wide: self.stitch() * drawing.detail.steps(),
        };
        let scale = UNITS / drawing.detail.steps();
        // Writing into a String cannot fail.
        let _ = write!(
            out.text,
            "<g class=\"fabric\" transform=\"scale({})\">",
            tenths(scale)
        );
        let steps = drawing.detail.steps();
        for part in self.parts() {
            out.begin(part.yarn);
            if drawing.at.is_some() {
                out.filled("to-come", &part.area(usize::MAX, steps));
            }
            out.filled("ground", &part.area(made, steps));
            out.end();
        }
        out.stitches(&paths);
        out.text.push_str("</g>");
        out.text
    }
}

struct Markup<'a> {
    text: String,
    drawing: Drawing<'a>,
    /// A stitch in steps.
    wide: f32,
}

/// Stitches that do not lie on the table, over their ground in a yarn's colour; `wide` is a stitch in the units of
/// the paths.
pub(super) fn stitches_markup(
    yarn: Yarn,
    ground: &Path,
    paths: &FabricPaths,
    drawing: &Drawing<'_>,
    wide: f32,
) -> String {
    let steps = drawing.detail.steps();
    let mut out = Markup {
        text: String::with_capacity(16_000),
        drawing: *drawing,
        wide: wide * steps,
    };
    // Writing into a String cannot fail.
    let _ = write!(
        out.text,
        "<g class=\"fabric\" transform=\"scale({})\">",
        tenths(1.0 / steps)
    );
    out.begin(yarn);
    out.filled("ground", ground);
    out.end();
    out.stitches(paths);
    out.text.push_str("</g>");
    out.text
}

impl Markup<'_> {
    /// All stitches, from the shades up to what lies in front.
    fn stitches(&mut self, paths: &FabricPaths) {
        let used = Yarn::ALL
            .into_iter()
            .filter(|yarn| !paths.of(*yarn).is_empty());
        for yarn in used.clone() {
            self.begin(yarn);
            self.under(yarn, paths.of(yarn));
            self.end();
        }
        for yarn in used.clone() {
            self.begin(yarn);
            self.middle(yarn, paths.of(yarn));
            self.end();
        }
        self.filled("hole", &paths.holes);
        for yarn in used {
            self.begin(yarn);
            self.over(paths.of(yarn));
            self.end();
        }
    }

    fn begin(&mut self, yarn: Yarn) {
        let hue = Hue::of(yarn, self.drawing.hues).class();
        let _ = write!(self.text, "<g class=\"{hue}\">");
    }

    fn end(&mut self) {
        self.text.push_str("</g>");
    }

    fn filled(&mut self, class: &str, path: &Path) {
        if !path.is_empty() {
            let _ = write!(
                self.text,
                "<path class=\"{class}\" d=\"{}\"/>",
                path.as_str()
            );
        }
    }

    fn stroked(&mut self, Tone(class, width): Tone, path: &Path) {
        if !path.is_empty() {
            let _ = write!(
                self.text,
                "<path class=\"{class}\" stroke-width=\"{}\" d=\"{}\"/>",
                tenths(width * self.wide),
                path.as_str()
            );
        }
    }

    /// Draws a path and names it, to be drawn again in another tone.
    fn named(&mut self, yarn: Yarn, key: &str, width: f32, path: &Path) {
        if !path.is_empty() {
            let _ = write!(
                self.text,
                "<defs><path id=\"{0}-{1}{key}\" d=\"{2}\"/></defs>",
                self.drawing.name,
                yarn.letter(),
                path.as_str()
            );
            self.again(yarn, key, Tone("deep", width), path);
        }
    }

    fn again(&mut self, yarn: Yarn, key: &str, Tone(class, width): Tone, path: &Path) {
        if !path.is_empty() {
            let _ = write!(
                self.text,
                "<use class=\"{class}\" stroke-width=\"{}\" href=\"#{}-{}{key}\"/>",
                tenths(width * self.wide),
                self.drawing.name,
                yarn.letter()
            );
        }
    }

    /// The shade that stitches throw.
    fn under(&mut self, yarn: Yarn, paths: &YarnPaths) {
        if self.drawing.detail == Detail::Legs {
            self.named(yarn, "p", 0.62, &paths.bumps);
            self.named(yarn, "f", 0.56, &paths.legs);
            self.named(yarn, "b", 0.56, &paths.other_legs);
        }
    }

    /// The stitches themselves.
    fn middle(&mut self, yarn: Yarn, paths: &YarnPaths) {
        match self.drawing.detail {
            Detail::Legs => {
                self.again(yarn, "p", Tone("mid", 0.3), &paths.bumps);
                self.again(yarn, "f", Tone("light", 0.31), &paths.legs);
                self.again(yarn, "b", Tone("mid", 0.31), &paths.other_legs);
            }
            Detail::Strokes => {
                self.stroked(Tone("mid", 0.3), &paths.bumps);
                self.stroked(Tone("light", 0.34), &paths.legs);
            }
        }
    }

    /// What lies on top.
    fn over(&mut self, paths: &YarnPaths) {
        if self.drawing.detail == Detail::Legs {
            self.stroked(Tone("deep", 0.5), &paths.upper);
            self.stroked(Tone("deep", 0.5), &paths.threads);
        }
        self.stroked(Tone("light", 0.33), &paths.upper);
        self.stroked(Tone("light", 0.34), &paths.threads);
    }
}

const fn section(region: Region) -> SectionKind {
    match region {
        Region::Cuff => SectionKind::Cuff,
        Region::Leg => SectionKind::Leg,
        Region::Flap => SectionKind::HeelFlap,
        Region::Turn => SectionKind::HeelTurn,
        Region::Gusset => SectionKind::Gusset,
        Region::ShortHeel => SectionKind::ShortHeel,
        Region::LateHeel => SectionKind::LateHeel,
        Region::Foot => SectionKind::Foot,
        Region::Toe | Region::ShortToe => SectionKind::Toe,
    }
}
