"""Reads rimproof's VTK files with outside readers and compares them with expected values.

Usage: read_vtk.py EXPECTED.json

The JSON names the files and, for chosen places, position (mm), displacement (mm) and stress (MPa)
in cylindrical components by name. Everything else is done here a second time: the turn into the
Cartesian frame, the principal values, the share of the allowable. Exit code 0 when everything agrees,
1 when something differs, 3 when a package is missing.
"""

import json
import os
import sys
import xml.etree.ElementTree

try:
    import meshio
    import numpy as np
    import vtk
    from vtk.util.numpy_support import vtk_to_numpy
except ImportError as missing:
    print(f"read_vtk.py: {missing}; install validation/requirements.txt", file=sys.stderr)
    sys.exit(3)

# VTK's order of six components, from its documentation of symmetric tensors.
VTK_ORDER = [(0, 0), (1, 1), (2, 2), (0, 1), (1, 2), (0, 2)]
DOUBLE = 1e-12  # rounding of a few operations on 53 bits
SINGLE = 2.0**-22  # 24 bits, and as much again for the rounded angle of the point
# A place inside a cell is as exact as the cell's 24-bit corners: 4e-6 mm in cells of a few mm, over
# which a field varies by its whole scale at most.
LOCATED = 1e-5

faults = []
worst = {}


def compare(what, computed, expected, tolerance, scale):
    """Two-sided, and safe against NaN; `tolerance` is relative to `scale`."""
    computed, expected = np.asarray(computed, float), np.asarray(expected, float)
    if computed.shape != expected.shape:
        faults.append(f"{what}: {computed.shape} numbers, {expected.shape} expected")
        return
    gap = np.abs(computed - expected).max() / scale
    worst[what] = max(worst.get(what, 0.0), gap) if gap == gap else gap
    if not gap <= tolerance:
        faults.append(f"{what}: read {computed}, expected {expected}, allowed {tolerance * scale:.2e}")


def frame(theta):
    """Rows: the radial, circumferential and axial unit vectors at theta."""
    c, s = np.cos(theta), np.sin(theta)
    return np.array([[c, s, 0.0], [-s, c, 0.0], [0.0, 0.0, 1.0]])


def tensor(stress):
    rr, tt, zz, rt, tz, rz = (stress[k] for k in ("rr", "tt", "zz", "rt", "tz", "rz"))
    return np.array([[rr, rt, rz], [rt, tt, tz], [rz, tz, zz]])


def used(principal, limits):
    """Higher of the demands of the largest tension and of modified Mohr (Shigley eq. 5-32)."""
    a, _, c = principal
    tension, compression = limits["allowable_mpa"], limits["compressive_allowable_mpa"]
    if a < 0.0:
        mohr = -c / compression
    elif -c > a:
        mohr = (compression - tension) / (compression * tension) * a - c / compression
    else:
        mohr = a / tension
    return max(mohr, a / tension, 0.0)


class Expected:
    """One place's values in the frame of the file."""

    def __init__(self, place, turn, limits):
        q = frame(place["theta_rad"]) if turn else np.eye(3)
        r, z = place["at_mm"]
        self.point = np.array([r, 0.0, z]) @ q
        self.displacement_mm = np.array(place["displacement_mm"]) @ q
        cartesian = q.T @ tensor(place["stress_mpa"]) @ q
        self.stress_MPa = np.array([cartesian[i] for i in VTK_ORDER])
        self.principal_MPa = np.linalg.eigvalsh(cartesian)[::-1]
        self.use_of_allowable = np.array([used(self.principal_MPa, limits)])


def read_with_vtk(path):
    reader = vtk.vtkXMLUnstructuredGridReader()
    reader.SetFileName(path)
    reader.Update()
    grid = reader.GetOutput()
    data = grid.GetPointData()
    names = [data.GetArrayName(i) for i in range(data.GetNumberOfArrays())]
    arrays = {name: vtk_to_numpy(data.GetArray(name)) for name in names}
    types = {grid.GetCellType(i) for i in range(grid.GetNumberOfCells())}
    return grid, vtk_to_numpy(grid.GetPoints().GetData()), arrays, types


FIELDS = ("displacement_mm", "stress_MPa", "principal_MPa", "use_of_allowable")


