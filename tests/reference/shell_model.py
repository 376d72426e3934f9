"""A straight strip sewn to a curve, as a thin shell in three dimensions: numpy and scipy, nothing of the core.

The strip lies relaxed at 0 <= v <= width along u. Its seam edge, v = 0, is held on the plane line on which it is sewn, free to
turn about it as on a hinge; the rest is free and comes to rest where its energy is least. Layers slip on each other: a strip
bends as one layer does, so that with the layer's own stretching the number of layers falls out.

Places are X(u, v), bicubic splines, twice smooth along the strip. With C = grad X^T grad X, its root's trace tau, and
kappa_ab = X,ab . n the energy per volume of cloth of Young's modulus 1 is

    stretch  ((1 - nu) (tr C - 2 tau + 2) + nu (tau - 2)^2) / (2 (1 - nu^2)):  forces go with stretch (Biot's strain, linear)
    bending  t^2/24 ((1 - nu) kappa:kappa + nu (tr kappa)^2) / (1 - nu^2):     D = E t^3/(12 (1 - nu^2)), Kirchhoff and Love

First and second derivatives are in closed form; a state counts only where the second is positive, a stable rest. Both ends lie
on planes of symmetry, as at the centres of a neckline: mirrored there, or turned by half a turn (up on one side, down on the
other), so that waves that cross a centre aslant are found as well. Gravity, friction, pressing, and the garment under the strip
and its give are not in it."""

import dataclasses
import math

import numpy as np
import scipy.sparse as sparse
from scipy.interpolate import BSpline
from scipy.linalg import LinAlgError, block_diag, cho_solve_banded, cholesky_banded

from strip_model import Line, Sewn

# Elements are no wider than this, mm, at least three to a width, and a little longer: some eight to a wave.
SIZE, LONGER = 5.0, 1.08
DEGREE = 3
# Newton's method ends where a whole step moves nothing by more than this share of the width; it takes no step longer than FAR.
# What creeps on after so many steps, one lobe walking over to the next, is no rest.
STILL, FAR, MOST_STEPS = 1e-5, 0.25, 80
MIRRORED, TURNED = "mirrored", "turned"


@dataclasses.dataclass(frozen=True)
class Cloth:
    """A layer's thickness, mm, and Poisson's ratio."""

    thickness: float
    nu: float = 0.0

    def stretch(self, c):
        """Energy of stretching by C = (c11, c22, c12), and its first and second derivatives.

        W = A (1 - nu) tr C + g(phi) with A = 1/(2 (1 - nu^2)), phi = tr C + 2 sqrt(det C) = tau^2."""
        nu, a = self.nu, 0.5 / (1 - self.nu**2)
        trace, root = c[0] + c[1], np.sqrt(np.maximum(c[0] * c[1] - c[2] ** 2, 1e-12))
        tau = np.sqrt(trace + 2 * root)
        energy = a * ((1 - nu) * (trace - 2 * tau + 2) + nu * (tau - 2) ** 2)
        by_tau = 2 * a * (nu * (tau - 2) - (1 - nu)) / tau
        g1, g2 = by_tau / 2, (2 * a * nu - by_tau) / (4 * tau**2)
        plain = np.array([1.0, 1.0, 0.0])[:, None]
        det1 = np.stack([c[1], c[0], -2 * c[2]])
        det2 = np.array([[0.0, 1.0, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, -2.0]])[:, :, None]
        phi1 = plain + det1 / root
        phi2 = det2 / root - det1[:, None] * det1[None] / (2 * root**3)
        first = a * (1 - nu) * plain + g1 * phi1
        return energy, first, g2 * phi1[:, None] * phi1[None] + g1 * phi2

    def bending(self):
        """The matrix by which moments follow (kappa11, kappa22, kappa12)."""
        nu, d = self.nu, self.thickness**2 / (12 * (1 - self.nu**2))
        return d * np.array([[1.0, nu, 0.0], [nu, 1.0, 0.0], [0.0, 0.0, 2 * (1 - nu)]])


