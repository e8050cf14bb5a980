from __future__ import annotations

from cli.small import SMALL, data, run


def test_a_sound_record_ends_with_zero(small):
    result = run("check", small)
    assert result.exit_code == 0
    assert "no fault" in result.output


def test_several_files_are_checked_and_one_fault_is_enough_for_one(small):
    result = run("check", small, "demo:tern-2", "nofile")
    assert result.exit_code == 1
    assert f"{small}: no fault" in result.output
    assert "nofile: 1 fault" in result.output


def test_dead_locks_are_among_the_faults(tmp_path):
    file = tmp_path / "locked.toml"
    text = SMALL.replace('holds = ["lid", "frame"]', 'holds = ["lid", "frame"]\nbehind = ["board"]')
    file.write_text(text, encoding="utf-8")
    result = run("check", str(file))
    assert result.exit_code == 1
    assert "dead lock" in result.output


def test_json_holds_every_finding_and_the_exit_code_stays(small):
    found = data("check", small, "nofile", code=1)
    assert found["faults"] == 1
    assert [file["file"] for file in found["files"]] == [small, "nofile"]
    assert found["files"][1]["findings"][0]["found"] == "no such file"
