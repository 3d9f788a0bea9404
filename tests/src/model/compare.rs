//! Lays the three opinions beside each other: closed forms, naive knitter, engine.
//!
//! After every move the naive knitter's needles and the engine's must be the same: every stitch's
//! part, every needle's end, marker, edge and gap, where the round begins, where the tip is, which
//! side faces. At the end of every round and row both must be what the closed forms say.

use evenloop_engine::needles::{Facing, Item, Needles, Origin, Side as EngineSide};
use evenloop_engine::recipe::{Edge, FlapTexture, Heel, Method, Recipe, Rib, Toe, Turn};
use evenloop_engine::stitch::Marker;
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::{plan_document, read_plan, write_recipe};
use serde_json::Value;

use super::closed::{self, Expected, No, State, Sums};
use super::hands::{Cell, Face, Hands, How, Part, Side};
use super::page::{self, Page, Section};

/// What came of a recipe on which all three agree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// There is such a sock: so many moves were compared, so many stitches made by hand.
    Knitted {
        /// Moves compared.
        moves: usize,
        /// Stitches the naive knitter made.
        stitches: usize,
    },
    /// There is none; the fields that the engine named.
    Refused(Vec<String>),
}

/// Where everything lies, counted in stitches from the beginning of the round.
#[derive(Debug, PartialEq, Eq)]
struct Lie {
    parts: Vec<Part>,
    needle_ends: Vec<usize>,
    markers: Vec<(usize, char)>,
    edges: Vec<(usize, bool, usize)>,
    gaps: Vec<usize>,
    tip: usize,
    wrong_side: bool,
}

impl Lie {
    /// A place after the last stitch is the place before the first.
    fn close_ring(mut self) -> Self {
        let n = self.parts.len().max(1);
        self.needle_ends.iter_mut().for_each(|at| *at %= n);
        self.markers.iter_mut().for_each(|m| m.0 %= n);
        self.edges.iter_mut().for_each(|e| e.0 %= n);
        self.gaps.iter_mut().for_each(|at| *at %= n);
        self.tip %= n;
        self.needle_ends.sort_unstable();
        self.markers.sort_unstable();
        self.edges.sort_unstable();
        self.gaps.sort_unstable();
        self
    }

    fn of_engine(needles: &Needles) -> Self {
        let mut lie = Self::nothing(needles.facing() == Facing::WrongSide);
        for (i, item) in needles.items().enumerate() {
            if i == needles.tip() {
                lie.tip = lie.parts.len();
            }
            let at = lie.parts.len();
            match item {
                Item::Stitches(origin, n) => {
                    lie.parts
                        .extend(std::iter::repeat_n(part(origin), usize::from(n)));
                }
                Item::Marker(m) => lie.markers.push((at, letter(m))),
                Item::End => lie.needle_ends.push(at),
                Item::Edge { side, loops, .. } => {
                    lie.edges
                        .push((at, side == EngineSide::Left, usize::from(loops)));
                }
                Item::Gap => lie.gaps.push(at),
            }
        }
        if needles.tip() >= needles.items().count() {
            lie.tip = lie.parts.len();
        }
        lie.close_ring()
    }

    fn of_hands(hands: &Hands) -> Self {
        let find =
            |wanted: &Cell| {
                hands.needles.iter().enumerate().find_map(|(n, cells)| {
                    cells.iter().position(|cell| cell == wanted).map(|i| (n, i))
                })
            };
        let (first, from) = find(&Cell::Begin)
            .or_else(|| find(&Cell::Live(0)))
            .unwrap_or((hands.needle, hands.at));
        let count = hands.needles.len();
        let mut lie = Self::nothing(hands.wrong_side);
        // The first needle's part after the beginning, the other needles, the part before it.
        let visits = std::iter::once((first, from, hands.needles[first].len()))
            .chain(
                (1..count)
                    .map(|i| (first + i) % count)
                    .map(|n| (n, 0, hands.needles[n].len())),
            )
            .chain(std::iter::once((first, 0, from)));
        for (visit, (n, from, to)) in visits.enumerate() {
            for i in from..=to {
                if (n, i) == (hands.needle, hands.at) {
                    lie.tip = lie.parts.len();
                }
                let at = lie.parts.len();
                match hands.needles[n][..to].get(i) {
                    Some(Cell::Live(id)) => lie.parts.push(hands.made[*id].part),
                    Some(Cell::Marker(m)) => lie.markers.push((at, *m)),
                    Some(Cell::Edge(side, loops)) => {
                        lie.edges.push((at, *side == Side::Left, loops.len()));
                    }
                    Some(Cell::Gap) => lie.gaps.push(at),
                    Some(Cell::Begin) | None => {}
                }
            }
            if visit < count && !hands.endless {
                lie.needle_ends.push(lie.parts.len());
            }
        }
        lie.close_ring()
    }

