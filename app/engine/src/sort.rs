//! Sorting in little code: each use of the library's sorts is kilobytes of what a phone loads.
//!
//! Knows nothing else.

/// Sorts things in place; what is equal may change places.
pub fn sort<T>(items: &mut [T], before: impl Fn(&T, &T) -> bool) {
    let many = items.len();
    // First the latest one comes to the front of every branch, then each of them to the end in turn.
    for step in (0..many + many / 2).rev() {
        let (mut at, end) = if step >= many {
            (step - many, many)
        } else {
            items.swap(0, step);
            (0, step)
        };
        loop {
            let mut below = 2 * at + 1;
            if below >= end {
                break;
            }
            if below + 1 < end && before(&items[below], &items[below + 1]) {
                below += 1;
            }
            if !before(&items[at], &items[below]) {
                break;
            }
            items.swap(at, below);
            at = below;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::sort;

    #[test]
    fn it_sorts_as_the_library_does() {
        let mut number = 1_u32;
        for many in 0..60 {
            let mut items: Vec<u32> = Vec::new();
            for _ in 0..many {
                number = number.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                // some of them equal
                items.push(number >> 27);
            }
            let mut expected = items.clone();
            expected.sort_unstable();
            sort(&mut items, |a, b| a < b);
            assert_eq!(items, expected);
        }
    }
}
