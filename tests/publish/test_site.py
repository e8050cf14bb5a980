from __future__ import annotations

import csv
import io
import itertools
import json
import posixpath
import re
from functools import cache
from urllib.parse import unquote, urldefrag

import html5lib
import msgspec
import pytest
import tinycss2

from midframe.demo import load
from midframe.faults import BadSetting
from midframe.publish.paper import MARGIN_MM
from midframe.publish.site import MANIFEST, Manifest, site
from midframe.publish.site_contents import SHEETS, SiteSettings
from midframe.record import read
from midframe.record.model import LogEntry, Photo

EVIL = '</style></script><script>alert(1)</script><img src="https://example.org/x">"\'|`*\x07'
HASH = "a" * 64
FORMULAS = ("=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", '=HYPERLINK("x")')


def tree_of(data):
    return html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(data.decode())


@cache
def whole(device="tern-3", code="en", parts="priority"):
    """A demo device published with a photo."""
    return site(
        pictured(load(device)), SiteSettings(language=code, parts=parts), photos={HASH: b"\xff\xd8picture"}
    )


def pictured(record):
    """The record with one photo, in its log too."""
    photos = (Photo(hash=HASH, caption="Battery plug", parts=("battery",)),)
    log = (*record.log, LogEntry(seconds=2000, note="done", photo=HASH))
    return msgspec.structs.replace(record, photos=photos, log=log)


def pages(files):
    return {name: tree_of(data) for name, data in files.items() if name.endswith(".html")}


@pytest.mark.parametrize("code", ["en", "de"])
@pytest.mark.parametrize("device", ["tern-3", "avocet-fold"])
def test_every_page_is_valid_and_says_its_language(device, code):
    files = whole(device, code)
    found = pages(files)
    assert {"index.html", "screws.html", "refit.html", "repairability.html", "lists.html"} <= found.keys()
    for name, tree in found.items():
        assert tree.get("lang") == code, name
        ids = [node.get("id") for node in tree.iter() if node.get("id")]
        assert len(ids) == len(set(ids)), name
        levels = [int(node.tag[1]) for node in tree.iter() if re.fullmatch("h[1-6]", str(node.tag))]
        assert levels.count(1) == 1, name
        assert all(after - before <= 1 for before, after in itertools.pairwise(levels)), name


@pytest.mark.parametrize("code", ["en", "de"])
def test_every_relative_link_and_fragment_exists(code):
    files = whole(code=code)
    found = pages(files)
    seen = 0
    for name, tree in found.items():
        for node in tree.iter():
            for key in ("href", "src"):
                address = node.get(key)
                if address is None or address == "data:,":
                    continue
                target, fragment = urldefrag(address)
                assert "//" not in address, (name, address)
                path = posixpath.normpath(posixpath.join(posixpath.dirname(name), unquote(target)))
                path = path if target else name
                assert path in files, (name, address)
                if fragment:
                    assert any(one.get("id") == fragment for one in found[path].iter()), (name, address)
                seen += 1
    assert seen > 300


@pytest.mark.parametrize("code", ["en", "de"])
def test_every_link_and_picture_of_the_markdown_exists(code):
    files = whole(code=code)
    texts = {name: data.decode() for name, data in files.items() if name.endswith(".md")}
    assert len(texts) == sum(name.endswith(".html") for name in files) - 1
    for name, text in texts.items():
        for target in re.findall(r"\]\(([^)]+)\)", text):
            path = posixpath.normpath(posixpath.join(posixpath.dirname(name), target))
            assert path in files, (name, target)


def test_the_pages_run_nothing_and_fetch_nothing_from_elsewhere():
    for name, tree in pages(whole()).items():
        for node in tree.iter():
            if not isinstance(node.tag, str):
                continue
            if node.tag == "script":
                assert node.get("type") == "application/ld+json", name
                assert json.loads(node.text)["@type"] == "HowTo"
            assert node.tag not in ("iframe", "object", "embed", "form", "base", "use")
            assert not any(key.startswith("on") or key == "style" for key in node.attrib), (name, node.tag)
            assert name == "screw-sheet.html" or node.tag != "style", name
    sheet = whole()["style.css"].decode()
    assert "url(" not in sheet
    assert "@import" not in sheet


