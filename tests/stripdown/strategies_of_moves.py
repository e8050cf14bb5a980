"""Hypothesis strategies for what is said at the bench: few names, so that moves meet one another."""

from __future__ import annotations

from hypothesis import strategies as st

from midframe.stripdown import VERBS, Done

NAMES = (
    "Back cover",
    "mid-cover",
    "Battery",
    "main board",
    "Display",
    "Frame",
    "Shield",
    "battery-bond",
    "Écran",
)
TOOLS = ("spudger", "opening pick", "bare hand")

behinds = st.none() | st.lists(st.lists(st.sampled_from(NAMES), max_size=2).map(tuple), max_size=2).map(tuple)

moves = st.builds(
    Done,
    verb=st.sampled_from(VERBS),
    what=st.sampled_from(NAMES),
    to=st.sampled_from(("", *NAMES)),
    count=st.none() | st.integers(1, 20),
    drive=st.sampled_from(("", "hexalobular 4", "cross recess 00")),
    length_mm=st.none() | st.sampled_from((2.0, 3.5)),
    tools=st.none() | st.lists(st.sampled_from(TOOLS), max_size=2).map(tuple),
    face=st.sampled_from((None, "front", "back")),
    behind=behinds,
    tether=st.sampled_from((None, True, False)),
    seconds=st.none() | st.integers(0, 100).map(float),
    note=st.sampled_from(("", "one bent", "heat")),
    photo=st.sampled_from(("", "ab12")),
)
timed_moves = st.lists(st.tuples(moves, st.floats(0, 4000)), max_size=14)
