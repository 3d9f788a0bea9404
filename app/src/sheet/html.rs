//! A sheet as HTML, for the screen and for paper. Written as text, not as a view: server and phone
//! put it into the page in one piece, and the same words cost the phone far less.

use evenloop_engine::text::KnittingHand;

use super::blocks::{SheetBlock, SheetItem};
use super::document::{MotifPart, Sheet};
use super::numbers;
use crate::fabric::FabricPicture;
use crate::picture::textures;
use crate::text::sheet as says;

/// The sheet's HTML. Everything that did not come from this program is escaped.
pub fn html(sheet: &Sheet) -> String {
    let mut out = Page(String::with_capacity(16 * 1024));
    out.tag("h2", "", sheet.title.as_str());
    if let Some(FabricPicture { view_box, markup }) = &sheet.fabric {
        out.raw("<svg class=\"of-sheet\" aria-hidden=\"true\" focusable=\"false\" viewBox=\"");
        out.raw(view_box);
        out.raw("\">");
        out.raw(markup);
        out.raw("</svg>");
    }
    out.raw("<div class=\"figures\">");
    for (title, facts) in &sheet.facts {
        out.raw("<section>");
        out.tag("h3", "", title);
        out.facts(facts.iter().map(|(name, value)| (name.as_str(), value)));
        out.raw("</section>");
    }
    out.raw("<section>");
    out.tag("h3", "", says::SCHEMATIC);
    out.raw(&sheet.schematic.svg());
    out.raw("<dl class=\"facts\">");
    for (letter, name, value) in &sheet.schematic.measures {
        out.fact(&says::measure(*letter, name), value);
    }
    out.raw("</dl></section><section>");
    out.tag("h3", "", says::NEEDED);
    out.key("needed", &sheet.needed);
    out.raw("</section></div>");
    if !sheet.cautions.is_empty() {
        out.tag("h3", "", says::MIND);
        out.raw("<ul>");
        for caution in &sheet.cautions {
            out.tag("li", "", caution);
        }
        out.raw("</ul>");
    }
    out.raw("<table class=\"section-table\"><caption>");
    out.text(says::TABLE);
    out.raw("</caption><thead><tr>");
    for column in says::COLUMNS {
        out.tag("th", "scope=\"col\"", column);
    }
    out.raw("</tr></thead><tbody>");
    for [name, cells @ ..] in &sheet.table {
        out.raw("<tr>");
        out.tag("th", "scope=\"row\"", name);
        for cell in cells {
            out.tag("td", "", cell);
        }
        out.raw("</tr>");
    }
    out.raw("</tbody></table>");
    out.tag("p", "class=\"soft small\"", says::YARN_NOTE);
    if !sheet.yarns.is_empty() {
        out.tag("h3", "", says::YARNS);
        out.raw("<ul>");
        for line in &sheet.yarns {
            out.tag("li", "", line);
        }
        out.raw("</ul>");
    }
    if let Some(motif) = &sheet.motif {
        out.motif(motif, sheet.hand);
    }
    if !sheet.key.is_empty() {
        out.tag("h3", "", says::KEY);
        out.key("short", &sheet.key);
    }
    if sheet.has_stills() {
        out.raw(&textures());
    }
    out.tag("h3", "class=\"knitting\"", says::KNITTING);
    if sheet.hand == KnittingHand::Left {
        out.tag("p", "", says::LEFT_HANDED);
    }
    out.tag("p", "class=\"soft small\"", sheet.second());
    if sheet.chart_rounds > 0 {
        out.tag("p", "class=\"soft small\"", says::CHART_TICKS);
    }
    for part in &sheet.parts {
        out.raw("<section class=\"part\">");
        out.tag("h4", "", part.name);
        for block in &part.blocks {
            out.block(block, sheet.chart_rounds);
        }
        out.raw("</section>");
    }
    if let Some(pattern) = &sheet.pattern {
        out.tag("h3", "", says::PATTERN);
        out.tag("p", "class=\"typed-pattern\"", pattern.as_str().trim());
    }
    out.0
}

/// A few sentences in place of a sheet.
pub fn paragraphs(sentences: &[String]) -> String {
    let mut out = Page(String::new());
    for sentence in sentences {
        out.tag("p", "", sentence);
    }
    out.0
}

struct Page(String);

impl Page {
    fn raw(&mut self, html: &str) {
        self.0.push_str(html);
    }

    fn text(&mut self, text: &str) {
        for c in text.chars() {
            match c {
                '&' => self.raw("&amp;"),
                '<' => self.raw("&lt;"),
                '>' => self.raw("&gt;"),
                '"' => self.raw("&quot;"),
                c => self.0.push(c),
            }
        }
    }

