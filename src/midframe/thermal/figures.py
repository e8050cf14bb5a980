"""What a layer conducts and how well its faces touch, as low, usual and high figures."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

import msgspec

from midframe.record.model import Layer
from midframe.sources import Basis


class Span(msgspec.Struct, frozen=True):
    """A figure: usual, and from low to high."""

    low: float
    usual: float
    high: float

    def over(self, divisor: float) -> Span:
        """The span divided by a figure above zero.

        >>> Span(1.0, 2.0, 4.0).over(2.0)
        Span(low=0.5, usual=1.0, high=2.0)
        """
        return Span(self.low / divisor, self.usual / divisor, self.high / divisor)

    def times(self, factor: float) -> Span:
        """The span times a figure that is not negative."""
        return Span(self.low * factor, self.usual * factor, self.high * factor)

    def plus(self, other: Span) -> Span:
        """Both added, end to end."""
        return Span(self.low + other.low, self.usual + other.usual, self.high + other.high)


ZERO = Span(0.0, 0.0, 0.0)

CONTACTS: Mapping[str, Span] = MappingProxyType(
    {
        "pad": Span(1e-5, 4e-5, 8e-5),
        "putty": Span(5e-6, 1e-5, 4e-5),
        "paste": Span(2e-6, 5e-6, 1e-5),
        "graphite": Span(1e-5, 4e-5, 1e-4),
        "copper": Span(1e-5, 5e-5, 2e-4),
        "gap": ZERO,
    }
)
"""Contact resistance of both faces together, m²·K/W, by kind of layer; common practice, no source, but for
the usual pad, 2 × 2e-5 [bench-physics-calc, pads]."""

CONDUCTIVITIES: Mapping[str, tuple[Span, str, tuple[str, ...]]] = MappingProxyType(
    {
        "pad": (Span(1.0, 3.0, 7.0), "gap pads, from memory", ()),
        "putty": (Span(3.0, 4.0, 6.0), "filled putty, from memory", ()),
        "paste": (Span(3.0, 4.0, 8.0), "pastes, from memory", ()),
        "graphite": (Span(5.0, 5.0, 20.0), "across a film; trade pages, from memory", ()),
        "copper": (Span(380.0, 380.0, 401.0), "copper", ("din-en-12524", "me-handbook-4")),
        "gap": (Span(0.0259, 0.028, 0.0302), "still air, 20 to 80 °C", ("bench-physics-calc",)),
    }
)
"""Conductivity across a layer whose figure is not in the record, W/(m·K): span, what it is, sources
(pads, putty and paste from memory; graphite films 5 to 20 across, trade pages, from memory;
copper [din-en-12524, copper], [me-handbook-4, table 1]; air [bench-physics-calc, still air])."""

DATASHEET_SHARE = 0.1
"""A recorded conductivity is taken to be right within this share (common practice, no source)."""

IN_PLANE_W_MK = 50.0
"""More than this is a graphite film's figure in its plane; across it conducts far less (own construction)."""

GAP_RADIATION_W_M2K = 5.7
"""Between dull faces of emissivity 0.85 at 50 °C, ε σ 4 T³ with ε = 1/(2/0.85 − 1) (own construction)."""

POORLY_COOLED_W_M2K = 10.0
"""Far side of a film that is poorly cooled: still air, with radiation about 10 W/(m²·K)
[bench-physics-calc, still air]."""


def is_in_plane(layer: Layer) -> bool:
    """Whether the recorded conductivity of a film holds in its plane and not across."""
    return layer.kind == "graphite" and (layer.conductivity_w_mk or 0.0) > IN_PLANE_W_MK


def conductivity_of(layer: Layer) -> tuple[Span, Basis]:
    """Conductivity across a layer, W/(m·K), and what it rests on.

    >>> layer = Layer(id="pad", kind="pad", between=("board", "frame"), conductivity_w_mk=6.0)
    >>> conductivity_of(layer)[0].usual, conductivity_of(layer)[1].kind
    (6.0, 'record')
    """
    recorded = layer.conductivity_w_mk
    if recorded is None or is_in_plane(layer):
        span, words, keys = CONDUCTIVITIES[layer.kind]
        said = "" if recorded is None else f"; the record says {recorded:g}, which is in the plane"
        text = f"{span.low:g} to {span.high:g} W/(m·K): {words}{said}"
        return span, Basis("conductivity", "assumed" if recorded is None else "default", text, keys)
    share = 0.0 if layer.kind == "gap" else DATASHEET_SHARE
    span = Span(recorded * (1 - share), recorded, recorded * (1 + share))
    around = f" ± {100 * share:.0f} % (common practice, no source)" if share else ""
    return span, Basis("conductivity", "record", f"{recorded:g} W/(m·K){around}")


def contact_basis(kind: str) -> Basis:
    """What the contacts of a kind of layer rest on."""
    span = CONTACTS[kind].times(1e4)
    text = f"{span.low:g} to {span.high:g} K·cm²/W for both faces; common practice, no source"
    return Basis("contacts", "default", text, ("bench-physics-calc",) if kind == "pad" else ())
