"""Triangles or quadrilaterals in a section of lines and arcs, for the outside checks.

Own sampling, scipy's Delaunay triangulation, and where wanted a split of every triangle into three
quadrilaterals: nothing is shared with rimproof. Lengths in mm, points (r, z).
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

    def within(self, size, low, high):
        """The corners of a box, between `low` and `high`, outside of which no wanted side is as small as `size`."""
        if size >= self.largest:
            return low, high
        reach = [((size - side) / GROWTH, np.asarray(place)) for place, side in self.places if side <= size]
        if not reach:
            return high, low
        return np.min([p - d for d, p in reach], axis=0), np.max([p + d for d, p in reach], axis=0)


class Polygon:
    """The sampled boundary of a section: one or more closed loops, each a list of edges."""

    def __init__(self, loops, sizes):
        pieces = [np.concatenate([sampled(edge, sizes) for edge in edges]) for edges in loops]
        self.points = np.concatenate(pieces)
        self.ends = np.concatenate([np.roll(piece, -1, axis=0) for piece in pieces])
        starts = np.cumsum([0, *(len(piece) for piece in pieces)])
        self.pairs = np.concatenate(
            [np.stack([np.arange(a, b), np.roll(np.arange(a, b), -1)], axis=1) for a, b in zip(starts, starts[1:])]
        )


def inside(polygon, points):
    """Even-odd rule by a ray along +r."""
    a, b = polygon.points, polygon.ends
    r, z = points[:, 0, None], points[:, 1, None]
    crosses = (a[:, 1] > z) != (b[:, 1] > z)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] + (z - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    return (np.count_nonzero(crosses & (r < at), axis=1) % 2).astype(bool)


def boundary_distance(polygon, points):
    a, run = polygon.points, polygon.ends - polygon.points
    arm = points[:, None] - a
    share = np.clip((arm * run).sum(-1) / (run * run).sum(-1), 0.0, 1.0)
    return np.linalg.norm(arm - share[..., None] * run, axis=-1).min(axis=1)


def triangles_in(polygon, points):
    triangles = Delaunay(points).simplices
    triangles = triangles[inside(polygon, points[triangles].mean(axis=1))]
    edges = {tuple(sorted(pair)) for t in triangles for pair in zip(t, np.roll(t, -1))}
    lost = [i for i, pair in enumerate(polygon.pairs) if tuple(sorted(pair)) not in edges]
    if lost:
        places = ", ".join(f"({r:.2f}, {z:.2f})" for r, z in polygon.points[lost])
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
        low, high = polygon.points.min(axis=0), polygon.points.max(axis=0)
        least, most = sizes.within(1.415 * step, low, high)
        rows, columns = (np.arange(low[i], high[i], s) for i, s in ((1, step * np.sqrt(0.75)), (0, step)))
        columns = columns[(columns >= least[0] - step) & (columns <= most[0])]
        used = np.flatnonzero((rows >= least[1]) & (rows <= most[1]))
        if len(used) == 0 or len(columns) == 0:
            continue
        lattice = np.concatenate(
            [[(r + 0.5 * step * (row % 2), z) for r in columns] for row, z in zip(used, rows[used])]
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


def triangulated(loops, sizes):
    """Points, the sampled boundary first, and triangles of about the wanted side."""
    polygon = Polygon(loops, sizes)
    points = np.concatenate([polygon.points, filled(polygon, sizes)])
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
        own = len(polygon.points)
        points[own:] = np.round((sums / counts[:, None])[own:], 7)
    return points, triangles_in(polygon, points)


def quadrilaterals(outline, sizes):
    """Points, counter-clockwise quadrilaterals of about half the wanted side, and curved mid-edge points.

    The last is a list of pairs: chord middle of a quadrilateral's side, place on the arc.
    """
    return split(outline, *triangulated([outline], sizes))


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
