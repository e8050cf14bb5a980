"""A user's own source from two to ten readings of an infrared thermometer."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterable, Sequence

import msgspec
import numpy as np
from scipy.optimize import least_squares

from midframe.faults import BadSetting
from midframe.heat.heat_sources import Kind, Reach, Setting
from midframe.heat.limits import face_region
from midframe.heat.materials import Range
from midframe.heat.model import Bench, Model
from midframe.heat.network import KELVIN, Floats

FEWEST, MOST = 2, 10
READING_K = 2.0
"""Scatter of one reading by hand, K (common practice: thermometer, spot and aim together)."""

THERMOMETER_EMISSIVITY = 0.95
"""What most thermometers are set to (common practice)."""

LOW_EMISSIVITY = 0.6
TAPE_EMISSIVITY = 0.95


class Reading(msgspec.Struct, frozen=True):
    """What the thermometer shows at the heated face over the bond, so long after the source went on."""

    seconds: float
    shown_c: float


class Calibration(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A source as measured: air temperature and coefficient, each as a range of 95 in 100; plain data.

    `rms_k` is how far the readings lie from the fitted curve; `warnings` is kept with it.
    """

    name: str
    source: str
    kind: Kind
    reach: Reach
    label: str
    air_c: tuple[float, float, float]
    coefficient_w_m2k: tuple[float, float, float]
    rms_k: float
    readings: tuple[Reading, ...]
    emissivity: float
    device: str = ""
    joint: str = ""
    note: str = ""
    warnings: tuple[str, ...] = ()

    def setting(self) -> Setting:
        """The calibrated source as a setting for a plan."""
        return Setting(
            source=self.source,
            name=self.name,
            kind=self.kind,
            label=f"{self.label}, measured",
            reach=self.reach,
            air_c=Range.of(list(self.air_c)),
            coefficient_w_m2k=Range.of(list(self.coefficient_w_m2k)),
            rests_on="measured by the user",
            measured=True,
        )


def true_c(shown_c: float, surface: float, thermometer: float, room_c: float) -> float:
    """Temperature of a surface whose emissivity is not what the thermometer is set to.

    T⁴ = T_room⁴ + (ε_set/ε)·(T_shown⁴ − T_room⁴) in kelvin: the surface also mirrors the room.

    >>> round(true_c(60.0, 0.95, 0.95, 22.0), 1), round(true_c(60.0, 0.85, 0.95, 22.0), 1)
    (60.0, 63.7)

    References
    ----------
    textbook: grey surface in a large room.
    """
    shown, room = (shown_c + KELVIN) ** 4, (room_c + KELVIN) ** 4
    return float(max(1.0, room + thermometer / surface * (shown - room)) ** 0.25) - KELVIN


def calibrate(
    model: Model,
    setting: Setting,
    readings: Sequence[Reading],
    *,
    bench: Bench | None = None,
    taped: bool = False,
    thermometer_emissivity: float = THERMOMETER_EMISSIVITY,
) -> Calibration:
    """Fit air temperature and coefficient of a source to readings, beginning from its usual ranges.

    Parameters
    ----------
    model, setting
        What was heated, and the setting of the table that the source is nearest to.
    readings
        Two to ten, at different times, source on since 0 s, device at room temperature then.
    taped
        Whether a bit of tape or paint was measured instead of the bare surface.
    thermometer_emissivity
        What the thermometer is set to.

    Raises
    ------
    BadSetting
        Where readings are too few, too many, at one time, out of range, or taken on bare metal.
    """
    around = bench or Bench()
    check_readings(readings)
    _, metal, emissivity = face_region(model.found, hot=True)
    warnings = emissivity_warnings(metal=metal, emissivity=emissivity, taped=taped)
    surface = TAPE_EMISSIVITY if taped else emissivity
    room = around.room_c.usual
    truth = np.array([true_c(one.shown_c, surface, thermometer_emissivity, room) for one in readings])
    known = _Fit(model, setting, around, np.array([one.seconds for one in readings]), truth)
    found = least_squares(known.residuals, [0.0, 0.0], method="lm", diff_step=[1e-3])
    slope = np.array(found.jac, dtype=float)
    spread = np.sqrt(np.diag(np.linalg.inv(slope.T @ slope)))
    air, coefficient = known.figures(found.x)
    lows, highs = known.figures(found.x - 2.0 * spread), known.figures(found.x + 2.0 * spread)
    rms = float(np.sqrt(np.mean((known.surface(air, coefficient) - truth) ** 2)))
    if rms > 2.0 * READING_K:
        warnings.append(f"the readings lie {rms:.1f} K off any curve of this model: measure again")
    return Calibration(
        name=setting.name,
        source=setting.source,
        kind=setting.kind,
        reach=setting.reach,
        label=setting.label,
        air_c=(lows[0], air, highs[0]),
        coefficient_w_m2k=(lows[1], coefficient, highs[1]),
        rms_k=rms,
        readings=tuple(sorted(readings, key=lambda one: one.seconds)),
        emissivity=surface,
        device=model.found.device,
        joint=model.found.bond.joint,
        warnings=tuple(warnings),
    )


