//! What the fabric must look like, whoever knitted it on whatever: faces, slipped stitches, leans,
//! columns, nothing dropped.

use evenloop_engine::recipe::{Edge, FlapTexture, Heel, Recipe, Rib, Toe, Turn};

use super::closed::Sums;
use super::hands::{Face, Hands, How, Part};
use super::page::Section;

/// What the fabric must look like after a round or row, the section's `worked`th from 0.
pub(super) fn look_at_fabric(
    recipe: &Recipe,
    section: &Section,
    worked: usize,
    hands: &Hands,
) -> Result<(), String> {
    // Columns are counted from the first stitch of the leg: nothing moves the beginning there.
    let ring = hands.from_begin();
    let heel = ring
        .iter()
        .filter(|id| hands.made[**id].part == Part::Heel)
        .count();
    for (column, id) in ring.into_iter().enumerate() {
        let stitch = &hands.made[id];
        if stitch.born != hands.now {
            continue;
        }
        let due = match section.kind.as_str() {
            "cuff" => cuff_face(recipe.cuff.edge, worked, section.steps.len(), column),
            "heel-flap" => flap_face(recipe.heel, worked, heel, column),
            _ => Face::Knit,
        };
        if stitch.face != due {
            return Err(format!("stitch {} shows the wrong face", column + 1));
        }
        let twisted = section.kind == "cuff" && recipe.cuff.edge == Edge::Rib(Rib::Twisted);
        if (stitch.how == How::Twisted) != (twisted && due == Face::Knit) {
            return Err(format!("stitch {} is {:?}", column + 1, stitch.how));
        }
    }
    if section.kind == "heel-flap" {
        flap_slips(recipe, worked, section, hands)?;
    }
    match (section.kind.as_str(), recipe.toe) {
        ("gusset" | "foot", _) | ("toe", Toe::Wedge { .. }) => mirrored(&hands.log),
        ("toe", Toe::Round) => eight_alike(&hands.log),
        _ => Ok(()),
    }
}

/// What a cuff's stitch shows, by its column and the round's place among the cuff's rounds.
fn cuff_face(edge: Edge, round: usize, rounds: usize, column: usize) -> Face {
    let purl = match edge {
        Edge::Rib(rib) => {
            let (knit, purl) = rib.repeat();
            column % usize::from(knit + purl) >= usize::from(knit)
        }
        // The turning round stands between two equal heights, before the joining round.
        Edge::Hem { picot: false } => round == (rounds - 2) / 2,
        Edge::Hem { picot: true } | Edge::Rolled => false,
    };
    if purl { Face::Purl } else { Face::Knit }
}

/// What a flap's stitch shows: garter edges show a bump where they are knitted on the wrong side.
fn flap_face(heel: Heel, row: usize, stitches: usize, column: usize) -> Face {
    let Heel::FlapAndGusset { texture, .. } = heel else {
        return Face::Knit;
    };
    let edge = column < 3 || column + 3 >= stitches;
    if texture == FlapTexture::GarterEdge && edge && row % 2 == 1 {
        Face::Purl
    } else {
        Face::Knit
    }
}

