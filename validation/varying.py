"""A wheel whose wall varies around it, as true 3-D elasticity: no two sectors are alike.

A core that was shifted when the wheel was cast moves the underside and its fillets sideways: their
radius is the mean one plus e·cos(theta − theta_s). Nodes are moved so, sector by sector, blended to
nothing below the grooves and half way down the web. Every cell that moved is assembled in its own
place, and the equations of the whole wheel are solved by conjugate gradients; the axisymmetric ring of
the mean wall is only the preconditioner. Units: mm, N, MPa, rad.
"""

import numpy as np
from scipy.sparse import coo_matrix


class Blend:
    """How far the underside's shift reaches into the section, by radius: none, all, all, none."""

    def __init__(self, *radii):
        self.radii = radii

    def share(self, r):
        return np.interp(r, self.radii, [0.0, 1.0, 1.0, 0.0])


class Shifted:
    """The wheel with its thinnest wall at theta = 0, over the ring of the mean wall."""

    def __init__(self, ring, blend, shift_mm, factors=None):
        self.ring, self.shift_mm = ring, shift_mm
        self.blended = blend.share(ring.r)
        moves = (self.blended[ring.nodes] > 0.0).any(axis=1)
        self.moved, still = np.flatnonzero(moves), np.flatnonzero(~moves)
        count = 3 * len(ring.r)
        unknowns = (3 * ring.nodes[:, :, None] + np.arange(3)).reshape(-1, 81)
        rows = np.repeat(unknowns[still], 81, axis=1).ravel()
        columns = np.tile(unknowns[still], 81).ravel()
        self.still = coo_matrix((ring.cells[still].ravel(), (rows, columns)), shape=(count, count)).tocsr()
        self.unknowns = unknowns[self.moved]
        spots = np.arange(self.unknowns.size)
        ones = np.ones(self.unknowns.size)
        self.gather = coo_matrix((ones, (self.unknowns.ravel(), spots)), shape=(count, len(ones))).tocsr()
        self.cells = [ring.iron.stiffness(self.coords(s)[self.moved]) for s in range(ring.sectors)]
        self.factors = factors or []

    def radius(self, sector):
        ring = self.ring
        around = np.cos(ring.theta + sector * ring.step)
        return ring.r + self.shift_mm * around * self.blended

    def coords(self, sector):
        return self.ring.coords(self.radius(sector))

    def product(self, u):
        """Stiffness of the whole wheel times u (sector, own unknown, case)."""
        ring, answer = self.ring, np.zeros_like(u)
        plane = np.repeat(ring.plane, 3)
        place = (3 * ring.place[:, None] + np.arange(3)).ravel()
        last, own = np.flatnonzero(plane == 2), np.flatnonzero(plane < 2)
        for sector in range(ring.sectors):
            following = (sector + 1) % ring.sectors
            whole = u[sector][place]
            whole[last] = u[following][place[last]]
            push = self.cells[sector] @ whole[self.unknowns]
            force = self.still @ whole + self.gather @ push.reshape(-1, u.shape[2])
            # Within each of the two groups no unknown stands twice.
            answer[sector][place[own]] += force[own]
            answer[following][place[last]] += force[last]
        held = np.ones(u.shape[1], bool)
        held[ring.free] = False
        answer[:, held] = 0.0
        return answer

    def precondition(self, rest):
        """The solution of the mean wall's ring under `rest`."""
        ring = self.ring
        if not self.factors:
            ring.prepare()
            self.factors = [ring.factored(mode)[1:] for mode in range(ring.sectors // 2 + 1)]
        spectrum = np.fft.rfft(rest, axis=0)
        answer = np.zeros_like(spectrum)
        cases = rest.shape[2]
        for mode, (factor, phase) in enumerate(self.factors):
            force = spectrum[mode, ring.free] * phase.conj()[:, None]
            both = factor.solve(np.hstack([force.real, force.imag]))
            answer[mode, ring.free] = phase[:, None] * (both[:, :cases] + 1j * both[:, cases:])
        return np.fft.irfft(answer, n=ring.sectors, axis=0)

    def solve(self, loads, residual=1e-8, most=60):
        """Displacements (sector, own unknown, case) under loads of that shape, and the steps taken."""

        def dot(a, b):
            return np.einsum("suc,suc->c", a, b)

        held = np.ones(loads.shape[1], bool)
        held[self.ring.free] = False
        rest = loads.copy()
        rest[:, held] = 0.0
        size = np.sqrt(dot(rest, rest))
        u, along = np.zeros_like(loads), np.zeros_like(loads)
        former = np.ones(loads.shape[2])
        for step in range(most):
            if (np.sqrt(dot(rest, rest)) <= residual * size).all():
                return u, step
            better = self.precondition(rest)
            now = dot(rest, better)
            along = better + (now / former if step else 0.0) * along
            push = self.product(along)
            length = now / dot(along, push)
            u += length * along
            rest -= length * push
            former = now
        raise SystemExit("the wheel with the varying wall did not settle")
