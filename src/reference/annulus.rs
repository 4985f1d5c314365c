//! Thick ring under pressure (Lamé) and under its own spin: stresses and radial displacement.
//!
//! Lacks end effects: plane stress or plane strain throughout. Units: mm, MPa; spin in rad/s,
//! density in kg/m³.
//! Sources: Timoshenko & Goodier, Theory of Elasticity, 3rd ed., art. 28 (pressure) and art. 32
//! (rotating disc); article numbers from memory.

/// Which out-of-plane condition holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Plane {
    /// Free faces: no axial stress.
    Stress,
    /// Held faces: no axial strain.
    Strain,
}

/// Inner and outer radius of a ring, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Annulus {
    pub inner_mm: f64,
    pub outer_mm: f64,
}

/// Young's modulus in MPa and Poisson's ratio.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Elastic {
    pub young_mpa: f64,
    pub poisson: f64,
}

/// Radial and hoop stress at one radius, MPa.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RadialHoop {
    pub radial_mpa: f64,
    pub hoop_mpa: f64,
}

/// Pressures on the inner and outer surface, MPa, positive when pressing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pressure {
    pub inside_mpa: f64,
    pub outside_mpa: f64,
}

impl Annulus {
    /// The two constants of σ = A ∓ B/r²: A in MPa, B in MPa·mm² (Lamé).
    fn lame_constants(self, pressure: Pressure) -> (f64, f64) {
        let (a2, b2) = (self.inner_mm.powi(2), self.outer_mm.powi(2));
        let uniform = (pressure.inside_mpa * a2 - pressure.outside_mpa * b2) / (b2 - a2);
        let decaying = (pressure.inside_mpa - pressure.outside_mpa) * a2 * b2 / (b2 - a2);
        (uniform, decaying)
    }

    /// Stresses under pressure: σr = A − B/r², σθ = A + B/r² (Timoshenko & Goodier eq. 45, number
    /// from memory).
    #[must_use]
    pub fn pressure_stress(self, pressure: Pressure, radius_mm: f64) -> RadialHoop {
        let (uniform, decaying) = self.lame_constants(pressure);
        let decaying = decaying / radius_mm.powi(2);
        RadialHoop { radial_mpa: uniform - decaying, hoop_mpa: uniform + decaying }
    }

    /// Radial displacement under pressure, mm: u = ((1−ν)·A·r + (1+ν)·B/r)/E for plane stress, with
    /// (1+ν)(1−2ν) in place of (1−ν) for plane strain (from Hooke's law and [`Self::pressure_stress`]).
    #[must_use]
    pub fn pressure_displacement_mm(
        self,
        pressure: Pressure,
        elastic: Elastic,
        plane: Plane,
        radius_mm: f64,
    ) -> f64 {
        let (uniform, decaying) = self.lame_constants(pressure);
        let nu = elastic.poisson;
        let in_plane = match plane {
            Plane::Stress => 1.0 - nu,
            Plane::Strain => (1.0 + nu) * (1.0 - 2.0 * nu),
        };
        (in_plane * uniform * radius_mm + (1.0 + nu) * decaying / radius_mm) / elastic.young_mpa
    }

    /// Stresses of the free ring spinning at ω rad/s, plane stress, with s = ρω²(3+ν)/8:
    /// σr = s(a² + b² − a²b²/r² − r²), σθ = s(a² + b² + a²b²/r² − r²(1+3ν)/(3+ν))
    /// (Timoshenko & Goodier eq. 55, number from memory).
    #[must_use]
    pub fn spin_stress(
        self,
        density_kg_m3: f64,
        poisson: f64,
        spin_rad_s: f64,
        radius_mm: f64,
    ) -> RadialHoop {
        let (a2, b2) = (self.inner_mm.powi(2), self.outer_mm.powi(2));
        let r2 = radius_mm.powi(2);
        // kg/m³ · mm² /s² is 1e-6 Pa, that is 1e-12 MPa.
        let scale = density_kg_m3 * spin_rad_s.powi(2) * (3.0 + poisson) / 8.0 * 1e-12;
        let fall = (1.0 + 3.0 * poisson) / (3.0 + poisson);
        RadialHoop {
            radial_mpa: scale * (a2 + b2 - a2 * b2 / r2 - r2),
            hoop_mpa: scale * (a2 + b2 + a2 * b2 / r2 - fall * r2),
        }
    }
}

