"""Published pages in another language than the record: nothing of our own is left in English unmarked."""

from __future__ import annotations

import re

import pytest

from midframe.demo import load
from midframe.publish.language import language, languages
from midframe.publish.site import site
from midframe.publish.site_contents import SiteSettings
from publish.test_other_languages import nameless, tree_of

OTHERS = [code for code in languages() if code != "en"]
ALIKE = re.compile(
    r"[\d\W]*(Name Name[\d\W]*)+[A-Z]?|[0-9a-f]{12,}.*|[\d.,]+ min|.*\d s|.*EUR|.*midframe.*|Markdown"
    r"|[a-z]+\.(vtt|txt)|\[[a-z0-9-]+\] .*"
)
"""What is written alike in all languages: names here, digests, times, prices, sources."""


def seen(node, marked=False):
    """Every text with words that is seen or read out, without those that carry a language of their own."""
    if not isinstance(node.tag, str) or node.tag.endswith(("style", "script")):
        return
    marked = node.get("lang") == "en" or (marked and node.get("lang") is None)
    texts = [node.text, node.get("aria-label"), node.get("alt")]
    yield from (text for text in texts if text and not marked)
    for child in node:
        yield from seen(child, marked)
        if child.tail and not marked:
            yield child.tail


def words_of(page):
    """The texts of a page that hold a word."""
    found = {" ".join(text.split()) for text in seen(tree_of(page))}
    return {text for text in found if re.search(r"[^\W\d_]{3,}", text) and not ALIKE.fullmatch(text)}


@pytest.mark.parametrize("code", OTHERS)
def test_no_text_of_a_page_is_the_same_in_english_unless_it_is_marked(code):
    record = nameless(load("tern-2"))
    english = site(record, SiteSettings(parts="priority"))
    other = site(record, SiteSettings(parts="priority", language=code))
    assert english.keys() == other.keys()
    for name in [name for name in english if name.endswith(".html")]:
        texts = words_of(english[name].decode().replace('lang="en"', 'lang="x"', 1))
        assert texts, name
        assert texts & words_of(other[name].decode()) == set(), name


@pytest.mark.parametrize(("code", "told"), [("en", "12 screws of 1 kind"), ("de", "12 Schrauben, 1 Sorte")])
def test_one_kind_of_screw_is_told_in_the_singular(code, told):
    spoken = language(code)
    assert spoken.say("site-of-screws", screws=12, kinds=1) == told
    assert spoken.say("site-tally", screws=12, kinds=1, groups=1).startswith(f"{told}, in 1 ")
    assert spoken.say("site-of-screws", screws=12, kinds=2) != told
