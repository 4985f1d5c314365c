"""The invented wheels of the independent comparisons: shapes, loads, places. Units: mm, N, MPa, degrees.

Every wheel is one web wheel held at its bore. Angles are counted from the middle of the wrap where
`middle_deg` is 0; the heavy side is at lower angles. All wraps, arcs and turns are whole numbers of
sectors of every mesh, so that no cell holds a jump of the load inside.
"""

from dataclasses import dataclass, field
from math import cos, log, radians, sin

import numpy as np

from shapes import around_groove, grid, round_seat, undercut_seat, v_groove, web_wheel


@dataclass
class Rope:
    """One rope: on which edges it presses, and by which law ("cosine" about `centre`, or "uniform")."""

    tags: tuple
    heavy_n: float
    light_n: float
    law: str
    seat_r: float
    moment_r: float
    centre: tuple | None = None


@dataclass
class Mesh:
    """Largest triangle side, side along the named edges, and sectors, of an independent mesh."""

    largest: float
    finest: float
    sectors: int


@dataclass
class Wheel:
    key: str
    title: str
    exercises: str
    young_mpa: float
    poisson: float
    wrap_deg: float
    middle_deg: float
    # None: the whole wrap creeps. Else the rope rests up to this arc before the light end.
    active_deg: float | None
    ropes: list
    edges: list
    shape: dict
    places: dict
    # Near the middle of a sector in every mesh, where the independent stresses are most exact, and not
    # at the ends of the ropes, where the pressure jumps and both sides converge slowly.
    angles_deg: tuple
    coarse: Mesh
    fine: Mesh
    finest: Mesh
    # Edges with a small radius, meshed finer; and the side that rimproof gets there.
    small: tuple
    rimproof_mesh: dict
    # Nearer to the shaft the highest tension is not looked for: the held bore is there.
    search_r: float
    bore_r: float = 30.0
    # Pressed edges within this angle of an end of a rope or of its resting arc are not searched.
    skip_deg: float = field(default=5.0)

    def friction(self, rope):
        return log(rope.heavy_n / rope.light_n) / radians(self.active_deg)

    def loaded(self):
        return {tag for rope in self.ropes for tag in rope.tags}

    def held(self, r, z):
        return np.abs(r - self.bore_r) < 1e-6

    def jumps_deg(self):
        first, last = self.middle_deg - 0.5 * self.wrap_deg, self.middle_deg + 0.5 * self.wrap_deg
        return [first, last] if self.active_deg is None else [first, last - self.active_deg, last]


def round_wheel(under=92.0):
    """`under` is the underside's radius."""
    centre_r, radius, land, zs = 110.5, 6.5, 110.0, (-8.0, 14.0)
    web, fillet, rim = (-6.0, 6.0), 6.0, (land, -20.0, 26.0)
    grooves = [round_seat(n, z, centre_r, radius, land) for n, z in enumerate(zs, 1)]
    pulls = ((4000.0, 2600.0), (3700.0, 2450.0))
    ropes = [
        Rope((f"seat {n}",), heavy, light, "cosine", centre_r - radius, centre_r, (centre_r, z))
        for n, (z, (heavy, light)) in enumerate(zip(zs, pulls), 1)
    ]
    return Wheel(
        key="round seats",
        title="Web wheel with two round seats",
        exercises="cosine pressure over whole seats; ropes of unequal tension that creep over the whole "
        "wrap; a web beside the middle of the rim; the highest tension on a pressed edge",
        young_mpa=110e3,
        poisson=0.26,
        wrap_deg=160.0,
        middle_deg=0.0,
        active_deg=None,
        ropes=ropes,
        edges=web_wheel(rim, under, web, fillet, 30.0, grooves),
        shape={
            "radius of the lands": land,
            "radius of the underside": under,
            "rim from z": rim[1],
            "rim to z": rim[2],
            "web from z": web[0],
            "web to z": web[1],
            "fillet radius": fillet,
            "groove 1 at z": zs[0],
            "groove 2 at z": zs[1],
            "radius of the rope's centre": centre_r,
            "radius of the seat's arc": radius,
        },
        places=grid(
            {
                "under groove 1": around_groove(zs[0], 102.0, 98.0, 94.0, 5.0),
                "under groove 2": around_groove(zs[1], 102.0, 98.0, 94.0, 5.0),
                "rim": {
                    "between the grooves": (106.5, 3.0),
                    "over the web": (97.0, 1.0),
                    "over the web, low": (90.0, 1.0),
                    "overhanging end": (97.0, 23.0),
                    "short end": (97.0, -17.0),
                },
                "web": {
                    "beside the fillet under groove 1": (91.5, -6.0),
                    "beside the fillet under groove 2": (91.5, 6.0),
                    "below the fillets, right": (82.0, 3.5),
                    "below the fillets, left": (82.0, -3.5),
                    "half way in": (58.0, -3.5),
                    "near the bore": (37.0, 2.0),
                },
            }
        ),
        angles_deg=(-63.0, -57.0, -43.0, 3.0, 63.0, 177.0),
        coarse=Mesh(3.0, 1.6, 54),
        fine=Mesh(2.5, 1.2, 72),
        finest=Mesh(1.9, 1.0, 90),
        small=("seat 1", "seat 2"),
        rimproof_mesh={"largest_mm": 1.4, "finest_mm": 0.5},
        search_r=45.0,
    )


