"""Printed examples of the textbooks, worked by the solver: nothing here evaluates a closed formula alone.

Values are those of the editions named in sources.toml, second-hand; where a book
read a chart, the exact value stands beside it. Large bodies are run at a tenth of
their depth and a hundredth of their time: the same Fourier number.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from heat.closed_forms import wall
from midframe.heat.exact import exact
from midframe.heat.integrate import Steps, integrate
from midframe.heat.network import Face, Network, Surroundings
from midframe.heat.stack import Layer, stack_network

FINE = Steps(tolerance_k=1e-4)
HELD_W_M2K = 1e9
DAY = 86_400.0

BIOT = """
0.01 0.0998 1.0017   0.3 0.5218 1.0450   3 1.1925 1.2102
0.02 0.1410 1.0033   0.4 0.5932 1.0580   4 1.2646 1.2287
0.04 0.1987 1.0066   0.5 0.6533 1.0701   5 1.3138 1.2402
0.06 0.2425 1.0098   0.6 0.7051 1.0814   7 1.3766 1.2532
0.08 0.2791 1.0130   0.7 0.7506 1.0918   10 1.4289 1.2620
0.1 0.3111 1.0161    0.8 0.7910 1.1016   20 1.4961 1.2699
0.15 0.3779 1.0237   0.9 0.8274 1.1107   40 1.5325 1.2723
0.2 0.4328 1.0311    1 0.8603 1.1191     50 1.5400 1.2727
0.25 0.4801 1.0382   2 1.0769 1.1785     100 1.5552 1.2731
"""
"""Biot number, first root and coefficient of the plane wall [bench-physics-calc, 5.5], as in the
four-digit table of [incropera-fhmt, table 5.1]."""

ROWS = np.array(BIOT.split(), dtype=float).reshape(-1, 3).tolist()


def held(celsius):
    """A face that is kept at a temperature."""
    return Surroundings(air_c=celsius, coefficient_w_m2k=HELD_W_M2K)


def steady(layers, hot, far):
    """Temperatures of a stack long after the start."""
    return integrate(stack_network(layers), 20.0, {"hot": hot, "far": far}, 1e9).final_c


def reached(run, celsius):
    """When the heated face passes a temperature on its way up."""
    return float(np.interp(celsius, run.temperature_c[:, 0], run.seconds))


@pytest.mark.parametrize(("biot", "root", "coefficient"), ROWS)
def test_the_slowest_mode_of_the_plane_wall_is_that_of_the_table(biot, root, coefficient):
    # half a wall of 0.02 m, k and ρ·c of 1 and 1e6, so that Fo = t/400 s; middle at the insulated far face
    net = stack_network([Layer("wall", 0.02, 1.0, 1000.0, 1000.0)], refine=3)
    around = {"hot": Surroundings(air_c=0.0, coefficient_w_m2k=biot * 1.0 / 0.02)}
    early, late = exact(net, 1.0, around, np.array([400.0, 800.0]))[:, -1]
    found = np.sqrt(np.log(early / late))
    assert found == pytest.approx(root, abs=1e-4)
    assert early * np.exp(found**2) == pytest.approx(coefficient, abs=1.2e-4)


def test_a_thermocouple_of_one_second_has_the_textbook_diameter():
    # D 7.06e-4 m for a time constant of 1 s; 199 °C after 5.2 s [incropera-fhmt, ex. 5.1]
    def run(diameter_m):
        net = stack_network([Layer("ball", diameter_m / 6.0, 20.0, 8500.0, 400.0)])
        around = {"hot": Surroundings(air_c=200.0, coefficient_w_m2k=400.0)}
        return integrate(net, 25.0, around, 8.0, steps=FINE)

    share = 200.0 - 175.0 * np.exp(-1.0)
    diameter = brentq(lambda d: reached(run(d), share) - 1.0, 3e-4, 2e-3, xtol=1e-7)
    assert diameter == pytest.approx(7.06e-4, rel=5e-3)
    assert reached(run(7.06e-4), 199.0) == pytest.approx(5.2, abs=0.05)


def test_a_thermocouple_that_sees_hot_walls_reads_too_high_by_the_textbook_figure():
    # 217.7 °C after 4.98 s, a kelvin below its end [incropera-fhmt, ex. 5.2]; walls 400 °C, ε 0.9 from memory
    net = stack_network([Layer("ball", 7.06e-4 / 6.0, 20.0, 8500.0, 400.0)])
    around = {"hot": Surroundings(air_c=200.0, coefficient_w_m2k=400.0, emissivity=0.9, room_c=400.0)}
    run = integrate(net, 25.0, around, 60.0, steps=FINE)
    assert run.final_c[0] == pytest.approx(218.7, abs=0.1)
    assert reached(run, 217.7) == pytest.approx(4.98, abs=0.1)


def test_a_bead_of_one_millimetre_follows_the_textbook():
    # b 0.4632 1/s, 99 % after 9.94 s, printed as 10 s [cengel-htpa, ex. 4.1]
    net = stack_network([Layer("bead", 1e-3 / 6.0, 35.0, 8500.0, 320.0)])
    run = integrate(net, 0.0, {"hot": Surroundings(air_c=1.0, coefficient_w_m2k=210.0)}, 20.0, steps=FINE)
    assert reached(run, 0.99) == pytest.approx(9.94, abs=0.05)
    rate = -np.log(1.0 - np.interp(5.0, run.seconds, run.temperature_c[:, 0])) / 5.0
    assert rate == pytest.approx(0.4632, rel=3e-3)


def freezing(alpha, k, start_c, surface_c, days):
    """Depth (m) at 0 °C and heat flux into the surface (W/m²), run at a tenth of depth and scaled back."""
    net = stack_network([Layer("soil", 0.4, k, k / alpha / 1000.0, 1000.0)])
    state = integrate(net, start_c, {"hot": held(surface_c)}, days * DAY / 100.0, steps=FINE).final_c
    spacing = 0.4 / (net.size - 1)
    depth = 10.0 * float(np.interp(0.0, state, np.arange(net.size) * spacing))
    return depth, float(k * (state[0] - state[1]) / spacing / 10.0)


def test_a_water_main_is_buried_at_the_exact_depth():
    # exact 0.6766 m, printed as 0.68 m [incropera-fhmt, ex. 5.6]: 60 days at −15 °C from 20 °C
    depth, _ = freezing(0.52 / (2050.0 * 1840.0), 0.52, 20.0, -15.0, 60.0)
    assert depth == pytest.approx(0.6766, abs=5e-4)


def test_soil_freezes_to_the_exact_depth_with_the_exact_flux():
    # exact 0.801 m (chart: 0.78 m) and −5.22398 W/m² [cengel-htpa, ex. 4.6]: 90 days at −10 °C from 15 °C
    depth, flux = freezing(0.15e-6, 0.4, 15.0, -10.0, 90.0)
    assert depth == pytest.approx(0.801, abs=1e-3)
    assert flux == pytest.approx(-5.22398, rel=2e-3)


def test_a_thick_plate_is_as_hot_inside_as_its_series_and_near_the_chart():
    # 147.7 °C by the charts, 12.5 mm deep in 50 mm of aluminium after 60 s [holman-ht, ex. 4.6]
    alpha, k = 8.4e-5, 215.0
    net = stack_network([Layer("plate", 0.025, k, k / alpha / 1000.0, 1000.0)], refine=2)
    around = {"hot": Surroundings(air_c=70.0, coefficient_w_m2k=525.0)}
    state = integrate(net, 200.0, around, 60.0, steps=FINE).final_c
    inside = state[(net.size - 1) // 2]
    assert inside == pytest.approx(
        70.0 + 130.0 * wall(0.0125, 60.0, 0.025, alpha, 525.0 * 0.025 / k), abs=0.02
    )
    assert inside == pytest.approx(147.7, abs=4.0)


def test_a_furnace_wall_passes_the_textbook_heat():
    # 1700 W through 0.15 m of firebrick, 0.6 m², 1400 to 1150 K [incropera-fhmt, ex. 1.1]
    brick = Layer("firebrick", 0.15, 1.7, 2000.0, 1000.0)
    state = steady([brick], held(1126.85), held(876.85))
    flux = 1.7 * (state[0] - state[1]) / (0.15 / (len(state) - 1))
    assert 0.6 * flux == pytest.approx(1700.0, rel=1e-3)


@pytest.mark.parametrize(("coefficient", "thickness_mm"), [(2.0, 4.4), (200.0, 6.1)])
def test_a_diving_suit_is_as_thick_as_in_the_textbook(coefficient, thickness_mm):
    # 4.4 mm in air, 6.1 mm in water for 100 W at 35 °C inside; skin 34.4 °C [incropera-fhmt, ex. 3.1]
    skin = Layer("skin", 0.003, 0.3, 1000.0, 3500.0)
    outside = Surroundings(air_c=10.0, coefficient_w_m2k=coefficient + 5.9)

    def power(metres):
        state = steady([skin, Layer("aerogel", metres, 0.014, 100.0, 1000.0)], held(35.0), outside)
        return 1.8 * outside.coefficient_w_m2k * (state[-1] - 10.0), state

    found = brentq(lambda metres: power(metres)[0] - 100.0, 2e-3, 1e-2, xtol=1e-6)
    assert 1000.0 * found == pytest.approx(thickness_mm, abs=0.06)
    skin_nodes = stack_network([skin]).size
    assert power(found)[1][skin_nodes - 1] == pytest.approx(34.4, abs=0.05)


def test_single_glazing_passes_the_textbook_heat():
    # R 0.1127 K/W, 266 W, inner surface −2.2 °C, 1.2 m² of 8 mm [cengel-htpa, ex. 3.2]
    inside = Surroundings(air_c=20.0, coefficient_w_m2k=10.0)
    state = steady(
        [Layer("glass", 0.008, 0.78, 2500.0, 750.0)],
        inside,
        Surroundings(air_c=-10.0, coefficient_w_m2k=40.0),
    )
    power = 1.2 * 10.0 * (20.0 - state[0])
    assert state[0] == pytest.approx(-2.2, abs=0.05)
    assert power == pytest.approx(266.0, abs=0.5)
    assert 30.0 / power == pytest.approx(0.1127, abs=1e-4)


def test_bricks_beside_mortar_pass_the_textbook_heat():
    # 6.87 K/W and 4.37 W for 0.25 m² [cengel-htpa, ex. 3.6]; sizes and conductivities from memory
    def conductance(k, area_m2, metres):
        return k * area_m2 / metres

    edges = [
        (0, 1, conductance(0.026, 0.25, 0.03)),
        (1, 2, conductance(0.22, 0.25, 0.02)),
        (2, 3, conductance(0.72, 0.22, 0.16)),
        (2, 3, conductance(0.22, 0.03, 0.16)),
        (3, 4, conductance(0.22, 0.25, 0.02)),
    ]
    first, second, flow = (np.array(column) for column in zip(*edges, strict=True))
    area = np.array([0.25])
    faces = {"hot": Face(np.array([0]), area), "far": Face(np.array([4]), area)}
    net = Network(np.full(5, 100.0), first, second, flow, faces)
    around = {
        "hot": Surroundings(air_c=20.0, coefficient_w_m2k=10.0),
        "far": Surroundings(air_c=-10.0, coefficient_w_m2k=25.0),
    }
    power = 0.25 * 10.0 * (20.0 - integrate(net, 20.0, around, 1e9).final_c[0])
    assert power == pytest.approx(4.37, abs=0.02)
    assert 30.0 / power == pytest.approx(6.87, abs=0.03)


def test_a_step_beyond_the_explicit_limit_of_the_textbook_stays_stable_here():
    # Δt ≤ 0.373 s at the surface: k 30, α 5e-6, Δx 2 mm, h 1100 [incropera-fhmt, ex. 5.9]
    # here at an eighth of Δx and eight times h, the same Biot number: 64 times shorter
    net = stack_network([Layer("plate", 0.01, 30.0, 30.0 / 5e-6 / 1000.0, 1000.0)])
    h = 8.0 * 1100.0
    limit = net.capacity_jk[0] / (net.conductance_wk[0] + h)
    assert 64.0 * limit == pytest.approx(0.373, abs=5e-4)
    around = {"hot": Surroundings(air_c=100.0, coefficient_w_m2k=h)}
    run = integrate(net, 0.0, around, 400.0 * limit, steps=Steps(fixed_seconds=20.0 * limit))
    assert run.temperature_c.min() > -0.5
    assert run.temperature_c.max() < 100.5
    truth = exact(net, 0.0, around, np.array([400.0 * limit]))[0]
    assert np.abs(run.final_c - truth).max() < 0.5
