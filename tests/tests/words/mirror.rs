//! A left-handed knitter who reads nothing but left-handed words makes the mirror image of the sock, and
//! every left and right in them is where her hands have it.

use evenloop_engine::recipe::{LeftRight, Recipe, Toe};
use evenloop_engine::text::{KnittingHand, RunStyle, WordForm, Wording};
use evenloop_engine::trace::Position;
use evenloop_engine::wire::write_recipe;
use evenloop_tests::model::compare::{Verdict, three_ways};
use evenloop_tests::model::page::Do;
use evenloop_tests::model::recipes::seeded;

use super::body::{Body, Side};
use super::{Reading, STYLES};

/// Where on the body a side lies, whichever hand knits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Means {
    /// On the side of the needle that takes stitches.
    Takes,
    /// On the side of the needle from which they are worked.
    Gives,
}

/// Every place where a side is told: what stands before and after it, and where it has to be. Common
/// practice, no source: a stitch mounted the usual way has its leading leg, the one nearer the points, in
/// front; a knitted heel's far edge, which is picked up first, is the one that the work goes towards.
const TOLD: [(&str, &str, Means); 21] = [
    ("Hold the needle in the ", " hand", Means::Gives),
    ("its point to the ", ", the yarn behind it", Means::Takes),
    ("all have their ", " leg in front", Means::Takes),
    ("tip, its ", " leg in front", Means::Takes),
    ("needle, its ", " leg in front", Means::Takes),
    ("their ", " leg lies behind", Means::Takes),
    ("has its ", " leg in front", Means::Takes),
    ("their ", " leg behind", Means::Takes),
    ("cast-on edge onto the ", " needle and knit", Means::Gives),
    ("put it onto the ", " needle, loosely", Means::Gives),
    (
        "the new stitch back to the ",
        " needle as if to purl",
        Means::Gives,
    ),
    ("one above the other, points to the ", ".", Means::Gives),
    (
        "their points to the ",
        ", one above the other",
        Means::Takes,
    ),
    ("hold it there with your ", " thumb", Means::Gives),
    (
        "their points lie to the ",
        ": the lower needle",
        Means::Takes,
    ),
    (
        "Keep the points to the ",
        ". The upper needle",
        Means::Takes,
    ),
    (
        "Draw the needle below to the ",
        " until its loops",
        Means::Takes,
    ),
    ("Put a needle through the ", " leg of each V", Means::Takes),
    ("a second needle through the ", " legs beyond", Means::Takes),
    ("take the half at the ", " as the last", Means::Gives),
    (
        "Along the flap’s ",
        " edge, seen with the right side facing, from the heel",
        Means::Gives,
    ),
];

/// Where the second edge of the flap lies, which leads back to the heel.
const SECOND_EDGE: (&str, &str, Means) = (
    "Along the flap’s ",
    " edge, from the instep to the heel",
    Means::Takes,
);

/// "Left" for what remains, "right" for the side of the fabric that is seen.
const NO_SIDE: [(&str, &str); 6] = [
    ("the ", " side facing"),
    ("every second ", "-side row"),
    ("on each ", "-side row"),
    ("stitches ", " at the start"),
    ("is ", ""),
    ("are ", ""),
];

/// Holds every side that a note tells to the body of who reads it.
fn sides(note: &str, body: Body, recipe: &Recipe) -> Result<(), String> {
    let mut from = 0;
    while let Some((at, word)) = next_side(note, from) {
        from = at + word.len();
        let (before, after) = (&note[..at], &note[from..]);
        let stands = |front: &str, back: &str| before.ends_with(front) && after.starts_with(back);
        let told = TOLD.iter().chain([&SECOND_EDGE]);
        let mut told = told.filter(|(front, back, _)| stands(front, back));
        let due = match told.next() {
            Some((.., Means::Takes)) => body.takes,
            Some((.., Means::Gives)) => body.gives(),
            None if stands("This toe is for the ", " foot") => foot(body, recipe)?,
            None if NO_SIDE.iter().any(|(front, back)| stands(front, back)) => continue,
            None => return Err(format!("which side is meant by {word:?} in {note:?}?")),
        };
        if Side::read(word) != Some(due) {
            return Err(format!("{word:?}, but it lies to the {due:?}: {note:?}"));
        }
    }
    Ok(())
}

/// The next of the two words from a place on, as it stands there by itself.
fn next_side(note: &str, from: usize) -> Option<(usize, &str)> {
    let letter = |c: char| c.is_ascii_alphabetic();
    ["left", "right"]
        .into_iter()
        .flat_map(|word| note.match_indices(word))
        .filter(|(at, word)| {
            *at >= from
                && !note[..*at].ends_with(letter)
                && !note[at + word.len()..].starts_with(letter)
        })
        .min_by_key(|(at, _)| *at)
}

/// The foot that a shaped toe fits. A right-handed knitter's is the recipe's; the mirror image of it fits
/// the other one.
fn foot(body: Body, recipe: &Recipe) -> Result<Side, String> {
    let Toe::Shaped { foot } = recipe.toe else {
        return Err("a toe for one foot, where both are alike".into());
    };
    let as_planned = match foot {
        LeftRight::Left => Side::Left,
        LeftRight::Right => Side::Right,
    };
    Ok(match body.takes {
        Side::Right => as_planned,
        Side::Left => as_planned.other(),
    })
}

/// What somebody has knitted who stands before her own work: how far along the needles each thing was done,
/// counted to the right, and how it leans.
#[derive(Debug, PartialEq)]
struct Seen {
    along: i64,
    lean: Option<Side>,
    /// What it is, its lean aside.
    what: String,
}

