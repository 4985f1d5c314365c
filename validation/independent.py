"""rimproof against independent 3-D analyses of invented wheels.

Usage: independent.py RIMPROOF-BINARY PAGE.md [--finest] [--jobs N]

Solves three grooved wheels and one whose wall varies around it, each with rimproof and with plain 3-D
elasticity on curved 27-node hexahedra (own section meshes, own quadrature of the ropes' pressure, no
harmonic of the load anywhere), prints how far the two differ, writes PAGE.md, and exits with 1 when
anything differs by more than the stated tolerances (compare.py). --finest takes finer independent
meshes than the page's. Units: mm, N, MPa, degrees.
"""

import argparse
import multiprocessing
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

# The matrices are small: threads would only wait for each other.
for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import explicit_model
import page
import turning
from compare import NAMES, REFINED, Comparison, Independent
from wheels import all_wheels


def meshes(wheel, finest):
    return (wheel.fine, wheel.finest) if finest else (wheel.coarse, wheel.fine)


def solve_all(binary, finest, jobs):
    """Every comparison; the independent analyses run side by side, the longest first."""
    wheels = all_wheels()
    ours = [explicit_model.solve(binary, wheel) for wheel in wheels]
    refined = [explicit_model.solve(binary, wheel, REFINED) for wheel in wheels]
    alike = [explicit_model.solve(binary, turning.alike(change)) for change in (0.0, turning.SHIFT_MM)]
    print("rimproof has solved its models.", flush=True)
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(jobs, mp_context=context) as pool:
        turned = pool.submit(turning.Independent, turning.FINE_MESH if finest else turning.MESH)
        tasks = {
            (w, m): pool.submit(Independent, wheel, meshes(wheel, finest)[m], ours[w].peak)
            for m in (1, 0)
            for w, wheel in enumerate(wheels)
        }
        comparisons = []
        for w, wheel in enumerate(wheels):
            sides = ours[w], refined[w], tasks[w, 0].result(), tasks[w, 1].result()
            comparisons.append(Comparison(wheel, *sides, meshes(wheel, finest)))
            show(comparisons[-1])
        turns = turning.Turning(*alike, turned.result())
    show_turning(turns)
    return comparisons, turns


def show(c):
    print(f"\n{c.wheel.title}: {len(c.wheel.places)} places at {len(c.wheel.angles_deg)} angles")
    print(f"{'largest differences, % of the largest value':48}" + "".join(f"{name:>8}" for name in NAMES))
    rows = (
        ("rimproof against independent", c.gap.max(axis=(0, 1))),
        ("rimproof, its mesh against a finer one", c.own.max(axis=(0, 1))),
        ("independent, coarse against fine", c.other.max(axis=(0, 1))),
        ("allowed for the first", c.shares),
    )
    for label, row in rows:
        print(f"  {label:46}" + "".join(f"{100 * x:8.3f}" for x in row))
    for label, side in zip(("rimproof", "rimproof, finer", "independent, coarse", "independent, fine"), c.sides()):
        p = side.peak
        place = f"r {p.at[0]:.2f}, z {p.at[1]:.2f} mm, theta {p.theta_deg:.1f}, on {p.tag}"
        print(f"  highest tension, {label:22}{p.value:9.4f} MPa at {place}")
    print(f"  at rimproof's place the independent side has {c.there:.2%} of its highest tension")
    tell(c.misses)


def show_turning(t):
    side = t.independent
    print(f"\nVarying wall: underside shifted by {turning.SHIFT_MM} mm; {side.steps} steps of conjugate gradients")
    print(f"  without a shift: {side.plain_gap:.1e} from the ring after {side.plain_steps} steps")
    for angle, peak in side.turns:
        place = f"r {peak.at[0]:.2f}, z {peak.at[1]:.2f} mm, theta {peak.theta_deg:.1f}, on {peak.tag}"
        print(f"  thin spot at {angle:5}: {peak.value:8.4f} MPa at {place}")
    for label, ours, theirs, ratio in (
        ("mean wall all round", t.mean, side.mean, t.mean_ratio),
        ("thinnest wall all round", t.thin, side.thin, t.thin_ratio),
    ):
        values = f"rimproof {ours.peak.value:8.4f}, independent {theirs.value:8.4f} MPa"
        print(f"  {label:24} {values}; rimproof over the true highest {ratio:.4f}")
    tell(t.misses)


def tell(misses):
    for miss in misses:
        print(f"  MISS {miss}")
    sys.stdout.flush()


def main():
    parser = argparse.ArgumentParser(usage=__doc__)
    parser.add_argument("binary")
    parser.add_argument("page", type=Path)
    parser.add_argument("--finest", action="store_true")
    parser.add_argument("--jobs", type=int, default=2)
    options = parser.parse_args()
    comparisons, turns = solve_all(options.binary, options.finest, options.jobs)
    options.page.write_text(page.text(comparisons, turns), encoding="utf-8")
    misses = sum(len(item.misses) for item in (*comparisons, turns))
    print(f"\n{misses} misses" if misses else "\nNo miss.")
    sys.exit(1 if misses else 0)


if __name__ == "__main__":
    main()
