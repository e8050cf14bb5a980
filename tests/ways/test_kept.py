"""Kept states answer as a plain comparison with all of them does."""

from __future__ import annotations

from random import Random

import pytest

from midframe.ways.kept import RECENT, Kept


def shift(posture, wanted):
    return 0 if posture == wanted else 3 + abs(posture - wanted)


def plainly(states, done, posture, form, since):
    """Whether any state kept after `since` has all facts of `done` and costs no more, its shift included."""
    return any(
        facts & done == done and value + shift(other, posture) <= form
        for value, other, facts in states[since + 1 :]
    )


@pytest.mark.parametrize("width", [1, 7, 1000])
@pytest.mark.parametrize("number", range(5))
def test_columns_and_plain_comparison_agree(number, width):
    random = Random(number)
    kept, states, answers = Kept(shift, width), [], set()
    for _ in range(8 * RECENT):
        done, posture, form = random.getrandbits(6), random.randrange(3), random.randrange(40)
        since = random.choice([-1, len(states) // 2, len(states) - 1])
        expected = plainly(states, done, posture, form, since)
        assert kept.beaten(done, posture, form, since) == expected
        answers.add(expected)
        assert kept.add(done, posture, form) == len(states)
        states.append((form, posture, done))
    assert answers == {True, False}