impl Seen {
    fn in_a_mirror(self) -> Self {
        Self {
            along: -self.along,
            lean: self.lean.map(Side::other),
            what: self.what,
        }
    }
}

fn seen(body: Body, read: &[Do]) -> Vec<Seen> {
    let mut along = 0;
    let step = match body.gives() {
        Side::Left => -1,
        Side::Right => 1,
    };
    let what = |done: &Do| match done {
        Do::MakeLeft | Do::MakeRight => "make one".to_owned(),
        Do::K2tog | Do::Ssk => format!("decrease {}", *done == Do::Ssk),
        Do::Cross {
            over, under, purl, ..
        } => format!("{over} over {under} {purl}"),
        other => format!("{other:?}"),
    };
    let all = read.iter().map(|done| {
        along += step;
        Seen {
            along,
            lean: body.lean(done),
            what: what(done),
        }
    });
    all.collect()
}

/// The sock as it is read with that hand, move by move.
fn knitted(recipe: &Recipe, style: Wording) -> Vec<Vec<Seen>> {
    let body = Body::of(style);
    let mut sock = Reading::begin(recipe);
    let mut all = Vec::new();
    for step in 0..sock.places.len() {
        let (section, index) = sock.places[step];
        for mv in 0..sock.page.sections[section].steps[index].moves.len() {
            sock.work(Position { step, mv }, style);
            if let Err(why) = sides(&sock.note, body, recipe) {
                panic!("{}\n{why}", write_recipe(recipe));
            }
            all.push(seen(body, &std::mem::take(&mut sock.read)));
        }
    }
    sock.end_section();
    all
}

#[test]
fn a_left_handed_knitter_makes_the_mirror_image() {
    let knitted_by = |recipe: &Recipe, style, hand| knitted(recipe, Wording { hand, ..style });
    let (mut socks, mut leans, mut toes) = (0, 0, 0);
    let sound = seeded(420).filter(|r| matches!(three_ways(r), Ok(Verdict::Knitted { .. })));
    for (nth, recipe) in sound.enumerate() {
        let style = STYLES[nth % STYLES.len()];
        let right = knitted_by(&recipe, style, KnittingHand::Right);
        let left = knitted_by(&recipe, style, KnittingHand::Left);
        leans += left
            .iter()
            .flatten()
            .filter(|one| one.lean.is_some())
            .count();
        toes += usize::from(matches!(recipe.toe, Toe::Shaped { .. }));
        let mirrored: Vec<Vec<Seen>> = right
            .into_iter()
            .map(|mv| mv.into_iter().map(Seen::in_a_mirror).collect())
            .collect();
        assert!(left == mirrored, "{}", write_recipe(&recipe));
        socks += 1;
    }
    assert!(socks >= 200, "only {socks} socks");
    assert!(
        leans > 5_000 && toes > 10,
        "{leans} leans, {toes} shaped toes"
    );
}

/// The words themselves are other ones where something leans, and the same where nothing does.
#[test]
fn what_leans_is_called_by_its_side_in_the_fabric() {
    use evenloop_engine::recipe::Row;
    use evenloop_engine::stitch::Cross;
    use evenloop_engine::text::{Abbreviation, motif_row};

    let row: Row = "k2 cl2/2 crp2/1 k2tog ssk".parse().expect("a row");
    let said = |form, hand| {
        motif_row(
            &row,
            Wording {
                form,
                hand,
                reach: RunStyle::Counted,
                ..Wording::default()
            },
        )
    };
    assert_eq!(
        said(WordForm::Short, KnittingHand::Right),
        "k2, 2/2 LC, 2/1 RPC, k2tog, ssk"
    );
    assert_eq!(
        said(WordForm::Short, KnittingHand::Left),
        "k2, 2/2 RC, 2/1 LPC, k2tog, ssk"
    );
    // what the hands do is the same
    assert_eq!(
        said(WordForm::Plain, KnittingHand::Left),
        said(WordForm::Plain, KnittingHand::Right)
    );
    let key = |cross: &str| {
        let cross: Cross = cross.parse().expect("a cross");
        let left = Wording {
            hand: KnittingHand::Left,
            ..Wording::default()
        };
        let one = Abbreviation::Cross(cross);
        (one.short(left), one.meaning(left))
    };
    let said = |short: &str, meaning: &str| (short.to_owned(), meaning.to_owned());
    assert_eq!(
        key("cl2/2"),
        said(
            "2/2 RC",
            "slip 2 to the cable needle, hold it in front, knit 2, knit 2 from the cable needle"
        )
    );
    assert_eq!(
        key("crp2/1"),
        said(
            "2/1 LPC",
            "slip 1 to the cable needle, hold it in back, knit 2, purl 1 from the cable needle"
        )
    );
}

/// Words for the other hand are noticed, and so is a side that nobody said how to find.
#[test]
fn a_side_told_for_the_other_hand_is_refused() {
    let note =
        "Along the flap’s left edge, seen with the right side facing, from the heel to the instep";
    let read = |takes, note| sides(note, Body { takes }, &Recipe::default());
    assert_eq!(read(Side::Right, note), Ok(()));
    assert!(read(Side::Left, note).is_err());
    assert!(read(Side::Left, "Take the left needle.").is_err());
    assert!(read(Side::Right, "This toe is for the left foot").is_err());
    assert_ne!(
        Body { takes: Side::Left }.make(Side::Left),
        Body { takes: Side::Right }.make(Side::Left)
    );
}
