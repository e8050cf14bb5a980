from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from midframe.record import model

PAGE = (Path(__file__).parents[2] / "docs" / "record.md").read_text(encoding="utf-8")
ROWS = {
    "Record": "top",
    "Device": "`[device]`",
    "Part": "`[[parts]]`",
    "Joint": "`[[joints]]`",
    "Operation": "an operation",
    "Lift": "`lift`",
    "Renewal": "`renew`",
    "Spec": "`specs`",
    "Tool": "`[[tools]]`",
    "Order": "`[[orders]]`",
    "Move": "a move",
    "Layer": "`[[layers]]`",
    "Seal": "`[[seals]]`",
    "Check": "`[[checks]]`",
    "Measurement": "`[[measurements]]`",
    "Tried": "`[[tried]]`",
    "Outcome": "`before`",
    "SealTest": "`[[seal_tests]]`",
    "Photo": "`[[photos]]`",
}


@pytest.mark.parametrize("name", ROWS)
def test_the_page_lists_every_key_and_marks_those_that_have_to_be_there(name):
    (row,) = [line for line in PAGE.splitlines() if line.startswith(f"| {ROWS[name]}")]
    for field in msgspec.structs.fields(getattr(model, name)):
        key = f"`{field.encode_name}`"
        assert (f"**{key}**" in row) == field.required, key
        assert key in row


def test_no_table_of_the_model_is_left_out():
    tables = {
        name
        for name, one in vars(model).items()
        if isinstance(one, type) and issubclass(one, model.Struct) and one is not model.Struct
    }
    assert tables - set(ROWS) == {"LogEntry"}
