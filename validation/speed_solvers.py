"""General sparse solvers on the matrices that `measure factors --export` wrote.

Usage: speed_solvers.py LIBRARY FOLDER HARMONICS WAY

LIBRARY is superlu, cholmod or pardiso. WAY is `inside` (one harmonic at a time, two threads within the library)
or `apart` (two processes, each with one thread and every second harmonic). Every harmonic is factored anew and
solved for two right-hand sides; whatever the library can keep of its analysis of the pattern is kept and not
timed, as rimproof's own is not. Prints one line of JSON: seconds for all harmonics, and the largest residual.
"""

import json
import multiprocessing
import os
import sys
import time
from pathlib import Path

THREADS = 2
WAIT = 600.0  # seconds after which a worker is given up


def load(folder):
    import numpy as np

    def read(name, kind):
        return np.fromfile(Path(folder, name), dtype=kind)

    columns, rows = read("columns.i64", "<i8").astype(np.int32), read("rows.i64", "<i8").astype(np.int32)
    parts = [read(f"k{i}.f64", "<f8") for i in range(3)]
    right = read("right.f64", "<f8").reshape(2, -1).T
    return columns, rows, parts, np.asfortranarray(right)


def residual(columns, rows, values, x, right):
    import numpy as np
    from scipy.sparse import csc_matrix

    size = len(columns) - 1
    lower = csc_matrix((values, rows, columns), shape=(size, size))
    product = lower @ x + lower.T @ x - lower.diagonal()[:, None] * x
    return float(np.abs(product - right).max() / np.abs(right).max())


class SuperLU:
    """scipy's; it takes no symbolic analysis from before, only the order of columns."""

    def __init__(self, columns, rows, values, right):
        import numpy as np
        from scipy.sparse import csc_matrix

        self.np, self.csc, self.right = np, csc_matrix, right
        size = len(columns) - 1
        # The full pattern, and where its values stand in the lower triangle.
        lower = csc_matrix((np.arange(1, len(rows) + 1, dtype=float), rows, columns), shape=(size, size))
        full = lower + lower.T
        full.setdiag(lower.diagonal())
        full.sort_indices()
        self.slot = full.data.astype(np.int64) - 1
        self.indices, self.indptr, self.shape = full.indices, full.indptr, full.shape

    def solve(self, values):
        from scipy.sparse.linalg import splu

        full = self.csc((values[self.slot], self.indices, self.indptr), shape=self.shape)
        # The unknowns come in rimproof's order of minimum degree.
        options = {"SymmetricMode": True}
        factor = splu(full, permc_spec="NATURAL", diag_pivot_thresh=0.0, options=options)
        return factor.solve(self.right)


class Cholmod:
    """SuiteSparse's, supernodal; its analysis is kept."""

    def __init__(self, columns, rows, values, right):
        from scipy.sparse import csc_matrix
        from sksparse.cholmod import analyze

        self.right, size = right, len(columns) - 1
        self.lower = csc_matrix((values, rows, columns), shape=(size, size))
        self.factor = analyze(self.lower, mode="supernodal", ordering_method="amd")

    def solve(self, values):
        self.lower.data = values
        self.factor.cholesky_inplace(self.lower)
        return self.factor(self.right)


class Pardiso:
    """MKL's, for symmetric positive definite matrices; its analysis is kept."""

    def __init__(self, columns, rows, values, right):
        import ctypes

        import numpy as np
        from pypardiso import PyPardisoSolver

        self.np, self.ctypes = np, ctypes
        self.solver = PyPardisoSolver(mtype=2)
        self.size = len(columns) - 1
        # The lower triangle by columns is the upper one by rows.
        self.starts, self.others = columns.copy(), rows.copy()
        self.right, self.found = right.copy(order="F"), np.zeros_like(right, order="F")
        iparm = self.solver.iparm
        iparm[:] = 0
        iparm[0], iparm[1], iparm[34] = 1, 3, 1  # own settings; parallel nested dissection; counted from 0
        iparm[7] = 0  # no refinement beyond what is needed
        iparm[9] = 8
        iparm[23] = 1  # the newer parallel factorisation
        self.values = np.ascontiguousarray(values)
        self.phase(11)

    def phase(self, number):
        c, solver = self.ctypes, self.solver
        whole = c.POINTER(c.c_int32)

        def one(value):
            return c.byref(c.c_int32(value))

        error = c.c_int32(0)
        solver._mkl_pardiso(
            solver.pt.ctypes.data_as(c.POINTER(solver._pt_type[0])), one(1), one(1), one(2), one(number),
            one(self.size), self.values.ctypes.data_as(c.c_void_p), self.starts.ctypes.data_as(whole),
            self.others.ctypes.data_as(whole), self.np.zeros(1, "i4").ctypes.data_as(whole), one(2),
            solver.iparm.ctypes.data_as(whole), one(0), self.right.ctypes.data_as(c.c_void_p),
            self.found.ctypes.data_as(c.c_void_p), c.byref(error),
        )
        if error.value:
            raise SystemExit(f"PARDISO ends phase {number} with its error {error.value}")

    def solve(self, values):
        self.values = self.np.ascontiguousarray(values)
        self.phase(23)
        return self.found


LIBRARIES = {"superlu": SuperLU, "cholmod": Cholmod, "pardiso": Pardiso}


def work(library, folder, harmonics, gate, answers):
    """Solves the given harmonics after the gate opens."""
    columns, rows, (k0, k1, k2), right = load(folder)

    def matrix(n):
        return k0 + n * (k1 + n * k2)

    solver = LIBRARIES[library](columns, rows, matrix(1.0), right)
    if library != "superlu":
        solver.solve(matrix(1.0))  # a first time, to touch all memory
    gate.wait(WAIT)
    seconds = 0.0
    for n in harmonics:
        values = matrix(float(n))
        begun = time.perf_counter()
        x = solver.solve(values)
        seconds += time.perf_counter() - begun
    answers.put((seconds, residual(columns, rows, values, x, right)))


def main():
    library, folder, harmonics, way = sys.argv[1:]
    lists = [list(range(int(harmonics)))]
    if way == "apart":
        lists = [lists[0][k::THREADS] for k in range(THREADS)]
    inside = str(THREADS if way == "inside" else 1)
    for name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ[name] = inside
    context = multiprocessing.get_context("spawn")
    gate, answers = context.Barrier(len(lists)), context.Queue()
    workers = [context.Process(target=work, args=(library, folder, own, gate, answers)) for own in lists]
    for worker in workers:
        worker.start()
    found = [answers.get(timeout=WAIT) for _ in workers]
    for worker in workers:
        worker.join()
    seconds = max(seconds for seconds, _ in found)
    print(json.dumps({"seconds": seconds, "harmonics": int(harmonics), "residual": max(r for _, r in found)}))


if __name__ == "__main__":
    main()
