from __future__ import annotations

import re
from hashlib import sha256
from pathlib import Path

import pytest

from battery.logs import steady_log
from cli.small import data, run
from midframe.cli import shared

CYCLE = "t/s,U/V,I/mA\n" + "\n".join(
    f"{60 * at},{4.1 - at * 0.003:.3f},{-800 if at < 240 else 0}" for at in range(260)
)


@pytest.fixture
def folder(tmp_path, monkeypatch):
    """A folder with logs, which the call is made from."""
    monkeypatch.chdir(tmp_path)
    Path("log.csv").write_text(CYCLE, encoding="utf-8")
    Path("bare.csv").write_text(CYCLE.replace("t/s,U/V,I/mA", "time,voltage,current"), encoding="utf-8")
    Path("strange.csv").write_text(CYCLE.replace("t/s,U/V,I/mA", "one,two,three"), encoding="utf-8")
    Path("usb.csv").write_text(steady_log(2, 9.02, 1.2), encoding="utf-8")
    return tmp_path


def words(*arguments, code=0):
    """What a call prints, its blanks made one."""
    result = run(*arguments)
    assert result.exit_code == code, result.output
    return re.sub(r"\s+", " ", result.stdout + result.stderr)


def test_a_record_and_the_same_figures_typed_say_the_same():
    record = data("battery", "label", "demo:tern-3")["labels"][0]
    typed = data(
        *("battery", "label", "--nominal", "3.88", "--rated", "4.88 Ah", "--typical", "5000 mAh"),
        *("--rated-energy", "18.93", "--typical-energy", "19.4", "--limit", "4,48", "--mass-g", "67"),
        *("--size", "4.7x64x91"),
    )["labels"][0]
    agreed = [one["outcome"] for one in record["findings"]]
    assert [one["outcome"] for one in typed["findings"]] == agreed == ["agrees"] * 6
    assert typed["energy_density_wh_l"] == pytest.approx(record["energy_density_wh_l"], rel=0.01)


def test_a_battery_without_a_figure_has_nothing_to_check(folder):
    text = "\n".join(
        [
            "format = 1",
            "[device]",
            'name = "Dunlin"',
            'kind = "phone"',
            'body = "frame"',
            "[[parts]]",
            'id = "frame"',
            'name = "Frame"',
            "[[parts]]",
            'id = "cell"',
            'name = "Cell"',
            'role = "battery"',
            'seat = "frame"',
        ]
    )
    (folder / "dunlin.device.toml").write_text(text)
    result = run("battery", "label", str(folder / "dunlin.device.toml"))
    assert "Cell: nothing to check" in result.output
    assert "no check differs" not in result.output


def test_the_wrong_page_and_the_mean_are_told():
    text = words("battery", "label", "--rated", "1650", "--nominal", "3.8", "--rated-energy", "6.7 Wh")
    assert "1 of the checks differs" in text
    assert "= 6.27 Wh" in text
    text = words("battery", "label", "--rated", "4404", "--typical", "4492", "--further", "4448")
    assert "4448 mAh is the mean of rated 4404 mAh and typical 4492 mAh" in text


def test_every_wrong_figure_is_told_by_its_option():
    text = words("battery", "label", "--rated", "many", "--series", "99", code=1)
    assert "--rated: found 'many'" in text
    assert "--series: found '99'; right: a number of cells" in text


@pytest.mark.parametrize(
    "call", [[], ["demo:tern-3", "--rated", "4880"], ["demo:tern-3", "--photo", "x.jpg"]]
)
def test_a_label_is_had_from_one_place(call):
    assert "right: a record, or --photo, or figures" in words("battery", "label", *call, code=1)


def test_a_photo_that_is_none_is_refused_by_name(folder):
    assert "log.csv: found no picture" in words("battery", "label", "--photo", "log.csv", code=1)


def test_health_is_told_with_its_range_columns_and_what_it_rests_on(folder):
    call = ("battery", "health", "log.csv", "--record", "demo:tern-3", "--from", "90", "--to", "25")
    text = words(*call, "--chart", "chart.svg", "--keep", "columns.toml")
    for one in ("state of health 100.7 % (91.7 to 109.7) of rated capacity", "80 % line above", "4913 mAh"):
        assert one in text
    assert "time = t/s in s" in text
    assert "rated capacity: given, 4880 mAh" in text
    assert "Written: columns.toml, chart.svg" in text
    assert Path("chart.svg").read_text().startswith("<svg")
    again = data(*call, "--mapping", "columns.toml")
    assert again["remembered"]
    assert again["result"]["soh_percent"]["value"] == pytest.approx(100.7, abs=0.05)


def test_what_is_not_certain_is_asked_for_and_remembered(folder):
    call = ("battery", "health", "bare.csv", "--rated-mah", "4880", "--from", "90", "--to", "25")
    text = words(*call, code=1)
    assert "found current as current in mA: no unit in the header" in text
    assert "right: --yes if it is so" in text
    assert "100.7 %" in words(*call, "--yes", "--keep", "columns.toml")
    assert "100.7 %" in words(*call, "--mapping", "columns.toml")
    units = ("--unit", "time=s", "--unit", "voltage=V", "--unit", "current=mA")
    assert "100.7 %" in words(*call, *units)


