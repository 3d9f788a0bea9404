//! Reads a written plan the way a stranger would: from its JSON text and the published table of
//! operations, with a reader of its own.

use serde_json::Value;

/// One thing that hands do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Do {
    /// `co64`: cast on, half for the back, half for the front; `co44+32`: so many for each.
    CastOn(u32, u32),
    /// `join`: join into a round.
    Join,
    /// `k14`: knit.
    Knit(u32),
    /// `p3`: purl.
    Purl(u32),
    /// `s1`: slip purlwise.
    Slip(u32),
    /// `k2tog`.
    K2tog,
    /// `ssk`.
    Ssk,
    /// `p2tog`.
    P2tog,
    /// `pu16`: pick up and knit along an edge.
    PickUp(u32),
    /// `puc`: pick up one in the corner.
    PickUpCorner,
    /// `kc`: knit together with a loop lifted from the corner.
    KnitCorner,
    /// `t`: turn.
    Turn,
    /// `/`: the next needle.
    NextNeedle,
    /// `m+L`: place a marker.
    Place(char),
    /// `m>L`: slip a marker.
    Pass(char),
    /// `m-L`: take a marker off.
    TakeOff(char),
    /// `flat32`: the next 32 are worked back and forth.
    Flat(u32),
    /// `lo@16`: a needle ends 16 stitches ahead.
    Split(u32),
    /// `lc@0`: the needle's end so many stitches ahead goes.
    Merge(u32),
    /// `bor`: the round begins here.
    BeginHere,
    /// `g0`: set up the graft.
    GraftStart,
    /// `g7`: graft so many pairs.
    Graft(u32),
    /// `gx`: graft the last pair.
    GraftEnd,
    /// `off`: cut and fasten off.
    FastenOff,
    /// `sf1`: slip with the yarn in front.
    SlipInFront(u32),
    /// `kt3`: knit through the back loop.
    KnitBack(u32),
    /// `yo`: yarn over.
    YarnOver,
    /// `yo-`: yarn over that belongs to the stitch before it.
    YarnOverBehind,
    /// `fold8`: knit each together with its cast-on loop.
    Fold(u32),
    /// `draw8`: draw the yarn through so many and close.
    Draw(u32),
    /// `td`: turn and make a double stitch.
    TurnDouble,
    /// `kd3`: knit double stitches.
    KnitDouble(u32),
    /// `pd3`: purl double stitches.
    PurlDouble(u32),
    /// `m1l`: make one, leaning left.
    MakeLeft,
    /// `m1r`: make one, leaning right.
    MakeRight,
    /// `cc8`: wrapped closed cast-on of so many pairs.
    CastOnWrapped(u32),
    /// `cm8`: magic closed cast-on of so many pairs.
    CastOnMagic(u32),
    /// `bo64`: bind off.
    BindOff(u32),
    /// `w32`: knit with waste yarn, then again with the working yarn.
    Waste(u32),
    /// `ow32`: take the waste yarn out.
    OpenWaste(u32),
    /// `ks32`: knit so many of the row that is snipped later.
    KnitToSnip(u32),
    /// `snip32`: snip it.
    Snip(u32),
    /// `ct32+32`: tubular cast-on, so many for the back and for the front.
    CastOnTubular(u32, u32),
    /// `cp20`: chain so many over one needle.
    CastOnProvisional(u32),
    /// `op20`: undo that chain onto another needle.
    OpenProvisional(u32),
    /// `sew64`: sew so many down.
    SewDown(u32),
    /// `m+L@16`: hang a marker so many stitches ahead.
    Hang(char, u32),
    /// `row3`: this row of the chart begins here.
    Row(u32),
    /// `yB`: from here with that yarn.
    Yarn(char),
    /// `cr2/2`, `clp2/1`: so many stitches cross in front of so many.
    Cross {
        /// Stitches that pass in front.
        over: u32,
        /// Stitches that pass behind.
        under: u32,
        /// Whether those in front pass to the right.
        to_the_right: bool,
        /// Whether those behind are purled.
        purl: bool,
    },
}

