//! What a survey knows of the ropes besides their tensions.

use serde::Serialize;

/// What the rope-life factor needs besides the sheave itself.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize)]
pub struct RopeFacts {
    /// Pulleys that bend the ropes in the same sense as their neighbour.
    pub simple_bends: Option<u32>,
    /// Pulleys that bend them back.
    pub reversed_bends: Option<u32>,
    /// Mean pitch diameter of those pulleys.
    pub pulley_diameter_mm: Option<f64>,
    /// Minimum breaking force of one rope.
    pub breaking_force_n: Option<f64>,
}
