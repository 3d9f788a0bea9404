//! Sine and cosine in little code: the library's are right to the last bit for angles of any size, which costs a
//! page kilobytes. Knows nothing else.

use std::f32::consts::FRAC_PI_2;

/// Sine and cosine of an angle of some turns, right to a hundred-thousandth.
pub(crate) fn sin_cos(angle: f32) -> (f32, f32) {
    let quarters = (angle / FRAC_PI_2).round_ties_even();
    // At most an eighth of a turn is left, either way: a few terms of the series will do.
    let left = angle - quarters * FRAC_PI_2;
    let square = left * left;
    let sin = left * (1.0 - square / 6.0 * (1.0 - square / 20.0 * (1.0 - square / 42.0)));
    let cos = 1.0 - square / 2.0 * (1.0 - square / 12.0 * (1.0 - square / 30.0));
    // Few quarters make some turns.
    #[allow(clippy::cast_possible_truncation)]
    match (quarters as i32).rem_euclid(4) {
        0 => (sin, cos),
        1 => (cos, -sin),
        2 => (-sin, -cos),
        _ => (-cos, sin),
    }
}

#[cfg(test)]
mod tests {
    use super::sin_cos;

    #[test]
    fn it_is_what_the_library_says() {
        for step in -800_i16..800 {
            let angle = f32::from(step) / 100.0;
            let ((sin, cos), (own_sin, own_cos)) = (angle.sin_cos(), sin_cos(angle));
            assert!((sin - own_sin).abs() < 1e-5, "{angle}: {sin} {own_sin}");
            assert!((cos - own_cos).abs() < 1e-5, "{angle}: {cos} {own_cos}");
        }
    }
}
