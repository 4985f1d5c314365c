"""The error bar of a check's peak stress against an independent analysis that is converged by itself.

Usage: error_bar.py RIMPROOF-BINARY [PAGE.md] [--jobs N]

For five invented wheels: `check --json --model` gives rimproof's peak with its bar and the explicit model;
the independent side (harmonics.py, peak_search.py) draws its own meshes of that model, solves its own
harmonics, and finds its own highest tension, first on a coarse mesh, then twice on meshes drawn finer where
that was found. Prints and writes whether the bar holds the independent value. Exit code 1 when one does not,
when the independent side has not settled, or when a deliberate fault of its own goes unnoticed.
Units: mm, N, MPa, degrees.
"""

import argparse
import json
import multiprocessing
import os
import subprocess
import sys
import tempfile
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path

# The matrices are small: threads would only wait for each other.
for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS"):
    os.environ.setdefault(name, "1")

import numpy as np

import error_bar_page
from harmonics import FAULTS, Course, Section
from model_file import Model
from peak_search import Outline, at_angles, highest, principal
from section_mesh import Sizes

ROOT = Path(__file__).resolve().parent.parent
# Share of the highest tension above which a place of one mesh is drawn finer in the next.
HOT = 0.85
# Of the two meshes that count: sides at the hot places, as shares of the edges there on the first mesh, and largest
# sides, as shares of the wheel's. Everything is halved, because a web that is drawn too coarsely moves the peak
# from afar, however fine the mesh is there.
SHARES, LARGEST = (0.25, 0.125), (0.8, 0.4)
# Sides at the fillets between web, rim and hub, as a share of the largest.
FILLETS = 1.0 / 6.0
# Highest harmonics of the first mesh, and of the two that count.
FIRST, LAST = 48, 80
# What the independent peak may move from its last mesh but one to its last, and by its last quarter of harmonics.
SETTLED = 0.002


@dataclass
class Wheel:
    title: str
    survey: str
    # Largest side of a triangle on the first mesh.
    largest: float
    faults: bool = False


# The longest first, for they are solved side by side.
WHEELS = (
    Wheel("Undercut grooves, slot corner (harbour)", "meshes/harbour.toml", 14.0),
    Wheel("Two webs, cored cavity (study)", "validation/surveys/two_webs.toml", 16.0),
    Wheel("V grooves (study)", "validation/surveys/v_grooves.toml", 14.0),
    Wheel("Deflector, thin wall", "meshes/deflector.toml", 12.0, faults=True),
    Wheel("V grooves worn round (granary)", "meshes/granary.toml", 8.0),
)


class Checked:
    """rimproof's side: peak, bar, what the bar is made of, and the model that was solved."""

    def __init__(self, binary, wheel):
        with tempfile.TemporaryDirectory() as folder:
            answer, model = Path(folder, "wheel.json"), Path(folder, "wheel.toml")
            command = [binary, "check", ROOT / wheel.survey, "--brief", "--json", answer, "--model", model]
            done = subprocess.run(command, capture_output=True)
            if done.returncode not in (0, 1, 3):
                raise SystemExit(f"rimproof gave no verdict (exit {done.returncode}):\n{done.stderr.decode()}")
            result = json.loads(answer.read_text(encoding="utf-8"))["result"]
            self.model = Model(model)
        governing, self.mesh = result["governing"], result["convergence"]["meshes"][-1]
        peak = governing["peak"]
        self.value, self.bar = peak["principal_mpa"][0], governing["bound_mpa"]
        self.at = np.array([peak["at"]["r_mm"], peak["at"]["z_mm"]])
        self.theta_deg, self.words = np.degrees(peak["theta_rad"]), governing["peak_words"]
        self.series = governing["series_bound_mpa"]


