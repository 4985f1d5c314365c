"""Elasticity of a body of revolution, harmonic by harmonic, on curved triangles of scikit-fem.

Own weak form, from the strains in cylindrical coordinates with the cosine family

    u = U cos n0, w = W cos n0, v = V sin n0        (0 the angle; U, V, W radial, circumferential, axial)
    e_rr = U,r   e_tt = (U + n V)/r   e_zz = W,z
    g_rt = V,r - V/r - n U/r          g_tz = V,z - n W/r          g_rz = U,z + W,r

and the sine family u = U sin n0, w = W sin n0, v = -V cos n0, which has the same amplitudes of strain.
scikit-fem gives shape functions, quadrature, mapping and numbering; scipy the direct solver. Units: mm, N, MPa, rad.
"""

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu
from skfem import CellBasis, ElementTriP3, MeshTri1, MeshTri2
from skfem.assembly import Dofs

import rope_load
from outline import Arc
from section_mesh import Sizes, triangulated

ELEMENT = ElementTriP3()
# The corners of a cell that its three edges join, and where they stand in the cell.
JOINED = ((0, 1), (1, 2), (0, 2))
CORNERS = np.array([[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]])
WITHIN = np.vstack([CORNERS, 0.5 * (CORNERS + np.roll(CORNERS, 1, axis=0))]).T
# Largest residual of a solution, as a share of its load.
RESIDUAL = 1e-9
# How much of a seat's pressure may push along the shaft: more is not a symmetric seat.
SYMMETRIC = 1e-4
# The deliberate faults of the self-test: see `Section.strains`.
FAULTS = ("V in the hoop strain without n", "stiffness without r", "shear without V/r")


def elasticity(young, poisson):
    """Stress from strain in the order rr, tt, zz, rt, tz, rz."""
    lame, shear = young * poisson / ((1 + poisson) * (1 - 2 * poisson)), young / (2 * (1 + poisson))
    d = np.zeros((6, 6))
    d[:3, :3] = lame
    d[range(3), range(3)] += 2 * shear
    d[range(3, 6), range(3, 6)] = shear
    return d


def curved(model, sizes):
    """The mesh of a model's section, its boundary edges bent onto their arcs."""
    loops = [[edge for _, edge in loop] for loop in model.loops]
    points, triangles = triangulated(loops, sizes)
    mesh = MeshTri2.from_mesh(MeshTri1(points.T.copy(), np.sort(triangles, axis=1).T.copy()))
    facets = mesh.boundary_facets()
    ends = mesh.p[:, mesh.facets[:, facets]]
    middles = Dofs(mesh, mesh.elem()).facet_dofs[0, facets]
    places = mesh.doflocs.copy()
    for _, edge in model.edges():
        if isinstance(edge, Arc):
            on = edge.holds(ends[:, 0].T) & edge.holds(ends[:, 1].T)
            places[:, middles[on]] = edge.pulled(places[:, middles[on]].T).T
    mesh = MeshTri2(places, mesh.t)
    turns = np.sign(mesh.mapping().detDF(WITHIN))
    if not (turns == turns[:, :1]).all():
        raise SystemExit("the check's own mesh is folded at an arc; change its size")
    return mesh


