//! Operations as they are written down: the letters of plans, links and motifs.
//!
//! May use the operations, and knows nothing of what they do.
//!
//! The written form is compact and stable, because pinned plans are stored in it:
//!
//! | text | operation | text | operation |
//! |---|---|---|---|
//! | `k14` `p3` | knit, purl | `co64` | cast on |
//! | `s1` `sf1` | slip purlwise; with the yarn in front | `join` | join into a round |
//! | `k2tog` `ssk` `p2tog` | decreases | `flat32` | work back and forth on the next 32 |
//! | `pu16` | pick up and knit from the edge | `lo@16` `lc@0` | loop out / loop in, so many stitches ahead |
//! | `puc` `kc` | pick up one in the corner; knit together with a loop lifted from it | `bor` | the round begins here |
//! | `t` | turn | `m+L` `m>L` `m-L` | place, slip, remove a marker |
//! | `/` | next needle | `g0` `g7` `gx` | graft: set up, so many pairs, last pair |
//! | `[k2 p2]8` | repeat | `off` | cut the yarn and fasten off |
//! | `kt3` | knit through the back loop | `yo` `yo-` | yarn over, before its neighbour or behind it |
//! | `td` | turn, make a double stitch | `kd3` `pd3` | knit, purl double stitches together |
//! | `cc8` | wrapped closed cast-on of so many pairs | `m1l` `m1r` | make one, leaning left, right |
//! | `cm8` | magic closed cast-on of so many pairs | | |
//! | `bo64` | bind off | `m+L@16` | hang a marker so many stitches ahead |
//! | `w32` `ow32` | knit so many with waste yarn; take it out again | `cp20` `op20` | chain so many over one needle; undo the chain onto another |
//! | `ks32` `snip32` | knit so many of a row that is snipped later; snip it | `ct32+32` | tubular cast-on for a back and a front |
//! | `sew64` | sew so many down inside | | |
//! | `cr2/2` `cl2/2` | two stitches cross over two to the right, to the left | `crp2/1` `clp2/1` | the same, the ones behind purled |
//! | `row3` | here round 3 of the motif is worked | `yB` | from here with yarn B |
//! | `co44+32` | cast on for a back and a front of different width | | |
//! | `fold8` | knit each together with its cast-on loop | `draw8` | draw the yarn through so many and close |
//! | `tw` | wrap the next stitch and turn | `kw3` `pw3` | knit, purl stitches together with their wraps |
//! | `skp` `k3tog` ... | [`Decrease`] | `kfb` `pfb` `m1p` | [`Increase`] |
//! | `pt3` `sk3` `sb3` | [`RareStitch`] | `flat-32` | the last 32 stitches are worked back and forth from here |
//! | `ln12` | here line 12 of the pattern is worked | `heel` | what is worked back and forth is the heel |
//! | `as8-6` | work 8 stitches as the pattern's own words say, so that 6 are left | `pua18` | pick up and knit along the edge, whatever chains it has |

use std::fmt;
use std::str::FromStr;

use crate::stitch::{Count, Decrease, Increase, Marker, Op, RareStitch, Yarn};

