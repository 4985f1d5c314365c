//! Long thin cylinder under radial ring loads: line, band, free edge; and the rope drum built on them.
//!
//! Lacks shear deformation and thickness effects (thin shell), and ends nearer than about π/β.
//! Loads and displacements are positive inwards; a moment is positive when it puts the inside in
//! tension. Units: mm, N, MPa; line loads in N/mm of circumference.
//! Sources: Timoshenko & Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 114–115
//! (numbers from memory); Hetényi, Beams on Elastic Foundation.

use std::f64::consts::FRAC_PI_4;

/// Mean radius and wall in mm, with the elastic constants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shell {
    pub radius_mm: f64,
    pub wall_mm: f64,
    pub young_mpa: f64,
    pub poisson: f64,
}

/// Inward displacement (mm) and axial bending moment (N·mm per mm of circumference).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bending {
    pub displacement_mm: f64,
    pub moment_n: f64,
}

impl Shell {
    /// Decay constant β in 1/mm: β⁴ = 3(1−ν²)/(R²t²).
    #[must_use]
    pub fn beta_per_mm(self) -> f64 {
        (3.0 * (1.0 - self.poisson.powi(2))).powf(0.25) / (self.radius_mm * self.wall_mm).sqrt()
    }

    /// Plate stiffness D = Et³/(12(1−ν²)), N·mm.
    #[must_use]
    pub fn stiffness_n_mm(self) -> f64 {
        self.young_mpa * self.wall_mm.powi(3) / (12.0 * (1.0 - self.poisson.powi(2)))
    }

    /// Under a line load P' (N/mm): w = P'/(8β³D), M = P'/(4β).
    #[must_use]
    pub fn line_load(self, load_n_mm: f64) -> Bending {
        let beta = self.beta_per_mm();
        Bending {
            displacement_mm: load_n_mm / (8.0 * beta.powi(3) * self.stiffness_n_mm()),
            moment_n: load_n_mm / (4.0 * beta),
        }
    }

    /// In the middle of a pressure band of half-width c:
    /// w = (pR²/(Et))(1 − e^(−βc) cos βc), M = (p/(2β²)) e^(−βc) sin βc.
    #[must_use]
    pub fn band_load(self, pressure_mpa: f64, half_width_mm: f64) -> Bending {
        let beta = self.beta_per_mm();
        let (sin, cos) = (beta * half_width_mm).sin_cos();
        let decay = (-beta * half_width_mm).exp();
        let far = pressure_mpa * self.radius_mm.powi(2) / (self.young_mpa * self.wall_mm);
        Bending {
            displacement_mm: far * (1.0 - decay * cos),
            moment_n: pressure_mpa / (2.0 * beta.powi(2)) * decay * sin,
        }
    }

    /// Moment at the distance x from the edge of a wide pressure band, on its pressed side:
    /// M = (p/(4β²)) e^(−βx) sin βx; highest at βx = π/4. At the edge w is half of the wide band's.
    #[must_use]
    pub fn band_edge_moment_n(self, pressure_mpa: f64, distance_mm: f64) -> f64 {
        let beta = self.beta_per_mm();
        let x = beta * distance_mm;
        pressure_mpa / (4.0 * beta.powi(2)) * (-x).exp() * x.sin()
    }

    /// At a free edge under an edge shear Q (N/mm): w = Q/(2β³D) at the edge, and the highest
    /// moment (Q/β) e^(−π/4) sin(π/4) = 0.3224 Q/β at π/(4β) from it (its magnitude).
    #[must_use]
    pub fn edge_shear(self, shear_n_mm: f64) -> Bending {
        let beta = self.beta_per_mm();
        Bending {
            displacement_mm: shear_n_mm / (2.0 * beta.powi(3) * self.stiffness_n_mm()),
            moment_n: shear_n_mm / beta * (-FRAC_PI_4).exp() * FRAC_PI_4.sin(),
        }
    }

    /// At the clamped end of a long cylinder under a line load P' (N/mm) at the distance a from it:
    /// M = (P'/β) e^(−βa) sin βa, which puts the outside in tension; P'·a where a is short.
    #[must_use]
    pub fn clamped_moment_n(self, load_n_mm: f64, distance_mm: f64) -> f64 {
        self.beside_clamp_n(load_n_mm, distance_mm, 0.0)
    }

