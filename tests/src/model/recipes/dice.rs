//! Chance that is the same every time: a number thrown decides all that follows.

/// The generator known as `SplitMix64`: a counter, well stirred.
#[derive(Debug, Clone)]
pub(super) struct Dice(u64);

impl Dice {
    pub(super) const fn thrown(number: u64) -> Self {
        Self(number.wrapping_mul(0xD134_2543_DE82_EF95))
    }

    const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from `low` to `high`, both of them too.
    pub(super) fn among(&mut self, low: u32, high: u32) -> u32 {
        let wide = u64::from(high.saturating_sub(low)) + 1;
        low + u32::try_from(self.next() % wide).unwrap_or(0)
    }

    /// The same, smaller.
    pub(super) fn small(&mut self, low: u16, high: u16) -> u16 {
        u16::try_from(self.among(low.into(), high.into())).unwrap_or(high)
    }

    /// True so many times of a hundred.
    pub(super) fn chance(&mut self, percent: u32) -> bool {
        self.among(0, 99) < percent
    }

    pub(super) fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        let last = u32::try_from(all.len().saturating_sub(1)).unwrap_or(0);
        all[self.among(0, last) as usize]
    }
}
