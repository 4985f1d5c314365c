//! Two colour maps, each of even steps for the eye, legible in grey and to colour-blind readers.

/// For the reader: where the colours come from.
pub(in crate::report) const SOURCE: &str =
    "Colours: bilbao and vik of F. Crameri's scientific colour maps (MIT licence).";

/// Nothing to much: bilbao, sampled at ten equal steps, light to dark.
pub(in crate::report) const SEQUENTIAL: [&str; 11] = [
    "#ffffff", "#d6d5d3", "#c4c0ac", "#b9ae80", "#ae9663", "#a9825e", "#a46f5a", "#9e5a55", "#8e3f46",
    "#712227", "#4c0001",
];

/// Compression to tension: vik, sampled at sixteen equal steps. In grey both ends are dark, so that what draws it
/// marks compression by other means as well.
pub(in crate::report) const SIGNED: [&str; 17] = [
    "#001261", "#022b71", "#034481", "#0c5e92", "#307da6", "#619ebd", "#94bed2", "#c6dbe6", "#ece5e0",
    "#e9ccba", "#dcac90", "#cf8e68", "#c37243", "#b3531f", "#942f06", "#741506", "#590008",
];

/// The colour at a share of a map, 0 to 1, between its samples.
pub(in crate::report) fn colour(map: &[&str], share: f64) -> String {
    let place = share.clamp(0.0, 1.0) * (map.len() - 1) as f64;
    let low = (place.floor() as usize).min(map.len() - 2);
    let (a, b, t) = (channels(map[low]), channels(map[low + 1]), place - low as f64);
    let mixed: Vec<String> =
        (0..3).map(|c| format!("{:02x}", (a[c] + t * (b[c] - a[c])).round() as u8)).collect();
    format!("#{}", mixed.concat())
}

fn channels(colour: &str) -> [f64; 3] {
    [1, 3, 5].map(|at| f64::from(u8::from_str_radix(&colour[at..at + 2], 16).unwrap_or(0)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Lightness L* of CIE 1976, from sRGB (IEC 61966-2-1).
    fn lightness(colour: &str) -> f64 {
        let linear = channels(colour).map(|c| {
            let c = c / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        });
        116.0 * (0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]).cbrt() - 16.0
    }

    #[test]
    fn more_is_darker_in_grey_too() {
        let steps: Vec<f64> = SEQUENTIAL.iter().map(|c| lightness(c)).collect();
        assert!(steps.windows(2).all(|pair| pair[0] - pair[1] > 4.0), "{steps:?}");
        let signed: Vec<f64> = SIGNED.iter().map(|c| lightness(c)).collect();
        assert!(signed[..9].windows(2).all(|pair| pair[1] > pair[0]), "{signed:?}");
        assert!(signed[8..].windows(2).all(|pair| pair[1] < pair[0]), "{signed:?}");
    }

    #[test]
    fn samples_come_back() {
        assert_eq!(colour(&SEQUENTIAL, 0.0), "#ffffff");
        assert_eq!(colour(&SIGNED, 0.5), "#ece5e0");
        assert_eq!(colour(&SEQUENTIAL, 7.0), "#4c0001");
    }
}