def forces(cloth: Cloth, x):
    """Energy at each point, and its first and second derivatives by x = (X,u X,v X,uu X,vv X,uv): places by 5 by 3."""
    points = x.shape[0]
    xu, xv = x[:, 0], x[:, 1]
    c = np.stack([(xu * xu).sum(1), (xv * xv).sum(1), (xu * xv).sum(1)])
    energy, w1, w2 = cloth.stretch(c)
    c1 = np.zeros((points, 3, 5, 3))
    c1[:, 0, 0], c1[:, 1, 1], c1[:, 2, 0], c1[:, 2, 1] = 2 * xu, 2 * xv, xv, xu
    c1 = c1.reshape(points, 3, 15)

    crossed = np.cross(xu, xv)
    area = np.sqrt((crossed**2).sum(1))
    n = crossed / area[:, None]
    # The dual vectors a^c of X,u and X,v, and X,ab's parts in the surface.
    dual = np.stack([np.cross(xv, n), np.cross(n, xu)], axis=1) / area[:, None, None]
    kappa = np.einsum("pak,pk->pa", x[:, 2:], n)
    gamma = np.einsum("pak,pck->pac", x[:, 2:], dual)
    # dX,ab - gamma^c_ab dX,c as a matrix; its part along the normal n is d kappa.
    within = np.concatenate([-gamma, np.broadcast_to(np.eye(3), (points, 3, 3))], axis=2)
    k1 = np.einsum("pad,pk->padk", within, n).reshape(points, 3, 15)
    stiff = cloth.bending()
    moment = kappa @ stiff
    energy = energy + 0.5 * (moment * kappa).sum(1)
    first = np.einsum("ap,pai->pi", w1, c1) + np.einsum("pa,pai->pi", moment, k1)

    # Second derivatives: kappa's own is 2 dn . (dX,ab - gamma dX,c) - kappa dn . dn, with dn = -a^c (n . dX,c).
    dn = np.zeros((points, 3, 5, 3))
    dn[:, :, :2] = -np.einsum("pck,pl->pkcl", dual, n)
    dn = dn.reshape(points, 3, 15)
    turned = np.einsum("pa,pad,kl->pkdl", moment, within, np.eye(3)).reshape(points, 3, 15)
    dn_t = dn.transpose(0, 2, 1)
    mixed = dn_t @ turned
    second = c1.transpose(0, 2, 1) @ (w2.transpose(2, 0, 1) @ c1) + k1.transpose(0, 2, 1) @ (stiff @ k1)
    second += mixed + mixed.transpose(0, 2, 1) - (moment * kappa).sum(1)[:, None, None] * (dn_t @ dn)
    own = np.zeros((points, 5, 5))
    own[:, 0, 0], own[:, 1, 1], own[:, 0, 1], own[:, 1, 0] = 2 * w1[0], 2 * w1[1], w1[2], w1[2]
    second += np.einsum("pde,kl->pdkel", own, np.eye(3)).reshape(points, 15, 15)
    return energy, first, second


def uniform(elements: int, step: float):
    """Knots of a cubic spline whose control points stand at the element ends, one more beyond both ends."""
    return step * np.arange(-DEGREE, elements + DEGREE + 1)


def clamped(elements: int, step: float):
    """Knots of a cubic spline whose first and last control points are its ends."""
    return step * np.concatenate([np.zeros(DEGREE), np.arange(elements + 1), np.full(DEGREE, elements)])


def basis(knots, places, derivative: int):
    """Values or derivatives of all splines at places, places by splines."""
    count = len(knots) - DEGREE - 1
    return np.nan_to_num(BSpline(knots, np.eye(count), DEGREE)(places, nu=derivative))


def gauss(elements: int, step: float, points: int = 3):
    """Gauss's places in a row of elements, and their weights."""
    nodes, weights = np.polynomial.legendre.leggauss(points)
    return (step * (np.arange(elements)[:, None] + (nodes + 1) / 2)).ravel(), np.tile(step * weights / 2, elements)


@dataclasses.dataclass(frozen=True)
class Rest:
    """A strip at rest: at places along the line, mm, the free edge's height over the plane, mm, and its lean, degrees."""

    place: np.ndarray
    height: np.ndarray
    lean: np.ndarray
    # Energy over that of the strip straight and unsewn; elastic length units.
    energy: float
    # The start it was found from.
    start: str


