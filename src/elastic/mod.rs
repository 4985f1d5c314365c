//! Linear elasticity of a body of revolution under loads that vary around it.
//!
//! The load is expanded in θ (Wilson 1965; Zienkiewicz & Taylor, The Finite Element Method, chapter on
//! semi-analytical processes): u = Σ u_n cos nθ + ū_n sin nθ, w likewise, v = Σ v_n sin nθ − v̄_n cos nθ.
//! For an isotropic body the harmonics and the two families decouple and share one matrix K_n.
//!
//! Owns the model, its discretisation, the harmonic solution, stress recovery, the search for the
//! highest tension, and the balance of forces. Knows nothing of grooves, surveys or verdicts.
//!
//! Frame: cylindrical (r, θ, z). Displacements (u, v, w) are radial, circumferential, axial.
//! Stress order everywhere: rr, θθ, zz, rθ, θz, rz, tension positive. Units: mm, N, MPa, rad.

mod along;
mod around;
mod assembly;
mod balance;
mod connectivity;
mod desks;
mod direct;
mod element;
mod enclosing;
mod energy;
mod estimate;
mod export;
mod fault;
mod growth;
mod harmonic;
mod lanes;
mod loads;
mod model;
mod peak;
mod polynomial;
mod principal;
mod recovery;
mod region;
mod response;
mod restraint;
mod several;
mod sides;
mod singular;
mod solution;
mod solve;
mod system;
mod tensor;
mod turn;
mod waves;

pub use along::Along;
pub use around::{Around, Fourier, Stretch};
pub use balance::{Balance, Resultant};
pub use connectivity::Connectivity;
pub use direct::TwoStresses;
pub use energy::EnergyError;
pub use estimate::Resolution;
pub use export::{Equations, Size, Solved};
pub use fault::ElasticFault;
pub use growth::{Faces, Growth, GrowthStep, Singular, free_exponent, growth, held_exponent, singular_sizes};
pub use model::{Case, Field, Hold, Iron, Law, Model, Pattern, Support, Term};
pub use peak::{Hit, KEPT_SHARE, Peak, PeakSearch, Score};
pub use polynomial::Polynomial;
pub use principal::{Principal, principal, principal_values};
pub use region::{Exclusion, Region};
pub use response::Response;
pub use solution::{Cost, Family, Harmonic, Solution};
pub use solve::{BlockStep, Options, solve, solve_alike, solve_on};
pub use tensor::{Stress, to_cartesian};
pub use turn::{Bounds, Courses, Turn};

#[cfg(test)]
mod tests;
