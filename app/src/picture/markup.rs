//! The picture as text of SVG: on Now it is put into the page, in a document it is a figure. What stands where is
//! decided in [`super::layout`]; colours are `style/picture.css`'s, by class.
//!
//! Every word in it is one of ours, without a sign that a document would take for its own. Knows no document.

use std::fmt::Write as _;

use evenloop_engine::needles::{Needles, Origin};

use super::look::Look;
use super::say::say;
use super::scene::{Bead, Opening, Picture, PictureText, StitchBand, Total, Working};
use crate::tenths::tenths;

/// The needles as they lie between two moves, with their words for the ear; `yarn` is the class that says the colour
/// of the yarn that is worked with. The textures have to be on the page, see [`textures`].
pub fn still(needles: &Needles, look: Look, yarn: &'static str) -> String {
    let picture = Picture::of(needles, look, false);
    let (wide, high) = Picture::SIZE;
    let mut svg = Svg(String::with_capacity(8 * 1024));
    svg.put(format_args!(
        "<svg viewBox=\"0 0 {} {}\" role=\"img\" focusable=\"false\" aria-label=\"{}\">",
        tenths(wide),
        tenths(high),
        say(needles, look, false)
    ));
    svg.under(&picture);
    svg.bands(&picture, |_, _| BandLook::OfYarn(yarn));
    svg.over(&picture, Some(yarn));
    svg.0.push_str("</svg>");
    svg.0
}

/// The textures that tell groups apart, once for a page of stills.
pub fn textures() -> String {
    format!(
        "<svg class=\"textures\" aria-hidden=\"true\" focusable=\"false\"><defs>{}</defs></svg>",
        patterns()
    )
}

/// The textures that tell groups apart without colour: name, side, turn and line of each.
const TEXTURES: [[&str; 4]; 5] = [
    ["texture-back", "7", "rotate(0)", "M0 3.5H7"],
    ["texture-heel", "6", "rotate(0)", "M3 0V6"],
    ["texture-gusset-left", "7", "rotate(45)", "M3.5 0V7"],
    ["texture-gusset-right", "7", "rotate(-45)", "M3.5 0V7"],
    ["texture-sole", "8", "rotate(0)", "M2 2h1.5M6 6h1.5"],
];

/// The textures, for the `defs` of an SVG. One copy on a page is enough.
pub(super) fn patterns() -> String {
    let mut svg = Svg::default();
    for [id, size, turn, line] in TEXTURES {
        svg.put(format_args!(
            "<pattern id=\"{id}\" width=\"{size}\" height=\"{size}\" patternUnits=\"userSpaceOnUse\" patternTransform=\"{turn}\"><path class=\"texture\" d=\"{line}\"/></pattern>"
        ));
    }
    svg.0
}

/// What hangs from one group of loops.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Knitted {
    /// The class that says the colour of the loops.
    pub hue: &'static str,
    /// The stitches as text of SVG, on the picture's field.
    pub stitches: String,
}

/// What a group looks like.
pub(super) enum BandLook {
    /// In the colour of its part of the sock.
    OfPart,
    /// In the colour of its yarn, by its class.
    OfYarn(&'static str),
    /// Its stitches.
    Knitted(Knitted),
}

/// What lies below the groups: cables and needles.
pub(super) fn under(picture: &Picture) -> String {
    let mut svg = Svg::default();
    svg.under(picture);
    svg.0
}

/// The groups, each with its count; which look each has, counted from 0, is asked.
pub(super) fn bands(picture: &Picture, look: impl Fn(&StitchBand, usize) -> BandLook) -> String {
    let mut svg = Svg::default();
    svg.bands(picture, look);
    svg.0
}

/// What lies over the groups: edges, gaps, yarn and tip, markers and words. `yarn` is the class of the working yarn's
/// colour, where that is known.
pub(super) fn over(picture: &Picture, yarn: Option<&'static str>) -> String {
    let mut svg = Svg::default();
    svg.over(picture, yarn);
    svg.0
}

/// The class that colours a part of the sock, and the texture drawn over it.
const fn class_and_texture(origin: Origin) -> (&'static str, &'static str) {
    match origin {
        Origin::Back => ("back", "url(#texture-back)"),
        Origin::Front => ("front", "none"),
        Origin::Heel => ("heel", "url(#texture-heel)"),
        Origin::GussetLeft => ("gusset-left", "url(#texture-gusset-left)"),
        Origin::Instep => ("instep", "none"),
        Origin::GussetRight => ("gusset-right", "url(#texture-gusset-right)"),
        Origin::Sole => ("sole", "url(#texture-sole)"),
    }
}

#[derive(Default)]
struct Svg(String);

impl Svg {
    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing into a String cannot fail.
        let _ = self.0.write_fmt(text);
    }

    fn path(&mut self, class: &str, d: &str) {
        self.put(format_args!("<path class=\"{class}\" d=\"{d}\"/>"));
    }

    fn under(&mut self, picture: &Picture) {
        for d in &picture.cables {
            self.path("cable", d);
        }
        for shaft in &picture.shafts {
            self.path(shaft.class(), &shaft.line);
        }
    }

