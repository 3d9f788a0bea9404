//! Every number in a note, held to what hands hold: at once, or at the end of the section where the
//! note says what it will come to. A number that no rule knows is refused.

use evenloop_engine::recipe::Recipe;
use evenloop_tests::model::closed::{
    between_heel_and_toe, foot_rounds_tall, leg_length, leg_rounds_tall, sums, until_the_other_end,
};
use evenloop_tests::model::hands::{Cell, Hands, Part};
use evenloop_tests::model::panel::Panel;

/// What notes have promised of the section at hand.
#[derive(Default)]
pub(crate) struct Promises {
    at_the_end: Vec<Promise>,
    /// What a short row's double stitches have to span once both ends have one.
    span: Option<usize>,
    /// Stitches that each shaping round of the section takes or makes.
    each_round: Option<usize>,
    before: usize,
    /// Rows that the section has to have.
    rows: Option<usize>,
    worked: usize,
    /// The row from which each right-side row takes so many stitches; none before it does.
    narrows: Option<(usize, usize)>,
}

enum Promise {
    AllRound(usize),
    OfTheHeel(usize),
    OnInstepAndSole(usize),
    OnEachNeedle(usize),
}

impl Promises {
    /// Before a move is worked.
    pub(crate) fn begin_move(&mut self, hands: &Hands, form: &str) {
        self.before = hands.ring().len();
        self.worked += usize::from(form.ends_with("row"));
    }

    /// After a move: reads its note, and holds the needles to what was said of them before.
    pub(crate) fn read(
        &mut self,
        note: &str,
        shaped_round: bool,
        hands: &Hands,
    ) -> Result<(), String> {
        for sentence in note.split(". ").flat_map(|s| s.split("; ")) {
            self.sentence(sentence, hands)
                .map_err(|why| format!("{sentence:?}: {why}"))?;
        }
        if let (Some(each), true) = (self.each_round, shaped_round) {
            let now = hands.ring().len();
            if self.before.abs_diff(now) != each {
                return Err(format!("from {} to {now}, not by {each}", self.before));
            }
        }
        if let Some((from, each)) = self.narrows {
            let takes = self.worked >= from && (self.worked - from).is_multiple_of(2);
            let (said, is) = (
                if takes { each } else { 0 },
                self.before.abs_diff(hands.ring().len()),
            );
            if said != is {
                return Err(format!("row {} takes {is}, not {said}", self.worked));
            }
        }
        let doubled = span_of_doubles(hands);
        if let (Some(said), Some((2.., span))) = (self.span, doubled) {
            if said != span {
                return Err(format!("short rows over {span}, not {said}"));
            }
            self.span = None;
        }
        Ok(())
    }

    /// At the end of a section.
    pub(crate) fn end_section(&mut self, hands: &Hands) -> Result<(), String> {
        let of = |part| hands.of_part(part).len();
        for promise in self.at_the_end.drain(..) {
            let (said, is) = match promise {
                Promise::AllRound(n) => (n, hands.ring().len()),
                Promise::OfTheHeel(n) => (n, of(Part::Heel)),
                Promise::OnInstepAndSole(n) if of(Part::Sole) == n => (n, of(Part::Instep)),
                Promise::OnInstepAndSole(n) => (n, of(Part::Sole)),
                Promise::OnEachNeedle(n) => {
                    let carried = hands.per_needle();
                    let other = carried.iter().map(|is| *is as usize).find(|is| *is != n);
                    (n, other.unwrap_or(n))
                }
            };
            if said != is {
                return Err(format!(
                    "a note promised {said} at the end, it comes to {is}"
                ));
            }
        }
        self.each_round = None;
        self.narrows = None;
        let worked = std::mem::take(&mut self.worked);
        if let Some(rows) = self.rows.take()
            && rows != worked
        {
            return Err(format!("a flap of {rows} rows has {worked}"));
        }
        match self.span.take() {
            Some(said) => Err(format!("no short rows over {said} came")),
            None => Ok(()),
        }
    }

