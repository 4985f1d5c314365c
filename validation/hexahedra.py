"""Curved 27-node hexahedra of a linear elastic body, many at a time.

Owns shapes, stiffness and stress of single cells, in Cartesian coordinates; shape functions and rules
are scikit-fem's. A cell's unknowns are turned into radial, circumferential and axial ones by the axes
at its nodes; no strain formula in cylindrical coordinates is ever written down. Units: mm, N, MPa.
"""

import numpy as np
from skfem import ElementHex1, ElementHex2
from skfem.quadrature import get_quadrature

ELEMENT = ElementHex2()
PLACES = ELEMENT.doflocs  # of the 27 nodes in the unit cube
CORNERS = ElementHex1.doflocs
# Slopes are most exact at the 2·2·2 Gauss points of a cell (Barlow 1976): stresses are taken there.
BARLOW = 0.5 + (CORNERS - 0.5) / np.sqrt(3.0)


def shapes(points):
    """Values (point, 27) and slopes (point, 27, 3) of the shape functions at places (3, point)."""
    parts = [ELEMENT.lbasis(points, i) for i in range(27)]
    ones = np.ones(points.shape[1])
    values = np.stack([part[0] * ones for part in parts], axis=1)
    return values, np.stack([np.stack([d * ones for d in part[1]], axis=1) for part in parts], axis=1)


def turn(theta):
    """Columns: the radial, circumferential and axial unit vectors at theta."""
    c, s, o, e = np.cos(theta), np.sin(theta), np.zeros_like(theta), np.ones_like(theta)
    return np.stack([c, -s, o, s, c, o, o, o, e], axis=-1).reshape(*np.shape(theta), 3, 3)


def axes_at(coords):
    return turn(np.arctan2(coords[..., 1], coords[..., 0]))


def slopes(coords, local):
    """∂N/∂x (cell, point, 27, 3) and the Jacobian's determinant (cell, point)."""
    jacobian = np.swapaxes(coords, 1, 2)[:, None] @ local
    return local @ np.linalg.inv(jacobian), np.linalg.det(jacobian)


def carried(natural):
    """Weights (point, 8) of the trilinear field through the Barlow points, at places (3, point)."""
    share = 0.5 + (natural - 0.5) * np.sqrt(3.0)
    return np.where(CORNERS.T[:, :, None] == 1.0, share[:, None], 1.0 - share[:, None]).prod(axis=0).T


class Iron:
    def __init__(self, young_mpa, poisson):
        self.lame = young_mpa * poisson / (1 + poisson) / (1 - 2 * poisson)
        self.shear = young_mpa / 2 / (1 + poisson)

    def stiffness(self, coords):
        """∫ λ div u div v + 2 μ ε(u):ε(v) of every cell (cell, 81, 81), in cylindrical unknowns."""
        points, weights = get_quadrature(ElementHex2, 5)
        slope, volume = slopes(coords, shapes(points)[1])
        count = len(coords)
        slope = slope.reshape(count, len(weights), 81)
        pairs = np.swapaxes(slope, 1, 2) @ (slope * (np.abs(volume) * weights)[..., None])
        pairs = pairs.reshape(count, 27, 3, 27, 3)
        along = self.shear * np.einsum("eiaja->eij", pairs)
        cells = self.lame * pairs + self.shear * pairs.transpose(0, 1, 4, 3, 2)
        for a in range(3):
            cells[:, :, a, :, a] += along
        axes = axes_at(coords)
        cells = np.swapaxes(axes, 2, 3) @ cells.reshape(count, 27, 3, 81)
        cells = cells.reshape(count, 81, 27, 3).transpose(0, 2, 1, 3) @ axes
        return cells.transpose(0, 2, 1, 3).reshape(count, 81, 81)

    def stress(self, coords, moved):
        """Places and stress tensors (cell, 8, 3, 3), in cylindrical components, of the Barlow points.

        `moved` are the displacements (cell, 27, 3) in cylindrical components.
        """
        values, local = shapes(BARLOW.T)
        slope, _ = slopes(coords, local)
        cartesian = (axes_at(coords) @ moved[..., None])[..., 0]
        gradient = np.swapaxes(cartesian, 1, 2)[:, None] @ slope
        strain = 0.5 * (gradient + np.swapaxes(gradient, 2, 3))
        trace = np.trace(strain, axis1=2, axis2=3)[..., None, None]
        stress = self.lame * trace * np.eye(3) + 2 * self.shear * strain
        places = values @ coords
        axes = axes_at(places)
        return places, np.swapaxes(axes, 2, 3) @ stress @ axes
