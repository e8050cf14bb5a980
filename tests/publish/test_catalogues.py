"""The catalogues of all languages: complete, used, clean; no word of a template outside them."""

from __future__ import annotations

import re

import pytest
from babel import Locale
from hypothesis import given, settings
from hypothesis import strategies as st
from jinja2 import nodes

from midframe.demo import load, names
from midframe.publish.cautions import cautions
from midframe.publish.instruction import RESTS_ON
from midframe.publish.language import language, languages, resources
from midframe.ways.bench import CONSUMABLES, Bench
from midframe.ways.readings import Readings
from publish.catalogues import (
    begun_in_code,
    chosen_in_code,
    read,
    said_in_code,
    said_in_templates,
    selectors,
    templates,
    variables,
)

OTHERS = [code for code in languages() if code != "en"]
CITED = re.compile(r"\[[a-z0-9-]+, [^\]]+\]")


@pytest.mark.parametrize("code", OTHERS)
def test_every_language_has_the_same_keys_in_the_same_files(code):
    there = {key: file for key, (file, _) in read("en").items()}
    assert {key: file for key, (file, _) in read(code).items()} == there


@pytest.mark.parametrize("code", OTHERS)
def test_every_message_takes_the_same_values_in_every_language(code):
    wrong = {key for key in read("en") if variables("en", key) != variables(code, key)}
    assert wrong == set()


@pytest.mark.parametrize("code", languages())
def test_no_key_stands_twice_and_every_line_of_a_catalogue_is_read(code):
    from fluent.syntax import ast

    keys = []
    for name, resource in resources(code).items():
        kinds = {type(entry) for entry in resource.body}
        assert kinds <= {ast.Message, ast.Comment, ast.GroupComment, ast.ResourceComment}, name
        keys += [entry.id.name for entry in resource.body if isinstance(entry, ast.Message)]
    assert sorted(keys) == sorted(set(keys))


def test_every_key_that_is_said_is_there_with_just_the_values_it_takes():
    wrong = [
        (where, key, given)
        for where, key, given in (*said_in_templates(), *said_in_code())
        if key not in read("en") or (None not in given and variables("en", key) != given)
    ]
    assert wrong == []


def test_every_key_is_used():
    used = {key for _, key, _ in (*said_in_templates(), *said_in_code())}
    used |= {key for key, (file, _) in read("en").items() if file in ("terms", "results")}
    used |= set(chosen_in_code())
    used |= {key for start in begun_in_code() for key in read("en") if key.startswith(start)}
    used |= {inner for _, reader in read("en").values() for inner in reader.inner}
    assert sorted(read("en").keys() - used) == []


@pytest.mark.parametrize("code", languages())
def test_messages_hold_words_only(code):
    for key, (_, reader) in read(code).items():
        for text in reader.texts:
            assert not re.search(r"[<>&\"\\!]|[^\S\n]{2}", text), (key, text)


def test_german_addresses_nobody():
    for key, (_, reader) in read("de").items():
        assert not re.search(r"\b(Sie|Ihr|Ihre|Ihren|bitte|du|dein)\b", " ".join(reader.texts)), key


@pytest.mark.parametrize("code", languages())
def test_a_message_that_counts_has_every_plural_form_of_its_language(code):
    needed = {*Locale.parse(language(code).locale).plural_form.tags, "other"}
    counting = {key for key, (_, reader) in read("en").items() if any("one" in one for one in reader.forms)}
    assert len(counting) > 10
    for key in counting:
        assert any(needed <= forms for forms in read(code)[key][1].forms), key


NUMBERS = st.integers(0, 3_000) | st.floats(0.001, 5_000)
TEXTS = st.text(st.characters(blacklist_characters="{}", blacklist_categories=("Cs", "Co")))


@given(st.just(1) | NUMBERS, TEXTS)
@settings(max_examples=30, deadline=None)
@pytest.mark.parametrize("code", languages())
def test_whatever_is_put_in_no_message_says_a_brace_or_its_key(code, number, text):
    for key in read(code):
        for value in (number, text):
            said = language(code).say(key, **dict.fromkeys(variables(code, key), value))
            assert not re.search(r"[{}]|\$[a-z]", said.replace(text, "")), key
            assert said != key or key == text
        if variables(code, key) and not selectors(code, key):
            assert text in said


