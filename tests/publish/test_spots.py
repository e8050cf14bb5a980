from __future__ import annotations

from itertools import combinations

from hypothesis import given, settings
from hypothesis import strategies as st

from midframe.demo import load, names
from midframe.publish.labels import Box
from midframe.publish.screw_pages import TEXT_MM
from midframe.publish.screw_sheet import screw_sheet, sides
from midframe.publish.spots import beside, distance

PLAN = Box(0, 0, 80, 160)


def disc(hole):
    x, y, radius, _ = hole
    return Box(x - radius, y - radius, x + radius, y + radius)


def test_texts_of_the_demo_devices_cover_neither_holes_nor_each_other():
    for name in names():
        device = load(name)
        for side in sides(device):
            sheet = screw_sheet(device, side)
            holes = [(h.x_mm, h.y_mm, h.radius_mm + 0.3, h.text) for h in sheet.holes]
            texts = beside(holes, Box(-2, -2, sheet.size_mm[0] + 2, sheet.size_mm[1] + 2), TEXT_MM)
            assert len(texts) == len(holes)
            assert [(a.text, b.text) for a, b in combinations(texts, 2) if a.box.meets(b.box)] == []
            assert [t.text for t in texts for h in holes if t.box.meets(disc(h))] == []


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.tuples(st.integers(0, 7), st.integers(0, 15)), unique=True, min_size=1, max_size=20),
    st.integers(1, 9),
)
def test_holes_a_centimetre_apart_always_leave_room(cells, length):
    holes = [(5 + 10 * x, 5 + 10 * y, 1.3, "A" * length) for x, y in cells]
    texts = beside(holes, Box(-20, -20, 100, 180), TEXT_MM)
    assert not any(a.box.meets(b.box) for a, b in combinations(texts, 2))


def test_a_text_far_from_its_hole_has_a_leader():
    close = [(20 + dx, 20 + dy, 1.3, "12·AB 10.5") for dx in (0, 3, 6) for dy in (0, 3, 6)]
    texts = beside(close, PLAN, TEXT_MM)
    assert any(text.leader for text in texts)
    assert all(text.box.left <= text.end[0] <= text.box.right for text in texts)


def test_a_text_that_another_hole_could_claim_has_a_leader():
    for name in names():
        device = load(name)
        for side in sides(device):
            sheet = screw_sheet(device, side)
            holes = [(h.x_mm, h.y_mm, h.radius_mm + 0.3, h.text) for h in sheet.holes]
            texts = beside(holes, Box(-2, -2, sheet.size_mm[0] + 2, sheet.size_mm[1] + 2), TEXT_MM)
            for text in texts:
                (own,) = [h[:3] for h in holes if h[:2] == text.hole]
                nearer = [
                    h
                    for h in holes
                    if h[:2] != text.hole and distance(text.box, h[:3]) <= distance(text.box, own)
                ]
                assert text.leader or not nearer, (name, text.text)
