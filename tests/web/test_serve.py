from __future__ import annotations

import contextlib
import json
import os
import re
import signal
import socket
import sqlite3
import stat
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

import pytest

from midframe import demo
from midframe.faults import StoreTrouble
from midframe.record import plain
from midframe.store import Store
from midframe.web import addresses, place, server
from midframe.web.demo import put_demo
from midframe.web.server import Order
from web.conftest import AT, serving

ROOT = Path(__file__).parents[2]


def started(*arguments, **options):
    """`midframe serve` that is expected to end by itself."""
    return subprocess.run(
        [sys.executable, "-P", "-m", "midframe", "serve", *map(str, arguments)],
        capture_output=True,
        text=True,
        timeout=20,
        check=False,
        env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "NO_COLOR": "1"},
        **options,
    )


# What is told at the start


def test_the_start_tells_the_address_the_place_of_the_data_and_how_to_stop(tmp_path):
    with serving(tmp_path / "data") as (address, process):
        process.send_signal(signal.SIGINT)
        assert process.wait(5) == 0
        printed = process.stdout.read()
    assert f"served at {address}\n" in printed
    assert str(tmp_path / "data" / "midframe.db") in printed
    assert str(tmp_path / "data" / "photos") in printed
    assert "To stop: Ctrl+C" in printed
    assert printed.endswith("Stopped.\n")


def test_a_server_that_is_told_to_end_ends_at_once_and_well(tmp_path):
    with serving(tmp_path / "data") as (_, process):
        began = time.monotonic()
        process.terminate()
        assert process.wait(5) == 0
        assert time.monotonic() - began < 3
        assert "Traceback" not in process.stdout.read()


def test_a_port_in_use_is_told_and_no_other_is_taken_silently(tmp_path):
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        done = started("--data", tmp_path, "--port", port)
    assert done.returncode == 1
    assert f"port {port}: found address already in use; right:" in done.stderr
    assert "--port 0" in done.stderr
    assert done.stdout == ""


def test_port_0_takes_a_free_one_and_tells_it(tmp_path):
    with socket_of(Order(folder=tmp_path, port=0)) as listening:
        port = listening.getsockname()[1]
        told = server.settings_for(Order(folder=tmp_path, port=0), tmp_path, "sqlite:////x.db", port)
    assert told.port == port != 0


@contextlib.contextmanager
def socket_of(order):
    listening = server.bound(order.port, share=order.share)
    yield listening
    listening.close()


# Who can reach it


def test_only_this_machine_is_answered_unless_it_is_shared(tmp_path):
    with socket_of(Order(folder=tmp_path, port=0)) as listening:
        assert listening.getsockname()[0] == "127.0.0.1"
    with socket_of(Order(folder=tmp_path, port=0, share=True)) as listening:
        assert listening.getsockname()[0] == "0.0.0.0"


def test_answers_are_sent_without_delay(tmp_path):
    """The event loop switches delays off only where the protocol is named; else 40 ms an answer."""
    with socket_of(Order(folder=tmp_path, port=0)) as listening:
        assert listening.proto == socket.IPPROTO_TCP


def test_a_shared_bench_tells_its_addresses_code_and_qr(tmp_path):
    with serving(tmp_path / "data", "--share", "--host", "Bench.Test") as (_, process):
        process.terminate()
        printed = process.stdout.read()
    assert re.search(r"Pairing code: [2-9A-HJKMNP-Z]{4} [2-9A-HJKMNP-Z]{4} \(for one screen", printed)
    assert "http://Bench.Test:" in printed
    assert "█▀▀" in printed or "█ ▄▄▄▄▄ █" in printed


def test_addresses_are_found_without_sending_anything_and_loopback_is_none_of_them():
    found = addresses.network_addresses()
    assert all(not address.startswith("127.") for address in found)
    assert len(set(found)) == len(found)
    for address in found:  # it is this machine's own: a socket can be bound to it
        with socket.socket() as probe:
            probe.bind((address, 0))