def undercut_wheel():
    centre_r, radius, land, zs = 117.5, 7.0, 115.0, (-8.0, 13.0)
    beta, bottom, corner = 92.0, 108.5, 2.4
    under, web, fillet, rim = 95.0, (-5.0, 7.0), 6.0, (land, -19.0, 25.0)
    grooves = [undercut_seat(n, z, centre_r, radius, land, beta, bottom, corner) for n, z in enumerate(zs, 1)]
    pulls = ((4200.0, 2900.0), (4600.0, 3000.0))
    ropes = [
        Rope((f"seat {n}",), heavy, light, "cosine", centre_r - radius, centre_r, (centre_r, z))
        for n, (z, (heavy, light)) in enumerate(zip(zs, pulls), 1)
    ]
    return Wheel(
        key="undercut seats",
        title="Web wheel with two undercut seats",
        exercises="cosine pressure on the two parts of a seat beside its slot; ropes that rest over the "
        "first part of the wrap and creep over the last; the highest tension in a corner of small radius",
        young_mpa=98e3,
        poisson=0.24,
        wrap_deg=160.0,
        middle_deg=0.0,
        active_deg=100.0,
        ropes=ropes,
        edges=web_wheel(rim, under, web, fillet, 30.0, grooves),
        shape={
            "radius of the lands": land,
            "radius of the underside": under,
            "rim from z": rim[1],
            "rim to z": rim[2],
            "web from z": web[0],
            "web to z": web[1],
            "fillet radius": fillet,
            "groove 1 at z": zs[0],
            "groove 2 at z": zs[1],
            "radius of the rope's centre": centre_r,
            "radius of the seat's arc": radius,
            "slot angle (degrees)": beta,
            "radius of the slot's bottom": bottom,
            "radius of the slot's corners": corner,
        },
        places=grid(
            {
                "under groove 1": around_groove(zs[0], 106.5, 101.5, 97.0, 6.0),
                "under groove 2": around_groove(zs[1], 106.5, 101.5, 97.0, 6.0),
                "rim": {
                    "between the grooves": (111.0, 2.5),
                    "between the grooves, low": (104.0, 2.5),
                    "over the web": (97.0, 1.0),
                    "overhanging end": (101.0, 22.5),
                    "short end": (101.0, -16.5),
                },
                "web": {
                    "beside the fillet under groove 1": (94.5, -5.0),
                    "beside the fillet under groove 2": (94.5, 7.0),
                    "below the fillets, right": (85.0, 4.5),
                    "below the fillets, left": (85.0, -2.5),
                    "half way in": (60.0, -2.5),
                    "near the bore": (38.0, 3.0),
                },
            }
        ),
        angles_deg=(-63.0, -57.0, -43.0, 3.0, 63.0, 177.0),
        coarse=Mesh(3.0, 0.8, 54),
        fine=Mesh(2.4, 0.65, 72),
        finest=Mesh(1.8, 0.5, 90),
        small=("slot corner 1", "slot corner 2"),
        rimproof_mesh={"largest_mm": 1.3, "finest_mm": 0.25},
        search_r=45.0,
    )


