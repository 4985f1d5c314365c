"""The page that error_bar.py writes: what the error bar holds, as tables of Markdown."""

import numpy as np

HEAD = """# The error bar against an independent analysis

Written by `validation/error_bar.py`; not to be edited by hand. CI writes it again and compares it, up to
one unit of the last printed digit (`validation/same_page.py`).

The wheels are invented: three demos, and two wheels of the study `rimproof verify error-bar`. `rimproof check` judges
each survey, prints the highest tension with its error bar, and writes the explicit model (`--model`). The independent
side reads that model, and shares with rimproof only it and the statement of the loads: own meshes of curved triangles
with cubic shape functions of scikit-fem (rimproof's are quadratic), own weak form from the strains in cylindrical coordinates
(`validation/harmonics.py`), own quadrature of the cosine and flank pressure, of the drag and of the Fourier coefficients
of the tension with its run-in, scipy's direct solver, own search over the whole outline and all angles with the cells'
own stresses (`validation/peak_search.py`). `validation/INDEPENDENT.md` tests the harmonics themselves, in three
dimensions.
"""

HOW = """## How near is near enough

- An independent peak has three meshes. The first is coarse and tells where the tension is high; the other two are drawn
  finer there, the last with all wanted sides half as long. What the peak moves between the last two, and what it moves
  when the last quarter of its harmonics is left out, are added and taken for the independent side's own doubt, though
  what is left of an error after such a halving is less. It must stay within {settled:.1f} % of the peak.
- The error is rimproof's peak less the independent one. It must lie within rimproof's bar and the independent doubt, or
  the script ends with 1; the table says beside it whether it lies within the bar alone.
- Bar over error tells how wide the bar is; the least is with the error larger by the independent doubt.
- The independent side searches the outline above the radius below which rimproof does not search; rimproof searches the
  inside too. A wheel with two like sides may have its peak on either.
- With a deliberate fault in the weak form the independent peak must lie outside, and without it inside.
"""


def table(head, rows):
    lines = ["| " + " | ".join(head) + " |", "|" + "---|" * len(head)]
    return "\n".join(lines + ["| " + " | ".join(row) + " |" for row in rows]) + "\n"


def inside(c):
    if abs(c.error) + c.doubt <= c.ours.bar:
        return "yes"
    if abs(c.error) <= c.ours.bar:
        return "yes, but for the doubt"
    return "within bar and doubt" if c.holds(c.peak.value) else "NO"


def summary(compared):
    rows = [
        (
            c.wheel.title,
            f"{c.ours.value:.3f} ± {c.ours.bar:.3f}",
            f"{c.peak.value:.4f} ± {c.doubt:.4f}",
            f"{c.error:+.3f}",
            f"{100 * c.error / c.peak.value:+.2f} %",
            inside(c),
            f"{c.ratio()[0]:.1f}",
            f"{c.ratio()[1]:.1f}",
        )
        for c in compared
    ]
    head = "wheel", "rimproof (MPa)", "independent (MPa)", "error (MPa)", "error", "inside the bar", "bar over error"
    return table((*head, "least"), rows)


def place(at, theta_deg):
    return f"r {at[0]:.2f}, z {at[1]:.2f}", f"{theta_deg:.1f}"


def wheel(c):
    mesh, ours = c.ours.mesh, c.ours
    beside = [
        f"{name} {mesh[key]:.3f}"
        for name, key in (
            ("step between meshes", "step_error_mpa"),
            ("disagreement of elements", "disagreement_error_mpa"),
            ("stress across the free surface", "surface_error_mpa"),
            ("errors far away, by the energy", "energy_error_mpa"),
        )
        if mesh[key] is not None
    ]
    made = ", ".join(beside)
    steps = [
        (f"{triangles}", f"{unknowns}", f"{side:.2f}", f"{last}", f"{value:.4f}")
        for triangles, unknowns, side, last, value in c.steps
    ]
    text = [
        f"## {c.wheel.title}\n\nSurvey: `{c.wheel.survey}`. rimproof's place: {ours.words}.\n",
        table(
            ("side", "highest tension (MPa)", "place (mm)", "θ (°)"),
            (
                ("rimproof", f"{ours.value:.3f}", *place(ours.at, ours.theta_deg)),
                ("independent", f"{c.peak.value:.3f}", *place(c.peak.at, c.peak.theta_deg)),
                ("independent, at rimproof's place", f"{c.there:.3f}", *place(ours.at, ours.theta_deg)),
            ),
        ),
        f"Bar of {ours.bar:.3f} MPa, {100 * ours.bar / ours.value:.2f} % of the peak: series {ours.series:.3f}, "
        f"{made} MPa. Error in energy {100 * mesh['energy_error_ratio']:.1f} %.\n",
        table(("independent: triangles", "unknowns", "side at the peak (mm)", "last harmonic", "MPa"), steps),
        f"Independent doubt: {c.mesh_part:.4f} MPa from the mesh, {c.series_part:.4f} MPa from the series.\n",
    ]
    return "\n".join(text)


def faults(compared):
    text = ["## Deliberate faults\n", "On the independent side's second mesh, to harmonic 48.\n"]
    for c in compared:
        if not c.faults:
            continue
        rows = []
        for fault, value, held in c.faults:
            right = "yes" if held == (fault is None) else "NO"
            rows.append((fault or "none", f"{value:.2f}", "inside" if held else "outside", right))
        text.append(f"{c.wheel.title}: rimproof {c.ours.value:.2f} ± {c.ours.bar:.2f} MPa.\n")
        text.append(table(("fault", "independent (MPa)", "bar and doubt", "as it must be"), rows))
    return "\n".join(text)


def text(compared, settled):
    misses = [miss for c in compared for miss in c.misses]
    verdict = "Verdict: no miss." if not misses else "Verdict: " + "; ".join(misses)
    ratios = [c.ratio()[0] for c in compared]
    return "\n".join(
        [
            HEAD,
            verdict + "\n",
            summary(compared),
            f"The middle one of the ratios of bar to error is {np.median(ratios):.1f}.\n",
            HOW.format(settled=100 * settled),
            *(wheel(c) for c in compared),
            faults(compared),
        ]
    )
