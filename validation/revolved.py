"""A body of revolution as plain 3-D elasticity: a ring of equal sectors of 27-node hexahedra.

One sector is meshed and assembled in Cartesian coordinates. Because every sector is the same body
turned, the equations of the whole ring split exactly into one small system per discrete Fourier mode
of the sectors (a block-circulant matrix); no harmonic of the load is ever written down. Units: mm, N,
MPa, rad.
"""

import logging

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from scipy.spatial import cKDTree
from skfem import MeshHex, MeshHex2

from hexahedra import CORNERS, PLACES, Iron, axes_at, shapes

# The library remarks on the memory order of large arrays; nothing depends on it.
logging.getLogger("skfem").setLevel(logging.ERROR)

# Cells whose stresses are fitted at a place inside, about ten points to a coefficient; those at
# the patch's edge weigh exp(-TRUST) of those at the place.
PATCH, TRUST = 12, 3.0


class Ring:
    """`sectors` equal sectors over the section's quadrilaterals, held where `held(r, z)` says so.

    `shift(r, z)` moves the nodes outward after meshing, nothing where it is absent.
    """

    def __init__(self, section, sectors, young_mpa, poisson, held, shift=None):
        self.sectors, self.step = sectors, 2 * np.pi / sectors
        self.iron = Iron(young_mpa, poisson)
        self.mesh_sector(*section)
        if shift is not None:
            self.r = self.r + shift(self.r, self.z)
        self.number_nodes()
        self.cells = self.iron.stiffness(self.coords())
        self.free = np.flatnonzero(~np.repeat(held(*self.section[self.node_section[self.own]].T), 3))

    def mesh_sector(self, places, quads, curved):
        count = len(places)
        low = np.column_stack([places[:, 0], np.zeros(count), places[:, 1]])
        high = low + [0.0, self.step, 0.0]
        a, b, c, d = quads.T
        flat = (a, a + count, b, d, b + count, d + count, c, c + count)
        mesh = MeshHex2.from_mesh(MeshHex(np.concatenate([low, high]).T, np.stack(flat)))
        self.nodes = mesh.dofs.element_dofs.T
        r, theta, z = mesh.doflocs.copy()
        chords, arcs = (np.array(side) for side in zip(*curved))
        gap, near = cKDTree(chords).query(np.column_stack([r, z]))
        pulled = gap < 1e-9
        r[pulled], z[pulled] = arcs[near[pulled]].T
        self.r, self.theta, self.z = r, theta, z

    def number_nodes(self):
        """Each node's place in the section and its plane, and which nodes the sector owns."""
        plane = np.rint(2 * self.theta / self.step).astype(int)
        assert np.abs(self.theta - 0.5 * plane * self.step).max() < 1e-9
        flat = np.column_stack([self.r, self.z])
        self.section = flat[plane == 0]
        gap, self.node_section = cKDTree(self.section).query(flat)
        # Nodes on the middle of a curved side and of a face are placed by their cells: all planes alike.
        assert gap.max() < 1e-8 and (np.bincount(self.node_section) == 3).all()
        self.plane, self.own = plane, np.flatnonzero(plane < 2)
        index = np.full((3, len(self.section)), -1)
        index[plane[self.own], self.node_section[self.own]] = np.arange(len(self.own))
        index[2] = index[0]
        self.place = index[plane, self.node_section]

    def coords(self, r=None):
        """Cartesian places (cell, 27, 3) of the cells' nodes, with other radii of the nodes if given."""
        r = self.r if r is None else r
        return np.stack([r * np.cos(self.theta), r * np.sin(self.theta), self.z], axis=1)[self.nodes]

    def unknowns(self):
        """Of every cell, which of the sector's own unknowns its 81 are, before the last plane's turn."""
        return (3 * self.place[self.nodes][:, :, None] + np.arange(3)).reshape(len(self.nodes), 81)

    def prepare(self):
        """Parts of the modes' matrices.

        In mode m an unknown is a real number times exp(i·m·θ of its plane), and i more where it is
        circumferential: that makes the matrices real, because a sector is its own mirror image.
        """
        unknowns, size = self.unknowns(), 3 * len(self.own)
        plane = np.repeat(self.plane[self.nodes], 3, axis=1)
        around = np.tile(np.arange(3) == 1, 27).astype(int)
        apart = plane[:, None, :] - plane[:, :, None]
        kind = np.broadcast_to(around[None, :] - around[:, None], apart.shape)
        rows = np.broadcast_to(unknowns[:, :, None], apart.shape).ravel()
        columns = np.broadcast_to(unknowns[:, None, :], apart.shape).ravel()
        lookup = np.full(size, -1)
        lookup[self.free] = np.arange(len(self.free))
        rows, columns = lookup[rows], lookup[columns]
        kept = (rows >= 0) & (columns >= 0)
        count = len(self.free)
        keys, slot = np.unique(columns[kept] * count + rows[kept], return_inverse=True)
        self.indices, starts = keys % count, np.arange(count + 1) * count
        self.indptr = np.searchsorted(keys, starts)
        apart, kind, values = apart.ravel()[kept], kind.ravel()[kept], self.cells.ravel()[kept]
        self.parts = {}
        for steps in range(3):
            for odd in (False, True) if steps else (False,):
                chosen = (np.abs(apart) == steps) & ((kind != 0) == odd)
                sign = -kind[chosen] * np.sign(apart[chosen]) if odd else 1.0
                sums = np.bincount(slot[chosen], values[chosen] * sign, minlength=len(keys))
                self.parts[steps, odd] = sums
        gauge = np.where(np.arange(3) == 1, 1j, 1.0)
        self.gauge = np.tile(gauge, len(self.own))[self.free]
        self.free_theta = np.repeat(self.theta[self.own], 3)[self.free]

    def factored(self, mode):
        """The mode's matrix, its factor, and the phases of its unknowns."""
        data = sum(
            part * (np.sin if odd else np.cos)(0.5 * steps * mode * self.step)
            for (steps, odd), part in self.parts.items()
        )
        matrix = csc_matrix((data, self.indices, self.indptr), shape=(len(self.free),) * 2)
        factor = splu(
            matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
        )
        return matrix, factor, self.gauge * np.exp(1j * mode * self.free_theta)

    def solve(self, loads):
        """Displacements (sector, own unknown) in cylindrical components under loads of the same shape."""
        self.prepare()
        spectrum = np.fft.rfft(loads, axis=0)
        answer = np.zeros_like(spectrum)
        for mode in range(len(spectrum)):
            matrix, factor, phase = self.factored(mode)
            force = spectrum[mode, self.free] * phase.conj()
            force = np.column_stack([force.real, force.imag])
            u = factor.solve(force)
            u += factor.solve(force - matrix @ u)
            rest = np.linalg.norm(matrix @ u - force)
            assert rest <= 1e-8 * max(np.linalg.norm(force), 1e-300), f"mode {mode}: residual {rest}"
            answer[mode, self.free] = phase * (u[:, 0] + 1j * u[:, 1])
        return np.fft.irfft(answer, n=self.sectors, axis=0)

    def whole(self, u, sector):
        """All nodes' displacements (node, 3) of a sector, from the own unknowns of all sectors."""
        own, following = u[sector].reshape(-1, 3), u[(sector + 1) % self.sectors].reshape(-1, 3)
        return np.where((self.plane == 2)[:, None], following[self.place], own[self.place])

    def traction(self, edge, value):
        """Loads (own unknown) of a sector and of its last plane, which the next sector owns.

        value(r, theta, z) gives cylindrical components (MPa) on the faces over the section's edge.
        """
        points, weights = np.polynomial.legendre.leggauss(5)
        points, weights = 0.5 + 0.5 * points, 0.5 * weights
        s, t = (a.ravel() for a in np.meshgrid(points, points))
        weights = np.outer(weights, weights).ravel()
        coords = self.coords()
        loaded = edge.holds(self.section[self.node_section])[self.nodes]
        forces = np.zeros((len(self.plane), 3))
        for axis in range(3):
            others = [other for other in range(3) if other != axis]
            for side in (0.0, 1.0):
                on_face = PLACES[:, axis] == side
                cells = np.flatnonzero(loaded[:, on_face].all(axis=1))
                if len(cells) == 0:
                    continue
                natural = np.full((3, len(weights)), side)
                natural[others] = s, t
                values, local = shapes(natural)
                at = values @ coords[cells]
                along = np.swapaxes(coords[cells], 1, 2)[:, None] @ local[:, :, others]
                area = np.linalg.norm(np.cross(along[..., 0], along[..., 1]), axis=-1) * weights
                theta = np.arctan2(at[..., 1], at[..., 0])
                push = value(np.hypot(at[..., 0], at[..., 1]), theta, at[..., 2])
                cartesian = (axes_at(at) @ np.moveaxis(push, 0, -1)[..., None])[..., 0]
                share = np.einsum("qi,eqa,eq->eia", values, cartesian, area)
                np.add.at(forces, self.nodes[cells], share)
        turned = np.stack([self.r * np.cos(self.theta), self.r * np.sin(self.theta), self.z], axis=1)
        forces = (np.swapaxes(axes_at(turned), 1, 2) @ forces[..., None])[..., 0]
        own, last = np.zeros((2, len(self.own), 3))
        for into, chosen in ((own, self.plane < 2), (last, self.plane == 2)):
            np.add.at(into, self.place[chosen], forces[chosen])
        return own.ravel(), last.ravel()

    def at(self, u, point, theta):
        """Displacement and stress tensor in cylindrical components at a point (r, z), at theta.

        The stress is a polynomial's, quadratic in the section and linear around, that fits the stresses
        at the Barlow points of the nearest cells, the nearer the better (after Zienkiewicz and Zhu 1992).
        """
        sector = int(np.floor(theta / self.step))
        local = theta - self.step * sector
        where = np.array([point[0] * np.cos(local), point[0] * np.sin(local), point[1]])
        cell, natural = self.find(where)
        coords, whole = self.coords(), self.whole(u, sector % self.sectors)[self.nodes]
        cartesian = (axes_at(coords[cell]) @ whole[cell][..., None])[..., 0]
        shift = axes_at(where).T @ (shapes(natural)[0][0] @ cartesian)
        near = np.linalg.norm(coords[:, : len(CORNERS)].mean(axis=1) - where, axis=1).argsort()[:PATCH]
        places, stress = self.iron.stress(coords[near], whole[near])
        r = (np.hypot(places[..., 0], places[..., 1]) - point[0]).ravel()
        z = (places[..., 2] - point[1]).ravel()
        around = np.arctan2(places[..., 1], places[..., 0]).ravel() - local
        terms = np.stack([np.ones_like(r), r, z, r * r, r * z, z * z, around, around * r, around * z], axis=1)
        distance = np.hypot(r, z)
        trust = np.exp(-TRUST * (distance / distance.max()) ** 2)[:, None]
        fit, *_ = np.linalg.lstsq(trust * terms, trust * stress.reshape(-1, 9), rcond=None)
        return shift, fit[0].reshape(3, 3)

    def find(self, where):
        coords = self.coords()
        middles = coords[:, : len(CORNERS)].mean(axis=1)
        for cell in np.linalg.norm(middles - where, axis=1).argsort()[:12]:
            natural = np.full((3, 1), 0.5)
            for _ in range(20):
                values, local = shapes(natural)
                step = np.linalg.solve(coords[cell].T @ local[0], where - values[0] @ coords[cell])
                natural = natural + step[:, None]
                if np.abs(step).max() < 1e-11 or np.abs(natural).max() > 3.0:
                    break
            if np.abs(natural - 0.5).max() < 0.5 + 1e-6:
                return cell, natural
        raise SystemExit(f"the check's own mesh has no cell at {where}")