    fn nothing(wrong_side: bool) -> Self {
        Self {
            parts: Vec::new(),
            needle_ends: Vec::new(),
            markers: Vec::new(),
            edges: Vec::new(),
            gaps: Vec::new(),
            tip: 0,
            wrong_side,
        }
    }
}

const fn part(origin: Origin) -> Part {
    match origin {
        Origin::Back => Part::Back,
        Origin::Front => Part::Front,
        Origin::Heel => Part::Heel,
        Origin::GussetLeft => Part::GussetLeft,
        Origin::Instep => Part::Instep,
        Origin::GussetRight => Part::GussetRight,
        Origin::Sole => Part::Sole,
    }
}

const fn letter(marker: Marker) -> char {
    match marker {
        Marker::Left => 'L',
        Marker::Right => 'R',
        Marker::Round => 'B',
    }
}

/// Runs the three over one recipe.
///
/// # Errors
/// The first disagreement, or the first thing hands could not do.
pub fn three_ways(recipe: &Recipe) -> Result<Verdict, String> {
    let sums = closed::sums(recipe);
    let document = match (plan_document(&write_recipe(recipe)), &sums) {
        (Ok(document), Ok(_)) => document,
        (Ok(_), Err(no)) => return Err(format!("planned, but by the closed forms {no:?}")),
        (Err(errors), Ok(_)) => {
            let errors: Vec<String> = errors.iter().map(ToString::to_string).collect();
            return Err(format!(
                "refused, but the closed forms have it: {}",
                errors.join("; ")
            ));
        }
        (Err(errors), Err(no)) => return refused(&errors, *no),
    };
    let sums = sums.map_err(|no| format!("{no:?}"))?;
    let page = page::read(&document)?;
    agree_on_outcome(recipe, &page.outcome, &sums)?;
    let plan = read_plan(&document).map_err(|e| e.to_string())?;
    let trace = Trace::of(&plan).map_err(|e| format!("the engine refuses its own plan: {e}"))?;
    let (moves, hands) = knit(recipe, &sums, &page, |hands, step, mv| {
        let traced = trace.steps.get(step).and_then(|s| s.moves.get(mv));
        agree(hands, &traced.ok_or("the trace lacks it")?.after)
    })?;
    let claimed = &page.outcome["stitches_worked"];
    if claimed.as_u64() != Some(hands.worked) {
        return Err(format!(
            "outcome.stitches_worked is {claimed}, by hand {}",
            hands.worked
        ));
    }
    let steps: usize = page.sections.iter().map(|s| s.steps.len()).sum();
    if trace.steps.len() != steps {
        return Err(format!(
            "the trace has {} steps, the plan {steps}",
            trace.steps.len()
        ));
    }
    Ok(Verdict::Knitted {
        moves,
        stitches: hands.made.len(),
    })
}

/// Knits a recipe's written plan by hand alone.
///
/// # Errors
/// That there is no plan, or what hands cannot do.
pub fn by_hand(recipe: &Recipe) -> Result<Hands, String> {
    let document = plan_document(&write_recipe(recipe)).map_err(|e| format!("{e:?}"))?;
    by_hand_watched(recipe, &page::read(&document)?, |_, _, _| {})
}

