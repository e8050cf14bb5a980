from __future__ import annotations

import pytest

from midframe.faults import LogFault
from midframe.narration import vocabulary_with


@pytest.mark.parametrize(
    ("text", "where", "right"),
    [
        ("[verbs]\nlift = ['heben']", "[verbs]", "verb"),
        ("[verb]\nraise = ['heben']", "verb.raise", "lift"),
        ("[number]\nneun = ['neun']", "number.neun", "12 or 0.5"),
        ("[part]\nBattery = 'akku'", "part.Battery", '"Battery" = ["cell"]'),
        ("[part\n", "own.toml", "docs/draft.md"),
    ],
)
def test_a_file_of_words_that_cannot_be_meant_is_told_with_its_place(text, where, right):
    with pytest.raises(LogFault) as caught:
        vocabulary_with((text, "own.toml"))
    assert where in str(caught.value)
    assert right in str(caught.value)


def test_own_words_come_beside_the_others():
    words = vocabulary_with(("[part]\nBattery = ['akku']", "own.toml"))
    assert words.phrases["akku",]["part"] == words.phrases["battery",]["part"] == "Battery"
