//! A touch that bounces is one touch. Packing fills these limits into `public/first.js`, which goes by the same rule.

use std::time::Duration;

/// Contacts that begin farther apart than this are touches of their own, in milliseconds.
pub const BOUNCE: f64 = 120.0;
/// A finger that was off the glass for longer than this was lifted, in milliseconds.
pub const LIFTED: f64 = 50.0;
/// Contacts farther apart than this were not made by one bouncing finger, in CSS pixels.
pub const SPOT: f64 = 24.0;
/// How long a finger rests until it is held.
pub const HELD: Duration = Duration::from_millis(550);

/// What a touch is worth.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Touch {
    /// It counts.
    Counts,
    /// It is the touch before, which bounced.
    Bounced,
}

/// One contact with glass, key or pedal, in the browser's own milliseconds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// When it began.
    pub pressed: f64,
    /// When it ended.
    pub lifted: f64,
    /// Where it was, in CSS pixels; nowhere for keys.
    pub at: Option<(f64, f64)>,
}

impl Contact {
    /// A key, a pedal, or a press that says nothing of itself but its time.
    pub const fn at_once(time: f64) -> Self {
        Self {
            pressed: time,
            lifted: time,
            at: None,
        }
    }

    /// Whether it is the same finger that left the glass for a moment only.
    fn bounces_off(&self, before: &Self) -> bool {
        let near = match (self.at, before.at) {
            (Some((x, y)), Some((before_x, before_y))) => {
                (x - before_x).hypot(y - before_y) <= SPOT
            }
            _ => true,
        };
        // A clock that went back tells nothing: the contact counts.
        near && (0.0..BOUNCE).contains(&(self.pressed - before.pressed))
            && (0.0..LIFTED).contains(&(self.pressed - before.lifted))
    }
}

/// Remembers the contact before.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Guard {
    before: Option<Contact>,
}

impl Guard {
    /// What a contact is worth. Every one that was really lifted counts, however fast they follow.
    pub fn touch(&mut self, contact: Contact) -> Touch {
        match self.before.replace(contact) {
            Some(before) if contact.bounces_off(&before) => Touch::Bounced,
            _ => Touch::Counts,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contacts as pairs of pressed and lifted, all at one spot.
    fn counted(contacts: &[(f64, f64)]) -> usize {
        let mut guard = Guard::default();
        contacts
            .iter()
            .filter(|(pressed, lifted)| {
                let contact = Contact {
                    pressed: *pressed,
                    lifted: *lifted,
                    at: Some((180.0, 600.0)),
                };
                guard.touch(contact) == Touch::Counts
            })
            .count()
    }

    #[test]
    fn fast_touches_all_count() {
        // Pressed every 120 to 340 ms, each lifted after 70: as fast as fingers are.
        for apart in [120.0, 150.0, 200.0, 340.0] {
            let touches: Vec<_> = (0..6).map(|n| f64::from(n) * apart).collect();
            let touches: Vec<_> = touches.iter().map(|at| (*at, at + 70.0)).collect();
            assert_eq!(counted(&touches), 6, "{apart} ms apart");
        }
    }

    #[test]
    fn a_bounce_is_the_touch_before() {
        assert_eq!(counted(&[(0.0, 40.0), (60.0, 100.0)]), 1);
        assert_eq!(counted(&[(0.0, 5.0), (5.0, 60.0)]), 1);
        assert_eq!(counted(&[(0.0, 10.0), (30.0, 40.0), (60.0, 70.0)]), 1);
        // Lifted for a moment, but after a long press: two touches.
        assert_eq!(counted(&[(0.0, 200.0), (220.0, 300.0)]), 2);
    }

    #[test]
    fn two_fingers_at_two_spots_are_two_touches() {
        let mut guard = Guard::default();
        for x in [40.0, 300.0] {
            let contact = Contact {
                pressed: x,
                lifted: x + 5.0,
                at: Some((x, 600.0)),
            };
            assert_eq!(guard.touch(contact), Touch::Counts);
        }
    }

    #[test]
    fn keys_and_pedals_bounce_too() {
        let mut guard = Guard::default();
        let mut press = |time| guard.touch(Contact::at_once(time));
        assert_eq!(press(1_000.0), Touch::Counts);
        assert_eq!(press(1_030.0), Touch::Bounced);
        assert_eq!(press(1_200.0), Touch::Counts);
    }

    #[test]
    fn a_clock_that_went_back_loses_no_touch() {
        assert_eq!(
            counted(&[(9_000.0, 9_010.0), (100.0, 110.0), (600.0, 610.0)]),
            3
        );
    }
}