class Section:
    """A model's section on one mesh, ready to be solved for any harmonic."""

    def __init__(self, model, sizes, fault=None):
        self.model, self.fault, self.mesh = model, fault, curved(model, sizes)
        self.d = elasticity(model.young_mpa, model.poisson)
        self.cells = CellBasis(self.mesh, ELEMENT)
        # Three unknowns to a node, those of a cell node by node.
        self.unknowns = (3 * self.cells.element_dofs.T[:, :, None] + np.arange(3)).reshape(self.mesh.nelements, -1)
        self.count = 3 * self.cells.N
        self.stiffness()
        self.loads = [self.load(rope) for rope in model.ropes]

    def strains(self, fields, r):
        """Strains (cell, point, 6, unknown) as B0 + n B1, from shape functions at points of radius r."""
        value, by_r, by_z = fields
        over_r = value / r[..., None]
        b0, b1 = np.zeros((2, *value.shape[:2], 6, value.shape[2], 3))
        b0[..., 0, :, 0] = by_r
        b0[..., 1, :, 0] = over_r
        b1[..., 1, :, 1] = over_r
        b0[..., 2, :, 2] = by_z
        b0[..., 3, :, 1] = by_r - over_r
        b1[..., 3, :, 0] = -over_r
        b0[..., 4, :, 1] = by_z
        b1[..., 4, :, 2] = -over_r
        b0[..., 5, :, 0] = by_z
        b0[..., 5, :, 2] = by_r
        if self.fault == FAULTS[0]:
            b0[..., 1, :, 1], b1[..., 1, :, 1] = over_r, 0.0
        if self.fault == FAULTS[2]:
            b0[..., 3, :, 1] = by_r
        return b0.reshape(*value.shape[:2], 6, -1), b1.reshape(*value.shape[:2], 6, -1)

    def stiffness(self):
        """The three parts of K0 + n K1 + n2 K2, as values in one pattern of the free unknowns."""
        r = self.cells.global_coordinates().value[0]
        parts = self.strains(fields_of(self.cells), r)
        volume = self.cells.dx * (1.0 if self.fault == FAULTS[1] else r)
        pushed = [np.einsum("ij,eqjk,eq->eqik", self.d, b, volume) for b in parts]

        def product(a, b):
            cells, unknowns = len(volume), parts[0].shape[-1]
            left, right = parts[a].reshape(cells, -1, unknowns), pushed[b].reshape(cells, -1, unknowns)
            return np.swapaxes(left, 1, 2) @ right

        mixed = product(0, 1)
        products = product(0, 0), mixed + np.swapaxes(mixed, 1, 2), product(1, 1)
        held = np.zeros(self.count, bool)
        held[(3 * self.on_edges(self.model.held_tags)[:, None] + np.arange(3)).ravel()] = True
        self.free = np.flatnonzero(~held)
        place = np.full(self.count, -1)
        place[self.free] = np.arange(len(self.free))
        width = self.unknowns.shape[1]
        rows = np.repeat(place[self.unknowns], width, axis=1).ravel()
        columns = np.tile(place[self.unknowns], width).ravel()
        kept = (rows >= 0) & (columns >= 0)
        size = len(self.free)
        keys, slot = np.unique(columns[kept] * size + rows[kept], return_inverse=True)
        self.indices, self.indptr = keys % size, np.searchsorted(keys, np.arange(size + 1) * size)
        self.parts = [np.bincount(slot, p.ravel()[kept], len(keys)) for p in products]

    def on_edges(self, tags):
        """Nodes of the basis on edges with one of the tags."""
        facets = self.facets_on(self.model.edges_with(tags))
        return self.cells.get_dofs(facets=facets).flatten()

    def facets_on(self, edges):
        facets = self.mesh.boundary_facets()
        a, b = np.swapaxes(self.mesh.p[:, self.mesh.facets[:, facets]], 0, 1)
        on = np.zeros(len(facets), bool)
        for edge in edges:
            on |= edge.holds(a.T) & edge.holds(b.T)
        return facets[on]

    def load(self, rope):
        """Forces (unknown, 2) of a rope's pressure that bears 1 N per radian, and of a drag whose moment is the
        moment radius times 1 N per radian."""
        x, w = np.polynomial.legendre.leggauss(8)
        edges = Edges(self, self.facets_on(self.model.edges_with(rope.tags)), 0.5 + 0.5 * x)
        r, z = edges.at[..., 0], edges.at[..., 1]
        weight = 0.5 * w * np.linalg.norm(edges.run, axis=-1) * r
        into = edges.into()
        share = rope_load.share(rope, r, z)
        bearing, aside = np.sum(share * weight * -into[0]), np.sum(share * weight * into[1])
        if abs(aside) > SYMMETRIC * bearing:
            raise SystemExit(f"the seat {rope.tags} is not symmetric: its pressure law is not known here")
        push = share * weight / bearing
        pull = weight * share * rope.moment_r / np.sum(weight * share * r)
        forces = np.zeros((self.cells.N, 3, 2))
        for component, case, part in ((0, 0, push * into[0]), (2, 0, push * into[1]), (1, 1, pull)):
            nodal = np.einsum("eqi,eq->ei", edges.fields[0], part)
            np.add.at(forces[:, component, case], edges.nodes, nodal)
        return forces.reshape(-1, 2)

    def solve(self, n, courses):
        """Amplitudes (unknown, family) of harmonic n; cosine family first. `courses`: of every rope (a, b, c, d),
        its tension a cos + b sin and its drag c cos + d sin."""
        force = np.zeros((self.count, 2))
        for load, (a, b, c, d) in zip(self.loads, courses):
            force += load @ np.array([[a, b], [d, -c]])
        data = self.parts[0] + n * self.parts[1] + n * n * self.parts[2]
        matrix = csc_matrix((data, self.indices, self.indptr), shape=(len(self.free),) * 2)
        factor = splu(matrix, permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True})
        force = force[self.free]
        u = factor.solve(force)
        rest = np.linalg.norm(matrix @ u - force)
        if not rest <= RESIDUAL * np.linalg.norm(force):
            raise SystemExit(f"harmonic {n}: residual {rest}")
        whole = np.zeros((self.count, 2))
        whole[self.free] = u
        return whole