    /// The same moment at the distance x from the clamp, between it and the load. Own derivation: the uncut
    /// cylinder's displacement w₀ and slope w₀' under P', taken away at the clamp by e^(−βx)(c₁ cos βx + c₂ sin βx)
    /// with c₁ = −w₀, c₂ = −w₀ − w₀'/β; M = D·w''.
    #[must_use]
    pub fn beside_clamp_n(self, load_n_mm: f64, distance_mm: f64, at_mm: f64) -> f64 {
        let (beta, stiffness) = (self.beta_per_mm(), self.stiffness_n_mm());
        let unit = load_n_mm / (8.0 * beta.powi(3) * stiffness);
        let wave = |distance: f64| {
            let x = beta * distance;
            let (sin, cos) = x.sin_cos();
            ((-x).exp() * sin, (-x).exp() * cos)
        };
        let (sin, cos) = wave(distance_mm);
        let (first, second) = (-unit * (cos + sin), -unit * (cos + sin) - 2.0 * unit * sin);
        let (sin_to_load, cos_to_load) = wave(distance_mm - at_mm);
        let (sin_here, cos_here) = wave(at_mm);
        let own = -2.0 * unit * (cos_to_load - sin_to_load);
        let dying = 2.0 * (first * sin_here - second * cos_here);
        stiffness * beta.powi(2) * (own + dying)
    }

    /// Distance π/(4β) from an edge at which its bending is highest, mm.
    #[must_use]
    pub fn edge_peak_distance_mm(self) -> f64 {
        FRAC_PI_4 / self.beta_per_mm()
    }

    /// Axial bending stress 6M/t², MPa.
    #[must_use]
    pub fn bending_mpa(self, moment_n: f64) -> f64 {
        6.0 * moment_n / self.wall_mm.powi(2)
    }

    /// Magnitude of the mean hoop stress E·w/R, MPa; a compression for an inward displacement.
    #[must_use]
    pub fn hoop_mpa(self, displacement_mm: f64) -> f64 {
        self.young_mpa * displacement_mm / self.radius_mm
    }
}

/// Stress magnitudes in a rope drum, MPa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drum {
    /// Hoop stress far inside a full winding: S/(s·h).
    pub full_hoop_mpa: f64,
    /// Hoop stress under a single turn.
    pub turn_hoop_mpa: f64,
    /// Axial bending under a single turn.
    pub turn_bending_mpa: f64,
    /// Highest axial bending near the edge of a half-wound drum.
    pub edge_bending_mpa: f64,
}

