"""A grooved wheel as one whole 3-D body, by the finite elements of ngsolve: what it costs to get its peak.

Usage: speed_solid.py WHEEL LARGEST FINEST ORDER THREADS

WHEEL is a key of wheels.py; LARGEST and FINEST are element sides in mm, the second along its small radii. The
section is revolved, meshed with curved tetrahedra and solved by conjugate gradients; the ropes press as in
rope_load.py. Prints one line of JSON with the highest tension, the unknowns and the seconds of every stage.
Units: mm, N, MPa, rad.
"""

import json
import sys
import time

import netgen.occ as occ
import numpy as np
from ngsolve import (
    CF, H1, BilinearForm, Grad, GridFunction, Id, IfPos, InnerProduct, IntegrationRule, LinearForm, Mesh,
    Preconditioner, SetNumThreads, Sym, TaskManager, Trace, VectorH1, atan2, ds, dx, exp, specialcf, sqrt, x, y, z,
)
from ngsolve.krylovspace import CGSolver

import rope_load
from outline import Arc
from wheels import all_wheels

# Steps of conjugate gradients stop at this residual, far below what the mesh errs by.
RESIDUAL = 1e-7


def shape(wheel, finest):
    """The revolved body; every face carries the tag of the edge that it was made from."""
    at = lambda p: occ.Pnt(float(p[0]), 0.0, float(p[1]))
    edges = []
    for _, edge in wheel.edges:
        if isinstance(edge, Arc):
            edges.append(occ.ArcOfCircle(*(at(p) for p in (edge.start, edge.at(0.5), edge.end))))
        else:
            edges.append(occ.Segment(at(edge.start), at(edge.end)))
    face = occ.Face(occ.Wire(edges))
    body = occ.Revolve(face, occ.Axis(occ.Pnt(0, 0, 0), occ.Z), 360)
    small = {*wheel.small}
    for side in body.faces:
        side.name = tag_of(side, wheel)
        if side.name in small:
            side.maxh = finest
    return body


def tag_of(side, wheel):
    """The edge whose ends are the circles that bound a face."""
    ends = {(round(float(np.hypot(p.x, p.y)), 6), round(float(p.z), 6)) for p in (v.p for v in side.vertices)}
    for tag, edge in wheel.edges:
        if ends == {tuple(round(float(c), 6) for c in p) for p in (edge.start, edge.end)}:
            return tag
    raise SystemExit(f"a face of the body belongs to no edge: {ends}")


def traction(wheel, rope, tag, edge, radius, theta):
    """Force per area on one pressed edge, Cartesian."""
    edges = [e for t, e in wheel.edges if t in rope.tags]
    bearing, moment = rope_load.sums(rope, edges)
    turned = theta - np.radians(wheel.middle_deg - 0.5 * wheel.wrap_deg)
    wrap = np.radians(wheel.wrap_deg)
    decay = np.log(rope.heavy_n / rope.light_n) / wrap
    active = turned
    if wheel.active_deg is not None:
        decay, rests = wheel.friction(rope), wrap - np.radians(wheel.active_deg)
        active = IfPos(turned - rests, turned - rests, 0.0)
        decay = IfPos(turned - rests, decay, 0.0)
    tension = IfPos(turned, IfPos(wrap - turned, 1.0, 0.0), 0.0) * rope.heavy_n * exp(-decay * active)
    if rope.law == "uniform":
        share = CF(1.0)
    else:
        centre_r, centre_z = rope.centre
        share = (centre_r - radius) / sqrt((centre_r - radius) ** 2 + (centre_z - z) ** 2)
    inward = -specialcf.normal(3)
    drag = -decay * tension * share * rope.moment_r / moment
    around = CF((-y / radius, x / radius, 0.0))
    return tension * share / bearing * inward + drag * around