class Mesh:
    """The independent peak on one mesh."""

    def __init__(self, model, sizes, most, fault=None):
        section = Section(model, sizes, fault)
        self.outline = Outline(section, most)
        courses = np.array([Course(rope, most).coefficients() for rope in model.ropes])
        for n in range(most + 1):
            self.outline.add(n, section.solve(n, courses[:, n]))
        self.waves = self.outline.settled()
        self.peak, self.tension = highest(self.outline, self.waves)
        self.triangles, self.unknowns, self.last = section.mesh.nelements, len(section.free), most
        near = np.linalg.norm(self.outline.at - self.peak.at, axis=-1).min(axis=1).argmin()
        self.side = self.outline.side(near)

    def hot(self):
        """Points with nearly the highest tension, and the length of their edges."""
        chosen = np.argwhere(self.tension >= HOT * self.peak.value)
        return [(self.outline.at[edge, point], self.outline.side(edge)) for edge, point in chosen]

    def shortened(self):
        """The peak when the last quarter of the harmonics is left out."""
        return highest(self.outline, self.waves[: 3 * self.last // 4 + 1])[0].value

    def at_place(self, at, theta_deg):
        """The highest principal stress at the outline's point nearest to a place, at an angle."""
        spot = np.linalg.norm(self.outline.at - at, axis=-1)
        edge, point = np.unravel_index(spot.argmin(), spot.shape)
        return principal(at_angles(self.waves[:, edge, point], np.radians([theta_deg])))[0]


class Compared:
    """rimproof's peak and bar beside the independent peak; `misses` says what does not hold."""

    def __init__(self, binary, number):
        self.wheel = wheel = WHEELS[number]
        self.ours = ours = Checked(binary, wheel)
        first = Mesh(ours.model, Sizes(wheel.largest), FIRST)
        hot, fillets = first.hot(), [edge for tag, edge in ours.model.edges() if "fillet" in tag]
        sizes = []
        for largest, share in zip(wheel.largest * np.array(LARGEST), SHARES):
            bends = [(at, FILLETS * largest) for edge in fillets for at in edge.at(np.linspace(0.0, 1.0, 7))]
            sizes.append(Sizes(largest, [*((at, share * side) for at, side in hot), *bends]))
        meshes = [first, *(Mesh(ours.model, size, LAST) for size in sizes)]
        last = meshes[-1]
        self.steps = [(m.triangles, m.unknowns, m.side, m.last, m.peak.value) for m in meshes]
        self.peak = last.peak
        self.mesh_part = abs(last.peak.value - meshes[-2].peak.value)
        self.series_part = abs(last.peak.value - last.shortened())
        self.doubt = self.mesh_part + self.series_part
        self.error = ours.value - last.peak.value
        self.there = last.at_place(ours.at, ours.theta_deg)
        self.faults = []
        if wheel.faults:
            for fault in (None, *FAULTS):
                peak = Mesh(ours.model, sizes[0], FIRST, fault).peak
                self.faults.append((fault, peak.value, self.holds(peak.value)))
        del ours.model
        self.judge()

    def holds(self, value):
        """Whether an independent value lies within the bar and its own doubt. Never with what is not a number."""
        return bool(abs(self.ours.value - value) <= self.ours.bar + self.doubt)

    def ratio(self):
        """Bar over error, and the least that it can be within the independent doubt."""
        return self.ours.bar / abs(self.error), self.ours.bar / (abs(self.error) + self.doubt)

    def judge(self):
        self.misses = []
        settled = self.doubt <= SETTLED * self.peak.value
        self.need(settled, f"the independent peak has not settled: ±{self.doubt:.4f} MPa")
        holds = self.holds(self.peak.value)
        self.need(holds, f"the bar of {self.ours.bar:.4f} MPa does not hold an error of {self.error:.4f}")
        for fault, value, held in self.faults:
            self.need(held == (fault is None), f"with {fault or 'no fault'}: {value:.4f} MPa")

    def need(self, holds, what):
        if not holds:
            self.misses.append(f"{self.wheel.title}: {what}")


def show(c):
    print(f"\n{c.wheel.title}")
    for triangles, unknowns, side, last, value in c.steps:
        print(f"  independent: {triangles} triangles, side {side:.3f} mm, harmonics to {last}: {value:.4f} MPa")
    place = f"r {c.peak.at[0]:.2f}, z {c.peak.at[1]:.2f} mm, theta {c.peak.theta_deg:.1f}"
    print(f"  independent {c.peak.value:.4f} ± {c.doubt:.4f} MPa at {place}; at rimproof's place {c.there:.4f}")
    place = f"r {c.ours.at[0]:.2f}, z {c.ours.at[1]:.2f} mm, theta {c.ours.theta_deg:.1f}"
    print(f"  rimproof    {c.ours.value:.4f} ± {c.ours.bar:.4f} MPa at {place}")
    print(f"  error {c.error:+.4f} MPa; bar over error {c.ratio()[0]:.1f}, at least {c.ratio()[1]:.1f}")
    for fault, value, held in c.faults:
        print(f"  with {fault or 'no fault'}: {value:.4f} MPa, {'within' if held else 'outside'}")
    for miss in c.misses:
        print(f"  MISS {miss}")
    sys.stdout.flush()


def main():
    parser = argparse.ArgumentParser(usage=__doc__)
    parser.add_argument("binary")
    parser.add_argument("page", type=Path, nargs="?")
    parser.add_argument("--jobs", type=int, default=2)
    options = parser.parse_args()
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(options.jobs, mp_context=context) as pool:
        tasks = [pool.submit(Compared, options.binary, number) for number in range(len(WHEELS))]
        compared = []
        for task in tasks:
            compared.append(task.result())
            show(compared[-1])
    if options.page:
        options.page.write_text(error_bar_page.text(compared, SETTLED), encoding="utf-8")
    misses = sum(len(item.misses) for item in compared)
    print(f"\n{misses} misses" if misses else "\nNo miss.")
    sys.exit(1 if misses else 0)


if __name__ == "__main__":
    main()
