from __future__ import annotations

from click.testing import CliRunner

from midframe.cli import main
from midframe.store import Store
from store.bench import AT, tern


def run(*arguments):
    return CliRunner().invoke(main, [str(one) for one in arguments])


def filled(folder):
    folder.mkdir()
    store = Store.open(f"sqlite:///{folder / 'midframe.db'}", folder)
    kept = store.new(tern(), at=AT)
    store.close()
    return kept.id


def test_a_store_is_backed_up_and_restored_elsewhere(tmp_path):
    record_id = filled(tmp_path / "data")
    made = run("backup", tmp_path / "copy", "--data", tmp_path / "data")
    assert made.exit_code == 0, made.output
    assert "1 record with 1 revision, 0 photos; 1 file verified by SHA-256" in made.output
    put = run("restore", tmp_path / "copy", "--data", tmp_path / "new")
    assert put.exit_code == 0, put.output
    store = Store.open(f"sqlite:///{tmp_path / 'new' / 'midframe.db'}", tmp_path / "new")
    assert store.get(record_id).record == tern()
    store.close()


def test_a_folder_without_a_store_is_not_backed_up_and_not_made(tmp_path):
    wrong = run("backup", tmp_path / "copy", "--data", tmp_path / "mistyped")
    assert wrong.exit_code == 1
    assert "mistyped: found no store; right: --data with the folder" in wrong.output
    assert not (tmp_path / "mistyped").exists()
    assert not (tmp_path / "copy").exists()


def test_a_store_that_holds_records_is_only_replaced_when_told(tmp_path):
    filled(tmp_path / "data")
    run("backup", tmp_path / "copy", "--data", tmp_path / "data")
    refused = run("restore", tmp_path / "copy", "--data", tmp_path / "data")
    assert refused.exit_code == 1
    assert "found a store that holds records" in refused.output
    told = run("restore", tmp_path / "copy", "--data", tmp_path / "data", "--replace")
    assert told.exit_code == 0, told.output
    assert str(tmp_path / "data.before-1") in told.output
