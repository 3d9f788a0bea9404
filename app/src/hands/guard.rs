//! A touch that trembles is one touch.

/// Touches nearer together than this are one, in milliseconds.
const APART: f64 = 350.0;

/// What a touch is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Touch {
    /// It counts.
    Counts,
    /// It follows another so closely that it is the same one.
    Again,
}

/// Remembers the touch before.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Guard {
    before: Option<f64>,
}

impl Guard {
    /// A touch, at the browser's own time of it in milliseconds. Each one holds off the next, so a
    /// trembling finger counts once however long it trembles.
    pub fn touch(&mut self, at: f64) -> Touch {
        let before = self.before.replace(at);
        // A clock that goes back would hold off nothing for long; it counts.
        match before.map(|before| at - before) {
            Some(since) if (0.0..APART).contains(&since) => Touch::Again,
            _ => Touch::Counts,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn counted(touches: &[f64]) -> usize {
        let mut guard = Guard::default();
        touches
            .iter()
            .filter(|at| guard.touch(**at) == Touch::Counts)
            .count()
    }

    #[test]
    fn a_double_touch_counts_once() {
        assert_eq!(counted(&[1000.0]), 1);
        assert_eq!(counted(&[0.0, 349.9]), 1);
        assert_eq!(counted(&[0.0, 350.0]), 2);
        assert_eq!(counted(&[5.0, 5.0]), 1);
    }

    #[test]
    fn trembling_counts_once_however_long() {
        assert_eq!(counted(&[0.0, 200.0, 400.0, 600.0, 800.0]), 1);
        assert_eq!(counted(&[0.0, 200.0, 400.0, 760.0]), 2);
    }

    #[test]
    fn a_clock_that_went_back_loses_no_touch() {
        assert_eq!(counted(&[9_000.0, 100.0, 600.0]), 3);
    }
}
