"""The generated page of the independent comparisons: every number on it comes from data or answers."""

import turning
from compare import DISPLACEMENT, INSIDE, NAMES, PEAK, REFINED, STRESS
from explicit_model import COMPONENTS

LABELS = ("u", "v", "w", "σrr", "σθθ", "σzz", "τrθ", "τθz", "τrz")
assert len(LABELS) == len(NAMES) and COMPONENTS == ("rr", "tt", "zz", "rt", "tz", "rz")


def table(head, rows):
    lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    return lines + ["| " + " | ".join(row) + " |" for row in rows] + [""]


def share(x, digits=2):
    return f"{100 * x:.{digits}f} %"


def place(peak):
    return f"r {peak.at[0]:.2f}, z {peak.at[1]:.2f}", f"{peak.theta_deg:.1f}", str(peak.tag)


def text(comparisons, turns):
    misses = [miss for item in (*comparisons, turns) for miss in item.misses]
    lines = ["# rimproof against independent 3-D analyses", ""]
    lines += [
        "Written by `validation/independent.py`; not to be edited by hand. CI writes it again and compares it, up to",
        "one unit of the last printed digit (`validation/same_page.py`).",
        "",
        "The wheels are invented. The independent side is plain 3-D elasticity on curved 27-node hexahedra with shape",
        "functions and rules of scikit-fem: own section meshes, own quadrature of the ropes' pressure and drag, own",
        "recovery of stresses, no strain formula in cylindrical coordinates and no harmonic of the load. It shares with",
        "rimproof the drawing of the wheel, the material, and the statement of the loads.",
        "",
        f"Verdict: {'**' + str(len(misses)) + ' misses**' if misses else 'no miss'}.",
        "",
        *[f"- {miss}" for miss in misses],
        *([""] if misses else []),
    ]
    lines += summary(comparisons)
    lines += tolerances(comparisons)
    for comparison in comparisons:
        lines += wheel_section(comparison)
    lines += varying_section(turns)
    return "\n".join(lines).rstrip() + "\n"


def summary(comparisons):
    rows = [
        (
            c.wheel.title,
            f"{c.ours.peak.value:.2f}",
            f"{c.fine.peak.value:.2f}",
            share(c.peak_gap),
            share(c.gap[..., :3].max(), 3),
            share(c.gap[..., 3:].max()),
        )
        for c in comparisons
    ]
    head = ("wheel", "highest tension (MPa)", "independent (MPa)", "difference")
    return table((*head, "largest difference of displacements", "of stresses"), rows)


def tolerances(comparisons):
    planes = ", ".join(f"{c.turn_allowed:g}°" for c in comparisons)
    return [
        "## How near is near enough",
        "",
        f"- Stresses at the probes: {share(STRESS)} of the wheel's largest probed stress; displacements:",
        f"  {share(DISPLACEMENT)} of the largest probed displacement; highest tension: {share(PEAK)}.",
        "- Half of each belongs to rimproof, which must not move by more when its elements are made smaller by",
        f"  the factor {REFINED:g}; the other half belongs to the independent side, which must not move by more from its",
        "  coarse mesh to its fine one. Both are demanded at every probe, for every component, and for the peaks.",
        "- Places of the highest tension: one side of rimproof's elements there and half a triangle of the independent",
        "  section mesh, because each side finds its peak at a node and the tension is level at its peak; angles: one",
        f"  independent sector ({planes}), whose planes stand half a sector apart. Moreover the independent tension",
        f"  at rimproof's place and angle must reach {share(1 - PEAK)} of the independent peak.",
        "- The highest tension is searched over the surface of rim and web by both sides. Left out are the parts near",
        "  the held bore and, on pressed edges, the ends of the ropes and of their resting arcs, where the pressure jumps.",
        f"- Probes lie at least {INSIDE:g} mm inside the body.",
        "- The meshes below are those that CI can afford; `--finest` takes finer independent ones, by hand.",
        "- Printed: stresses to 0.01 or 0.001 MPa, places to 0.01 mm, angles to 0.1°, shares to 0.01 % or 0.001 %. Solvers",
        "  leave residuals of 1e-8 at most, so that another machine prints the same digits but for a last one.",
        "",
    ]


