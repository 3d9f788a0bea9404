//! What the fabric must look like, whoever knitted it on whatever: faces, slipped stitches, leans,
//! columns, nothing dropped.

use evenloop_engine::recipe::{Edge, FlapTexture, Heel, Motif, MotifPlacement, Recipe, Rib};

use super::closed::{self, Shape, Sums, Tip, late_pairs};
use super::hands::{ChartProgress, Face, Hands, How, Part};
use super::page::{Section, Step};

/// What the fabric must look like after a round or row, the section's step of that index, its
/// `worked`th round or row from 0.
pub(super) fn look_at_fabric(
    recipe: &Recipe,
    s: &Sums,
    section: &Section,
    index: usize,
    worked: usize,
    hands: &Hands,
) -> Result<(), String> {
    let kind = section.kind.as_str();
    let flap = if kind == "heel-flap" {
        Flap::of(recipe, s, worked, hands)
    } else {
        None
    };
    let by_turns = kind == "cuff" && lies_by_turns(recipe, s, worked);
    let twisted = kind == "cuff" && recipe.cuff.edge == Edge::Rib(Rib::Twisted) && !by_turns;
    // Columns are counted from where the round begins: in the cuff and on the heel at the side.
    for (column, id) in hands.from_begin().into_iter().enumerate() {
        let stitch = &hands.made[id];
        let charted = |chart_progress: &ChartProgress| chart_progress.covers(stitch.part);
        if stitch.born != hands.now || hands.chart_progress.as_ref().is_some_and(charted) {
            continue;
        }
        let purl = match &flap {
            Some(flap) => flap.bump(column),
            None if by_turns => column % 2 == 1,
            None if kind == "cuff" && closed::tubular_edge(recipe) == Some(true) => {
                cuff_bump(recipe.cuff.edge, worked, s.cuff_rounds as usize, column + 1)
            }
            None if kind == "cuff" => {
                cuff_bump(recipe.cuff.edge, worked, s.cuff_rounds as usize, column)
            }
            None => false,
        };
        if purl != (stitch.face == Face::Purl) {
            return Err(format!("stitch {} shows the wrong face", column + 1));
        }
        // Whatever was picked up is closed by a twist when it is knitted for the first time (but for
        // a flap so short that no gusset follows: its foot is knitted plainly).
        let picked_up = match stitch.parents[..] {
            _ if kind == "foot" => false,
            [below] => hands.made[below].how == How::PickedUp,
            _ => false,
        };
        if (stitch.how == How::Twisted) != (picked_up || (twisted && !purl)) {
            return Err(format!("stitch {} is {:?}", column + 1, stitch.how));
        }
    }
    if let Some(flap) = flap {
        flap.look(hands)?;
    }
    if section.steps[index].form != "round" {
        return Ok(());
    }
    corners_closed(recipe, s, section, index, &hands.log)?;
    match (kind, s.tip) {
        ("leg", _) if !recipe.calf.is_empty() => shaped_at_the_back(&hands.log),
        ("toe", Tip::Round(_)) => eight_alike(&hands.log),
        ("toe", Tip::Shaped(_)) => for_one_foot(recipe, s, worked, &hands.log),
        // One side of what was picked up may be closed a round before the other.
        ("gusset", _) => {
            let plain = |&(part, how): &(Part, How)| match how {
                How::Twisted => (part, How::Worked),
                other => (part, other),
            };
            let log: Vec<(Part, How)> = hands.log.iter().map(plain).collect();
            mirrored(&log, hands.chart_progress.is_some())
        }
        ("foot", _) => mirrored(&hands.log, hands.chart_progress.is_some()),
        ("late-heel" | "toe", _) => mirrored(&hands.log, false),
        _ => Ok(()),
    }
}

/// Where rows end beside the instep the corners gape: both are closed in the last round after short rows,
/// and in the first round of a leg over a flap from the toe up, by the first and the last stitch that
/// is not the instep's; nowhere else. A motif that goes all round is left as it is.
fn corners_closed(
    recipe: &Recipe,
    s: &Sums,
    section: &Section,
    index: usize,
    log: &[(Part, How)],
) -> Result<(), String> {
    let last = index + 1 == section.steps.len();
    let all_round = |m: &Motif| m.place == MotifPlacement::AllRound;
    let due = match section.kind.as_str() {
        "short-row-heel" => last,
        "toe" => {
            let round = |step: &Step| step.form == "round";
            matches!(s.tip, Tip::Cup { .. }) && !section.steps[index + 1..].iter().any(round)
        }
        "leg" => {
            let first = section.steps.iter().position(|step| step.form == "round");
            first == Some(index)
                && matches!(s.shape, Shape::FlapToeUp { .. })
                && !recipe.motif.as_ref().is_some_and(all_round)
        }
        _ => false,
    };
    let below: Vec<bool> = log
        .iter()
        .filter(|(part, _)| !matches!(part, Part::Front | Part::Instep))
        .map(|(_, how)| *how == How::Cornered)
        .collect();
    let closed = log.iter().filter(|(_, how)| *how == How::Cornered).count();
    let both_ends = below.first() == Some(&true) && below.last() == Some(&true);
    match (due, closed, both_ends) {
        (true, 2, true) | (false, 0, _) => Ok(()),
        _ => Err(format!(
            "{closed} corners closed, where it is {due} that they are due"
        )),
    }
}

