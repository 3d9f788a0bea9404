//! Writes paths of SVG as short as they can be: whole steps, each point told from the one before it.

use super::point::Point;

/// A path that is being written.
#[derive(Debug, Clone)]
pub(crate) struct Path {
    text: String,
    /// Steps in a millimetre.
    steps: f32,
    pen: (i32, i32),
    /// Whether the last thing written was a number that the next one must be parted from.
    parted: bool,
}

impl Path {
    /// One of so many steps in a millimetre: where a picture is small, fewer are seen.
    pub(crate) const fn new(steps: f32) -> Self {
        Self {
            text: String::new(),
            steps,
            pen: (0, 0),
            parted: false,
        }
    }

    /// Whether nothing is drawn.
    pub(crate) const fn is_empty(&self) -> bool {
        self.text.is_empty()
    }

    /// The written form.
    pub(crate) fn as_str(&self) -> &str {
        &self.text
    }

    /// The written form, when nothing more is drawn.
    pub(crate) fn into_text(self) -> String {
        self.text
    }

    /// Lifts the pen and puts it down elsewhere.
    pub(crate) fn go(&mut self, to: Point) {
        self.command('m');
        self.point(to);
    }

    /// A straight line.
    pub(crate) fn line(&mut self, to: Point) {
        self.command('l');
        self.point(to);
    }

    /// A bent line.
    pub(crate) fn bend(&mut self, by: Point, to: Point) {
        self.command('q');
        let pen = self.pen;
        self.point(by);
        self.pen = pen;
        self.point(to);
    }

    /// Back to where this stroke began.
    pub(crate) fn close(&mut self, begin: Point) {
        self.text.push('z');
        self.pen = self.steps_to(begin);
        self.parted = true;
    }

    fn command(&mut self, letter: char) {
        self.text.push(letter);
        self.parted = true;
    }

    fn point(&mut self, to: Point) {
        let to = self.steps_to(to);
        self.number(to.0 - self.pen.0);
        self.number(to.1 - self.pen.1);
        self.pen = to;
    }

    fn number(&mut self, n: i32) {
        if !self.parted && n >= 0 {
            self.text.push(' ');
        }
        self.parted = false;
        if n < 0 {
            self.text.push('-');
        }
        let mut digits = [0_u8; 10];
        let mut left = n.unsigned_abs();
        let mut from = digits.len();
        loop {
            from -= 1;
            // A remainder of ten is a digit.
            #[allow(clippy::cast_possible_truncation)]
            if let Some(digit) = digits.get_mut(from) {
                *digit = b'0' + (left % 10) as u8;
            }
            left /= 10;
            if left == 0 || from == 0 {
                break;
            }
        }
        for digit in digits.iter().skip(from) {
            self.text.push(char::from(*digit));
        }
    }

    fn steps_to(&self, at: Point) -> (i32, i32) {
        // Socks are some thousands of tenths of a millimetre long.
        #[allow(clippy::cast_possible_truncation)]
        let whole = |mm: f32| (mm * self.steps).round() as i32;
        (whole(at.x), whole(at.y))
    }
}
