"""Outlines of web wheels and their grooves, and names of places in them. Lengths in mm, points (r, z)."""

from math import cos, radians, sin, sqrt

import numpy as np

from outline import Arc, Line


def web_wheel(rim, under, web, fillet, bore, grooves):
    """Counter-clockwise edges [(tag, edge)] of a rim (r, z from, z to) over a web (z from, z to).

    `grooves` are pieces of the rim's outside from low to high z, each a list of edges; lands between.
    """
    (land, low, high), (left, right) = rim, web
    neck = under - fillet
    edges = [
        ("side", Line((bore, left), (neck, left))),
        ("fillet", Arc((neck, left), (under, left - fillet), (neck, left - fillet), False)),
        ("underside", Line((under, left - fillet), (under, low))),
        ("side", Line((under, low), (land, low))),
    ]
    at = np.array([land, low])
    for groove in grooves:
        edges.append(("land", Line(at, groove[0][1].start)))
        edges.extend(groove)
        at = groove[-1][1].end
    return edges + [
        ("land", Line(at, (land, high))),
        ("side", Line((land, high), (under, high))),
        ("underside", Line((under, high), (under, right + fillet))),
        ("fillet", Arc((under, right + fillet), (neck, right), (neck, right + fillet), False)),
        ("side", Line((neck, right), (bore, right))),
        ("bore", Line((bore, right), (bore, left))),
    ]


def round_seat(number, z, centre_r, radius, land):
    half = sqrt(radius**2 - (centre_r - land) ** 2)
    return [(f"seat {number}", Arc((land, z - half), (land, z + half), (centre_r, z), False))]


def undercut_seat(number, z, centre_r, radius, land, beta_deg, bottom, corner):
    """A seat with a slot of angle beta between parallel walls, down to `bottom` with rounded corners."""
    half = sqrt(radius**2 - (centre_r - land) ** 2)
    slot, top = radius * sin(radians(beta_deg / 2)), centre_r - radius * cos(radians(beta_deg / 2))
    seat, wall, foot = f"seat {number}", f"slot {number}", f"slot corner {number}"
    a, b, c, d = z - slot, z - slot + corner, z + slot - corner, z + slot
    rise = bottom + corner
    return [
        (seat, Arc((land, z - half), (top, a), (centre_r, z), False)),
        (wall, Line((top, a), (rise, a))),
        (foot, Arc((rise, a), (bottom, b), (rise, b), False)),
        (wall, Line((bottom, b), (bottom, c))),
        (foot, Arc((bottom, c), (rise, d), (rise, c), False)),
        (wall, Line((rise, d), (top, d))),
        (seat, Arc((top, d), (land, z + half), (centre_r, z), False)),
    ]


def v_groove(number, z, root_r, root, land, gamma_deg, band):
    """A V groove of angle gamma over a rounded root; the rope presses on `band`, lengths up the flank."""
    s, c = sin(radians(gamma_deg / 2)), cos(radians(gamma_deg / 2))
    base = np.array([root_r - root * s, root * c])
    top = (land - base[0]) / c
    ups = [base + t * np.array([c, s]) for t in (0.0, *band, top)]
    left, right = [np.array([p[0], z - p[1]]) for p in ups], [np.array([p[0], z + p[1]]) for p in ups]
    flank, pressed = f"flank {number}", f"band {number}"
    return [
        (flank, Line(left[3], left[2])),
        (pressed, Line(left[2], left[1])),
        (flank, Line(left[1], left[0])),
        (f"root {number}", Arc(left[0], right[0], (root_r, z), False)),
        (flank, Line(right[0], right[1])),
        (pressed, Line(right[1], right[2])),
        (flank, Line(right[2], right[3])),
    ]


def grid(names):
    """Places by name: {start of the name: {end of the name: (r, z)}}."""
    return {f"{a}, {b}": at for a, places in names.items() for b, at in places.items()}


def around_groove(z, near, half, low, aside):
    """Places below and beside a groove at z."""
    return {
        "near its bottom": (near, z),
        "half way down": (half, z),
        "near the underside": (low, z),
        "aside towards -z": (half, z - aside),
        "aside towards +z": (half, z + aside),
    }
