"""Quadrilaterals in a section of lines and arcs, for the outside checks.

Own sampling, scipy's Delaunay triangulation, and a split of every triangle into three quadrilaterals:
nothing is shared with rimproof. Lengths in mm, points (r, z).
"""

import numpy as np
from scipy.spatial import Delaunay


class Arc:
    """An arc from `start` to `end` about `centre`, turning left or right."""

    def __init__(self, start, end, centre, left):
        self.start, self.end, self.centre = (np.array(p, float) for p in (start, end, centre))
        self.left = left
        self.radius = np.hypot(*(self.start - self.centre))
        first, last = (np.arctan2(*(p - self.centre)[::-1]) for p in (self.start, self.end))
        turn = (last - first) % (2 * np.pi)
        self.first, self.sweep = first, turn if left else turn - 2 * np.pi

    def length(self):
        return self.radius * abs(self.sweep)

    def at(self, t):
        angle = self.first + self.sweep * np.asarray(t)
        return self.centre + self.radius * np.stack([np.cos(angle), np.sin(angle)], axis=-1)

    def holds(self, points):
        """Which points lie on the circle; the outlines here have no other edge that meets it."""
        return np.abs(np.hypot(*(points - self.centre).T) - self.radius) < 1e-7 * self.radius

    def pulled(self, points):
        arm = points - self.centre
        return self.centre + arm * (self.radius / np.hypot(*arm.T))[:, None]


class Line:
    def __init__(self, start, end):
        self.start, self.end = np.array(start, float), np.array(end, float)

    def length(self):
        return np.hypot(*(self.end - self.start))

    def at(self, t):
        return self.start + np.asarray(t)[..., None] * (self.end - self.start)


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
        raise SystemExit(f"the check's own mesh lost {len(lost)} boundary edges; change its size")
    return triangles


def quadrilaterals(outline, size):
    """Points, counter-clockwise quadrilaterals of about half of `size`, and curved mid-edge points.

    The last is a list of pairs: chord middle of a quadrilateral's side, place on the arc.
    """
    pieces = []
    for edge in outline:
        count = max(2, int(np.ceil(edge.length() / size)))
        if isinstance(edge, Arc):
            count = max(count, int(np.ceil(abs(edge.sweep) / 0.45)))
        pieces.append(edge.at(np.arange(count) / count))
    polygon = np.concatenate(pieces)
    low, high = polygon.min(axis=0), polygon.max(axis=0)
    rows = np.arange(low[1], high[1], size * np.sqrt(0.75))
    lattice = [
        [(r + 0.5 * size * (row % 2), z) for r in np.arange(low[0], high[0], size)]
        for row, z in enumerate(rows)
    ]
    lattice = np.concatenate(lattice)
    lattice = lattice[inside(polygon, lattice)]
    lattice = lattice[boundary_distance(polygon, lattice) > 0.6 * size]
    points = np.concatenate([polygon, lattice])
    for _ in range(12):
        triangles = triangles_in(polygon, points)
        sums, counts = np.zeros_like(points), np.zeros(len(points))
        for i, j in ((0, 1), (1, 2), (2, 0)):
            for a, b in ((i, j), (j, i)):
                np.add.at(sums, triangles[:, a], points[triangles[:, b]])
                np.add.at(counts, triangles[:, a], 1)
        points[len(polygon) :] = (sums / counts[:, None])[len(polygon) :]
    triangles = triangles_in(polygon, points)
    return split(outline, points, triangles)


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
    m01, m12, m20 = (back.reshape(3, -1) + len(points))
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
