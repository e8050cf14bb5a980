"""Figures of thermal layers in words, as sheets and pages write them."""

from __future__ import annotations

from midframe.thermal.figures import Span
from midframe.thermal.resistance import M2K_W_TO_CM2K_W


def figure(value: float) -> str:
    """A figure with as many digits as it carries: two, or whole from ten on.

    >>> figure(0.4743), figure(1.423), figure(28.6), figure(0.00012)
    ('0.47', '1.4', '29', '0.00012')
    """
    if value == 0:
        return "0"
    if abs(value) >= 9.95:
        return f"{value:.0f}"
    return f"{value:.1f}" if abs(value) >= 0.995 else f"{value:.2g}"


def ranged(span: Span | None) -> str:
    """Usual with both ends in brackets; a dash where nothing is known.

    >>> ranged(Span(1.0, 1.4, 2.0)), ranged(None), ranged(Span(0.66, 0.66, 0.66))
    ('1.4 (1.0 to 2.0)', '–', '0.66')
    """
    if span is None:
        return "–"
    low, usual, high = (figure(one) for one in (span.low, span.usual, span.high))
    return usual if low == usual == high else f"{usual} ({low} to {high})"


def per_area(span: Span | None) -> str:
    """R'' in K·cm²/W; a dash where nothing is known.

    >>> per_area(Span(1e-4, 3.73e-4, 5e-4))
    '3.7'
    """
    return "–" if span is None else figure(span.usual * M2K_W_TO_CM2K_W)


def signed(value: float) -> str:
    """A difference with its sign.

    >>> signed(1.23), signed(-0.456), signed(0.0)
    ('+1.2', '−0.46', '0')
    """
    return figure(value) if value == 0 else f"{'+' if value > 0 else '−'}{figure(abs(value))}"
