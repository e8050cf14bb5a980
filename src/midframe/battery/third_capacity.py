"""A capacity without a word beside it: mean of the two others, rated in another unit, or not explained."""

from __future__ import annotations

from collections.abc import Iterator

from midframe.battery.label import Figure, Label

USB_V = 5.0
"""Output voltage at which makers of chargers count a charge; common practice, no source."""


def explained(figure: Figure, label: Label) -> tuple[str, bool]:
    """What a further capacity may be, and whether anything was found.

    The first of these that holds within the rounding of the figures: the same as one of the others, the mean
    of rated and typical (common practice, no source), rated with its unit mixed up, one cell of several, or
    rated energy counted at 5 V.

    Examples
    --------
    >>> from midframe.battery.label import typed_label
    >>> label = typed_label([("rated", "4404"), ("typical", "4492"), ("further", "4448")])
    >>> explained(label.figures[2], label)
    ('4448 is the mean of rated 4404 and typical 4492 (common practice, no source)', True)

    References: common practice, no source.
    """
    for value, half, text in candidates(label):
        if abs(figure.value - value) <= figure.half + half + 1e-9:
            return f"{figure.printed} is {text}", True
    known = " or ".join(
        one.printed for one in label.figures if one.quantity == "charge" and one is not figure
    )
    return f"{figure.printed} is not explained by {known or 'any other figure of the label'}", False


def candidates(label: Label) -> Iterator[tuple[float, float, str]]:
    """Values in mAh that a further capacity may have, the room of rounding, and what each would be."""
    rated, typical = label.figure("charge", "rated"), label.figure("charge", "typical")
    named = [(one, kind) for one, kind in ((rated, "rated"), (typical, "typical")) if one is not None]
    for one, kind in named:
        yield one.value, one.half, f"{kind} {one.printed} in another unit or once more"
    if rated is not None and typical is not None:
        mean = (rated.value + typical.value) / 2
        text = f"the mean of rated {rated.printed} and typical {typical.printed} (common practice, no source)"
        yield mean, (rated.half + typical.half) / 2, text
    for one, kind in named:
        for factor, words in ((0.001, "mAh printed, Ah meant"), (1000.0, "Ah printed, mAh meant")):
            yield (
                one.value * factor,
                one.half * factor,
                f"{kind} {one.printed} with its unit mixed up: {words}",
            )
        for cells in {label.cells_side_by_side or 1, label.cells_in_series or 1} - {1}:
            yield one.value / cells, one.half / cells, f"{kind} {one.printed} of one of {cells} cells"
            yield (
                one.value * cells,
                one.half * cells,
                f"{kind} {one.printed} of {cells} cells counted together",
            )
    for energy in (one for one in label.figures if one.quantity == "energy"):
        if energy.kind != "further":
            text = f"the {energy.kind} energy {energy.printed} as a number, with the unit of a charge"
            yield energy.value, energy.half, text
            at_usb = energy.value / USB_V * 1000
            text = f"the {energy.kind} energy {energy.printed} counted at {USB_V:g} V"
            text = f"{text} (common practice, no source)"
            yield at_usb, energy.half / USB_V * 1000, text
