"""Whether liquid reaches a compressor: its discharge superheat against that of dry suction, and the signs beside it.

No fixed limit tells it: dry suction gives 16 K where it is mild outside and 48 K with another refrigerant where it is
hot.
Computed (steady circuit): a per cent of liquid takes about 2 K of discharge superheat with R410A and 3 K with R32.
Frost is no sign: it only says that a surface is below 0 °C.
"""

from math import hypot
from typing import Final

from fifthwire.diagnosis.running.states import U_DISCHARGE_K, CompressorSeen, dry_band_k, quality_of
from fifthwire.model.assessment import Reason

__all__ = ["CompressorSeen", "dry_band_k", "floodback", "is_low", "quality_of", "signs", "worst_of"]

WET_SUCTION_K: Final = 1.0
"""Suction superheat under this is a second sign.  [K]  Judgement; the readings' own noise is about as large."""
DRY_SUCTION_K: Final = 3.0
"""Suction superheat from here on speaks against liquid.  [K]  Judgement: two to three times that noise."""
SURELY_LOW_K: Final = 1.5
"""So far under the lowest dry value of the band is low whatever the efficiency.  [K]  One standard uncertainty."""
FAR_TOO_LOW_K: Final = 4.0
"""So far under it is liquid even where the suction's thermometer shows superheat: drops and hot vapour travel side by
side, and a bypass may join behind it.  [K]  Judgement."""
IMPOSSIBLE_K: Final = -4.0
"""Vapour that leaves a compressor is not colder than it condenses: under this the sensor is wrong.  [K]  Judgement."""
SHELL_COLD_K: Final = 6.0
"""A low-side shell nearer to evaporating temperature, a high-side one nearer to condensing, is cold for its kind.  [K]
From memory: an oil sump is kept 10 K and more above saturated suction; a high-side shell stands near discharge."""
WORST: Final = ("likely", "possible", "unknown", "unlikely")
"""The worst first."""


def floodback(seen: CompressorSeen, *, is_suction_explained: bool = False) -> str:
    """unlikely, possible, likely or unknown.

    Parameters
    ----------
    seen : CompressorSeen
        What was read of it.
    is_suction_explained : bool
        Another compressor on the same suction is the one that gets the liquid.

    Returns
    -------
    str
        `likely` needs a low discharge superheat, and a second sign where that may have another reason.
    """
    if seen.stands_still:
        return "unknown"
    told = _told(seen, is_suction_explained=is_suction_explained)
    if seen.is_contradicted:
        return {"unlikely": "unknown", "likely": "possible"}.get(told, told)
    return told


def _told(seen: CompressorSeen, *, is_suction_explained: bool) -> str:
    suction, over = seen.suction_superheat_k, seen.discharge_superheat_k
    if over is None or seen.lowest_dry_k is None:
        return _by_suction(seen)
    second = is_shell_cold(seen) or is_suction_wet(seen)
    if is_low(seen):
        is_excused = bool(seen.excuses) or over < IMPOSSIBLE_K
        dries = suction is not None and suction >= DRY_SUCTION_K
        is_doubtful = is_excused or (dries and over >= seen.lowest_dry_k - FAR_TOO_LOW_K)
        return "likely" if second or not is_doubtful else "possible"
    if second and not (is_suction_explained and not is_shell_cold(seen) and is_surely_dry(seen)):
        return "possible"
    if suction is None or suction < DRY_SUCTION_K:
        return "unlikely" if is_surely_dry(seen) else "possible"
    return "unlikely"


def _by_suction(seen: CompressorSeen) -> str:
    """Where the discharge does not tell: a dry suction speaks against liquid, and nothing makes it likely."""
    if is_suction_wet(seen) or is_shell_cold(seen):
        return "possible"
    suction = seen.suction_superheat_k
    return "unlikely" if suction is not None and suction >= DRY_SUCTION_K else "unknown"


def is_low(seen: CompressorSeen) -> bool:
    """Whether its discharge superheat is under that of dry suction, whatever the efficiency."""
    over, lowest = seen.discharge_superheat_k, seen.lowest_dry_k
    return over is not None and lowest is not None and over < lowest - SURELY_LOW_K


