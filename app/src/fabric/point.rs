//! Points and directions on the table, in millimetres; y grows downward.

/// A point, or the way from one to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Point {
    /// To the right.
    pub(crate) x: f32,
    /// Downward.
    pub(crate) y: f32,
}

pub(crate) const fn point(x: f32, y: f32) -> Point {
    Point { x, y }
}

/// A count as a factor of lengths; no sock has more than fit a number of 16 bits.
pub(super) fn number(n: usize) -> f32 {
    f32::from(u16::try_from(n).unwrap_or(u16::MAX))
}

impl Point {
    /// So far on in a direction.
    pub(crate) fn on(self, way: Self, far: f32) -> Self {
        point(way.x.mul_add(far, self.x), way.y.mul_add(far, self.y))
    }

    /// Part of the way to another point.
    pub(crate) fn toward(self, other: Self, part: f32) -> Self {
        self.on(self.to(other), part)
    }

    /// The way to another point.
    pub(crate) fn to(self, other: Self) -> Self {
        point(other.x - self.x, other.y - self.y)
    }

    /// How long a way is.
    pub(crate) fn length(self) -> f32 {
        (self.x * self.x + self.y * self.y).sqrt()
    }

    /// A direction between two, of length 1.
    pub(crate) fn between(self, other: Self, part: f32) -> Self {
        let way = self.toward(other, part);
        let length = way.length().max(0.001);
        point(way.x / length, way.y / length)
    }
}