/// Which stitches of the flap a row slipped: only the first, coming back; going out every second
/// one, always the same (slipped stitch), turn about (eye of partridge), or the same between three
/// and three of garter; only the first again where a band heel narrows.
fn flap_slips(recipe: &Recipe, row: usize, section: &Section, hands: &Hands) -> Result<(), String> {
    let Heel::FlapAndGusset { texture, turn, .. } = recipe.heel else {
        return Err("there is no flap".into());
    };
    let flap: Vec<usize> = hands
        .from_begin()
        .into_iter()
        .filter(|&id| hands.made[id].part == Part::Heel)
        .collect();
    let stitches = flap.len();
    let rows = section.steps.iter().filter(|s| s.form != "walk").count();
    let narrowed = turn == Turn::Band && row + 6 >= rows;
    let due = |column: usize| {
        if row % 2 == 1 {
            return column + 1 == stitches;
        }
        let inner = match texture {
            FlapTexture::SlippedStitch => column.is_multiple_of(2),
            FlapTexture::EyeOfPartridge => column % 2 == row / 2 % 2 && column + 1 < stitches,
            FlapTexture::GarterEdge => column % 2 == 1 && (3..stitches - 3).contains(&column),
        };
        column == 0 || (inner && !narrowed)
    };
    for (column, id) in flap.into_iter().enumerate() {
        let slipped = hands.made[id].born != hands.now;
        if slipped != due(column) {
            let what = if slipped { "slipped" } else { "worked" };
            return Err(format!("stitch {} of the flap was {what}", column + 1));
        }
    }
    Ok(())
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
/// the sole): leaning left on one side, leaning right on the other.
fn mirrored(log: &[(Part, How)]) -> Result<(), String> {
    let is_instep = |&(part, _): &(Part, How)| part == Part::Instep;
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
        let how = match how {
            How::LeansLeft => How::LeansRight,
            How::LeansRight => How::LeansLeft,
            other => other,
        };
        (part, how)
    };
    for side in [&ring[..instep], &ring[instep..]] {
        if !side.iter().copied().eq(side.iter().rev().map(mirror)) {
            return Err(format!("not mirrored about the instep: {log:?}"));
        }
    }
    Ok(())
}

/// Until the toe each instep stitch stands in one straight column on its own stitch of the leg: no
/// decrease ever lay on the instep.
pub(super) fn straight_instep(hands: &Hands) -> Result<(), String> {
    let newest = hands.above_heel.iter().max().copied().unwrap_or_default();
    let column = |mut id: usize| {
        // Whatever was made later stands above.
        while id > newest {
            let [below] = hands.made[id].parents[..] else {
                return None;
            };
            id = below;
        }
        hands.above_heel.iter().position(|above| *above == id)
    };
    let instep = hands
        .ring()
        .into_iter()
        .filter(|&id| hands.made[id].part == Part::Instep);
    let mut columns = instep
        .map(column)
        .collect::<Option<Vec<_>>>()
        .ok_or("a decrease lies on it")?;
    let half = columns.len();
    // The ring may be listed from the middle of the instep.
    columns.sort_unstable();
    if columns.into_iter().eq(half..2 * half) {
        Ok(())
    } else {
        Err("the instep does not stand on the front half's columns".into())
    }
}

/// Nothing dropped, nothing used twice, every pair joins instep and sole.
pub(super) fn whole_sock(hands: &Hands, s: &Sums) -> Result<(), String> {
    if let Some(dropped) = (0..hands.made.len()).find(|id| !hands.used.contains(id)) {
        return Err(format!("stitch {dropped} was dropped"));
    }
    if hands.grafted.len() != s.pairs as usize {
        return Err(format!(
            "{} pairs were grafted, not {}",
            hands.grafted.len(),
            s.pairs
        ));
    }
    for &(one, two) in &hands.grafted {
        let mut parts = [hands.made[one].part, hands.made[two].part];
        parts.sort_unstable_by_key(|p| *p as usize);
        if parts != [Part::Instep, Part::Sole] {
            return Err(format!("a pair joins {parts:?}"));
        }
    }
    let loops = if s.hem { s.around as usize } else { 0 };
    if hands.folded.len() != loops {
        return Err(format!(
            "{} cast-on loops were folded in, not {loops}",
            hands.folded.len()
        ));
    }
    let drawn = if s.pairs == 0 { 8 } else { 0 };
    if hands.drawn.len() != drawn {
        return Err(format!(
            "{} stitches were drawn closed, not {drawn}",
            hands.drawn.len()
        ));
    }
    if hands.picked_up != [s.per_side; 2] {
        let sides = hands.picked_up;
        return Err(format!(
            "{sides:?} were picked up, not {} on each side",
            s.per_side
        ));
    }
    Ok(())
}