    fn sentence(&mut self, sentence: &str, hands: &Hands) -> Result<(), String> {
        let sentence = sentence.trim_end_matches('.');
        let sentence = without_lengths(sentence);
        let numbers: Vec<usize> = sentence
            .replace("needle 1", "the first needle")
            .replace("needle 2", "the second needle")
            .replace("Needle 1", "The first needle")
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|n| n.parse().ok())
            .collect();
        if numbers.is_empty() {
            return Ok(());
        }
        let has = |text: &str| sentence.contains(text);
        let one_of = |ok: bool| ok.then_some(()).ok_or(format!("{numbers:?} is not so"));
        let carried: Vec<usize> = hands.per_needle().iter().map(|n| *n as usize).collect();
        match numbers[..] {
            // held by `beside_a_panel`
            _ if has("half a stitch off the middle") => Ok(()),
            // markers.rs, lying.rs and cables.rs hold these
            _ if has("place a marker after") || has("heel stitches wait") || has(" to cn") => {
                Ok(())
            }
            // How many rounds are how tall is held by `measured`.
            [_] if has(" rounds of the leg ") || has(" rounds of the foot ") => Ok(()),
            [two] if has("middle stitches of the back") => one_of(two == 2),
            [each, end] if has("Each decrease round") || has("Each increase round") => {
                self.each_round = Some(each);
                self.at_the_end.push(if has("instep and sole have") {
                    Promise::OnInstepAndSole(end)
                } else {
                    Promise::AllRound(end)
                });
                Ok(())
            }
            // a toe for one foot narrows by more in some rounds than in others
            [end] if has("instep and sole have") => {
                self.at_the_end.push(Promise::OnInstepAndSole(end));
                Ok(())
            }
            [end] if has("widens faster") => {
                self.at_the_end.push(Promise::AllRound(end));
                Ok(())
            }
            [end] if has("left on each needle") => {
                self.at_the_end.push(Promise::OnEachNeedle(end));
                Ok(())
            }
            [from, each] if has("each right-side row takes") => {
                self.narrows = Some((from, each));
                Ok(())
            }
            [end] if has("to be drawn closed") => {
                self.at_the_end.push(Promise::AllRound(end));
                Ok(())
            }
            [end] if has("heel stitches are left") => {
                self.at_the_end.push(Promise::OfTheHeel(end));
                Ok(())
            }
            [n] if has("Short rows over") => {
                self.span = Some(n);
                Ok(())
            }
            [rows] if has("The flap has") => {
                self.rows = Some(rows);
                Ok(())
            }
            [n] if has("only the next") => one_of(hands.of_part(Part::Heel).len() == n),
            [n] if has("Do so with all") => one_of(hands.sewn_down && hands.bound.len() == n),
            [n] if has("through the last") => one_of(hands.drawn.len() == n),
            [below] if has("below the waste yarn") || has("below the pinned one") => {
                one_of(carried == [below, below])
            }
            // above lie the feet of the stitches there, and one fewer whole loops between them
            [whole] if has("whole loops") => one_of(carried == [whole + 1, whole + 1]),
            [each] if has("both needles hold") => one_of(carried == [each, each]),
            _ if numbers == carried => Ok(()),
            // Before the edge is joined nothing says which needle is the first.
            _ if !hands.joined && turned(&carried).any(|c| c == numbers) => Ok(()),
            _ => Err(format!(
                "no rule for {numbers:?}; the needles carry {carried:?}"
            )),
        }
    }
}

/// A list begun at each of its places.
fn turned(list: &[usize]) -> impl Iterator<Item = Vec<usize>> {
    (0..list.len()).map(|n| [&list[n..], &list[..n]].concat())
}

/// "about 25 cm" is a length, not a count.
fn without_lengths(sentence: &str) -> String {
    let mut out = String::new();
    let mut parts = sentence.split("about ");
    out.extend(parts.next());
    for part in parts {
        let length = part.trim_start_matches(|c: char| c.is_ascii_digit() || ".,".contains(c));
        out.push_str(length);
    }
    out
}

/// How many double stitches there are, and how many stitches lie from the first to the last of them.
fn span_of_doubles(hands: &Hands) -> Option<(usize, usize)> {
    let mut places = Vec::new();
    let live = hands.needles.iter().flatten();
    let live = live.filter(|c| matches!(c, Cell::Live(_)));
    let ring: Vec<_> = live.collect();
    for (i, cell) in ring.iter().enumerate() {
        if let Cell::Live(id) = cell
            && hands.doubles.contains(id)
        {
            places.push(i);
        }
    }
    // On one short circular the list may begin anywhere; what is no ring yet has two ends.
    let straight = places.last()? - places.first()? + 1;
    let around = places
        .windows(2)
        .filter(|_| hands.joined)
        .map(|w| w[1] - w[0])
        .max()
        .map(|gap| ring.len() - gap + 1);
    Some((places.len(), straight.min(around.unwrap_or(straight))))
}