/// In the back of a leg one pair is made or taken on both sides of the two stitches in the middle,
/// or none.
fn shaped_at_the_back(log: &[(Part, How)]) -> Result<(), String> {
    let back: Vec<How> = log
        .iter()
        .filter(|(part, _)| *part == Part::Back)
        .map(|(_, how)| *how)
        .collect();
    let plain = |how: &&How| matches!(how, How::Worked | How::Cornered);
    let before = back.iter().take_while(plain).count();
    let after = back.iter().rev().take_while(plain).count();
    let shaped = back.get(before..back.len().saturating_sub(after));
    let middle = match shaped {
        None | Some([]) => return Ok(()),
        Some(middle) => middle,
    };
    let fits = before == after
        && matches!(
            middle,
            [How::LeansRight, How::Worked, How::Worked, How::LeansLeft]
                | [How::MadeRight, How::Worked, How::Worked, How::MadeLeft]
        );
    if fits {
        Ok(())
    } else {
        Err(format!(
            "{middle:?} after {before} and before {after} of the back"
        ))
    }
}

/// Sole and instep narrow alike; the border of the little toe in each round that narrows, that of the
/// big toe in those in which it is its turn.
fn for_one_foot(
    recipe: &Recipe,
    s: &Sums,
    worked: usize,
    log: &[(Part, How)],
) -> Result<(), String> {
    let Tip::Shaped(shaped) = s.tip else {
        return Ok(());
    };
    let half = |part| -> Vec<How> {
        let of_part = log.iter().filter(|(p, _)| *p == part);
        of_part.map(|(_, how)| *how).collect()
    };
    let (instep, sole) = (half(Part::Instep), half(Part::Sole));
    if !instep
        .iter()
        .copied()
        .eq(sole.iter().rev().copied().map(turned))
    {
        return Err(format!("sole and instep are shaped differently: {log:?}"));
    }
    let round = u32::try_from(worked).unwrap_or(0) + 1;
    // Knitted up, the first round is plain and the others go back.
    let decrease = match (s.toe_up, round) {
        (true, 1) => None,
        (true, _) => shaped.decrease_in(s.toe_rounds + 1 - round),
        (false, _) => shaped.decrease_in(round),
    };
    let at_both_ends = [
        matches!(instep.get(1), Some(How::LeansLeft | How::MadeLeft)),
        matches!(
            instep.iter().nth_back(1),
            Some(How::LeansRight | How::MadeRight)
        ),
    ];
    let outer_first = closed::outer_begins_instep(recipe).unwrap_or_default();
    let due = match decrease {
        None => [false; 2],
        Some(k) if shaped.both(k) => [true; 2],
        Some(_) => [outer_first, !outer_first],
    };
    let shapings = instep.iter().filter(|how| **how != How::Worked).count();
    if at_both_ends == due && shapings == due.iter().filter(|d| **d).count() {
        Ok(())
    } else {
        Err(format!(
            "shaped at {at_both_ends:?} of the instep, not {due:?}"
        ))
    }
}

/// The same as seen in a mirror.
const fn turned(how: How) -> How {
    match how {
        How::LeansLeft => How::LeansRight,
        How::LeansRight => How::LeansLeft,
        How::MadeLeft => How::MadeRight,
        How::MadeRight => How::MadeLeft,
        other => other,
    }
}

/// Whether knit and purl stitches lie by turns after a round of the cuff, whatever its rib is: beside a
/// tubular edge, two rounds from it and, where stitches have just been crossed for it, three.
fn lies_by_turns(recipe: &Recipe, s: &Sums, worked: usize) -> bool {
    let Some(crossed) = closed::tubular_edge(recipe) else {
        return false;
    };
    if s.toe_up {
        worked + 2 + usize::from(crossed) >= s.cuff_rounds as usize
    } else {
        worked < 2
    }
}

