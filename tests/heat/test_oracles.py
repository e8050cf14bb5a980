"""The model against independent packages: pychemengg, FiPy, ht, CoolProp."""

from __future__ import annotations

import warnings

import numpy as np
import pytest

from midframe.heat.exact import exact
from midframe.heat.integrate import Steps, integrate
from midframe.heat.jet import AIR_C, air_at, air_by_distance, jet
from midframe.heat.network import Surroundings, radiation_w_m2k
from midframe.heat.stack import Layer, borders, stack_network

STACK = (
    Layer("glass", 0.8e-3, 1.0, 2500.0, 750.0),
    Layer("foam", 0.3e-3, 0.08, 500.0, 1500.0),
    Layer("rim", 5.5e-3, 160.0, 2800.0, 880.0),
    Layer("foam", 0.25e-3, 0.08, 500.0, 1500.0),
    Layer("panel", 0.9e-3, 0.45, 2000.0, 1000.0),
    Layer("glass", 0.6e-3, 1.1, 2450.0, 820.0),
)
HOT = Surroundings(air_c=95.0, coefficient_w_m2k=60.0)
FAR = Surroundings(air_c=22.0, coefficient_w_m2k=8.0)


def fipy_stack(seconds, steps, fine=1):
    """The same stack by the finite volumes of FiPy: temperatures at the outer faces of the mesh."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        from fipy import CellVariable, DiffusionTerm, FaceVariable, Grid1D, ImplicitSourceTerm, TransientTerm

        widths, k, heat = [], [], []
        for layer in STACK:
            count = fine * max(6, round(layer.thickness_m / 5e-5 / 4))
            widths += [layer.thickness_m / count] * count
            k += [layer.conductivity_w_mk] * count
            heat += [layer.density_kg_m3 * layer.capacity_j_kgk] * count
        mesh = Grid1D(dx=np.array(widths))
        temperature = CellVariable(mesh=mesh, value=22.0, hasOld=True)
        cells = np.array(k)
        inside = 2.0 / (np.array(widths) / cells)
        face = np.zeros(len(cells) + 1)
        face[1:-1] = (np.array(widths[:-1]) + widths[1:]) / 2.0 / (1.0 / inside[:-1] + 1.0 / inside[1:])
        source = np.zeros(len(cells))
        sink = np.zeros(len(cells))
        for cell, around in ((0, HOT), (-1, FAR)):
            through = 1.0 / (1.0 / around.coefficient_w_m2k + 1.0 / inside[cell])
            source[cell] = through * around.air_c / widths[cell]
            sink[cell] = through / widths[cell]
        equation = TransientTerm(coeff=CellVariable(mesh=mesh, value=np.array(heat))) == DiffusionTerm(
            coeff=FaceVariable(mesh=mesh, value=face)
        ) + CellVariable(mesh=mesh, value=source) - ImplicitSourceTerm(
            coeff=CellVariable(mesh=mesh, value=sink)
        )
        for _ in range(steps):
            temperature.updateOld()
            equation.solve(var=temperature, dt=seconds / steps)
        return np.cumsum(widths) - np.array(widths) / 2.0, np.array(temperature.value)


@pytest.mark.slow
def test_a_stack_of_six_layers_agrees_with_the_finite_volumes_of_fipy():
    places, coarse = fipy_stack(120.0, 60)
    _, finer = fipy_stack(120.0, 120)
    theirs = 2.0 * finer - coarse  # their time stepping is of first order; its first error is taken off
    net = stack_network(STACK)
    run = integrate(net, 22.0, {"hot": HOT, "far": FAR}, 120.0, steps=Steps(tolerance_k=1e-4))
    depth, begin = [0.0], 0.0
    for layer, (first, last) in zip(STACK, borders(STACK), strict=True):
        depth += (begin + layer.thickness_m * np.arange(1, last - first + 1) / (last - first)).tolist()
        begin += layer.thickness_m
    assert np.abs(np.interp(places, depth, run.final_c) - theirs).max() < 0.05


def test_the_adaptive_run_agrees_with_the_exact_one_on_the_stack():
    net = stack_network(STACK)
    run = integrate(net, 22.0, {"hot": HOT, "far": FAR}, 300.0, steps=Steps(tolerance_k=5e-3))
    truth = exact(net, 22.0, {"hot": HOT, "far": FAR}, run.seconds)
    assert np.abs(run.temperature_c - truth).max() < 0.05


def test_the_slab_of_pychemengg_is_met():
    from pychemengg.heattransfer.transient import NonLumpedSlab

    slab = NonLumpedSlab(
        thickness=2 * 0.003,
        surfacearea=1.0,
        volume=2 * 0.003,
        density=2500.0,
        specificheat=750.0,
        thermalconductivity=1.0,
        heattransfercoefficient=300.0,
        T_infinity=95.0,
        T_initial=22.0,
    )
    slab.calc_Bi()
    slab.calc_Fo(time=6.0)
    slab.calc_eigenvalues(numberof_eigenvalues_desired=20)
    theirs = [
        float(np.squeeze(slab.calc_temperature_of_solid_at_time_t(time=6.0, xposition_tofindtemp=x)))
        for x in (0.0, 0.003)
    ]
    net = stack_network([Layer("glass", 0.003, 1.0, 2500.0, 750.0)], refine=2)
    around = {"hot": Surroundings(air_c=95.0, coefficient_w_m2k=300.0)}
    ours = integrate(net, 22.0, around, 6.0, steps=Steps(tolerance_k=1e-4)).final_c
    assert ours[-1] == pytest.approx(theirs[0], abs=0.02)
    assert ours[0] == pytest.approx(theirs[1], abs=0.02)


def test_the_semi_infinite_body_of_pychemengg_is_met():
    from pychemengg.heattransfer.transient import SemiInfinite

    # wood, 1250 W/m², 20 min: 148.55 °C at the surface [cengel-htpa, semi-infinite flux]
    wood = SemiInfinite(
        boundarycondition="heatflux_specified",
        xposition_tofindtemp=0.0,
        time=20 * 60.0,
        thermalconductivity=0.159,
        thermaldiffusivity=1.75e-7,
        heatflux=1250.0,
        T_initial=20.0,
    )
    layer = Layer("wood", 0.15, 0.159, 0.159 / 1.75e-7 / 1000.0, 1000.0)
    ours = integrate(stack_network([layer]), 20.0, {"hot": Surroundings(flux_w_m2=1250.0)}, 1200.0).final_c[0]
    assert wood.calc_temperature() == pytest.approx(148.55, abs=0.01)
    assert ours == pytest.approx(148.55, abs=0.1)


def test_radiation_is_that_of_ht():
    from ht.radiation import q_rad

    flux = q_rad(0.9, 273.15 + 80.0, 273.15 + 20.0)
    assert radiation_w_m2k(0.9, 80.0, 20.0) * 60.0 == pytest.approx(flux, rel=1e-5)


@pytest.mark.parametrize("celsius", AIR_C)
def test_the_air_of_the_jet_is_that_of_coolprop(celsius):
    from CoolProp.CoolProp import PropsSI

    air = air_at(celsius)
    for name, value in (
        ("D", air.density_kg_m3),
        ("C", air.heat_j_kgk),
        ("L", air.conductivity_w_mk),
        ("V", air.viscosity_pa_s),
    ):
        assert value == pytest.approx(PropsSI(name, "T", celsius + 273.15, "P", 101325, "Air"), rel=2e-3)


@pytest.mark.parametrize(
    ("given", "reynolds", "shape", "coefficient"),
    [
        ((45, 8, 100, 150, 80), 17140, 0.22669, 49.4),
        ((45, 12, 100, 150, 80), 25710, 0.22669, 64.2),
        ((8, 15, 40, 40, 150), 4168, 0.15918, 94.4),
    ],
)
def test_the_jet_gives_the_computed_rows(given, reynolds, shape, coefficient):
    # [bench-physics-calc, jet]: Martin's correlation [incropera-fhmt, eq. 7.75] worked out by hand
    found = jet(*given)
    assert found.reynolds == pytest.approx(reynolds, rel=5e-3)
    assert found.shape == pytest.approx(shape, rel=1e-3)
    assert found.coefficient_w_m2k == pytest.approx(coefficient, rel=5e-3)
    assert found.notes == ()


def test_a_jet_outside_its_range_says_so():
    assert "outside 2 to 12" in jet(45, 8, 50, 150, 80).notes[0]


@pytest.mark.parametrize(("away", "published"), [(150, 47.0), (100, 61.0), (50, 95.0)])
def test_the_law_of_the_distance_gives_the_published_hairdryer_temperatures(away, published):
    # 47 °C at 15 cm, 61 °C at 10 cm, 95 °C at 5 cm [ann-dermatol-2011, methods]
    others = [(d, t) for d, t in ((150, 47.0), (100, 61.0), (50, 95.0)) if d != away]
    law = air_by_distance([d for d, _ in others], [t for _, t in others], away)
    assert law == pytest.approx(published, abs=4.0)
