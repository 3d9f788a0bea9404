//! What is wrong with a field and what helps.

use crate::error::{Counted, Problem, Quantity, Value};
use crate::swatch::Gauge;
use crate::text::{English, ProblemText, Wording};
use crate::units::{Length, LengthUnit};

/// A problem, said.
pub fn problem(problem: &Problem, wording: Wording) -> ProblemText {
    let (message, help) = both(problem, wording);
    ProblemText { message, help }
}

#[allow(clippy::too_many_lines)] // one arm for each problem
fn both(problem: &Problem, wording: Wording) -> (String, String) {
    let Wording { unit, english, .. } = wording;
    let gauge = english.gauge();
    match problem {
        Problem::OutOfRange {
            quantity,
            value,
            least,
            most,
        } => (
            format!(
                "{} is {}; it can be {} to {}.",
                name(*quantity, english),
                show(*value, Length::show, unit),
                show(*least, Length::show_least, unit),
                show(*most, Length::show_most, unit)
            ),
            range_help(*quantity, unit),
        ),
        Problem::GaugeOutOfRange {
            counted,
            gauge,
            least,
            most,
        } => {
            let (what, help) = match counted {
                Counted::Stitches => (
                    "stitches",
                    "Count again over the measured width; sock yarn usually gives 28 to 36.",
                ),
                Counted::Rounds => (
                    "rounds",
                    "Count again over the measured height; sock yarn usually gives 38 to 50.",
                ),
            };
            (
                format!(
                    "The swatch comes to {} {what} in {}; it can be {} to {}.",
                    gauge.show(unit),
                    Gauge::over(unit).show(unit),
                    least.show_least(unit),
                    most.show_most(unit)
                ),
                help.into(),
            )
        }
        Problem::TooManyGirths { places, most } => (
            format!("The leg is measured round at {places} places; it can be {most} at most."),
            "Ankle, calf and below the knee are usually enough.".into(),
        ),
        Problem::GirthsNotAscending => (
            "The leg's measurements do not go upward.".into(),
            "Give the lowest place first.".into(),
        ),
        Problem::MotifRoundShapedLeg => (
            "A leg that widens cannot carry the motif all round.".into(),
            "Place the motif on the front: the leg widens at the back.".into(),
        ),
        Problem::GirthsInOneRound { height } => (
            format!(
                "Two measurements of the leg fall into one round, {} above the heel.",
                height.show(unit)
            ),
            "Leave one of them out.".into(),
        ),
        Problem::LegTooSteep { round } => (
            format!(
                "The leg would have to change by more than 2 stitches in one round, {round} rounds above the heel."
            ),
            "Measurements further apart, or a longer leg, make it gentler.".into(),
        ),
        Problem::LegTooWide { stitches, most } => (
            format!("The leg comes to {stitches} stitches around; it can have {most} at most."),
            format!("A coarser {gauge} or more ease gives fewer."),
        ),
        Problem::LegRoundsMissing => (
            "Too few rounds of the leg are left to shape it in.".into(),
            "A longer leg gives them.".into(),
        ),
        Problem::LegShorterThanCuff { leg, cuff } => (
            format!(
                "The leg ({}) is shorter than its cuff ({}).",
                leg.show(unit),
                cuff.show(unit)
            ),
            "The leg is measured from the cast-on edge and includes the cuff.".into(),
        ),
        Problem::StitchesNotQuartered {
            stitches,
            below,
            above,
        } => (
            format!("{stitches} stitches around cannot be quartered."),
            format!("Heel and toe want a multiple of 4: {below} or {above}."),
        ),
        Problem::RepeatsNotWhole {
            stitches,
            multiple,
            below,
            above,
        } => (
            format!(
                "{stitches} stitches around do not carry whole repeats of the motif on back and front."
            ),
            format!(
                "A multiple of {multiple} does, {below} or {above}; or place the motif on the front only."
            ),
        ),
        Problem::StitchesOutOfRange {
            stitches,
            least,
            most,
        } => (
            format!(
                "This foot at this {gauge} comes to {stitches} stitches around; a sock here has {least} to {most}."
            ),
            if *stitches < u64::from(*least) {
                format!(
                    "A finer {gauge} (thinner yarn, smaller needles), less ease or a wider foot gives more."
                )
            } else {
                format!(
                    "A coarser {gauge} (thicker yarn, larger needles), more ease or a narrower foot gives fewer."
                )
            },
        ),
        Problem::FlapRowsAndHeight => (
            "The flap has its rows and its height both given.".into(),
            format!("Give one of them; the other follows from the {gauge}."),
        ),
        Problem::FlapRowsOdd { rows } => (
            format!("The flap's rows ({rows}) are an odd number."),
            "A flap ends with a wrong-side row: take one row more or less.".into(),
        ),
        Problem::FlapTooShort {
            rows,
            around,
            least,
            square,
        } => (
            format!(
                "A flap of {rows} rows gives too few stitches along its edges to get back to {around} around."
            ),
            format!("This heel needs {least} rows or more; {square} make it square."),
        ),
        Problem::FlapRowsOutOfRange {
            height,
            rows,
            least,
            most,
            least_height,
            most_height,
        } => (
            format!(
                "A flap {} high has {rows} rows at this {gauge}; it can have {least} to {most}.",
                height.show(unit)
            ),
            format!(
                "That is {} to {}.",
                least_height.show_least(unit),
                most_height.show_most(unit)
            ),
        ),
        Problem::HighInstepAfterthought => (
            "An afterthought heel has nothing to widen for a high instep.".into(),
            "A heel flap with its gusset, or a short-row heel, makes room for it.".into(),
        ),
        Problem::RoundToeFirst => (
            "A round toe is drawn closed at the end, so it cannot be the beginning.".into(),
            "From the toe up a wedge, a left or right or a short-row toe is cast on closed.".into(),
        ),
        Problem::RoundToeWide => (
            "A round toe comes to a point and cannot be wide.".into(),
            "A wedge, a left or right or a short-row toe can.".into(),
        ),
        Problem::FootTooShort {
            needed,
            needed_length,
            room,
            room_length,
            shortest,
        } => (
            format!(
                "Heel and toe of this sock take {needed} rounds ({}); the foot has room for {room} ({}).",
                needed_length.show(unit),
                room_length.show(unit)
            ),
            format!(
                "A foot of {} or more, a shorter heel, a finer {gauge} or fewer stitches around would make it fit.",
                shortest.show_least(unit)
            ),
        ),
        Problem::FootRoundsMissing { most } => (
            format!(
                "The foot has {most} rounds between heel and toe; so many can be left out at most."
            ),
            "A shorter heel or toe leaves more.".into(),
        ),
        Problem::MotifCountNotKept {
            round,
            takes,
            makes,
        } => (
            format!("Round {round} of the motif makes {makes} stitches of {takes}."),
            "Each round keeps the count: give every yarn over a decrease, and every decrease a yarn over.".into(),
        ),
        Problem::MotifRoundsOutOfRange {
            rounds,
            least,
            most,
        } => (
            format!("The motif has {rounds} rounds; it can have {least} to {most}."),
            "Enter one repeat only; it is knitted again and again.".into(),
        ),
        Problem::MotifWidthOutOfRange { width, least, most } => (
            format!("The motif is {width} stitches wide; it can be {least} to {most}."),
            "Enter one repeat only; it is knitted again and again.".into(),
        ),
        Problem::MotifUneven {
            round,
            width,
            first,
        } => (
            format!(
                "Round {round} of the motif is worked over {width} stitches, the first one over {first}."
            ),
            "All rounds of a repeat are equally wide.".into(),
        ),
        Problem::MotifSlippedTooLong { rounds, most } => (
            format!(
                "A stitch of the motif is slipped in {rounds} rounds one after another; it can be {most} at most."
            ),
            "Knit it in between: a stitch that is never worked pulls the sock together.".into(),
        ),
        Problem::MotifNeverWorked => (
            "A stitch of the motif is slipped in every round.".into(),
            "Knit it in between: a stitch that is never worked pulls the sock together.".into(),
        ),
        Problem::MotifRoundUnreadable => (
            "A round of the motif cannot be read.".into(),
            "Enter its stitches anew.".into(),
        ),
        Problem::MotifWiderThanFront { width, front } => (
            format!("The motif is {width} stitches wide; the front of this sock has {front}."),
            "A narrower repeat fits.".into(),
        ),
        Problem::RepeatAcrossHalves => (
            REPEAT_ACROSS.into(),
            "Keep instep and sole on a needle each, or choose a narrower repeat.".into(),
        ),
        Problem::RepeatAcrossFiveNeedles => (
            REPEAT_ACROSS.into(),
            "With four needles the instep has one to itself; or choose a narrower repeat.".into(),
        ),
        Problem::RepeatsOnThreeNeedles => (
            "The leg has two repeats of the motif; three needles cannot share them.".into(),
            "Choose other needles or a narrower repeat.".into(),
        ),
        Problem::RepeatAcrossBegun => (
            "Where the sock is now, a needle ends within a repeat of this motif.".into(),
            "Keep the motif that is knitted, or choose a narrower repeat.".into(),
        ),
        Problem::DirectionOfBegun => (
            "A sock that is begun cannot be knitted from its other end.".into(),
            "Begin a new pair for that.".into(),
        ),
        Problem::RecipeTooLong { bytes, most } => (
            format!("The recipe is {bytes} bytes long; it can be {most} at most."),
            DOCUMENT.into(),
        ),
        Problem::RecipeUnreadable { reason } => (
            format!("The recipe cannot be read: {reason}."),
            DOCUMENT.into(),
        ),
        Problem::NoWeight { most } => (
            "This is not a weight in grams.".into(),
            format!("It can be from 0 to {most}, like 41 or 41.5."),
        ),
    }
}

