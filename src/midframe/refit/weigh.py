"""Weighing before and after: what a difference means, and what a scale cannot see."""

from __future__ import annotations

import math

import msgspec

from midframe.faults import BadSetting

ONE_SIDED_95 = 1.645
"""Standard deviations of a one-sided chance of 5 % (normal distribution)."""


class Scale(msgspec.Struct, frozen=True):
    """A scale: its smallest step, and the standard deviation of repeated weighings of one thing, in grams.

    `repeatability_g` of None takes one step, as long as nobody has measured it (common practice).
    """

    resolution_g: float
    repeatability_g: float | None = None


class WeighCheck(msgspec.Struct, frozen=True, kw_only=True):
    """Two weighings compared. All in grams.

    `difference_g` is last − first − what was changed on purpose; `uncertainty_g` its standard
    uncertainty. `threshold_g`: a difference beyond it is more than chance (5 % false alarms on a side).
    `detectable_g`: what is missed in 5 % of cases at most; anything lighter may be missing unseen.
    `verdict` is "lighter", "heavier" or "no difference seen". `unseen` counts screws of the job, by
    kind, that the scale cannot see missing one at a time.
    """

    difference_g: float
    uncertainty_g: float
    threshold_g: float
    detectable_g: float
    verdict: str
    lightest_g: float | None
    sees_lightest: bool | None
    unseen: tuple[tuple[str, float], ...]
    repeatability_assumed: bool
    sentence: str


def difference_uncertainty_g(scale: Scale, changed_uncertainty_g: float = 0.0) -> float:
    """Standard uncertainty of the difference of two weighings in grams.

    u = √(2·(s² + d²/12) + u_c²)

    Parameters
    ----------
    scale
        Step d and repeatability s in grams.
    changed_uncertainty_g
        Standard uncertainty u_c of what was changed on purpose (new adhesive, new part).

    References
    ----------
    A reading rounded to a step d has the standard uncertainty d/√12 [jcgm-100, F.2.2.1]; the rest is
    the sum of variances of independent readings [jcgm-100, 5.1.2].

    >>> round(difference_uncertainty_g(Scale(0.1, 0.0)), 4)
    0.0408
    """
    spread = scale.resolution_g if scale.repeatability_g is None else scale.repeatability_g
    return math.sqrt(2 * (spread**2 + scale.resolution_g**2 / 12) + changed_uncertainty_g**2)


def threshold_g(uncertainty_g: float, resolution_g: float) -> float:
    """The difference beyond which less than 5 % of differences on a side are chance, in grams.

    L_C = 1.645 · u + d/2

    References
    ----------
    [currie-1968, critical level] for a chance of 5 %; half a step more because differences come in whole
    steps (own construction, held by a simulation in the tests).

    >>> round(threshold_g(0.0408, 0.1), 3)
    0.117
    """
    return ONE_SIDED_95 * uncertainty_g + resolution_g / 2


def detectable_g(uncertainty_g: float, resolution_g: float = 0.0) -> float:
    """The least mass that is missed in 5 % of cases at most, in grams.

    L_D = 2 · 1.645 · u + d

    References
    ----------
    [currie-1968, detection limit] with equal chances of 5 % for a false alarm and a miss, and a spread
    that does not depend on the mass; a step more because differences come in whole steps.

    >>> round(detectable_g(0.0408, 0.1), 3)
    0.234
    """
    return 2 * ONE_SIDED_95 * uncertainty_g + resolution_g


def weigh_check(
    first_g: float,
    last_g: float,
    scale: Scale,
    *,
    changed_g: float = 0.0,
    changed_uncertainty_g: float = 0.0,
    screws_g: tuple[tuple[str, float], ...] = (),
) -> WeighCheck:
    """Compare the weighing after the job with the one before it.

    Parameters
    ----------
    changed_g
        What the job added on purpose, negative where it took away: new part less old, new adhesive.
    screws_g
        Kinds of screws of the job with the mass of one.

    Raises
    ------
    BadSetting
        Where a mass or a figure of the scale is not positive.

    >>> found = weigh_check(211.3, 211.2, Scale(0.1, 0.05), screws_g=(("A", 0.043),))
    >>> found.verdict, found.sees_lightest, round(found.detectable_g, 2)
    ('no difference seen', False, 0.37)
    """
    checked(first_g, last_g, scale, changed_uncertainty_g)
    uncertainty = difference_uncertainty_g(scale, changed_uncertainty_g)
    difference = round(last_g - first_g - changed_g, 9)
    threshold = threshold_g(uncertainty, scale.resolution_g)
    least = detectable_g(uncertainty, scale.resolution_g)
    verdict = "no difference seen"
    if abs(difference) > threshold:
        verdict = "lighter" if difference < 0 else "heavier"
    lightest = min((mass for _, mass in screws_g), default=None)
    unseen = tuple((kind, mass) for kind, mass in screws_g if mass < least)
    return WeighCheck(
        difference_g=difference,
        uncertainty_g=uncertainty,
        threshold_g=threshold,
        detectable_g=least,
        verdict=verdict,
        lightest_g=lightest,
        sees_lightest=None if lightest is None else lightest >= least,
        unseen=unseen,
        repeatability_assumed=scale.repeatability_g is None,
        sentence=sentence(verdict, difference, least, lightest),
    )


def checked(first_g: float, last_g: float, scale: Scale, changed_uncertainty_g: float) -> None:
    """Raise `BadSetting` for figures that cannot be."""
    said = {
        "first weighing": (first_g, first_g > 0, "a mass in grams above 0"),
        "last weighing": (last_g, last_g > 0, "a mass in grams above 0"),
        "resolution": (scale.resolution_g, scale.resolution_g > 0, "the scale's step in grams, such as 0.01"),
        "repeatability": (scale.repeatability_g, (scale.repeatability_g or 0) >= 0, "grams, 0 or more"),
        "uncertainty of the change": (changed_uncertainty_g, changed_uncertainty_g >= 0, "grams, 0 or more"),
    }
    for name, (found, good, right) in said.items():
        if not good or (found is not None and not math.isfinite(found)):
            raise BadSetting(f"{name}: found {found}; right: {right}")


def sentence(verdict: str, difference: float, least: float, lightest: float | None) -> str:
    """The result in a sentence that claims no more than it can."""
    told = {
        "lighter": f"{-difference:.3g} g lighter than expected: something is missing. Count the screws back.",
        "heavier": f"{difference:.3g} g heavier than expected: something is too much, or a part differs.",
    }.get(verdict, "No difference that this scale can see.")
    told += f" It sees {least:.2g} g or more; what is lighter may be missing unseen"
    if lightest is None:
        return told + "."
    seen = lightest >= least
    return told + (
        f"; the lightest screw of the job, {lightest:.2g} g, is seen."
        if seen
        else f", such as the lightest screw of the job, {lightest:.2g} g: only counting back finds it."
    )
