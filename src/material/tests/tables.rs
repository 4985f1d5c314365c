//! Tables and relations of gray iron against their printed values.

use super::{ENTRY, PRINTED};
use crate::material::MPA_PER_KSI;
use crate::material::gray_iron::{
    compressive_en1561_mpa, compressive_mpa, endurance_mpa, toughness_n_mm15, typical,
};
use crate::material::hardness::{strength_band, strength_mpa};
use crate::material::section_size::expected_mpa;
use crate::reference::compare::{Tolerance, assert_close};

#[test]
fn gray_iron_by_class_and_between() {
    // Ratios of Shigley table A-24, applied to the minimum strength.
    let tolerance = Tolerance::Relative(1e-12);
    let class_20 = 20.0 * MPA_PER_KSI;
    let compressive = compressive_mpa(class_20);
    assert_close("S_uc", compressive, class_20 * 572.0 / 152.0, tolerance, ENTRY);
    let compressive = compressive_mpa(60.0 * MPA_PER_KSI);
    assert_close("S_uc/S_ut", compressive / (60.0 * MPA_PER_KSI), 3.0, Tolerance::printed(2), PRINTED);
    assert_close("S_uc/S_ut", compressive_mpa(class_20) / class_20, 3.763, Tolerance::printed(3), PRINTED);
    let endurance = endurance_mpa(30.0 * MPA_PER_KSI);
    assert_close("S_e", endurance, 30.0 * MPA_PER_KSI * 97.0 / 214.0, tolerance, ENTRY);
    // Halfway from class 30 to 35.
    let iron = typical(32.5 * MPA_PER_KSI);
    assert_close("S_ut", iron.tensile_mpa, 233.0, tolerance, ENTRY);
    assert_close("E", iron.young_mpa.0, 95e3, tolerance, ENTRY);
    assert_close("K_f", iron.notch_factor, 1.125, tolerance, ENTRY);
    // Below and above the table its ends are kept.
    assert_eq!(typical(100.0), typical(class_20));
    let above = typical(500.0);
    assert_close("S_ut", above.tensile_mpa, 431.0, tolerance, ENTRY);
    assert_close("S_e", above.endurance_mpa, 169.0, tolerance, ENTRY);
    // EN 1561: compression is four times tension at grade 150 and below.
    assert_close("EN 1561", compressive_en1561_mpa(150.0), 600.0, tolerance, ENTRY);
    assert_close("EN 1561", compressive_en1561_mpa(100.0), 400.0, tolerance, ENTRY);
    assert_close("EN 1561", compressive_en1561_mpa(225.0), 780.0, tolerance, ENTRY);
}

#[test]
fn toughness_in_both_units() {
    for (tensile, low, mpa_m) in [(150.0, 320.0, 10.1), (250.0, 480.0, 15.2), (350.0, 650.0, 20.6)] {
        let (found, high) = toughness_n_mm15(tensile);
        assert_close("K_Ic", found, low, Tolerance::Absolute(1e-9), ENTRY);
        assert_close("K_Ic", found / 1000f64.sqrt(), mpa_m, Tolerance::printed(1), PRINTED);
        assert!(high >= found);
    }
    let (low, high) = toughness_n_mm15(20.0 * MPA_PER_KSI);
    assert_close("K_Ic", low, 320.0, Tolerance::Absolute(1e-9), ENTRY);
    assert_close("K_Ic", high, 380.632, Tolerance::printed(3), "187.895 MPa on a straight line");
}

#[test]
fn hardness_leaves_a_band() {
    for (hb, upper, middle, lower) in
        [(180.0, 284.0, 182.0, 114.0), (200.0, 341.0, 227.0, 152.0), (220.0, 398.0, 273.0, 189.0)]
    {
        let band = strength_band(hb);
        let tolerance = Tolerance::printed(0);
        assert_close("upper", band.upper_mpa, upper, tolerance, PRINTED);
        assert_close("middle", band.middle_mpa, middle, tolerance, PRINTED);
        assert_close("lower", band.lower_mpa, lower, tolerance, PRINTED);
    }
    for (hb, more, less) in [(180.0, 56.0, 37.0), (240.0, 43.0, 29.0)] {
        let band = strength_band(hb);
        let percent = |value: f64| (value / band.middle_mpa - 1.0) * 100.0;
        assert_close("above", percent(band.upper_mpa), more, Tolerance::printed(0), PRINTED);
        assert_close("below", -percent(band.lower_mpa), less, Tolerance::printed(0), PRINTED);
    }
    assert_eq!(strength_band(110.0).lower_mpa, 0.0);
    // The relation is the inverse of RH = HB/(100 + 0.44 R_m).
    let strength = strength_mpa(215.0, 1.1);
    let relative = 215.0 / (100.0 + 0.44 * strength);
    assert_close("RH", relative, 1.1, Tolerance::Absolute(1e-12), "inverse, rounding only");
}

#[test]
fn thick_sections_are_weaker() {
    let tolerance = Tolerance::Absolute(1e-9);
    for (bar, section, reference) in [
        (150.0, 15.0, 130.0),
        (150.0, 30.0, 110.0),
        (200.0, 60.0, 130.0),
        (250.0, 100.0, 155.0),
        (300.0, 30.0, 240.0),
        // A wall on a border counts to the thicker range.
        (200.0, 20.0, 155.0),
        // Thin walls are not credited with more than the bar.
        (150.0, 7.0, 150.0),
        (300.0, 7.0, 300.0),
        // Beyond the table the last range and the nearest grade's ratio hold.
        (300.0, 200.0, 195.0),
        (225.0, 30.0, 175.0),
        (75.0, 30.0, 55.0),
    ] {
        let strength = expected_mpa(bar, section);
        assert_close("strength in the casting", strength, reference, tolerance, ENTRY);
    }
}