/// Where a sock is tried on, its length is what the closed forms have knitted by then: to the nearest
/// centimetre.
pub(crate) fn tried_on(note: &str, recipe: &Recipe) -> Result<(), String> {
    let Some((_, after)) = note.split_once("it should measure about ") else {
        return Ok(());
    };
    let said = after
        .split('\u{a0}')
        .next()
        .and_then(|n| n.parse::<f64>().ok());
    let said = said.ok_or_else(|| format!("{after:?} begins with no length"))?;
    let sums = sums(recipe).map_err(|no| format!("{no:?}"))?;
    // Not yet washed, in tenths of a millimetre.
    let is = if note.contains("where the heel will be") {
        between_heel_and_toe(recipe, &sums)
    } else {
        until_the_other_end(recipe, &sums)
    };
    #[allow(clippy::cast_precision_loss)] // a sock's length
    let is = is as f64 / 100.0;
    if (said - is).abs() <= 0.6 {
        Ok(())
    } else {
        Err(format!(
            "{said} cm to be tried on, {is} by the closed forms"
        ))
    }
}

/// What is said to lie beside a panel on the front, and before and after it: all that is not patterned is
/// plain, and no side can have one stitch less without the other having one more than it.
pub(crate) fn beside_a_panel(note: &str, recipe: &Recipe, hands: &Hands) -> Result<(), String> {
    let Some((_, said)) = note.split_once("The panel of ") else {
        return Ok(());
    };
    let said = said.split(". ").next().unwrap_or_default();
    let number = |text: &str| {
        let digits: String = text.chars().take_while(char::is_ascii_digit).collect();
        digits.parse().unwrap_or(0)
    };
    let (panel, rest) = said
        .split_once(" stitches lies half a stitch off the middle: ")
        .ok_or("another panel")?;
    let (before, after) = rest.split_once(" before it, ").ok_or("nothing before it")?;
    let said = [panel, before, after].map(number);
    let motif = recipe.motif.as_ref().ok_or("there is no motif")?;
    // a calf makes the back wider, and the front stays
    let on_top = [Part::Front, Part::Instep].map(|part| hands.of_part(part).len());
    let half = u32::try_from(on_top.iter().sum::<usize>()).unwrap_or(0);
    let wide = u32::from(motif.width());
    let lies = Panel::of(half, wide, motif);
    let is = lies.repeats * wide + lies.balance + 2 * lies.edge;
    let due = [is, lies.margin, half - is - lies.margin];
    if said == due && due[1] + 1 == due[2] {
        Ok(())
    } else {
        Err(format!("{said:?} are said, {due:?} lie so"))
    }
}

/// Where a leg is measured, its length is what the closed forms have knitted by the end of it, from the cast-on
/// edge or from the heel; and where a guess is checked, so many rounds are as tall as is said.
pub(crate) fn measured(note: &str, recipe: &Recipe) -> Result<(), String> {
    let length = |after: &str| {
        let said = after.split('\u{a0}').next();
        let said = said.and_then(|n| n.parse::<f64>().ok());
        said.ok_or_else(|| format!("{after:?} begins with no length"))
    };
    let sums = sums(recipe).map_err(|no| format!("{no:?}"))?;
    let leg = note
        .split_once(" the leg should be about ")
        .map(|(from, after)| {
            let is = if from.ends_with("from the cast-on edge") {
                leg_length(recipe, &sums, false)
            } else {
                leg_rounds_tall(recipe, sums.leg_rounds)
            };
            (is, after)
        });
    let [of_leg, of_foot] = ["leg", "foot"].map(|part| {
        let (before, after) = note.split_once(&format!(" rounds of the {part} about "))?;
        let rounds: u32 = before.rsplit(' ').next()?.parse().ok()?;
        let is = if part == "leg" {
            leg_rounds_tall(recipe, rounds)
        } else {
            foot_rounds_tall(recipe, rounds)
        };
        Some((is, after))
    });
    for (is, after) in [leg, of_leg, of_foot].into_iter().flatten() {
        let said = length(after)?;
        // In tenths of a millimetre.
        #[allow(clippy::cast_precision_loss)] // a sock's length
        let is = is as f64 / 100.0;
        if (said - is).abs() > 0.11 {
            return Err(format!("{said} cm are told, {is} by the closed forms"));
        }
    }
    Ok(())
}
