from __future__ import annotations

from random import Random

import pytest

from midframe.demo import load, names
from midframe.publish.log_moves import log_moves, made_fit
from midframe.publish.refit import moves_of_log, refit
from midframe.record.model import Move
from midframe.ways.rules import Rules
from publish.test_refit import walked
from ways.generators import small

TERN = load("tern-3")
FEW = moves_of_log(TERN, 10)


@pytest.mark.parametrize("name", names())
def test_a_log_that_the_record_allows_stays_as_it_is(name):
    record = load(name)
    found = log_moves(record)
    assert (found.moves, found.put_in, found.left_out) == (moves_of_log(record), (), ())


def test_a_joint_that_nobody_logged_is_put_in_before_the_lift_that_needs_it_open():
    found = made_fit(TERN, [*FEW, Move(lift=("ground-tape",))])
    assert found.put_in == ("Grounding tape bond",)
    assert found.moves[-2:] == (Move(open="ground-tape-bond"), Move(lift=("ground-tape",)))
    assert "ground-tape-bond" in [line.joint for line in refit(TERN, found.moves).lines]


def test_what_is_against_the_record_all_the_same_is_left_out_and_told():
    found = made_fit(TERN, [Move(open="battery-plug"), Move(lift=("nothing",)), *FEW])
    assert found.moves == FEW
    assert found.left_out == ("open Battery plug", "lift nothing")


def test_a_move_told_twice_is_gone_back_once():
    found = made_fit(TERN, [FEW[0], FEW[0], *FEW[1:]])
    assert found.moves == FEW


@pytest.mark.parametrize("seed", range(25))
def test_whatever_was_logged_can_be_gone_back(seed):
    record, random = small(seed), Random(seed)
    moves = list(walked(record, seed, 12)[0])
    random.shuffle(moves)
    found = made_fit(record, moves)
    assert refit(record, found.moves).state == Rules(record).replay(found.moves)