def is_surely_dry(seen: CompressorSeen) -> bool:
    """Whether its discharge superheat is over that of dry suction by the doubt of both."""
    over, low, middle, high = (
        seen.discharge_superheat_k,
        seen.lowest_dry_k,
        seen.dry_discharge_superheat_k,
        seen.highest_dry_k,
    )
    if over is None or low is None or middle is None or high is None:
        return False
    return over >= middle + hypot(U_DISCHARGE_K, (high - low) / 2.0 / 3.0**0.5)


def is_suction_wet(seen: CompressorSeen) -> bool:
    """Whether the suction's superheat is next to none."""
    return seen.suction_superheat_k is not None and seen.suction_superheat_k < WET_SUCTION_K


def is_shell_cold(seen: CompressorSeen) -> bool:
    """Whether the shell is cold for its kind; of unknown kind, whether it is cold for either."""
    kinds = {"low-side": seen.evaporating_c, "high-side": seen.condensing_c}
    near_c = kinds.get(seen.shell or "low-side")
    return seen.shell_c is not None and near_c is not None and seen.shell_c < near_c + SHELL_COLD_K


def worst_of(told: tuple[str, ...]) -> str:
    """The worst of several compressors; unknown where there is none."""
    return min(told, key=WORST.index) if told else "unknown"


def signs(seen: CompressorSeen, told: str) -> tuple[Reason, ...]:
    """Why that is told, the verdict first.

    Parameters
    ----------
    seen : CompressorSeen
        What was read of it.
    told : str
        As judged.
    """
    found = [Reason(code=f"floodback.{told}", values={"id": seen.id})]
    if seen.stands_still:
        return (*found, Reason(code="floodback.stands-still"))
    found += [*_of_discharge(seen), *_of_suction(seen)]
    if is_shell_cold(seen):
        values = {"shell_c": _shown(seen.shell_c), "saturation_c": _shown(_near_c(seen))}
        found.append(Reason(code=f"floodback.shell-cold.{seen.shell or 'low-side'}", values=values))
    if is_low(seen):
        found += [Reason(code=f"floodback.excuse.{one}") for one in seen.excuses]
    if seen.is_contradicted:
        found.append(Reason(code="floodback.contradicted"))
    return tuple(found if len(found) > 1 else (*found, Reason(code="floodback.nothing")))


def _near_c(seen: CompressorSeen) -> float | None:
    return seen.condensing_c if seen.shell == "high-side" else seen.evaporating_c


def _shown(value: float | None) -> str:
    return "" if value is None else f"{value:.1f}"


def _of_discharge(seen: CompressorSeen) -> list[Reason]:
    over, low, high = seen.discharge_superheat_k, seen.lowest_dry_k, seen.highest_dry_k
    if over is None or low is None or high is None:
        has_pressures = seen.evaporating_c is not None or seen.condensing_c is not None
        return [Reason(code="floodback.no-discharge")] if has_pressures else []
    values = {"discharge_k": _shown(over), "low_k": _shown(low), "high_k": _shown(high)}
    if over < IMPOSSIBLE_K:
        return [Reason(code="floodback.discharge-impossible", values=values)]
    which = "low" if is_low(seen) else "dry" if is_surely_dry(seen) else "near"
    found = [Reason(code=f"floodback.discharge-{which}", values=values)]
    if which == "low" and seen.suction_quality is not None and seen.suction_quality < 1.0 and not seen.excuses:
        liquid, u = (1.0 - seen.suction_quality) * 100.0, (seen.u_quality or 0.0) * 100.0
        found.append(Reason(code="floodback.quality", values={"liquid": _shown(liquid), "u": _shown(u)}))
    return found


def _of_suction(seen: CompressorSeen) -> list[Reason]:
    suction = seen.suction_superheat_k
    if suction is None:
        return []
    which = "none" if suction < WET_SUCTION_K else "dry" if suction >= DRY_SUCTION_K else "little"
    return [Reason(code=f"floodback.suction-{which}", values={"suction_k": _shown(suction)})]
