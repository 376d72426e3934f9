"""A straight strip sewn to a curve, as a plane sheet of cloth: scikit-fem and scipy, nothing of the core.

The strip lies relaxed at 0 <= Y <= width along X. Its seam edge, Y = 0, is held where it is sewn: X goes to the place
s(X) of the line. The rest is free, and comes to rest where its strain energy is least. It may be pressed together: a free
edge that would ripple is one whose strain comes out negative here.

The line is told by its direction: angle(s), radians, growing where it bends toward the side on which the strip lies (as
with a band round an opening). It may turn at once at a corner: the strip is not cut there, the column of cloth that is sewn
on there parts the angle. Both ends lie on a line of symmetry, along which the cloth may slide: the centre lines of a
neckline. At a point the strip's end is cut along that line."""

import dataclasses
import math

import numpy as np
import scipy.sparse as sparse
from scipy.sparse.linalg import splu
from skfem import BilinearForm, CellBasis, ElementQuad2, ElementVector, FacetBasis, LinearForm, MeshQuad

# Elements over the width, and their length along the strip over the width.
ACROSS, ALONG = 4, 0.3
# Newton's steps end where they move no place by more than this share of the width.
STILL = 1e-9
# A step moves no place further than this share of the width.
FAR = 0.05
# A free edge whose strain changes by more at once has snapped into a crease; the line is bent in steps no smaller than this
# share of its turning before that is believed.
SNAP, LEAST_STEP = 0.2, 0.004


def inverse_transposed(f):
    det = f[0, 0] * f[1, 1] - f[0, 1] * f[1, 0]
    return np.array([[f[1, 1], -f[1, 0]], [-f[0, 1], f[0, 0]]]) / det, det


def outer(a, b):
    return np.einsum("ij...,kl...->ijkl...", a, b)


IDENTITY = np.einsum("ik,jl->ijkl", np.eye(2), np.eye(2))


@dataclasses.dataclass(frozen=True)
class LogStrain:
    """Energy quadratic in the logarithms of the two stretches, plane stress, Young's modulus 1: a strip pulled along
    itself by lambda narrows by lambda^-nu (Hencky's law).

    With a = ln det F and the logarithms' difference d: W = (a^2/(1 - nu) + d^2/(1 + nu)) / 4, and cosh d = q =
    tr(F^T F)/(2 det F), so that no principal directions are needed."""

    nu: float

    def parts(self, f):
        g, det = inverse_transposed(f)
        q = np.maximum((f**2).sum((0, 1)) / (2 * det), 1.0)
        return g, det, q, np.log(det)

    def energy(self, f):
        _, _, q, a = self.parts(f)
        return (a**2 / (1 - self.nu) + np.arccosh(q) ** 2 / (1 + self.nu)) / 4

    def stress_and_stiffness(self, f):
        """First derivative of the energy by F, and second."""
        g, det, q, a = self.parts(f)
        d = np.arccosh(q)
        e, near = q - 1, d < 1e-2
        sinh = np.sinh(np.where(near, 1.0, d))
        first = np.where(near, 2 - 2 * e / 3 + 4 * e**2 / 15, 2 * d / sinh)
        second = np.where(near, -2 / 3 + 8 * e / 15, 2 * (sinh - d * np.cosh(d)) / sinh**3)
        dq = f / det - q * g
        dg = -np.einsum("il...,kj...->ijkl...", g, g)
        ddq = IDENTITY[(...,) + (None,) * det.ndim] / det - outer(f / det, g) - outer(g, dq) - q * dg
        stress = a / (2 * (1 - self.nu)) * g + first / (4 * (1 + self.nu)) * dq
        stiffness = (outer(g, g) + a * dg) / (2 * (1 - self.nu)) + (second * outer(dq, dq) + first * ddq) / (4 * (1 + self.nu))
        return stress, stiffness


@dataclasses.dataclass(frozen=True)
class GreenStrain:
    """Energy quadratic in Green's strain, plane stress, Young's modulus 1 (St. Venant and Kirchhoff's law): another
    cloth, for how much hangs on the law."""

    nu: float

    def second_stress(self, f):
        strain = (np.einsum("ki...,kj...->ij...", f, f) - np.eye(2)[(...,) + (None,) * (f.ndim - 2)]) / 2
        trace = strain[0, 0] + strain[1, 1]
        share = self.nu / (1 - self.nu)
        stress = (strain + share * trace * np.eye(2)[(...,) + (None,) * trace.ndim]) / (1 + self.nu)
        return strain, stress

    def energy(self, f):
        strain, stress = self.second_stress(f)
        return (strain * stress).sum((0, 1)) / 2

    def stress_and_stiffness(self, f):
        _, s = self.second_stress(f)
        share = self.nu / (1 - self.nu)
        left = np.einsum("im...,km...->ik...", f, f)
        stiffness = (
            np.einsum("ik,lj...->ijkl...", np.eye(2), s)
            + np.einsum("il...,kj...->ijkl...", f, f) / (2 * (1 + self.nu))
            + np.einsum("ik...,jl->ijkl...", left, np.eye(2)) / (2 * (1 + self.nu))
            + share * outer(f, f) / (1 + self.nu)
        )
        return np.einsum("ik...,kj...->ij...", f, s), stiffness


