"""The solver against closed solutions, printed textbook numbers and its own laws."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from heat.closed_forms import convection, flux, held, pulse, wall
from midframe.faults import BadSetting
from midframe.heat.exact import exact
from midframe.heat.integrate import Steps, integrate, joined
from midframe.heat.network import Surroundings
from midframe.heat.stack import Layer, stack_network

FINE = Steps(tolerance_k=1e-4)
HELD_W_M2K = 1e9
"""So large a coefficient holds the surface at the temperature beside it."""


def body(thickness_m, k, alpha, cells):
    """A layer thick enough to be semi-infinite, in so many cells, and the spacing of its nodes."""
    layer = Layer("body", thickness_m, k, k / alpha / 1000.0, 1000.0)
    net = stack_network([layer], refine=1)
    refine = max(1, round(cells / (net.size - 1)))
    net = stack_network([layer], refine=refine)
    return net, thickness_m / (net.size - 1)


def at(net, spacing, state, depth_m):
    return float(np.interp(depth_m, np.arange(net.size) * spacing, state))


def test_a_held_surface_gives_the_textbook_temperature_in_the_steel():
    # 118.5 °C at 25 mm after 30 s [holman-ht, ex. 4.2a]
    net, spacing = body(0.2, 45.0, 1.4e-5, 800)
    around = {"hot": Surroundings(air_c=250.0, coefficient_w_m2k=HELD_W_M2K)}
    state = integrate(net, 35.0, around, 30.0, steps=FINE).final_c
    assert at(net, spacing, state, 0.025) == pytest.approx(118.5, abs=0.05)
    assert at(net, spacing, state, 0.025) == pytest.approx(35 + 215 * held(0.025, 30, 1.4e-5), abs=0.01)


def test_a_constant_flux_gives_the_textbook_temperatures():
    # 79.3 °C at 25 mm, 199.4 °C at the surface [holman-ht, ex. 4.2b]
    net, spacing = body(0.2, 45.0, 1.4e-5, 800)
    state = integrate(net, 35.0, {"hot": Surroundings(flux_w_m2=3.2e5)}, 30.0, steps=FINE).final_c
    assert at(net, spacing, state, 0.025) == pytest.approx(79.3, abs=0.05)
    assert state[0] == pytest.approx(199.4, abs=0.1)
    assert state[0] == pytest.approx(35 + flux(0.0, 30, 1.4e-5, 45.0, 3.2e5), abs=0.01)


def test_convection_gives_the_exact_share_and_time():
    # shares 0.42735, 0.59106, 0.63150 and 120 °C at 3561 s, exact values beside [holman-ht, ex. 4.5]
    net, spacing = body(4.0, 215.0, 8.4e-5, 2000)
    around = {"hot": Surroundings(air_c=70.0, coefficient_w_m2k=525.0)}
    run = integrate(net, 200.0, around, 4000.0, steps=Steps(tolerance_k=2e-4))
    course = [at(net, spacing, state, 0.04) for state in run.temperature_c]
    for seconds, share in ((1000, 0.42735), (3000, 0.59106), (4000, 0.63150)):
        there = np.interp(seconds, run.seconds, course)
        assert (there - 200.0) / (70.0 - 200.0) == pytest.approx(share, abs=2e-4)
        assert share == pytest.approx(convection(0.04, seconds, 8.4e-5, 215.0, 525.0), abs=1e-5)
    assert np.interp(-120.0, -np.array(course), run.seconds) == pytest.approx(3561.0, abs=5.0)


def test_an_energy_pulse_gives_the_textbook_temperature():
    # 513 °C at 2 mm after 2 s [holman-ht, ex. 4.3]
    alpha, k = 0.44e-5, 0.44e-5 * 7800 * 460
    net, spacing = body(0.05, k, alpha, 2000)
    start = np.full(net.size, 40.0)
    start[0] += 1e7 / net.capacity_jk[0]
    state = integrate(net, start, {}, 2.0, steps=Steps(tolerance_k=1e-2)).final_c
    assert at(net, spacing, state, 0.002) == pytest.approx(513.0, abs=1.0)
    assert at(net, spacing, state, 0.002) == pytest.approx(40 + pulse(0.002, 2.0, alpha, k, 1e7), rel=1e-3)


def test_a_plane_wall_gives_the_textbook_temperatures_flux_and_energy():
    # 42.9 °C, about 45 °C, flux −7362 to −7318 W/m², −2.73e7 J per metre of pipe [incropera-fhmt, ex. 5.4]
    net = stack_network([Layer("steel", 0.04, 63.9, 7832.0, 434.0)], refine=2)
    around = {"hot": Surroundings(air_c=60.0, coefficient_w_m2k=500.0)}
    run = integrate(net, -20.0, around, 480.0, steps=FINE)
    assert run.final_c[-1] == pytest.approx(43.016, abs=0.01)
    assert run.final_c[0] == pytest.approx(45.363, abs=0.01)
    assert 500.0 * (60.0 - run.final_c[0]) == pytest.approx(7318.2, rel=2e-3)
    assert run.entered_j["hot"] * np.pi * 1.0 == pytest.approx(2.7255e7, rel=2e-3)


def test_the_series_of_the_plane_wall_is_met_everywhere():
    layer = Layer("brass", 0.02, 110.0, 8530.0, 380.0)
    net = stack_network([layer], refine=2)
    around = {"hot": Surroundings(air_c=500.0, coefficient_w_m2k=120.0)}
    state = integrate(net, 20.0, around, 420.0, steps=FINE).final_c
    x = np.linspace(0.02, 0.0, net.size)
    left = wall(x, 420.0, 0.02, 110.0 / (8530.0 * 380.0), 120.0 * 0.02 / 110.0)
    assert np.abs(state - (500.0 - 480.0 * left)).max() < 0.02
    assert state[0] == pytest.approx(279.8, abs=0.1)  # [cengel-htpa, ex. 4.4] by its series


def test_a_lumped_panel_with_radiation_follows_the_textbook():
    # 150 °C at 123 s, cooled to 37 °C at 987 s [incropera-fhmt, ex. 5.3]
    panel = stack_network([Layer("panel", 0.0015, 177.0, 2770.0, 875.0)])
    hot = {"hot": Surroundings(air_c=175.0, coefficient_w_m2k=40.0, emissivity=0.8, room_c=175.0)}
    heating = integrate(panel, 25.0, hot, 423.0)
    first = np.interp(150.0, heating.temperature_c[:, 0], heating.seconds)
    assert first == pytest.approx(123.0, abs=2.0)
    cool = {"hot": Surroundings(air_c=25.0, coefficient_w_m2k=10.0, emissivity=0.8, room_c=25.0)}
    whole = joined([heating, integrate(panel, heating.final_c, cool, 700.0)])
    cooling = integrate(panel, heating.final_c, cool, 700.0)
    cooled = 423.0 + np.interp(-37.0, -cooling.temperature_c[:, 0], cooling.seconds)
    assert cooled == pytest.approx(987.0, abs=5.0)
    assert whole.balance < 1e-6


def test_a_ball_cools_in_the_textbook_time():
    # θ falls as exp(−b·t), b 3.344e-4 1/s, 150 °C at 5818 s [holman-ht, ex. 4.1]; V/A as a plate
    ball = stack_network([Layer("steel", 0.05 / 6.0, 35e3, 7800.0, 460.0)])
    run = integrate(ball, 450.0, {"hot": Surroundings(air_c=100.0, coefficient_w_m2k=10.0)}, 6000.0)
    assert np.interp(-150.0, -run.temperature_c[:, 0], run.seconds) == pytest.approx(5818.0, rel=2e-3)


def steady(layers, hot, far):
    """Long enough after the start."""
    return integrate(stack_network(layers), 20.0, {"hot": hot, "far": far}, 1e7).final_c


def test_a_joint_between_two_plates_drops_the_textbook_temperature():
    # 2.79e4 W/m², 7.67 K across the joint [kreith-pht, ex. 1.6]
    plate = Layer("aluminium", 0.01, 240.0, 2700.0, 900.0)
    joint = Layer("aluminium", 0.01, 240.0, 2700.0, 900.0, contact_m2kw=2.75e-4)
    hot, far = (Surroundings(air_c=t, coefficient_w_m2k=HELD_W_M2K) for t in (405.0, 395.0))
    net = stack_network([plate, joint])
    state = integrate(net, 400.0, {"hot": hot, "far": far}, 1e5).final_c
    edge = net.size // 2
    assert state[edge - 1] - state[edge] == pytest.approx(7.67, abs=0.02)
    assert (state[edge - 1] - state[edge]) / 2.75e-4 == pytest.approx(2.79e4, rel=2e-3)


def test_a_chip_on_a_joint_reaches_the_textbook_temperature():
    # 75.3 °C [incropera-fhmt, ex. 3.2]: flux into the chip, air on both sides
    base = Layer("aluminium", 0.008, 239.0, 2700.0, 900.0, contact_m2kw=0.9e-4)
    chip = Layer("chip", 1e-5, 1e4, 2330.0, 700.0)
    hot = Surroundings(air_c=25.0, coefficient_w_m2k=100.0, flux_w_m2=1e4)
    state = steady([chip, base], hot, Surroundings(air_c=25.0, coefficient_w_m2k=100.0))
    assert state[0] == pytest.approx(75.3, abs=0.1)


def test_double_glazing_passes_the_textbook_heat():
    # 69.2 W over 1.2 m², inner surface 14.2 °C [cengel-htpa, ex. 3.3]
    glass = Layer("glass", 0.004, 0.78, 2500.0, 750.0)
    gap = Layer("air", 0.010, 0.026, 1.2, 1005.0)
    inside = Surroundings(air_c=20.0, coefficient_w_m2k=10.0)
    state = steady([glass, gap, glass], inside, Surroundings(air_c=-10.0, coefficient_w_m2k=40.0))
    assert state[0] == pytest.approx(14.2, abs=0.05)
    assert 1.2 * 10.0 * (20.0 - state[0]) == pytest.approx(69.2, abs=0.1)


def test_two_bodies_touch_at_the_temperature_of_their_effusivities():
    # e 1100 at 32 °C on e 24000 at 20 °C: 20.526 °C [cengel-htpa, contact of two bodies]
    skin = Layer("skin", 0.05, 1.1, 1100.0, 1000.0)
    metal = Layer("aluminium", 0.4, 240.0, 2400.0, 1000.0)
    net = stack_network([skin, metal], refine=2)
    border = 2 * round(0.05 * 1000 / 0.25)
    start = np.where(np.arange(net.size) < border, 32.0, 20.0).astype(float)
    state = integrate(net, start, {}, 1.0, steps=FINE).final_c
    assert state[border] == pytest.approx(20.526, abs=0.05)


def test_the_order_of_the_time_stepping_is_two():
    net = stack_network([Layer("glass", 0.002, 1.0, 2500.0, 750.0), Layer("foam", 3e-4, 0.08, 500.0, 1500.0)])
    around = {"hot": Surroundings(air_c=90.0, coefficient_w_m2k=50.0)}
    truth = exact(net, 20.0, around, np.array([32.0]))[0]
    errors = [
        np.abs(integrate(net, 20.0, around, 32.0, steps=Steps(fixed_seconds=dt)).final_c - truth).max()
        for dt in (2.0, 1.0, 0.5)
    ]
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    assert np.all((orders > 1.8) & (orders < 2.3)), orders


def test_the_order_in_space_is_two():
    layer, t = Layer("glass", 0.004, 1.0, 2500.0, 750.0), 5.0
    around = {"hot": Surroundings(air_c=90.0, coefficient_w_m2k=400.0)}
    left = wall(np.array([0.004]), t, 0.004, 1.0 / (2500.0 * 750.0), 400.0 * 0.004)
    truth = float(90.0 - 70.0 * left[0])
    errors = [
        abs(exact(stack_network([layer], refine=n), 20.0, around, np.array([t]))[0, 0] - truth)
        for n in (1, 2, 4)
    ]
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    assert np.all((orders > 1.9) & (orders < 2.1)), orders


layers = st.builds(
    Layer,
    st.just("layer"),
    st.floats(2e-5, 5e-3),
    st.floats(0.02, 400.0),
    st.floats(1.0, 9000.0),
    st.floats(300.0, 2000.0),
    st.sampled_from([0.0, 1e-4, 2e-3]),
)
stacks = st.lists(layers, min_size=1, max_size=4)
airs = st.integers(-20, 300).map(float)
coefficients = st.sampled_from([0.0, 1.0, 8.0, 60.0, 400.0, 2000.0])


@given(stacks, airs, airs, coefficients, st.sampled_from([0.0, 0.1, 0.5, 0.94]))
@settings(max_examples=25)
def test_energy_balances_and_no_temperature_leaves_the_range_of_what_drives_it(
    stack, start, air, coefficient, emissivity
):
    around = {
        "hot": Surroundings(air_c=air, coefficient_w_m2k=coefficient, emissivity=emissivity, room_c=air)
    }
    run = integrate(stack_network(stack), start, around, 60.0)
    assert run.balance < 1e-6
    low, high = min(start, air), max(start, air)
    slack = 0.05 + 0.002 * (high - low)
    assert run.temperature_c.min() >= low - slack
    assert run.temperature_c.max() <= high + slack


@given(stacks, st.floats(30.0, 200.0), st.floats(1.0, 500.0))
@settings(max_examples=15)
def test_twice_the_step_of_the_air_is_twice_the_rise(stack, air, coefficient):
    net = stack_network(stack)

    def rise(step):
        around = {"hot": Surroundings(air_c=step, coefficient_w_m2k=coefficient)}
        return integrate(net, 0.0, around, 16.0, steps=Steps(fixed_seconds=0.5)).final_c

    assert rise(2.0 * air) == pytest.approx(2.0 * rise(air), rel=1e-6, abs=1e-6)


def test_an_unknown_face_and_a_negative_time_are_refused():
    net = stack_network([Layer("glass", 0.002, 1.0, 2500.0, 750.0)])
    with pytest.raises(BadSetting, match="face: found side"):
        integrate(net, 20.0, {"side": Surroundings()}, 1.0)
    with pytest.raises(BadSetting, match="at least 0 s"):
        integrate(net, 20.0, {}, -1.0)


def test_a_layer_without_thickness_is_refused_by_name():
    with pytest.raises(BadSetting, match="layer foam: found thickness_m 0"):
        stack_network([Layer("foam", 0.0, 0.08, 500.0, 1500.0)])