def wheel_section(c):
    wheel = c.wheel
    lines = [f"## {wheel.title}", "", f"Exercises: {wheel.exercises}.", ""]
    rows = [(name, f"{value:g}") for name, value in wheel.shape.items()]
    lines += table(("dimension (mm)", ""), rows)
    first, last = wheel.middle_deg - 0.5 * wheel.wrap_deg, wheel.middle_deg + 0.5 * wheel.wrap_deg
    creep = "the ropes creep over the whole wrap"
    if wheel.active_deg is not None:
        creep = f"the ropes rest first and creep over the last {wheel.active_deg:g}°"
    lines += [
        f"Young's modulus {wheel.young_mpa:g} MPa, Poisson's ratio {wheel.poisson:g}. The bore (r {wheel.bore_r:g} mm) is held in all",
        f"directions. Ropes from θ = {first:g}° (heavy side) to {last:g}°; {creep}.",
        "",
    ]
    rows = [
        (
            ", ".join(rope.tags),
            f"{rope.heavy_n:g}",
            f"{rope.light_n:g}",
            rope.law,
            f"{rope.moment_r:g}",
        )
        for rope in wheel.ropes
    ]
    lines += table(("rope on", "heavy (N)", "light (N)", "pressure", "radius of the drag's moment (mm)"), rows)
    lines += discretisation(c) + peaks(c) + components(c) + probes(c)
    return lines


def discretisation(c):
    rows = [
        (label, f"{side.triangles} six-node triangles, {side.nodes} nodes, harmonics 0 to {side.harmonics}")
        for label, side in (("rimproof", c.ours), ("rimproof, finer", c.refined))
    ]
    for label, side, mesh in zip(("independent, coarse", "independent, fine"), (c.coarse, c.fine), c.meshes):
        finest = "" if mesh.finest == mesh.largest else f" ({mesh.finest / 2:g} mm at the small radii and seats)"
        rows.append(
            (
                label,
                f"{side.section_cells} quadrilaterals of {mesh.largest / 2:g} mm{finest} in {side.sectors} sectors: "
                f"{side.hexahedra} hexahedra, {side.unknowns} unknowns",
            )
        )
    rows.append(("searched", f"r ≥ {c.wheel.search_r:g} mm"))
    rows += [("not searched by rimproof", f"{reason} ({mm:.1f} mm)") for reason, mm in c.ours.left_out]
    angles = ", ".join(f"{angle:g}°" for angle in c.wheel.jumps_deg())
    skip = f"pressed edges within {c.wheel.skip_deg:g}° of {angles}"
    return table(("side", "discretisation"), [*rows, ("not searched by the independent side", skip)])


def peaks(c):
    labels = ("rimproof", "rimproof, finer", "independent, coarse", "independent, fine")
    rows = [(label, f"{side.peak.value:.3f}", *place(side.peak)) for label, side in zip(labels, c.sides())]
    lines = ["Highest tension:", ""]
    lines += table(("side", "MPa", "place (mm)", "θ (°)", "on"), rows)
    rows = [
        ("rimproof against independent, fine", share(c.peak_gap), share(PEAK)),
        ("rimproof, finer mesh against its own", share(c.peak_own), share(0.5 * PEAK)),
        ("independent, coarse against fine", share(c.peak_other), share(0.5 * PEAK)),
        ("distance of the two places", f"{c.distance:.2f} mm", f"{c.distance_allowed:.2f} mm"),
        ("difference of the two angles", f"{c.turn:.1f}°", f"{c.turn_allowed:.1f}°"),
        ("independent tension at rimproof's place, of its peak", share(c.there), f"at least {share(1 - PEAK)}"),
    ]
    return lines + table(("comparison", "found", "allowed"), rows)


