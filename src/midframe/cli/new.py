"""`midframe new`: a record begun by a short interview, each answer in the file before the next question."""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any, get_args

import click

from midframe.cli import shared
from midframe.cli.sheets.figures import count
from midframe.faults import BadSetting, Fault
from midframe.record import Record, check, draft, faults, read, sound, write
from midframe.record.describe import nearest
from midframe.record.model import JointKind, Role

SUFFIX = ".device.toml"
KINDS = ("phone", "tablet")
JOINT_KINDS: tuple[str, ...] = get_args(JointKind)
ROLES: tuple[str, ...] = get_args(Role)
NONE = ("none", "nothing", "-")


class Interview:
    """The record so far, the file it is kept in, and the questions; raises `click.Abort` when input ends."""

    def __init__(self, file: str | None, *, to_errors: bool) -> None:
        self.to_errors = to_errors
        self.record: Record | None = None
        self.path: Path | None = None
        self.said: set[str] = set()
        if file is not None and file.startswith(shared.DEMO):
            raise BadSetting(f"found '{file}', a demo device; right: the name of a file")
        if file is not None:
            self.open(Path(file))

    def open(self, path: Path) -> None:
        """Take a new file, or go on with one; a hand-written one is left alone, its draft is written."""
        beside = path.with_name(path.name + ".draft")
        if not path.exists() and not beside.exists():
            shared.write_new(path, "")
            path.unlink()
            self.path = path
            return
        kept = beside if beside.exists() else path
        text = shared.text_of(str(kept))
        if not text.strip():
            self.path = kept
            return
        self.record = sound(read(text, str(kept)), str(kept))
        self.said = {self.record.device.body, *(joint.holds[0] for joint in self.record.joints)}
        self.path = kept if kept == beside or write(self.record) == text else beside
        self.tell(f"{count(len(self.record.parts), 'part')} in {kept}; going on in {self.path}.")

    def tell(self, text: str) -> None:
        """Say something beside the questions."""
        click.echo(text, err=self.to_errors)

    def keep(self, record: Record) -> None:
        """Take over a record that its check lets pass, and write it; else `BadSetting` with what is wrong."""
        wrong = faults(check(record))
        if wrong:
            raise BadSetting("\n".join(f"found {one.found}; right: {one.right}" for one in wrong))
        if self.path is None:
            self.path = free_path(record.device.name)
            self.tell(f"Every answer is kept in {self.path}.")
        replace_file(self.path, write(record))
        self.record = record

    @property
    def now(self) -> Record:
        """The record, which there is once the device has a name."""
        if self.record is None:
            raise BadSetting("found no device; right: a device with a name first")
        return self.record

    def ask(self, question: str, take: Callable[[str], Record | None], default: str = "") -> None:
        """Ask until `take` accepts the answer, keep the record that it gives."""
        while True:
            answer = click.prompt(question, default=default, show_default=bool(default), err=self.to_errors)
            try:
                changed = take(clean(str(answer)))
                if changed is not None:
                    self.keep(changed)
                return
            except Fault as fault:
                self.tell(f"  {fault}")


def clean(answer: str) -> str:
    """An answer without what no text file should hold."""
    kept = "".join(sign if sign.isprintable() else " " for sign in answer.encode("utf-8", "replace").decode())
    return " ".join(kept.split())


def free_path(name: str) -> Path:
    """A file in this folder named after the device that does not exist yet."""
    word, number = draft.slug(name), 2
    path = Path(word + SUFFIX)
    while path.exists() or path.with_name(path.name + ".draft").exists():
        path, number = Path(f"{word}-{number}{SUFFIX}"), number + 1
    return path


def replace_file(path: Path, text: str) -> None:
    """Write a file whole or not at all; raises `BadSetting` where that cannot be."""
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    try:
        beside.write_text(text, encoding="utf-8", newline="\n")
        beside.replace(path)
    except OSError as error:
        with suppress(OSError):
            beside.unlink()
        raise BadSetting(
            f"{path}: found {shared.reason(error)}; right: a folder that can be written"
        ) from None