/// One move: what it is for, and every operation in it, repeats written out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Move {
    /// The cue's key.
    pub cue: String,
    /// The operations.
    pub ops: Vec<Do>,
}

/// One round, row or walk.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Step {
    /// The form's key.
    pub form: String,
    /// Its moves.
    pub moves: Vec<Move>,
}

/// One section.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// Its key, such as `gusset`.
    pub kind: String,
    /// Its steps, repeated ones written out.
    pub steps: Vec<Step>,
}

/// A plan as it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// The outcome, unread.
    pub outcome: Value,
    /// The sections.
    pub sections: Vec<Section>,
}

/// Reads a plan document.
///
/// # Errors
/// What could not be read.
pub fn read(json: &str) -> Result<Page, String> {
    let document: Value = serde_json::from_str(json).map_err(|e| e.to_string())?;
    let sections = list(&document["sections"], "sections")?
        .iter()
        .map(|section| {
            let mut steps = Vec::new();
            for step in list(&section["steps"], "steps")? {
                let one = Step {
                    form: text(&step["form"], "form")?,
                    moves: list(&step["moves"], "moves")?
                        .iter()
                        .map(|mv| {
                            let ops = text(&mv["ops"], "ops")?;
                            Ok(Move {
                                cue: text(&mv["cue"], "cue")?,
                                ops: read_ops(&ops)?,
                            })
                        })
                        .collect::<Result<_, String>>()?,
                };
                let times = match &step["times"] {
                    Value::Null => 1,
                    given => given.as_u64().ok_or("times is not a number")?,
                };
                steps.extend((0..times).map(|_| one.clone()));
            }
            Ok(Section {
                kind: text(&section["kind"], "kind")?,
                steps,
            })
        })
        .collect::<Result<_, String>>()?;
    Ok(Page {
        outcome: document["outcome"].clone(),
        sections,
    })
}

fn list<'a>(value: &'a Value, name: &str) -> Result<&'a Vec<Value>, String> {
    value
        .as_array()
        .ok_or_else(|| format!("{name} is not a list: {value}"))
}

fn text(value: &Value, name: &str) -> Result<String, String> {
    value
        .as_str()
        .map(str::to_owned)
        .ok_or_else(|| format!("{name} is not a text: {value}"))
}

/// Reads the text of operations and writes every repeat out.
///
/// # Errors
/// The word that is not an operation.
pub fn read_ops(text: &str) -> Result<Vec<Do>, String> {
    let mut done = Vec::new();
    let mut group: Option<Vec<Do>> = None;
    // What only says which line of a pattern is worked, or what stitches are called, works nothing.
    let names = |word: &&str| *word == "heel" || word.starts_with("ln");
    for word in text.split(' ').filter(|w| !w.is_empty() && !names(w)) {
        let (opens, word) = word
            .strip_prefix('[')
            .map_or((false, word), |rest| (true, rest));
        if opens && group.replace(Vec::new()).is_some() {
            return Err(format!("a repeat within a repeat: {text}"));
        }
        let (word, times) = match word.split_once(']') {
            Some((word, times)) => (word, Some(number(times)?)),
            None => (word, None),
        };
        group.as_mut().unwrap_or(&mut done).push(read_one(word)?);
        if let Some(times) = times {
            let once = group
                .take()
                .ok_or_else(|| format!("a repeat ends unbegun: {text}"))?;
            (0..times).for_each(|_| done.extend_from_slice(&once));
        }
    }
    if group.is_some() {
        Err(format!("a repeat does not end: {text}"))
    } else {
        Ok(done)
    }
}

fn number(text: &str) -> Result<u32, String> {
    text.parse()
        .map_err(|_| format!("{text:?} is not a number"))
}

