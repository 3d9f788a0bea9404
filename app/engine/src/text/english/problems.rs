//! What is wrong with a field and what helps.

use super::documents;
use super::lists::alternatives;
use crate::error::{Problem, SwatchCount};
use crate::recipe::{NearestFit, Number, NumberField, SockPart, Unit};
use crate::swatch::Gauge;
use crate::text::messages::ProblemText;
use crate::text::wording::Wording;
use crate::units::{Length, LengthUnit};
use crate::yarn_amount::{plain_grams, plain_metres};

/// A problem, said.
pub fn problem(problem: &Problem, wording: Wording) -> ProblemText {
    let (message, help) = both(problem, wording);
    ProblemText { message, help }
}

const fn part_name(part: SockPart) -> &'static str {
    match part {
        SockPart::Cuff => "cuff",
        SockPart::Leg => "leg",
        SockPart::Heel => "heel",
        SockPart::Foot => "foot",
        SockPart::Toe => "toe",
    }
}

#[allow(clippy::too_many_lines)] // one arm for each problem
fn both(problem: &Problem, wording: Wording) -> (String, String) {
    let Wording { unit, english, .. } = wording;
    let gauge = english.gauge();
    match problem {
        Problem::OutOfRange {
            number,
            value,
            least,
            most,
        } => {
            let (name, help) = name_and_help(*number, wording);
            (
                format!(
                    "{name} is {}; it can be {} to {}.",
                    show(*number, *value, exactness(*value, [*least, *most], unit), unit),
                    show(*number, *least, Length::show_least, unit),
                    show(*number, *most, Length::show_most, unit)
                ),
                help,
            )
        }
        Problem::StripesOutOfRange {
            stripes,
            least,
            most,
        } => (
            format!(
                "The number of stripes in the sequence is {stripes}; it can be {least} to {most}."
            ),
            "Enter the sequence once; it is knitted again and again.".into(),
        ),
        Problem::GaugeOutOfRange {
            counted,
            gauge,
            least,
            most,
        } => {
            let (what, help) = match counted {
                SwatchCount::Stitches => (
                    "stitches",
                    "Count again over the measured width; sock yarn usually gives 28 to 36.",
                ),
                SwatchCount::Rounds => (
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
            "The leg’s measurements do not go upward.".into(),
            "Give the lowest place first.".into(),
        ),
        Problem::MotifRoundShapedLeg => (
            "A leg that widens cannot carry the stitch pattern all round.".into(),
            "Place the stitch pattern on the front: the leg widens at the back.".into(),
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
            format!("A coarser {gauge} or more negative ease gives fewer."),
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
            "The leg is measured from its top edge and includes the cuff.".into(),
        ),
        Problem::StitchesNotQuartered {
            stitches,
            below,
            above,
        } => (
            format!("{stitches} stitches around cannot be divided by 4."),
            match either(*below, *above) {
                Some(there) => format!("Heel and toe need a multiple of 4: {there}."),
                None => LEAVE_OUT.into(),
            },
        ),
        Problem::RepeatsNotWhole {
            stitches,
            multiple,
            below,
            above,
        } => (
            format!(
                "{stitches} stitches around do not carry whole repeats of the stitch pattern on back and front."
            ),
            match either(*below, *above) {
                Some(there) => format!(
                    "A multiple of {multiple} does: {there}. Or place the stitch pattern on the front only."
                ),
                None => "Place the stitch pattern on the front only.".into(),
            },
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
                    "A finer {gauge} (thinner yarn, smaller needles) or less negative ease gives more."
                )
            } else {
                format!(
                    "A coarser {gauge} (thicker yarn, larger needles) or more negative ease gives fewer."
                )
            },
        ),
        Problem::FarFromFoot {
            stitches,
            tube,
            foot,
            by_repeat,
            nearest,
        } => (
            format!(
                "{stitches} stitches make a sock of {} for a foot of {}{}.",
                tube.show(unit),
                foot.show(unit),
                if *by_repeat {
                    ": whole repeats of the stitch pattern come no nearer"
                } else {
                    ""
                }
            ),
            match nearest {
                Some(NearestFit {
                    stitches,
                    front_only: true,
                }) => format!(
                    "Place the stitch pattern on the front only, with plain stitches at its sides: then {stitches} stitches fit."
                ),
                Some(NearestFit { stitches, .. }) => {
                    format!("{stitches} stitches fit, or leave the number out.")
                }
                None => "A narrower repeat comes nearer.".into(),
            },
        ),
        Problem::ShortCircularTooLong { tube, needle, fits } => (
            format!(
                "The sock is {} round at its narrowest; its stitches do not reach round a circular of {}.",
                tube.show(unit),
                needle.show(unit)
            ),
            match fits {
                Some(fits) => format!(
                    "One of {} does, or take magic loop or double-pointed needles.",
                    fits.show(unit)
                ),
                None => "Take magic loop or double-pointed needles.".into(),
            },
        ),
        Problem::PatternSwatchFarOff => (
            format!(
                "The swatch in the stitch pattern and the one in {} do not go together: no stitch pattern is so much narrower or wider.",
                english.stockinette()
            ),
            "Count its stitches again over the measured width.".into(),
        ),
        Problem::PatternRoundsFarOff => (
            format!(
                "The rounds of the swatch in the stitch pattern and of the one in {} do not go together: no stitch pattern is so much taller or flatter.",
                english.stockinette()
            ),
            "Count its rounds again over the measured height.".into(),
        ),
        Problem::BalanceNotLess { balance, width } => (
            format!("{balance} balancing stitches are a whole repeat of {width} or more."),
            match width {
                0 | 1 => "A repeat of one stitch needs none: 0.".into(),
                _ => format!("Take 0 to {}; whole repeats come by themselves.", width - 1),
            },
        ),
        Problem::BalanceCutsRound { balance, round } => (
            format!("Round {round} of the stitch pattern cannot be broken off after {balance} balancing {stitches}: a decrease, yarn over or cable goes on there.", stitches = if *balance == 1 { "stitch" } else { "stitches" }),
            "Take a number at which every round has worked as many stitches as it makes, or 0.".into(),
        ),
        Problem::FlapRowsAndHeight => (
            "Both the rows and the height of the flap are given.".into(),
            format!("Give one of them; the other follows from the {gauge}."),
        ),
        Problem::FlapRowsOdd { rows } => (
            format!("The flap’s rows ({rows}) are an odd number."),
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
        Problem::TubularEdgeRib { cast_on } => (
            "A tubular edge is a rib that rolls round: it needs one of knit 1, purl 1 or knit 2, purl 2.".into(),
            if *cast_on {
                "Choose such a rib for the top, or another cast-on.".into()
            } else {
                format!(
                    "Choose such a rib for the top, or another {}.",
                    wording.english.bind_off_noun()
                )
            },
        ),
        Problem::ProvisionalToe => (
            "A chain that is undone later keeps half of the toe’s stitches off the needles; only a toe in short rows is knitted over the other half alone.".into(),
            "Choose the toe in short rows, or the magic or the wrapped cast-on.".into(),
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
            match shortest {
                Some(shortest) => format!(
                    "A foot of {} or more, a shorter heel, a finer {gauge} or fewer stitches around would make it fit.",
                    shortest.show_least(unit)
                ),
                None => format!(
                    "A shorter heel or toe, a finer {gauge} or fewer stitches around would make it fit."
                ),
            },
        ),
        Problem::FootRoundsMissing { most } => (
            format!(
                "The foot has {most} rounds between heel and toe; so many can be left out at most."
            ),
            "A shorter heel or toe leaves more.".into(),
        ),
        Problem::LegRoundsLeftOut { most } => (
            format!(
                "The leg has {most} rounds under its cuff; so many can be left out at most."
            ),
            "A shorter cuff leaves more.".into(),
        ),
        Problem::MotifCountNotKept {
            round,
            takes,
            makes,
        } => (
            format!("Round {round} of the stitch pattern makes {makes} stitches of {takes}."),
            "Each round keeps the count: give every yarn over a decrease, and every decrease a yarn over.".into(),
        ),
        Problem::MotifRoundsOutOfRange {
            rounds,
            least,
            most,
        } => (
            format!("The stitch pattern has {rounds} rounds; it can have {least} to {most}."),
            "Enter one repeat only; it is knitted again and again.".into(),
        ),
        Problem::MotifWidthOutOfRange { width, least, most } => (
            format!("The stitch pattern is {width} stitches wide; it can be {least} to {most}."),
            "Enter one repeat only; it is knitted again and again.".into(),
        ),
        Problem::MotifUneven {
            round,
            width,
            first,
        } => (
            format!(
                "Round {round} of the stitch pattern is worked over {width} stitches, the first one over {first}."
            ),
            "All rounds of a repeat are equally wide.".into(),
        ),
        Problem::MotifSlippedTooLong { rounds, most } => (
            format!(
                "A stitch of the stitch pattern is slipped in {rounds} rounds one after another; it can be {most} at most."
            ),
            "Knit it in between: a stitch that is never worked pulls the sock together.".into(),
        ),
        Problem::MotifNeverWorked => (
            "A stitch of the stitch pattern is slipped in every round.".into(),
            "Knit it in between: a stitch that is never worked pulls the sock together.".into(),
        ),
        Problem::PatternUnread => (
            "This sock follows a pattern of your own, which is read on a screen of its own.".into(),
            "What is planned stays; other needles, or another way to divide the stitches, are chosen there.".into(),
        ),
        Problem::PatternWithoutRounds => (
            "Your pattern casts nothing on, or has no round that could be read.".into(),
            "Let it begin with a line such as “Cast on 64 stitches. Join in the round.”".into(),
        ),
        Problem::PatternTooLong { characters, most } => (
            format!("Your pattern has {characters} characters; it can have {most} at most."),
            "Leave out what is not knitted: the story before it, the addresses after it.".into(),
        ),
        Problem::NoSuchPatternSize { size, sizes } => (
            format!("Your pattern gives numbers for {sizes} sizes; size {size} is not among them."),
            "Choose one that it has.".into(),
        ),
        Problem::PartsDoNotMeet { part } => {
            let part = part_name(*part);
            (
                format!("Our {part} cannot begin on what your pattern has on the needles by then."),
                format!("Fix what was found in its lines, or let your pattern knit the {part}."),
            )
        }
        Problem::MotifRoundUnreadable => (
            "A round of the stitch pattern cannot be read.".into(),
            "Enter its stitches anew.".into(),
        ),
        Problem::MotifWiderThanFront { width, front } => (
            format!("The stitch pattern is {width} stitches wide; the front of this sock has {front}."),
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
            "The leg has two repeats of the stitch pattern; three needles cannot share them.".into(),
            "Choose other needles or a narrower repeat.".into(),
        ),
        Problem::RepeatAcrossBegun => (
            "Where the sock is now, a needle ends within a repeat of this stitch pattern.".into(),
            "Keep the stitch pattern that is knitted, or choose a narrower repeat.".into(),
        ),
        Problem::DirectionOfBegun => (
            "A sock that is begun cannot be knitted from its other end.".into(),
            "Begin a new pair for that.".into(),
        ),
        Problem::RecipeTooLong { bytes, most } => (
            format!("The recipe is {bytes} bytes long; it can be {most} at most."),
            DOCUMENT.into(),
        ),
        Problem::RecipeUnreadable { line, column, .. } => (
            format!("This is not JSON: it can be read up to line {line}, character {column}."),
            DOCUMENT.into(),
        ),
        Problem::ValueUnreadable { wanted, found } => documents::value(wanted, found),
        Problem::FieldMissing { wanted } => documents::missing(wanted),
        Problem::FieldUnknown { possible } => documents::unknown(possible),
        Problem::FieldTwice => documents::twice(),
        Problem::NoWeight { most } => (
            "This is not a weight in grams.".into(),
            format!("It can be from 0 to {most}, like 41 or 41.5."),
        ),
    }
}

const REPEAT_ACROSS: &str = "A repeat of the stitch pattern lies across the middle of the instep, where a needle would end.";
const DOCUMENT: &str = "A recipe is a JSON object; see the API’s description.";

/// How a length out of its range is shown: so near the range that it would look as if it lay inside, to
/// the last digit.
fn exactness(
    value: Number,
    ends: [Number; 2],
    unit: LengthUnit,
) -> fn(Length, LengthUnit) -> String {
    // Half of what lengths are rounded to: a millimetre, or a quarter of an inch.
    let half = match unit {
        LengthUnit::Cm => 5,
        LengthUnit::Inch => 32,
    };
    let near = ends.into_iter().any(|end| match (value, end) {
        (Number::Length(value), Number::Length(end)) => {
            value.tenths().abs_diff(end.tenths()) <= half
        }
        _ => false,
    });
    if near {
        Length::show_exact
    } else {
        Length::show
    }
}

/// "60 or 64"; only what there is.
fn either(below: Option<u16>, above: Option<u16>) -> Option<String> {
    let there: Vec<String> = [below, above]
        .iter()
        .flatten()
        .map(u16::to_string)
        .collect();
    let there: Vec<&str> = there.iter().map(String::as_str).collect();
    (!there.is_empty()).then(|| alternatives(&there))
}

const LEAVE_OUT: &str = "Leave it empty to have it worked out from foot and swatch.";

fn show(
    field: NumberField,
    number: Number,
    length: fn(Length, LengthUnit) -> String,
    unit: LengthUnit,
) -> String {
    match number {
        Number::Length(value) => length(value, unit),
        Number::Whole(whole) => {
            let amount = u64::try_from(whole).unwrap_or(0);
            match field.unit() {
                Unit::Grams => plain_grams(amount, unit),
                Unit::Metres => plain_metres(amount, unit),
                _ => whole.to_string(),
            }
        }
    }
}

/// What a number is called at the beginning of a sentence, and what helps where it is out of range.
#[allow(clippy::too_many_lines)] // one arm for each number
fn name_and_help(number: NumberField, wording: Wording) -> (String, String) {
    use NumberField as N;

    let show = |length: Length| length.show(wording.unit);
    let usual = |low: Length, high: Length| format!("{} to {} is usual.", show(low), show(high));
    let (name, help) = match number {
        N::FootLength => (
            "The foot’s length",
            "Measure from the back of the heel to the longest toe, standing on a sheet of paper.",
        ),
        N::FootCircumference => (
            "The foot’s circumference",
            "Measure round the ball of the foot, where it is widest; leave it empty to estimate it.",
        ),
        N::HeelDiagonal => (
            "The measure round heel and instep",
            "Measure from under the heel over the bend of the ankle; leave it empty to estimate it.",
        ),
        N::SwatchStitches => ("The stitches of the swatch", "Count them again."),
        N::SwatchRounds => ("The rounds of the swatch", "Count them again."),
        N::SwatchWidth => return ("The swatch’s measured width".into(), large_swatch(show)),
        N::SwatchHeight => return ("The swatch’s measured height".into(), large_swatch(show)),
        N::UnwashedWidth => ("The unwashed swatch’s width", UNWASHED),
        N::UnwashedHeight => ("The unwashed swatch’s height", UNWASHED),
        N::EasePercent => (
            "The negative ease round the foot",
            "10% suits most plain socks.",
        ),
        N::LengthEase => {
            let (adults, children) = (show(Length::cm(1)), show(Length::mm(5)));
            let help = format!("{adults} suits most adults, {children} small children.");
            return ("The negative ease along the foot".into(), help);
        }
        N::BallGrams => {
            let grams = match wording.unit {
                LengthUnit::Cm => "Grams",
                LengthUnit::Inch => "Ounces",
            };
            let name = format!("{grams} in a {}", wording.english.ball());
            return (name, on_the_band(wording.english));
        }
        N::BallMetres => {
            let metres = match wording.unit {
                LengthUnit::Cm => wording.english.metres_capital(),
                LengthUnit::Inch => "Yards",
            };
            let name = format!("{metres} in a {}", wording.english.ball());
            return (name, on_the_band(wording.english));
        }
        N::PatternStitches => (
            "The stitches of the swatch in the stitch pattern",
            "Count them again.",
        ),
        N::PatternWidth => {
            return (
                "The measured width of the swatch in the stitch pattern".into(),
                large_swatch(show),
            );
        }
        N::PatternRounds => (
            "The rounds of the swatch in the stitch pattern",
            "Count them again.",
        ),
        N::PatternHeight => {
            return (
                "The measured height of the swatch in the stitch pattern".into(),
                large_swatch(show),
            );
        }
        N::MotifBalance => (
            "The balancing stitches",
            "They are what a repeat is given with: 1 in “a multiple of 8 stitches plus 1”.",
        ),
        N::MotifEdge => (
            "The edge stitches on each side of the stitch pattern",
            "One or two set a panel off from the plain stitches beside it.",
        ),
        N::FlapSwatchRows => (
            "The rows counted on the flap",
            "Count each row, there and back.",
        ),
        N::FlapSwatchHeight => (
            "The flap’s measured height",
            "Measure the flap lying flat, from the leg to the turn.",
        ),
        N::BandStitches => {
            let name = format!("The stitches on the {}", wording.english.ball_band());
            return (
                name,
                "They are printed for 10\u{a0}cm, or 4\u{a0}in.".into(),
            );
        }
        N::CuffLength => {
            let help = usual(Length::cm(3), Length::cm(5));
            return ("The cuff’s height".into(), help);
        }
        N::Leg => {
            let (low, high) = (show(Length::cm(15)), show(Length::cm(18)));
            let help = format!("{low} to {high} reaches mid-calf on most adults.");
            return ("The leg from top edge to heel".into(), help);
        }
        N::AdjustLeg => ("Rounds added to the leg", MEASURE_INSTEAD),
        N::AdjustFoot => ("Rounds added to the foot", MEASURE_INSTEAD),
        N::Stitches => ("Stitches around", LEAVE_OUT),
        N::HeelHeight => {
            let usual = usual(Length::cm(5), Length::cm(7));
            let help =
                format!("Measure from the floor to the hollow under the ankle bone; {usual}");
            return ("The flap’s height".into(), help);
        }
        N::HeelBetween => (
            "Rounds between the halves of the heel",
            "2 or 3 give a high instep room.",
        ),
        N::HeelRows => (
            "The flap’s rows",
            "As many rows as the flap has stitches makes it square.",
        ),
        N::GirthHeight(_) => (
            "The height of a leg measurement",
            "Measure upward from where the heel begins.",
        ),
        N::GirthRound(_) => ("The leg’s circumference", "Measure round the bare leg."),
        N::StripeRounds(_) => (
            "The rounds of a stripe",
            "A stripe of one yarn alone can have any number up to that.",
        ),
    };
    (name.into(), help.into())
}

const UNWASHED: &str = "Measure the same stitches and rounds before the swatch is washed.";
const MEASURE_INSTEAD: &str = "Change the measured length for more.";

fn on_the_band(english: crate::text::variety::English) -> String {
    format!("It is printed on the {}.", english.ball_band())
}

fn large_swatch(show: impl Fn(Length) -> String) -> String {
    let (least, better) = (show(Length::cm(5)), show(Length::cm(10)));
    format!("Measure over at least {least}, better {better}.")
}
