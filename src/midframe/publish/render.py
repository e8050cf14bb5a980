"""A work instruction as one self-contained page, and as Markdown."""

from __future__ import annotations

import re
from functools import cache
from importlib.resources import files
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from midframe.faults import BadSetting
from midframe.publish.cautions import CAUTIONS
from midframe.publish.contents import Instruction, Renewed
from midframe.publish.icons import legend_icon
from midframe.publish.svg import legible, style
from midframe.ways.wording import in_sentence

PAPERS = ("A4", "letter")
"""Paper sizes of the print style sheet."""

UNIT_APART = re.compile(r"(?<=\d) (?=(?:°C|%|mm|s|min|h|g|N·m|Nm|V|W)(?!\w))")
"""The space between a number and its unit."""


def to_html(instruction: Instruction, paper: str = "A4") -> str:
    """The instruction as one HTML file: styles and drawings inside, no script, nothing fetched.

    `paper` is "A4" or "letter"; anything else raises `BadSetting`.
    """
    known_paper(paper)
    template = environment(markup=True).get_template("instruction.html")
    return template.render(
        sheet=instruction,
        cautions=CAUTIONS,
        style=Markup(sheet_style(instruction, paper)),  # noqa: S704 - our own style sheet
        legend={kind: Markup(legend_icon(kind)) for kind in instruction.marks},  # noqa: S704 - our own drawing
    )


def sheet_style(instruction: Instruction, paper: str = "A4") -> str:
    """The style sheet of one instruction: page, print with running heads, drawings; raises `BadSetting`."""
    known_paper(paper)
    sheet = files("midframe.publish").joinpath("templates", "instruction.css").read_text(encoding="utf-8")
    heads = environment(markup=True).get_template("running.css").render(sheet=instruction)
    return sheet.replace("PAPER", paper) + style() + heads


def known_paper(paper: str) -> None:
    """Raises `BadSetting` for a paper that the print style does not know."""
    if paper not in PAPERS:
        raise BadSetting(f"paper: found '{paper}'; it may be {listed(PAPERS, 'or')}")


def to_markdown(instruction: Instruction) -> str:
    """The instruction as Markdown, without the drawings."""
    text = (
        environment(markup=False).get_template("instruction.md").render(sheet=instruction, cautions=CAUTIONS)
    )
    return re.sub(r"\n{3,}", "\n\n", text).strip() + "\n"


@cache
def environment(*, markup: bool) -> Environment:
    """Templates of this package; unknown names are errors, every value is escaped."""
    made = Environment(
        loader=PackageLoader("midframe.publish"),
        autoescape=markup,  # noqa: S701 - off for Markdown only, where `plain_value` escapes
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=legible_value if markup else plain_value,
    )
    made.filters.update(
        time=time,
        minutes=minutes,
        figure=figure,
        listed=listed,
        drawing=drawing,
        percent=percent,
        css=css,
        counted=counted,
        moves=moves,
        amount=amount,
        in_sentence=in_sentence,
    )
    return made


def legible_value(value: Any) -> Any:
    """A value for a page: text without control characters, numbers on one line with their units."""
    return UNIT_APART.sub("\N{NO-BREAK SPACE}", legible(value)) if type(value) is str else value


def plain_value(value: Any) -> Any:
    """A value for Markdown: markup is escaped, line ends and control characters become spaces."""
    if not isinstance(value, str):
        return value
    return re.sub(r"([\\`*_\[\]<>|#])", r"\\\1", " ".join(legible(value).split()))


def drawing(svg: str) -> Markup:
    """A drawing of this package, whose texts are escaped already."""
    return Markup(svg)  # noqa: S704 - made by `svg.py`, which escapes


def css(text: str) -> Markup:
    r"""A text inside a CSS string: everything but letters and digits becomes a code point.

    >>> css('</style>')
    Markup('\\3c \\2f style\\3e ')
    """
    return Markup("".join(c if c.isalnum() else f"\\{ord(c):x} " for c in legible(text)))  # noqa: S704 - escaped


def time(seconds: float | None) -> str:
    """A time as it is read at a bench.

    >>> time(8.0), time(95.0), time(3600.0), time(None)
    ('8 s', '1 min 35 s', '60 min', 'time unknown')
    """
    if seconds is None:
        return "time unknown"
    whole = round(seconds)
    if whole < 60:
        return f"{whole} s"
    return f"{whole // 60} min" + (f" {whole % 60} s" if whole % 60 else "")


def minutes(seconds: float) -> str:
    """Minutes, one decimal below ten.

    >>> minutes(95.0), minutes(1500.0)
    ('1.6', '25')
    """
    value = seconds / 60
    return f"{value:.1f}" if value < 10 else f"{value:.0f}"


def figure(value: float) -> str:
    """A figure without needless decimals.

    >>> figure(2.0), figure(0.45), figure(4.5)
    ('2', '0.45', '4.5')
    """
    return f"{value:g}"


def amount(item: Renewed) -> str:
    """How much of something is renewed, with its unit unless it is a piece.

    >>> amount(Renewed("Pad", "Board", 220.0, "mm2")), amount(Renewed("Tape", "Plate", 1.0, "piece"))
    ('220 mm²', '1')
    """
    if item.amount is None:
        return "–"
    unit = "" if item.unit == "piece" else re.sub(r"(?<=m)2$", "²", re.sub(r"(?<=m)3$", "³", item.unit))
    return f"{figure(item.amount)} {unit}".strip()


def percent(share: float) -> str:
    """A chance in per cent.

    >>> percent(0.03)
    '3 %'
    """
    return f"{share * 100:.3g} %"


def listed(names: tuple[Any, ...], last: str = "and") -> str:
    """Names as a phrase.

    >>> listed(("frame", "cover", "plate"))
    'frame, cover and plate'
    """
    *most, end = [str(name) for name in names] or [""]
    return f"{', '.join(most)} {last} {end}" if most else end


def counted(number: int, thing: str) -> str:
    """A number with its thing.

    >>> counted(1, "move"), counted(0, "screw")
    ('1 move', '0 screws')
    """
    return f"{number} {thing}" + ("" if number == 1 else "s")


def moves(numbers: tuple[int, ...]) -> str:
    """Numbers of moves in words, neighbours drawn together.

    >>> moves((3, 4, 5, 9)), moves((2,)), moves((1, 2)), moves(())
    ('moves 3 to 5 and 9', 'move 2', 'moves 1 and 2', '')
    """
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    told = [
        piece for run in runs for piece in ([f"{run[0]} to {run[-1]}"] if len(run) > 2 else map(str, run))
    ]
    return ("move " if len(numbers) == 1 else "moves ") + listed(tuple(told)) if numbers else ""