const REPEAT_ACROSS: &str =
    "A repeat of the motif lies across the middle of the instep, where a needle would end.";
const DOCUMENT: &str = "A recipe is a JSON object; see the API's description.";

fn show(value: Value, length: fn(Length, LengthUnit) -> String, unit: LengthUnit) -> String {
    match value {
        Value::Length(value) => length(value, unit),
        Value::Number(number) => number.to_string(),
    }
}

/// What a number is called at the beginning of a sentence.
fn name(quantity: Quantity, english: English) -> String {
    let name = match quantity {
        Quantity::FootLength => "The foot's length",
        Quantity::FootCircumference => "The foot's circumference",
        Quantity::HeelDiagonal => "The measure round heel and instep",
        Quantity::SwatchWidth => "The swatch's measured width",
        Quantity::SwatchHeight => "The swatch's measured height",
        Quantity::UnwashedWidth => "The unwashed swatch's width",
        Quantity::UnwashedHeight => "The unwashed swatch's height",
        Quantity::Ease => "The ease round the foot",
        Quantity::LengthEase => "The ease along the foot",
        Quantity::BallGrams => "Grams in a ball",
        Quantity::BallMetres => return format!("{} in a ball", english.metres_capital()),
        Quantity::CuffLength => "The cuff's height",
        Quantity::LegLength => "The leg from cast-on to heel flap",
        Quantity::LegRounds => "Rounds added to the leg",
        Quantity::FootRounds => "Rounds added to the foot",
        Quantity::Stitches => "Stitches around",
        Quantity::FlapHeight => "The flap's height",
        Quantity::RoundsBetween => "Rounds between the halves of the heel",
        Quantity::FlapRows => "The flap's rows",
        Quantity::GirthHeight => "The height of a leg measurement",
        Quantity::Girth => "The leg's circumference",
        Quantity::Stripes => "The number of stripes in the sequence",
        Quantity::StripeRounds => "The rounds of a stripe",
    };
    name.into()
}

