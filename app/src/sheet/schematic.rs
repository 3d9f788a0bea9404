//! A sock lying flat, to scale, with a letter at each length that is measured on it. Widths and
//! lengths are the plan's; only heel and tip are rounded by eye.

use std::fmt::Write as _;

use evenloop_engine::plan::{Plan, SectionKind};
use evenloop_engine::units::{Length, LengthUnit};

use crate::text::sheet as says;

/// What is drawn, in millimetres.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Schematic {
    half: u32,
    leg: u32,
    cuff: u32,
    foot: u32,
    toe: u32,
    /// Letter, name and length.
    pub(super) measures: Vec<(char, &'static str, String)>,
}

pub(super) fn of(plan: &Plan, unit: LengthUnit) -> Schematic {
    let outcome = &plan.outcome;
    let of = |kind| {
        let section = outcome.sections.iter().find(|s| s.kind == kind);
        section.map_or(Length::default(), |s| s.length)
    };
    let (cuff, toe) = (of(SectionKind::Cuff), of(SectionKind::Toe));
    let lengths = [
        outcome.circumference,
        outcome.leg_length,
        cuff,
        outcome.foot_length,
    ];
    let mm = |length: Length| length.tenths() / 10;
    Schematic {
        half: mm(outcome.circumference) / 2,
        leg: mm(outcome.leg_length),
        cuff: mm(cuff),
        foot: mm(outcome.foot_length),
        toe: mm(toe),
        measures: ('A'..)
            .zip(says::MEASURES)
            .zip(lengths)
            .map(|((letter, name), length)| (letter, name, length.show(unit)))
            .collect(),
    }
}

impl Schematic {
    /// The drawing as SVG; its words stand beside it.
    pub(super) fn svg(&self) -> String {
        let Self {
            half: w,
            leg,
            cuff,
            foot,
            toe,
            ..
        } = *self;
        // room for letters at the left and above, in the sock's own millimetres
        let size = (leg + w).max(foot);
        let (m, letter) = (size / 9, size / 16);
        let (sole, tip) = (leg + w, foot.max(w + toe));
        let (turn, round) = (w / 2, w / 3);
        let outline = format!(
            "M0 0H{w}V{leg}H{}Q{tip} {leg} {tip} {} {tip} {sole} {} {sole}H{round}Q0 {sole} 0 {}Z",
            tip - toe,
            leg + turn,
            tip - toe,
            sole - round
        );
        let lines = format!("M0 {cuff}H{w}M{} {leg}V{sole}M0 {leg}H{w}", tip - toe);
        let (up, left, down) = (m / 2, m / 2, sole + m / 2);
        let measured = format!(
            "M0 -{up}H{w}M-{left} 0V{leg}M{} 0V{cuff}M0 {down}H{tip}",
            w + left
        );
        let texts = [
            ('A', w / 2, -i64::from(up) - 4),
            ('C', w + m, i64::from(cuff / 2 + letter / 3)),
            ('D', tip / 2, i64::from(down + letter + 2)),
        ];
        let mut svg = format!(
            "<svg class=\"schematic\" viewBox=\"-{} -{} {} {}\" font-size=\"{letter}\" aria-hidden=\"true\" focusable=\"false\"><path class=\"outline\" d=\"{outline}\"/><path class=\"parts\" d=\"{lines}\"/><path class=\"measured\" d=\"{measured}\"/><text x=\"-{}\" y=\"{}\">B</text>",
            m + letter,
            m + 6,
            tip.max(w + m) + 2 * m + letter,
            sole + 2 * m + letter + 12,
            m + letter / 3,
            leg / 2
        );
        for (letter, x, y) in texts {
            // Writing into a String cannot fail.
            let _ = write!(svg, "<text x=\"{x}\" y=\"{y}\">{letter}</text>");
        }
        svg.push_str("</svg>");
        svg
    }
}