impl fmt::Display for Op {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::CastOn(n) => write!(f, "co{n}"),
            Self::Join => f.write_str("join"),
            Self::Knit(n) => write!(f, "k{n}"),
            Self::Purl(n) => write!(f, "p{n}"),
            Self::KnitThroughBackLoop(n) => write!(f, "kt{n}"),
            Self::YarnOver => f.write_str("yo"),
            Self::YarnOverBehind => f.write_str("yo-"),
            Self::FoldJoin(n) => write!(f, "fold{n}"),
            Self::DrawClosed(n) => write!(f, "draw{n}"),
            Self::Slip(n) => write!(f, "s{n}"),
            Self::SlipYarnInFront(n) => write!(f, "sf{n}"),
            Self::K2tog => f.write_str("k2tog"),
            Self::Ssk => f.write_str("ssk"),
            Self::P2tog => f.write_str("p2tog"),
            Self::PickUp(n) => write!(f, "pu{n}"),
            Self::PickUpAlong(n) => write!(f, "pua{n}"),
            Self::PickUpCorner => f.write_str("puc"),
            Self::KnitCorner => f.write_str("kc"),
            Self::Turn => f.write_str("t"),
            Self::TurnDouble => f.write_str("td"),
            Self::KnitDouble(n) => write!(f, "kd{n}"),
            Self::PurlDouble(n) => write!(f, "pd{n}"),
            Self::MakeLeft => f.write_str("m1l"),
            Self::MakeRight => f.write_str("m1r"),
            Self::CastOnWrapped(n) => write!(f, "cc{n}"),
            Self::CastOnMagic(n) => write!(f, "cm{n}"),
            Self::BindOff(n) => write!(f, "bo{n}"),
            Self::Waste(n) => write!(f, "w{n}"),
            Self::OpenWaste(n) => write!(f, "ow{n}"),
            Self::KnitToSnip(n) => write!(f, "ks{n}"),
            Self::SnipRow(n) => write!(f, "snip{n}"),
            Self::CastOnTubular(back, front) => write!(f, "ct{back}+{front}"),
            Self::CastOnProvisional(n) => write!(f, "cp{n}"),
            Self::OpenProvisional(n) => write!(f, "op{n}"),
            Self::SewDown(n) => write!(f, "sew{n}"),
            Self::Hang(m, n) => write!(f, "m+{m}@{n}"),
            Self::Next => f.write_str("/"),
            Self::Place(m) => write!(f, "m+{m}"),
            Self::SlipMarker(m) => write!(f, "m>{m}"),
            Self::Remove(m) => write!(f, "m-{m}"),
            Self::WorkFlat(n) => write!(f, "flat{n}"),
            Self::LoopOut(n) => write!(f, "lo@{n}"),
            Self::LoopIn(n) => write!(f, "lc@{n}"),
            Self::BeginHere => f.write_str("bor"),
            Self::GraftStart => f.write_str("g0"),
            Self::Graft(n) => write!(f, "g{n}"),
            Self::GraftEnd => f.write_str("gx"),
            Self::FastenOff => f.write_str("off"),
            Self::CastOnUneven(back, front) => write!(f, "co{back}+{front}"),
            Self::Cross(cross) => cross.fmt(f),
            Self::MotifRow(n) => write!(f, "row{n}"),
            Self::Yarn(yarn) => write!(f, "y{}", yarn.letter()),
            Self::Decrease(decrease) => f.write_str(decrease.key()),
            Self::Increase(increase) => f.write_str(increase.key()),
            Self::Rare(stitch, n) => write!(f, "{}{n}", stitch.key()),
            Self::TurnWrapped => f.write_str("tw"),
            Self::KnitWrapped(n) => write!(f, "kw{n}"),
            Self::PurlWrapped(n) => write!(f, "pw{n}"),
            Self::WorkFlatBehind(n) => write!(f, "flat-{n}"),
            Self::AsWritten(from, to) => write!(f, "as{from}-{to}"),
            Self::PatternLine(n) => write!(f, "ln{n}"),
            Self::NameHeel => f.write_str("heel"),
            Self::Repeat(ops, n) => write!(f, "[{}]{n}", write_ops(ops)),
        }
    }
}

/// The written form of a list of operations, single spaces between them.
pub fn write_ops(ops: &[Op]) -> String {
    let mut out = String::with_capacity(ops.len() * 4);
    for (i, op) in ops.iter().enumerate() {
        if i > 0 {
            out.push(' ');
        }
        out.push_str(&op.to_string());
    }
    out
}

/// A text that is not an operation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotAnOp(
    /// The part that could not be read, cut to a readable length.
    pub String,
);

impl fmt::Display for NotAnOp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "“{}” is not an operation", self.0)
    }
}

impl std::error::Error for NotAnOp {}

impl FromStr for Op {
    type Err = NotAnOp;