def components(c):
    rows = []
    for i, label in enumerate(LABELS):
        gap, name, angle, (p, a) = c.worst(i)
        digits = 6 if i < 3 else 3
        values = (f"{side.probes[p, a, i]:.{digits}f}" for side in (c.ours, c.fine))
        moves = share(c.own[..., i].max(), 3), share(c.other[..., i].max(), 3)
        rows.append((label, share(gap, 3), share(c.shares[i]), *values, f"{name}, θ {angle:g}°", *moves))
    kinds = f"{c.scales[0]:.5f} mm and {c.scales[3]:.2f} MPa"
    head = ("component", "largest difference", "allowed", "rimproof", "independent", "where")
    moves = ("rimproof's own move, largest", "independent's own move, largest")
    where = f"Probes: largest differences, in shares of the largest displacement and stress probed ({kinds}); mm and MPa:"
    return [where, "", *table((*head, *moves), rows)]


def probes(c):
    rows = []
    for p, (name, at) in enumerate(c.wheel.places.items()):
        angle, ours, fine = c.largest_tension(p)
        worst = share(c.gap[p, :, :3].max(), 3), share(c.gap[p, :, 3:].max())
        rows.append((name, f"{at[0]:g}", f"{at[1]:g}", f"{angle:g}", f"{ours:.3f}", f"{fine:.3f}", *worst))
    angles = ", ".join(f"{angle:g}" for angle in c.wheel.angles_deg)
    lines = [
        f"The {len(rows)} places, each at θ = {angles}°: the angle of the highest principal stress and its value (MPa) on both",
        "sides, and the largest differences over all angles and components:",
        "",
    ]
    head = ("place", "r (mm)", "z (mm)", "θ (°)", "rimproof", "independent", "displacements", "stresses")
    return lines + table(head, rows)


def varying_section(t):
    side, wheel = t.independent, turning.mean_wheel()
    under = wheel.shape["radius of the underside"]
    seat = min(rope.seat_r for rope in wheel.ropes)
    wall = seat - under
    lines = [
        "## A wall that varies around the wheel",
        "",
        f"{wheel.title} as above, cast with a shifted core: the underside and its fillets stand at {under:g} mm + {turning.SHIFT_MM:g} mm ×",
        f"cos(θ − θs), so that the wall under the grooves varies from {wall - turning.SHIFT_MM:g} to {wall + turning.SHIFT_MM:g} mm; all else is as it was.",
        "The independent side solves this in true 3-D, every sector another shape, by conjugate gradients to a residual of",
        f"{turning.RESIDUAL:g}, preconditioned with the ring of the mean wall ({side.hexahedra} hexahedra in {side.sectors} sectors, {side.moved} of them moved,",
        f"{side.unknowns} unknowns, {side.steps} steps). Without a shift it gives the ring's displacements within {turning.SAME:g} of the largest.",
        "rimproof models such a wheel by its thinnest wall all round.",
        "",
    ]
    rows = [(f"{angle}", f"{peak.value:.2f}", *place(peak)) for angle, peak in side.turns]
    head = ("thin spot at θs (°)", "highest tension (MPa)", "place, before the shift (mm)", "θ (°)", "on")
    lines += table(head, rows)
    rows = [
        ("true wheel, highest over the turn (independent)", f"{t.worst.value:.2f}", f"θs = {t.worst_deg}°", ""),
        (
            "thinnest wall all round, rimproof",
            f"{t.thin.peak.value:.2f}",
            f"{share(t.thin_gap)} from the independent {side.thin.value:.2f}",
            f"{t.thin_ratio:.3f}",
        ),
        ("thinnest wall all round, independent, same mesh", f"{side.thin.value:.2f}", "", f"{t.own_ratio:.3f}"),
        (
            "mean wall all round, rimproof",
            f"{t.mean.peak.value:.2f}",
            f"{share(t.mean_gap)} from the independent {side.mean.value:.2f}",
            f"{t.mean_ratio:.3f}",
        ),
    ]
    lines += table(("wheel", "highest tension (MPa)", "", "over the true highest"), rows)
    lines += [
        f"Demanded: the two wheels of equal wall agree within {share(PEAK)}, and the thinnest wall all round gives no less than",
        f"{share(1 - PEAK)} of the true wheel's highest tension, the rest being what the two sides may err. The mean wall",
        "is shown because it must not be used.",
        "",
    ]
    return lines
