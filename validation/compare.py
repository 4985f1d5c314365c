"""What the two sides of a comparison give, how far they may differ, and why.

Units: mm, N, MPa, degrees.
"""

import numpy as np

import rope_load
from explicit_model import COMPONENTS
from revolved import Ring
from section_mesh import Sizes, quadrilaterals
from surface import Surface, highest

# Largest differences allowed at the probes, as a share of the largest value of its kind at any probe
# of the wheel, and of the highest tension. Half of each is rimproof's: the script solves its model a
# second time with smaller elements, and demands that this moves nothing by more. The other half is the
# independent side's, which is held to the same by its own coarse and fine analyses. Two sides that
# each stay within half can differ by the whole, and a Poisson ratio or a rope 2 to 4 % off cannot hide.
STRESS, DISPLACEMENT, PEAK = 0.01, 0.0005, 0.01
REFINED = 0.7  # sides of rimproof's second mesh over those of its first
INSIDE = 1.5  # least distance of a probe from every surface (mm)
LEAST_PLACES = 20

NAMES = ("u", "v", "w", *COMPONENTS)
ROWS = ((0, 0), (1, 1), (2, 2), (0, 1), (1, 2), (0, 2))


class Independent:
    """The 3-D analysis of a wheel on one mesh: `probes`, `peak`, sizes."""

    def __init__(self, wheel, mesh, other_peak):
        ring = ring_of(wheel, mesh)
        u = ring.solve(rope_load.forces(ring, wheel))
        values = []
        for at in wheel.places.values():
            for angle in wheel.angles_deg:
                shift, stress = ring.at(u, at, np.radians(angle))
                values.append([*shift, *(stress[i] for i in ROWS)])
        self.probes = np.array(values).reshape(len(wheel.places), len(wheel.angles_deg), 9)
        surface = searched(ring, wheel)
        stress = surface.stresses(u)
        self.peak = highest(surface, stress, counts(wheel))
        self.there = surface.nearest(stress, other_peak)
        self.hexahedra, self.unknowns = len(ring.nodes) * mesh.sectors, len(ring.free) * mesh.sectors
        self.section_cells, self.sectors = len(ring.nodes), mesh.sectors


def ring_of(wheel, mesh, shift=None):
    # Fillets and pressed edges are wide enough for half the largest side.
    sides = {tag: 0.5 * mesh.largest for tag in ("fillet", *wheel.loaded())}
    sides |= {tag: mesh.finest for tag in wheel.small}
    fine = [
        (at, sides[tag])
        for tag, edge in wheel.edges
        if tag in sides
        for at in edge.at(np.linspace(0.0, 1.0, 7))
    ]
    outline = [edge for _, edge in wheel.edges]
    section = quadrilaterals(outline, Sizes(mesh.largest, fine))
    return Ring(section, mesh.sectors, wheel.young_mpa, wheel.poisson, wheel.held, shift)


def searched(ring, wheel):
    return Surface(ring, wheel.edges, lambda r, z: r >= wheel.search_r)


def counts(wheel, turned_deg=0.0):
    """Whether a tension on an edge at an angle is searched; the wheel may be turned against the ropes."""
    loaded, jumps = wheel.loaded(), np.array(wheel.jumps_deg())

    def counted(tag, theta_deg):
        apart = np.abs((theta_deg + turned_deg - jumps + 180.0) % 360.0 - 180.0)
        return tag not in loaded or apart.min() >= wheel.skip_deg

    return counted


def components(stress):
    rr, tt, zz, rt, tz, rz = stress
    return np.array([[rr, rt, rz], [rt, tt, tz], [rz, tz, zz]])


def gap_deg(a, b):
    return abs((a - b + 180.0) % 360.0 - 180.0)


