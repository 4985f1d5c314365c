"""The wheel with the shifted core as it turns under its ropes, against walls that are alike all round.

Units: mm, N, MPa, degrees.
"""

import copy

import numpy as np

import rope_load
from compare import PEAK, counts, ring_of, searched
from surface import highest
from varying import Blend, Shifted
from wheels import Mesh, round_wheel

SHIFT_MM = 2.5
MESH = Mesh(4.4, 1.6, 72)
FINE_MESH = Mesh(3.4, 1.3, 90)
# Where the thin spot stands, from the middle of the wrap: every 30 degrees, and half of that on the
# heavy side, where the highest of all is found.
PLACES_DEG = (*range(-180, -90, 30), *range(-90, 0, 15), *range(0, 180, 30))
RESIDUAL = 1e-8
# Without a shift the preconditioner is the matrix itself, whose factors leave 1e-8 at most: one step.
# Twice the residual that both may leave, times the few that lie between a residual and its answer.
SAME = 1e-7


def mean_wheel():
    return round_wheel()


def alike(change_mm):
    """The wheel with an underside that is further out all round, without probes."""
    wheel = round_wheel(mean_wheel().shape["radius of the underside"] + change_mm)
    wheel.places = {}
    return wheel


class Independent:
    """Peaks on one mesh: of the mean wall, of the thinnest wall all round, of the wheel as it turns."""

    def __init__(self, mesh=MESH):
        wheel = mean_wheel()
        under, fillet = wheel.shape["radius of the underside"], wheel.shape["fillet radius"]
        land = min(rope.seat_r for rope in wheel.ropes)
        # The moved part ends 1 mm below the grooves and two fillets down the web.
        blend = Blend(under - 3 * fillet, under - fillet, under, land - 1.0)
        ring = ring_of(wheel, mesh)
        loads = rope_load.forces(ring, wheel)
        u = ring.solve(loads)
        self.mean = self.peak(ring, wheel, u)
        thin = ring_of(wheel, mesh, lambda r, z: SHIFT_MM * blend.share(r))
        self.thin = self.peak(thin, wheel, thin.solve(loads))
        plain = Shifted(ring, blend, 0.0)
        again, self.plain_steps = plain.solve(loads[:, :, None], RESIDUAL)
        self.plain_gap = np.abs(again[:, :, 0] - u).max() / np.abs(u).max()
        shifted = Shifted(ring, blend, SHIFT_MM, plain.factors)
        turned = [np.roll(loads, -round(np.radians(a) / ring.step), axis=0) for a in PLACES_DEG]
        answers, self.steps = shifted.solve(np.stack(turned, axis=2), RESIDUAL)
        self.turns = []
        for case, angle in enumerate(PLACES_DEG):
            peak = self.peak(ring, wheel, answers[:, :, case], shifted.coords, angle)
            self.turns.append((angle, peak))
        self.unknowns, self.sectors = len(ring.free) * mesh.sectors, mesh.sectors
        self.hexahedra, self.moved = (n * mesh.sectors for n in (len(ring.nodes), len(shifted.moved)))

    def peak(self, ring, wheel, u, coords=None, thin_deg=0.0):
        """The highest tension, its angle counted from the middle of the wrap."""
        surface = searched(ring, wheel)
        peak = highest(surface, surface.stresses(u, coords), counts(wheel, thin_deg))
        peak = copy.copy(peak)
        peak.theta_deg = (peak.theta_deg + thin_deg + 180.0) % 360.0 - 180.0
        return peak


class Turning:
    """The independent wheel against rimproof's two wheels of equal wall; `misses` as in a comparison."""

    def __init__(self, mean, thin, independent):
        self.mean, self.thin, self.independent, self.misses = mean, thin, independent, []
        self.worst_deg, self.worst = max(independent.turns, key=lambda turn: turn[1].value)
        self.mean_gap = mean.peak.value / independent.mean.value - 1.0
        self.thin_gap = thin.peak.value / independent.thin.value - 1.0
        self.thin_ratio = thin.peak.value / self.worst.value
        self.own_ratio = independent.thin.value / self.worst.value
        self.mean_ratio = mean.peak.value / self.worst.value
        self.need(independent.plain_gap <= SAME, f"without a shift {independent.plain_gap:.1e} from the ring")
        self.need(abs(self.mean_gap) <= PEAK, f"mean wall all round: {self.mean_gap:.2%} apart")
        self.need(abs(self.thin_gap) <= PEAK, f"thinnest wall all round: {self.thin_gap:.2%} apart")
        # What the check relies on: the thinnest wall all round is not below the true wheel's highest
        # tension by more than the two sides' own errors, which the two lines above hold under PEAK.
        self.need(self.thin_ratio >= 1.0 - PEAK, f"thinnest wall all round over true: {self.thin_ratio:.3f}")
        values = [peak.value for _, peak in independent.turns]
        self.need(np.isfinite(values).all(), "a tension is not a number")

    def need(self, holds, what):
        if not holds:
            self.misses.append(f"varying wall: {what}")
