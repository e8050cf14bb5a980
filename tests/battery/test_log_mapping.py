from __future__ import annotations

import pytest

from battery.logs import excerpt
from midframe.battery.log_mapping import propose
from midframe.battery.log_table import read_table
from midframe.faults import LogFault

BODY = "0,3.70,-0.5\n10,3.69,-0.5\n20,3.60,-0.5\n"


def uses(text):
    mapping = propose(read_table(text.encode()))
    return {one.role: (one.column, one.unit) for one in mapping.columns}, mapping


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        ("Time (s),Voltage (V),Current (A)", ("s", "V", "A")),
        ("t/s,U/V,I/A", ("s", "V", "A")),
        ("Elapsed [s],VBUS [V],IBUS [A]", ("s", "V", "A")),
        ("Test_Time_s,Voltage_V,Current_A", ("s", "V", "A")),
        ("Zeit in s,Spannung in V,Strom in A", ("s", "V", "A")),
        ("Seconds,Volts,Amps", ("s", "V", "A")),
        ("时间(s),电压(V),电流(A)", ("s", "V", "A")),
        ("temps (s),tension (V),courant (A)", ("s", "V", "A")),
        ("duration (h),Ecell/V,I/mA", ("h", "V", "mA")),
        ("s,V,A", ("s", "V", "A")),
    ],
)
def test_columns_are_recognised_by_the_words_and_units_of_their_headers(header, expected):
    found, _ = uses(f"{header}\n{BODY}")
    names = header.split(",")
    assert [found[role] for role in ("time", "voltage", "current")] == list(zip(names, expected, strict=True))


def test_a_second_row_of_units_is_used():
    found, mapping = uses("Time,Voltage,Current\ns,mV,mA\n0,3700,-500\n10,3690,-500\n")
    assert found["voltage"] == ("Voltage", "mV")
    assert found["current"] == ("Current", "mA")
    assert not [one for one in mapping.columns if not one.sure]


def test_units_behind_the_figures_are_used():
    found, _ = uses("time,voltage,current\n0:00:01,5.02V,1200mA\n0:00:02,5.01V,1201mA\n")
    assert (found["voltage"][1], found["current"][1]) == ("V", "mA")


@pytest.mark.parametrize(
    ("rows", "volt", "ampere"),
    [
        ("0,5.02,1.2\n1,5.01,1.3\n", "V", "A"),
        ("0,5020,1200\n1,5010,1300\n", "mV", "mA"),
        ("0,9.02,850\n1,9.01,860\n", "V", "mA"),
    ],
)
def test_without_units_they_are_guessed_from_the_figures_and_asked_for(rows, volt, ampere):
    found, mapping = uses("time,voltage,current\n" + rows)
    assert (found["voltage"][1], found["current"][1]) == (volt, ampere)
    assert len(mapping.questions) >= 3
    assert not mapping.confirmed


@pytest.mark.parametrize(
    ("header", "rows", "column"),
    [
        ("time (s),U (V),I (A)", "0,5.0,1500\n1,5.0,1510\n", "I (A)"),
        ("time (s),U (V),I (A)", "0,5020,1.5\n1,5010,1.5\n", "U (V)"),
        ("time (s),U (mV),I (A)", "0,5.02,1.5\n1,5.01,1.5\n", "U (mV)"),
    ],
)
def test_a_header_whose_unit_does_not_fit_its_figures_is_asked_for(header, rows, column):
    _, mapping = uses(f"{header}\n{rows}")
    assert [one.column for one in mapping.columns if not one.sure] == [column]
    assert "usual in" in mapping.questions[0]


