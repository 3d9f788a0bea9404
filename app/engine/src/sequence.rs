//! A sequence told in its own order: what stays the same told once, what repeats told as a repeat.
//!
//! For everything that lists rounds. Knows nothing of rounds: the caller says which are alike.

use crate::recipe::MOTIF_ROWS;

/// A passage of a sequence: `every` things in a row, worked `times` times.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Passage {
    /// Index of its first thing.
    pub first: usize,
    /// After how many it starts again.
    pub every: usize,
    /// How often it is worked.
    pub times: usize,
}

impl Passage {
    /// How many things lie in it.
    pub const fn len(self) -> usize {
        self.every * self.times
    }

    /// Whether it is empty; none is.
    pub const fn is_empty(self) -> bool {
        self.len() == 0
    }
}

/// The longest repeat that is looked for: the most rounds of a motif.
const LONGEST_REPEAT: usize = *MOTIF_ROWS.end() as usize;

/// Tells a sequence in passages, in order and without a gap.
pub fn passages<T: PartialEq>(all: &[T]) -> Vec<Passage> {
    let mut out = Vec::new();
    let mut first = 0;
    while first < all.len() {
        let next = longest(all, first);
        first += next.len();
        out.push(next);
    }
    out
}

/// The passage that takes in most from a place on; of equals the one with the shortest repeat.
fn longest<T: PartialEq>(all: &[T], first: usize) -> Passage {
    let times = |every: usize| {
        let alike = |i: &usize| all[*i] == all[*i - every];
        let more = (first + every..all.len()).take_while(alike).count();
        1 + more / every
    };
    let mut best = Passage {
        first,
        every: 1,
        times: times(1),
    };
    let left = all.len() - first;
    for every in 2..=LONGEST_REPEAT.min(left / 2) {
        // A repeat that ends as it begins is better begun where the first run of likes is over.
        let turns_over = all[first + every - 1] == all[first];
        let times = times(every);
        if times > 1 && !turns_over && every * times > best.len() {
            best = Passage {
                first,
                every,
                times,
            };
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str) -> Vec<(usize, usize)> {
        let all: Vec<char> = text.chars().collect();
        let passages = passages(&all);
        let mut next = 0;
        for passage in &passages {
            assert_eq!(passage.first, next, "in order and without a gap");
            assert!(!passage.is_empty());
            next += passage.len();
        }
        assert_eq!(next, all.len());
        passages.iter().map(|s| (s.every, s.times)).collect()
    }

    #[test]
    fn likes_and_repeats_are_told_once_and_in_order() {
        assert_eq!(told(""), []);
        assert_eq!(told("a"), [(1, 1)]);
        assert_eq!(told("ab"), [(1, 1), (1, 1)]);
        assert_eq!(told("abbb"), [(1, 1), (1, 3)]);
        assert_eq!(told("ababab"), [(2, 3)]);
        assert_eq!(told("abababa"), [(2, 3), (1, 1)]);
        assert_eq!(told("abbbabbbabb"), [(4, 2), (1, 1), (1, 2)]);
        assert_eq!(told("bbabbbabbbabbb"), [(1, 2), (4, 3)]);
        assert_eq!(told("abcbabcba"), [(4, 2), (1, 1)]);
    }
}