/// Whether a cuff's stitch shows a bump, by its column and the round's place among the cuff's.
fn cuff_bump(edge: Edge, round: usize, rounds: usize, column: usize) -> bool {
    match edge {
        Edge::Rib(rib) => {
            let (knit, purl) = rib.repeat();
            column % usize::from(knit + purl) >= usize::from(knit)
        }
        // The turning round stands between two equal heights, before the joining round if there is one.
        Edge::Hem { picot: false } => round == (rounds - 1) / 2,
        Edge::Hem { picot: true } | Edge::Rolled => false,
    }
}

/// Where a flap lies on its needle, which of its stitches a row knitted bumps, and which it slipped.
struct Flap {
    /// Columns before its first stitch: of the gusset that is still to be taken up.
    before: usize,
    /// Its stitches.
    wide: usize,
    texture: FlapTexture,
    /// The row, from 0; odd ones have the wrong side facing.
    row: usize,
    /// Whether only the first stitch is slipped: a band heel narrows.
    narrowed: bool,
    toe_up: bool,
}

impl Flap {
    fn of(recipe: &Recipe, s: &Sums, row: usize, hands: &Hands) -> Option<Self> {
        let Heel::FlapAndGusset { texture, .. } = recipe.heel else {
            return None;
        };
        let live = hands.of_part(Part::Heel).len();
        let flap = |before, wide, narrowed, toe_up| {
            Some(Self {
                before,
                wide,
                texture,
                row,
                narrowed,
                toe_up,
            })
        };
        match s.shape {
            Shape::Flap { rows, end, .. } => {
                flap(0, live, end < s.heel && row + 6 >= rows as usize, false)
            }
            Shape::FlapToeUp { gusset, .. } => {
                // Rows with the wrong side facing take it up on this side.
                let before = gusset.shapings as usize - row.div_ceil(2);
                flap(before, s.heel as usize, false, true)
            }
            Shape::ShortRow { .. } | Shape::Late { .. } => None,
        }
    }

    /// A bump shows where the garter edges are knitted on the wrong side; not where a decrease
    /// takes the gusset up.
    fn bump(&self, column: usize) -> bool {
        let Some(at) = column.checked_sub(self.before) else {
            return false;
        };
        let edge = at < 3 || (at + 3 >= self.wide && at < self.wide);
        let decrease = self.toe_up && at == 0;
        self.texture == FlapTexture::GarterEdge && self.row % 2 == 1 && edge && !decrease
    }

    /// Whether that column's stitch is the row's first.
    const fn begins(&self, column: usize) -> bool {
        match self.row % 2 {
            0 => column == self.before,
            _ => column + 1 == self.before + self.wide,
        }
    }

    /// Coming back only the first stitch; going out every second one, always the same (slipped
    /// stitch), turn about (eye of partridge), or the same between three and three of garter.
    fn slipped(&self, at: usize) -> bool {
        if self.row % 2 == 1 {
            return at + 1 == self.wide;
        }
        let between = (3..self.wide - 3).contains(&at);
        let inner = match self.texture {
            FlapTexture::SlippedStitch => at.is_multiple_of(2),
            FlapTexture::EyeOfPartridge => at % 2 == self.row / 2 % 2 && at + 1 < self.wide,
            FlapTexture::GarterEdge => at % 2 == usize::from(!self.toe_up) && between,
        };
        at == 0 || (inner && !self.narrowed)
    }

    /// Whether what was slipped and what was worked is what the texture wants.
    fn look(&self, hands: &Hands) -> Result<(), String> {
        for (column, id) in hands.of_part(Part::Heel).into_iter().enumerate() {
            let slipped = hands.made[id].born != hands.now;
            // The gusset beside a flap waits.
            let due = column
                .checked_sub(self.before)
                .is_none_or(|at| at >= self.wide || self.slipped(at));
            if hands.slipped_in_front.contains(&id) && !self.begins(column) {
                return Err(format!(
                    "stitch {} was slipped with the yarn in front",
                    column + 1
                ));
            }
            if slipped != due {
                let what = if slipped { "slipped" } else { "worked" };
                return Err(format!("stitch {} of the flap was {what}", column + 1));
            }
        }
        Ok(())
    }
}

/// A round toe's rounds are eight times (or, in its first round, four times) the same.
fn eight_alike(log: &[(Part, How)]) -> Result<(), String> {
    let hows: Vec<How> = log.iter().map(|(_, how)| *how).collect();
    let alike = |n: usize| {
        hows.len().is_multiple_of(n)
            && hows
                .chunks(hows.len() / n)
                .all(|c| c == &hows[..hows.len() / n])
    };
    if alike(8) || alike(4) {
        Ok(())
    } else {
        Err(format!("not the same all round: {log:?}"))
    }
}