    fn bands(&mut self, picture: &Picture, look: impl Fn(&StitchBand, usize) -> BandLook) {
        for (nth, band) in picture.bands.iter().enumerate() {
            self.band(band, look(band, nth));
        }
    }

    fn over(&mut self, picture: &Picture, yarn: Option<&'static str>) {
        if let Some(words) = &picture.empty {
            let (wide, high) = Picture::SIZE;
            return self.put(format_args!(
                "<text class=\"name\" x=\"{}\" y=\"{}\" text-anchor=\"middle\">{words}</text>",
                tenths(wide / 2.0),
                tenths(high / 2.0)
            ));
        }
        for opening in &picture.openings {
            self.opening(opening);
        }
        for d in &picture.gaps {
            self.path("gap", d);
        }
        for strand in [&picture.waiting, &picture.working].into_iter().flatten() {
            self.strand(strand, yarn);
        }
        if let Some(working) = &picture.working {
            self.path("tip", &working.needle);
        }
        for bead in &picture.beads {
            self.bead(bead);
        }
        if let Some(d) = &picture.start {
            self.path("start", d);
        }
        for name in &picture.names {
            self.text("name", name);
        }
        for total in &picture.totals {
            self.total(total);
        }
    }

    fn band(&mut self, band: &StitchBand, look: BandLook) {
        let (part, texture) = class_and_texture(band.origin);
        let rests = if band.rests { " rests" } else { "" };
        match look {
            BandLook::OfPart => {
                self.put(format_args!("<g class=\"band{rests} {part}\">"));
            }
            BandLook::OfYarn(hue) => {
                self.put(format_args!("<g class=\"band{rests} of-yarn {hue}\">"));
            }
            BandLook::Knitted(Knitted { hue, stitches }) => {
                self.put(format_args!(
                    "<g class=\"band{rests} knitted {hue}\"><g class=\"stitches\">{stitches}</g>"
                ));
                return self.loops_and_count(band);
            }
        }
        self.path("fabric", &band.fabric);
        self.put(format_args!(
            "<path class=\"over\" d=\"{}\" fill=\"{texture}\"/>",
            band.fabric
        ));
        self.loops_and_count(band);
    }

    /// What every group ends with.
    fn loops_and_count(&mut self, band: &StitchBand) {
        self.path("loops", &band.loops);
        self.text("count", &band.count);
        self.0.push_str("</g>");
    }

    fn opening(&mut self, opening: &Opening) {
        self.put(format_args!(
            "<g class=\"opening\"><path d=\"{}\"/>",
            opening.outline
        ));
        if let Some(count) = &opening.count {
            self.text("count", count);
        }
        self.0.push_str("</g>");
    }

    fn strand(&mut self, working: &Working, yarn: Option<&'static str>) {
        match yarn {
            Some(hue) => self.put(format_args!("<g class=\"strand dyed {hue}\">")),
            None => self.put(format_args!("<g class=\"strand\">")),
        }
        self.path("yarn outline", &working.yarn);
        self.path("yarn", &working.yarn);
        self.put(format_args!(
            "<circle class=\"ball\" cx=\"{}\" cy=\"{}\" r=\"6.5\"/></g>",
            tenths(working.ball.0),
            tenths(working.ball.1)
        ));
    }

    fn bead(&mut self, bead: &Bead) {
        self.put(format_args!(
            "<g class=\"bead\"><path d=\"{}\"/><circle cx=\"{}\" cy=\"{}\" r=\"4.5\"/></g>",
            bead.across,
            tenths(bead.x),
            tenths(bead.y)
        ));
    }

    fn total(&mut self, total: &Total) {
        let class = if total.works { "total works" } else { "total" };
        let left = total.x - total.wide / 2.0;
        let high = tenths(total.y);
        self.put(format_args!(
            "<g class=\"{class}\"><rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"18\" rx=\"9\"/>",
            tenths(left),
            tenths(total.y - 9.0),
            tenths(total.wide)
        ));
        if let Some(number) = total.number {
            let x = tenths(left + 9.0);
            self.put(format_args!(
                "<circle cx=\"{x}\" cy=\"{high}\" r=\"9\"/><text class=\"number\" x=\"{x}\" y=\"{high}\" text-anchor=\"middle\" dy=\"0.36em\">{number}</text>"
            ));
        }
        self.put(format_args!(
            "<text class=\"sum\" x=\"{}\" y=\"{high}\" text-anchor=\"middle\" dy=\"0.36em\">{}</text></g>",
            tenths(total.middle_of_text()),
            total.text
        ));
    }

    /// A word or a number. It is turned by a group of its own: for left-handed knitting the style sheet turns the letters
    /// back.
    fn text(&mut self, class: &str, text: &PictureText) {
        let (x, y) = (tenths(text.x), tenths(text.y));
        self.0.push_str("<g");
        if text.turn != 0.0 {
            self.put(format_args!(
                " transform=\"rotate({} {x} {y})\"",
                tenths(text.turn)
            ));
        }
        self.put(format_args!(
            "><text class=\"{class}\" x=\"{x}\" y=\"{y}\" text-anchor=\"{}\" dy=\"0.36em\">{}</text></g>",
            text.hold.anchor(),
            text.words
        ));
    }
}
