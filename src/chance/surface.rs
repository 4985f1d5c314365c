//! A response surface: a polynomial fitted to a designed set of results, with its own leave-out error.

use nalgebra::{DMatrix, DVector};
use thiserror::Error;

/// A polynomial of several coordinates.
#[derive(Debug, Clone, PartialEq)]
pub struct Surface {
    /// Per term the power of every coordinate.
    terms: Vec<Vec<i32>>,
    coefficients: Vec<f64>,
    /// Root of the mean square of what every point is missed by when the surface is fitted without it: the PRESS
    /// residual e/(1 − h) of Allen, Technometrics 16 (1974) 125.
    pub left_out: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum SurfaceFault {
    #[error("{points} results do not determine a surface of {terms} terms")]
    TooFew { points: usize, terms: usize },
    #[error("the results leave some term of the surface undetermined")]
    Undetermined,
}

/// The powers of a polynomial: every coordinate up to its own highest power (0 leaves it out), and the products of
/// any two that take part.
#[must_use]
pub fn monomials(highest: &[i32]) -> Vec<Vec<i32>> {
    let none = vec![0; highest.len()];
    let with = |powers: &[(usize, i32)]| {
        let mut term = none.clone();
        powers.iter().for_each(|(at, power)| term[*at] = *power);
        term
    };
    let mut terms = vec![none.clone()];
    for (at, most) in highest.iter().enumerate() {
        terms.extend((1..=*most).map(|power| with(&[(at, power)])));
        let others = (at + 1..highest.len()).filter(|other| *most > 0 && highest[*other] > 0);
        terms.extend(others.map(|other| with(&[(at, 1), (other, 1)])));
    }
    terms
}

impl Surface {
    /// The same value everywhere.
    #[must_use]
    pub fn level(value: f64, coordinates: usize) -> Self {
        Self { terms: vec![vec![0; coordinates]], coefficients: vec![value], left_out: 0.0 }
    }

    /// Least squares through `points` with their `values`; coordinates should be of size one.
    ///
    /// # Errors
    /// When the points leave some term undetermined.
    pub fn fit(terms: Vec<Vec<i32>>, points: &[Vec<f64>], values: &[f64]) -> Result<Self, SurfaceFault> {
        let (rows, columns) = (points.len(), terms.len());
        // Without a spare point nothing tells how good the fit is.
        if rows <= columns {
            return Err(SurfaceFault::TooFew { points: rows, terms: columns });
        }
        let design = DMatrix::from_fn(rows, columns, |row, column| product(&terms[column], &points[row]));
        let wanted = DVector::from_column_slice(values);
        let qr = design.clone().qr();
        let (q, r) = (qr.q(), qr.r());
        let largest = r.diagonal().amax();
        if !(r.diagonal().iter().all(|pivot| pivot.abs() > 1e-9 * largest)) {
            return Err(SurfaceFault::Undetermined);
        }
        let solved = r.solve_upper_triangular(&(q.transpose() * &wanted));
        let solved = solved.ok_or(SurfaceFault::Undetermined)?;
        let residuals = &wanted - design * &solved;
        let mut squares = 0.0;
        for row in 0..rows {
            let leverage = q.row(row).norm_squared();
            // A point that alone determines a term cannot be left out.
            if 1.0 - leverage < 1e-9 {
                return Err(SurfaceFault::Undetermined);
            }
            squares += (residuals[row] / (1.0 - leverage)).powi(2);
        }
        let left_out = (squares / rows as f64).sqrt();
        Ok(Self { terms, coefficients: solved.iter().copied().collect(), left_out })
    }

    /// The surface's value at a point.
    #[must_use]
    pub fn at(&self, point: &[f64]) -> f64 {
        self.terms.iter().zip(&self.coefficients).map(|(term, c)| c * product(term, point)).sum()
    }
}

fn product(term: &[i32], point: &[f64]) -> f64 {
    term.iter().zip(point).map(|(power, x)| if *power == 0 { 1.0 } else { x.powi(*power) }).product()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grid() -> Vec<Vec<f64>> {
        let levels = [-1.0, -0.4, 0.3, 1.0];
        levels.iter().flat_map(|x| levels.iter().map(|y| vec![*x, *y])).collect()
    }

    #[test]
    fn a_polynomial_of_its_own_kind_is_found_again() {
        let exact = |p: &[f64]| 1.0 - 2.0 * p[0] + 0.5 * p[0].powi(3) + 3.0 * p[1].powi(2) - p[0] * p[1];
        let points = grid();
        let values: Vec<f64> = points.iter().map(|p| exact(p)).collect();
        let surface = Surface::fit(monomials(&[3, 2]), &points, &values).unwrap();
        for p in [[0.1, 0.2], [-0.9, 0.7]] {
            assert!((surface.at(&p) - exact(&p)).abs() < 1e-12);
        }
        assert!(surface.left_out < 1e-12);
    }

    /// Leaving every point out in turn and fitting again must give what the leverage says.
    #[test]
    fn the_leave_out_error_is_that_of_fitting_again() {
        let points = grid();
        let values: Vec<f64> = points.iter().map(|p| (1.3 * p[0] - 0.8 * p[1]).exp()).collect();
        let terms = monomials(&[2, 1]);
        let whole = Surface::fit(terms.clone(), &points, &values).unwrap();
        let mut squares = 0.0;
        for left in 0..points.len() {
            let keep = |i: &usize| *i != left;
            let rest: Vec<Vec<f64>> = (0..points.len()).filter(keep).map(|i| points[i].clone()).collect();
            let rest_values: Vec<f64> = (0..points.len()).filter(keep).map(|i| values[i]).collect();
            let fitted = Surface::fit(terms.clone(), &rest, &rest_values).unwrap();
            squares += (fitted.at(&points[left]) - values[left]).powi(2);
        }
        let again = (squares / points.len() as f64).sqrt();
        assert!(again > 0.01 && (whole.left_out / again - 1.0).abs() < 1e-9, "{again} {}", whole.left_out);
    }

    #[test]
    fn what_the_points_leave_open_is_refused() {
        let points: Vec<Vec<f64>> = (0..9).map(|i| vec![f64::from(i) / 8.0, 0.5]).collect();
        let values = vec![1.0; 9];
        assert_eq!(Surface::fit(monomials(&[1, 1]), &points, &values), Err(SurfaceFault::Undetermined));
        let few = Surface::fit(monomials(&[3, 3]), &points[..4], &values[..4]);
        assert!(matches!(few, Err(SurfaceFault::TooFew { .. })));
        assert_eq!(monomials(&[3, 0, 1]).len(), 1 + 3 + 1 + 1);
    }
}
