"""What the machine can do at best: dense products and copies on all threads at once, and what it is."""

import os
import threading
import time
from pathlib import Path

import numpy as np

# Beyond the caches of any machine, in bytes per thread.
STREAM = 1 << 29
ORDER = 1600


def at_once(threads, work):
    """Seconds from the start of all threads to the end of the last."""
    gate = threading.Barrier(threads + 1)

    def one(k):
        gate.wait()
        work(k)

    running = [threading.Thread(target=one, args=(k,)) for k in range(threads)]
    for thread in running:
        thread.start()
    gate.wait()
    begun = time.perf_counter()
    for thread in running:
        thread.join()
    return time.perf_counter() - begun


def dense_rate(threads, repeats):
    """Floating-point operations per second of matrix products, every thread with its own."""
    a = np.random.default_rng(1).standard_normal((threads, ORDER, ORDER))
    out = np.zeros_like(a)
    best = min(at_once(threads, lambda k: np.matmul(a[k], a[k], out=out[k])) for _ in range(repeats))
    return threads * 2.0 * ORDER**3 / best


def copy_rate(threads, repeats):
    """Bytes per second, read and written ones added up, of copies that no cache holds."""
    a, b = np.ones((threads, STREAM // 8)), np.zeros((threads, STREAM // 8))
    best = min(at_once(threads, lambda k: np.copyto(b[k], a[k])) for _ in range(repeats))
    return threads * 2.0 * STREAM / best


def describe():
    info = Path("/proc/cpuinfo").read_text(encoding="utf-8")
    fields = dict(tuple(part.strip() for part in line.split(":", 1)) for line in info.splitlines() if ":" in line)
    flags = fields.get("flags", "").split()
    memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")
    return {
        "cpu": fields.get("model name", "unknown"),
        "cores": len(os.sched_getaffinity(0)),
        "memory_gb": memory / 1e9,
        "virtual": "hypervisor" in flags,
        "registers": 512 if "avx512f" in flags else 256 if "avx2" in flags else 128,
    }