    /// An element with a text in it; `with` are its attributes.
    fn tag(&mut self, name: &str, with: &str, text: &str) {
        self.raw("<");
        self.raw(name);
        if !with.is_empty() {
            self.raw(" ");
            self.raw(with);
        }
        self.raw(">");
        self.text(text);
        self.raw("</");
        self.raw(name);
        self.raw(">");
    }

    fn facts<'a>(&mut self, facts: impl Iterator<Item = (&'a str, &'a String)>) {
        self.raw("<dl class=\"facts\">");
        for (name, value) in facts {
            self.fact(name, value);
        }
        self.raw("</dl>");
    }

    /// The motif's chart, its rounds in words, and what the chart's symbols mean.
    fn motif(&mut self, motif: &MotifPart, hand: KnittingHand) {
        let MotifPart {
            place,
            rows,
            chart,
            symbols,
        } = motif;
        self.tag("h3", "", &says::motif(place));
        self.tag("p", "class=\"soft small\"", &says::motif_note(hand));
        self.raw(chart);
        self.raw("<ol>");
        for row in rows {
            self.tag("li", "", row);
        }
        self.raw("</ol>");
        if !symbols.is_empty() {
            self.tag("h3", "", says::CHART_KEY);
            self.raw("<ul class=\"chart-key\">");
            for (drawn, name) in symbols {
                self.raw("<li>");
                self.raw(drawn);
                self.text(name);
                self.raw("</li>");
            }
            self.raw("</ul>");
        }
    }

    /// Names with what is said of each.
    fn key(&mut self, kind: &str, of: &[(String, String)]) {
        self.raw("<dl class=\"key ");
        self.raw(kind);
        self.raw("\">");
        for (name, meaning) in of {
            self.fact(name, meaning);
        }
        self.raw("</dl>");
    }

    fn fact(&mut self, name: &str, value: &str) {
        self.raw("<div>");
        self.tag("dt", "", name);
        self.tag("dd", "", value);
        self.raw("</div>");
    }

    fn block(&mut self, block: &SheetBlock, of_chart: u16) {
        self.raw("<div class=\"alike\">");
        let shape = match block.items.as_slice() {
            [only] => only.said.shape,
            _ => None,
        };
        self.which(&block.heading, shape);
        for item in &block.items {
            self.item(item);
        }
        let chart: Vec<u16> = block.ticks.iter().filter_map(|tick| tick.chart).collect();
        if let Some(rounds) = numbers::of_chart(&chart, of_chart) {
            self.tag("p", "class=\"all\"", &rounds);
        }
        if !block.ticks.is_empty() {
            self.raw("<ul class=\"ticks\">");
            for tick in &block.ticks {
                self.raw("<li>");
                self.text(&tick.number.to_string());
                let beside = says::beside(tick.chart, tick.yarn);
                if !beside.is_empty() {
                    self.text(" ");
                    self.tag("small", "", &beside);
                }
                self.raw("</li>");
            }
            self.raw("</ul>");
        }
        self.raw("</div>");
    }

    fn which(&mut self, heading: &str, shape: Option<&str>) {
        self.raw("<p class=\"which\">");
        self.tag("strong", "", heading);
        if let Some(shape) = shape {
            self.text(", ");
            self.text(shape);
        }
        self.raw("</p>");
    }

    fn item(&mut self, item: &SheetItem) {
        if let Some(heading) = &item.heading {
            self.which(heading, item.said.shape);
        }
        if let Some(note) = &item.said.note {
            self.tag("p", "class=\"note\"", note);
        }
        let lines = item.alike();
        if let Some(like) = &item.like {
            self.tag("p", "", like);
        } else if lines.iter().any(|(_, text, _)| !text.is_empty()) {
            self.raw("<ul class=\"lines\">");
            for (needles, text, after) in &lines {
                self.raw("<li>");
                let name = says::needles_of_lines(needles);
                if !name.is_empty() {
                    self.tag("b", "", &name);
                    self.text(" ");
                }
                self.text(text);
                if !needles.is_empty() && item.counted {
                    self.text(" ");
                    self.tag("i", "", &format!("({after})"));
                }
                self.raw("</li>");
            }
            self.raw("</ul>");
        }
        if item.counted {
            self.tag("p", "class=\"all\"", &says::on_all(&item.total()));
        }
        if let Some(still) = &item.still {
            self.raw("<figure class=\"needles still\">");
            self.tag("figcaption", "", says::AFTERWARDS);
            self.raw(still);
            self.raw("</figure>");
        }
    }
}