def test_all_pages_share_one_style_sheet_that_parses():
    for name, tree in pages(whole()).items():
        linked = [node.get("href") for node in tree.iter("link") if node.get("rel") == "stylesheet"]
        assert linked == (
            []
            if name == "screw-sheet.html"
            else [posixpath.relpath("style.css", posixpath.dirname(name) or ".")]
        )
    rules = tinycss2.parse_stylesheet(whole()["style.css"].decode(), skip_comments=True, skip_whitespace=True)
    assert not [rule for rule in rules if rule.type == "error"]


def test_a_photo_is_there_with_what_it_shows_and_only_where_its_picture_was_given():
    files = whole()
    assert files[f"photos/{HASH}.jpg"] == b"\xff\xd8picture"
    (image,) = pages(files)["photos.html"].iter("img")
    assert image.get("alt") == "Battery plug. Shows Battery. At 33:20 of the log: –"
    (beside,) = pages(files)["in/to-battery.html"].iter("img")
    assert (beside.get("src"), beside.get("alt")) == (f"../photos/{HASH}.jpg", image.get("alt"))
    assert not list(pages(files)["in/to-display.html"].iter("img"))
    without = site(pictured(load("tern-2")), SiteSettings(parts="priority", sheets=("photos",)))
    assert not any(name.startswith("photos") for name in without)


def test_what_is_no_hash_is_no_file():
    record = msgspec.structs.replace(load("tern-2"), photos=(Photo(hash="../../evil"),))
    files = site(record, SiteSettings(parts="priority", sheets=("photos",)), photos={"../../evil": b"x"})
    assert not any("evil" in name for name in files)


@pytest.mark.parametrize("code", ["en", "de"])
def test_hostile_names_stay_text_everywhere(code):
    record = pictured(load("tern-2"))
    hostile = msgspec.structs.replace(
        record,
        device=msgspec.structs.replace(record.device, name=EVIL),
        parts=tuple(msgspec.structs.replace(part, name=EVIL, note=EVIL) for part in record.parts),
        joints=tuple(msgspec.structs.replace(joint, name=EVIL, note=EVIL) for joint in record.joints),
        photos=(Photo(hash=HASH, caption=EVIL),),
    )
    files = site(hostile, SiteSettings(language=code, parts="priority"), photos={HASH: b""})
    for name, tree in pages(files).items():
        scripts = list(tree.iter("script"))
        assert all(node.get("type") == "application/ld+json" for node in scripts), name
        places = [node.get("src") for node in tree.iter("img")]
        assert places in ([], [f"photos/{HASH}.jpg"], [f"../photos/{HASH}.jpg"]), name
    rules = tinycss2.parse_stylesheet(files["style.css"].decode(), skip_comments=True, skip_whitespace=True)
    assert not [rule for rule in rules if rule.type == "error"]


def test_no_cell_of_a_list_runs_as_a_formula_and_every_text_is_read_back():
    record = load("tern-2")
    parts = tuple(
        msgspec.structs.replace(part, name=FORMULAS[number % len(FORMULAS)])
        for number, part in enumerate(record.parts)
    )
    files = site(
        msgspec.structs.replace(record, parts=parts), SiteSettings(parts="priority", sheets=("lists",))
    )
    rows = list(csv.DictReader(io.StringIO(files["lists/parts.csv"].decode("utf-8-sig"), newline="")))
    assert [row["name"] for row in rows] == [f"'{part.name}" for part in parts]
    for name in [name for name in files if name.endswith(".csv")]:
        assert files[name].startswith(b"\xef\xbb\xbf")
        for row in csv.reader(io.StringIO(files[name].decode("utf-8-sig"), newline="")):
            assert not any(cell.startswith(("=", "+", "@", "\t", "\r")) for cell in row), name
            assert not any(cell.startswith("-") and not re.fullmatch(r"-\d+(\.\d+)?", cell) for cell in row)


