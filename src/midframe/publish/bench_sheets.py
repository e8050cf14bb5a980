"""The way back and the pause sheet as pages to print: self-contained, no script, nothing fetched."""

from __future__ import annotations

import re
from collections.abc import Mapping
from importlib.resources import files
from typing import Any

from markupsafe import Markup

from midframe.publish.blocks import plain
from midframe.publish.cautions import CAUTIONS, cautions
from midframe.publish.language import FIRST, language
from midframe.publish.paper import qr_path
from midframe.publish.pause import Pause
from midframe.publish.progress import Progress, key_of
from midframe.publish.refit import Refit, RefitLine
from midframe.publish.render import known_paper
from midframe.publish.screw_pages import body_words, kind_words
from midframe.publish.site_refit import action, beside
from midframe.publish.templating import css, environment
from midframe.record import Record
from midframe.screws import tally
from midframe.sources import cited


def refit_html(
    record: Record, back: Refit, *, told: Progress | None = None, paper: str = "A4", code: str = FIRST
) -> str:
    """The way back as one HTML page with boxes to tick; those of `told` are ticked already.

    `paper` is "A4" or "letter", `code` one of the languages; anything else raises `BadSetting`.
    """
    said, names = language(code), {part.id: part.name for part in record.parts}
    steps = {step.key: step for step in told.steps} if told is not None else {}
    done = {key for key, step in steps.items() if step.done}
    letters = {key: {hole.number: hole.letter for hole in step.holes} for key, step in steps.items()}
    lines = [
        (
            line,
            action(line, said),
            [plain(text) for text in beside(line, names, said)],
            key_of(line) in done,
            hole_row(line, letters.get(key_of(line), {})),
        )
        for line in back.lines
    ]
    keys = [key for key in CAUTIONS if key == "local" or any(key in line.cautions for line in back.lines)]
    sources = {one.key: one for one in (*back.sources, *cited({k for key in keys for k in CAUTIONS[key]}))}
    return filled(
        "refit_sheet.html",
        said.say("bench-refit", device=back.device),
        paper,
        code,
        back=back,
        lines=lines,
        cautions=[cautions(code)[key] for key in keys],
        sources=[str(one) for one in sources.values()],
    )


def hole_row(line: RefitLine, held: Mapping[int, str]) -> list[tuple[int, str]]:
    """The holes of a move with the letter of the screw in each, for a row of boxes."""
    count = line.screws.group.count if line.screws else 0
    return [(number, held.get(number, "")) for number in range(1, count + 1)]


def pause_html(
    record: Record,
    sheet: Pause,
    *,
    put_away: str = "",
    link: str = "",
    paper: str = "A4",
    code: str = FIRST,
) -> str:
    """The pause sheet as one HTML page, with labels of the trays to cut.

    `put_away` says when and by whom, as it is printed; `link` is on the labels as a QR code.
    `paper` is "A4" or "letter", `code` one of the languages; anything else raises `BadSetting`.
    """
    return filled(
        "pause_sheet.html",
        language(code).say("bench-put-away", device=sheet.device),
        paper,
        code,
        put_away=put_away,
        code_of_link=coded(link),
        invented=record.device.invented,
        **lists(record, sheet, code),
    )


def coded(link: str) -> Markup:
    """A link as a QR code; nothing without one."""
    if not link:
        return Markup("")
    drawn = f'<svg viewBox="0 0 20 20" role="img" aria-label="QR">{qr_path(link, 0.5, 0.5, 19.0)}</svg>'
    return Markup(drawn)  # noqa: S704 - modules of the code alone, no text


def lists(record: Record, sheet: Pause, code: str) -> dict[str, Any]:
    """What both forms of a pause sheet list: trays with their screws in words, kinds, names of parts."""
    return {
        "sheet": sheet,
        "rows": [(one, ", ".join(f"{n} × {letter}" for letter, n in one.screws)) for one in sheet.resting],
        "names": {part.id: part.name for part in record.parts},
        "kinds": kinds_in(record, sheet, code),
    }


def kinds_in(record: Record, sheet: Pause, code: str) -> list[str]:
    """The kinds of screws that lie in the trays, in words."""
    lying = {letter for one in sheet.resting for letter, _ in one.screws}
    spoken = language(code)
    lain = (one for one in tally(record).kinds if one.letter in lying)
    return [f"{one.letter} ({body_words(one.kind, spoken) or kind_words(one.kind, spoken)})" for one in lain]


def pause_markdown(record: Record, sheet: Pause, code: str = FIRST) -> str:
    """The pause sheet as Markdown."""
    made = environment(markup=False, code=code).get_template("pause_sheet.md")
    return re.sub(r"\n{3,}", "\n\n", made.render(**lists(record, sheet, code))).strip() + "\n"


def filled(template: str, running: str, paper: str, code: str, **context: object) -> str:
    """A template of a bench sheet with its style; raises `BadSetting` for an unknown paper."""
    known_paper(paper)
    sheet = files("midframe.publish").joinpath("templates", "bench_sheet.css").read_text(encoding="utf-8")
    style = sheet.replace("PAPER", paper).replace("RUNNING", css(running))
    made = environment(markup=True, code=code).get_template(template)
    return made.render(style=Markup(style), code=code, **context)  # noqa: S704 - our own style sheet