class Shell:
    """A strip's splines and what is held of them."""

    def __init__(self, sewn: Sewn, cloth: Cloth, ends=(MIRRORED, MIRRORED), size: float = SIZE):
        self.sewn, self.cloth, self.line = sewn, cloth, Line(sewn)
        self.length, self.width = sewn.on_strip[-1], sewn.width
        across = max(3, math.ceil(self.width / size))
        self.columns = max(8, round(self.length * across / (LONGER * self.width)))
        self.rows = across + DEGREE
        self.u_knots = uniform(self.columns, self.length / self.columns)
        self.v_knots = clamped(across, self.width / across)
        self.free_map, self.origin = self.held(ends)
        self.quadrature(across)

    # ---- what is held

    def symmetry(self, which: int, end: str):
        """The line's end, the map of vectors to the other side of it, and the vectors that it leaves as they are."""
        at = np.array([self.sewn.s[0], self.sewn.s[-1]])
        origin = np.append(self.line.points(1.0, at)[:, which], 0.0)
        angle = 0.0 if which == 0 else (self.sewn.angle[-1] if self.sewn.turning is None else self.sewn.turning)
        along, inward, up = np.array([[math.cos(angle), math.sin(angle), 0], [-math.sin(angle), math.cos(angle), 0], [0, 0, 1]])
        if end == MIRRORED:
            return origin, np.eye(3) - 2 * np.outer(along, along), np.stack([inward, up], axis=1)
        return origin, 2 * np.outer(inward, inward) - np.eye(3), inward[:, None]

    def held(self, ends):
        """Control points = origin + free_map @ q: the seam's row fitted to the line, the ends as the symmetries have them."""
        ends_map, ends_origin, column = self.ends_map([self.symmetry(which, end) for which, end in enumerate(ends)])
        origin = np.repeat(ends_origin.reshape(-1, 1, 3), self.rows, axis=1)
        origin[:, 0] = self.seam_row(ends_map, ends_origin)
        # Control points lie by column, then row; free coordinates too, so that the matrix is a band.
        placed = np.arange(origin.size).reshape(self.rows, -1, 3).transpose(1, 0, 2).ravel()
        order = np.argsort(np.tile(column, self.rows - 1), kind="stable")
        free = sparse.kron(np.eye(self.rows)[:, 1:], ends_map).tocsr()[placed][:, order]
        return free, origin.ravel()

    def ends_map(self, maps):
        """One row's control points, with one beyond both ends, from its free coordinates; where they are with these all 0; and
        the column of each free coordinate."""
        n = self.columns
        (at0, over0, keep0), (at1, over1, keep1) = maps
        inner = block_diag(keep0, np.eye(3 * (n - 1)), keep1)
        full = np.concatenate([over0 @ inner[3:6], inner, over1 @ inner[-6:-3]])
        origin = np.zeros((n + 3, 3))
        origin[0], origin[1] = at0 - over0 @ at0, at0
        origin[n + 1], origin[n + 2] = at1, at1 - over1 @ at1
        column = np.repeat(np.arange(n + 1), [keep0.shape[1], *[3] * (n - 1), keep1.shape[1]])
        return full, origin.ravel(), column

    def seam_row(self, ends_map, ends_origin):
        """Control points of the seam, fitted to the line at eight places to an element by least squares. mm"""
        places = np.linspace(0, self.length, 8 * self.columns + 1)
        on_line = np.interp(places, self.sewn.on_strip, self.sewn.on_line)
        target = np.vstack([self.line.points(1.0, on_line), np.zeros(len(places))]).T.ravel()
        value = np.kron(basis(self.u_knots, places, 0), np.eye(3))
        q = np.linalg.lstsq(value @ ends_map, target - value @ ends_origin, rcond=None)[0]
        row = ends_origin + ends_map @ q
        self.seam_error = np.abs(value @ row - target).max()
        return row.reshape(-1, 3)

    # ---- energy

    def quadrature(self, across):
        """Gauss's places in each element, and there the splines' derivatives."""
        step_u, step_v = self.length / self.columns, self.width / across
        (u, wu), (v, wv) = gauss(self.columns, step_u), gauss(across, step_v)
        bu, bv = ([basis(knots, at, d) for d in range(3)] for knots, at in ((self.u_knots, u), (self.v_knots, v)))
        per = len(u) // self.columns
        shapes, points, weights = [], [], []
        for i in range(self.columns):
            for j in range(across):
                iu, jv = slice(per * i, per * (i + 1)), slice(per * j, per * (j + 1))
                pair = [(1, 0), (0, 1), (2, 0), (0, 2), (1, 1)]
                local = [np.einsum("ga,hb->ghab", bu[a][iu, i : i + 4], bv[b][jv, j : j + 4]) for a, b in pair]
                shapes.append(np.stack(local, axis=2).reshape(per * per, 5, 16))
                points.append(((i + np.arange(4))[:, None] * self.rows + j + np.arange(4)).ravel())
                weights.append(np.outer(wu[iu], wv[jv]).ravel())
        # Elements by places by derivatives by control points.
        self.shapes, self.points, self.weights = np.array(shapes), np.array(points), np.array(weights)
        dofs = (3 * self.points[:, :, None] + np.arange(3)).reshape(len(points), 48)
        self.dofs = dofs
        square = (len(points), 48, 48)
        self.at_rows, self.at_columns = (np.broadcast_to(one, square).ravel() for one in (dofs[:, :, None], dofs[:, None]))

    def places(self, q):
        return self.origin + self.free_map @ q

    def derivatives(self, q):
        control = self.places(q).reshape(-1, 3)[self.points]
        return np.einsum("egdi,eik->egdk", self.shapes, control)

    def energy(self, q):
        x = self.derivatives(q).reshape(-1, 5, 3)
        crossed = np.cross(x[:, 0], x[:, 1])
        c = np.stack([(x[:, 0] ** 2).sum(1), (x[:, 1] ** 2).sum(1), (x[:, 0] * x[:, 1]).sum(1)])
        kappa = np.einsum("pak,pk->pa", x[:, 2:], crossed / np.sqrt((crossed**2).sum(1))[:, None])
        density = self.cloth.stretch(c)[0] + 0.5 * np.einsum("pa,ab,pb->p", kappa, self.cloth.bending(), kappa)
        return float(density @ self.weights.ravel())

    def forces(self, q):
        """The energy's first derivative by q, and its second as the lower band of a matrix."""
        x = self.derivatives(q)
        elements, per = x.shape[:2]
        _, first, second = forces(self.cloth, x.reshape(-1, 5, 3))
        weights = self.weights.reshape(-1, 1)
        first = (first * weights).reshape(elements, per, 5, 3)
        second = (second * weights[:, :, None]).reshape(elements, per, 5, 3, 5, 3)
        pull = np.bincount(self.dofs.ravel(), np.einsum("egdi,egdk->eik", self.shapes, first).ravel(), len(self.origin))
        half = np.einsum("egdkfl,egfj->egdkjl", second, self.shapes, optimize=True)
        matrix = np.einsum("egdi,egdkjl->eikjl", self.shapes, half, optimize=True)
        whole = sparse.coo_matrix((matrix.ravel(), (self.at_rows, self.at_columns)), (len(pull), len(pull))).tocsr()
        return self.free_map.T @ pull, banded(self.free_map.T @ whole @ self.free_map)

    # ---- rest

    def guess(self, lean):
        """Free coordinates of a strip that is straight across and leans so, radians, at places of the line, mm."""
        columns = np.clip(np.arange(-1, self.columns + 2), 0, self.columns) * self.length / self.columns
        rows = np.array([self.v_knots[r + 1 : r + 1 + DEGREE].mean() for r in range(self.rows)])
        on_line = np.interp(columns, self.sewn.on_strip, self.sewn.on_line)
        base, inward = self.line.points(1.0, on_line), self.line.frame(1.0, on_line)[1]
        angle = lean(on_line)
        flat = base.T[:, None] + (inward * np.cos(angle)).T[:, None] * rows[None, :, None]
        whole = np.concatenate([flat, (np.sin(angle)[:, None] * rows)[:, :, None]], axis=2)
        gram = (self.free_map.T @ self.free_map).tocsc()
        return sparse.linalg.spsolve(gram, self.free_map.T @ (whole.ravel() - self.origin))

    def settle(self, q):
        """Newton's method with a line search, the matrix shifted until it is positive; None where it finds no stable rest."""
        energy, shift = self.energy(q), 0.0
        for _ in range(MOST_STEPS):
            pull, band = self.forces(q)
            step, shift = downhill(pull, band, shift)
            size = np.abs(step).max()
            if size < STILL * self.width and shift == 0:
                return q, energy
            length = min(1.0, FAR * self.width / size)
            while True:
                new = self.energy(q + length * step)
                if new <= energy + 1e-4 * length * (step @ pull) + 1e-13 * abs(energy):
                    break
                length /= 2
                if length < 1e-8:
                    return None
            q, energy = q + length * step, new
            shift = shift / 6 if shift > 1e-7 else 0.0
        return None

    def rest(self, start: str, lean) -> Rest | None:
        """The stable rest that a guess leads to; `start` is the guess's name, `lean` its lean, radians, at places of the line."""
        found = self.settle(self.guess(lean))
        if found is None:
            return None
        q, energy = found
        u = np.linspace(0, self.length, 6 * self.columns + 1)
        on_line = np.interp(u, self.sewn.on_strip, self.sewn.on_line)
        net = self.places(q).reshape(self.columns + 3, self.rows, 3)
        edge = basis(self.u_knots, u, 0) @ net[:, -1]
        away = edge[:, :2] - self.line.points(1.0, on_line).T
        flat = (away * self.line.frame(1.0, on_line)[1].T).sum(1)
        return Rest(on_line, edge[:, 2], np.degrees(np.arctan2(edge[:, 2], flat)), energy, start)


def banded(matrix):
    """The lower band of a symmetric matrix, as scipy.linalg keeps it."""
    lower = sparse.tril(matrix).tocoo()
    below = lower.row - lower.col
    band = np.zeros((below.max() + 1, matrix.shape[0]))
    np.add.at(band, (below, lower.col), lower.data)
    return band


def downhill(pull, band, shift):
    """Newton's step, and the shift that the matrix needed to be positive."""
    while True:
        try:
            shifted = band.copy()
            shifted[0] += shift
            return -cho_solve_banded((cholesky_banded(shifted, lower=True), True), pull), shift
        except LinAlgError:
            shift = max(3 * shift, 1e-6)
