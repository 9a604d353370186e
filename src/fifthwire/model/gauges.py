"""What is said where a refrigerant's pressure is read or looked up: cautions, and what the figures mean."""

from typing import Final

BURNS: Final = ("R32", "R454B", "R452B", "R454C")
"""Class A2L of ISO 817: they burn, slowly. R452B and R454C from memory."""
BURNS_READILY: Final = ("R290",)
"""Class A3 of ISO 817.  From memory."""
HIGH_AT_REST: Final = ("R744",)

HANDS: Final = (
    "At the gauges: eyes and hands covered; hoses and gauges rated for the pressure and for this refrigerant. Opening "
    "the circuit is for licensed people; local codes rule."
)
A2L: Final = "{name} can burn: no ignition source, ventilate, a detector and tools made for it."
A3: Final = "{name} burns readily: no ignition source, ventilate, a detector and tools made for it, charge limits kept."
AT_REST: Final = "{name} stands at high pressure even at rest, and where it leaks it takes the place of the air."

WHICH_LINE: Final = "Superheat is counted from dew, subcooling from bubble."
ONE_LINE: Final = "Dew and bubble are one line: superheat and subcooling are counted from it."
MODEL: Final = (
    "The model of {name} is uncertain by ± {model_u_k:g} K: a producer's chart lies up to a third of a kelvin away."
)
SOURCE: Final = "Fits to CoolProp 8, within 0.001 K of it."
NO_DEW: Final = "At this pressure the dew line lies outside the range of {low_c} to {high_c} °C."
NO_BUBBLE: Final = "At this pressure the bubble line lies outside the range of {low_c} to {high_c} °C."

BETA_LAW: Final = (
    "The beta law leaves a usual sensor's own table away from 25 °C: it reads some 0.6 K high at 0 °C and 2.4 K high "
    "at −20 °C. Below 5 °C do not decide superheat on it; use the sensor's table."
)
BEYOND_POINTS: Final = "{c} °C lies beyond the points that the curve was laid through ({low_c} to {high_c} °C)."
SENSOR_OFF: Final = "Power off and the sensor unplugged before it is measured: on the board it reads wrong."


def cautions_of(name: str) -> tuple[str, ...]:
    """Cautions where this refrigerant's pressure is read.

    Examples
    --------
    >>> [line.split(":")[0] for line in cautions_of("R32")]
    ['At the gauges', 'R32 can burn']
    """
    more = {**dict.fromkeys(BURNS, A2L), **dict.fromkeys(BURNS_READILY, A3), **dict.fromkeys(HIGH_AT_REST, AT_REST)}
    return (HANDS, more[name].format(name=name)) if name in more else (HANDS,)
