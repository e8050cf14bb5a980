from __future__ import annotations

import pytest

from midframe.faults import StoreTrouble, TooLarge, UnknownRecord
from midframe.store import Store
from midframe.store.log_files import LARGEST_BYTES, keep_log, kept_log
from store.bench import AT

LOG = b"t/s,U/V,I/mA\n0,3.7,-500\n1,3.6,-500\n"


def test_a_log_is_kept_once_as_it_came(sqlite_store):
    name = keep_log(sqlite_store, LOG)
    assert keep_log(sqlite_store, LOG) == name
    assert kept_log(sqlite_store, name).read_bytes() == LOG
    assert len(list((sqlite_store.folder / "logs").rglob("*.csv"))) == 1


@pytest.mark.parametrize("name", ["", "../../secret", "a" * 63, "g" * 64, "0" * 64])
def test_no_path_is_smuggled_in_and_a_log_that_is_not_there_is_said(sqlite_store, name):
    with pytest.raises(UnknownRecord):
        kept_log(sqlite_store, name)


def test_a_log_too_large_is_told_with_its_size(sqlite_store):
    with pytest.raises(TooLarge, match=r"meter\.csv: found 20 MB; right: a log of at most 20 MB"):
        keep_log(sqlite_store, b"0" * (LARGEST_BYTES + 1), "meter.csv")


def test_logs_are_part_of_a_backup_and_come_back(sqlite_store, tmp_path):
    name = keep_log(sqlite_store, LOG)
    manifest = sqlite_store.backup(tmp_path / "copy", at=AT)
    assert (manifest.photos, f"logs/{name[:2]}/{name}.csv" in manifest.files) == (0, True)
    other = Store.open(f"sqlite:///{tmp_path / 'other.db'}", tmp_path / "other")
    other.restore_backup(tmp_path / "copy", at=AT)
    assert kept_log(other, name).read_bytes() == LOG
    other.close()


def test_a_damaged_log_stops_the_backup(sqlite_store, tmp_path):
    kept_log(sqlite_store, keep_log(sqlite_store, LOG)).write_bytes(b"spoilt")
    with pytest.raises(StoreTrouble, match="found other bytes"):
        sqlite_store.backup(tmp_path / "copy", at=AT)
