//! What the passes of a double wrap ask of the two shafts.

use crate::hoist::RopeWrap;

/// Vector sum of the rope pulls on the drive sheave's shaft over all its passes (x at θ = 0, y at θ = 90°), N.
pub fn drive_pull_n(wraps: &[RopeWrap]) -> [f64; 2] {
    wraps.iter().fold([0.0; 2], |sum, wrap| {
        let pull = wrap.pulls_n();
        [sum[0] + pull[0], sum[1] + pull[1]]
    })
}

/// Pull of one rope on the secondary sheave's shaft: 2·Ti·sin(α/2), N.
pub fn secondary_pull_n(between_n: f64, wrap_rad: f64) -> f64 {
    2.0 * between_n * (0.5 * wrap_rad).sin()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};
    use crate::survey::Creep;
    use std::f64::consts::PI;

    #[test]
    fn half_turns_add_up_to_the_plain_sum() {
        // 8000/5500 N with Ti = √(T1·T2): T1 + 2·Ti + T2 = 26767 N, 2·Ti = 13266 N.
        let between = (8000.0f64 * 5500.0).sqrt();
        let wraps = [(8000.0, between), (between, 5500.0)]
            .map(|(heavy, light)| RopeWrap::new(heavy, light, PI, Creep::WholeWrap));
        let pull = drive_pull_n(&wraps);
        let reason = "the reference is printed to this many digits";
        assert_close("drive", pull[0].hypot(pull[1]), 26767.0, Tolerance::Absolute(0.6), reason);
        assert_close("secondary", secondary_pull_n(between, PI), 13266.0, Tolerance::Absolute(0.6), reason);
    }
}