@pytest.mark.parametrize(
    ("rows", "sign", "sure"),
    [
        ("0,4.0,1\n1,4.0,1\n2,3.8,-1\n3,3.8,-1\n", "charge_positive", True),
        ("0,4.0,-1\n1,4.0,-1\n2,3.8,1\n3,3.8,1\n", "discharge_positive", True),
        ("0,3.5,1\n1,3.8,1\n2,4.1,1\n", "all_charge", True),
        ("0,4.1,1\n1,3.8,1\n2,3.5,1\n", "all_discharge", True),
        ("0,5.1,1\n1,5.0,1\n2,4.9,1\n", "all_charge", True),
        ("0,3.80,1\n1,3.80,1\n", "all_discharge", False),
        ("0,4.1,-1\n1,3.8,-1\n2,3.5,-1\n", "charge_positive", True),
        ("0,3.5,-1\n1,3.8,-1\n2,4.1,-1\n", "discharge_positive", True),
        ("0,3.81,-1\n1,3.80,-1\n2,3.79,-1\n", "charge_positive", False),
        ("0,3.5,0\n1,3.5,0\n", "all_charge", False),
    ],
)
def test_the_sign_of_charging_follows_from_the_voltage_or_is_asked_for(rows, sign, sure):
    _, mapping = uses("time (s),U (V),I (A)\n" + rows)
    assert (mapping.sign, mapping.sign_sure) == (sign, sure)
    assert any("sign" in question for question in mapping.questions) != sure


def test_counters_of_charge_and_energy_are_told_apart():
    counters = "Charge_Capacity (Ah),Discharge_Capacity (Ah),Charge_Energy (Wh),Discharge_Energy (Wh)"
    header = f"Time (s),V (V),I (A),{counters}"
    found, _ = uses(header + "\n0,3.7,1,0,0,0,0\n1,3.7,1,0.1,0.2,0.3,0.4\n")
    assert [found[role][0].split(" ")[0] for role in ("charge", "discharge", "energy", "energy_out")] == [
        "Charge_Capacity",
        "Discharge_Capacity",
        "Charge_Energy",
        "Discharge_Energy",
    ]


def test_summaries_set_points_and_rates_are_left_alone():
    found, _ = uses(
        "Step_Time (s),Test_Time (s),V_max (V),Voltage (V),Current (A),dV/dt (V)\n"
        "0,0,9,3.7,1,0\n1,1,9,3.7,1,0\n"
    )
    assert found["time"][0] == "Test_Time (s)"
    assert found["voltage"][0] == "Voltage (V)"


@pytest.mark.parametrize(
    ("cell", "unit", "sure"),
    [
        ("0:00:01", "h:mm:ss", True),
        ("1:02:03.5", "h:mm:ss", True),
        ("00:01", "h:mm:ss", False),
        ("2026-11-25 04:35:01", "date", True),
        ("25.11.2026 04:35:01", "date", True),
        ("1764045301", "s", True),
        ("1764045301000", "ms", True),
        ("12.5", "s", False),
    ],
)
def test_the_way_time_is_written_is_recognised(cell, unit, sure):
    mapping = propose(read_table(f"time,U (V),I (A)\n{cell},5.0,1.0\n{cell},5.0,1.0\n".encode()))
    use = mapping.use("time")
    assert (use.unit, use.sure) == (unit, sure)


def test_a_date_that_may_be_read_two_ways_is_asked_for():
    mapping = propose(read_table(b"date,U (V),I (A)\n1/2/2026 10:00,5.0,1.0\n1/2/2026 10:01,5.0,1.0\n"))
    assert any("month first" in question for question in mapping.questions)


def test_a_log_without_voltage_is_refused_with_the_headers_that_there_are():
    with pytest.raises(LogFault, match=r"no column of voltage.*time \(s\), I \(A\)"):
        propose(read_table(b"time (s),I (A)\n0,1\n1,1\n"))


def test_the_open_log_is_recognised():
    mapping = propose(read_table(excerpt()))
    found = {one.role: (one.column, one.unit) for one in mapping.columns}
    assert found["time"] == ("Test_Time", "s")
    assert found["current"] == ("Current", "A")
    assert found["voltage"] == ("Voltage", "V")
    assert found["discharge"] == ("Discharge_Capacity", "Ah")
    assert found["temperature"] == ("Temperature", "°C")
