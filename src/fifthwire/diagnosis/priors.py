"""What faults look like before a reading is taken: `priors.toml`, read into laws.

The program ships its own copy beside this module; a user may bring another. Reading the file is the work of the
doors: here a text comes in and laws come out.
"""

import tomllib
from typing import Any

from fifthwire.diagnosis.winding.case import WindingLaws
from fifthwire.model.errors import InputError
from fifthwire.model.record import record

MECHANICAL = (
    "clip-on_unseated_or_rusted",
    "bolt-on_jammed",
    "bolt-on_cracked",
    "body_stuck",
    "leaks_when_shut",
    "plug_or_harness",
    "board_output",
    "sensor",
)
"""Names of the table [mechanical]."""
AGES = ("to_5_years", "to_10_years", "older")
"""Ages by which a mechanical share may be given."""


@record
class Priors:
    """The laws of a priors file."""

    sound_by_reason: dict[str, float]
    """Share of heads whose windings are sound, by why they were measured; `suspected` among the reasons."""
    winding: WindingLaws
    mechanical: dict[str, dict[str, float] | float]
    """Shares of valves with sound windings: by age (`to_5_years`, `to_10_years`, `older`), or one number."""
    sha256: str = ""

    def sound_prior(self, reason: str, *, is_suspected: bool) -> float:
        """Share of sound windings among heads measured for this reason."""
        planned = self.sound_by_reason["planned"]
        by_reason = self.sound_by_reason.get(reason, planned)
        return min(by_reason, self.sound_by_reason["suspected"]) if is_suspected else by_reason


def parse_priors(text: str, sha256: str = "") -> Priors:
    """Laws from the text of a priors file.

    Raises
    ------
    InputError
        If the text is not TOML or a table is missing or out of its range.
    """
    try:
        read = tomllib.loads(text)
        sizes, scatter = read["sizes"], read["scatter"]
        shares = {cause: _share(value) for cause, value in read["winding_faults"].items()}
        laws = WindingLaws(
            fault_shares={cause: share / sum(shares.values()) for cause, share in shares.items()},
            shorted_fraction=_limits(sizes["shorted_fraction"], below=1.0),
            contact_ohm=_limits(sizes["contact_ohm"]),
            bridge_ohm=_limits(sizes["bridge_ohm"]),
            wrong_head_factor=_ranges(sizes["wrong_head_factor"]["ranges"]),
            bad_reading_adds_ohm=_limits(sizes["bad_reading_adds_ohm"]),
            open_above_ohm=_positive(sizes["open_above_ohm"], below=1e12),
            winding_to_winding_frac=_positive(scatter["winding_to_winding"], below=0.2),
            bobbin_to_bobbin_frac=_positive(scatter["bobbin_to_bobbin"], below=0.2),
        )
        sound = {reason: _share(value) for reason, value in read["sound"].items()}
        return Priors(
            sound_by_reason={"planned": sound["planned"], "suspected": sound["suspected"], **sound},
            winding=laws,
            mechanical={name: _by_age(name, read["mechanical"][name]) for name in MECHANICAL},
            sha256=sha256,
        )
    except tomllib.TOMLDecodeError as err:
        raise InputError(f"priors: {err}", "Start again from the file that came with the program.") from err
    except InputError:
        raise
    except (KeyError, TypeError, AttributeError, ValueError) as err:
        raise InputError(f"priors: {err} is missing or of the wrong kind", "Compare it with the shipped file.") from err


def _by_age(name: str, value: Any) -> dict[str, float] | float:
    """A mechanical share as one number, or as one number an age."""
    if isinstance(value, dict):
        if missing := [age for age in AGES if age not in value]:
            raise InputError(f"priors: {name} lacks {', '.join(missing)}", "Give a share for every age.")
        return {age: _share(value[age]) for age in AGES}
    return _share(value)


def _share(value: Any) -> float:
    share = float(value)
    if not 0.0 < share < 1.0:
        raise InputError(f"priors: a share of {share} is not between 0 and 1", "Shares are fractions, 0.97 for 97 %.")
    return share


def _positive(value: Any, *, below: float) -> float:
    number = float(value)
    if not 0.0 < number < below:
        raise InputError(f"priors: {number} is not between 0 and {below:g}", "Compare it with the shipped file.")
    return number


def _limits(law: dict[str, Any], *, below: float = 1e12) -> tuple[float, float]:
    return _range(law["low"], law["high"], below)


def _ranges(ranges: list[list[float]]) -> tuple[tuple[float, float], ...]:
    if not ranges:
        raise InputError("priors: wrong_head_factor has no ranges", "Give one or more: [[0.4, 0.75]].")
    return tuple(_range(low, high, 1e6) for low, high in ranges)


def _range(low: Any, high: Any, below: float) -> tuple[float, float]:
    first, last = float(low), float(high)
    if not 0.0 < first < last < below:
        raise InputError(f"priors: limits {first} to {last} are no range", "Low comes before high, both above 0.")
    return first, last
