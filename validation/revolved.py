"""A body of revolution as plain 3-D elasticity on curved 27-node hexahedra, by scikit-fem.

One sector of the wheel is meshed and assembled in Cartesian coordinates. Because every sector is the
same body turned, the equations of the whole ring split exactly into one small complex system per
discrete Fourier mode of the sectors (a block-circulant matrix); no strain formula in cylindrical
coordinates and no harmonic of the load is ever written down. Units: mm, N, MPa, rad.
"""

import logging

import numpy as np
from scipy.sparse import block_diag, coo_matrix, csr_matrix
from scipy.sparse.linalg import splu
from scipy.spatial import cKDTree
from skfem import Basis, ElementHex1, ElementHex2, MeshHex, MeshHex2

# The library remarks on the memory order of large arrays; nothing depends on it.
logging.getLogger("skfem").setLevel(logging.ERROR)


def turn(theta):
    """Columns: the radial, circumferential and axial unit vectors at theta."""
    c, s, o, e = np.cos(theta), np.sin(theta), np.zeros_like(theta), np.ones_like(theta)
    return np.array([[c, -s, o], [s, c, o], [o, o, e]])


class Ring:
    """`sectors` equal sectors over the section's quadrilaterals."""

    def __init__(self, section, sectors, young_mpa, poisson):
        self.sectors, self.step = sectors, 2 * np.pi / sectors
        self.lame = young_mpa * poisson / (1 + poisson) / (1 - 2 * poisson)
        self.shear = young_mpa / 2 / (1 + poisson)
        self.mesh = self.sector_mesh(*section)
        self.basis = Basis(self.mesh, ElementHex2(), intorder=5)
        self.number_nodes()
        self.assemble()

    def sector_mesh(self, places, quads, curved):
        count = len(places)
        low = np.column_stack([places[:, 0], np.zeros(count), places[:, 1]])
        high = low + [0.0, self.step, 0.0]
        a, b, c, d = quads.T
        flat = (a, a + count, b, d, b + count, d + count, c, c + count)
        mesh = MeshHex2.from_mesh(MeshHex(np.concatenate([low, high]).T, np.stack(flat)))
        r, theta, z = mesh.doflocs.copy()
        chords, arcs = (np.array(side) for side in zip(*curved))
        gap, near = cKDTree(chords).query(np.column_stack([r, z]))
        pulled = gap < 1e-9
        r[pulled], z[pulled] = arcs[near[pulled]].T
        return MeshHex2(np.array([r * np.cos(theta), r * np.sin(theta), z]), mesh.t)

    def number_nodes(self):
        """Which nodes lie on the first, middle and last plane, and which of them the sector owns."""
        x, y, z = self.basis.doflocs
        self.node_r, self.node_theta, self.node_z = np.hypot(x, y), np.arctan2(y, x), z
        plane = np.rint(2 * self.node_theta / self.step).astype(int)
        assert np.abs(self.node_theta - 0.5 * plane * self.step).max() < 1e-9
        section = np.column_stack([self.node_r, z])
        first, last = np.flatnonzero(plane == 0), np.flatnonzero(plane == 2)
        gap, match = cKDTree(section[first]).query(section[last])
        assert gap.max() < 1e-8 and len(first) == len(last)
        self.own, self.is_last = np.flatnonzero(plane < 2), plane == 2
        self.place = np.full(len(plane), -1)
        self.place[self.own] = np.arange(len(self.own))
        self.place[last] = self.place[first[match]]

    def assemble(self):
        """The sector's stiffness: ∫ λ div u div v + 2 μ ε(u):ε(v), unknown 3·node + component."""
        slopes = np.array([field[0].grad for field in self.basis.basis])
        pairs = np.einsum("iaeq,jbeq,eq->eiajb", slopes, slopes, self.basis.dx, optimize=True)
        cells = self.lame * pairs + self.shear * pairs.transpose(0, 1, 4, 3, 2)
        along = self.shear * np.einsum("eiaja->eij", pairs)
        for a in range(3):
            cells[:, :, a, :, a] += along
        unknowns = 3 * self.basis.element_dofs.T[:, :, None] + np.arange(3)
        unknowns = unknowns.reshape(len(cells), -1)
        size = unknowns.shape[1]
        rows, columns = np.repeat(unknowns, size, axis=1), np.tile(unknowns, size)
        shape = (3 * self.basis.N,) * 2
        stiffness = coo_matrix((cells.ravel(), (rows.ravel(), columns.ravel())), shape=shape).tocsr()
        self.axes = block_diag(list(turn(self.node_theta).transpose(2, 0, 1)), format="csr")
        # Unknowns become radial, circumferential and axial, so that they agree between the sectors.
        self.stiffness = (self.axes.T @ stiffness @ self.axes).tocsr()

    def fold(self, mode):
        """The matrix that gives all unknowns of a sector from its own, in one Fourier mode."""
        nodes = np.arange(len(self.place))
        phase = np.where(self.is_last, np.exp(1j * mode * self.step), 1.0)
        rows = 3 * nodes[:, None] + np.arange(3)
        columns = 3 * self.place[:, None] + np.arange(3)
        values = np.repeat(phase, 3)
        shape = (3 * len(nodes), 3 * len(self.own))
        return csr_matrix((values, (rows.ravel(), columns.ravel())), shape=shape)

    def traction(self, on_face, value):
        """Nodal forces of a sector under value(r, theta, z) in cylindrical components (MPa).

        It acts on the faces of cells whose four corners all satisfy `on_face(points)`.
        """
        place, weight = np.polynomial.legendre.leggauss(5)
        place, weight = 0.5 + 0.5 * place, 0.5 * weight
        s, t = (a.ravel() for a in np.meshgrid(place, place))
        weights = np.outer(weight, weight).ravel()
        mapping, corners = self.mesh.mapping(), ElementHex1.doflocs.T
        loaded = on_face(self.mesh.p)[self.mesh.t]
        forces = np.zeros((self.basis.N, 3))
        for axis in range(3):
            others = [other for other in range(3) if other != axis]
            for side in (0.0, 1.0):
                cells = np.flatnonzero(loaded[corners[axis] == side].all(axis=0))
                if len(cells) == 0:
                    continue
                natural = np.full((3, len(weights)), side)
                natural[others] = s, t
                x, y, z = mapping.F(natural, tind=cells)
                along = mapping.DF(natural, tind=cells)[:, others]
                area = np.linalg.norm(np.cross(along[:, 0], along[:, 1], axis=0), axis=0) * weights
                theta = np.arctan2(y, x)
                push = np.einsum("ij...,j...->i...", turn(theta), value(np.hypot(x, y), theta, z))
                for i in range(self.basis.Nbfun):
                    shape = np.asarray(self.basis.elem.gbasis(mapping, natural, i, tind=cells)[0])
                    share = (push * shape * area).sum(axis=-1)
                    np.add.at(forces, self.basis.element_dofs[i, cells], share.T)
        return self.axes.T @ forces.ravel()

    def solve(self, loads, held):
        """Displacements (sector, unknown) in cylindrical components.

        `loads` has a row of nodal forces per sector; `held(r, z)` tells the nodes that do not move.
        """
        sectors, modes = self.sectors, self.sectors // 2 + 1
        spectrum = np.fft.fft(loads, axis=0)
        fixed = np.repeat(held(self.node_r[self.own], self.node_z[self.own]), 3)
        free = np.flatnonzero(~fixed)
        answer = np.zeros((modes, self.stiffness.shape[0]), complex)
        for mode in range(modes):
            fold = self.fold(mode)
            folded = (fold.getH() @ self.stiffness @ fold).tocsc()[free][:, free]
            factor = splu(
                folded.tocsc(),
                permc_spec="MMD_AT_PLUS_A",
                diag_pivot_thresh=0.0,
                options={"SymmetricMode": True},
            )
            force = (fold.getH() @ spectrum[mode])[free]
            u = factor.solve(force)
            u += factor.solve(force - folded @ u)
            rest = np.linalg.norm(folded @ u - force)
            assert rest <= 1e-8 * max(np.linalg.norm(force), 1e-300), f"mode {mode}: residual {rest}"
            whole = np.zeros(len(fixed), complex)
            whole[free] = u
            answer[mode] = fold @ whole
        return np.fft.irfft(answer, n=sectors, axis=0)

    def at(self, u, point, theta):
        """Displacement and stress tensor in cylindrical components at a point (r, z), at theta."""
        sector = int(np.floor(theta / self.step)) % self.sectors
        local = theta - self.step * np.floor(theta / self.step)
        where = np.array([point[0] * np.cos(local), point[0] * np.sin(local), point[1]])
        cell, natural = self.find(where)
        moved = (self.axes @ u[sector]).reshape(-1, 3)
        # Slopes are most exact at the 2·2·2 Gauss points of a cell (Barlow 1976), so the stress is taken
        # there and carried to the place by the trilinear field through those points.
        signs = ElementHex1.doflocs.T
        gauss = (0.5 + (signs - 0.5) / np.sqrt(3.0))[:, None]
        share = 0.5 + (natural[:, 0] - 0.5) * np.sqrt(3.0)
        weights = np.where(signs == 1.0, share, 1.0 - share).prod(axis=0)
        mapping, element = self.mesh.mapping(), self.basis.elem
        shift, slope = np.zeros(3), np.zeros((3, 3, 8))
        for i in range(self.basis.Nbfun):
            own = moved[self.basis.element_dofs[i, cell[0]]]
            shift += own * np.asarray(element.gbasis(mapping, natural, i, tind=cell)[0])[0, 0]
            slope += np.multiply.outer(own, element.gbasis(mapping, gauss, i, tind=cell)[0].grad[:, 0])
        x, y, _ = mapping.F(gauss, tind=cell)[:, 0]
        stress = np.zeros((3, 3))
        for point, weight in enumerate(weights):
            strain = 0.5 * (slope[..., point] + slope[..., point].T)
            cartesian = self.lame * np.trace(strain) * np.eye(3) + 2 * self.shear * strain
            axes = turn(np.arctan2(y[point], x[point]))
            stress += weight * (axes.T @ cartesian @ axes)
        return turn(np.array(local)).T @ shift, stress

    def find(self, where):
        mapping = self.mesh.mapping()
        middles = self.mesh.p[:, self.mesh.t].mean(axis=1)
        for cell in np.linalg.norm(middles.T - where, axis=1).argsort()[:12]:
            tind, natural = np.array([cell]), np.full((3, 1, 1), 0.5)
            for _ in range(20):
                gap = where[:, None, None] - mapping.F(natural, tind=tind)
                step = np.einsum("ijkl,jkl->ikl", mapping.invDF(natural, tind=tind), gap)
                natural = natural + step
                if np.abs(step).max() < 1e-11 or np.abs(natural).max() > 3.0:
                    break
            if np.abs(natural - 0.5).max() < 0.5 + 1e-6:
                return tind, natural
        raise SystemExit(f"the check's own mesh has no cell at {where}")