def check_readings(readings: Sequence[Reading], fewest: int = FEWEST) -> None:
    """Raises `BadSetting` where readings cannot be used."""
    if not fewest <= len(readings) <= MOST:
        raise BadSetting(f"readings: found {len(readings)}; right: {fewest} to {MOST}")
    times = [one.seconds for one in readings]
    if len(set(times)) < len(times):
        raise BadSetting("readings: found two at the same second; right: each at its own time")
    for one in readings:
        if not (0.0 < one.seconds <= 7200.0 and -20.0 <= one.shown_c <= 400.0):
            found = f"{one.shown_c:g} °C after {one.seconds:g} s"
            raise BadSetting(f"readings: found {found}; right: −20 to 400 °C after 0 to 7200 s")


def emissivity_warnings(*, metal: bool, emissivity: float, taped: bool) -> list[str]:
    """What to say of the surface; raises `BadSetting` on bare metal."""
    if taped:
        return []
    if metal:
        raise BadSetting(
            "readings: found a metal surface, whose emissivity may be anything from 0.05 to 0.95; "
            "right: measure on a bit of matt tape or paint, and say that it is taped"
        )
    if emissivity < LOW_EMISSIVITY:
        return [f"low emissivity {emissivity:.2f}: measure on a bit of matt tape instead"]
    return []


class _Fit:
    """Readings against the model; unknowns are steps of the known spread of air temperature and of ln(h)."""

    def __init__(self, model: Model, setting: Setting, bench: Bench, seconds: Floats, truth: Floats) -> None:
        self.model, self.setting, self.bench = model, setting, bench
        self.seconds, self.truth = seconds, truth
        air, heat = setting.air_c, setting.coefficient_w_m2k
        self.air_k = max(air.high - air.usual, air.usual - air.low, 5.0)
        self.log_h = max(math.log(heat.high / heat.usual), math.log(heat.usual / heat.low), 0.2)

    def figures(self, steps: Floats) -> tuple[float, float]:
        """Air temperature and coefficient of some steps."""
        air = self.setting.air_c.usual + self.air_k * float(steps[0])
        return air, self.setting.coefficient_w_m2k.usual * math.exp(self.log_h * float(steps[1]))

    def surface(self, air_c: float, coefficient_w_m2k: float) -> Floats:
        """The model's surface at the times of the readings."""
        usual = self.model.figures(self.setting, self.bench)
        figures = msgspec.structs.replace(usual, air_c=air_c, coefficient_w_m2k=coefficient_w_m2k)
        run = self.model.run(self.setting, float(self.seconds.max()), figures)
        nodes = self.model.watched["surface"]
        return np.asarray(np.interp(self.seconds, run.seconds, run.temperature_c[:, nodes].mean(axis=1)))

    def residuals(self, steps: Floats) -> Floats:
        """Readings less model in spreads of a reading, and the steps from what was known."""
        off = (self.surface(*self.figures(steps)) - self.truth) / READING_K
        return np.concatenate([off, np.asarray(steps)])


def calibrations_text(kept: Iterable[Calibration]) -> str:
    """Calibrations as TOML; `calibrations_from` reads them back.

    >>> one = Calibration(name="Dryer", source="hairdryer", kind="air", reach="face", label="5 cm away",
    ...     air_c=(80.0, 88.0, 96.0), coefficient_w_m2k=(40.0, 50.0, 62.0), rms_k=0.8,
    ...     readings=(Reading(30.0, 41.0), Reading(60.0, 52.0)), emissivity=0.94)
    >>> calibrations_from(calibrations_text([one])) == (one,)
    True
    """
    blocks = []
    for one in kept:
        lines = ["[[heat_sources]]"]
        for key, value in msgspec.to_builtins(one).items():
            if key == "readings":
                inside = ", ".join(f"[{row['seconds']!r}, {row['shown_c']!r}]" for row in value)
                lines.append(f"readings = [{inside}] # seconds, °C shown")
            else:
                lines.append(f"{key} = {msgspec.json.encode(value).decode()}")
        blocks.append("\n".join(lines))
    return "\n\n".join(blocks) + "\n"


def calibrations_from(text: str, file: str = "") -> tuple[Calibration, ...]:
    """Calibrations out of TOML.

    Raises
    ------
    BadSetting
        Where the text is no TOML or a calibration lacks something; the message names the file.
    """
    where = f"{file}: " if file else ""
    try:
        rows = tomllib.loads(text).get("heat_sources", [])
        for row in rows:
            row["readings"] = [{"seconds": s, "shown_c": c} for s, c in row.get("readings", [])]
        return tuple(msgspec.convert(rows, tuple[Calibration, ...], strict=False))
    except (tomllib.TOMLDecodeError, msgspec.ValidationError, TypeError, ValueError, AttributeError) as error:
        right = "[[heat_sources]] as `midframe heat --keep` writes them"
        raise BadSetting(f"{where}found {error}; right: {right}") from None
