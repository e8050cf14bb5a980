"""The open tables: read whole, with licence and credit beside them."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

import pytest

from midframe.upkeep.tables import KINDS, battery_next_steps, pooled_sigma, shop_prior, step_spread

DATA = Path(str(files("midframe.upkeep") / "data"))


@pytest.mark.parametrize("folder", ["open_repair", "step_times"])
def test_each_folder_of_tables_names_licence_credit_and_change(folder):
    text = (DATA / folder / "README.md").read_text(encoding="utf-8")
    for word in ("Licence", "Credit:", "Changed:", "https://", "commit `"):
        assert word in text


def test_share_alike_tables_lie_apart_from_the_others():
    assert "CC BY-SA 4.0" in (DATA / "open_repair" / "README.md").read_text(encoding="utf-8")
    assert not list(DATA.glob("*.csv"))
    assert "Permission is hereby granted" in (DATA / "step_times" / "LICENCE").read_text(encoding="utf-8")


def test_the_folder_of_repair_counts_says_what_the_records_are():
    text = (DATA / "open_repair" / "README.md").read_text(encoding="utf-8")
    assert "volunteers" in text
    assert "not a repair shop's jobs" in text


@pytest.mark.parametrize("kind", KINDS)
def test_the_pseudo_counts_of_a_level_add_up_to_its_total(kind):
    rows = shop_prior(kind)  # [open-repair-data, phone_shop_prior.csv]
    rest = [row for row in rows if row.level == "among all but display"]
    assert sum(row.pseudo_count for row in rest) == pytest.approx(rest[0].pseudo_total_of_level, abs=0.01)
    assert [row.part for row in rows if row.level == "display against all else"] == ["display"]


@pytest.mark.parametrize(("kind", "display", "rest"), [("phone", 5.48, 58.02), ("tablet", 31.57, 137.43)])
def test_the_start_belief_is_worth_the_published_number_of_jobs(kind, display, rest):
    totals = {row.level: row.pseudo_total_of_level for row in shop_prior(kind)}  # [open-repair-data, README]
    assert totals == {"display against all else": display, "among all but display": rest}


def test_the_pooled_spread_of_step_times_is_0_58():
    rows = step_spread()  # [step-times-lf, README]: 361 times in 14 groups, sigma of ln 0.36 to 0.78
    assert (len(rows), sum(row.n for row in rows)) == (14, 361)
    assert (min(r.sigma_of_ln for r in rows), max(r.sigma_of_ln for r in rows)) == (0.36, 0.78)
    assert round(pooled_sigma(rows), 2) == 0.58


def test_an_empty_field_is_read_as_not_known():
    poor = [row for row in battery_next_steps("phone") if row.next_step_or_barrier == "Poor data"]
    assert poor
    assert all(row.share is None for row in poor)


def test_no_table_holds_free_text_of_the_source():
    # Only codes, counts and the source's fixed phrases: no cell is longer than a short phrase.
    for path in DATA.rglob("*.csv"):
        cells = re.split(r"[,\n]", path.read_text(encoding="utf-8"))
        assert max(map(len, cells)) <= 40, path
