//! The picture as text of SVG, for documents that are not made of views. It is the one of [`super::view`] before its
//! fabric is drawn: what stands where is decided in [`super::layout`] for both.
//!
//! Knows no document.

use std::fmt::Write as _;

use evenloop_engine::needles::Needles;

use super::look::Look;
use super::say::say;
use super::scene::{Opening, Picture, PictureText, StitchBand, Total, Working};
use super::view::{TEXTURES, class_and_texture};
use crate::tenths::tenths;

/// The needles as they lie between two moves, with their words for the ear; `yarn` is the class that says the colour
/// of the yarn that is worked with. The textures have to be on the page, see [`textures`].
pub fn still(needles: &Needles, look: Look, yarn: &str) -> String {
    let picture = Picture::of(needles, look, false);
    let (wide, high) = Picture::SIZE;
    let mut svg = Svg(String::with_capacity(8 * 1024));
    svg.put(format_args!(
        "<svg viewBox=\"0 0 {} {}\" role=\"img\" focusable=\"false\" aria-label=\"{}\">",
        tenths(wide),
        tenths(high),
        say(needles, look, false)
    ));
    svg.picture(&picture, yarn);
    svg.0.push_str("</svg>");
    svg.0
}

/// The textures that tell groups apart, once for a page of stills.
pub fn textures() -> String {
    let mut svg =
        Svg("<svg class=\"textures\" aria-hidden=\"true\" focusable=\"false\"><defs>".into());
    for [id, size, turn, line] in TEXTURES {
        svg.put(format_args!(
            "<pattern id=\"{id}\" width=\"{size}\" height=\"{size}\" patternUnits=\"userSpaceOnUse\" patternTransform=\"{turn}\"><path class=\"texture\" d=\"{line}\"/></pattern>"
        ));
    }
    svg.0.push_str("</defs></svg>");
    svg.0
}

struct Svg(String);

impl Svg {
    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing into a String cannot fail.
        let _ = self.0.write_fmt(text);
    }

    fn path(&mut self, class: &str, d: &str) {
        self.put(format_args!("<path class=\"{class}\" d=\"{d}\"/>"));
    }

    fn picture(&mut self, picture: &Picture, yarn: &str) {
        for d in &picture.cables {
            self.path("cable", d);
        }
        for shaft in &picture.shafts {
            self.path(shaft.class(), &shaft.line);
        }
        for band in &picture.bands {
            self.band(band, yarn);
        }
        for opening in &picture.openings {
            self.opening(opening);
        }
        for d in &picture.gaps {
            self.path("gap", d);
        }
        if let Some(working) = &picture.working {
            self.strand(working, yarn);
            self.path("tip", &working.needle);
        }
        for bead in &picture.beads {
            self.put(format_args!(
                "<g class=\"bead\"><path d=\"{}\"/><circle cx=\"{}\" cy=\"{}\" r=\"4.5\"/></g>",
                bead.across,
                tenths(bead.x),
                tenths(bead.y)
            ));
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

    fn band(&mut self, band: &StitchBand, yarn: &str) {
        let (_, texture) = class_and_texture(band.origin);
        let rests = if band.rests { " rests" } else { "" };
        self.put(format_args!("<g class=\"band{rests} of-yarn {yarn}\">"));
        self.path("fabric", &band.fabric);
        self.put(format_args!(
            "<path class=\"over\" d=\"{}\" fill=\"{}\"/>",
            band.fabric,
            texture.unwrap_or("none")
        ));
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

    fn strand(&mut self, working: &Working, yarn: &str) {
        self.put(format_args!("<g class=\"strand dyed {yarn}\">"));
        self.path("yarn outline", &working.yarn);
        self.path("yarn", &working.yarn);
        self.put(format_args!(
            "<circle class=\"ball\" cx=\"{}\" cy=\"{}\" r=\"6.5\"/></g>",
            tenths(working.ball.0),
            tenths(working.ball.1)
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

#[cfg(test)]
mod tests {
    use evenloop_engine::plan::{SectionKind, make};
    use evenloop_engine::recipe::{Method, Recipe};
    use evenloop_engine::trace::Trace;
    use leptos::prelude::*;

    use super::*;
    use crate::picture::{GroupFabric, NeedlePicture};

    /// Every line, place and word of an SVG, without what a view adds, sorted: both paint in the same order but for
    /// the yarn.
    fn drawn(svg: &str) -> Vec<String> {
        let inside = svg.split_once("<svg").map_or("", |(_, rest)| rest);
        let mut found: Vec<String> = Vec::new();
        for tag in inside.split('<') {
            for name in [
                " d=\"",
                " x=\"",
                " cx=\"",
                " class=\"",
                " transform=\"",
                " aria-label=\"",
            ] {
                if let Some((_, rest)) = tag.split_once(name) {
                    let value = rest.split('"').next().unwrap_or_default();
                    found.push(format!("{name}{value}"));
                }
            }
            if let Some((_, words)) = tag.split_once('>')
                && tag.starts_with("text")
            {
                found.push(words.to_owned());
            }
        }
        found.sort();
        found
    }

    /// On paper stands what was on Now: the figure of the whole crossing, on every method.
    #[test]
    fn a_still_is_the_figure_of_now() {
        let owner = Owner::new();
        owner.set();
        for method in Method::ALL {
            let plan = make(&Recipe {
                needles: method,
                ..Recipe::default()
            })
            .expect("a sock");
            let trace = Trace::of(&plan).expect("it can be knitted");
            let look = Look::from(method);
            let crossing = trace.steps.iter().filter(|s| s.kind == SectionKind::PickUp);
            let moves: Vec<&Needles> = crossing
                .flat_map(|step| step.moves.iter().map(|mv| &mv.after))
                .collect();
            assert!(moves.len() >= 5, "{method:?}");
            for needles in moves {
                let fabric = GroupFabric {
                    group: std::sync::Arc::new(|_, _| None),
                    yarn: Some("hue-lake"),
                };
                let none: Option<Needles> = None;
                let nothing = none.clone();
                let fabric = Some(fabric);
                let needles_now = needles.clone();
                let view = view! {
                    <NeedlePicture
                        needles=needles_now
                        look=look
                        flat=false
                        second=none
                        shared=false
                        to_come=nothing
                        fabric=fabric
                    />
                };
                let shown = view.to_html();
                let (defs, figure) = shown.split_once("</defs>").expect("textures");
                let head = defs.split_once("<defs>").map_or("", |(head, _)| head);
                let figure = format!("{head}{figure}");
                let told = still(needles, look, "hue-lake").replace(" of-yarn hue-lake", "");
                // On Now a group has the name of its part while it has no yarn.
                let mut shown: Vec<String> = drawn(&figure)
                    .into_iter()
                    .map(|one| match one.strip_prefix(" class=\"band") {
                        Some(rest) if rest.starts_with(" rests") => {
                            " class=\"band rests".to_owned()
                        }
                        Some(_) => " class=\"band".to_owned(),
                        None => one,
                    })
                    .collect();
                shown.sort();
                assert_eq!(drawn(&told), shown, "{method:?}");
            }
        }
    }
}