/// Hoop stress of a thin ring that carries its own spin, MPa: σ = ρv² (equilibrium).
#[must_use]
pub fn thin_ring_spin_mpa(density_kg_m3: f64, speed_m_s: f64) -> f64 {
    density_kg_m3 * speed_m_s.powi(2) * 1e-6
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reference::compare::{Tolerance, assert_close};

    const PRINTED: &str = "the reference is printed to this many digits";

    fn inside(mpa: f64) -> Pressure {
        Pressure { inside_mpa: mpa, outside_mpa: 0.0 }
    }

    #[test]
    fn pressure_inside() {
        let ring = Annulus { inner_mm: 100.0, outer_mm: 200.0 };
        for (radius, radial, hoop) in [(100.0, -60.0, 100.0), (150.0, -15.556, 55.556), (200.0, 0.0, 40.0)] {
            let stress = ring.pressure_stress(inside(60.0), radius);
            let tolerance = Tolerance::printed(3);
            assert_close("σr", stress.radial_mpa, radial, tolerance, PRINTED);
            assert_close("σθ", stress.hoop_mpa, hoop, tolerance, PRINTED);
        }
        let elastic = Elastic { young_mpa: 200e3, poisson: 0.3 };
        for (plane, radius, reference) in [
            (Plane::Strain, 100.0, 0.05720),
            (Plane::Strain, 200.0, 0.03640),
            (Plane::Stress, 100.0, 0.05900),
            (Plane::Stress, 200.0, 0.04000),
        ] {
            let u = ring.pressure_displacement_mm(inside(60.0), elastic, plane, radius);
            assert_close("u", u, reference, Tolerance::printed(5), PRINTED);
        }
    }

    #[test]
    fn second_ring_under_inside_pressure() {
        let ring = Annulus { inner_mm: 10.0, outer_mm: 20.0 };
        for (radius, hoop) in [(10.0, 166.7), (20.0, 66.7)] {
            let stress = ring.pressure_stress(inside(100.0), radius);
            assert_close("σθ", stress.hoop_mpa, hoop, Tolerance::printed(1), PRINTED);
        }
        let elastic = Elastic { young_mpa: 210e3, poisson: 0.3 };
        let u = ring.pressure_displacement_mm(inside(100.0), elastic, Plane::Strain, 10.0);
        assert_close("u(a)", u, 9.08e-3, Tolerance::printed(5), PRINTED);
    }

    #[test]
    fn pressure_outside() {
        let ring = Annulus { inner_mm: 250.0, outer_mm: 280.0 };
        let pressure = Pressure { inside_mpa: 0.0, outside_mpa: 1.0 };
        for (radius, radial, hoop) in [(250.0, 0.0, -9.8616), (280.0, -1.0, -8.8616)] {
            let stress = ring.pressure_stress(pressure, radius);
            let tolerance = Tolerance::printed(4);
            assert_close("σr", stress.radial_mpa, radial, tolerance, PRINTED);
            assert_close("σθ", stress.hoop_mpa, hoop, tolerance, PRINTED);
        }
    }

    #[test]
    fn spinning_ring() {
        let ring = Annulus { inner_mm: 100.0, outer_mm: 300.0 };
        let spin = 300.0 / 60.0 * std::f64::consts::TAU;
        let at = |radius| ring.spin_stress(7200.0, 0.26, spin, radius);
        let tolerance = Tolerance::printed(5);
        assert_close("σθ bore", at(100.0).hoop_mpa, 0.53438, tolerance, PRINTED);
        assert_close("σθ rim", at(300.0).hoop_mpa, 0.17623, tolerance, PRINTED);
        // σr is highest at √(ab).
        let peak = at((100.0f64 * 300.0).sqrt()).radial_mpa;
        assert_close("σr max", peak, 0.11583, tolerance, PRINTED);
        assert!(peak > at(172.0).radial_mpa && peak > at(174.5).radial_mpa);
    }

    #[test]
    fn thin_spinning_ring() {
        for (speed, reference, decimals) in [(1.0, 0.0072, 4), (5.0, 0.18, 2), (10.0, 0.72, 2)] {
            let stress = thin_ring_spin_mpa(7200.0, speed);
            assert_close("ρv²", stress, reference, Tolerance::printed(decimals), PRINTED);
        }
    }
}