@pytest.mark.parametrize("code", languages())
def test_a_missing_key_or_value_is_a_fault_and_never_printed(code):
    with pytest.raises(LookupError, match="no message 'no-such-key'"):
        language(code).say("no-such-key")
    for key in read(code):
        if not read(code)[key][1].forms and variables(code, key):
            with pytest.raises(LookupError, match=key):
                language(code).say(key)


@pytest.mark.parametrize("code", languages())
def test_a_caution_cites_the_same_places_in_every_language(code):
    for key, caution in cautions(code).items():
        assert len(caution.lines) == len(cautions()[key].lines)
        for line, english in zip(caution.lines, cautions()[key].lines, strict=True):
            assert CITED.findall(line) == CITED.findall(english)
            assert numbers(line) == numbers(english)


def numbers(text):
    """The figures of a sentence, whatever its decimal mark."""
    return sorted(found.replace(",", ".") for found in re.findall(r"\d+(?:[.,]\d+)?", text))


def test_no_word_of_a_template_stands_outside_the_catalogues():
    """Text between tags, and what readers hear or see of attributes; strings in expressions too."""
    wrong = []
    for name, parsed in templates():
        text = "".join(
            node.data if isinstance(node, nodes.TemplateData) else "\0"
            for output in parsed.find_all(nodes.Output)
            for node in output.nodes
        )
        if name.endswith(".css"):
            seen = re.findall(r'content:"([^"]*)"', text)
        else:
            seen = re.findall(r'(?:aria-label|alt|title|placeholder)="([^"]*)"', text)
            seen.append(re.sub(r"<(style|script)\b.*?</\1>|<[^>]*>|\s+", " ", text, flags=re.DOTALL))
        seen += [
            constant.value
            for output in parsed.find_all(nodes.Output)
            for node in output.nodes
            for constant in shown_constants(node)
        ]
        wrong += [(name, word) for part in seen for word in re.findall(r"[^\W\d_]{2,}", part)]
    assert wrong == []


def shown_constants(node):
    """Strings that an expression prints as they stand."""
    if isinstance(node, nodes.Const) and isinstance(node.value, str):
        return [node]
    if isinstance(node, nodes.CondExpr):
        return [*shown_constants(node.expr1), *(shown_constants(node.expr2) if node.expr2 else [])]
    if isinstance(node, nodes.Concat | nodes.Or):
        return [one for inner in node.iter_child_nodes() for one in shown_constants(inner)]
    return []


def test_a_word_outside_the_catalogues_would_be_seen():
    from publish.catalogues import environment

    (output,) = (
        environment(markup=True).parse('<p>{{ "Hello" if x else y ~ "there" }}</p>').find_all(nodes.Output)
    )
    assert [one.value for node in output.nodes for one in shown_constants(node)] == ["Hello", "there"]


@pytest.mark.parametrize("code", OTHERS)
def test_the_fixed_words_of_results_are_known_in_every_language(code):
    from midframe.ways.readings import Readings as All

    other = All(unplugging=True, swaps="strict", first_tool=True, bare_hand=True, bit_size=False, tail=False)
    fixed = [*Readings().described(), *other.described(), *RESTS_ON, *RESTS_ON.values()]
    fixed += ["with the battery unplugged first", "but for the battery plug opened early"]
    fixed += ["ruined on the way in"]
    assert [text for text in fixed if language(code).term(text) is None] == []


@pytest.mark.parametrize("code", OTHERS)
def test_tools_operations_and_drives_of_the_demo_devices_and_the_defaults_are_known(code):
    unknown = {word for word in vocabulary() if language(code).term(word) is None}
    assert unknown == set()


def vocabulary():
    """Every word of the common vocabulary that a demo device or the bench's defaults use."""
    yield from CONSUMABLES
    for name in names():
        record = load(name)
        lifts = [Bench().lift_operation(part) for part in record.parts]
        works = [step for joint in record.joints for work in Bench().operations(joint) for step in work]
        for step in (*lifts, *works):
            yield step.do
            yield from step.tools
        for joint in record.joints:
            yield from filter(None, (joint.drive, joint.head))