@dataclasses.dataclass(frozen=True)
class Sewn:
    """What is sewn to what. mm and radians."""

    # Direction of the line at each place, from its start on; sampled, with a place told twice at a corner.
    s: np.ndarray
    angle: np.ndarray
    # Marks: the strip's own and the line's, both from the start to the end. Between them the strip is spread evenly.
    on_strip: np.ndarray
    on_line: np.ndarray
    width: float
    # All that the line turns from one line of symmetry to the other, with a corner's half at the end; None: the last angle.
    turning: float | None = None
    # Points at start and end: angles, on the strip's side, of the line of symmetry to the line, along which the strip is
    # cut; None where the strip goes on across.
    points: tuple[float | None, float | None] = (None, None)
    # The width that the points are cut for, where the strip is cut wider than it is to be as sewn. mm
    cut_for: float | None = None

    def longer(self) -> tuple[float, float]:
        """How much longer the free edge is than the seam edge at start and end; a mitre's is shorter. mm"""
        width = self.cut_for or self.width
        return tuple(0.0 if alpha is None else -width / math.tan(alpha) for alpha in self.points)


@dataclasses.dataclass(frozen=True)
class Result:
    """What the free edge does, at places along it in order: where the cloth there is sewn on, mm along the line, its
    strain, and how wide the strip is there, mm. `weight` is the relaxed length that each place stands for."""

    place: np.ndarray
    strain: np.ndarray
    width: np.ndarray
    weight: np.ndarray
    # How much of the line's turning had been taken when a crease snapped in at a corner; 1 where none did.
    turned: float


class Line:
    """The line's points by its direction; the share tau of its turning is taken, 0 (straight) to 1."""

    def __init__(self, sewn: Sewn):
        self.s, self.angle = sewn.s, sewn.angle
        # The direction shared over a width each way, for a first guess of where the cloth goes; the ends are kept.
        fine = np.linspace(self.s[0], self.s[-1], 2000)
        turned = np.interp(fine, self.s, self.angle)
        summed = np.concatenate([[0], np.cumsum((turned[1:] + turned[:-1]) / 2 * np.diff(fine))])
        reach = np.minimum(np.minimum(fine - fine[0], fine[-1] - fine), sewn.width)
        wide = np.maximum(reach, 1e-9)
        shared = (np.interp(fine + wide, fine, summed) - np.interp(fine - wide, fine, summed)) / (2 * wide)
        shared[reach < 1e-6] = turned[reach < 1e-6]
        self.fine, self.shared = fine, shared

    def points(self, tau, places):
        """Integrated by Gauss's rule of 3 places between all samples and all places asked for."""
        cuts = np.unique(np.concatenate([self.s, places]))
        gauss, weights = np.polynomial.legendre.leggauss(3)
        middle, half = (cuts[1:] + cuts[:-1]) / 2, np.diff(cuts) / 2
        at = middle[:, None] + half[:, None] * gauss
        angle = tau * np.interp(at, self.s, self.angle)
        steps = np.stack([(np.cos(angle) * weights).sum(1) * half, (np.sin(angle) * weights).sum(1) * half])
        points = np.concatenate([np.zeros((2, 1)), np.cumsum(steps, axis=1)], axis=1)
        return points[:, np.searchsorted(cuts, places)]

    def frame(self, tau, places):
        angle = tau * np.interp(places, self.fine, self.shared)
        along = np.stack([np.cos(angle), np.sin(angle)])
        return along, np.stack([-along[1], along[0]])


def grid(sewn: Sewn, along: float):
    """Places along the strip: even steps, with a place at each mark and each corner, and finer beside both."""
    corners = sewn.s[1:][np.diff(sewn.s) <= 1e-9]
    corners = np.interp(corners, sewn.on_line, sewn.on_strip)
    # A mark and a corner told apart by rounding alone are one place: the mark's.
    apart = [corner for corner in corners if np.abs(sewn.on_strip - corner).min() > 1e-3 * sewn.width]
    fixed = np.unique(np.concatenate([sewn.on_strip, apart]))
    size = along * sewn.width
    places = [fixed[:1]]
    for a, b in zip(fixed, fixed[1:]):
        n = max(2, math.ceil((b - a) / size))
        even = np.linspace(a, b, n + 1)
        # The first step on each side is halved: strain changes fastest there.
        places.append(np.unique(np.concatenate([even[1:], [(even[0] + even[1]) / 2, (even[-2] + even[-1]) / 2]])))
    return np.concatenate(places)


