"""A rope's pressure and drag as nodal forces of the independent side, by its own quadrature.

Radially the pressure adds up to the tension per radian, whatever the seat's shape; the drag is spread
alike over the pressed edges, and its moment about the shaft is that of the tension's change at the
radius of the rope's centre. Units: mm, N, MPa, rad.
"""

import numpy as np


def share(rope, r, z):
    """The pressure's course over the section, before it is scaled."""
    if rope.law == "uniform":
        return np.ones_like(r)
    centre_r, centre_z = rope.centre
    return (centre_r - r) / np.hypot(centre_r - r, centre_z - z)


def into_body(edge, r, z):
    """The unit normal of a pressed edge that points into the body, which lies to the edge's left."""
    if hasattr(edge, "centre"):
        away = np.stack([edge.centre[0] - r, edge.centre[1] - z])
        return -away / np.hypot(*away) * (1.0 if not edge.left else -1.0)
    run = (edge.end - edge.start) / edge.length()
    left = np.array([-run[1], run[0]])
    return np.multiply.outer(left, np.ones_like(r))


def sums(rope, edges):
    """∫ share·(part of the normal towards the shaft)·r ds and ∫ share·r² ds over the pressed edges."""
    t, weight = np.polynomial.legendre.leggauss(40)
    bearing = moment = 0.0
    for edge in edges:
        r, z = edge.at(0.5 + 0.5 * t).T
        w = 0.5 * weight * edge.length() * share(rope, r, z)
        bearing += np.sum(w * -into_body(edge, r, z)[0] * r)
        moment += np.sum(w * r**2)
    return bearing, moment


def forces(ring, wheel):
    """Loads (sector, own unknown) of all ropes of a wheel."""
    loads = np.zeros((ring.sectors, 3 * len(ring.own)))
    for rope in wheel.ropes:
        edges = [edge for tag, edge in wheel.edges if tag in rope.tags]
        bearing, moment = sums(rope, edges)
        whole = np.log(rope.heavy_n / rope.light_n) / np.radians(wheel.wrap_deg)
        decay = whole if wheel.active_deg is None else wheel.friction(rope)
        bases = {d: base(ring, rope, edges, d, bearing, moment) for d in {0.0, decay}}
        first = np.radians(wheel.middle_deg - 0.5 * wheel.wrap_deg) / ring.step
        count = np.radians(wheel.wrap_deg) / ring.step
        resting = 0.0
        if wheel.active_deg is not None:
            resting = count - np.radians(wheel.active_deg) / ring.step
        assert all(abs(n - round(n)) < 1e-9 for n in (first, count, resting)), "a jump inside a cell"
        for number in range(round(count)):
            active = number >= round(resting)
            turned = (number - round(resting)) * ring.step if active else 0.0
            tension = rope.heavy_n * np.exp(-decay * turned)
            own, last = bases[decay if active else 0.0]
            sector = round(first) + number
            loads[sector % ring.sectors] += tension * own
            loads[(sector + 1) % ring.sectors] += tension * last
    return loads


def base(ring, rope, edges, decay, bearing, moment):
    """A sector's loads under a tension of exp(-decay·theta) N, theta from its first plane."""
    own = last = 0.0
    for edge in edges:

        def traction(r, theta, z, edge=edge):
            tension = np.exp(-decay * theta) * share(rope, r, z)
            normal = into_body(edge, r, z)
            drag = -decay * tension * rope.moment_r / moment
            return np.stack([tension / bearing * normal[0], drag, tension / bearing * normal[1]])

        a, b = ring.traction(edge, traction)
        own, last = own + a, last + b
    return own, last
