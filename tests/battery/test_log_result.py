from __future__ import annotations

import pytest

from battery.logs import steady_log, whole
from midframe.battery import Asked, columns_of, confirmed, log_of, measure, propose, read_table
from midframe.battery.log_mapping import recognised
from midframe.faults import BadSetting, LogFault


def test_columns_with_units_are_settled_and_those_without_are_asked_for():
    rows = "".join(f"{60 * at},{4.1 - 0.01 * at:.2f},-500\n" for at in range(60))
    settled = columns_of(f"t/s,U/V,I/mA\n{rows}".encode())
    assert settled.settled
    assert settled.rows == 60
    assert len(settled.first) == 5
    bare = columns_of(f"time,voltage,current\n{rows}".encode())
    assert not bare.settled
    assert bare.missing == ()


def test_a_remembered_mapping_settles_the_same_columns_and_no_others():
    table = read_table(steady_log(header="time,voltage,current").encode())
    mapping = confirmed(propose(table))
    again = columns_of(steady_log(3, header="time,voltage,current").encode(), "again", [mapping])
    assert again.remembered
    assert again.settled
    assert not columns_of(steady_log().encode(), "other", [mapping]).remembered


def test_what_is_missing_is_named_and_the_rest_is_told():
    found = columns_of(b"one,voltage (V),three\n0,3.7,-500\n1,3.6,-500\n")
    assert found.missing == ("time", "current")
    assert not found.settled
    assert found.mapping.use("voltage").unit == "V"
    assert recognised(read_table(b"x,y\n1,2\n3,4\n")).columns == ()
    with pytest.raises(LogFault, match="no column of time and none of voltage and none of current"):
        log_of(b"x,y\n1,2\n3,4\n")


@pytest.mark.parametrize(("start", "end", "lacks"), [(20, None, "end"), (None, 80, "start")])
def test_one_end_alone_is_refused(start, end, lacks):
    with pytest.raises(BadSetting, match=f"not the {lacks}"):
        _ = Asked(from_percent=start, to_percent=end).window


def test_the_same_log_is_judged_by_where_the_meter_sat():
    cell = measure(
        log_of(steady_log(2, 3.8, -1.5).encode()), Asked(rated_mah=4880, from_percent=90, to_percent=20)
    )
    assert (cell.place, cell.outcome) == ("cell", "figure")
    asked = Asked(place="before_converter", rated_mah=4880, nominal_v=3.88, from_percent=20, to_percent=90)
    port = measure(log_of(steady_log(2, 9.0, 1.5).encode()), asked)
    assert (port.place, port.outcome) == ("before_converter", "range")


def test_the_open_log_gives_its_capacity_through_the_one_call():
    """1.07341 Ah [battery-data-toolkit, cycler_two_cycles]."""
    found = measure(log_of(whole("cycler_two_cycles.csv")), Asked(rated_mah=1070))
    assert found.capacity_mah.value == pytest.approx(1073.41, abs=0.05)
    assert found.seconds > 0
    assert found.start_s > 0