class Comparison:
    """rimproof on two meshes against the independent side on two; `misses` says what differs too much."""

    def __init__(self, wheel, ours, refined, coarse, fine, meshes):
        self.wheel, self.ours, self.refined, self.coarse, self.fine = wheel, ours, refined, coarse, fine
        self.meshes, self.misses = meshes, []
        shift, stress = (np.abs(fine.probes[..., part]).max() for part in (slice(0, 3), slice(3, 9)))
        self.scales = np.array([shift] * 3 + [stress] * 6)
        self.shares = np.array([DISPLACEMENT] * 3 + [STRESS] * 6)
        self.gap = np.abs(ours.probes - fine.probes) / self.scales
        self.own = np.abs(refined.probes - ours.probes) / self.scales
        self.other = np.abs(coarse.probes - fine.probes) / self.scales
        self.judge_probes()
        self.judge_peak()

    def need(self, holds, what):
        """Notes a miss unless the comparison holds; a comparison with NaN never does."""
        if not holds:
            self.misses.append(f"{self.wheel.key}: {what}")

    def judge_probes(self):
        places, wheel = list(self.wheel.places), self.wheel
        self.need(len(places) >= LEAST_PLACES, f"only {len(places)} places")
        outline = np.concatenate([edge.at(np.linspace(0.0, 1.0, 400)) for _, edge in wheel.edges])
        for name, at in wheel.places.items():
            near = np.hypot(*(outline - np.array(at)).T).min()
            self.need(near >= INSIDE, f"{name} lies {near:.2f} mm from a surface")
        for p, a, c in np.ndindex(self.gap.shape):
            where = f"{NAMES[c]} {places[p]} at {wheel.angles_deg[a]:g}"
            allowed = self.shares[c]
            values = f"{self.ours.probes[p, a, c]:.6g} and {self.fine.probes[p, a, c]:.6g}"
            self.need(self.gap[p, a, c] <= allowed, f"{where}: {values}")
            self.need(self.own[p, a, c] <= 0.5 * allowed, f"{where}: rimproof's mesh moves it")
            self.need(self.other[p, a, c] <= 0.5 * allowed, f"{where}: the independent mesh moves it")

    def judge_peak(self):
        ours, refined, coarse, fine = (side.peak for side in self.sides())
        scale = fine.value
        self.peak_gap = (ours.value - fine.value) / scale
        self.peak_own = (refined.value - ours.value) / scale
        self.peak_other = (coarse.value - fine.value) / scale
        self.distance = np.hypot(*(ours.at - fine.at))
        self.turn = gap_deg(ours.theta_deg, fine.theta_deg)
        # Both sides find a peak at a node: rimproof's are half a side apart on the outline, the
        # independent ones a quarter, and the tension is level at its peak, so each may take a neighbour.
        mesh = self.meshes[1]
        self.distance_allowed = self.wheel.rimproof_mesh["finest_mm"] + 0.5 * mesh.finest
        # The independent angle is a parabola's over planes half a sector apart.
        self.turn_allowed = 360.0 / mesh.sectors
        # Whatever the distance, rimproof's place must be as highly stressed on the independent side.
        self.there = self.fine.there / scale
        self.need(abs(self.peak_gap) <= PEAK, f"highest tension {ours.value:.4g} and {fine.value:.4g} MPa")
        self.need(abs(self.peak_own) <= 0.5 * PEAK, f"rimproof's mesh moves its peak by {self.peak_own:.2%}")
        self.need(abs(self.peak_other) <= 0.5 * PEAK, f"the independent mesh moves its peak by {self.peak_other:.2%}")
        self.need(self.distance <= self.distance_allowed, f"the two peaks lie {self.distance:.2f} mm apart")
        self.need(self.turn <= self.turn_allowed, f"the two peaks lie {self.turn:.2f} degrees apart")
        self.need(self.there >= 1.0 - PEAK, f"at rimproof's peak the other side has only {self.there:.1%} of its own")

    def sides(self):
        return self.ours, self.refined, self.coarse, self.fine

    def worst(self, component):
        """The largest difference of a component: share of its scale, place, angle."""
        gap = np.where(np.isnan(self.gap[..., component]), np.inf, self.gap[..., component])
        p, a = np.unravel_index(gap.argmax(), gap.shape)
        return gap[p, a], list(self.wheel.places)[p], self.wheel.angles_deg[a], (p, a)

    def largest_tension(self, place):
        """The angle of a place's highest principal stress on the independent side, and both sides' value."""
        sides = [
            [np.linalg.eigvalsh(components(stress[3:]))[2] for stress in side.probes[place]]
            for side in (self.fine, self.ours)
        ]
        a = int(np.argmax(sides[0]))
        return self.wheel.angles_deg[a], sides[1][a], sides[0][a]
