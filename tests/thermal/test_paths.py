from __future__ import annotations

import msgspec
import numpy as np
import pytest

from midframe import demo
from midframe.faults import UnknownPart
from midframe.record.model import Layer
from midframe.thermal import heat_paths, thermal_stack

TERN = demo.load("tern-3")


def with_layers(*layers):
    return msgspec.structs.replace(TERN, layers=layers)


def pad(name, between, area=100.0, **values):
    usual = {"kind": "pad", "thickness_mm": 1.0, "conductivity_w_mk": 3.0}
    return Layer(id=name, between=between, area_mm2=area, **{**usual, **values})


def paths(record, start=""):
    return heat_paths(record, thermal_stack(record, 2.0), start)


def test_a_way_adds_up_its_layers():
    first, second = paths(
        with_layers(
            pad("a", ("main-board", "shield-back")), pad("b", ("upper-mid-cover", "shield-back"), 200.0)
        )
    )
    assert first.parts == ("main-board", "shield-back")
    assert not first.ends
    assert second.ends
    assert second.resistance_k_w.usual == pytest.approx(first.resistance_k_w.usual * 1.5)
    assert second.drop_k.usual == pytest.approx(2 * second.resistance_k_w.usual)


def test_a_film_of_larger_area_spreads_between_nothing_and_poorly_cooled():
    found = next(path for path in paths(TERN) if path.parts[-1] == "upper-mid-cover")
    pad_step, spreading, film = found.steps
    assert spreading.text == "spreading in graphite-shield, from 120 to 550 mm²"
    assert spreading.resistance_k_w.low == 0 < spreading.resistance_k_w.usual < spreading.resistance_k_w.high
    total = pad_step.resistance_k_w.high + spreading.resistance_k_w.high + film.resistance_k_w.high
    assert found.resistance_k_w.high == pytest.approx(total)


def test_heat_gathered_from_a_film_into_a_pad_spreads_the_same_way_round():
    forth = with_layers(
        pad("a", ("main-board", "shield-back"), 120.0),
        pad("film", ("shield-back", "frame"), 550.0, kind="graphite", thickness_mm=0.06),
    )
    out, back = paths(forth, "main-board")[-1], paths(forth, "frame")[-1]
    assert out.parts == tuple(reversed(back.parts))
    assert out.resistance_k_w.usual == pytest.approx(back.resistance_k_w.usual)


def test_stacked_layers_spread_between_one_another():
    found = paths(
        with_layers(
            pad("a", ("main-board", "frame"), 120.0, stacked=True),
            pad("foil", ("main-board", "frame"), 500.0, kind="copper", thickness_mm=0.1, stacked=True),
        )
    )
    assert [step.kind for step in found[0].steps] == ["spreading", "layers"]


def test_other_ways_carry_some_so_one_way_is_on_the_high_side():
    # Effective resistance of a ring by Kirchhoff's laws (textbook), against the shortest way alone.
    ring = [("main-board", "frame"), ("frame", "shield-back"), ("shield-back", "main-board")]
    record = with_layers(*(pad(f"p{n}", between) for n, between in enumerate(ring)))
    stack = thermal_stack(record, 2.0)
    names = sorted({part for pair in ring for part in pair})
    matrix = np.zeros((3, 3))
    for pair in stack.pairs:
        i, j = (names.index(part) for part in pair.between)
        g = 1 / pair.resistance_k_w.usual
        matrix[[i, j], [i, j]] += g
        matrix[[i, j], [j, i]] -= g
    inverse = np.linalg.pinv(matrix)
    i, j = names.index("main-board"), names.index("frame")
    whole = inverse[i, i] + inverse[j, j] - 2 * inverse[i, j]
    (alone,) = [path for path in paths(record) if path.parts == ("main-board", "frame")]
    assert alone.other_ways
    assert alone.resistance_k_w.usual == pytest.approx(1.5 * whole)


def test_no_other_way_is_told_in_a_tree():
    assert not any(path.other_ways for path in paths(TERN))


def test_the_warm_part_is_the_main_board_or_the_one_most_layers_touch():
    record = with_layers(pad("a", ("battery", "frame")), pad("b", ("frame", "display")))
    assert paths(TERN)[0].parts[0] == "main-board"
    assert paths(record)[0].parts[0] == "frame"


def test_a_part_that_no_layer_touches_is_told_with_those_that_are_touched():
    with pytest.raises(
        UnknownPart, match="found 'speaker', which no layer touches; right: one of main-board"
    ):
        paths(TERN, "speaker")


def test_a_way_with_a_layer_that_is_not_known_has_no_sum_and_names_it():
    found = paths(with_layers(pad("a", ("main-board", "frame"), thickness_mm=None)))
    assert (found[0].resistance_k_w, found[0].missing) == (None, ("a",))


def test_a_record_without_layers_has_no_ways():
    assert paths(with_layers()) == ()
