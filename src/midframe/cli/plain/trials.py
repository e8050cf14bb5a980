"""Function checks as plain data."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import msgspec

from midframe.record.model import Outcome
from midframe.trials import Difference, Trial, worse


def trials_data(listed: Sequence[Trial], found: Sequence[Difference]) -> dict[str, Any]:
    """The checks that apply, and before and after side by side, what is worse in front."""
    return {
        "trials": [trial_data(one) for one in listed],
        "worse": [one.trial.id for one in worse(found)],
        "differences": [
            {
                "trial": one.trial.id,
                "change": one.change,
                "before": outcome_data(one.before),
                "after": outcome_data(one.after),
                "figures": msgspec.to_builtins(one.figures),
            }
            for one in found
        ],
    }


def trial_data(trial: Trial) -> dict[str, Any]:
    """One check."""
    return {"name": trial.name, **msgspec.to_builtins(trial)}


def outcome_data(outcome: Outcome) -> dict[str, Any]:
    """What a check came to."""
    figures = [{"label": one.label, "value": one.value, "unit": one.unit} for one in outcome.figures]
    return {"outcome": outcome.outcome, "note": outcome.note, "figures": figures}
