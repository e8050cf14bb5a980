"""Hot air from a nozzle: coefficient of a round jet on a surface, air temperature by distance."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
import numpy as np

from midframe.faults import BadSetting

AIR_C = (20.0, 50.0, 80.0, 100.0, 150.0)
AIR_DENSITY_KG_M3 = (1.2046, 1.0925, 0.9995, 0.9459, 0.8340)
AIR_HEAT_J_KGK = (1006.1, 1007.4, 1009.5, 1011.2, 1017.1)
AIR_CONDUCTIVITY_W_MK = (0.02587, 0.02808, 0.03023, 0.03162, 0.03500)
AIR_VISCOSITY_PA_S = (1.8206e-5, 1.9635e-5, 2.1009e-5, 2.1896e-5, 2.4027e-5)
"""Air at 101 325 Pa [bench-physics-calc, air]; linear in between and held beyond the ends."""

LEAST_REACH, MOST_REACH = 2.5, 7.9
NEAREST, FARTHEST = 2.0, 12.0
SLOWEST_REYNOLDS, FASTEST_REYNOLDS = 2_000.0, 400_000.0
"""Range of the correlation: r/D, H/D, Re [incropera-fhmt, eq. 7.75]."""


class Jet(msgspec.Struct, frozen=True):
    """What the correlation gives, and whether it was asked within its range."""

    coefficient_w_m2k: float
    reynolds: float
    nusselt: float
    shape: float
    notes: tuple[str, ...]


class Air(msgspec.Struct, frozen=True):
    """Air at one temperature."""

    density_kg_m3: float
    heat_j_kgk: float
    conductivity_w_mk: float
    viscosity_pa_s: float

    @property
    def prandtl(self) -> float:
        """Prandtl number."""
        return self.viscosity_pa_s * self.heat_j_kgk / self.conductivity_w_mk


def air_at(celsius: float) -> Air:
    """Air at a film temperature of 20 to 150 °C; held at the ends beyond.

    >>> round(air_at(80.0).prandtl, 3)
    0.702

    References
    ----------
    [bench-physics-calc, air]
    """
    rows = (AIR_DENSITY_KG_M3, AIR_HEAT_J_KGK, AIR_CONDUCTIVITY_W_MK, AIR_VISCOSITY_PA_S)
    return Air(*(float(np.interp(celsius, AIR_C, row)) for row in rows))


def jet(nozzle_mm: float, speed_m_s: float, away_mm: float, reach_mm: float, film_c: float) -> Jet:
    """Mean coefficient of a round jet over a disc.

    Nu/Pr^0.42 = G·2·Re^0.5·(1 + 0.005·Re^0.55)^0.5,
    G = 2·Ar^0.5·(1 − 2.2·Ar^0.5)/(1 + 0.2·(H/D − 6)·Ar^0.5), Ar = D²/(4·r²).

    Parameters
    ----------
    nozzle_mm
        Diameter D of the nozzle.
    speed_m_s
        Speed at the nozzle.
    away_mm
        Distance H from the nozzle to the surface.
    reach_mm
        Radius r of the disc over which the mean is taken.
    film_c
        Temperature at which the air's properties are taken.

    Returns
    -------
    Jet
        Outside the range H/D and r/D are held at its end, and `notes` says so.

    Notes
    -----
    >>> round(jet(45, 8, 100, 150, 80).coefficient_w_m2k, 1)
    49.4

    References
    ----------
    Martin's correlation [incropera-fhmt, eq. 7.75]; check value 49.4 W/(m²·K) [bench-physics-calc, jet].
    """
    for name, value in (("nozzle_mm", nozzle_mm), ("speed_m_s", speed_m_s), ("reach_mm", reach_mm)):
        if not value > 0:
            raise BadSetting(f"{name}: found {value}; right: a figure above 0")
    air, notes = air_at(film_c), []
    far, wide = away_mm / nozzle_mm, reach_mm / nozzle_mm
    if not NEAREST <= far <= FARTHEST:
        notes.append(
            f"{far:.1f} nozzle diameters away, outside {NEAREST:g} to {FARTHEST:g}: end of range taken"
        )
    if not LEAST_REACH <= wide <= MOST_REACH:
        notes.append(
            f"a disc of {wide:.1f} diameters, outside {LEAST_REACH} to {MOST_REACH}: end of range taken"
        )
    far, wide = float(np.clip(far, NEAREST, FARTHEST)), float(np.clip(wide, LEAST_REACH, MOST_REACH))
    reynolds = air.density_kg_m3 * speed_m_s * nozzle_mm / 1e3 / air.viscosity_pa_s
    if not SLOWEST_REYNOLDS <= reynolds <= FASTEST_REYNOLDS:
        notes.append(f"Reynolds number {reynolds:.0f}, outside 2000 to 400000")
    root = 1.0 / (2.0 * wide)
    shape = 2.0 * root * (1.0 - 2.2 * root) / (1.0 + 0.2 * (far - 6.0) * root)
    nusselt = shape * air.prandtl**0.42 * 2.0 * reynolds**0.5 * (1.0 + 0.005 * reynolds**0.55) ** 0.5
    return Jet(nusselt * air.conductivity_w_mk / (nozzle_mm / 1e3), reynolds, nusselt, shape, tuple(notes))


def air_by_distance(
    known_mm: Sequence[float], known_c: Sequence[float], away_mm: float, room_c: float = 22.0
) -> float:
    """Air temperature at another distance: what it has above the room falls as one over the distance.

    T(H) = T_room + a/H, with `a` the mean of H·(T − T_room) over what was measured.

    >>> round(air_by_distance([150, 100, 50], [47, 61, 95], 70), 0)
    76.0

    References
    ----------
    textbook: far field of a round jet; measured points [ann-dermatol-2011, methods].
    """
    if not known_mm or len(known_mm) != len(known_c) or min(*known_mm, away_mm) <= 0:
        raise BadSetting(
            "distance: found no pair of distance and temperature; right: at least one, above 0 mm"
        )
    strength = [away * (hot - room_c) for away, hot in zip(known_mm, known_c, strict=True)]
    return room_c + sum(strength) / len(strength) / away_mm
