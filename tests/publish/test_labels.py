from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from midframe.publish.labels import place

anchors = st.lists(
    st.tuples(st.floats(0, 360), st.floats(0, 80), st.text("abcdefgh ", min_size=1, max_size=60)), max_size=5
)


@given(anchors)
def test_labels_never_overlap_and_stay_on_the_drawing(wanted):
    labels = place(wanted, 100, 360)
    assert len(labels) == len(wanted)
    for label in labels:
        assert label.box.left >= -1e-9
        assert label.box.right <= 360 + 1e-9
        assert label.box.top >= 100
    for one, other in combinations(labels, 2):
        assert not one.box.meets(other.box)


def test_two_labels_that_fit_side_by_side_share_a_row_and_their_leaders_are_clear():
    left, right = place([(40, 10, "Battery"), (250, 10, "Plug")], 100, 360)
    assert left.row == right.row == 0
    assert not left.leader.meets(right.box)


def test_close_anchors_get_rows_of_their_own_without_a_crossing():
    labels = place([(100, 10, "Lower cover screws"), (110, 10, "Battery")], 100, 360)
    for one, other in combinations(labels, 2):
        assert not one.box.meets(other.leader)
        assert not other.box.meets(one.leader)


def test_a_long_text_is_cut_and_says_so():
    (label,) = place([(10, 10, "x" * 200)], 100, 360)
    assert label.text.endswith("…")