def check_nodes(label, points, arrays, places, tolerance):
    """Finds every expected place among the points, so that no numbering is taken on trust."""
    missing = [name for name in FIELDS if name not in arrays]
    if missing:
        faults.append(f"{label}: no arrays {missing}")
        return
    size = np.abs(points).max()
    for place in places:
        node = np.linalg.norm(points - place.point, axis=1).argmin()
        compare(f"{label} point", points[node], place.point, tolerance, size)
        for name in FIELDS:
            value = np.atleast_1d(arrays[name][node])
            scale = np.abs(arrays["stress_MPa" if name == "principal_MPa" else name]).max()
            compare(f"{label} {name}", value, getattr(place, name), tolerance, scale)


def check_order_is_told_apart(places):
    """Unless some place tells every pair of components apart, their order is not tested."""
    stress = np.array([place.stress_MPa for place in places])
    scale = np.abs(stress).max()
    for i in range(6):
        for j in range(i):
            if not np.abs(stress[:, i] - stress[:, j]).max() > 1e-2 * scale:
                faults.append(f"the expected values cannot tell components {j} and {i} apart")


def shapes(cell, at, size):
    """Values and derivatives of the cell's own shape functions, as VTK has them."""
    values, slopes = [0.0] * size, [0.0] * (size * cell.GetCellDimension())
    cell.InterpolateFunctions(list(at), values)
    cell.InterpolateDerivs(list(at), slopes)
    return np.array(values), np.array(slopes).reshape(cell.GetCellDimension(), size)


def natural(cell, corners, point):
    """The point's natural coordinates in a curved cell by Newton's method; None outside it."""
    free = cell.GetCellDimension()
    at = np.array([1 / 3, 1 / 3, 0.5 if free == 3 else 0.0])
    for _ in range(20):
        values, slopes = shapes(cell, at, len(corners))
        step = np.linalg.lstsq((slopes @ corners).T, point - values @ corners, rcond=None)[0]
        at[:free] += step
        if not np.abs(at).max() < 1e6:
            return None
        if np.abs(step).max() < 1e-13:
            break
    least = min(at[0], at[1], 1.0 - at[0] - at[1], at[2], 1.0 - at[2])
    return at if least > -1e-5 else None


def check_inside(label, grid, points, arrays, places, tolerance):
    """Interpolates between the nodes with VTK's own shape functions: wrong node orders show here."""
    kind = grid.GetCell(0)
    cell = vtk.vtkGenericCell()
    size = kind.GetNumberOfPoints()
    nodes = vtk_to_numpy(grid.GetCells().GetConnectivityArray()).reshape(-1, size)
    points = points.astype(float)
    # A curved side may leave the box of its nodes by some of the box's size.
    low, high = points[nodes].min(axis=1), points[nodes].max(axis=1)
    margin = 0.1 * (high - low).max(axis=1, keepdims=True)
    for place in places:
        boxed = (low - margin <= place.point) & (place.point <= high + margin)
        for index in np.flatnonzero(boxed.all(axis=1)):
            grid.GetCell(index, cell)
            at = natural(cell, points[nodes[index]], place.point)
            if at is not None:
                break
        else:
            faults.append(f"{label}: no cell holds {place.point}")
            continue
        values, _ = shapes(cell, at, size)
        for name in ("displacement_mm", "stress_MPa"):
            computed, scale = values @ arrays[name][nodes[index]], np.abs(arrays[name]).max()
            compare(f"{label} inside {name}", computed, getattr(place, name), tolerance, scale)


def check_validity(label, grid):
    validator = vtk.vtkCellValidator()
    validator.SetInputData(grid)
    validator.Update()
    states = vtk_to_numpy(validator.GetOutput().GetCellData().GetArray("ValidityState"))
    # VTK looks for crossing faces on flat facets, which cross in a curved cell that is longer than
    # wide; the sign of the volume at every Gauss point is the finer test.
    states = states & ~int(vtk.vtkCellStatus.IntersectingFaces)
    if states.any():
        faults.append(f"{label}: VTK finds {np.count_nonzero(states)} of {len(states)} cells not valid")


