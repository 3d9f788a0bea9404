//! Numbers of rounds as a pattern writes them: "1 to 6", "2, 4, 6", "2 to 24, every 2nd".

use crate::text::sheet as says;

/// "Round 3", "Rounds 1 to 6", "Rows 2 to 24, every 2nd".
pub(super) fn heading(are_rows: bool, numbers: &[usize]) -> String {
    match (numbers, are_rows) {
        ([number], true) => says::row(*number),
        ([number], false) => says::round(*number),
        (_, true) => says::rows(&list(numbers)),
        (_, false) => says::rounds(&list(numbers)),
    }
}

/// Rounds that repeat: "Rounds 2 to 15: rounds 2 and 3, 7 times".
pub(super) fn repeated(are_rows: bool, numbers: &[usize], every: usize, times: usize) -> String {
    let first = numbers.get(..every).unwrap_or(numbers);
    says::repeated(
        &heading(are_rows, numbers),
        are_rows,
        &match first {
            [one, other] => says::both(*one, *other),
            more => list(more),
        },
        times,
    )
}

/// Counts one after the other: one number where it stays; of many that change evenly the first ones
/// and the last.
pub(super) fn counts(all: &[u16]) -> String {
    let Some((first, rest)) = all.split_first() else {
        return String::new();
    };
    if rest.iter().all(|n| n == first) {
        return first.to_string();
    }
    let even = all.windows(3).all(|three| {
        i32::from(three[2]) - i32::from(three[1]) == i32::from(three[1]) - i32::from(three[0])
    });
    if let ([a, b, .., z], true) = (all, even && all.len() > 4) {
        return says::counts_to(*a, *b, *z);
    }
    let all: Vec<String> = all.iter().map(ToString::to_string).collect();
    says::listed(&all)
}

/// Ascending numbers; long rows of them in few words.
fn list(numbers: &[usize]) -> String {
    if let [first, second, .., last] = numbers {
        let every = second - first;
        let even = numbers.windows(2).all(|two| two[1] - two[0] == every);
        if even && every > 1 && numbers.len() > 4 {
            return says::every(*first, *last, every);
        }
    }
    let mut parts = Vec::new();
    for run in numbers.chunk_by(|a, b| b - a == 1) {
        match run {
            [first, .., last] if run.len() > 2 => parts.push(says::from_to(*first, *last)),
            _ => parts.extend(run.iter().map(ToString::to_string)),
        }
    }
    says::listed(&parts)
}

/// Which rounds of a chart of so many are worked one after another: "rounds 1 to 6 of the chart, 8
/// times, then 1 to 4"; `None` where one does not follow the other.
pub(super) fn of_chart(worked: &[u16], of: u16) -> Option<String> {
    let (first, last) = (*worked.first()?, *worked.last()?);
    let follows = |two: &[u16]| two[1] == two[0] % of + 1;
    if worked.len() < 2 || !worked.windows(2).all(follows) {
        return None;
    }
    let to = |from: u16, to: u16| {
        if to == from {
            from.to_string()
        } else {
            says::from_to(from.into(), to.into())
        }
    };
    let mut whole = worked.len();
    let mut parts = Vec::with_capacity(3);
    if first > 1 && whole > usize::from(of - first) {
        parts.push(to(first, of));
        whole -= usize::from(of - first + 1);
    } else if first > 1 {
        parts.push(to(first, last));
        whole = 0;
    }
    match whole / usize::from(of) {
        0 => {}
        1 => parts.push(to(1, of)),
        times => parts.push(says::times(&to(1, of), times)),
    }
    if !whole.is_multiple_of(of.into()) {
        parts.push(to(1, last));
    }
    Some(says::of_chart(&parts))
}

#[cfg(test)]
#[cfg(not(feature = "made-up-language"))]
mod tests {
    use super::*;

    #[test]
    fn numbers_read_as_in_a_pattern() {
        for (numbers, said) in [
            (vec![3], "Round 3"),
            (vec![1, 2], "Rounds 1, 2"),
            (vec![1, 2, 3, 4], "Rounds 1 to 4"),
            (vec![1, 3, 5, 7], "Rounds 1, 3, 5, 7"),
            (vec![2, 4, 6, 8, 10], "Rounds 2 to 10, every 2nd"),
            (vec![1, 2, 3, 7, 9, 10, 11], "Rounds 1 to 3, 7, 9 to 11"),
            (vec![3, 6, 9, 12, 15], "Rounds 3 to 15, every 3rd"),
        ] {
            assert_eq!(heading(false, &numbers), said);
        }
        for (first, count, of, said) in [
            (1, 12, 6, "1 to 6, 2 times"),
            (1, 16, 6, "1 to 6, 2 times, then 1 to 4"),
            (4, 9, 6, "4 to 6, then 1 to 6"),
            (4, 2, 6, "4 to 5"),
            (4, 3, 6, "4 to 6"),
            (6, 2, 6, "6, then 1"),
            (1, 5, 1, "1, 5 times"),
            (2, 8, 2, "2, then 1 to 2, 3 times, then 1"),
        ] {
            let worked: Vec<u16> = (0..count).map(|n| (first - 1 + n) % of + 1).collect();
            let told = of_chart(&worked, of);
            assert_eq!(told, Some(format!("Rounds of the chart: {said}")));
        }
        assert_eq!(of_chart(&[1, 3, 5], 6), None);
        assert_eq!(heading(true, &[3]), "Row 3");
        assert_eq!(heading(true, &[1, 2, 3]), "Rows 1 to 3");
        for (every, said) in [(11, "11th"), (21, "21st"), (12, "12th")] {
            let numbers: Vec<usize> = (0..5).map(|n| 1 + n * every).collect();
            assert!(heading(false, &numbers).ends_with(said), "{every}");
        }
    }
}
