from __future__ import annotations

import msgspec
import pytest

from midframe.demo import load, names
from midframe.faults import BadSetting, RecordFault, UnknownPart
from midframe.record import check, faults, read, write
from midframe.record.edits import put_in, remove_joint, remove_part, rename, take_out
from midframe.record.model import LogEntry, Measurement
from midframe.record.references import uses

DEVICES = {name: load(name) for name in names()}
PARTS = [(name, part.id) for name, record in DEVICES.items() for part in record.parts]
JOINTS = [(name, joint.id) for name, record in DEVICES.items() for joint in record.joints]


def named(record):
    """Every id that the record names, by its place."""
    return [(use.path, use.id) for use in uses(record)]


@pytest.mark.parametrize(("device", "part"), PARTS[::13])
def test_a_part_has_its_new_id_wherever_it_is_named(device, part):
    record = DEVICES[device]
    renamed = rename(record, "part", part, "another-name")
    assert named(renamed) == [(at, "another-name" if one == part else one) for at, one in named(record)]
    assert faults(check(renamed)) == faults(check(record))
    assert rename(renamed, "part", "another-name", part) == record


@pytest.mark.parametrize(("device", "joint"), JOINTS[::13])
def test_a_joint_has_its_new_id_wherever_it_is_named(device, joint):
    renamed = rename(DEVICES[device], "joint", joint, "another-name")
    assert [one for _, one in named(renamed)] == [
        "another-name" if one == joint else one for _, one in named(DEVICES[device])
    ]
    assert rename(renamed, "joint", "another-name", joint) == DEVICES[device]


def test_texts_that_happen_to_be_an_id_stay():
    record = DEVICES["tern-3"]
    noted = msgspec.structs.replace(record, log=(LogEntry(seconds=1, note="battery"),))
    assert rename(noted, "part", "battery", "cell").log[0].note == "battery"
    assert next(
        part for part in rename(noted, "part", "battery", "cell").parts if part.id == "cell"
    ).role == ("battery")


@pytest.mark.parametrize(
    ("new", "said"), [("display", "another part or joint has"), ("two words", "letters"), ("", "letters")]
)
def test_an_id_that_is_taken_or_none_is_refused(new, said):
    with pytest.raises(BadSetting, match=said):
        rename(DEVICES["tern-3"], "part", "battery", new)


def test_an_unknown_id_is_refused():
    with pytest.raises(UnknownPart, match="no joint 'battery'"):
        rename(DEVICES["tern-3"], "joint", "battery", "cell")
    with pytest.raises(UnknownPart, match="no part 'lid'"):
        remove_part(DEVICES["tern-3"], "lid")
    with pytest.raises(UnknownPart, match="no joint 'lid'"):
        remove_joint(DEVICES["tern-3"], "lid")


@pytest.mark.parametrize(("device", "part"), PARTS[::11])
def test_without_a_part_the_record_stays_sound_and_names_it_nowhere(device, part):
    record = DEVICES[device]
    if part == record.device.body:
        with pytest.raises(BadSetting, match="found the body"):
            remove_part(record, part)
        return
    left = remove_part(record, part)
    assert faults(check(left)) == ()
    assert part not in [one for _, one in named(left)]
    assert read(write(left)) == left
    assert len(left.parts) == len(record.parts) - 1


@pytest.mark.parametrize(("device", "joint"), JOINTS[::11])
def test_without_a_joint_the_record_stays_sound(device, joint):
    left = remove_joint(DEVICES[device], joint)
    assert faults(check(left)) == ()
    assert joint not in [one for _, one in named(left)]
    assert len(left.joints) == len(DEVICES[device].joints) - 1


def test_the_log_keeps_what_was_done_as_a_note():
    record = msgspec.structs.replace(
        DEVICES["tern-3"],
        log=(
            LogEntry(seconds=1, open="sim-latch"),
            LogEntry(seconds=2, lift=("sim-tray",), note="stiff"),
            LogEntry(seconds=3, on="sim-tray", note="dirty"),
        ),
    )
    assert [entry.note for entry in remove_part(record, "sim-tray").log] == [
        "opened sim-latch, since taken out of the record",
        "stiff (lifted sim-tray, since taken out of the record)",
        "dirty",
    ]
    assert faults(check(remove_part(record, "sim-tray"))) == ()


def test_waiting_for_one_of_two_things_of_which_one_is_gone_is_waiting_for_nothing():
    record = DEVICES["tern-3"]
    parts = tuple(
        msgspec.structs.replace(part, under=(("display",), ("sim-tray", "back-cover")))
        if part.id == "battery"
        else part
        for part in record.parts
    )
    two = msgspec.structs.replace(record, parts=parts)

    def under(one):
        return next(part for part in one.parts if part.id == "battery").under

    assert under(remove_part(two, "sim-tray")) == (("display",), ("back-cover",))
    assert under(remove_part(two, "display")) == ()


def test_a_table_is_put_in_and_taken_out():
    record = DEVICES["tern-3"]
    more = put_in(record, "checks", None, {"id": "new-check", "text": "Buttons click"})
    assert more.checks[-1].text == "Buttons click"
    other = put_in(more, "checks", len(more.checks) - 1, {"id": "new-check", "text": "Buttons work"})
    assert other.checks[-1].text == "Buttons work"
    assert take_out(other, "checks", len(other.checks) - 1) == record
    with pytest.raises(UnknownPart, match=r"no checks\[99\]"):
        take_out(record, "checks", 99)


def test_every_fault_of_a_table_is_told_with_its_place():
    record = DEVICES["tern-3"]
    with pytest.raises(RecordFault) as fault:
        put_in(record, "parts", 0, {"id": "frame", "name": "", "mass_g": -1})
    assert [finding.path for finding in fault.value.findings] == ["parts[0].name", "parts[0].mass_g"]


def test_a_measurement_follows_its_part_and_goes_with_it():
    found = tuple(
        Measurement(id=f"m-{on}", on=on, what="state of health", value=91.0)
        for on in ("battery", "battery-bond")
    )
    record = msgspec.structs.replace(DEVICES["tern-3"], measurements=found)
    assert rename(record, "part", "battery", "cell").measurements[0].on == "cell"
    assert [one.on for one in remove_joint(record, "battery-bond").measurements] == ["battery"]
    assert remove_part(record, "battery").measurements == ()
    assert read(write(record)) == record
