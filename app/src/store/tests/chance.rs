//! Chance that is the same at every run.

/// Numbers by the splitmix64 rule (Steele, Lea, Flood 2014).
pub(super) struct Chance(pub(super) u64);

impl Chance {
    pub(super) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From 0 to below `limit`; 0 when there is nothing to choose from.
    pub(super) fn below(&mut self, limit: usize) -> usize {
        let limit = u64::try_from(limit.max(1)).unwrap_or(u64::MAX);
        usize::try_from(self.next() % limit).unwrap_or(0)
    }

    pub(super) fn of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.below(all.len())]
    }

    /// A text with one thing wrong in it: a letter changed, lost or doubled, a piece lost, moved or
    /// written twice.
    pub(super) fn worsen(&mut self, text: &str) -> String {
        const STRANGE: [char; 16] = [
            '0',
            '1',
            '9',
            '-',
            ',',
            ':',
            ' ',
            '"',
            '{',
            ']',
            'd',
            'z',
            '\u{0}',
            '\n',
            'ß',
            '\u{1F9E6}',
        ];
        let letters: Vec<char> = text.chars().collect();
        let at = self.below(letters.len());
        let end = (at + 1 + self.below(40)).min(letters.len());
        let (before, rest) = letters.split_at(at.min(letters.len()));
        let (piece, after) = rest.split_at(end - at.min(end));
        let worse: Vec<char> = match self.below(8) {
            0 => [before, after].concat(),
            1 => [before, piece, piece, after].concat(),
            2 => before.to_vec(),
            3 => [before, &rest[rest.len().min(1)..]].concat(),
            4 => [piece, before, after].concat(),
            _ => [before, &[*self.of(&STRANGE)], &rest[rest.len().min(1)..]].concat(),
        };
        worse.into_iter().collect()
    }
}

/// How often something is tried: as the environment says, else the usual number of times.
pub(super) fn times(variable: &str, usual: u64) -> u64 {
    std::env::var(variable).map_or(usual, |text| text.parse().expect("a number of times"))
}
