"""Function checks before and after a job: which apply to a record, and what is worse than before."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from midframe.faults import BadSetting, UnknownPart
from midframe.record.model import Part, Record

OUTCOMES = ("good", "faulty", "not tried")
"""What a check may come to."""


class Trial(msgspec.Struct, frozen=True):
    """One function check: its id, what to do and see, the ids of the parts that it tries, when it is done.

    `own` says that it is the record's own check.
    """

    id: str
    text: str
    parts: tuple[str, ...]
    when: str = "both"
    own: bool = False


class Usual(msgspec.Struct, frozen=True):
    """A check of our list: it applies where a part has one of the roles, or one of the words in its name."""

    id: str
    text: str
    roles: tuple[str, ...] = ()
    words: tuple[str, ...] = ()


USUAL = (
    Usual(
        "touch",
        "Drag one finger in close lines over the whole display, then two at once: no gap.",
        ("display",),
    ),
    Usual(
        "picture",
        "Full screen white, black, red, green, blue: no line, spot, tint or light at the rim.",
        ("display",),
    ),
    Usual("front-camera", "Photo and video near and far: sharp, no dust, no haze.", ("front_camera",)),
    Usual(
        "rear-camera",
        "Photo and video with every lens, near and far: sharp, steady, no rattle.",
        ("rear_camera",),
    ),
    Usual("flash", "Light on and off, photo in the dark.", (), ("flash",)),
    Usual(
        "microphone",
        "Speak in a call, a video and a recording: every microphone is heard alone.",
        ("microphone",),
    ),
    Usual("speaker", "Rising tone at full volume on each: no rattle, none silent.", ("speaker",)),
    Usual(
        "charging",
        "Charge by cable, plug both ways round: current rises and holds when the plug is moved.",
        ("charging_port",),
    ),
    Usual("coil", "Charge without a cable and read a near-field tag.", (), ("coil",)),
    Usual(
        "radio",
        "Mobile network, wireless network near and a room away, short-range radio, position.",
        ("main_board",),
        ("antenna",),
    ),
    Usual("card", "Cards are found; trays slide and sit flush.", ("sim_tray", "card_tray")),
    Usual(
        "buttons",
        "Each button ten times, and held: every press counts, none sticks.",
        ("button",),
        ("key", "button"),
    ),
    Usual(
        "proximity",
        "Cover the sensor in a call, shade it in light: the display answers.",
        (),
        ("proximity", "light sensor"),
    ),
    Usual(
        "motion", "Turn and tilt: the picture follows; the compass turns with the device.", ("main_board",)
    ),
    Usual("fingerprint", "Finger or face: enrol anew and unlock five times.", (), ("fingerprint", "face")),
    Usual("vibration", "Vibrate on a soft base: even, no rattle.", (), ("vibration",)),
    Usual("hinge", "Fold and unfold ten times: even force, stays where it is left.", ("hinge",)),
    Usual("audio-socket", "Headphones: sound on both sides, the plug holds.", ("audio_connector",)),
    Usual(
        "water-mark",
        "Look at the water indicators: colour as new. A stained one is no proof of when.",
        ("main_board",),
    ),
    Usual(
        "battery-health", "Read cycles, capacity and the message on the part from the device.", ("battery",)
    ),
)
"""Our own list for phones and tablets (common practice, no source)."""


class Difference(msgspec.Struct, frozen=True):
    """One check before and after. `change` is "worse", "still faulty", "not tried", "better" or "same"."""

    trial: Trial
    before: str
    after: str
    change: str


CHANGES = ("worse", "still faulty", "not tried", "better", "same")
"""The order in which differences are told: what is worse than before comes first."""


def trials(record: Record, when: str | None = None) -> tuple[Trial, ...]:
    """The record's own checks, then those of our list that apply to its parts and are not among them.

    `when` is "before", "after" or None for all. Raises `BadSetting` for another word.

    >>> from midframe import demo
    >>> [trial.id for trial in trials(demo.load("tern-3")) if not trial.own][:3]
    ['flash', 'coil', 'card']
    """
    if when not in (None, "before", "after"):
        raise BadSetting(f"when: found '{when}'; it may be before or after")
    found = [*own(record), *usual(record)]
    return tuple(trial for trial in found if when is None or trial.when in (when, "both"))


def own(record: Record) -> Iterator[Trial]:
    """The record's own checks."""
    for check in record.checks:
        yield Trial(check.id, check.text, check.parts, check.when, own=True)


def usual(record: Record) -> Iterator[Trial]:
    """Checks of our list whose parts are recorded; a record's own check of the same name takes its place."""
    said = {check.id.rstrip("s") for check in record.checks}
    for one in USUAL:
        parts = tuple(part.id for part in record.parts if applies(one, part))
        if parts and one.id.rstrip("s") not in said:
            yield Trial(one.id, one.text, parts)


def applies(one: Usual, part: Part) -> bool:
    """Whether a check of our list tries a part."""
    name = part.name.casefold()
    return bool({part.role, *part.also} & set(one.roles)) or any(word in name for word in one.words)


def difference(record: Record, before: Mapping[str, str], after: Mapping[str, str]) -> tuple[Difference, ...]:
    """The checks before and after, what is worse than before in front.

    Parameters
    ----------
    before, after
        Outcome by id of the check: "good", "faulty" or "not tried"; what is absent was not tried.

    Raises
    ------
    UnknownPart
        For an id that is no check of this record.
    BadSetting
        For an outcome that is none.
    """
    every = trials(record)
    known = [trial.id for trial in every]
    for said in (before, after):
        for name, outcome in said.items():
            if name not in known:
                raise UnknownPart(f"no check '{name}'; there are {', '.join(known)}")
            if outcome not in OUTCOMES:
                raise BadSetting(f"{name}: found '{outcome}'; it may be {', '.join(OUTCOMES)}")
    lines = [
        Difference(trial, a, b, change(a, b))
        for trial in every
        for a, b in [(before.get(trial.id, "not tried"), after.get(trial.id, "not tried"))]
    ]
    return tuple(sorted(lines, key=lambda line: CHANGES.index(line.change)))


def change(before: str, after: str) -> str:
    """What became of one check. Faulty after and not tried before counts as worse: nobody can say otherwise.

    >>> change("good", "faulty"), change("faulty", "good"), change("good", "not tried")
    ('worse', 'better', 'not tried')
    """
    if after == "not tried":
        return "not tried"
    if after == "faulty":
        return "still faulty" if before == "faulty" else "worse"
    return "better" if before == "faulty" else "same"


def worse(differences: Sequence[Difference]) -> tuple[Difference, ...]:
    """What is worse than before."""
    return tuple(line for line in differences if line.change == "worse")
