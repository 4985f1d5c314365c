//! What a place of the wheel goes through in one turn: its stress over all angles.
//!
//! The loads stand still in space and the wheel turns, and r, θ, z turn with the wheel: the stress that one place has
//! in turn is the field's stress at its (r, z) over all θ, component by component.
//!
//! Owns courses of many nodes at once, one matrix product per component, and bounds on them. Units: MPa, rad.

use super::enclosing::Enclosing;
use super::waves::Waves;
use super::{Harmonic, Stress, principal_values};
use nalgebra::DMatrix;
use std::f64::consts::{PI, TAU};

/// One turn, divided evenly, through one case's harmonics.
pub struct Turn<'a> {
    harmonics: &'a [Harmonic],
    waves: DMatrix<f64>,
}

/// Stress courses of some nodes.
pub struct Courses {
    components: [DMatrix<f64>; 6],
}

/// Bounds between which every normal stress of a place stays in a turn (MPa).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    pub highest_mpa: f64,
    pub lowest_mpa: f64,
}

impl<'a> Turn<'a> {
    #[must_use]
    pub fn new(harmonics: &'a [Harmonic], angles: usize) -> Self {
        let step = TAU / angles as f64;
        let mut waves = DMatrix::zeros(angles, 2 * harmonics.len());
        for row in 0..angles {
            let mut turning = Waves::of(row as f64 * step - PI);
            for (index, harmonic) in harmonics.iter().enumerate() {
                (waves[(row, 2 * index)], waves[(row, 2 * index + 1)]) = turning.to(harmonic.n);
            }
        }
        Self { harmonics, waves }
    }

    #[must_use]
    pub fn angles(&self) -> usize {
        self.waves.nrows()
    }

    /// Angle of one row of a course (rad), the first at −π.
    #[must_use]
    pub fn theta(&self, row: usize) -> f64 {
        row as f64 * (TAU / self.angles() as f64) - PI
    }

    #[must_use]
    pub fn courses(&self, nodes: &[usize]) -> Courses {
        let components = std::array::from_fn(|component| {
            let amplitudes = DMatrix::from_fn(2 * self.harmonics.len(), nodes.len(), |row, column| {
                let stress = &self.harmonics[row / 2].stress[nodes[column]];
                stress[component + 6 * (row % 2)]
            });
            &self.waves * amplitudes
        });
        Courses { components }
    }

    /// Bounds from the harmonics alone, whatever the angle: the constant part's principal values, widened by the
    /// sum of all other harmonics' `largest`. Not numbers where the stress is none.
    #[must_use]
    pub fn reach(&self, node: usize) -> Bounds {
        let mut constant: Stress = [0.0; 6];
        let mut varying = 0.0;
        for harmonic in self.harmonics {
            if harmonic.n == 0 {
                constant = std::array::from_fn(|i| harmonic.stress[node][i]);
            } else {
                varying += largest(harmonic, node);
            }
        }
        let [highest, _, lowest] = principal_values(&constant);
        let room = 1e-12 * (varying + highest.abs() + lowest.abs()) + varying;
        Bounds { highest_mpa: highest + room, lowest_mpa: lowest - room }
    }
}

/// What no normal stress of one harmonic can exceed in size at a node (MPa): the norm of its coefficients. At any
/// angle |nᵀ(C cos + S sin)n| ≤ √((nᵀCn)² + (nᵀSn)²), and nᵀCn is at most the norm of C.
pub(super) fn largest(harmonic: &Harmonic, node: usize) -> f64 {
    const WEIGHTS: [f64; 6] = [1.0, 1.0, 1.0, 2.0, 2.0, 2.0];
    let c = &harmonic.stress[node];
    (0..6).map(|i| WEIGHTS[i] * (c[i] * c[i] + c[i + 6] * c[i + 6])).sum::<f64>().sqrt()
}

impl Courses {
    /// The six components of one node, in the order of [`Stress`].
    #[must_use]
    pub fn of(&self, column: usize) -> [&[f64]; 6] {
        self.components.each_ref().map(|component| {
            let angles = component.nrows();
            &component.as_slice()[column * angles..][..angles]
        })
    }

    /// Bounds of one node from what surely encloses its principal stresses at the course's angles.
    #[must_use]
    pub fn bounds(&self, column: usize) -> Bounds {
        let course = self.of(column);
        let mut enclosing = Enclosing::new(course[0].len());
        enclosing.fill(course);
        let mut bounds = Bounds { highest_mpa: f64::NEG_INFINITY, lowest_mpa: f64::INFINITY };
        for row in 0..course[0].len() {
            let [high, _, low] = enclosing.at(row);
            // Written so that what is not a number stays.
            if !(high <= bounds.highest_mpa || bounds.highest_mpa.is_nan()) {
                bounds.highest_mpa = high;
            }
            if !(low >= bounds.lowest_mpa || bounds.lowest_mpa.is_nan()) {
                bounds.lowest_mpa = low;
            }
        }
        bounds
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two nodes with harmonics 0, 1 and 3, all components different.
    fn harmonics() -> Vec<Harmonic> {
        let stress = |n: usize| {
            (0..2)
                .map(|node| std::array::from_fn(|i| ((7 * i + 3 * n + 5 * node) % 11) as f64 - 4.6))
                .collect::<Vec<[f64; 12]>>()
        };
        [0, 1, 3].map(|n| Harmonic { n, displacement: Vec::new(), stress: stress(n) }).to_vec()
    }

    #[test]
    fn courses_are_the_sum_of_the_harmonics() {
        let harmonics = harmonics();
        let turn = Turn::new(&harmonics, 16);
        let courses = turn.courses(&[1, 0]);
        for (column, node) in [(0, 1), (1, 0)] {
            for row in [0, 5, 11] {
                for component in 0..6 {
                    let exact: f64 = harmonics
                        .iter()
                        .map(|h| {
                            let (sin, cos) = (h.n as f64 * turn.theta(row)).sin_cos();
                            h.stress[node][component] * cos + h.stress[node][component + 6] * sin
                        })
                        .sum();
                    assert!((courses.of(column)[component][row] - exact).abs() < 1e-12);
                }
            }
        }
    }

    #[test]
    fn both_bounds_enclose_every_normal_stress() {
        let harmonics = harmonics();
        let turn = Turn::new(&harmonics, 90);
        let courses = turn.courses(&[0, 1]);
        for node in 0..2 {
            let course = courses.of(node);
            let (near, far) = (courses.bounds(node), turn.reach(node));
            let stress = |row: usize| -> Stress { std::array::from_fn(|c| course[c][row]) };
            let values = || (0..90).map(|row| principal_values(&stress(row)));
            let top = values().map(|p| p[0]).fold(f64::MIN, f64::max);
            let low = values().map(|p| p[2]).fold(f64::MAX, f64::min);
            assert!(near.highest_mpa >= top && near.lowest_mpa <= low);
            assert!(far.highest_mpa >= top && far.lowest_mpa <= low);
            // The near ones are near.
            assert!(near.highest_mpa < top + 0.1 * (top - low) && near.lowest_mpa > low - 0.1 * (top - low));
        }
    }

    #[test]
    fn what_is_not_a_number_shows_in_the_bounds() {
        let mut harmonics = harmonics();
        harmonics[1].stress[0][2] = f64::NAN;
        let turn = Turn::new(&harmonics, 24);
        let bounds = turn.courses(&[0]).bounds(0);
        assert!(bounds.highest_mpa.is_nan() && turn.reach(0).highest_mpa.is_nan());
    }
}
