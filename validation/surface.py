"""Stresses on the surface of a ring of hexahedra, and the highest principal tension there.

A node's stress is the mean of what its cells carry to it from their own Barlow points.
"""

import numpy as np

from hexahedra import PLACES, carried


class Surface:
    """The ring's nodes on the given edges [(tag, edge)] where `within(r, z)` holds."""

    def __init__(self, ring, edges, within):
        self.ring = ring
        self.tags = np.full(len(ring.section), "", dtype=object)
        for tag, edge in edges:
            self.tags[edge.holds(ring.section)] = tag
        self.chosen = np.flatnonzero((self.tags != "") & within(*ring.section.T))
        section = ring.node_section[ring.nodes]
        slot = np.full(len(ring.section), -1)
        slot[self.chosen] = np.arange(len(self.chosen))
        self.cells = np.flatnonzero((slot[section] >= 0).any(axis=1))
        self.slot, self.planes = slot[section[self.cells]], ring.plane[ring.nodes[self.cells]]

    def stresses(self, u, coords=None):
        """Stress (plane, chosen node, 3, 3), two planes to a sector, from the own unknowns `u`.

        `coords(sector)` gives the cells' places in a sector where they differ from the ring's.
        """
        ring, weights = self.ring, carried(PLACES.T)
        plain = ring.coords()
        sums = np.zeros((2 * ring.sectors, len(self.chosen), 3, 3))
        counts = np.zeros(sums.shape[:2])
        on = self.slot >= 0
        for sector in range(ring.sectors):
            places = plain if coords is None else coords(sector)
            moved = ring.whole(u, sector)[ring.nodes[self.cells]]
            _, stress = ring.iron.stress(places[self.cells], moved)
            nodal = np.einsum("ng,egij->enij", weights, stress)
            at = (2 * sector + self.planes[on]) % (2 * ring.sectors), self.slot[on]
            np.add.at(sums, at, nodal[on])
            np.add.at(counts, at, 1.0)
        return sums / counts[..., None, None]

    def nearest(self, stress, peak):
        """Highest principal stress at the node and the plane nearest to a peak of the other side."""
        section = self.ring.section[self.chosen]
        node = np.hypot(*(section - peak.at).T).argmin()
        plane = round(peak.theta_deg / 360.0 * len(stress)) % len(stress)
        return np.linalg.eigvalsh(stress[plane, node])[2]


class Peak:
    """A highest tension: value in MPa, place (r, z) in mm, angle in degrees, tag of its edge."""

    def __init__(self, value, at, theta_deg, tag):
        self.value, self.at, self.theta_deg, self.tag = value, np.asarray(at, float), theta_deg, tag


def highest(surface, stress, counts):
    """The highest first principal stress where `counts(tag, theta_deg)` holds, between planes by a
    parabola through the best plane and its two neighbours."""
    ring = surface.ring
    tension = np.linalg.eigvalsh(stress)[..., 2]
    planes = len(tension)
    degrees = (np.arange(planes) * 360.0 / planes + 180.0) % 360.0 - 180.0
    allowed = np.array([[counts(surface.tags[node], d) for node in surface.chosen] for d in degrees])
    plane, node = np.unravel_index(np.where(allowed, tension, -np.inf).argmax(), tension.shape)
    before, here, after = (tension[(plane + k) % planes, node] for k in (-1, 0, 1))
    bend = before - 2 * here + after
    shift = 0.0 if bend >= 0.0 else np.clip(0.5 * (before - after) / bend, -0.5, 0.5)
    value = here - 0.25 * (before - after) * shift
    section = surface.chosen[node]
    return Peak(value, ring.section[section], degrees[plane] + shift * 360.0 / planes, surface.tags[section])
