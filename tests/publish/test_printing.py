from __future__ import annotations

import pytest

from midframe.faults import BadSetting
from midframe.publish.printing import browser, print_pdf


def test_without_a_browser_the_message_says_how_to_print(monkeypatch):
    monkeypatch.setenv("MIDFRAME_BROWSER", "no-such-program")
    assert browser() is None
    with pytest.raises(BadSetting, match="print it at 100 %"):
        print_pdf("<p>page</p>")


def test_a_program_that_prints_nothing_is_told(monkeypatch):
    monkeypatch.setenv("MIDFRAME_BROWSER", "true")
    with pytest.raises(BadSetting, match="printed nothing"):
        print_pdf("<p>page</p>")


@pytest.mark.browser
def test_the_page_rule_sets_the_paper():
    made = print_pdf("<!doctype html><style>@page{size:100mm 50mm;margin:0}</style><p>page</p>")
    assert made.startswith(b"%PDF")