def fields_of(basis):
    """Shape functions (cell, point, function) of a basis, and their slopes along r and z."""
    fields = [field[0] for field in basis.basis]
    by_r, by_z = (np.stack([field.grad[axis] for field in fields], axis=-1) for axis in (0, 1))
    return np.stack([field.value for field in fields], axis=-1), by_r, by_z


class Edges:
    """Outline edges with points at the given shares of their length: places (edge, point, 2), `run` along the edge,
    shape functions, nodes and unknowns of the cells, and the two vertices."""

    def __init__(self, section, facets, along):
        mesh, parts = section.mesh, []
        for local, (a, b) in enumerate(JOINED):
            chosen = facets[mesh.t2f[local, mesh.f2t[0, facets]] == facets]
            cells = mesh.f2t[0, chosen]
            if len(cells) == 0:
                continue
            within = (CORNERS[a] + np.multiply.outer(along, CORNERS[b] - CORNERS[a])).T
            basis = CellBasis(mesh, ELEMENT, elements=cells, quadrature=(within, np.ones(len(along))))
            run = np.einsum("ijeq,j->eqi", basis.mapping.DF(within, tind=cells), CORNERS[b] - CORNERS[a])
            at = np.moveaxis(basis.global_coordinates().value, 0, -1)
            nodes = section.cells.element_dofs[:, cells].T
            # The body lies to the left of an edge that runs as its cell turns.
            left = np.sign(basis.mapping.detDF(within, tind=cells)) * (1 if b == a + 1 else -1)
            parts.append((at, run, left, *fields_of(basis), nodes, mesh.t[[a, b]][:, cells].T, cells))
        self.at, self.run, self.left, *self.fields, self.nodes, self.vertices, cells = map(np.concatenate, zip(*parts))
        self.unknowns = section.unknowns[cells]

    def into(self):
        """Unit normals (2, edge, point) into the body."""
        normal = np.stack([-self.run[..., 1], self.run[..., 0]])
        return self.left * normal / np.linalg.norm(normal, axis=0)


class Course:
    """One rope's tension and drag over the angle, and their Fourier coefficients by Gauss quadrature."""

    def __init__(self, rope, most):
        half, middle = np.radians(0.5 * rope.wrap_deg), np.radians(rope.middle_deg)
        self.first, self.last, self.heavy = middle - half, middle + half, rope.heavy_n
        self.decay = np.log(rope.heavy_n / rope.light_n) / (2 * half)
        self.run_in, self.most = rope.run_in_rad, most

    def tension(self, angle):
        inside = (angle >= self.first) & (angle <= self.last)
        return np.where(inside, self.heavy * np.exp(-self.decay * (angle - self.first)), 0.0)

    def points(self, ends):
        """Points and weights between the ends, fine enough for the highest harmonic."""
        x, w = np.polynomial.legendre.leggauss(8)
        cuts = np.concatenate(
            [np.linspace(a, b, 2 + int((b - a) * self.most))[:-1] for a, b in zip(ends, ends[1:])] + [[ends[-1]]]
        )
        half = 0.5 * np.diff(cuts)
        return (cuts[:-1] + half + np.multiply.outer(x, half)).ravel(), np.multiply.outer(w, half).ravel()

    def spread(self, angle):
        """The tension's mean over the run-in about an angle: each jump becomes a ramp of that length."""
        x, w = np.polynomial.legendre.leggauss(8)
        low = np.maximum(angle - 0.5 * self.run_in, self.first)
        half = 0.5 * (np.minimum(angle + 0.5 * self.run_in, self.last) - low)
        return sum(wi * half * self.tension(low + (1 + xi) * half) for xi, wi in zip(x, w)) / self.run_in

    def coefficients(self):
        """(harmonic, 4): tension a cos + b sin, drag c cos + d sin. The run-in leaves harmonics 0 and 1 as they are,
        so that force and moment stay exact."""
        found = np.zeros((self.most + 1, 4))
        r = self.run_in
        ends = [self.first - r / 2, self.first + r / 2, self.last - r / 2, self.last + r / 2]
        for course, cuts, harmonics in (
            (self.tension, [self.first, self.last], (0, 1)),
            (self.spread, ends, range(2, self.most + 1)),
        ):
            angle, weight = self.points(cuts)
            value = weight * course(angle) / np.pi
            for n in harmonics:
                scale = 0.5 if n == 0 else 1.0
                found[n, :2] = scale * np.sum(value * np.cos(n * angle)), scale * np.sum(value * np.sin(n * angle))
        # The drag is the slope of the tension, which falls exponentially.
        found[:, 2:] = -self.decay * found[:, :2]
        return found