fn range_help(quantity: Quantity, unit: LengthUnit) -> String {
    let help = match quantity {
        Quantity::FootLength => {
            "Measure from the back of the heel to the longest toe, standing on a sheet of paper."
        }
        Quantity::FootCircumference => {
            "Measure round the ball of the foot, where it is widest; leave it empty to estimate it."
        }
        Quantity::HeelDiagonal => {
            "Measure from under the heel over the bend of the ankle; leave it empty to estimate it."
        }
        Quantity::SwatchWidth | Quantity::SwatchHeight => {
            return format!(
                "Measure over at least {}, better {}.",
                Length::cm(5).show(unit),
                Length::cm(10).show(unit)
            );
        }
        Quantity::UnwashedWidth | Quantity::UnwashedHeight => {
            "Measure the same stitches and rounds before the swatch is washed."
        }
        Quantity::Ease => "10 % suits most plain socks.",
        Quantity::LengthEase => {
            return format!(
                "{} suits most adults, {} small children.",
                Length::cm(1).show(unit),
                Length::mm(5).show(unit)
            );
        }
        Quantity::BallGrams | Quantity::BallMetres => "It is printed on the band.",
        Quantity::CuffLength => {
            return format!(
                "{} to {} is usual.",
                Length::cm(3).show(unit),
                Length::cm(5).show(unit)
            );
        }
        Quantity::LegLength => {
            return format!(
                "{} to {} reaches mid-calf on most adults.",
                Length::cm(15).show(unit),
                Length::cm(18).show(unit)
            );
        }
        Quantity::LegRounds | Quantity::FootRounds => "Change the measured length for more.",
        Quantity::Stitches => "Leave it empty to have it worked out from foot and swatch.",
        Quantity::FlapHeight => {
            return format!(
                "Measure from the floor to the hollow under the ankle bone; {} to {} is usual.",
                Length::cm(5).show(unit),
                Length::cm(7).show(unit)
            );
        }
        Quantity::RoundsBetween => "2 or 3 give a high instep room.",
        Quantity::FlapRows => "As many rows as the flap has stitches makes it square.",
        Quantity::GirthHeight => "Measure upward from where the heel begins.",
        Quantity::Girth => "Measure round the bare leg.",
        Quantity::Stripes => "Enter the sequence once; it is knitted again and again.",
        Quantity::StripeRounds => "A stripe of one yarn alone can have any number up to that.",
    };
    help.into()
}