def test_milliampere_hours_read_as_ampere_hours_are_a_thousandfold_and_seen(folder):
    call = ("battery", "health", "bare.csv", "--rated-mah", "4880", "--from", "90", "--to", "25", "--yes")
    right, wrong = (data(*call, "--unit", f"current={unit}")["result"] for unit in ("mA", "A"))
    assert wrong["soh_percent"]["value"] == pytest.approx(1000 * right["soh_percent"]["value"])


def test_columns_of_any_name_are_said(folder):
    call = ("battery", "health", "strange.csv", "--rated-mah", "4880", "--from", "90", "--to", "25")
    assert "no column of time and none of voltage and none of current" in words(*call, code=1)
    said = ("--map", "time=one", "--map", "voltage=two", "--map", "current=three", "--unit", "current=mA")
    assert "100.7 %" in words(*call, *said, "--yes")
    assert 'no column "four"' in words(*call, *said, "--map", "time=four", code=1)
    assert "right: ROLE=TEXT, with one of time" in words(*call, "--map", "clock=one", code=1)
    assert "right: one of charge_positive" in words(*call, *said, "--sign", "plus", code=1)


def test_a_meter_before_the_converter_is_told_why_its_mah_are_refused(folder):
    call = ("battery", "health", "usb.csv", "--record", "demo:tern-3", "--from", "20", "--to", "95")
    text = words(*call, code=1)
    assert "before the phone's converter, and its 2400 mAh are counted at that voltage" in text
    text = words(*call, "--before-converter")
    assert "range only" in text
    assert "neither is the battery's capacity" in text
    narrow = data(*call, "--before-converter", "--efficiency", "0.88-0.9", "--standby", "0.4")["result"]
    assert narrow["outcome"] == "figure"
    assert "right: for example 0.85-0.90" in words(*call, "--efficiency", "good", code=1)


def test_a_window_too_small_gives_no_figure(folder):
    text = words("battery", "health", "log.csv", "--rated-mah", "4880", "--from", "50", "--to", "40")
    assert "too small a part" in text
    assert "state of health" not in text
    assert "only one end" in words("battery", "health", "log.csv", "--from", "50", code=1)


def test_a_bad_cell_is_told_with_line_and_column(folder):
    Path("bad.csv").write_text(CYCLE.replace("600,4.070", "600,oops"), encoding="utf-8")
    text = words("battery", "health", "bad.csv", "--rated-mah", "4880", code=1)
    assert "bad.csv, line 12, column 2 (U/V)" in text


def test_a_device_with_two_batteries_asks_which(folder):
    call = ("battery", "health", "log.csv", "--record", "demo:avocet-fold", "--from", "90", "--to", "25")
    assert "--part with one of battery-upper, battery-lower" in words(*call, code=1)
    assert "2440 mAh" in words(*call, "--part", "battery-lower")
    text = words("battery", "label", "demo:avocet-fold", "--part", "main-board", code=1)
    assert "which is no battery" in text


def test_a_cell_that_nobody_looked_at_is_not_called_sound():
    text = words("battery", "handling", "demo:tern-3")
    assert "Battery: taken as sound, nobody said how it looks" in text
    assert "Battery: sound, " in words("battery", "handling", "demo:tern-3", "--condition", "sound")
    assert "taken as sound" in words("battery", "handling", "--energy-wh", "19")


def test_handling_says_class_and_never_flies_a_swollen_cell():
    text = words("battery", "handling", "demo:tern-3")
    for one in ("UN 3480", "at most 30 % state of charge", "At most 5.7 Wh in it by air", "ask the carrier"):
        assert one in text
    assert "never by air" in words("battery", "handling", "demo:tern-3", "--condition", "swollen")
    assert "UN 3481" in words("battery", "handling", "--energy-wh", "29", "--packing", "in-equipment")


def test_the_condition_in_the_record_is_taken(folder):
    from midframe import demo

    text = demo.text("tern-2").replace('role = "battery"\n', 'role = "battery"\ncondition = "swollen"\n', 1)
    Path("seen.device.toml").write_text(text, encoding="utf-8")
    assert "never by air" in words("battery", "handling", "seen.device.toml")


def test_the_battery_stands_beside_that_of_the_model_before():
    text = words("battery", "compare", "demo:tern-3", "demo:tern-2")
    assert "rated capacity, mAh 4880 4500 +8.4 %" in text


def test_a_result_is_written_into_the_record_and_stands_there(folder):
    call = ("battery", "health", "log.csv", "--record", "demo:tern-3", "--from", "90", "--to", "25")
    assert "Written: kept.device.toml" in words(*call, "--write", "kept.device.toml")
    record = shared.load("kept.device.toml")
    assert {one.what: one.value for one in record.measurements}["state of health"] == 100.7
    assert record.measurements[0].file == sha256(Path("log.csv").read_bytes()).hexdigest()
    assert "found a file of this name" in words(*call, "--write", "kept.device.toml", code=1)
    bare = ("battery", "health", "log.csv", "--rated-mah", "4880", "--from", "90", "--to", "25")
    assert "right: --record FILE" in words(*bare, "--write", "other.device.toml", code=1)
    small = (*call[:5], "--from", "50", "--to", "45", "--write", "other.device.toml")
    assert "without a figure" in words(*small, code=1)