fn read_one(word: &str) -> Result<Do, String> {
    let plain = match word {
        "join" => Do::Join,
        "k2tog" => Do::K2tog,
        "ssk" => Do::Ssk,
        "p2tog" => Do::P2tog,
        "kc" => Do::KnitCorner,
        "puc" => Do::PickUpCorner,
        "t" => Do::Turn,
        "/" => Do::NextNeedle,
        "bor" => Do::BeginHere,
        "g0" => Do::GraftStart,
        "gx" => Do::GraftEnd,
        "off" => Do::FastenOff,
        "yo" => Do::YarnOver,
        "yo-" => Do::YarnOverBehind,
        "td" => Do::TurnDouble,
        "m1l" => Do::MakeLeft,
        "m1r" => Do::MakeRight,
        "yA" | "yB" | "yC" | "yD" => Do::Yarn(char::from(word.as_bytes()[1])),
        _ => return read_counted(word),
    };
    Ok(plain)
}

fn read_counted(word: &str) -> Result<Do, String> {
    let unknown = || format!("{word:?} is not an operation");
    let bytes = word.as_bytes();
    if let [b'm', what, name @ (b'L' | b'R' | b'B' | b'0'..=b'9')] = bytes {
        let name = char::from(*name);
        return match what {
            b'+' => Ok(Do::Place(name)),
            b'>' => Ok(Do::Pass(name)),
            b'-' => Ok(Do::TakeOff(name)),
            _ => Err(unknown()),
        };
    }
    if let [b'm', b'+', name @ (b'L' | b'R' | b'B'), b'@', ..] = bytes {
        return Ok(Do::Hang(char::from(*name), number(&word[4..])?));
    }
    if let Some((cross, under)) = word.split_once('/') {
        let end = cross.trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let (to_the_right, purl) = match &cross[..end] {
            "cr" => (true, false),
            "crp" => (true, true),
            "cl" => (false, false),
            "clp" => (false, true),
            _ => return Err(unknown()),
        };
        return Ok(Do::Cross {
            over: number(&cross[end..])?,
            under: number(under)?,
            to_the_right,
            purl,
        });
    }
    if let Some((back, front)) = word.strip_prefix("co").and_then(|n| n.split_once('+')) {
        return Ok(Do::CastOn(number(back)?, number(front)?));
    }
    if let Some((back, front)) = word.strip_prefix("ct").and_then(|n| n.split_once('+')) {
        return Ok(Do::CastOnTubular(number(back)?, number(front)?));
    }
    let end = word.trim_end_matches(|c: char| c.is_ascii_digit()).len();
    let n = number(&word[end..])?;
    let make: fn(u32) -> Do = match &word[..end] {
        "lo@" => return Ok(Do::Split(n)),
        "lc@" => return Ok(Do::Merge(n)),
        "co" => |n| Do::CastOn(n.div_ceil(2), n / 2),
        "row" => Do::Row,
        "k" => Do::Knit,
        "p" => Do::Purl,
        "s" => Do::Slip,
        "pu" => Do::PickUp,
        "flat" => Do::Flat,
        "g" => Do::Graft,
        "sf" => Do::SlipInFront,
        "kt" => Do::KnitBack,
        "fold" => Do::Fold,
        "draw" => Do::Draw,
        "kd" => Do::KnitDouble,
        "pd" => Do::PurlDouble,
        "cc" => Do::CastOnWrapped,
        "cm" => Do::CastOnMagic,
        "bo" => Do::BindOff,
        "w" => Do::Waste,
        "ow" => Do::OpenWaste,
        "ks" => Do::KnitToSnip,
        "snip" => Do::Snip,
        "cp" => Do::CastOnProvisional,
        "op" => Do::OpenProvisional,
        "sew" => Do::SewDown,
        _ => return Err(unknown()),
    };
    if n == 0 {
        Err(format!("{word:?} does nothing"))
    } else {
        Ok(make(n))
    }
}
