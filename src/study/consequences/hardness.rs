//! Hardness at a depth, between readings that surround it.

use crate::survey::HardnessReading;

/// Depths closer than this are one depth (mm).
const SAME_DEPTH_MM: f64 = 0.05;

/// Hardness expected at a depth below the rim edge: a straight line between the means of the nearest depths on
/// both sides; `None` beyond the readings, because how a casting softens inwards is not known beforehand.
pub(crate) fn at_depth(readings: &[HardnessReading], depth_mm: f64) -> Option<f64> {
    let mut sorted = readings.to_vec();
    sorted.sort_by(|a, b| a.depth_mm.total_cmp(&b.depth_mm));
    let mut levels: Vec<(f64, f64, f64)> = Vec::new();
    for reading in &sorted {
        match levels.last_mut() {
            Some((depth, sum, count)) if reading.depth_mm - *depth <= SAME_DEPTH_MM => {
                *sum += reading.hardness_hb;
                *count += 1.0;
            }
            _ => levels.push((reading.depth_mm, reading.hardness_hb, 1.0)),
        }
    }
    let means: Vec<(f64, f64)> = levels.iter().map(|(depth, sum, count)| (*depth, sum / count)).collect();
    if let Some((_, hb)) = means.iter().find(|(depth, _)| (depth - depth_mm).abs() <= SAME_DEPTH_MM) {
        return Some(*hb);
    }
    means.windows(2).find(|pair| (pair[0].0..=pair[1].0).contains(&depth_mm)).map(|pair| {
        let part = (depth_mm - pair[0].0) / (pair[1].0 - pair[0].0);
        pair[0].1 + part * (pair[1].1 - pair[0].1)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    fn reading(depth_mm: f64, hardness_hb: f64) -> HardnessReading {
        HardnessReading { depth_mm, hardness_hb }
    }

    #[test]
    fn between_readings_and_never_beyond_them() {
        let list = [reading(30.0, 176.0), reading(10.0, 204.0), reading(10.0, 196.0), reading(20.0, 180.0)];
        for (depth, hb) in [(10.0, 200.0), (15.0, 190.0), (20.0, 180.0), (25.0, 178.0), (30.0, 176.0)] {
            let found = at_depth(&list, depth).expect("within the readings");
            assert_close("HB", found, hb, Tolerance::Relative(1e-12), "a straight line, rounding only");
        }
        assert_eq!(at_depth(&list, 9.0), None);
        assert_eq!(at_depth(&list, 31.0), None);
        assert_eq!(at_depth(&list[..1], 20.0), None);
        assert_eq!(at_depth(&[], 20.0), None);
    }
}