/// Knits a page by hand alone, with `watch` looking on after every step: its section, its index
/// there, what hands hold.
///
/// # Errors
/// What hands cannot do.
pub fn by_hand_watched(
    recipe: &Recipe,
    page: &Page,
    mut watch: impl FnMut(&Section, usize, &Hands),
) -> Result<Hands, String> {
    let mut hands = hands_for(recipe.needles);
    for section in &page.sections {
        hands.begin_section(section);
        for (index, step) in section.steps.iter().enumerate() {
            for mv in &step.moves {
                hands
                    .work(mv, &step.form)
                    .map_err(|why| format!("{} {} {}: {why}", section.kind, index + 1, mv.cue))?;
            }
            watch(section, index, &hands);
        }
    }
    Ok(hands)
}

/// Empty hands with the needles of a method.
fn hands_for(method: Method) -> Hands {
    Hands::with(match method {
        Method::FourDpns => Some(4),
        Method::FiveDpns => Some(5),
        _ => None,
    })
}

/// A refusal must name a field that has to do with the reason.
fn refused(errors: &[evenloop_engine::error::FieldError], no: No) -> Result<Verdict, String> {
    let fields: Vec<String> = errors.iter().map(|e| e.field.clone()).collect();
    let fitting: &[&str] = match no {
        No::Around => &[
            "stitches",
            "foot.circumference",
            "foot.length",
            "swatch.stitches",
        ],
        No::FlapTooShallow => &["heel.rows"],
        No::FootTooShort => &["foot.length", "heel.rows"],
    };
    if errors.is_empty() || !fields.iter().any(|f| fitting.contains(&f.as_str())) {
        return Err(format!("refused for {fields:?}, but the reason is {no:?}"));
    }
    if let Some(mute) = errors
        .iter()
        .find(|e| e.message.trim().is_empty() || e.help.trim().is_empty())
    {
        return Err(format!("refused without a reason or a remedy: {mute:?}"));
    }
    Ok(Verdict::Refused(fields))
}

/// What the plan claims before it is knitted.
fn agree_on_outcome(recipe: &Recipe, outcome: &Value, s: &Sums) -> Result<(), String> {
    let nearest = |a: u64, b: u64, c: u64| (2 * a * b + c) / (2 * c);
    let swatch = recipe.swatch;
    let tall = |rounds: u32| nearest(rounds.into(), swatch.height.0.into(), swatch.rounds.into());
    let foot = s.turn_rows + s.pick_up_rounds + s.gusset_rounds + s.foot_rounds + s.toe_rounds;
    let claims = [
        ("stitches", s.around.into()),
        (
            "circumference",
            nearest(
                s.around.into(),
                swatch.width.0.into(),
                swatch.stitches.into(),
            ),
        ),
        ("heel_stitches", s.heel.into()),
        ("flap_rows", s.flap_rows.into()),
        ("turned", s.turned.into()),
        ("picked_up", s.per_side.into()),
        ("peak", s.peak.into()),
        ("graft_pairs", s.pairs.into()),
        ("foot_length", tall(foot)),
        ("leg_length", tall(s.cuff_height + s.leg_rounds)),
    ];
    for (field, ours) in claims {
        if outcome[field].as_u64() != Some(ours) {
            return Err(format!(
                "outcome.{field} is {}, by the closed forms {ours}",
                outcome[field]
            ));
        }
    }
    Ok(())
}

/// Knits a page by hand and holds it against the closed forms, without asking the engine.
///
/// # Errors
/// What hands cannot do, or the first count that is not the closed forms'.
pub fn without_engine(recipe: &Recipe, s: &Sums, page: &Page) -> Result<(), String> {
    knit(recipe, s, page, |_, _, _| Ok(())).map(|_| ())
}

