"""A work instruction as one self-contained page, and as Markdown."""

from __future__ import annotations

import re
from importlib.resources import files
from typing import Any

from markupsafe import Markup

from midframe.faults import BadSetting
from midframe.publish.cautions import cautions
from midframe.publish.contents import Instruction
from midframe.publish.icons import legend_icon
from midframe.publish.svg import style
from midframe.publish.templating import environment

PAPERS = ("A4", "letter")
"""Paper sizes of the print style sheet."""


def to_html(instruction: Instruction, paper: str = "A4") -> str:
    """The instruction as one HTML file: styles and drawings inside, no script, nothing fetched.

    `paper` is "A4" or "letter"; anything else raises `BadSetting`.
    """
    return filled("instruction.html", instruction, paper)


def filled(template: str, instruction: Instruction, paper: str = "A4", **more: Any) -> str:
    """A template of this package that tells an instruction, in its language; `more` is all else it asks."""
    known_paper(paper)
    return (
        environment(markup=True, code=instruction.language)
        .get_template(template)
        .render(
            sheet=instruction,
            cautions=cautions(instruction.language),
            style=Markup(sheet_style(instruction, paper)),  # noqa: S704 - our own style sheet
            legend={kind: Markup(legend_icon(kind)) for kind in instruction.marks},  # noqa: S704 - our drawing
            **more,
        )
    )


def sheet_style(instruction: Instruction, paper: str = "A4") -> str:
    """The style sheet of one instruction: page, print with running heads, drawings; raises `BadSetting`."""
    known_paper(paper)
    sheet = files("midframe.publish").joinpath("templates", "instruction.css").read_text(encoding="utf-8")
    said = environment(markup=True, code=instruction.language)
    heads = said.get_template("running.css").render(sheet=instruction)
    return sheet.replace("PAPER", paper) + style() + heads


def known_paper(paper: str) -> None:
    """Raises `BadSetting` for a paper that the print style does not know."""
    if paper not in PAPERS:
        raise BadSetting(f"paper: found '{paper}'; it may be {' or '.join(PAPERS)}")


def to_markdown(instruction: Instruction) -> str:
    """The instruction as Markdown, without the drawings."""
    template = environment(markup=False, code=instruction.language).get_template("instruction.md")
    text = template.render(sheet=instruction, cautions=cautions(instruction.language))
    return re.sub(r"\n{3,}", "\n\n", text).strip() + "\n"
