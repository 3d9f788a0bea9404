//! Everything that can be wrong with a field.

use super::document::{Found, Wanted};
use crate::recipe::{NearestFit, Number, NumberField, SockPart};
use crate::swatch::Gauge;
use crate::units::Length;

/// What is wrong, with all that a sentence about it needs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Problem {
    /// A number is out of its range.
    OutOfRange {
        /// Which.
        number: NumberField,
        /// What it is.
        value: Number,
        /// The least it can be.
        least: Number,
        /// The most it can be.
        most: Number,
    },
    /// A sequence has too few or too many stripes.
    StripesOutOfRange {
        /// Stripes.
        stripes: u16,
        /// The least it has.
        least: u16,
        /// The most it has.
        most: u16,
    },
    /// The swatch gives a gauge out of range.
    GaugeOutOfRange {
        /// What was counted.
        counted: SwatchCount,
        /// The gauge.
        gauge: Gauge,
        /// The least it can be.
        least: Gauge,
        /// The most it can be.
        most: Gauge,
    },
    /// The leg is measured round at too many places.
    TooManyGirths {
        /// Places measured.
        places: usize,
        /// Places that can be measured.
        most: usize,
    },
    /// The leg's measurements do not go upward.
    GirthsNotAscending,
    /// A leg that widens cannot carry a motif all round.
    MotifRoundShapedLeg,
    /// Two measurements of the leg fall into one round.
    GirthsInOneRound {
        /// The upper one's height above the heel.
        height: Length,
    },
    /// The leg would widen or narrow too fast.
    LegTooSteep {
        /// The round above the heel where it would.
        round: u16,
    },
    /// The leg has too many stitches at its widest.
    LegTooWide {
        /// Stitches around there.
        stitches: u16,
        /// Stitches that it can have.
        most: u16,
    },
    /// A begun leg has too few rounds left to shape it in.
    LegRoundsMissing,
    /// The leg is shorter than its cuff.
    LegShorterThanCuff {
        /// Its length.
        leg: Length,
        /// The cuff's.
        cuff: Length,
    },
    /// The stitches around are no multiple of 4.
    StitchesNotQuartered {
        /// Stitches around.
        stitches: u16,
        /// The next multiple below that a sock can have.
        below: Option<u16>,
        /// The next multiple above that a sock can have.
        above: Option<u16>,
    },
    /// The stitches around do not carry whole repeats of the motif.
    RepeatsNotWhole {
        /// Stitches around.
        stitches: u16,
        /// What they have to be a multiple of.
        multiple: u16,
        /// The next multiple below that a sock can have.
        below: Option<u16>,
        /// The next multiple above that a sock can have.
        above: Option<u16>,
    },
    /// Foot and gauge come to too few or too many stitches around.
    StitchesOutOfRange {
        /// Stitches they come to.
        stitches: u64,
        /// The least a sock has.
        least: u16,
        /// The most a sock has.
        most: u16,
    },
    /// The sock would be far wider, or far narrower, than the foot.
    FarFromFoot {
        /// Stitches around.
        stitches: u16,
        /// Round the sock.
        tube: Length,
        /// Round the foot.
        foot: Length,
        /// Whether whole repeats of the motif make it so.
        by_repeat: bool,
        /// The number of stitches that fits, where there is one.
        nearest: Option<NearestFit>,
    },
    /// A short circular is too long for its stitches to reach round it.
    ShortCircularTooLong {
        /// The narrowest round of the sock.
        tube: Length,
        /// The needle, tip to tip.
        needle: Length,
        /// The longest one that the stitches reach round, where there is one.
        fits: Option<Length>,
    },
    /// The swatch in the motif is too far from the one in stockinette to be of the same yarn.
    PatternSwatchFarOff,
    /// The rounds of a swatch in the motif are too far from those in stockinette.
    PatternRoundsFarOff,
    /// As many balancing stitches as a repeat has, or more.
    BalanceNotLess {
        /// Balancing stitches.
        balance: u16,
        /// Stitches of the repeat.
        width: u16,
    },
    /// A round of the motif cannot be parted after so many balancing stitches.
    BalanceCutsRound {
        /// Balancing stitches.
        balance: u16,
        /// The round, from 1.
        round: usize,
    },
    /// Both the flap's rows and its height are given.
    FlapRowsAndHeight,
    /// The flap's rows are an odd number.
    FlapRowsOdd {
        /// Its rows.
        rows: u16,
    },
    /// The flap has too few rows to pick up from.
    FlapTooShort {
        /// Its rows.
        rows: u16,
        /// Stitches around that have to be got back to.
        around: u16,
        /// The least rows.
        least: u16,
        /// Rows of a square flap.
        square: u16,
    },
    /// The flap's height comes to too few or too many rows.
    FlapRowsOutOfRange {
        /// Its height.
        height: Length,
        /// Rows it comes to.
        rows: u16,
        /// The least rows.
        least: u16,
        /// The most rows.
        most: u16,
        /// Their height.
        least_height: Length,
        /// Their height.
        most_height: Length,
    },
    /// An afterthought heel cannot be widened for a high instep.
    HighInstepAfterthought,
    /// A tubular edge at a cuff that is no rib of one and one or two and two.
    TubularEdgeRib {
        /// Whether it is cast on; else it is bound off.
        cast_on: bool,
    },
    /// A provisional cast-on for a toe that is not knitted in short rows.
    ProvisionalToe,
    /// A round toe cannot be cast on.
    RoundToeFirst,
    /// A round toe cannot be wide.
    RoundToeWide,
    /// Heel and toe are longer than the foot.
    FootTooShort {
        /// Rounds of heel and toe.
        needed: u16,
        /// Their length.
        needed_length: Length,
        /// Rounds of the foot.
        room: u16,
        /// Their length.
        room_length: Length,
        /// The shortest foot that this heel and toe fit, where there is one.
        shortest: Option<Length>,
    },
    /// More rounds of the foot are left out than it has.
    FootRoundsMissing {
        /// Rounds that can be left out.
        most: u16,
    },
    /// More rounds of the leg are left out than it has under its cuff.
    LegRoundsLeftOut {
        /// Rounds that can be left out.
        most: u16,
    },
    /// A motif's round makes more or fewer stitches than it takes.
    MotifCountNotKept {
        /// The round, from 1.
        round: usize,
        /// Stitches it takes.
        takes: u32,
        /// Stitches it makes.
        makes: u32,
    },
    /// The motif has too few or too many rounds.
    MotifRoundsOutOfRange {
        /// Its rounds.
        rounds: usize,
        /// The least.
        least: u16,
        /// The most.
        most: u16,
    },
    /// The motif is too narrow or too wide.
    MotifWidthOutOfRange {
        /// Its stitches.
        width: u32,
        /// The least.
        least: u16,
        /// The most.
        most: u16,
    },
    /// A motif's rounds are not equally wide.
    MotifUneven {
        /// The round, from 1.
        round: usize,
        /// Stitches it takes.
        width: u32,
        /// Stitches the first round takes.
        first: u32,
    },
    /// A stitch of the motif is slipped in too many rounds one after another.
    MotifSlippedTooLong {
        /// Rounds.
        rounds: usize,
        /// Rounds that it can be.
        most: usize,
    },
    /// A stitch of the motif is never worked.
    MotifNeverWorked,
    /// The sock follows a written pattern, which was not read here.
    PatternUnread,
    /// A written pattern casts nothing on, or has no round.
    PatternWithoutRounds,
    /// A written pattern is longer than a recipe can hold.
    PatternTooLong {
        /// Its characters.
        characters: usize,
        /// The most it can have.
        most: usize,
    },
    /// A size is chosen that a written pattern does not have.
    NoSuchPatternSize {
        /// Which, from 1.
        size: usize,
        /// Sizes it has.
        sizes: usize,
    },
    /// After what a written pattern leaves on the needles a part of ours cannot begin.
    PartsDoNotMeet {
        /// The part of ours.
        part: SockPart,
    },
    /// A round of the motif holds what does not belong in one.
    MotifRoundUnreadable,
    /// The motif is wider than the sock's front.
    MotifWiderThanFront {
        /// Its stitches.
        width: u16,
        /// Stitches of the front.
        front: u16,
    },
    /// A repeat lies where a needle would end, with halves.
    RepeatAcrossHalves,
    /// A repeat lies where a needle would end, on five double-pointed needles.
    RepeatAcrossFiveNeedles,
    /// Three needles cannot share two repeats.
    RepeatsOnThreeNeedles,
    /// A repeat of another motif lies where a needle of the begun sock ends.
    RepeatAcrossBegun,
    /// A begun sock cannot be knitted from its other end.
    DirectionOfBegun,
    /// A recipe document is too long.
    RecipeTooLong {
        /// Its bytes.
        bytes: usize,
        /// Bytes that it can have.
        most: usize,
    },
    /// A recipe document is no JSON.
    RecipeUnreadable {
        /// What the reader of JSON says of it; for programs only.
        reason: String,
        /// The line up to which it can be read, from 1.
        line: usize,
        /// The character of that line, from 1.
        column: usize,
    },
    /// A field of a recipe document holds what it cannot hold.
    ValueUnreadable {
        /// What it can hold.
        wanted: Wanted,
        /// What it holds.
        found: Found,
    },
    /// A field of a recipe document is missing.
    FieldMissing {
        /// What it holds.
        wanted: Wanted,
    },
    /// No recipe has such a field there.
    FieldUnknown {
        /// Fields that there are.
        possible: Vec<&'static str>,
    },
    /// A field stands twice in a recipe document.
    FieldTwice,
    /// This is no weight in grams.
    NoWeight {
        /// The most that can be weighed, in grams.
        most: u32,
    },
}

/// What is counted over a swatch.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SwatchCount {
    /// Stitches over its width.
    Stitches,
    /// Rounds over its height.
    Rounds,
}