/// Knits a page by hand, with `beside` looking on after each move: its step among all steps, its
/// number in the step.
fn knit(
    recipe: &Recipe,
    s: &Sums,
    page: &Page,
    mut beside: impl FnMut(&Hands, usize, usize) -> Result<(), String>,
) -> Result<(usize, Hands), String> {
    let mut hands = hands_for(recipe.needles);
    let mut moves = 0;
    let mut steps = 0;
    let mut expected = closed::expected(recipe, s).into_iter();
    for section in &page.sections {
        // A section without a round may be left out of a plan.
        let expect = expected
            .find(|e| e.section == section.kind || !e.states.is_empty())
            .filter(|e| e.section == section.kind)
            .ok_or_else(|| format!("section {} was not expected here", section.kind))?;
        hands.begin_section(section);
        let mut worked = 0;
        for (index, step) in section.steps.iter().enumerate() {
            let place = |mv: usize| format!("{} {} move {}", section.kind, index + 1, mv + 1);
            for (m, mv) in step.moves.iter().enumerate() {
                hands
                    .work(mv, &step.form)
                    .map_err(|why| format!("{}: {why}", place(m)))?;
                beside(&hands, steps, m).map_err(|why| format!("{}: {why}", place(m)))?;
                moves += 1;
            }
            steps += 1;
            if step.form != "walk" {
                let due = expect.states.get(worked).filter(|_| !expect.walked);
                let due = due.ok_or_else(|| format!("{} is one too many", place(0)))?;
                as_due(&hands, due).map_err(|why| format!("{}: {why}", place(0)))?;
                look_at_fabric(recipe, section, worked, &hands)
                    .map_err(|why| format!("{}: {why}", place(0)))?;
                worked += 1;
            }
        }
        at_section_end(&hands, section, &expect, worked)?;
    }
    if let Some(missing) = expected.find(|e| !e.states.is_empty()) {
        return Err(format!("section {} is missing", missing.section));
    }
    whole_sock(&hands, s)?;
    Ok((moves, hands))
}

fn at_section_end(
    hands: &Hands,
    section: &Section,
    expect: &Expected,
    worked: usize,
) -> Result<(), String> {
    if expect.walked {
        for due in &expect.states {
            as_due(hands, due).map_err(|why| format!("at the end of {}: {why}", section.kind))?;
        }
    } else if worked != expect.states.len() {
        return Err(format!(
            "{} has {worked} rounds or rows, by the closed forms {}",
            section.kind,
            expect.states.len()
        ));
    }
    if matches!(section.kind.as_str(), "gusset" | "foot") {
        straight_instep(hands)?;
    }
    Ok(())
}

/// Engine and hands hold the same.
fn agree(hands: &Hands, engine: &Needles) -> Result<(), String> {
    let (ours, theirs) = (Lie::of_hands(hands), Lie::of_engine(engine));
    // With nothing live, where empty needles lie is nobody's business.
    if ours != theirs && !(ours.parts.is_empty() && theirs.parts.is_empty()) {
        return Err(format!("by hand {ours:?}\nthe engine has {theirs:?}"));
    }
    let parts = hands.parts();
    for (origin, count) in [
        (Origin::Back, parts[0]),
        (Origin::Front, parts[1]),
        (Origin::Heel, parts[2]),
        (Origin::GussetLeft, parts[3]),
        (Origin::Instep, parts[4]),
        (Origin::GussetRight, parts[5]),
        (Origin::Sole, parts[6]),
    ] {
        let counted = engine.stitches_of(origin);
        if u32::from(counted) != count {
            return Err(format!(
                "{count} {origin:?} stitches by hand, {counted} by the engine"
            ));
        }
    }
    let total = u32::from(engine.stitches());
    if total != parts.iter().sum::<u32>() {
        return Err(format!("the engine counts {total} stitches"));
    }
    let per_needle: Vec<u32> = engine.per_needle().iter().map(|n| u32::from(*n)).collect();
    if hands.joined && total > 0 && per_needle != hands.per_needle() {
        let by_hand = hands.per_needle();
        return Err(format!(
            "needles hold {by_hand:?} by hand, {per_needle:?} by the engine"
        ));
    }
    Ok(())
}

/// Hands hold what the closed forms say.
fn as_due(hands: &Hands, due: &State) -> Result<(), String> {
    let held = State {
        needles: hands.per_needle(),
        parts: hands.parts(),
    };
    if held == *due {
        Ok(())
    } else {
        Err(format!("by hand {held:?}, by the closed forms {due:?}"))
    }
}

/// What the fabric must look like after a round or row, the section's `worked`th from 0.
fn look_at_fabric(
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
    let Heel::FlapAndGusset { texture, .. } = heel;
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
    let Heel::FlapAndGusset { texture, turn, .. } = recipe.heel;
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
fn straight_instep(hands: &Hands) -> Result<(), String> {
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
fn whole_sock(hands: &Hands, s: &Sums) -> Result<(), String> {
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
