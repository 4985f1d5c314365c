"""An explicit model file, as `rimproof check SURVEY --model FILE` writes it, read for the outside checks.

Only what a check of a sheave writes is read: loops of lines and arcs, one metal, faces held in every
direction, ropes. Units: mm, N, MPa, degrees.
"""

import tomllib
from dataclasses import dataclass
from pathlib import Path

from outline import Arc, Line

HELD = {"r", "theta", "z"}


@dataclass
class Rope:
    """One rope: the edges it presses, its two tensions, its wrap, and how its pressure spreads."""

    tags: tuple
    heavy_n: float
    light_n: float
    wrap_deg: float
    middle_deg: float
    law: str
    centre: tuple | None
    moment_r: float
    # Angle over which the jumps at the ends of the wrap are spread.
    run_in_rad: float


class Model:
    """`loops`: lists of (tag, edge), the outside first; `ropes`; `search_r`: nothing nearer to the axis is searched."""

    def __init__(self, path):
        file = tomllib.loads(Path(path).read_text(encoding="utf-8"))
        self.young_mpa, self.poisson = file["material"]["young_mpa"], file["material"]["poisson"]
        self.loops = [loop_of(table) for table in file["loop"]]
        for support in file["support"]:
            if set(support["hold"]) != HELD:
                raise SystemExit(f"{path}: a face that is held in part is not read")
        self.held_tags = {support["tag"] for support in file["support"]}
        for table in ("load", "heat", "spin"):
            if table in file:
                raise SystemExit(f"{path}: a model with a table {table} is not read")
        self.ropes = [rope_of(table) for table in file["rope"]]
        self.search_r = file["search"]["below_r_mm"]

    def edges(self):
        return [pair for loop in self.loops for pair in loop]

    def edges_with(self, tags):
        return [edge for tag, edge in self.edges() if tag in tags]


def loop_of(table):
    at, edges = table["start"], []
    for row in table["edges"]:
        if "centre" in row:
            edge = Arc(at, row["to"], row["centre"], row["turn"] == "left")
        else:
            edge = Line(at, row["to"])
        edges.append((row["tag"], edge))
        at = row["to"]
    return edges


def rope_of(table):
    if table.get("creep", "whole wrap") != "whole wrap":
        raise SystemExit("a rope with a resting arc is not read")
    return Rope(
        tags=tuple(table.get("tags", [table.get("tag")])),
        heavy_n=table["heavy_n"],
        light_n=table["light_n"],
        wrap_deg=table["wrap_deg"],
        middle_deg=table.get("middle_deg", 0.0),
        law=table["law"],
        centre=tuple(table["centre"]) if "centre" in table else None,
        moment_r=table["moment_radius_mm"],
        run_in_rad=table.get("run_in_mm", 0.0) / table["seat_radius_mm"],
    )
