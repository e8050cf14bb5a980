from __future__ import annotations

import pytest

from battery.logs import excerpt, log_of, steady_log
from midframe.battery.counting import count
from midframe.battery.log_series import without_resets
from midframe.faults import LogFault

HEAD = "Time (s),Voltage (V),Current (A)\n"


def faults_of(text):
    with pytest.raises(LogFault) as fault:
        log_of(text, "meter.csv")
    return fault.value.findings


@pytest.mark.parametrize(
    ("header", "row"),
    [
        ("Time (s),Voltage (V),Current (A)", "{t},3.7,-0.5"),
        ("Time (s),Voltage (mV),Current (mA)", "{t},3700,-500"),
        ("Time (ms),Voltage (V),Current (A)", "{t}000,3.7,-0.5"),
        ("Time (s);Voltage (V);Current (mA)", "{t};3,70;-500,0"),
        ("Time;Voltage;Current\ns;V;mA", "{t};3.70;-500"),
        ("time,voltage,current", "{t}s,3.7V,-500mA"),
        ("\ufeffTime (s),Voltage (V),Current (A)", "{t},3.7,-0.5"),
    ],
)
def test_the_same_log_in_other_units_and_marks_gives_the_same_charge(header, row):
    text = "\n".join([header, *(row.format(t=10 * at) for at in range(361))])
    counted = count(log_of(text))
    assert counted.charge_ah == pytest.approx(0.5)
    assert counted.energy_wh == pytest.approx(1.85)


@pytest.mark.parametrize(
    "form",
    [
        lambda s: f"{s // 3600}:{s // 60 % 60:02d}:{s % 60:02d}",
        lambda s: f"2026-11-25 {22 + s // 3600:02d}:{s // 60 % 60:02d}:{s % 60:02d}",
        lambda s: f"25.11.2026 {10 + s // 3600}:{s // 60 % 60:02d}:{s % 60:02d}",
        lambda s: f"11/25/2026 {11 + s // 3600}:{s // 60 % 60:02d}:{s % 60:02d} AM".replace("12:", "12:"),
        lambda s: f"2026-11-25T04:{s // 60 % 60:02d}:{s % 60:02d}Z" if s < 3600 else "2026-11-25T05:00:00Z",
        lambda s: str(1_764_045_301 + s),
        lambda s: str((1_764_045_301 + s) * 1000),
        lambda s: f"{(23 + (s + 1800) // 3600) % 24:02d}:{(s + 1800) // 60 % 60:02d}:{s % 60:02d}",
    ],
    ids=["h:mm:ss", "iso", "dotted", "am-pm", "iso-z", "epoch", "epoch-ms", "past-midnight"],
)
def test_time_in_any_form_gives_the_same_seconds(form):
    rows = [f"{form(10 * at)},3.7,-0.5" for at in range(357)]
    log = log_of("\n".join(["Time,Voltage (V),Current (A)", *rows]))
    assert log.seconds[-1] == pytest.approx(3560)
    assert log.pieces == (0,)


def test_discharge_that_is_positive_is_turned_about():
    text = HEAD + "0,4.0,-1\n10,4.0,-1\n20,3.8,1\n30,3.8,1\n"
    assert log_of(text).current_a == (1, 1, -1, -1)


def test_a_log_without_signs_takes_its_direction_from_the_voltage():
    assert log_of(HEAD + "0,4.1,1\n10,3.8,1\n20,3.5,1\n").current_a == (-1, -1, -1)


def test_a_gap_is_told_with_its_place_and_length():
    text = steady_log(rows=361).splitlines()
    log = log_of("\n".join(text[:100] + text[200:]))
    assert log.gaps == ((980.0, 1010.0),)
    assert count(log).charge_ah == pytest.approx(0.5)
    assert count(log).gap_share == pytest.approx(1010 / 3600)
    assert count(log).sampling_ah > 0.02


def test_a_coarse_clock_is_spread_evenly_and_a_lone_repeat_is_left():
    rows = "".join(f"{at // 4},3.7,-0.5\n" for at in range(400))
    log = log_of(HEAD + rows)
    assert log.repeated == 300
    assert log.seconds[1] == pytest.approx(0.25)
    log = log_of(HEAD + "0,3.7,0\n5,3.7,0\n5,3.6,-1\n10,3.6,-1\n15,3.6,-1\n20,3.6,-1\n")
    assert log.seconds[2] == 5
    assert log.repeated == 1


def test_time_that_goes_back_is_a_restart_and_nothing_is_counted_across_it():
    one = "".join(f"{10 * at},3.7,-0.5\n" for at in range(181))
    log = log_of(HEAD + one + one)
    assert log.pieces == (0, 181)
    assert count(log).charge_ah == pytest.approx(0.5)
    assert "restart" in log.findings[0].found
    assert "line 183" in log.findings[0].path


def test_a_counter_that_begins_again_goes_on():
    assert without_resets([0, 500, 1000, 0, 300]) == (0, 500, 1000, 1000, 1300)
    assert without_resets([5.0, 4.9, 4.8]) == (5.0, 4.9, 4.8)
    text = "Time (s),U (V),I (A),mAh\n" + "".join(f"{at},5.0,1.0,{(at % 50) * 10}\n" for at in range(100))
    assert log_of(text).counters["charge"][-1] == pytest.approx(0.98)


def test_rows_without_a_figure_are_left_out_with_a_note():
    log = log_of(HEAD + "0,3.7,-0.5\n10,,-0.5\n20,3.7,nan\n30,3.7,-0.5\n")
    assert log.seconds == (0, 30)
    assert "2 rows without" in log.findings[0].found


def test_every_cell_that_is_no_figure_is_a_fault_with_line_and_column():
    found = faults_of(HEAD + "0,3.7,-0.5\n10,3.7 X,-0.5\n20,3.7,off\n30,3.7,-0.5\n40,3.7,-0.5\n")
    assert [(one.path, one.subject) for one in found] == [
        ("line 3, column 2", "Voltage (V)"),
        ("line 4, column 3", "Current (A)"),
    ]
    assert str(found[1]) == (
        'fault: meter.csv, line 4, column 3 (Current (A)): found "off"; right: a figure in A'
    )


def test_another_decimal_mark_in_one_cell_is_named():
    text = "Time (s);Voltage (V);Current (A)\n0;3,70;-0,50\n10;3.69;-0,50\n20;3,68;-0,50\n"
    (found,) = faults_of(text)
    assert found.path == "line 3, column 2"
    assert "decimal comma" in found.right


def test_at_most_twenty_faults_are_told():
    rows = "".join(f"{at},3.7,-0.5\n{at}.5,bad,-0.5\n" for at in range(60))
    assert len(faults_of(HEAD + rows)) == 20


def test_one_row_is_no_log():
    (found,) = faults_of(HEAD + "0,3.7,-0.5\n")
    assert "two rows" in found.right


def test_the_open_log_keeps_its_steps():
    log = log_of(excerpt())
    assert len(log.seconds) == 50
    assert log.repeated == 0
    assert max(log.current_a) == pytest.approx(6.5984, rel=0.02)
    assert log.temperature_c


@pytest.mark.parametrize("cell", ["1e400", "-1e400", "1e16"])
def test_a_figure_without_end_is_a_fault_and_never_a_result(cell):
    with pytest.raises(LogFault, match=r"line 3, column 2 \(U \(V\)\)"):
        log_of(f"Time (s),U (V),I (A)\n0,3.9,1\n1,{cell},1\n2,3.9,1\n3,3.9,1\n")
