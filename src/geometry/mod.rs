//! Plane geometry of a meridian section: points, straight and circular edges, closed outlines.
//!
//! Owns the shapes and every reason an outline is invalid; knows nothing of sheaves or of elements.
//! Frame: r is the distance from the shaft's axis, z runs along the shaft, both in mm. Seen with r to
//! the right and z upwards, an outer loop runs counter-clockwise and a hole clockwise, so the body
//! always lies to the left of an edge.

mod edge;
mod fillet;
mod fit;
mod intersect;
mod outline;
mod point;

pub use edge::{Curve, Edge};
pub use fillet::{FilletFault, round_corner};
pub use fit::{fit_profile, simplify};
pub use outline::{Outline, OutlineFault};
pub use point::Point;
