"""rimproof's side: the same wheel as an explicit model, and what `solve` answers."""

import json
import subprocess
import tempfile
from pathlib import Path

import numpy as np

from outline import Arc
from surface import Peak

COMPONENTS = ("rr", "tt", "zz", "rt", "tz", "rz")


def pair(point):
    return f"[{float(point[0])!r}, {float(point[1])!r}]"


def model_file(wheel, refined=1.0):
    """The model's text; `refined` scales the sides of its elements."""
    rows = []
    for tag, edge in wheel.edges:
        arc = ""
        if isinstance(edge, Arc):
            arc = f', centre = {pair(edge.centre)}, turn = "{"left" if edge.left else "right"}"'
        rows.append(f'    {{ to = {pair(edge.end)}{arc}, tag = "{tag}" }},')
    mesh = wheel.rimproof_mesh
    finest = mesh.get("finest_mm", 0.0) * refined
    sizes = ", ".join(f'{{ tag = "{tag}", size_mm = {finest!r} }}' for tag in wheel.small)
    text = [
        f'model = 1\ntitle = "{wheel.title}"',
        f"[material]\nyoung_mpa = {wheel.young_mpa}\npoisson = {wheel.poisson}",
        f"[[loop]]\nstart = {pair(wheel.edges[0][1].start)}\nedges = [",
        *rows,
        "]",
        f"[mesh]\nlargest_mm = {mesh['largest_mm'] * refined!r}\nfillet_step_deg = 12.0\narc_step_deg = 12.0\n"
        f"tag_sizes = [{sizes}]",
        '[[support]]\ntag = "bore"\nhold = ["r", "theta", "z"]',
    ]
    for rope in wheel.ropes:
        tags = ", ".join(f'"{tag}"' for tag in rope.tags)
        creep = 'creep = "whole wrap"'
        if wheel.active_deg is not None:
            creep = f'creep = "active arc at light side"\nfriction = {wheel.friction(rope)!r}'
        centre = f"\ncentre = {pair(rope.centre)}" if rope.centre else ""
        text.append(
            f"[[rope]]\ntags = [{tags}]\nheavy_n = {rope.heavy_n}\nlight_n = {rope.light_n}\n"
            f"wrap_deg = {wheel.wrap_deg}\nmiddle_deg = {wheel.middle_deg}\n"
            f"seat_radius_mm = {rope.seat_r!r}\nmoment_radius_mm = {rope.moment_r!r}\n"
            f'law = "{rope.law}"{centre}\n{creep}'
        )
    text.append("[series]\nblock = 40\nleast = 160\nmost = 480\ntolerance = 0.001")
    text.append(f"[search]\nbelow_r_mm = {wheel.search_r}")
    angles = ", ".join(str(angle) for angle in wheel.angles_deg)
    for name, at in wheel.places.items():
        text.append(f'[[probe]]\nname = "{name}"\nat = {pair(at)}\ntheta_deg = [{angles}]')
    return "\n".join(text) + "\n"


class Answer:
    """`probes` (place, angle, 9): displacements, then stresses; `peak`; sizes of the discretisation."""

    def __init__(self, wheel, file):
        found = {}
        for probe in file["probes"]:
            stress = [probe["stress_mpa"][name] for name in COMPONENTS]
            found[probe["name"], round(probe["theta_deg"], 6)] = [*probe["displacement_mm"], *stress]
        self.probes = np.array([[found[name, angle] for angle in wheel.angles_deg] for name in wheel.places])
        peak = file["cases"][0]["peak"]
        on = " and ".join(peak["on"]) or "inside"
        self.peak = Peak(peak["principal_mpa"][0], (peak["r_mm"], peak["z_mm"]), peak["theta_deg"], on)
        self.triangles, self.nodes = file["mesh"]["triangles"], file["mesh"]["nodes"]
        self.harmonics = file["last_harmonic"]
        self.left_out = [(item["reason"], item["distance_mm"]) for item in file["not_searched"]]


def solve(binary, wheel, refined=1.0):
    with tempfile.TemporaryDirectory() as folder:
        model, answer = Path(folder, "wheel.toml"), Path(folder, "wheel.json")
        model.write_text(model_file(wheel, refined), encoding="utf-8")
        done = subprocess.run([binary, "solve", model, "--json", answer, "--quiet"], capture_output=True)
        if done.returncode != 0:
            raise SystemExit(f"rimproof gave no solution (exit {done.returncode}):\n{done.stderr.decode()}")
        return Answer(wheel, json.loads(answer.read_text(encoding="utf-8")))
