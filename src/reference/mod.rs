//! Closed-form solutions of elasticity, ropes and shafts, as tested functions with their sources.
//!
//! Owns formulas that tests, the manual and outside checks share. It knows no finite elements, no
//! survey and no report. Units: mm, N, MPa (N/mm²), rad; densities in kg/m³ and speeds in m/s where
//! a name says so. Tension is positive. Functions assume positive lengths and moduli and do not
//! check them: the callers are tests and checks with known input.

pub mod annulus;
pub mod compare;
pub mod corner;
pub mod cylinder;
pub mod disc;
pub mod half_plane;
pub mod heat;
pub mod notch;
pub mod plate;
pub mod ring;
pub mod rope;
pub mod seat;
pub mod shaft;
pub mod spoked_rim;
pub mod tube;