def v_wheel():
    root_r, root, land, gamma, zs = 101.0, 2.5, 112.0, 40.0, (-10.0, 8.0)
    band, rope_d = (5.5, 9.5), 11.0
    under, web, fillet, rim = 86.0, (-3.0, 9.0), 5.0, (land, -20.0, 18.0)
    grooves = [v_groove(n, z, root_r, root, land, gamma, band) for n, z in enumerate(zs, 1)]
    s, c = sin(radians(gamma / 2)), cos(radians(gamma / 2))
    low_r, middle_r = (root_r - root * s + t * c for t in (band[0], 0.5 * sum(band)))
    moment_r = round(middle_r + 0.5 * rope_d * s, 3)
    pulls = ((3300.0, 2300.0), (3000.0, 2200.0))
    ropes = [
        Rope((f"band {n}",), heavy, light, "uniform", round(low_r, 3), moment_r)
        for n, (heavy, light) in enumerate(pulls, 1)
    ]
    return Wheel(
        key="V grooves",
        title="Web wheel with two V grooves",
        exercises="uniform pressure on the two flanks, which wedges the groove's walls apart; a wrap that "
        "is turned and shorter; another metal; the highest tension in the groove's root or elsewhere",
        young_mpa=169e3,
        poisson=0.275,
        wrap_deg=120.0,
        middle_deg=20.0,
        active_deg=None,
        ropes=ropes,
        edges=web_wheel(rim, under, web, fillet, 30.0, grooves),
        shape={
            "radius of the lands": land,
            "radius of the underside": under,
            "rim from z": rim[1],
            "rim to z": rim[2],
            "web from z": web[0],
            "web to z": web[1],
            "fillet radius": fillet,
            "groove 1 at z": zs[0],
            "groove 2 at z": zs[1],
            "groove angle (degrees)": gamma,
            "radius to the root arc's centre": root_r,
            "radius of the root": root,
            "pressed band, from (along the flank)": band[0],
            "pressed band, to (along the flank)": band[1],
        },
        places=grid(
            {
                "under groove 1": around_groove(zs[0], 96.2, 92.0, 88.0, 5.0),
                "under groove 2": around_groove(zs[1], 96.2, 92.0, 88.0, 5.0),
                "rim": {
                    "wall between the grooves": (108.0, -1.0),
                    "wall between the grooves, low": (101.0, -1.0),
                    "outer wall of groove 1": (104.0, -17.0),
                    "outer wall of groove 2": (104.0, 15.5),
                    "over the web": (90.0, 3.0),
                },
                "web": {
                    "beside the fillet under groove 1": (85.5, -2.5),
                    "beside the fillet under groove 2": (85.5, 8.5),
                    "below the fillets, right": (77.0, 6.5),
                    "below the fillets, left": (77.0, -0.5),
                    "half way in": (56.0, -0.5),
                    "near the bore": (38.0, 5.0),
                },
            }
        ),
        angles_deg=(-23.0, -3.0, 23.0, 63.0, -157.0),
        coarse=Mesh(2.9, 0.8, 54),
        fine=Mesh(2.3, 0.65, 72),
        finest=Mesh(1.8, 0.5, 90),
        small=("root 1", "root 2"),
        rimproof_mesh={"largest_mm": 1.3, "finest_mm": 0.25},
        search_r=45.0,
    )


def all_wheels():
    return [round_wheel(), undercut_wheel(), v_wheel()]