    #[allow(clippy::too_many_lines)] // one arm for each operation
    fn from_str(s: &str) -> Result<Self, NotAnOp> {
        let bad = || NotAnOp(s.chars().take(24).collect());
        let marker = |s: &str| match s {
            "L" => Ok(Marker::Left),
            "R" => Ok(Marker::Right),
            "B" => Ok(Marker::Round),
            number => number.parse().map(Marker::Numbered).map_err(|_| bad()),
        };
        let place = |s: &str| s.parse::<u16>().map_err(|_| bad());
        Ok(match s {
            "join" => Self::Join,
            "k2tog" => Self::K2tog,
            "ssk" => Self::Ssk,
            "p2tog" => Self::P2tog,
            "puc" => Self::PickUpCorner,
            "kc" => Self::KnitCorner,
            "yo" => Self::YarnOver,
            "yo-" => Self::YarnOverBehind,
            "t" => Self::Turn,
            "td" => Self::TurnDouble,
            "tw" => Self::TurnWrapped,
            "m1l" => Self::MakeLeft,
            "m1r" => Self::MakeRight,
            "/" => Self::Next,
            "bor" => Self::BeginHere,
            "heel" => Self::NameHeel,
            "g0" => Self::GraftStart,
            "gx" => Self::GraftEnd,
            "off" => Self::FastenOff,
            _ => {
                if let Some(m) = s.strip_prefix("m+") {
                    if let Some((m, n)) = m.split_once('@') {
                        return Ok(Self::Hang(marker(m)?, place(n)?));
                    }
                    return Ok(Self::Place(marker(m)?));
                }
                if let Some(m) = s.strip_prefix("m>") {
                    return Ok(Self::SlipMarker(marker(m)?));
                }
                if let Some(m) = s.strip_prefix("m-") {
                    return Ok(Self::Remove(marker(m)?));
                }
                if let Some(n) = s.strip_prefix("lo@") {
                    return Ok(Self::LoopOut(place(n)?));
                }
                if let Some(n) = s.strip_prefix("lc@") {
                    return Ok(Self::LoopIn(place(n)?));
                }
                if let Some(letter) = s.strip_prefix('y') {
                    let named = |y: &Yarn| letter.chars().eq([y.letter()]);
                    return Yarn::ALL
                        .into_iter()
                        .find(named)
                        .map(Self::Yarn)
                        .ok_or_else(bad);
                }
                if let Some(decrease) = Decrease::ALL.into_iter().find(|d| d.key() == s) {
                    return Ok(Self::Decrease(decrease));
                }
                if let Some(increase) = Increase::ALL.into_iter().find(|i| i.key() == s) {
                    return Ok(Self::Increase(increase));
                }
                let part = |s: &str| s.parse::<Count>().map_err(|_| bad());
                if let Some(n) = s.strip_prefix("flat-") {
                    return Ok(Self::WorkFlatBehind(part(n)?));
                }
                if let Some((from, to)) = s.strip_prefix("as").and_then(|s| s.split_once('-')) {
                    return Ok(Self::AsWritten(part(from)?, part(to)?));
                }
                if let Ok(cross) = s.parse() {
                    return Ok(Self::Cross(cross));
                }
                if let Some((back, front)) = s.strip_prefix("co").and_then(|s| s.split_once('+')) {
                    return Ok(Self::CastOnUneven(part(back)?, part(front)?));
                }
                if let Some((back, front)) = s.strip_prefix("ct").and_then(|s| s.split_once('+')) {
                    return Ok(Self::CastOnTubular(part(back)?, part(front)?));
                }
                let digits = s.find(|c: char| c.is_ascii_digit()).ok_or_else(bad)?;
                let (head, number) = s.split_at(digits);
                let n: Count = number.parse().map_err(|_| bad())?;
                match head {
                    "co" => Self::CastOn(n),
                    "k" => Self::Knit(n),
                    "p" => Self::Purl(n),
                    "kd" => Self::KnitDouble(n),
                    "pd" => Self::PurlDouble(n),
                    "cc" => Self::CastOnWrapped(n),
                    "cm" => Self::CastOnMagic(n),
                    "bo" => Self::BindOff(n),
                    "w" => Self::Waste(n),
                    "ow" => Self::OpenWaste(n),
                    "ks" => Self::KnitToSnip(n),
                    "snip" => Self::SnipRow(n),
                    "cp" => Self::CastOnProvisional(n),
                    "op" => Self::OpenProvisional(n),
                    "sew" => Self::SewDown(n),
                    "kt" => Self::KnitThroughBackLoop(n),
                    "fold" => Self::FoldJoin(n),
                    "draw" => Self::DrawClosed(n),
                    "s" => Self::Slip(n),
                    "sf" => Self::SlipYarnInFront(n),
                    "pu" => Self::PickUp(n),
                    "pua" => Self::PickUpAlong(n),
                    "flat" => Self::WorkFlat(n),
                    "g" => Self::Graft(n),
                    "row" => Self::MotifRow(n),
                    "ln" => Self::PatternLine(n),
                    "kw" => Self::KnitWrapped(n),
                    "pw" => Self::PurlWrapped(n),
                    _ => {
                        let mut rare = RareStitch::ALL.into_iter();
                        let stitch = rare.find(|r| r.key() == head).ok_or_else(bad)?;
                        Self::Rare(stitch, n)
                    }
                }
            }
        })
    }
}