def check_volume(grid, points, expected, allowed):
    """Volume of all wedges by VTK's shape functions and Gauss points of degree 5, then 3."""
    root = np.sqrt(0.6)
    across = [(0.5 - 0.5 * root, 5 / 18), (0.5, 8 / 18), (0.5 + 0.5 * root, 5 / 18)]
    a, b = (6 - np.sqrt(15)) / 21, (6 + np.sqrt(15)) / 21
    wa, wb = (155 - np.sqrt(15)) / 2400, (155 + np.sqrt(15)) / 2400
    flat = [(1 / 3, 1 / 3, 9 / 80)]
    for at, weight in ((a, wa), (b, wb)):
        flat += [(at, at, weight), (1 - 2 * at, at, weight), (at, 1 - 2 * at, weight)]
    cells = vtk_to_numpy(grid.GetCells().GetConnectivityArray()).reshape(-1, 15)
    volume, least = np.zeros(len(cells)), np.inf
    for r, s, weight in flat:
        for t, height in across:
            slopes = [0.0] * 45
            grid.GetCell(0).InterpolateDerivs([r, s, t], slopes)
            jacobians = np.einsum("dn,cnx->cdx", np.array(slopes).reshape(3, 15), points[cells])
            determinants = np.linalg.det(jacobians)
            least = min(least, determinants.min())
            volume += weight * height * determinants
    if not least > 0.0:
        faults.append("wheel: a wedge is turned inside out")
    # Besides what the expected value itself leaves open, the coordinates have 24 bits.
    compare("wheel volume", volume.sum(), expected, allowed / expected + 1e-6, expected)


def check_section(task, limits):
    # The section's frame turns with its angle, so nothing is turned here.
    nodes = [Expected(place, False, limits) for place in task["nodes"]]
    inside = [Expected(place, False, limits) for place in task["inside"]]
    check_order_is_told_apart(nodes)
    grid, points, arrays, types = read_with_vtk(task["file"])
    if types != {22}:
        faults.append(f"section: cell types {types}, 22 expected")
    compare("section counts", [len(points), grid.GetNumberOfCells()], task["counts"], 0.0, 1.0)
    check_nodes("section", points, arrays, nodes, DOUBLE)
    # Newton's last step is below 1e-13 of a cell.
    check_inside("section", grid, points, arrays, inside, 1e-11)
    other = meshio.read(task["file"])
    kinds = [block.type for block in other.cells]
    if kinds != ["triangle6"]:
        faults.append(f"section: the second reader finds {kinds}")
    check_nodes("section (second reader)", other.points, other.point_data, nodes, DOUBLE)
    own = vtk_to_numpy(grid.GetCells().GetConnectivityArray()).reshape(-1, 6)
    compare("section cells", other.cells[0].data, own, 0.0, 1.0)


def check_turn(task, limits):
    """The collection as its readers take it: every data set at its time, named from the collection's own folder."""
    root = xml.etree.ElementTree.parse(task["file"]).getroot()
    if root.tag != "VTKFile" or root.get("type") != "Collection":
        faults.append(f"turn: {root.tag} of type {root.get('type')}")
    sets = root.findall("./Collection/DataSet")
    compare("turn steps", [float(s.get("timestep")) for s in sets], [s["time"] for s in task["steps"]], 1e-6, 1.0)
    for entry, step in zip(sets, task["steps"]):
        path = os.path.join(os.path.dirname(task["file"]), entry.get("file"))
        nodes = [Expected(place, False, limits) for place in step["nodes"]]
        grid, points, arrays, types = read_with_vtk(path)
        if types != {22} or grid.GetNumberOfCells() == 0:
            faults.append(f"turn: cell types {types}, 22 expected")
        check_nodes("turn", points, arrays, nodes, SINGLE)
        other = meshio.read(path)
        check_nodes("turn (second reader)", other.points, other.point_data, nodes, SINGLE)


def check_wheel(task, limits):
    nodes = [Expected(place, True, limits) for place in task["nodes"]]
    inside = [Expected(place, True, limits) for place in task["inside"]]
    check_order_is_told_apart(nodes)
    grid, points, arrays, types = read_with_vtk(task["file"])
    if types != {26}:
        faults.append(f"wheel: cell types {types}, 26 expected")
    compare("wheel counts", [len(points), grid.GetNumberOfCells()], task["counts"], 0.0, 1.0)
    check_nodes("wheel", points, arrays, nodes, SINGLE)
    check_inside("wheel", grid, points, arrays, inside, LOCATED)
    check_validity("wheel", grid)
    check_volume(grid, points.astype(float), task["volume_mm3"], task["volume_allowed_mm3"])


def main():
    if len(sys.argv) != 2:
        sys.exit("usage: read_vtk.py EXPECTED.json")
    with open(sys.argv[1], encoding="utf-8") as file:
        task = json.load(file)
    check_section(task["section"], task["limits"])
    check_turn(task["turn"], task["limits"])
    check_wheel(task["wheel"], task["limits"])
    for what, gap in worst.items():
        print(f"{what:45} largest difference {gap:.1e} of its scale")
    for fault in faults[:20]:
        print(f"MISMATCH {fault}", file=sys.stderr)
    if faults:
        print(f"{len(faults)} mismatches", file=sys.stderr)
        sys.exit(1)


main()
