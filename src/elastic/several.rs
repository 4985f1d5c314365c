//! Several harmonics at once: packed side by side, factored, solved, and turned into stresses in vector lanes.

use super::element::SAMPLES;
use super::harmonic::{Analysis, Outcome, RESIDUAL};
use super::lanes::{Bundle, Recover, Scratch, Sums, multiply, sums};
use super::system::Workspace;
use super::{Balance, ElasticFault, Family, Harmonic};
use crate::seeded::{Fault, planted};
use tracing::info_span;

/// What one harmonic asks for.
struct Ask {
    n: usize,
    /// Per case and family the share of every right-hand side.
    shares: Vec<[Vec<f64>; 2]>,
    /// Per case the size of every right-hand side's share, whatever cancels in it.
    sizes: Vec<Vec<f64>>,
}

/// A group of harmonics at work.
struct Group<'a> {
    asks: &'a [Ask],
    lanes: usize,
    n_of: &'a [f64],
}

impl Analysis<'_> {
    /// Solves several harmonics at once that hold the same unknowns.
    ///
    /// # Errors
    /// As [`Analysis::harmonic`].
    pub fn several(
        &self,
        harmonics: &[usize],
        bundle: &mut Bundle,
        workspace: &mut Workspace,
    ) -> Result<Vec<Outcome>, ElasticFault> {
        let cases = &self.model.cases;
        let mut outcomes = Vec::new();
        let mut asks = Vec::new();
        for n in harmonics {
            let shares: Vec<_> = cases.iter().map(|case| self.shares(case, *n)).collect();
            if shares.iter().flatten().flatten().all(|share| *share == 0.0) {
                outcomes.push(self.nothing(*n));
            } else {
                let sizes = cases.iter().map(|case| self.share_sizes(case, *n)).collect();
                asks.push(Ask { n: *n, shares, sizes });
            }
        }
        let (Some(structure), Some(last)) = (self.pattern.structure(), asks.len().checked_sub(1)) else {
            return Ok(outcomes);
        };
        let lanes = bundle.lanes();
        // Lanes without a harmonic of their own repeat the last one.
        let n_of: Vec<f64> = (0..lanes).map(|lane| asks[lane.min(last)].n as f64).collect();
        let group = Group { asks: &asks, lanes, n_of: &n_of };
        let mut scratch = std::mem::take(&mut bundle.scratch);
        std::mem::swap(&mut bundle.scratch.values, &mut scratch.values);
        let sides = self.pack(&group, &mut scratch);

        let factoring = info_span!("factors, and solutions downwards").entered();
        let pattern = (&self.assembled.columns[..], &self.assembled.rows[..]);
        let factored =
            bundle.factor(structure, pattern, (&self.restrained, &n_of), (&mut scratch.right, sides));
        factored.map_err(|fault| ElasticFault::Factor {
            n: n_of[fault.lane] as usize,
            reason: "it is not positive definite".into(),
        })?;
        drop(factoring);
        info_span!("solutions upwards").in_scope(|| bundle.finish(structure, &mut scratch.right, sides));
        let products = info_span!("residuals").entered();
        scratch.product.sized(scratch.right.len());
        multiply(pattern, &self.assembled.parts, &n_of, (&scratch.right, sides), &mut scratch.product);
        drop(products);

        let mut solved: Vec<Outcome> = asks.iter().map(|ask| self.nothing(ask.n)).collect();
        let mut again = vec![false; asks.len()];
        for case in 0..cases.len() {
            let judged = self.settle(&group, case, sides, &mut scratch)?;
            for (lane, outcome) in solved.iter_mut().enumerate() {
                let (balance, gap) = &judged[lane];
                outcome.residual = outcome.residual.max(*gap);
                again[lane] |= *gap > RESIDUAL;
                outcome.balance[case] = *balance;
                self.scale(&asks[lane], case, outcome);
            }
            let fields = self.fields(&group, case, sides, &mut scratch);
            for ((outcome, field), ask) in solved.iter_mut().zip(fields).zip(&asks) {
                let idle = ask.shares[case].iter().flatten().all(|share| *share == 0.0);
                outcome.fields[case] = (!idle).then_some(field);
            }
        }
        std::mem::swap(&mut bundle.scratch.values, &mut scratch.values);
        bundle.scratch = scratch;
        for (outcome, again) in solved.into_iter().zip(again) {
            // By itself the harmonic gets a step of refinement.
            outcomes.push(if again { self.harmonic(outcome.n, workspace)? } else { outcome });
        }
        Ok(outcomes)
    }

    /// Right-hand sides of all lanes; returns how many there are. Few cases are solved as they stand, many
    /// share the solutions of their patterns. The forces are kept beside them.
    fn pack(&self, group: &Group, scratch: &mut Scratch) -> usize {
        let (lanes, last) = (group.lanes, group.asks.len() - 1);
        let direct = self.is_direct();
        let sides = if direct { 2 * self.model.cases.len() } else { self.sides.len() };
        let right = scratch.right.cleared(self.assembled.unknowns() * sides * lanes);
        for loaded in self.loaded.iter().filter(|loaded| !self.held[loaded.row]) {
            let at = |side: usize| (loaded.row * sides + side) * lanes;
            for lane in 0..lanes {
                if !direct {
                    for (side, own) in self.sides.iter().enumerate() {
                        right[at(side) + lane] = own.force[loaded.row];
                    }
                    continue;
                }
                for (case, families) in group.asks[lane.min(last)].shares.iter().enumerate() {
                    for (family, shares) in families.iter().enumerate() {
                        right[at(2 * case + family) + lane] = self.force(shares, loaded.row);
                    }
                }
            }
        }
        scratch.force.sized(scratch.right.len());
        scratch.force.copy_from_slice(&scratch.right);
        sides
    }

    /// One unknown's force: the sum of the shares of all right-hand sides.
    fn force(&self, shares: &[f64], row: usize) -> f64 {
        self.sides.iter().zip(shares).map(|(side, share)| share * side.force[row]).sum()
    }

    /// Brings one case's displacements, forces and products to the front of the buffers, family by family, and
    /// gives for every lane its balance and relative residual.
    fn settle(
        &self,
        group: &Group,
        case: usize,
        sides: usize,
        scratch: &mut Scratch,
    ) -> Result<Vec<(Balance, f64)>, ElasticFault> {
        let (lanes, last) = (group.lanes, group.asks.len() - 1);
        let alone = self.is_direct() && sides == 2;
        if !alone {
            let Scratch { right, product, own: [u, inner], .. } = scratch;
            for (from, to) in [(&*right, u), (&*product, inner)] {
                let to = to.cleared(2 * self.assembled.unknowns() * lanes);
                for family in 0..2 {
                    let shares = |lane: usize| &group.asks[lane.min(last)].shares[case][family];
                    for (row, from) in from.chunks_exact(sides * lanes).enumerate() {
                        let to = &mut to[(2 * row + family) * lanes..][..lanes];
                        if self.is_direct() {
                            to.copy_from_slice(&from[(2 * case + family) * lanes..][..lanes]);
                            continue;
                        }
                        for (lane, to) in to.iter_mut().enumerate() {
                            let own = shares(lane).iter().enumerate();
                            *to = own.map(|(side, share)| share * from[side * lanes + lane]).sum();
                        }
                    }
                }
            }
            let force = scratch.force.cleared(2 * self.assembled.unknowns() * lanes);
            for loaded in self.loaded.iter().filter(|loaded| !self.held[loaded.row]) {
                for lane in 0..lanes {
                    for (family, shares) in group.asks[lane.min(last)].shares[case].iter().enumerate() {
                        force[(2 * loaded.row + family) * lanes + lane] = self.force(shares, loaded.row);
                    }
                }
            }
        }
        let Scratch { right, product, own, .. } = &*scratch;
        let (u, inner) = if alone { (right, product) } else { (&own[0], &own[1]) };
        let added = sums(lanes, u, inner, &scratch.force, &self.held);
        (0..=last).map(|lane| self.judge(&group.asks[lane], case, lane, lanes, &added, u, inner)).collect()
    }

    /// Balance and relative residual of one lane.
    #[allow(clippy::too_many_arguments)]
    fn judge(
        &self,
        ask: &Ask,
        case: usize,
        lane: usize,
        lanes: usize,
        added: &[Sums; 2],
        u: &[f64],
        inner: &[f64],
    ) -> Result<(Balance, f64), ElasticFault> {
        let n = ask.n;
        let weight = if n == 0 { std::f64::consts::TAU } else { std::f64::consts::PI };
        let size = |row: usize| -> f64 {
            let parts = self.sides.iter().zip(&ask.sizes[case]);
            parts.map(|(side, size)| (size * side.force[row]).abs()).sum()
        };
        let free = self.loaded.iter().filter(|loaded| !self.held[loaded.row]);
        let load = free.map(|loaded| size(loaded.row).powi(2)).sum::<f64>();
        let (mut balance, mut worst) = (Balance::default(), 0.0f64);
        for (index, family) in [Family::Cosine, Family::Sine].into_iter().enumerate() {
            let shares = &ask.shares[case][index];
            if shares.iter().all(|share| *share == 0.0) {
                continue;
            }
            let Sums { energy, work, rest } = &added[index];
            balance.energy_nmm += 0.5 * weight * energy[lane];
            balance.work_nmm += 0.5 * weight * work[lane];
            if n < 2 {
                let force: Vec<f64> = (0..self.held.len()).map(|row| self.force(shares, row)).collect();
                let reaction = |row: usize| inner[(2 * row + index) * lanes + lane] - force[row];
                let reaction: Vec<f64> = (0..self.held.len())
                    .map(|row| if self.held[row] { reaction(row) } else { 0.0 })
                    .collect();
                balance.applied.add(self.mesh, self.assembled, n, family, &force);
                balance.reaction.add(self.mesh, self.assembled, n, family, &reaction);
            }
            let gap = if load > 0.0 { (rest[lane] / load).sqrt() } else { 0.0 };
            // The energy is a sum over all displacements: one that is not a number shows in it.
            if !(gap.is_finite() && energy[lane].is_finite()) {
                return Err(ElasticFault::NotFinite { n });
            }
            worst = worst.max(gap);
        }
        debug_assert_eq!(u.len(), inner.len());
        Ok((balance, worst))
    }

    /// Adds the sizes of one case's forces.
    fn scale(&self, ask: &Ask, case: usize, outcome: &mut Outcome) {
        let scale = &mut outcome.scale[case];
        for shares in &ask.shares[case] {
            for loaded in &self.loaded {
                scale.add_one(self.force(shares, loaded.row), loaded.reach_mm);
            }
        }
    }

    /// Displacements and stresses of one case's lanes as coefficients of cos nθ and sin nθ.
    fn fields(&self, group: &Group, case: usize, sides: usize, scratch: &mut Scratch) -> Vec<Harmonic> {
        let _span = info_span!("stresses").entered();
        let (lanes, nodes) = (group.lanes, self.mesh.nodes.len());
        let alone = self.is_direct() && sides == 2;
        debug_assert!(case < self.model.cases.len());
        let Scratch { right, own: [own, _], samples, nodal, .. } = scratch;
        let u: &[f64] = if alone { right } else { own };
        let samples = samples.sized(12 * SAMPLES.len() * self.mesh.triangles.len() * lanes);
        let nodal = nodal.sized(12 * nodes * lanes);
        let d = self.model.iron.stiffness();
        let lame = [d[0][1], d[3][3]];
        let (spots, recovery, rows) = (&self.spots, self.recovery, &self.rows);
        Recover { rows, spots, recovery, lame, n_of: group.n_of, u, samples, nodal }.run();
        let mut list: Vec<Harmonic> = group
            .asks
            .iter()
            .map(|ask| Harmonic {
                n: ask.n,
                displacement: vec![[0.0; 6]; nodes],
                stress: vec![[0.0; 12]; nodes],
            })
            .collect();
        // v and the shears with θ run as sin nθ in the cosine family and as −cos nθ in the sine family.
        const CROSSED: [bool; 3] = [false, true, false];
        const CROSSED_STRESS: [bool; 6] = [false, false, false, true, true, false];
        for node in 0..nodes {
            let first = self.assembled.unknown(node, 0);
            let (u, stress) = (&u[2 * first * lanes..], &nodal[12 * node * lanes..]);
            for c in 0..3 {
                for (lane, harmonic) in list.iter_mut().enumerate() {
                    let [cosine, sine] = [0, 1].map(|family| u[(2 * c + family) * lanes + lane]);
                    let (even, odd) = if CROSSED[c] { (-sine, cosine) } else { (cosine, sine) };
                    harmonic.displacement[node][c] = even;
                    harmonic.displacement[node][3 + c] = odd;
                }
            }
            for c in 0..6 {
                let to = if planted(Fault::SwappedShears) { [0, 1, 2, 5, 4, 3][c] } else { c };
                for (lane, harmonic) in list.iter_mut().enumerate() {
                    let [cosine, sine] = [0, 1].map(|family| stress[(2 * c + family) * lanes + lane]);
                    let (even, odd) = if CROSSED_STRESS[to] { (-sine, cosine) } else { (cosine, sine) };
                    harmonic.stress[node][to] = even;
                    harmonic.stress[node][6 + to] = odd;
                }
            }
        }
        list
    }
}