/// Reads the written form of a list of operations. Repeats do not nest.
///
/// # Errors
/// The first part that is not an operation.
pub fn read_ops(text: &str) -> Result<Vec<Op>, NotAnOp> {
    let mut out = Vec::new();
    let mut rest = text.trim();
    while !rest.is_empty() {
        if let Some(inner) = rest.strip_prefix('[') {
            let bad = || NotAnOp(rest.chars().take(24).collect());
            let (group, tail) = inner.split_once(']').ok_or_else(bad)?;
            let end = tail.find(' ').unwrap_or(tail.len());
            let (times, tail) = tail.split_at(end);
            let times: Count = times.parse().map_err(|_| bad())?;
            let ops = group
                .split_whitespace()
                .map(str::parse)
                .collect::<Result<Vec<_>, _>>()?;
            if ops.is_empty() {
                return Err(bad());
            }
            out.push(Op::Repeat(ops, times));
            rest = tail.trim_start();
        } else {
            let end = rest.find(' ').unwrap_or(rest.len());
            let (one, tail) = rest.split_at(end);
            out.push(one.parse()?);
            rest = tail.trim_start();
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_written_form_reads_back() {
        let text = "co64 join k14 p3 s1 sf1 k2tog ssk p2tog pu16 puc kc t / m+L m>R m-B flat32 lo@16 lc@0 \
                    bor g0 g7 gx off kt1 yo yo- fold64 draw8 td kd3 pd3 m1l m1r cc8 cm8 bo64 w32 ow32 m+L@16 co44+32 cr2/2 cl1/3 crp2/1 clp1/1 row12 yB [k2 p2]8 [s1 k1]16 k1 tw kw2 pw1 skp ssp \
                    k2togt p2togt k3tog sssk sk2p s2kp p3tog kfb pfb m1p pt2 sk1 sb1 flat-32 as8-6 ln12 heel pua18 m+7 m>7 m-7 m+9@3 ct32+30 cp20 op20 ks32 snip32 sew64";
        let ops = read_ops(text).expect("all of these are operations");
        assert_eq!(write_ops(&ops), text);
    }

    #[test]
    fn what_is_not_an_operation_is_named() {
        for bad in [
            "k0", "kk", "k70000", "[k1", "[]3", "m+X", "m+L@", "lo@", "7", "[k1]0", "cr0/2",
            "cl4/3", "crp/1", "cr2", "yE", "yAB", "co4+", "row0", "flat-", "as4", "as0-1", "m+300",
            "pt0", "k3togt", "ct32", "ct0+4", "cp", "sew0",
        ] {
            assert!(read_ops(bad).is_err(), "{bad} was read");
        }
    }
}
