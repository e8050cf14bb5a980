from __future__ import annotations

from pathlib import Path

import pytest

from cli.small import data, run
from midframe.publish.printing import browser


def test_the_text_is_printed_as_markdown_where_no_file_is_named(small):
    result = run("instruct", small, "battery")
    assert result.exit_code == 0
    assert result.output.startswith("# Battery of Wren")


def test_the_name_of_the_file_says_the_format(small):
    run("instruct", small, "battery", "-o", "out.html")
    run("instruct", small, "battery", "-o", "out.md")
    assert Path("out.html").read_text(encoding="utf-8").lower().startswith("<!doctype html>")
    assert Path("out.md").read_text(encoding="utf-8").startswith("# Battery")


def test_a_file_that_is_there_is_not_replaced_unless_asked(small):
    before = Path(small).read_text(encoding="utf-8")
    result = run("instruct", small, "battery", "-o", small, "--format", "markdown")
    assert result.exit_code == 1
    assert "found a file of this name" in result.stderr
    assert Path(small).read_text(encoding="utf-8") == before
    run("instruct", small, "battery", "-o", "out.md")
    assert run("instruct", small, "battery", "-o", "out.md", "--force").exit_code == 0


def test_a_name_that_says_no_format_is_refused_unless_the_format_is_said(small):
    result = run("instruct", small, "battery", "-o", "out.txt")
    assert result.exit_code == 1
    assert result.stderr == (
        "--output: found 'out.txt'; right: a name that ends in .html, .md or .pdf, or --format\n"
    )
    assert not Path("out.txt").exists()
    assert run("instruct", small, "battery", "-o", "out.txt", "--format", "markdown").exit_code == 0
    assert Path("out.txt").read_text(encoding="utf-8").startswith("# Battery")
    assert "found pdf without a file" in run("instruct", small, "battery", "--format", "pdf").stderr


@pytest.mark.skipif(browser() is None, reason="no browser to print with")
def test_a_name_that_ends_in_pdf_is_printed(small):
    result = run("instruct", small, "battery", "-o", "out.pdf")
    assert result.exit_code == 0, result.stderr
    assert Path("out.pdf").read_bytes().startswith(b"%PDF-")


def test_a_folder_that_is_not_there_is_told(small):
    result = run("instruct", small, "battery", "-o", "none/out.html")
    assert result.exit_code == 1
    assert "none/out.html" in result.stderr


def test_what_the_toolbox_lacks_is_in_the_instruction(small, toolbox):
    found = data("instruct", small, "battery", "--toolbox", toolbox)
    assert found["missing_tools"] == ["prying lever"]


def test_json_names_the_file_that_was_written(small):
    found = data("instruct", small, "battery", "-o", "out.html")
    assert (found["file"], found["file_format"]) == ("out.html", "html")
    assert data("instruct", small, "battery")["file"] is None


def test_the_body_has_no_instruction(small):
    result = run("instruct", small, "frame")
    assert result.exit_code == 1
    assert "is the body" in result.stderr


def test_the_language_of_the_text_can_be_chosen(small):
    result = run("instruct", small, "battery", "--language", "de")
    assert result.output.startswith("# Battery – Wren")
    assert "## Zusammenbau" in result.output
    wrong = run("instruct", small, "battery", "--language", "xx")
    assert wrong.exit_code != 0
    assert "found 'xx'; it may be en or de" in wrong.stderr
