"""Quadrilaterals in a section of lines and arcs, for the outside checks.

Own sampling, scipy's Delaunay triangulation, and a split of every triangle into three quadrilaterals:
nothing is shared with rimproof. Lengths in mm, points (r, z).
"""

import numpy as np
from scipy.spatial import Delaunay, cKDTree

from outline import Arc

# Sides grow by this share of the distance from a refined place.
GROWTH = 0.35


class Sizes:
    """Wanted side of a triangle: `largest`, and smaller around the given places [(point, side)]."""

    def __init__(self, largest, places=()):
        self.largest, self.places = largest, places

    def at(self, points):
        points = np.asarray(points, float)
        size = np.full(points.shape[:-1], float(self.largest))
        for place, side in self.places:
            size = np.minimum(size, side + GROWTH * np.linalg.norm(points - np.asarray(place), axis=-1))
        return size


def inside(polygon, points):
    """Even-odd rule by a ray along +r."""
    a, b = polygon, np.roll(polygon, -1, axis=0)
    r, z = points[:, 0, None], points[:, 1, None]
    crosses = (a[:, 1] > z) != (b[:, 1] > z)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] + (z - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return (np.count_nonzero(crosses & (r < at), axis=1) % 2).astype(bool)


def boundary_distance(polygon, points):
    a, run = polygon, np.roll(polygon, -1, axis=0) - polygon
    arm = points[:, None] - a
    share = np.clip((arm * run).sum(-1) / (run * run).sum(-1), 0.0, 1.0)
    return np.linalg.norm(arm - share[..., None] * run, axis=-1).min(axis=1)


def triangles_in(polygon, points):
    triangles = Delaunay(points).simplices
    triangles = triangles[inside(polygon, points[triangles].mean(axis=1))]
    edges = {tuple(sorted(pair)) for t in triangles for pair in zip(t, np.roll(t, -1))}
    count = len(polygon)
    lost = [i for i in range(count) if tuple(sorted((i, (i + 1) % count))) not in edges]
    if lost:
        places = ", ".join(f"({polygon[i][0]:.2f}, {polygon[i][1]:.2f})" for i in lost)
        raise SystemExit(f"the check's own mesh lost boundary edges at {places}; change its size")
    return triangles


def sampled(edge, sizes):
    """Start and inner points of an edge, their spacing following the sizes."""
    t = np.linspace(0.0, 1.0, 201)
    density = edge.length() / sizes.at(edge.at(t))
    total = np.concatenate([[0.0], np.cumsum(0.5 * (density[1:] + density[:-1]) * np.diff(t))])
    count = max(2, int(np.ceil(total[-1] - 1e-9)))
    if isinstance(edge, Arc):
        count = max(count, int(np.ceil(abs(edge.sweep) / 0.45)))
    return edge.at(np.interp(np.arange(count) / count * total[-1], total, t))


def filled(polygon, sizes):
    """Points inside the polygon: lattices of halved spacing, each where its spacing is wanted."""
    finest = min([sizes.largest, *(side for _, side in sizes.places)])
    kept, random = [], np.random.default_rng(1)
    levels = int(np.ceil(np.log2(sizes.largest / finest))) + 1
    # From the finest lattice to the coarsest, each where its spacing is the wanted one.
    for level in range(levels - 1, -1, -1):
        step = sizes.largest * 0.5**level
        low, high = polygon.min(axis=0), polygon.max(axis=0)
        rows = np.arange(low[1], high[1], step * np.sqrt(0.75))
        lattice = np.concatenate(
            [
                [(r + 0.5 * step * (row % 2), z) for r in np.arange(low[0], high[0], step)]
                for row, z in enumerate(rows)
            ]
        )
        wanted = sizes.at(lattice)
        own = (wanted <= step * 1.415) & ((wanted > step * 0.7072) | (level == levels - 1))
        lattice, wanted = lattice[own], wanted[own]
        if len(lattice) == 0:
            continue
        own = inside(polygon, lattice)
        lattice, wanted = lattice[own], wanted[own]
        own = boundary_distance(polygon, lattice) > 0.6 * wanted
        lattice, wanted = lattice[own], wanted[own]
        # A regular lattice leaves Delaunay's choices to the last bit, which differs between machines.
        lattice = lattice + 0.04 * step * random.uniform(-1.0, 1.0, lattice.shape)
        if len(lattice) and kept:
            gap, _ = cKDTree(np.array(kept)).query(lattice)
            lattice = lattice[gap > 0.75 * wanted]
        kept.extend(lattice)
    return np.array(kept)


def quadrilaterals(outline, sizes):
    """Points, counter-clockwise quadrilaterals of about half the wanted side, and curved mid-edge points.

    The last is a list of pairs: chord middle of a quadrilateral's side, place on the arc.
    """
    polygon = np.concatenate([sampled(edge, sizes) for edge in outline])
    points = np.concatenate([polygon, filled(polygon, sizes)])
    for _ in range(12):
        triangles = triangles_in(polygon, points)
        sums, counts = np.zeros_like(points), np.zeros(len(points))
        for i, j in ((0, 1), (1, 2), (2, 0)):
            for a, b in ((i, j), (j, i)):
                # A near neighbour counts for more, so that fine places stay fine.
                pull = 1.0 / sizes.at(0.5 * (points[triangles[:, a]] + points[triangles[:, b]]))
                np.add.at(sums, triangles[:, a], pull[:, None] * points[triangles[:, b]])
                np.add.at(counts, triangles[:, a], pull)
        # Rounded, so that the last bit of a sum never grows into another mesh.
        points[len(polygon) :] = np.round((sums / counts[:, None])[len(polygon) :], 7)
    return split(outline, points, triangles_in(polygon, points))


def split(outline, points, triangles):
    arcs = [edge for edge in outline if isinstance(edge, Arc)]
    a, b, c = points[triangles].transpose(1, 0, 2)
    turned = (b - a)[:, 0] * (c - a)[:, 1] - (b - a)[:, 1] * (c - a)[:, 0] < 0
    triangles[turned] = triangles[turned][:, ::-1]
    pairs = np.sort(np.concatenate([triangles[:, [0, 1]], triangles[:, [1, 2]], triangles[:, [2, 0]]]), axis=1)
    edges, back, uses = np.unique(pairs, axis=0, return_inverse=True, return_counts=True)
    middles = points[edges].mean(axis=1)
    outer = uses == 1
    for arc in arcs:
        on = outer & arc.holds(points[edges[:, 0]]) & arc.holds(points[edges[:, 1]])
        middles[on] = arc.pulled(middles[on])
    m01, m12, m20 = back.reshape(3, -1) + len(points)
    centre = len(points) + len(middles) + np.arange(len(triangles))
    places = np.concatenate([points, middles, points[triangles].mean(axis=1)])
    v0, v1, v2 = triangles.T
    quads = np.concatenate(
        [np.stack(q, axis=1) for q in ((v0, m01, centre, m20), (v1, m12, centre, m01), (v2, m20, centre, m12))]
    )
    curved = []
    for arc in arcs:
        for edge in np.flatnonzero(outer & arc.holds(points[edges[:, 0]]) & arc.holds(points[edges[:, 1]])):
            for end in edges[edge]:
                chord = 0.5 * (places[end] + middles[edge])
                curved.append((chord, arc.pulled(chord[None])[0]))
    return places, quads, curved