class Model:
    """The strip's mesh and what is held of it."""

    def __init__(self, sewn: Sewn, law, across: int = ACROSS, along: float = ALONG):
        self.sewn, self.law, self.line = sewn, law, Line(sewn)
        x = grid(sewn, along)
        mesh = MeshQuad.init_tensor(x, np.linspace(0, sewn.width, across + 1))
        mesh = MeshQuad(self.slanted(mesh.p), mesh.t)
        self.basis = CellBasis(mesh, ElementVector(ElementQuad2()), intorder=5)
        length = x[-1]
        # The two coordinates of each place.
        basis = self.basis
        self.dofs = np.concatenate([basis.nodal_dofs, basis.facet_dofs, basis.interior_dofs], axis=1)
        self.at = self.basis.doflocs[:, self.dofs[0]]
        self.unslanted = self.seam_place(self.at)
        self.seam = self.at[1] < 1e-9
        self.start = (self.unslanted < 1e-9) & ~self.seam
        self.end = (self.unslanted > length - 1e-9) & ~self.seam
        top = self.basis.mesh.facets_satisfying(lambda p: np.abs(p[1] - sewn.width) < 1e-7, boundaries_only=True)
        try:
            self.edge = FacetBasis(self.basis.mesh, self.basis.elem, facets=top, intorder=3)
        except Exception as why:  # The library has no class of its own for a mesh that it cannot map.
            raise ArithmeticError(f"the mesh has no edge: {why}") from why
        self.place = np.interp(self.unslanted, sewn.on_strip, sewn.on_line)

    def slanted(self, p):
        """The mesh with its ends cut aslant: the slant fades over three widths or half the strip."""
        return np.stack([p[0] + self.slant(p[0], p[1]), p[1]])

    def fade(self):
        length = self.sewn.on_strip[-1]
        return min(length / 2, max(3 * self.sewn.width, 2 * max(map(abs, self.sewn.longer()))))

    def slant(self, x, y):
        length, fade = self.sewn.on_strip[-1], self.fade()
        start, end = self.sewn.longer()
        share = y / self.sewn.width
        return share * (end * np.clip(1 - (length - x) / fade, 0, 1) - start * np.clip(1 - x / fade, 0, 1))

    def seam_place(self, at):
        """The place on the seam edge that a column of the slanted mesh starts from: undoes `slanted` by iteration."""
        x = at[0].copy()
        for _ in range(200):
            x = np.clip(at[0] - self.slant(x, at[1]), 0, self.sewn.on_strip[-1])
        return x

    def held(self, tau):
        """Places of the held nodes, and the free coordinates q: positions = base + free @ q."""
        sewn, n = self.sewn, self.at.shape[1]
        base = np.zeros((2, n))
        base[:, self.seam] = self.line.points(tau, self.place[self.seam])
        columns, rows, values = [], [], []
        count = 0
        sides = ((self.start, 0), (self.end, -1))
        for mask, which in sides:
            direction = self.axis(tau, which)
            origin = self.line.points(tau, np.array([sewn.s[0], sewn.s[-1]]))[:, which]
            nodes = np.flatnonzero(mask)
            base[:, nodes] = origin[:, None]
            for row in range(2):
                rows.append(self.dofs[row, nodes])
                columns.append(count + np.arange(nodes.size))
                values.append(np.full(nodes.size, direction[row]))
            count += nodes.size
        nodes = np.flatnonzero(~(self.seam | self.start | self.end))
        for row in range(2):
            rows.append(self.dofs[row, nodes])
            columns.append(count + np.arange(nodes.size))
            values.append(np.ones(nodes.size))
            count += nodes.size
        free = sparse.csr_matrix(
            (np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))), shape=(self.basis.N, count)
        )
        return self.packed(base), free

    def axis(self, tau, which):
        """The direction of a line of symmetry, where a share tau of the turning is taken."""
        sewn, alpha = self.sewn, self.sewn.points[which]
        turning = sewn.angle[-1] if sewn.turning is None else sewn.turning
        if alpha is None:
            angle = math.pi / 2 + (tau * turning if which else 0.0)
        else:
            angle = tau * sewn.angle[which] + (math.pi - alpha if which else alpha)
        return np.array([math.cos(angle), math.sin(angle)])

    def packed(self, positions):
        out = np.zeros(self.basis.N)
        out[self.dofs] = positions
        return out

    def gradient(self, x):
        return self.basis.interpolate(x).grad

    def energy(self, x):
        f = self.gradient(x)
        if np.min(f[0, 0] * f[1, 1] - f[0, 1] * f[1, 0]) <= 1e-6:
            return math.inf
        return float((self.law.energy(f) * self.basis.dx).sum())

    def forces(self, x):
        stress, stiffness = self.law.stress_and_stiffness(self.gradient(x))
        force = LinearForm(lambda v, w: np.einsum("ij...,ij...", stress, v.grad)).assemble(self.basis)
        matrix = BilinearForm(lambda u, v, w: np.einsum("ijkl...,kl...,ij...", stiffness, u.grad, v.grad)).assemble(self.basis)
        return force, matrix

    def settle(self, tau, x):
        """Newton's method from a guess, with a line search; None where it finds no rest."""
        base, free = self.held(tau)
        q = sparse.linalg.lsqr(free, x - base, atol=1e-14, btol=1e-14)[0]
        x = base + free @ q
        energy = self.energy(x)
        if not math.isfinite(energy):
            return None
        shift = 0.0
        for _ in range(60):
            force, matrix = self.forces(x)
            reduced, pull = (free.T @ matrix @ free).tocsc(), free.T @ force
            while True:
                step = -splu(reduced + shift * sparse.eye(reduced.shape[0], format="csc")).solve(pull)
                if step @ pull < 0:
                    break
                shift = max(4 * shift, 1e-3)
            size = np.abs(step).max()
            if size < STILL * self.sewn.width:
                return x
            # No longer than would keep to the state of rest that the guess is near.
            length = min(1.0, FAR * self.sewn.width / size)
            while True:
                trial = x + length * (free @ step)
                new = self.energy(trial)
                if new <= energy + 1e-4 * length * (step @ pull) + 1e-13 * abs(energy):
                    break
                length /= 2
                if length < 1e-6:
                    return None
            x, energy = trial, new
            shift = shift / 4 if shift > 1e-8 else 0.0
        return None

    def solve(self) -> Result:
        """From the straight line, bent step by step; steps are halved where one finds no rest, or one far from the last.
        Where the cloth snaps into a crease, however small the step, what is told is the rest before it."""
        tau, step = 0.0, 0.25
        asked = (self.sewn.cut_for or self.sewn.width) / self.sewn.width
        flat = np.stack([self.at[0] - self.unslanted, self.at[1] * asked])
        x = self.settle(0.0, self.packed(self.placed(0.0, flat)))
        if x is None:
            raise ArithmeticError("the strip finds no rest on a straight line")
        strain = self.free_edge_strain(x)
        while tau < 1:
            new_tau = min(1.0, tau + step)
            new = self.settle(new_tau, self.packed(self.placed(new_tau, self.offsets(tau, x))))
            new_strain = None if new is None else self.free_edge_strain(new)
            if new_strain is None or np.abs(new_strain - strain).max() > SNAP:
                step /= 2
                if step < LEAST_STEP:
                    break
                continue
            tau, x, strain = new_tau, new, new_strain
        return self.read(x, tau)

    def placed(self, tau, offsets):
        along, across = self.line.frame(tau, self.place)
        return self.line.points(tau, self.place) + offsets[0] * along + offsets[1] * across

    def offsets(self, tau, x):
        along, across = self.line.frame(tau, self.place)
        away = x[self.dofs] - self.line.points(tau, self.place)
        return np.stack([(away * along).sum(0), (away * across).sum(0)])

    def free_edge_strain(self, x):
        gradient = self.edge.interpolate(x).grad
        return np.hypot(gradient[0, 0], gradient[1, 0]) - 1

    def read(self, x, tau) -> Result:
        edge, strain = self.edge, self.free_edge_strain(x)
        field, at = edge.interpolate(x), edge.global_coordinates()
        place = np.interp(np.asarray(at)[0].ravel(), self.sewn.on_strip, self.sewn.on_line)
        # The width: how far the edge's points are from the line at the nearest.
        points = np.asarray(field).reshape(2, -1)
        line = self.line.points(tau, np.linspace(self.sewn.s[0], self.sewn.s[-1], 4000))
        width = np.array([np.hypot(*(line - p[:, None])).min() for p in points.T])
        order = np.argsort(place)
        return Result(place[order], strain.ravel()[order], width[order], edge.dx.ravel()[order], tau)


def sew(sewn: Sewn, law=None, across: int = ACROSS, along: float = ALONG) -> Result:
    """What the strip does, once sewn."""
    return Model(sewn, law or LogStrain(0.0), across, along).solve()


def circle(radius: float, width: float, ratio: float, law, turn: float = math.pi / 2, **mesh) -> Result:
    """A strip sewn evenly round a circle; a quarter of it, or another part, stands for all."""
    s = np.linspace(0, turn * radius, 181)
    marks = np.array([0.0, s[-1]])
    return sew(Sewn(s, s / radius, ratio * marks, marks, width), law, **mesh)

