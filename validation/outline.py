"""Lines and arcs that bound a section, for the outside checks. Lengths in mm, points (r, z)."""

import numpy as np

# How near a point must be to count as lying on an edge (mm).
ON_EDGE = 1e-6


class Arc:
    """An arc from `start` to `end` about `centre`, turning left or right."""

    def __init__(self, start, end, centre, left):
        self.start, self.end, self.centre = (np.array(p, float) for p in (start, end, centre))
        self.left = left
        self.radius = np.hypot(*(self.start - self.centre))
        assert abs(np.hypot(*(self.end - self.centre)) - self.radius) < 1e-9
        first, last = (np.arctan2(*(p - self.centre)[::-1]) for p in (self.start, self.end))
        turn = (last - first) % (2 * np.pi)
        self.first, self.sweep = first, turn if left else turn - 2 * np.pi

    def length(self):
        return self.radius * abs(self.sweep)

    def at(self, t):
        angle = self.first + self.sweep * np.asarray(t)
        return self.centre + self.radius * np.stack([np.cos(angle), np.sin(angle)], axis=-1)

    def holds(self, points):
        """Which points lie on the arc."""
        arm = points - self.centre
        turn = (np.arctan2(arm[..., 1], arm[..., 0]) - self.first) * np.sign(self.sweep)
        slack = ON_EDGE / self.radius
        along = (turn + slack) % (2 * np.pi) <= abs(self.sweep) + 2 * slack
        return along & (np.abs(np.hypot(arm[..., 0], arm[..., 1]) - self.radius) < ON_EDGE)

    def pulled(self, points):
        arm = points - self.centre
        return self.centre + arm * (self.radius / np.hypot(*arm.T))[:, None]

    def moved(self, run):
        return Arc(self.start + run, self.end + run, self.centre + run, self.left)


class Line:
    def __init__(self, start, end):
        self.start, self.end = np.array(start, float), np.array(end, float)

    def length(self):
        return np.hypot(*(self.end - self.start))

    def at(self, t):
        return self.start + np.asarray(t)[..., None] * (self.end - self.start)

    def holds(self, points):
        """Which points lie on the line."""
        run = self.end - self.start
        share = np.clip(((points - self.start) * run).sum(axis=-1) / (run * run).sum(), 0.0, 1.0)
        gap = points - self.start - share[..., None] * run
        return np.hypot(gap[..., 0], gap[..., 1]) < ON_EDGE
