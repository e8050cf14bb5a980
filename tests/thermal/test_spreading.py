"""Spreading against a half space, a fin in closed form, and the finite volumes of an independent package."""

from __future__ import annotations

import math
import warnings

import numpy as np
import pytest
from scipy import special

from midframe.faults import BadSetting
from midframe.thermal import resistance, spreading_resistance, unit_resistance


def disc(radius_mm):
    return math.pi * radius_mm**2


def spread(a, b, t, k, h):
    return spreading_resistance(disc(a), disc(b), thickness_mm=t, along_w_mk=k, across_w_mk=k, base_w_m2k=h)


def test_a_small_patch_on_a_large_block_spreads_as_on_a_half_space():
    # Even flux over a disc on a half space: mean 8/(3 π² k a) (textbook); 30 radii take 1.41 a/b off.
    found = spread(1.0, 30.0, 100.0, 10.0, 1e6)
    assert found == pytest.approx(8 / (3 * math.pi**2 * 10.0 * 1e-3) * (1 - 1.41 / 30), rel=5e-3)


def fin(a, b, t, k, h):
    """Mean resistance of a film so thin that it is a fin: even flux on r < a, cooled by h, K/W (textbook)."""
    a, b, t = a / 1000, b / 1000, t / 1000
    m = math.sqrt(h / (k * t))
    i0, i1, k0, k1 = special.iv(0, m * a), special.iv(1, m * a), special.kv(0, m * a), special.kv(1, m * a)
    edge = special.kv(1, m * b) / special.iv(1, m * b)
    # Inside q/h + C I0(mr), outside D (I0(mr) edge + K0(mr)), equal in value and slope at r = a.
    outside, slope = i0 * edge + k0, i1 * edge - k1
    q = 1 / (math.pi * a**2)
    c = (q / h) * slope / (i1 * outside - i0 * slope)
    return (q / h) + 2 * c * i1 / (m * a)


@pytest.mark.parametrize("h", [10.0, 500.0, 25_000.0])
def test_a_thin_film_spreads_as_a_fin(h):
    # Total of the fin: spreading and base over the whole area. Film 0.02 mm, k 1000.
    a, b, t, k = 6.0, 13.0, 0.02, 1000.0
    whole = spread(a, b, t, k, h) + resistance(1 / h, disc(b))
    assert whole == pytest.approx(fin(a, b, t, k, h), rel=2e-3)


def volumes(a, b, t, k, h, fine=1):
    """The same by FiPy on rings: mean of the top under the patch over the base's surroundings, for 1 W."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from fipy import CellVariable, CylindricalGrid2D, DiffusionTerm, ImplicitSourceTerm

        nr, nz = 48 * fine, 24 * fine
        dr, dz = b / 1000 / nr, t / 1000 / nz
        mesh = CylindricalGrid2D(nr=nr, nz=nz, dr=dr, dz=dz)
        r, z = (np.array(one) for one in mesh.cellCenters)
        top, base = z > t / 1000 - dz, z < dz
        patch = top & (r < a / 1000)
        through = 1 / (1 / h + dz / 2 / k)
        temperature = CellVariable(mesh=mesh, value=0.0)
        source = np.where(patch, 1 / disc(a / 1000) / dz, 0.0)
        equation = (
            DiffusionTerm(coeff=k)
            + CellVariable(mesh=mesh, value=source)
            - ImplicitSourceTerm(coeff=CellVariable(mesh=mesh, value=np.where(base, through / dz, 0.0)))
        )
        equation.solve(var=temperature)
        ring = r[patch]
        surface = np.array(temperature.value)[patch] + dz / 2 / k / disc(a / 1000)
        return float(np.sum(surface * ring) / np.sum(ring))


@pytest.mark.slow
@pytest.mark.parametrize("case", [(5.0, 12.0, 3.0, 20.0, 2_000.0), (4.0, 16.0, 1.0, 150.0, 200.0)])
def test_spreading_agrees_with_the_finite_volumes_of_fipy(case):
    a, b, t, k, h = case
    whole = spread(a, b, t, k, h) + resistance(unit_resistance(t, k, 0.0) + 1 / h, disc(b))
    coarse, finer = volumes(*case), volumes(*case, fine=2)
    assert whole == pytest.approx(2 * finer - coarse, rel=0.01)


def test_a_film_that_conducts_less_across_spreads_worse():
    film = {"thickness_mm": 0.06, "along_w_mk": 1000.0, "base_w_m2k": 25_000.0}
    same, less = (spreading_resistance(120, 550, across_w_mk=k, **film) for k in (1000.0, 5.0))
    assert less > same > 0


def test_a_patch_as_large_as_the_film_spreads_nothing():
    film = {"thickness_mm": 0.06, "along_w_mk": 1000.0, "across_w_mk": 5.0, "base_w_m2k": 10.0}
    assert spreading_resistance(550, 550, **film) == 0
    assert spreading_resistance(549, 550, **film) < 0.001


@pytest.mark.parametrize(("patch", "words"), [(0.0, "zero or less"), (0.1, "a thousandth at least")])
def test_areas_that_cannot_be_are_told(patch, words):
    with pytest.raises(BadSetting, match=words):
        spreading_resistance(
            patch, 550, thickness_mm=0.06, along_w_mk=1000.0, across_w_mk=5.0, base_w_m2k=10.0
        )