def test_the_lists_hold_every_part_and_every_tool_of_the_instructions():
    files = whole()
    record = load("tern-3")
    parts = list(csv.DictReader(io.StringIO(files["lists/parts.csv"].decode("utf-8-sig"), newline="")))
    assert [row["part"] for row in parts] == [part.id for part in record.parts]
    battery = next(row for row in parts if row["part"] == "battery")
    assert float(battery["mass_g"]) == next(part.mass_g for part in record.parts if part.id == "battery")
    tools = list(csv.DictReader(io.StringIO(files["lists/tools.csv"].decode("utf-8-sig"), newline="")))
    used = {row["tool"] for row in tools if "battery" in row["parts"].split("; ")}
    told = json.loads(files["how-to/to-battery.json"])["tool"]
    assert used == {one["name"] for one in told}
    groups = {row["tool"]: row["group"] for row in tools}
    assert (groups["spudger"], groups["heating mat"], groups["eject pin"]) == (
        *("basic", "commercial"),
        "product_set",
    )


def test_the_trace_names_the_clause_of_every_number():
    tree = pages(whole())["repairability.html"]
    text = " ".join(tree.itertext())
    assert "Annex IV point 5, Disassembly depth" in text
    assert "lbl-2023-1669, Annex IV point 5" in text
    assert "not legal advice" in text


def test_the_screw_sheet_keeps_its_scale():
    svg = whole()["drawings/screw-sheet-1.svg"].decode()
    assert re.search(r'width="210mm" height="297mm" viewBox="0 0 210 297"', svg)
    assert f'x1="{MARGIN_MM:g}"' in svg
    assert "@page{size:210mm 297mm;margin:0}" in whole()["screw-sheet.html"].decode()


def test_the_record_in_the_folder_is_the_record():
    record = pictured(load("tern-3"))
    assert read(whole()["record.device.toml"].decode(), "record") == record


def test_the_same_record_gives_the_same_bytes_and_the_manifest_names_every_file():
    files = whole("tern-2")
    assert (
        site(pictured(load("tern-2")), SiteSettings(parts="priority"), photos={HASH: b"\xff\xd8picture"})
        == files
    )
    manifest = msgspec.json.decode(files[MANIFEST], type=Manifest)
    assert set(manifest.files) == set(files) - {MANIFEST}


def test_what_is_left_out_is_left_out():
    files = site(load("tern-2"), SiteSettings(parts="priority", sheets=()))
    assert sorted(files) == ["drawings/stack.svg", "index.html", MANIFEST, "style.css"]


def test_the_steps_in_the_data_lead_to_the_moves_on_the_page():
    files = whole()
    ids = {node.get("id") for node in pages(files)["in/to-battery.html"].iter()}
    steps = [
        step
        for section in json.loads(files["how-to/to-battery.json"])["step"]
        for step in section["itemListElement"]
    ]
    for step in steps:
        target, fragment = urldefrag(step["url"])
        assert posixpath.normpath(posixpath.join("how-to", target)) == "in/to-battery.html"
        assert fragment in ids


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        (SiteSettings(language="xx"), "language: found 'xx'"),
        (SiteSettings(paper="A3"), "paper: found 'A3'"),
        (SiteSettings(sheets=("tables",)), "include: found 'tables'"),
        (SiteSettings(parts="some"), "parts: found 'some'"),
    ],
)
def test_a_setting_that_is_not_known_is_refused_with_what_would_be_right(settings, told):
    with pytest.raises(BadSetting, match=told):
        site(load("tern-2"), settings)


def test_sheets_are_named_once():
    assert len(set(SHEETS)) == len(SHEETS)
