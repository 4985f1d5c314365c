//! Points along the outline, as close as the size field asks.

use super::sizing::{Field, Sizing};
use crate::geometry::{Edge, Outline, Point};

/// A point of the outline: which edge it lies on and at which share of that edge's length.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sample {
    pub at: Point,
    pub loop_no: usize,
    pub edge_no: usize,
    pub share: f64,
}

/// Samples of every loop in order; each edge contributes its start but not its end.
pub(super) fn sample(outline: &Outline, field: &Field, sizing: &Sizing) -> Vec<Vec<Sample>> {
    let mut loops = Vec::with_capacity(outline.loops.len());
    for (loop_no, edges) in outline.loops.iter().enumerate() {
        let mut samples = Vec::new();
        for (edge_no, edge) in edges.iter().enumerate() {
            for share in shares(edge, field, sizing.step_rad(edge)) {
                samples.push(Sample { at: edge.at(share), loop_no, edge_no, share });
            }
        }
        loops.push(samples);
    }
    loops
}

/// Shares that split the edge into pieces of equal ∫ ds/h.
fn shares(edge: &Edge, field: &Field, step_rad: f64) -> Vec<f64> {
    const STATIONS: usize = 64;
    let length = edge.length();
    let mut sums = vec![0.0];
    for i in 0..STATIONS {
        let middle = (i as f64 + 0.5) / STATIONS as f64;
        sums.push(sums[i] + length / STATIONS as f64 / field.at(edge.at(middle)));
    }
    let total = sums[STATIONS];
    let by_arc = edge.radius().map_or(1.0, |radius| (length / radius / step_rad).ceil());
    let pieces = total.ceil().max(by_arc).max(1.0) as usize;
    let mut shares = vec![0.0];
    for piece in 1..pieces {
        let wanted = total * piece as f64 / pieces as f64;
        let i = sums.partition_point(|s| *s < wanted).clamp(1, STATIONS);
        let within = (wanted - sums[i - 1]) / (sums[i] - sums[i - 1]);
        shares.push((i as f64 - 1.0 + within) / STATIONS as f64);
    }
    shares
}
