"""What the commands share: records by path or demo name, parts by id or name, text and JSON output."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any, TypeVar

import click

from midframe.faults import BadSetting, RecordFault, UnknownPart
from midframe.record import Finding, Record, digest, read, sound
from midframe.record.describe import nearest
from midframe.record.findings import one_line
from midframe.record.reader import parsed

DEMO = "demo:"
"""How a FILE begins that names a demo device."""

LARGEST_BYTES = 64 * 2**20
"""No record is larger; house choice, so that a slip of the hand cannot fill the memory."""

JSON_FORMAT = 1
"""Number of the JSON output's format; raised when a key changes its meaning or goes."""

Thing = TypeVar("Thing")

file_argument = click.argument("file", metavar="FILE")
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON; keys in docs/json.md.")


A_RECORD = "a record (NAME.device.toml), or demo:tern-3"
"""What FILE is, wherever nothing else is asked for."""


def text_of(file: str, right: str = A_RECORD) -> str:
    """The text behind FILE: a path, `demo:NAME`, or `-` for the standard input; raises `RecordFault`.

    `right` says what the file would be, for the message where it cannot be read.
    """
    if file.startswith(DEMO):
        from midframe import demo

        name = file.removeprefix(DEMO)
        if name.removesuffix(demo.SUFFIX) not in demo.names():
            near = nearest(name, demo.names())
            right = f"demo:{near}, if that is meant; " if near else ""
            raise refused(file, "no such demo device", f"{right}one of {', '.join(demo.names())}")
        return demo.text(name)
    try:
        return bytes_of(file, right).decode("utf-8-sig")
    except UnicodeDecodeError as error:
        wide = error.object[:2] in (b"\xff\xfe", b"\xfe\xff")
        if wide:
            raise refused(file, "text in UTF-16", "the same saved as UTF-8") from None
        found = f"byte {error.object[error.start]:#04x} at offset {error.start}, which is no UTF-8"
        raise refused(file, found, f"{right.partition(' (')[0]} as UTF-8 text") from None


def bytes_of(file: str, right: str = A_RECORD) -> bytes:
    """What stands in a file; raises `RecordFault` where it cannot be read."""
    begins = "; `midframe new` begins a record" if right == A_RECORD else ""
    right = f"the path of {right}"
    try:
        if file == "-":
            data = sys.stdin.buffer.read(LARGEST_BYTES + 1)
        else:
            with Path(file).open("rb") as stream:
                data = stream.read(LARGEST_BYTES + 1)
    except FileNotFoundError:
        raise refused(file, "no such file", right + begins) from None
    except OSError as error:
        raise refused(file, reason(error), right) from None
    except ValueError as error:  # a null byte in the path
        raise refused(file, str(error), right) from None
    if len(data) > LARGEST_BYTES:
        raise refused(file, f"more than {LARGEST_BYTES // 2**20} MB", "a file of some kB")
    return data


def reason(error: OSError) -> str:
    """What the system says against a file, as a finding words it."""
    match error:
        case IsADirectoryError():
            return "a folder"
        case PermissionError():
            return "no permission"
        case _:
            return (error.strerror or "a fault of the system").lower()


def refused(file: str, found: str, right: str) -> RecordFault:
    """A fault of a whole file."""
    return RecordFault([Finding("fault", one_line(file) or '""', "", "", found, right)])


def load(file: str) -> Record:
    """The record behind FILE, free of faults; raises `RecordFault` with all of them."""
    return sound(read(text_of(file), file), file)


def toolbox_in(file: str | None) -> Any:
    """The toolbox in a file, if one is named."""
    from midframe.ways.toolbox import parse

    return None if file is None else parse(text_of(file, "a toolbox (TOML)"), file)


def counts_in(file: str | None) -> dict[str, int] | None:
    """The shop's own jobs by role or fault, if a file is named; what they may be is said by the library."""
    return None if file is None else parsed(text_of(file, "the shop's jobs (TOML)"), file)


def part_named(record: Record, name: str) -> str:
    """The id of the part that PART names by id or by name; raises `UnknownPart` with the nearest.

    >>> from midframe import demo
    >>> part_named(demo.load("tern-3"), "Display assembly")
    'display'
    """
    ids = {part.id for part in record.parts}
    if name in ids:
        return name
    same = [part.id for part in record.parts if part.name.casefold() == name.casefold()]
    if len(same) == 1:
        return same[0]
    if same:
        raise UnknownPart(f"'{one_line(name)}' is the name of {', '.join(same)}; say which by its id")
    words = {part.name.casefold(): part.id for part in record.parts} | {
        part.id: part.id for part in record.parts
    }
    near = nearest(name.casefold(), words)
    others = ", ".join(part.id for part in record.parts if part.id != record.device.body)
    right = f"{words[near]}, if that is meant (midframe ways lists all)" if near else f"one of {others}"
    raise UnknownPart(f"no part '{one_line(name)}' in {one_line(record.device.name)}; right: {right}")


def echo(lines: Iterable[str]) -> None:
    """Print lines; signs that the output cannot hold are replaced, so that no pipe ends in a fault."""
    text = "\n".join(lines)
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    plain = text.replace("─", "-") if encoding.lower().replace("-", "") != "utf8" else text
    click.echo(plain.encode(encoding, "replace").decode(encoding))


def echo_json(command: str, record: Record | None, content: Mapping[str, Any]) -> None:
    """Print one JSON object: format, command, the device, then the content."""
    head: dict[str, Any] = {"format": JSON_FORMAT, "command": command}
    if record is not None:
        head["device"] = device_json(record)
    echo([json.dumps(head | dict(content), indent=2, ensure_ascii=False, allow_nan=False)])


def watched(things: Iterable[Thing], label: str) -> Iterator[Thing]:
    """The things one by one, with a count on the error output where that is a terminal."""
    known = list(things)
    shown = sys.stderr.isatty()
    for number, thing in enumerate(known, start=1):
        if shown:
            click.echo(f"\r{label} {number} of {len(known)}", nl=False, err=True)
        yield thing
    if shown and known:
        click.echo("\r" + " " * (len(label) + 20) + "\r", nl=False, err=True)


def progress(label: str) -> Callable[[int, int, str], None]:
    """A count on the error output where that is a terminal, for the library to call."""

    def tell(number: int, of: int, _what: str) -> None:
        if sys.stderr.isatty():
            end = "\r" + " " * (len(label) + 20) + "\r" if number == of else ""
            click.echo(f"\r{label} {number} of {of}{end}", nl=False, err=True)

    return tell


def device_json(record: Record) -> dict[str, Any]:
    """The device and its record's digest, as every JSON output names them."""
    device = record.device
    return {
        "name": device.name,
        "kind": device.kind,
        "invented": device.invented,
        "currency": device.currency,
        "digest": digest(record),
    }


def rounded(value: float, digits: int = 3) -> float:
    """A figure for JSON without the noise of binary fractions."""
    return round(value, digits)


def write_new(path: Path, content: str | bytes, *, overwrite: bool = False) -> None:
    """Write a file, text as UTF-8; raises `BadSetting` where one is there or the folder cannot be written."""
    try:
        with path.open("wb" if overwrite else "xb") as stream:
            stream.write(content.encode("utf-8") if isinstance(content, str) else content)
    except FileExistsError:
        raise BadSetting(f"{path}: found a file of this name; right: a new name, or take it away") from None
    except OSError as error:
        found = reason(error)
        raise BadSetting(f"{path}: found {found}; right: a file in a folder that can be written") from None
