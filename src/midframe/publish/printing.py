"""HTML to PDF by the browser of the system, without a window and without the network."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path
from tempfile import TemporaryDirectory

from midframe.faults import BadSetting

BROWSERS = ("chromium", "chromium-browser")
"""Names under which the browser is looked for on the path."""

PATIENCE_SECONDS = 120
"""A print that takes longer is given up."""


def browser() -> str | None:
    """The program that prints, if there is one: what MIDFRAME_BROWSER names, else Chromium on the path."""
    asked = os.environ.get("MIDFRAME_BROWSER")
    return next((path for name in ([asked] if asked else BROWSERS) if (path := shutil.which(name))), None)


def print_pdf(html: str) -> bytes:
    """A page as PDF, on the paper and with the margins of its own `@page` rule.

    Raises `BadSetting` where there is no browser or it prints nothing; the message says how to print by hand.
    """
    program = browser()
    if program is None:
        raise BadSetting(
            "print: found no Chromium on the path; right: install it, set MIDFRAME_BROWSER to its program, "
            "or write the page as HTML and print it at 100 % without margins"
        )
    with TemporaryDirectory(prefix="midframe-print-") as folder:
        page, made = Path(folder, "page.html"), Path(folder, "page.pdf")
        page.write_text(html, encoding="utf-8")
        call = [program, "--headless", "--disable-gpu", "--no-pdf-header-footer"]
        call += ["--disable-background-networking", "--disable-component-update", "--disable-sync"]
        call += ["--no-sandbox"] if os.geteuid() == 0 else []
        call += [f"--user-data-dir={folder}/profile", f"--print-to-pdf={made}", page.as_uri()]
        try:
            done = subprocess.run(  # noqa: S603 - our own arguments, no shell
                call, capture_output=True, text=True, check=False, timeout=PATIENCE_SECONDS
            )
        except subprocess.TimeoutExpired:
            raise BadSetting(f"print: {program} gave nothing in {PATIENCE_SECONDS} s") from None
        if not made.exists():
            raise BadSetting(f"print: {program} printed nothing: {done.stderr.strip()[-300:]}")
        return made.read_bytes()
