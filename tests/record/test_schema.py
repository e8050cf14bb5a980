from __future__ import annotations

import json
import tomllib
from importlib.resources import files

import jsonschema
import pytest
from hypothesis import given

from midframe.faults import RecordFault
from midframe.record import from_plain, plain, schema
from strategies import any_records

DEMO = sorted(
    (
        file
        for file in files("midframe.demo").joinpath("devices").iterdir()
        if file.name.endswith(".device.toml")
    ),
    key=lambda file: file.name,
)
BASE = {
    "format": 1,
    "device": {"name": "Tern", "kind": "phone", "body": "frame"},
    "parts": [{"id": "frame", "name": "Frame"}],
}
VALIDATOR = jsonschema.Draft202012Validator(schema())


def with_joint(**fields):
    joint = {"id": "glue", "kind": "adhesive", "holds": ["frame", "lid"], **fields}
    return {**BASE, "joints": [joint]}


def test_the_schema_is_a_schema():
    jsonschema.Draft202012Validator.check_schema(schema())
    assert json.loads(json.dumps(schema())) == schema()


def test_it_knows_no_null():
    assert "null" not in json.dumps(schema())


@given(any_records())
def test_it_takes_whatever_the_writer_writes(record):
    VALIDATOR.validate(plain(record))


@pytest.mark.parametrize("file", DEMO, ids=lambda file: file.name)
def test_it_takes_the_demo_devices(file):
    VALIDATOR.validate(tomllib.loads(file.read_text(encoding="utf-8")))


@pytest.mark.parametrize(
    "fields",
    [
        {"behind": ["lid"]},
        {"behind": [["lid"], ["tray", "lid"]]},
        {"behind": []},
        {"work": [{"do": "pry"}]},
        {"work": [[{"do": "pry"}], [{"do": "pull", "with": ["tweezers"]}]]},
        {"spots_mm": [[1, 2.5]]},
    ],
)
def test_conditions_and_work_may_be_flat_or_nested(fields):
    VALIDATOR.validate(with_joint(**fields))


@pytest.mark.parametrize(
    "fields",
    [
        {"behind": "lid"},
        {"behind": [["lid"], "tray"]},
        {"behind": [[]]},
        {"behind": ["the lid"]},
        {"work": [{"with": []}]},
        {"work": [[{"do": "pry"}], {"do": "pull"}]},
        {"spots_mm": [[1, 2, 3]]},
        {"kind": "glue"},
        {"count": 0},
        {"count": None},
        {"colour": "red"},
    ],
)
def test_it_refuses_what_the_reader_refuses(fields):
    assert not VALIDATOR.is_valid(with_joint(**fields))
    with pytest.raises(RecordFault):
        from_plain(with_joint(**fields))
