"""The languages of published text: messages from catalogues, figures and lists as each language writes them.

The catalogues are Fluent files under `languages/<code>/`; they are read at the first use of a language.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal
from functools import cache, cached_property
from importlib.resources import files
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal, TypeAlias

from midframe.faults import BadSetting

if TYPE_CHECKING:
    from fluent.runtime import FluentBundle
    from fluent.syntax import ast

Value: TypeAlias = str | int | float
"""What a message takes: text as it is, whole numbers (which choose plurals), other numbers as figures."""

FIRST = "en"
"""The language in which records' vocabulary and this program's results are written."""

LOCALES: Mapping[str, str] = MappingProxyType({"en": "en_GB", "de": "de_DE"})
"""Where the habits of figures and lists come from, for each language that has catalogues."""

LONGEST = 400
"""Longer values are put in after the message is made: the reader of catalogues caps what it inserts."""

SIZED = re.compile(r"(?P<thing>.+?) (?P<size>\S*\d\S*)")
"""A thing of the vocabulary with its size: `hexalobular 4`."""


def languages() -> tuple[str, ...]:
    """Codes of all languages, English first.

    >>> languages()
    ('en', 'de')
    """
    return tuple(LOCALES)


def language_names() -> Mapping[str, str]:
    """Every language as it calls itself, by its code.

    >>> language_names()["de"]
    'Deutsch'
    """
    return {code: language(code).say("language-name") for code in languages()}


@cache
def language(code: str = FIRST) -> Language:
    """The language of a code; raises `BadSetting` for one that has no catalogues.

    >>> language("de").figure(0.45)
    '0,45'
    """
    if code not in LOCALES:
        raise BadSetting(f"language: found '{code[:40]}'; it may be {' or '.join(LOCALES)}")
    return Language(code)


@cache
def resources(code: str) -> Mapping[str, ast.Resource]:
    """The catalogues of a language, parsed, by the names of their files without suffix."""
    from fluent.runtime import FluentResource

    folder = files("midframe.publish").joinpath("languages", code)
    found = sorted((file for file in folder.iterdir() if file.name.endswith(".ftl")), key=lambda f: f.name)
    return {file.name[:-4]: FluentResource(file.read_text(encoding="utf-8")) for file in found}


def messages(resource: ast.Resource) -> tuple[str, ...]:
    """Keys of the messages of one catalogue."""
    from fluent.syntax import ast

    return tuple(entry.id.name for entry in resource.body if isinstance(entry, ast.Message))


class Language:
    """One language: what it says under a key, and how it writes figures, times and lists."""

    def __init__(self, code: str) -> None:
        self.code = code
        self.locale = LOCALES[code]

    def __repr__(self) -> str:
        return f"language({self.code!r})"

    @cached_property
    def bundle(self) -> FluentBundle:
        """The messages of this language, ready to be filled in; no marks of writing direction."""
        from fluent.runtime import FluentBundle

        made = FluentBundle([self.locale], use_isolating=False)
        for resource in resources(self.code).values():
            made.add_resource(resource)
        return made

    def say(self, key: str, /, **values: Value) -> str:
        """The message of a key with its values put in.

        Raises
        ------
        LookupError
            Where the catalogue has no such key, or the message wants a value that is not given.

        Examples
        --------
        >>> language("de").say("moves", count=2, numbers="3 und 4")
        'Handgriffe 3 und 4'
        """
        pattern = self.bundle.get_message(key).value if self.bundle.has_message(key) else None
        if pattern is None:
            raise LookupError(f"language {self.code}: no message '{key}'")
        late = {name: value for name, value in values.items() if isinstance(value, str) and value[LONGEST:]}
        ready = {name: self.ready(value) for name, value in values.items()}
        ready |= {name: f"\ue000{number}\ue001" for number, name in enumerate(late)}
        text, faults = self.bundle.format_pattern(pattern, ready)
        if faults:
            raise LookupError(f"language {self.code}, message '{key}': {faults[0]}")
        said = str(text)
        for number, value in enumerate(late.values()):
            said = said.replace(f"\ue000{number}\ue001", value)
        return said

    def has(self, key: str) -> bool:
        """Whether there is a message of this key."""
        return self.bundle.has_message(key)

    def ready(self, value: Value) -> Any:
        """A value as the reader of catalogues takes it: whole numbers without grouping."""
        from fluent.runtime.types import fluent_number

        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, int):
            return fluent_number(value, useGrouping=False)
        return self.figure(value) if isinstance(value, float) else value

    @cached_property
    def point(self) -> str:
        """The decimal mark."""
        from babel.numbers import get_decimal_symbol

        return get_decimal_symbol(self.locale)

    def fixed(self, value: float, places: int) -> str:
        """A figure with so many decimals.

        >>> language("de").fixed(12.5, 2), language().fixed(12.5, 2)
        ('12,50', '12.50')
        """
        return f"{value:.{places}f}".replace(".", self.point)

    def figure(self, value: float) -> str:
        """A figure without needless decimals, six digits at most.

        >>> language().figure(2.0), language().figure(0.45), language("de").figure(4.5)
        ('2', '0.45', '4,5')
        """
        text = f"{value:g}"
        return (f"{Decimal(text):f}" if "e" in text else text).replace(".", self.point)

    def percent(self, share: float) -> str:
        """A share in per cent, three digits.

        >>> language().percent(0.03), language("de").percent(0.125)
        ('3 %', '12,5 %')
        """
        return self.say("percent", figure=f"{share * 100:.3g}".replace(".", self.point))

    def minutes(self, seconds: float) -> str:
        """Minutes without their unit, one decimal below ten.

        >>> language().minutes(95.0), language("de").minutes(95.0), language().minutes(1500.0)
        ('1.6', '1,6', '25')
        """
        value = seconds / 60
        return self.fixed(value, 1 if value < 10 else 0)

    def time(self, seconds: float | None) -> str:
        """A time as it is read at a bench.

        >>> language().time(8.0), language().time(95.0), language().time(3600.0), language("de").time(None)
        ('8 s', '1 min 35 s', '60 min', 'Zeit unbekannt')
        """
        if seconds is None:
            return self.say("time-unknown")
        whole_minutes, rest = divmod(round(seconds), 60)
        if not whole_minutes:
            return self.say("time-seconds", seconds=rest)
        if not rest:
            return self.say("time-minutes", minutes=whole_minutes)
        return self.say("time-minutes-seconds", minutes=whole_minutes, seconds=rest)

    def listed(self, names: Iterable[Any], last: Literal["and", "or"] = "and") -> str:
        """Names as a phrase.

        >>> language().listed(("frame", "cover", "plate")), language("de").listed(("A", "B"), "or")
        ('frame, cover and plate', 'A oder B')
        """
        from babel.lists import format_list

        return format_list(
            [str(name) for name in names], style="standard" if last == "and" else "or", locale=self.locale
        )

    def moves(self, numbers: Sequence[int]) -> str:
        """Numbers of moves in words, neighbours drawn together.

        >>> language().moves((3, 4, 5, 9)), language().moves((2,)), language("de").moves((1, 2))
        ('moves 3 to 5 and 9', 'move 2', 'Handgriffe 1 und 2')
        >>> language().moves(())
        ''
        """
        if not numbers:
            return ""
        runs: list[list[int]] = []
        for number in numbers:
            if runs and number == runs[-1][-1] + 1:
                runs[-1].append(number)
            else:
                runs.append([number])
        told = [
            piece
            for run in runs
            for piece in (
                [self.say("from-to", first=run[0], last=run[-1])] if len(run) > 2 else map(str, run)
            )
        ]
        return self.say("moves", count=len(numbers), numbers=self.listed(told))

    def in_sentence(self, name: str) -> str:
        """A name as it stands within a sentence: English makes it small, German keeps its capital.

        >>> language().in_sentence("Main board"), language("de").in_sentence("Main board")
        ('main board', 'Main board')
        """
        from midframe.ways.wording import in_sentence

        return in_sentence(name) if self.code == FIRST else name

    def term(self, text: str) -> str | None:
        """A word of the common vocabulary in this language; `None` for one that no catalogue knows.

        The vocabulary is that of `terms.ftl`: tools, operations, drives, and what results say in fixed
        words. Sizes stay; a driver follows its drive.

        >>> language("de").term("hexalobular 4"), language("de").term("Spudger"), language("de").term("xyz")
        ('Innensechsrund 4', 'Kunststoffheber', None)
        """
        key = vocabulary().get(text.casefold().strip())
        if key is not None:
            return text if self.code == FIRST else self.say(key)
        if text.endswith(" driver") and (drive := self.term(text.removesuffix(" driver"))):
            return self.say("driver-for", drive=drive)
        sized = SIZED.fullmatch(text)
        if sized and (thing := self.term(sized["thing"])):
            return f"{thing} {sized['size']}"
        return None


@cache
def vocabulary() -> Mapping[str, str]:
    """The words of the common vocabulary as records write them, each with its key."""
    keys = messages(resources(FIRST)["terms"])
    return MappingProxyType({language().say(key).casefold(): key for key in keys})