def solve(wheel, largest, finest, order, clock):
    ngmesh = occ.OCCGeometry(shape(wheel, finest)).GenerateMesh(maxh=largest, grading=0.5)
    mesh = Mesh(ngmesh)
    mesh.Curve(order)
    clock("mesh")
    space = VectorH1(mesh, order=order, dirichlet="bore")
    u, v = space.TnT()
    shear = wheel.young_mpa / 2 / (1 + wheel.poisson)
    lame = wheel.young_mpa * wheel.poisson / (1 + wheel.poisson) / (1 - 2 * wheel.poisson)
    strain = lambda w: Sym(Grad(w))
    stress = lambda w: 2 * shear * strain(w) + lame * Trace(strain(w)) * Id(3)
    form = BilinearForm(space, symmetric=True, condense=order > 2)
    form += InnerProduct(stress(u), strain(v)) * dx
    smoother = Preconditioner(form, "bddc")
    load = LinearForm(space)
    radius, theta = sqrt(x * x + y * y), atan2(y, x)
    for rope in wheel.ropes:
        for tag, edge in wheel.edges:
            if tag in rope.tags:
                push = traction(wheel, rope, tag, edge, radius, theta)
                load += InnerProduct(push, v) * ds(definedon=mesh.Boundaries(tag), bonus_intorder=6)
    form.Assemble()
    load.Assemble()
    clock("assembly")
    found = GridFunction(space)
    right = load.vec
    if form.condense:
        right.data += form.harmonic_extension_trans * load.vec
    inverse = CGSolver(mat=form.mat, pre=smoother.mat, tol=RESIDUAL, maxiter=2000)
    found.vec.data = inverse * right
    if form.condense:
        found.vec.data += form.harmonic_extension * found.vec
        found.vec.data += form.inner_solve * load.vec
    clock("solution")
    # Stresses: each element's own, averaged where elements meet.
    smooth = GridFunction(H1(mesh, order=max(1, order - 1), dim=9))
    smooth.Set(stress(found).Reshape((9,)))
    peak, where = highest(mesh, wheel, smooth)
    clock("stresses")
    return {
        "peak_mpa": peak,
        "at": where,
        "unknowns": int(space.ndof),
        "free_unknowns": int(space.FreeDofs(form.condense).NumSet()),
        "elements": int(mesh.ne),
        "steps": int(inverse.iterations),
    }


def highest(mesh, wheel, smooth):
    """The highest principal tension on the searched surface and its place r, z, angle in degrees."""
    loaded, jumps = wheel.loaded(), np.array(wheel.jumps_deg())
    rule = IntegrationRule(points=[(0, 0), (1, 0), (0, 1), (0.5, 0), (0, 0.5), (0.5, 0.5)], weights=[1 / 12] * 6)
    best = (-np.inf, None)
    for tag in {tag for tag, _ in wheel.edges}:
        points = mesh.MapToAllElements(rule, mesh.Boundaries(tag))
        if len(points) == 0:
            continue
        places = np.stack([np.asarray(c(points)).ravel() for c in (x, y, z)], axis=1)
        r = np.hypot(places[:, 0], places[:, 1])
        degrees = np.degrees(np.arctan2(places[:, 1], places[:, 0]))
        counts = r >= wheel.search_r
        if tag in loaded:
            apart = np.abs((degrees[:, None] - jumps + 180.0) % 360.0 - 180.0)
            counts &= apart.min(axis=1) >= wheel.skip_deg
        if not counts.any():
            continue
        values = np.asarray(smooth(points)).reshape(-1, 3, 3)
        tension = np.where(counts, np.linalg.eigvalsh(values)[:, 2], -np.inf)
        k = int(tension.argmax())
        if tension[k] > best[0]:
            best = (float(tension[k]), (float(r[k]), float(places[k, 2]), float(degrees[k]), tag))
    return best


def main():
    key, largest, finest, order, threads = sys.argv[1:]
    wheel = next(wheel for wheel in all_wheels() if wheel.key == key)
    SetNumThreads(int(threads))
    seconds, last = {}, [time.perf_counter()]

    def clock(stage):
        now = time.perf_counter()
        seconds[stage] = now - last[0]
        last[0] = now

    with TaskManager():
        result = solve(wheel, float(largest), float(finest), int(order), clock)
    print(json.dumps({**result, "seconds": seconds, "order": int(order)}))


if __name__ == "__main__":
    main()