def numbers(text: str) -> list[float]:
    """The numbers in an answer; a comma between digits is a decimal point.

    >>> numbers("161,5 x 74.8 x 8.4 mm"), numbers("211 g")
    ([161.5, 74.8, 8.4], [211.0])
    """
    plain = re.sub(r"(?<=\d),(?=\d)", ".", text)
    return [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", plain)]


def one_of(answer: str, words: tuple[str, ...]) -> Any:
    """The word that an answer means: whole, or a beginning that fits one word only; raises `BadSetting`."""
    folded = answer.casefold().replace(" ", "_").replace("-", "_")
    beginning = [word for word in words if word.startswith(folded)]
    if folded in words:
        return folded
    if len(beginning) == 1:
        return beginning[0]
    near = nearest(folded, words)
    hint = f"{near}, if that is meant; " if near else ""
    raise BadSetting(f"found '{answer}'; right: {hint}one of {', '.join(words)}")


def device_questions(talk: Interview) -> None:
    """Name, kind, size and mass of the device."""
    if talk.record is None:
        talk.ask("Name of the device", lambda answer: draft.begin(needed(answer, "a name"), "phone"))
        talk.ask(
            "Kind (phone, tablet)",
            lambda answer: draft.with_device(talk.now, kind=one_of(answer, KINDS)),
            "phone",
        )
    talk.said.add(talk.now.device.body)
    device = talk.now.device
    if device.size_mm is None:
        talk.ask("Height, width, thickness in mm (Enter: not known)", lambda answer: sized(talk.now, answer))
    if device.mass_g is None:
        talk.ask("Mass in g (Enter: not known)", lambda answer: weighed(talk.now, answer))


def needed(answer: str, what: str) -> str:
    """The answer, which must not be empty; raises `BadSetting`."""
    if not answer:
        raise BadSetting(f"found nothing; right: {what}")
    return answer


def sized(record: Record, answer: str) -> Record | None:
    """The record with the device's size; raises `BadSetting` unless there are three numbers."""
    if not answer:
        return None
    found = numbers(answer)
    if len(found) != 3:
        raise BadSetting(f"found {count(len(found), 'number')}; right: three, such as 161.5 74.8 8.4")
    return draft.with_device(record, size_mm=tuple(found))


def weighed(record: Record, answer: str) -> Record | None:
    """The record with the device's mass; raises `BadSetting` unless there is one number."""
    if not answer:
        return None
    found = numbers(answer)
    if len(found) != 1:
        raise BadSetting(f"found {count(len(found), 'number')}; right: one, such as 211")
    return draft.with_device(record, mass_g=found[0])


def part_questions(talk: Interview) -> bool:
    """One part with what holds it and what came before it; false when there is none more."""
    name: list[str] = []
    talk.tell("")
    talk.ask("Next part that comes out (Enter: no more)", name.append)
    if not name[0]:
        return False
    known = draft.found(talk.now, name[0])
    if known is not None and known.id in talk.said:
        talk.tell(f"  {known.name} is in the record already.")
        return True
    if known is None:
        record, part = draft.add_part(talk.now, name[0])
        talk.keep(record)
    else:
        part = known.id
    earlier = [one for one in talk.said if one != talk.now.device.body]
    talk.ask(
        "  Role (battery, display, back_cover, …; Enter: other)",
        lambda answer: draft.with_part(talk.now, part, role=one_of(answer, ROLES)),
        "other",
    )
    before = last_described(talk.now, earlier)
    talk.ask(
        "  Aside before it (parts with commas, none)",
        lambda answer: waiting(talk, part, answer, before),
        before or "none",
    )
    while joint_questions(talk, part):
        pass
    talk.said.add(part)
    return True


def last_described(record: Record, earlier: list[str]) -> str:
    """The part described last, which came out just before; empty where there is none."""
    return next((part.id for part in reversed(record.parts) if part.id in earlier), "")


def waiting(talk: Interview, part: str, answer: str, preset: str) -> Record:
    """The record with what must be aside before the part; the preset taken over is only assumed."""
    if answer.casefold() in NONE:
        return draft.wait_for(talk.now, part, (), assumed=False)
    before = []
    for word in filter(None, map(str.strip, answer.split(","))):
        found = draft.found(talk.now, word)
        if found is None or found.id not in talk.said or found.id == talk.now.device.body:
            described = [one.id for one in talk.now.parts if one.id in talk.said - {talk.now.device.body}]
            right = f"parts that came out earlier: {', '.join(described)}" if described else "none"
            raise BadSetting(f"found '{word}'; right: {right}")
        before.append(found.id)
    return draft.wait_for(talk.now, part, tuple(dict.fromkeys(before)), assumed=answer == preset)


def joint_questions(talk: Interview, part: str) -> bool:
    """One thing that holds the part; false when nothing more does."""
    joint: list[str] = []

    def kind(answer: str) -> Record | None:
        if not answer or answer.casefold() in NONE:
            return None
        record, new = draft.add_joint(talk.now, part, one_of(answer, JOINT_KINDS))
        joint.append(new)
        return record

    talk.ask(f"  Held by ({', '.join(JOINT_KINDS)}; Enter: no more)", kind)
    if not joint:
        return False
    talk.ask("    to", lambda answer: held_to(talk.now, joint[0], answer), "Frame")
    made = next(one for one in talk.now.joints if one.id == joint[0])
    if made.kind in ("screw", "clip"):
        talk.ask("    how many (Enter: not known)", lambda answer: counted(talk.now, joint[0], answer))
    if made.kind == "screw":
        talk.ask(
            "    drive, such as hexalobular 4 (Enter: not known)",
            lambda answer: draft.with_joint(talk.now, joint[0], drive=answer),
        )
    if made.kind == "connector":
        talk.ask(
            "    folds aside on its cable before it is unplugged (yes, no)",
            lambda answer: (
                draft.make_tether(talk.now, joint[0]) if one_of(answer, ("yes", "no")) == "yes" else None
            ),
            "no",
        )
    return True


def held_to(record: Record, joint: str, answer: str) -> Record:
    """The record with the joint leading to the part named; one that is not there yet is begun."""
    found = draft.found(record, answer)
    if found is not None:
        return draft.join_to(record, joint, found.id)
    record, other = draft.add_part(record, answer)
    return draft.join_to(record, joint, other)


def counted(record: Record, joint: str, answer: str) -> Record | None:
    """The record with the number of fasteners in the joint; raises `BadSetting` unless it is one."""
    if not answer:
        return None
    if not answer.isdecimal():
        raise BadSetting(f"found '{answer}'; right: a whole number, such as 4")
    return draft.with_joint(record, joint, count=int(answer))


def undescribed(talk: Interview) -> list[str]:
    """Names of parts that were named but not described."""
    known = {*talk.said, talk.now.device.body}
    return [part.name for part in talk.now.parts if part.id not in known]


@click.command("new")
@click.argument("file", metavar="[FILE]", required=False)
@shared.json_option
@click.pass_context
def command(ctx: click.Context, file: str | None, as_json: bool) -> None:
    """Begin a record by a short interview.

    Asks for the device, then for its parts in the order in which they come out.
    Every answer is written to FILE at once (without FILE to one named after the
    device); Ctrl-C or the end of the input keeps what there is, and `midframe
    new FILE` goes on with it. A hand-written FILE is never overwritten: its
    draft is FILE.draft.
    """
    talk = Interview(file, to_errors=as_json)
    try:
        device_questions(talk)
        while part_questions(talk):
            pass
    except click.Abort:
        talk.tell("")
    if talk.record is None or talk.path is None:
        talk.tell("Nothing was kept: nothing was answered yet.")
        ctx.exit(1)
    report(talk, as_json)
    sys.stdout.flush()


def report(talk: Interview, as_json: bool) -> None:
    """Say where the record is and what is still open in it."""
    record = talk.now
    assumed = sum(part.assumed for part in record.parts)
    if as_json:
        content = {"file": str(talk.path), "parts": len(record.parts), "joints": len(record.joints)}
        shared.echo_json("new", record, content | {"assumed": assumed, "undescribed": undescribed(talk)})
        return
    open_ended = undescribed(talk)
    talk.tell(
        f"Kept: {count(len(record.parts), 'part')}, {count(len(record.joints), 'joint')} in {talk.path}."
    )
    if open_ended:
        talk.tell(f"Named but not described yet: {', '.join(open_ended)}.")
    if assumed:
        talk.tell(
            f"Assumed from the order, to be confirmed: what {count(assumed, 'part waits', 'parts wait')} for."
        )
    talk.tell(f"Next: midframe check {talk.path}, midframe ways {talk.path}")