def test_a_foreign_proxy_header_makes_nobody_local(tmp_path):
    with serving(tmp_path / "data", "--share", "--host", "bench.test") as (address, _):
        asked = urllib.request.Request(
            f"{address}/settings", headers={"Host": "bench.test", "X-Forwarded-For": "127.0.0.1"}
        )
        with pytest.raises(urllib.error.HTTPError) as refused:
            urllib.request.urlopen(asked, timeout=5)
        assert refused.value.code == 403
        refused.value.close()


# Where the data lies


def test_the_usual_folder_is_the_users_folder_of_data():
    home = Path("/home/ada")
    assert place.usual_folder({}, home) == home / ".local/share/midframe"
    assert place.usual_folder({"XDG_DATA_HOME": "/data"}, home) == Path("/data/midframe")
    # a relative path is to be ignored [xdg base directory specification, "Environment variables"]
    assert place.usual_folder({"XDG_DATA_HOME": "data"}, home) == home / ".local/share/midframe"


def test_a_new_data_folder_belongs_to_its_user_alone(tmp_path):
    folder = place.ready_folder(tmp_path / "a" / "b", database=True)
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert list(folder.iterdir()) == []


MOUNTS = (
    "22 1 0:20 / / rw,relatime shared:1 - ext4 /dev/vda rw\n"
    "30 22 0:31 / /home rw master:2 - nfs4 files:/home rw,vers=4.2\n"
    "31 30 0:32 / /home/ada/local rw - xfs /dev/vdb rw\n"
    "32 22 0:33 / /mnt/with\\040space rw - cifs //files/x rw\n"
)


@pytest.mark.parametrize(
    ("folder", "kind"),
    [
        ("/var/data", "ext4"),
        ("/home/ada/data", "nfs4"),
        ("/home/ada/local/data", "xfs"),
        ("/homes", "ext4"),
        ("/mnt/with space/data", "cifs"),
    ],
)
def test_the_innermost_mount_says_what_a_folder_lies_on(folder, kind):
    assert place.kind_in(MOUNTS, Path(folder)) == kind


def test_the_mounts_of_this_machine_can_be_read(tmp_path):
    told = subprocess.run(
        ["stat", "-f", "-c", "%T", tmp_path], capture_output=True, text=True, check=True
    ).stdout.strip()
    assert place.mount_kind(tmp_path).replace("ext4", "ext2/ext3") == told.replace("overlayfs", "overlay")


def test_a_folder_on_the_network_is_refused_for_a_database_but_not_for_photos(tmp_path, monkeypatch):
    mounts = tmp_path / "mounts"
    mounts.write_text(f"30 22 0:31 / {tmp_path.resolve()} rw - nfs4 files:/home rw\n")
    monkeypatch.setattr(place, "MOUNTS", mounts)
    with pytest.raises(StoreTrouble, match=r"on the network \(nfs4\).*--store URL"):
        place.ready_folder(tmp_path / "data", database=True)
    assert place.ready_folder(tmp_path / "data", database=False)


def test_a_file_in_the_place_of_the_folder_is_told(tmp_path):
    (tmp_path / "data").write_text("")
    done = started("--data", tmp_path / "data", "--port", 0)
    assert done.returncode == 1
    assert "found file exists; right: a folder with room" in done.stderr


def test_an_address_of_a_store_that_is_none_is_told(tmp_path):
    done = started("--data", tmp_path, "--port", 0, "--store", "mysql://x")
    assert done.returncode == 1
    assert "right: sqlite:///" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_password_is_never_shown():
    assert server.place_in_words("postgresql://ada:se@cret@db/x?sslmode=off") == "postgresql://ada@db/x"
    assert server.place_in_words("postgresql:///shelf?host=/run/pg") == "postgresql:///shelf"


# Demo devices


def test_the_demo_devices_stand_on_the_shelf_once_and_are_marked_invented(tmp_path):
    for _ in range(2):
        with serving(tmp_path, "--demo") as (address, _), urllib.request.urlopen(address) as answer:
            shown = answer.read().decode()
    store = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    rows = store.shelf().rows
    store.close()
    assert sorted(row.name for row in rows) == sorted(demo.load(name).device.name for name in demo.names())
    assert all(row.invented for row in rows)
    assert "invented" in shown


