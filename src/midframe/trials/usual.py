"""Which function checks apply to a record: its own, then those of our list whose parts are recorded."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from midframe.faults import BadSetting
from midframe.record.model import Check, Part, Record


class Asked(msgspec.Struct, frozen=True):
    """A figure that a check asks for: what it is called, and its unit."""

    label: str
    unit: str


class Trial(msgspec.Struct, frozen=True):
    """One function check: its id, what to do and see, the ids of the parts that it tries, when it is done.

    `own` says that it is the record's own check; `figures` are read beside it where the device tells them.
    """

    id: str
    text: str
    parts: tuple[str, ...]
    when: str = "both"
    own: bool = False
    figures: tuple[Asked, ...] = ()

    @property
    def name(self) -> str:
        """The id in words.

        >>> Trial("rear-camera", "Take a photo.", ()).name
        'Rear camera'
        """
        words = self.id.replace("-", " ").replace("_", " ")
        return words[:1].upper() + words[1:]


class Usual(msgspec.Struct, frozen=True):
    """A check of our list: it applies where a part has one of the roles, or one of the words in its name."""

    id: str
    text: str
    roles: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    figures: tuple[Asked, ...] = ()


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
        figures=(Asked("current by cable", "A"),),
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
        "battery-health",
        "Read cycles, capacity and the message on the part from the device.",
        ("battery",),
        figures=(
            Asked("full charge cycles", ""),
            Asked("capacity when full", "mAh"),
            Asked("state of health", "%"),
        ),
    ),
)
"""Our own list for phones and tablets (common practice, no source)."""


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
    """The record's own checks; one that is called as one of our list asks for its figures too."""
    for check in record.checks:
        figures = next((one.figures for one in USUAL if stems(one.id) == stems(check.id)), ())
        yield Trial(check.id, check.text, check.parts, check.when, own=True, figures=figures)


def usual(record: Record) -> Iterator[Trial]:
    """Checks of our list whose parts are recorded, unless the record has one of its own for the same."""
    for one in USUAL:
        parts = tuple(part.id for part in record.parts if applies(one, part))
        if parts and not any(same(one, parts, check) for check in record.checks):
            yield Trial(one.id, one.text, parts, figures=one.figures)


def same(one: Usual, parts: tuple[str, ...], check: Check) -> bool:
    """Whether a check of the record stands for ours: by the same name, or by a word of it and all its parts.

    >>> cameras = Check(id="cameras", text="Take a photo with each.", parts=("front", "rear"))
    >>> front = Usual("front-camera", "Photo near and far.", ("front_camera",))
    >>> same(front, ("front",), cameras), same(front, ("inner",), cameras)
    (True, False)
    """
    ours, theirs = stems(one.id), stems(check.id)
    return ours == theirs or (bool(ours & theirs) and set(parts) <= set(check.parts))


def stems(name: str) -> set[str]:
    """The words of an id, without the s of the plural."""
    return {word.rstrip("s") for word in name.replace("_", "-").split("-")}


def applies(one: Usual, part: Part) -> bool:
    """Whether a check of our list tries a part."""
    name = part.name.casefold()
    return bool({part.role, *part.also} & set(one.roles)) or any(word in name for word in one.words)
