"""The highest first principal stress on a section's outline over all angles, from summed harmonics.

Stresses are the cells' own, from their displacements, at points along every outline edge; where two edges
meet their mean is taken. Units: mm, N, MPa, rad.
"""

import numpy as np

from harmonics import Edges

# Points along an outline edge at which stresses are taken, its ends included.
ALONG = np.linspace(0.0, 1.0, 7)
# Angles of the first pass to a wave of the last harmonic.
TO_A_WAVE = 4
# Points this near to the highest are looked at between the angles of the first pass.
NEAR = 0.95


class Outline:
    """Stress amplitudes at the points of the searched outline, gathered harmonic by harmonic."""

    def __init__(self, section, most):
        mesh, model = section.mesh, section.model
        facets = section.facets_on([edge for _, edge in model.edges()])
        facets = facets[(mesh.p[0, mesh.facets[:, facets]] >= model.search_r).all(axis=0)]
        edges = Edges(section, facets, ALONG)
        self.at, self.unknowns, self.d = edges.at, edges.unknowns, section.d
        self.b0, self.b1 = section.strains(edges.fields, edges.at[..., 0])
        self.corner, self.vertices = np.unique(edges.vertices, return_inverse=True)
        self.vertices = self.vertices.reshape(edges.vertices.shape)
        # (harmonic, edge, point, component, cosine and sine of the angle)
        self.waves = np.zeros((most + 1, *self.at.shape[:2], 6, 2))

    def add(self, n, amplitudes):
        """Takes the amplitudes (unknown, family) of harmonic n."""
        stress = self.d @ ((self.b0 + n * self.b1) @ amplitudes[self.unknowns][:, None])
        # Shear with the angle belongs to the other function: V sin n0, and -V cos n0 in the sine family.
        stress[..., 3:5, :] = np.stack([-stress[..., 3:5, 1], stress[..., 3:5, 0]], axis=-1)
        self.waves[n] = stress

    def side(self, edge):
        return np.linalg.norm(self.at[edge, -1] - self.at[edge, 0])

    def settled(self):
        """The amplitudes, those of two edges that meet by their mean."""
        sums = np.zeros((len(self.corner), *self.waves.shape[:1], 6, 2))
        counts = np.zeros(len(self.corner))
        waves = self.waves.copy()
        for end, point in ((0, 0), (1, -1)):
            np.add.at(sums, self.vertices[:, end], waves[:, :, point].swapaxes(0, 1))
            np.add.at(counts, self.vertices[:, end], 1.0)
        mean = sums / counts[:, None, None, None]
        for end, point in ((0, 0), (1, -1)):
            waves[:, :, point] = mean[self.vertices[:, end]].swapaxes(0, 1)
        return waves


def principal(stress):
    """Highest principal stress of components (..., 6): rr, tt, zz, rt, tz, rz."""
    rr, tt, zz, rt, tz, rz = np.moveaxis(stress, -1, 0)
    mean = (rr + tt + zz) / 3
    a, b, c = rr - mean, tt - mean, zz - mean
    half = 0.5 * (a * a + b * b + c * c) + rt * rt + tz * tz + rz * rz
    third = a * (b * c - tz * tz) - rt * (rt * c - tz * rz) + rz * (rt * tz - b * rz)
    size = np.sqrt(np.maximum(half, 1e-300) / 3)
    return mean + 2 * size * np.cos(np.arccos(np.clip(third / (2 * size**3), -1.0, 1.0)) / 3)


def at_angles(waves, angles):
    """Stress (angle, ..., 6) of amplitudes (harmonic, ..., 6, 2)."""
    phase = np.multiply.outer(angles, np.arange(len(waves)))
    flat = waves.reshape(len(waves), -1, 2)
    found = np.cos(phase) @ flat[..., 0] + np.sin(phase) @ flat[..., 1]
    return found.reshape(len(angles), *waves.shape[1:-1])


class Peak:
    def __init__(self, value, at, theta, stress):
        self.value, self.at, self.theta_deg, self.stress = value, at, np.degrees(theta), stress


def highest(outline, waves):
    """The peak, and all points (place, highest tension) for the next mesh's sizes."""
    count = TO_A_WAVE * (len(waves) - 1)
    angles = np.arange(count) * 2 * np.pi / count - np.pi
    edges = waves.shape[1]
    best, where = np.zeros((2, edges, len(ALONG)))
    for some in np.array_split(np.arange(edges), max(1, edges // 50)):
        course = principal(at_angles(waves[:, some], angles))
        best[some], where[some] = course.max(axis=0), angles[course.argmax(axis=0)]
    step = 2 * np.pi / count
    for edge, point in np.argwhere(best >= NEAR * best.max()):
        best[edge, point], where[edge, point] = over_angle(waves[:, edge, point], where[edge, point], step)
    edge, point = np.unravel_index(best.argmax(), best.shape)
    value, at, theta = best[edge, point], outline.at[edge, point], where[edge, point]
    if 0 < point < len(ALONG) - 1:
        before, here, after = best[edge, point - 1 : point + 2]
        bend = before - 2 * here + after
        shift = 0.5 * (before - after) / bend
        value = here - 0.25 * (before - after) * shift
        at = at + 0.5 * shift * (outline.at[edge, point + 1] - outline.at[edge, point - 1])
    stress = at_angles(waves[:, edge, point], np.array([theta]))[0]
    return Peak(value, at, theta, stress), best


def over_angle(waves, theta, step):
    """The highest tension of one point near an angle, and its angle."""
    for _ in range(3):
        angles = theta + np.linspace(-step, step, 21)
        course = principal(at_angles(waves, angles))
        theta, step = angles[course.argmax()], step / 10
    return course.max(), theta