def test_demo_devices_that_were_edited_or_taken_off_stay_so(tmp_path):
    store = Store.open(f"sqlite:///{tmp_path / 'midframe.db'}", tmp_path)
    put_demo(store, AT)
    gone, edited = store.shelf().rows[:2]
    store.remove(gone.id, at="2026-11-25T05:00:00Z")
    kept = store.get(edited.id)
    store.save(edited.id, kept.record, base=kept.revision, at="2026-11-25T05:00:00Z", summary="looked at")
    before = store.heads()
    put_demo(store, AT)
    assert store.heads() == before
    assert store.shelf().total == len(demo.names()) - 1
    store.close()


# A disk that is full, a folder that is read-only


@contextlib.contextmanager
def small_disk(folder, kilobytes):
    """A file system of its own of this size, or a skip where none can be mounted."""
    folder.mkdir()
    mounted = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", f"size={kilobytes}k", "tmpfs", folder],
        capture_output=True,
        check=False,
    )
    if mounted.returncode:
        pytest.skip("no file system can be mounted here")
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", folder], check=True)


def test_a_folder_that_cannot_be_written_is_told_at_the_start(tmp_path):
    with small_disk(tmp_path / "data", 256) as folder:
        subprocess.run(["mount", "-o", "remount,ro", folder], check=True)
        done = started("--data", folder, "--port", 0)
    assert done.returncode == 1
    assert f"{folder}: found read-only file system; right: a folder with room" in done.stderr


@pytest.mark.skipif(os.geteuid() == 0, reason="nothing is forbidden to the administrator")
def test_a_folder_that_this_user_may_not_write_is_told_at_the_start(tmp_path):
    folder = tmp_path / "data"
    folder.mkdir(mode=0o555)
    done = started("--data", folder, "--port", 0)
    assert done.returncode == 1
    assert f"{folder}: found permission denied; right: a folder with room" in done.stderr


def test_a_disk_without_room_is_told_at_the_start(tmp_path):
    with small_disk(tmp_path / "data", 64) as folder:
        (folder / "filler").write_bytes(b"x" * 65_536)
        done = started("--data", folder, "--port", 0)
    assert done.returncode == 1
    assert f"{folder}: found no space left on device; right: a folder with room" in done.stderr


def test_a_disk_that_fills_up_is_told_and_nothing_acknowledged_is_lost(tmp_path):
    with small_disk(tmp_path / "data", 1500) as folder:
        with serving(folder) as (address, process):
            made = sent(address, "POST", "/api/records", {"record": plain(demo.load("tern-2"))})[1]
            kept, refused = 0, 0
            for number in range(400):
                note = {"verb": "note", "note": f"{number} " + os.urandom(1500).hex()}
                status, answer = sent(address, "POST", f"/api/records/{made['id']}/moves", {"done": note})
                if status == 507:
                    refused += 1
                    assert "found a full disk; nothing was changed. Make room" in answer["fault"]
                    if refused == 3:
                        break
                else:
                    assert status == 201
                    kept += 1
            assert refused == 3
            with urllib.request.urlopen(f"{address}/api/records/{made['id']}", timeout=10) as answer:
                log = json.load(answer)["record"]["log"]  # reading goes on
            process.terminate()
            assert "Traceback" not in process.stdout.read()
        assert kept > 3
        ours = [line["note"].split()[0] for line in log[-kept:]]
        assert ours == [str(number) for number in range(kept)]
        database = sqlite3.connect(folder / "midframe.db")
        assert database.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        database.close()


def sent(address, method, path, content):
    """Status and JSON of the answer."""
    asked = urllib.request.Request(
        address + path, json.dumps(content).encode(), {"Content-Type": "application/json"}, method=method
    )
    try:
        with urllib.request.urlopen(asked, timeout=20) as answer:
            return answer.status, json.load(answer)
    except urllib.error.HTTPError as refused:
        with refused:
            return refused.code, json.load(refused)
