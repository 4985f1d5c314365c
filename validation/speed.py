"""How fast rimproof is, beside general solvers, a whole 3-D analysis, and what the machine can do at best.

Usage: speed.py RIMPROOF MEASURE PAGE.md [--quick] [--results FILE] [--page-only | --only PART]

RIMPROOF and MEASURE are target/release/rimproof and target/release/examples/measure. Everything is measured in one
go on one machine, on two threads, and written to PAGE.md; --results keeps the bare numbers (JSON), and --page-only
writes the page again from them; --only renews one part of them, and the page says so. --quick takes small sizes, to try the script: its page is no measurement.
Ends with 0 whatever is met or missed; other exit codes mean that a part did not run. Needs the Python of
`prepare.sh speed` and, for CHOLMOD, the system's SuiteSparse.
"""

import argparse
import json
import multiprocessing
import os
import subprocess
import sys
import tempfile
import time
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

# Threads are given to every part by name.
for name in ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ[name] = "1"

import explicit_model
import speed_machine
import speed_page
from wheels import all_wheels

HERE = Path(__file__).parent
DEMOS = ("harbour", "harbour_corner", "harbour_thin", "granary", "deflector", "mill")
THREADS, HARMONICS = 2, 48
SIZES = (8_000, 26_000, 90_000, 240_000)
QUICK_SIZES = (4_000, 8_000)
# Harmonics that are timed of the slower libraries, by size; times are scaled to all.
TIMED = {
    "pardiso": (48, 48, 16, 8),
    "cholmod": (48, 24, 8, 4),
    "superlu": (16, 4, 4, 2),
}
WAYS = {"pardiso": ("inside", "apart"), "cholmod": ("inside", "apart"), "superlu": ("apart",)}
SOLID_WHEEL = "undercut seats"
# Largest side, side along the slots' corners (mm), sectors. Finer ones need more than the machine's memory.
SOLIDS = ((6.0, 1.6, 18), (6.0, 1.6, 36), (6.0, 1.6, 54))
QUICK_SOLIDS = ((8.0, 3.0, 18),)
# Share of the sides of the independent comparison's mesh, from coarse to fine; the last one is the reference.
OURS = (4.0, 3.0, 2.0, 1.4, 1.0)
REFERENCE, QUICK_REFERENCE = 0.5, 1.0
REPEATS, QUICK_REPEATS = 5, 2


class Failed(Exception):
    """A part that did not run, with what it said."""


def run(command, limit=900.0):
    """Output, errors, seconds on the clock and the largest memory (MB) of a process that must end well."""
    with tempfile.TemporaryFile() as out, tempfile.TemporaryFile() as err:
        begun = time.perf_counter()
        child = subprocess.Popen([str(word) for word in command], stdout=out, stderr=err)
        deadline = begun + limit
        while True:
            pid, status, usage = os.wait4(child.pid, os.WNOHANG)
            if pid:
                break
            if time.perf_counter() > deadline:
                child.kill()
                os.wait4(child.pid, 0)
                raise Failed(f"no end after {limit:.0f} s")
            time.sleep(0.001)
        seconds = time.perf_counter() - begun
        child.returncode = os.waitstatus_to_exitcode(status)
        out.seek(0), err.seek(0)
        said, errors = out.read().decode(), err.read().decode()
    return {"code": child.returncode, "out": said, "err": errors, "seconds": seconds, "mb": usage.ru_maxrss / 1024}


def answer(command, limit=900.0):
    """The last line of a process's output as JSON."""
    done = run(command, limit)
    if done["code"] != 0:
        raise Failed(f"exit code {done['code']}: {done['err'].strip()[-300:]}")
    return {**json.loads(done["out"].strip().splitlines()[-1]), "process_seconds": done["seconds"], "mb": done["mb"]}


def attempted(part, work):
    """What a part found, or why it did not run."""
    print(f"{part} …", flush=True)
    try:
        return work()
    except (Failed, OSError, ValueError, KeyError, IndexError) as fault:
        print(f"  did not run: {fault}", flush=True)
        return {"fault": str(fault)}


def python(script, *arguments):
    return [sys.executable, HERE / script, *arguments]


def measure(options, mode, model, unknowns, *more):
    common = ["--threads", THREADS, "--repeats", options.repeats]
    return answer([options.measure, mode, model, "--unknowns", unknowns, *common, *more])