/// Everything a round does is mirrored about the middle of the instep (and so about the middle of
/// the sole): leaning left on one side, leaning right on the other. An instep worked from a chart
/// has a look of its own.
fn mirrored(log: &[(Part, How)], charted: bool) -> Result<(), String> {
    // A heel knitted last lies between sole and leg.
    let is_instep = |&(part, _): &(Part, How)| matches!(part, Part::Instep | Part::Back);
    let Some(before) = log.iter().position(|s| !is_instep(s)) else {
        return Err("there is nothing but instep".into());
    };
    let mut ring = log.to_vec();
    ring.rotate_left(before);
    let first = ring
        .iter()
        .position(is_instep)
        .ok_or("there is no instep")?;
    ring.rotate_left(first);
    let instep = ring.iter().take_while(|s| is_instep(s)).count();
    let mirror = |&(part, how): &(Part, How)| {
        let part = match part {
            Part::GussetLeft => Part::GussetRight,
            Part::GussetRight => Part::GussetLeft,
            other => other,
        };
        (part, turned(how))
    };
    let sides = [&ring[instep..], &ring[..instep]];
    for side in &sides[..if charted { 1 } else { 2 }] {
        if !side.iter().copied().eq(side.iter().rev().map(mirror)) {
            return Err(format!("not mirrored about the instep: {log:?}"));
        }
    }
    Ok(())
}

/// From heel to toe each instep stitch stands in one straight column on its own stitch: nothing was
/// ever decreased or made on the instep.
pub(super) fn straight_instep(hands: &Hands) -> Result<(), String> {
    let mut base = hands.instep_base.clone();
    let newest = base.iter().max().copied().unwrap_or_default();
    let column = |mut id: usize| {
        // Whatever was made later stands above.
        while id > newest {
            let [below] = hands.made[id].parents[..] else {
                return None;
            };
            id = below;
        }
        Some(id)
    };
    let instep = hands.of_part(Part::Instep).into_iter().map(column);
    let mut columns = instep
        .collect::<Option<Vec<_>>>()
        .ok_or("a shaping lies on the instep")?;
    // The ring may be listed from the middle of the instep.
    columns.sort_unstable();
    base.sort_unstable();
    if columns.is_empty() || columns == base {
        Ok(())
    } else {
        Err("the instep does not stand on its own columns".into())
    }
}

/// Nothing dropped, nothing used twice, every pair joins instep and sole.
pub(super) fn whole_sock(hands: &Hands, s: &Sums) -> Result<(), String> {
    if let Some(dropped) = hands.made.iter().position(|stitch| !stitch.used) {
        return Err(format!("stitch {dropped} was dropped"));
    }
    // From the toe up nothing is grafted but a heel knitted last.
    let toe_pairs = if s.toe_up { 0 } else { s.pairs as usize };
    let pairs = toe_pairs + late_pairs(s) as usize;
    if hands.grafted.len() != pairs {
        return Err(format!(
            "{} pairs were grafted, not {pairs}",
            hands.grafted.len()
        ));
    }
    for (i, &(one, two)) in hands.grafted.iter().enumerate() {
        let mut parts = [hands.made[one].part, hands.made[two].part];
        parts.sort_unstable_by_key(|p| *p as usize);
        let due = if i < toe_pairs {
            Part::Instep
        } else {
            Part::Back
        };
        if parts != [due, Part::Sole] {
            return Err(format!("a pair joins {parts:?}"));
        }
    }
    let bound = if s.toe_up { s.top() as usize } else { 0 };
    if hands.bound.len() != bound {
        return Err(format!(
            "{} stitches were bound off, not {bound}",
            hands.bound.len()
        ));
    }
    if hands.sewn_down != s.sewn {
        return Err("a hem, and only a hem, is sewn down".into());
    }
    let loops = if s.hem { s.top() as usize } else { 0 };
    if hands.folded.len() != loops {
        return Err(format!(
            "{} cast-on loops were folded in, not {loops}",
            hands.folded.len()
        ));
    }
    let drawn = s.drawn as usize;
    if hands.drawn.len() != drawn {
        return Err(format!(
            "{} stitches were drawn closed, not {drawn}",
            hands.drawn.len()
        ));
    }
    let per_side = match s.shape {
        Shape::Flap { per_side, .. } => per_side,
        _ => 0,
    };
    if hands.picked_up != [per_side; 2] {
        let sides = hands.picked_up;
        return Err(format!(
            "{sides:?} were picked up, not {per_side} on each side"
        ));
    }
    Ok(())
}
