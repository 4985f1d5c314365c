//! Which unknowns are held in a harmonic, and whether the body can still move as a whole.

use super::assembly::Assembled;
use super::{ElasticFault, Model};
use crate::mesh::Mesh;

/// Radius below which a node counts as lying on the shaft's axis (mm).
const ON_AXIS: f64 = 1e-9;

pub(super) struct Restraint<'a> {
    mesh: &'a Mesh,
    assembled: &'a Assembled,
    supported: Vec<bool>,
    on_axis: Vec<usize>,
}

/// A way the body can move without straining in one harmonic: its amplitudes at every unknown.
struct RigidMode {
    motion: &'static str,
    amplitude: Vec<f64>,
}

impl<'a> Restraint<'a> {
    pub fn new(mesh: &'a Mesh, assembled: &'a Assembled, model: &Model) -> Self {
        let mut supported = vec![false; assembled.unknowns()];
        for support in &model.supports {
            let nodes = mesh.tag_index(&support.tag).map(|tag| mesh.nodes_on(tag)).unwrap_or_default();
            for node in nodes {
                for (component, held) in support.hold.flags().into_iter().enumerate() {
                    supported[assembled.unknown(node, component)] |= held;
                }
            }
        }
        let on_axis = (0..mesh.nodes.len()).filter(|i| mesh.nodes[*i].r < ON_AXIS).collect();
        Self { mesh, assembled, supported, on_axis }
    }

    /// Nodes on the axis, where harmonic 1 ties u to −v.
    pub fn on_axis(&self) -> &[usize] {
        &self.on_axis
    }

    /// Held unknowns of harmonic `n`: supports, regularity on the axis, and a pin for every rigid
    /// motion that no support prevents and no load drives.
    ///
    /// `loads` are the case names with their nodal forces in this harmonic, and the sizes of the parts
    /// that were added up to them: forces that cancel leave rounding, not a push.
    ///
    /// # Errors
    /// When a load drives a rigid motion that no support prevents.
    pub fn held(&self, n: usize, loads: &[(&str, &[f64], &[f64])]) -> Result<Vec<bool>, ElasticFault> {
        let (mut held, mut free) = self.kept(n);
        for mode in &free {
            for (case, force, parts) in loads {
                let (mut work, mut scale, mut whole) = (0.0, 0.0, 0.0);
                for ((f, part), a) in force.iter().zip(*parts).zip(&mode.amplitude) {
                    work += f * a;
                    scale += (part * a).abs();
                    whole += part.abs();
                }
                // Next to the whole load a push along this motion may itself be rounding: the axial part of
                // a pressure on an edge that runs along the shaft.
                let reach = mode.amplitude.iter().fold(0.0f64, |m, a| m.max(a.abs()));
                if work.abs() > 1e-6 * scale && work.abs() > 1e-12 * whole * reach {
                    return Err(ElasticFault::Free { motion: mode.motion, case: (*case).to_owned() });
                }
            }
        }
        while let Some(mode) = free.first() {
            let largest = mode.amplitude.iter().enumerate().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()));
            let Some((pin, _)) = largest else { break };
            held[pin] = true;
            eliminate(&mut free, pin);
        }
        Ok(held)
    }

    /// Unknowns that supports and the axis hold in harmonic `n`, and the rigid motions that they leave.
    fn kept(&self, n: usize) -> (Vec<bool>, Vec<RigidMode>) {
        let mut held = self.supported.clone();
        for node in &self.on_axis {
            for (component, hold) in self.axis_rule(n).into_iter().enumerate() {
                held[self.assembled.unknown(*node, component)] |= hold;
            }
        }
        let mut free = self.modes(n);
        // Elimination: each held unknown that a combination of modes moves takes one mode away.
        for (unknown, _) in held.iter().enumerate().filter(|(_, held)| **held) {
            if free.is_empty() {
                break;
            }
            eliminate(&mut free, unknown);
        }
        (held, free)
    }

    /// The unknowns held in every harmonic from the returned one on: on the axis the first harmonics hold
    /// other ones, and where supports leave a rigid motion they need a pin.
    pub fn held_together(&self) -> (Vec<bool>, usize) {
        let held = self.kept(2).0;
        let alike = self.on_axis.is_empty() && [0, 1].iter().all(|n| self.kept(*n).1.is_empty());
        (held, if alike { 0 } else { 2 })
    }

    /// Components that vanish on the axis (Zienkiewicz & Taylor): u, v for n = 0; w for n = 1; all above.
    fn axis_rule(&self, n: usize) -> [bool; 3] {
        match n {
            0 => [true, true, false],
            1 => [false, false, true],
            _ => [true; 3],
        }
    }

    fn modes(&self, n: usize) -> Vec<RigidMode> {
        let mode = |motion, shape: fn(r: f64, z: f64) -> [f64; 3]| {
            let mut amplitude = vec![0.0; self.assembled.unknowns()];
            for (node, p) in self.mesh.nodes.iter().enumerate() {
                for (component, value) in shape(p.r, p.z).into_iter().enumerate() {
                    amplitude[self.assembled.unknown(node, component)] = value;
                }
            }
            RigidMode { motion, amplitude }
        };
        match n {
            0 => vec![
                mode("move along the shaft", |_, _| [0.0, 0.0, 1.0]),
                mode("turn about the shaft", |r, _| [0.0, r, 0.0]),
            ],
            1 => vec![mode("move sideways", |_, _| [1.0, -1.0, 0.0]), mode("tilt", |r, z| [-z, z, r])],
            _ => Vec::new(),
        }
    }
}

/// Removes the one mode that moves `unknown` most, and frees the others from moving it.
fn eliminate(modes: &mut Vec<RigidMode>, unknown: usize) {
    let pivot = modes
        .iter()
        .enumerate()
        .max_by(|a, b| a.1.amplitude[unknown].abs().total_cmp(&b.1.amplitude[unknown].abs()))
        .map(|(index, mode)| (index, mode.amplitude[unknown]));
    let Some((index, value)) = pivot else { return };
    let scale = modes[index].amplitude.iter().fold(0.0f64, |m, a| m.max(a.abs()));
    if value.abs() < 1e-9 * scale {
        return;
    }
    let taken = modes.swap_remove(index);
    for mode in modes.iter_mut() {
        let share = mode.amplitude[unknown] / value;
        for (a, b) in mode.amplitude.iter_mut().zip(&taken.amplitude) {
            *a -= share * b;
        }
    }
}