def solvers(options, model, folder):
    """Every size: rimproof's factors and solutions, and those of each library."""
    rows = []
    for index, unknowns in enumerate(options.sizes):
        export = folder / f"matrices_{unknowns}"
        ours = measure(options, "factors", model, unknowns, "--harmonics", HARMONICS, "--export", export)
        row = {"ours": ours}
        for library, counts in TIMED.items():
            count = 4 if options.quick else counts[index]
            ways = WAYS[library]
            found = [
                attempted(
                    f"{library}, {unknowns} unknowns, {way}",
                    lambda: answer(python("speed_solvers.py", library, export, count, way)),
                )
                for way in ways
            ]
            row[library] = dict(zip(ways, found))
        for file in export.iterdir():
            file.unlink()
        rows.append(row)
    return rows


def growth(options, model):
    """The whole analysis by unknowns, and by harmonics on one mesh."""
    by_size = [
        measure(options, "analysis", model, unknowns, "--harmonics", HARMONICS) for unknowns in options.sizes
    ]
    series = ",".join(str(n) for n in (HARMONICS // 4, HARMONICS // 2, HARMONICS, 2 * HARMONICS))
    return {"by_size": by_size, "by_harmonics": measure(options, "analysis", model, options.sizes[1], "--harmonics", series)}


def solid(options, folder):
    """One wheel as a body of revolution and as a whole 3-D body, each on several meshes."""
    wheel = next(wheel for wheel in all_wheels() if wheel.key == SOLID_WHEEL)
    wheel.places = {}

    def ours(refined, series):
        model, json_file = folder / "wheel.toml", folder / "wheel.json"
        text = explicit_model.model_file(wheel, refined)
        if not series:
            text = "\n".join(line for line in text.splitlines() if not drop(line))
        model.write_text(text, encoding="utf-8")
        command = [options.rimproof, "solve", model, "--json", json_file, "--quiet", "--threads", THREADS]
        runs = [run(command) for _ in range(1 if series else options.repeats)]
        if any(done["code"] for done in runs):
            raise Failed(runs[0]["err"][-300:])
        found = json.loads(json_file.read_text(encoding="utf-8"))
        peak = found["cases"][0]["peak"]
        return {
            "refined": refined,
            "peak_mpa": peak["principal_mpa"][0],
            "at": [peak["r_mm"], peak["z_mm"], peak["theta_deg"]],
            "unknowns": found["cost"]["unknowns"],
            "harmonics": found["last_harmonic"] + 1,
            "seconds": min(done["seconds"] for done in runs),
            "mb": max(done["mb"] for done in runs),
        }

    def drop(line):
        # The comparison's long series is there for its probes; a peak needs only rimproof's own.
        return line.startswith(("[series]", "block = ", "least = ", "most = ", "tolerance = "))

    meshes = QUICK_SOLIDS if options.quick else SOLIDS
    return {
        "wheel": wheel.title,
        "reference": ours(QUICK_REFERENCE if options.quick else REFERENCE, True),
        "ours": [ours(refined, False) for refined in OURS],
        "solid": [
            attempted(
                f"3-D, sides {largest:g} and {finest:g} mm, {sectors} sectors",
                lambda: {
                    "largest": largest,
                    "finest": finest,
                    "sectors": sectors,
                    **answer(python("speed_solid.py", wheel.key, largest, finest, sectors, THREADS), options.limit),
                },
            )
            for largest, finest, sectors in meshes
        ],
    }


def checks(options, survey):
    """Whole processes: every demo and the wheel with six grooves."""
    rows = []
    for path in (*(HERE.parent / "meshes" / f"{name}.toml" for name in DEMOS), survey):
        command = [options.rimproof, "check", path, "--threads", THREADS]
        runs = [run([*command, "--brief"]) for _ in range(options.repeats)]
        if any(done["code"] == 2 or done["code"] < 0 for done in runs):
            raise Failed(f"{path.name}: {runs[0]['err'][-300:]}")
        traced = run([*command, "--brief", "--trace"])
        rows.append(
            {
                "name": path.stem,
                "verdict": runs[0]["out"].split(":")[0],
                "seconds": min(done["seconds"] for done in runs),
                "mb": max(done["mb"] for done in runs),
                "stages": stages(traced["err"]),
                "steps": steps(traced["err"]),
            }
        )
    return rows


def stages(text):
    """Stage, ms of all threads, share, times, of `check --trace`."""
    rows = []
    for line in text.splitlines():
        words = line.split()
        if "ms" in words and "%" in words:
            at = words.index("ms")
            times = int(words[at + 3]) if words[at + 3].isdigit() else 1
            rows.append([" ".join(words[: at - 1]), float(words[at - 1]), float(words[at + 1]), times])
    return rows


def steps(text):
    """Steps of `check --trace` with their ms on the clock."""
    lines = text.split("Steps, on the clock:\n")[1].splitlines()
    return [[" ".join(line.split()[:-2]), float(line.split()[-2])] for line in lines if line.endswith(" ms")]


def resolve(options, survey):
    """One more answer after a change of the tensions or of the depth, in one process."""
    done = run([options.measure, "resolve", survey, "--threads", THREADS, "--repeats", options.repeats])
    if done["code"] != 0:
        return {"fault": done["err"][-300:]}
    return json.loads(done["out"].strip().splitlines()[-1])


def machine_rates(repeats):
    """Dense and streaming rate, in a process of their own: a child's largest memory counts its parent's as well."""
    with ProcessPoolExecutor(1, multiprocessing.get_context("spawn")) as alone:
        rates = speed_machine.dense_rate, speed_machine.copy_rate
        return [alone.submit(rate, THREADS, repeats).result() for rate in rates]


def measured(options):
    begun = time.perf_counter()
    survey = HERE / "bench" / "six_grooves.toml"
    with tempfile.TemporaryDirectory(prefix="speed") as name:
        folder = Path(name)
        model = folder / "six_grooves_model.toml"
        written = run([options.rimproof, "check", survey, "--brief", "--model", model])
        if written["code"] == 2:
            raise SystemExit(written["err"])
        results = {"quick": options.quick, "threads": THREADS, "harmonics": HARMONICS}
        results["machine"] = speed_machine.describe()
        results["load_before"] = os.getloadavg()[0]
        results["rates"] = machine_rates(options.repeats)
        results["rates_after"], results["load_after"] = results["rates"], results["load_before"]
        parts = {
            "checks": ("whole checks", lambda: checks(options, survey)),
            "resolve": ("solutions after a change", lambda: resolve(options, survey)),
            "solvers": ("factors and solutions", lambda: solvers(options, model, folder)),
            "growth": ("growth", lambda: growth(options, model)),
            "solid": ("whole 3-D body", lambda: solid(options, folder)),
        }
        results.update({part: {"fault": "the run ended before"} for part in parts})
        if options.only:
            # The other parts stay as an earlier run found them, machine and times included.
            results = json.loads(options.results.read_text(encoding="utf-8"))
            parts = {options.only: parts[options.only]}
            results.setdefault("renewed", {})[options.only] = {"load_before": os.getloadavg()[0]}
        for part, (words, work) in parts.items():
            results[part] = attempted(words, work)
            if not options.only:
                results["seconds"] = time.perf_counter() - begun
            kept(options, results)
        if options.only:
            return results
        results["rates_after"] = machine_rates(options.repeats)
        results["load_after"] = os.getloadavg()[0]
    results["seconds"] = time.perf_counter() - begun
    kept(options, results)
    return results


def kept(options, results):
    """Keeps what is there after every part: a run that is broken off still gives a page (--page-only)."""
    git = ["git", "-C", HERE, "describe", "--always", "--dirty"]
    results["commit"] = subprocess.run(git, capture_output=True, text=True).stdout.strip() or "unknown"
    if options.results:
        options.results.write_text(json.dumps(results, indent=1), encoding="utf-8")


def main():
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("rimproof", type=Path)
    parser.add_argument("measure", type=Path)
    parser.add_argument("page", type=Path)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--results", type=Path)
    parser.add_argument("--page-only", action="store_true")
    parser.add_argument("--only", choices=["checks", "resolve", "solvers", "growth", "solid"])
    options = parser.parse_args()
    options.sizes = QUICK_SIZES if options.quick else SIZES
    options.repeats = QUICK_REPEATS if options.quick else REPEATS
    options.limit = 400.0
    if options.page_only:
        results = json.loads(options.results.read_text(encoding="utf-8"))
    else:
        results = measured(options)
    options.page.write_text(speed_page.text(results), encoding="utf-8")
    print(f"{options.page} is written.")


if __name__ == "__main__":
    main()