/// Drum of the given shell wound with a rope of tension S (N) at the pitch s (mm), from the line
/// load S/R and the pressure S/(s·R).
#[must_use]
pub fn rope_drum(shell: Shell, tension_n: f64, pitch_mm: f64) -> Drum {
    let turn = shell.line_load(tension_n / shell.radius_mm);
    let pressure = tension_n / (pitch_mm * shell.radius_mm);
    let edge = shell.band_edge_moment_n(pressure, shell.edge_peak_distance_mm());
    Drum {
        full_hoop_mpa: tension_n / (pitch_mm * shell.wall_mm),
        turn_hoop_mpa: shell.hoop_mpa(turn.displacement_mm),
        turn_bending_mpa: shell.bending_mpa(turn.moment_n),
        edge_bending_mpa: shell.bending_mpa(edge),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    const IRON: Shell = Shell { radius_mm: 265.0, wall_mm: 30.0, young_mpa: 110e3, poisson: 0.26 };

    #[test]
    fn line_load() {
        let bending = IRON.line_load(100.0);
        for (what, computed, reference, decimals) in [
            ("β", IRON.beta_per_mm(), 0.014504, 6),
            // Also seen as 68.95, which is this value rounded twice.
            ("1/β", IRON.beta_per_mm().recip(), 68.945, 3),
            ("w", bending.displacement_mm, 0.015433, 6),
            ("M", bending.moment_n, 1723.6, 1),
            ("σz", IRON.bending_mpa(bending.moment_n), 11.491, 3),
            ("hoop", IRON.hoop_mpa(bending.displacement_mm), 6.406, 3),
        ] {
            assert_close(what, computed, reference, Tolerance::printed(decimals), PRINTED);
        }
    }

    #[test]
    fn band_load() {
        for (half_width, w, axial, hoop) in [
            (10.0, 3.066e-3, 1.981, 1.273),
            (20.0, 6.024e-3, 3.391, 2.500),
            (40.0, 11.317e-3, 4.862, 4.698),
            (80.0, 18.619e-3, 4.553, 7.729),
        ] {
            let bending = IRON.band_load(1.0, half_width);
            assert_close("w", bending.displacement_mm, w, Tolerance::printed(6), PRINTED);
            let tolerance = Tolerance::printed(3);
            let stress = IRON.bending_mpa(bending.moment_n);
            assert_close("σz", stress, axial, tolerance, PRINTED);
            let stress = IRON.hoop_mpa(bending.displacement_mm);
            assert_close("hoop", stress, hoop, tolerance, PRINTED);
        }
    }

    #[test]
    fn a_narrow_band_is_a_line_load() {
        let half_width = 1e-3;
        let band = IRON.band_load(100.0 / (2.0 * half_width), half_width);
        let line = IRON.line_load(100.0);
        let reason = "a band of 1e-3 mm differs from a line by about β times its half-width";
        let tolerance = Tolerance::Relative(1e-4);
        assert_close("w", band.displacement_mm, line.displacement_mm, tolerance, reason);
        assert_close("M", band.moment_n, line.moment_n, tolerance, reason);
    }

    #[test]
    fn edge_shear() {
        let edge = IRON.edge_shear(7.0);
        let factor = edge.moment_n * IRON.beta_per_mm() / 7.0;
        assert_close("M β/Q", factor, 0.3224, Tolerance::printed(4), PRINTED);
        // A free edge yields four times as much as the uncut cylinder under the same line load.
        let uncut = IRON.line_load(7.0).displacement_mm;
        let reason = "Q/(2β³D) against Q/(8β³D), rounding only";
        let tolerance = Tolerance::Relative(1e-12);
        assert_close("w", edge.displacement_mm, 4.0 * uncut, tolerance, reason);
    }

    #[test]
    fn a_clamped_end_bends_as_the_closed_form_says() {
        let (load, a) = (7.0, 20.0);
        let x = IRON.beta_per_mm() * a;
        let closed = load / IRON.beta_per_mm() * (-x).exp() * x.sin();
        let reason = "two ways to one closed form";
        let found = IRON.clamped_moment_n(load, a);
        assert_close("M", found, closed, Tolerance::Relative(1e-12), reason);
        // Hardly any foundation lies below a short overhang: a cantilever.
        let short = IRON.clamped_moment_n(load, 0.01);
        assert_close(
            "P'a",
            short,
            0.01 * load,
            Tolerance::Relative(1e-3),
            "the next term is βa of the first",
        );
        // Far from the clamp the load bends as on an uncut cylinder, inside in tension.
        let far = -IRON.beside_clamp_n(load, 900.0, 900.0);
        let uncut = IRON.line_load(load).moment_n;
        assert_close("far", far, uncut, Tolerance::Relative(1e-4), "e^(−βa) of the clamp is left");
    }

    #[test]
    fn drum_under_rope() {
        let shell = Shell { radius_mm: 500.0, wall_mm: 70.0, young_mpa: 210e3, poisson: 0.3 };
        let drum = rope_drum(shell, 1.96e6, 65.0);
        let tolerance = Tolerance::printed(1);
        for (what, computed, reference) in [
            ("full winding", drum.full_hoop_mpa, 430.8),
            ("one turn, hoop", drum.turn_hoop_mpa, 96.2),
            ("one turn, bending", drum.turn_bending_mpa, 174.7),
            ("edge bending", drum.edge_bending_mpa, 126.1),
        ] {
            assert_close(what, computed, reference, tolerance, PRINTED);
        }
        // The same in the usual dimensionless form, S/√(Dh³) and S/(s·h).
        let unit = 1.96e6 / (1000.0f64 * 70.0f64.powi(3)).sqrt();
        let hoop = drum.turn_hoop_mpa / unit;
        assert_close("hoop factor", hoop, 0.909, Tolerance::printed(3), PRINTED);
        let bending = drum.turn_bending_mpa / unit;
        assert_close("bending factor", bending, 1.650, Tolerance::printed(3), PRINTED);
        let edge = drum.edge_bending_mpa / drum.full_hoop_mpa;
        assert_close("edge factor", edge, 0.293, Tolerance::printed(3), PRINTED);
    }
}
