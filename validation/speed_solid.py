"""A grooved wheel as one whole 3-D body in one sparse solver: what it costs to get its peak.

Usage: speed_solid.py WHEEL LARGEST FINEST SECTORS THREADS

WHEEL is a key of wheels.py; LARGEST and FINEST are sides of the section's quadrilaterals in mm, the second along the
small radii. The ring of curved 27-node hexahedra is that of the independent comparison (revolved.py), but here its
equations are put into one matrix, with nothing gained from its symmetry, as a general 3-D program must, and PARDISO
(MKL) factors it. Prints one line of JSON with the highest tension, the unknowns and the seconds of every stage.
Units: mm, N, MPa, rad.
"""

import json
import os
import sys
import time

if __name__ == "__main__":
    for name in ("MKL_NUM_THREADS", "OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
        os.environ[name] = sys.argv[5]

import numpy as np
from pypardiso import PyPardisoSolver
from scipy.sparse import coo_matrix, eye_array, kron, triu

import rope_load
from compare import counts, ring_of, searched
from surface import highest
from wheels import Mesh, all_wheels

# PARDISO's name for real, symmetric, positive definite.
DEFINITE = 2
# Largest residual, relative to the load.
RESIDUAL = 1e-8


def whole_matrix(ring):
    """The free unknowns' matrix of all sectors together, its upper triangle."""
    size, cells = 3 * len(ring.own), ring.unknowns()
    later = np.repeat(ring.plane[ring.nodes] == 2, 3, axis=1)
    index = cells + size * later
    shape = (len(index), 81, 81)
    rows = np.broadcast_to(index[:, :, None], shape).ravel()
    columns = np.broadcast_to(index[:, None, :], shape).ravel()
    sector = coo_matrix((ring.cells.ravel(), (rows, columns)), shape=(2 * size, 2 * size)).tocsr()
    own, following = np.split(np.arange(2 * size), 2)
    part = lambda a, b: sector[a][:, b][ring.free][:, ring.free]
    every = eye_array(ring.sectors, format="csr")
    after = every[np.roll(np.arange(ring.sectors), -1)]
    matrix = kron(every, part(own, own) + part(following, following))
    matrix = matrix + kron(after, part(own, following)) + kron(after.T, part(following, own))
    return matrix.tocsr()


def main():
    key, largest, finest, sectors, _ = sys.argv[1:]
    wheel = next(wheel for wheel in all_wheels() if wheel.key == key)
    seconds, last = {}, [time.perf_counter()]

    def clock(stage):
        now = time.perf_counter()
        seconds[stage] = now - last[0]
        last[0] = now

    ring = ring_of(wheel, Mesh(float(largest), float(finest), int(sectors)))
    clock("mesh")
    matrix = whole_matrix(ring)
    loads = rope_load.forces(ring, wheel)
    clock("assembly")
    upper, force = triu(matrix, format="csr"), loads[:, ring.free].ravel()
    solver = PyPardisoSolver(mtype=DEFINITE)
    solver.factorize(upper)
    found = solver.solve(upper, force)
    clock("solution")
    rest = np.abs(matrix @ found - force).max() / np.abs(force).max()
    if not rest <= RESIDUAL:
        raise SystemExit(f"a residual of {rest:.1e} is left")
    moved = np.zeros((ring.sectors, 3 * len(ring.own)))
    moved[:, ring.free] = found.reshape(ring.sectors, -1)
    surface = searched(ring, wheel)
    peak = highest(surface, surface.stresses(moved), counts(wheel))
    clock("stresses")
    result = {
        "peak_mpa": float(peak.value),
        "unknowns": int(matrix.shape[0]),
        "elements": len(ring.nodes) * ring.sectors,
        "residual": float(rest),
        "seconds": seconds,
    }
    print(json.dumps(result))


if __name__ == "__main__":
    main()
