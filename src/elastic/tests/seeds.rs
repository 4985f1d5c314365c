//! Proof that these tests can fail: each deliberate fault is caught by the check it is meant for.

use super::fields::{bending, shear, strips};
use super::*;

/// A refusal catches the fault as well as a wrong number does.
fn caught(gap: Result<f64, ElasticFault>, allowed: f64) -> bool {
    gap.is_err() || gap.is_ok_and(|gap| gap > 10.0 * allowed)
}

#[test]
fn a_forgotten_radius_spoils_the_thick_tube() {
    assert!(caught(lame(0.26, 6.0, Seed::ForgottenRadius).map(|(_, stress)| stress), 2e-3));
}

#[test]
fn a_wrong_pi_spoils_the_disc_between_strips() {
    assert!(caught(strips(Seed::WrongPi), 2e-3));
}

#[test]
fn swapped_shears_spoil_the_patch_test() {
    assert!(caught(shear(0.4, Seed::SwappedShear), 1e-7));
}

#[test]
fn a_wrong_sign_in_the_hoop_strain_spoils_bending() {
    assert!(caught(bending(Seed::HoopSign), 1e-5));
}

#[test]
fn a_drag_that_turns_the_wrong_way_spoils_the_patch_test_of_both_families() {
    assert!(caught(shear(0.4, Seed::DragSign), 1e-7));
}

#[test]
fn a_comparison_with_no_number_never_passes() {
    let mut gap = Gap::default();
    gap.add(f64::NAN, 1.0);
    gap.add(1.0, 1.0);
    assert!(std::panic::catch_unwind(move || near("nothing", gap.0, 0.0, 1.0)).is_err());
    assert!(std::panic::catch_unwind(|| near("nothing", f64::NAN, 0.0, 1.0)).is_err());
    assert!(std::panic::catch_unwind(|| near("too low", -1.0, 0.0, 0.5)).is_err());
}
