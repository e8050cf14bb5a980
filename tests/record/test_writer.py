from __future__ import annotations

import difflib
import tomllib

import msgspec
import pytest
from hypothesis import given

from midframe.record import digest, plain, read, write
from midframe.record.model import Device, Joint, Lift, Operation, Part, Record
from midframe.record.writer import number, quoted
from strategies import any_records, devices

SMALL = Record(
    format=1,
    device=Device(name='14" slab', kind="tablet", body="frame", size_mm=(240.0, 160.0, 7.5), mass_g=480.0),
    parts=(
        Part(id="frame", name="Frame"),
        Part(id="glass", name="Glass", under=(("frame",),), lift=Lift()),
    ),
    joints=(
        Joint(
            id="bond",
            kind="adhesive",
            holds=("glass", "frame"),
            behind=(("glass",), ("frame",)),
            work=((Operation(do="warm", tools=("heating mat",), seconds=90.5),),),
        ),
    ),
)

TEXT = """\
format = 1

[device]
name = "14\\" slab"
kind = "tablet"
body = "frame"
size_mm = [240, 160, 7.5]
mass_g = 480

[[parts]]
id = "frame"
name = "Frame"

[[parts]]
id = "glass"
name = "Glass"
lift = {}
under = ["frame"]

[[joints]]
id = "bond"
kind = "adhesive"
holds = ["glass", "frame"]
behind = [["glass"], ["frame"]]
work = [
  { do = "warm", with = ["heating mat"], seconds = 90.5 },
]
"""


def test_the_canonical_text_is_this():
    assert write(SMALL) == TEXT


@given(any_records())
def test_what_is_written_reads_back_equal(record):
    assert read(write(record)) == record


@given(devices())
def test_a_small_device_reads_back_equal(record):
    assert read(write(record)) == record


@given(any_records())
def test_the_text_holds_the_plain_data_and_nothing_else(record):
    assert tomllib.loads(write(record)) == plain(record)


@given(any_records())
def test_writing_again_changes_nothing(record):
    assert write(read(write(record))) == write(record)


def test_lists_of_tables_are_always_tables_of_their_own():
    text = write(msgspec.structs.replace(SMALL, parts=SMALL.parts * 20))
    assert text.count("\n[[parts]]\n") == 40


def test_a_small_change_is_a_small_difference():
    parts = (*SMALL.parts, Part(id="tray", name="Tray"))
    work = ((*SMALL.joints[0].work[0], Operation(do="pry")),)
    more = msgspec.structs.replace(
        SMALL, parts=parts, joints=(msgspec.structs.replace(SMALL.joints[0], work=work),)
    )
    lines = difflib.ndiff(write(SMALL).splitlines(), write(more).splitlines())
    changed = [line for line in lines if line[0] in "+-"]
    added = ["+ ", "+ [[parts]]", '+ id = "tray"', '+ name = "Tray"', '+   { do = "pry" },']
    assert sorted(changed) == sorted(added)


def test_a_draft_without_parts_can_be_kept():
    draft = msgspec.structs.replace(SMALL, parts=(), joints=())
    assert write(draft).startswith("format = 1\nparts = []\n\n[device]\n")
    assert read(write(draft)) == draft


def test_long_lists_go_over_several_lines():
    spots = tuple((float(x), x / 3) for x in range(12))
    record = msgspec.structs.replace(
        SMALL, joints=(msgspec.structs.replace(SMALL.joints[0], spots_mm=spots),)
    )
    text = write(record)
    assert "spots_mm = [\n  [0, 0],\n  [1, 0.3333333333333333],\n" in text
    assert read(text) == record


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (61.0, "61"),
        (7, "7"),
        (0.1, "0.1"),
        (-0.0, "0"),
        (1e-9, "1e-09"),
        (1e20, "1e+20"),
        (1e9, "1000000000"),
    ],
)
def test_a_number_is_written_as_short_as_it_reads_back(value, text):
    assert number(value) == text
    assert tomllib.loads(f"x = {text}")["x"] == value


@pytest.mark.parametrize(
    "text", ["", '"', "\\", "a\tb\nc\r\n", "\x00\x1b\x7f", "µ 電池 🔋", "\u2028\x85", "\\u0041"]
)
def test_a_text_survives_its_quotes(text):
    assert tomllib.loads(f"x = {quoted(text)}")["x"] == text
    assert "\n" not in quoted(text)


def test_equal_records_have_one_digest_however_they_were_written():
    loose = TEXT.replace("mass_g = 480", "mass_g = 480.0   # weighed").replace(
        'under = ["frame"]', 'under = [["frame"]]'
    )
    assert loose != TEXT
    assert digest(read(loose)) == digest(SMALL)
    assert len(digest(SMALL)) == 64


def test_another_record_has_another_digest():
    device = msgspec.structs.replace(SMALL.device, mass_g=481.0)
    assert digest(msgspec.structs.replace(SMALL, device=device)) != digest(SMALL)


def test_a_default_that_is_said_is_left_out():
    assert read(TEXT.replace('name = "Frame"', 'name = "Frame"\nrole = "other"\nunder = []')) == SMALL
