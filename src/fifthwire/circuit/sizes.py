"""Generic sizes where a plant gives none: every one a judgement, for machines of the trade's common make-up.

They set how large an effect comes out, not its sign. None was taken from a machine in the field.
"""

from typing import Final

RATED_AMBIENT_C: Final = 35.0
"""[°C]  ISO 15042, standard cooling, from memory."""
RATED_ROOM_C: Final = 27.0
"""[°C]  ISO 15042, standard cooling, from memory."""
RATED_ROOM_HUMIDITY: Final = 0.47
"""Relative, at 27 °C dry and 19 °C wet bulb.  [1]"""
RATED_EVAPORATING_C: Final = 7.0
RATED_SUPERHEAT_K: Final = 5.0
RATED_OPENING: Final = 0.41
"""Of an indoor valve at its rated capacity.  [1]"""
RATED_BYPASS_OPENING: Final = 0.42
RATED_MAIN_OPENING: Final = 0.50
RATED_SUBCOOLER_K: Final = 7.0
"""That the subcooler cools the liquid.  [K]"""
LEAST_COMMAND: Final = 0.06
"""Where the controller stops closing a running unit's valve.  [1]"""

INDOOR_AIR_KG_S_KW: Final = 0.055
"""Airflow of an indoor unit for its rated capacity."""
INDOOR_INNER_PER_OUTER: Final = 2.0
"""Boiling side over air side, of an indoor coil.  [1]"""
OUTDOOR_UNITS_OF_TRANSFER: Final = 1.3
"""Of an outdoor coil while it condenses.  [1]"""
OUTDOOR_INNER_PER_OUTER: Final = 1.5
VAPOUR_INNER: Final = 0.15
"""Inner conductance of vapour over that of boiling or condensing.  [1]"""
LIQUID_INNER: Final = 0.35
SUBCOOLER_VAPOUR: Final = 0.12
"""Conductance of the subcooler's vapour end over that of its boiling part.  [1]"""
OFF_AIRFLOW: Final = 0.04
"""Air that moves through a coil whose fan stands, of the rated airflow.  [1]"""
OUTDOOR_HUMIDITY_HEATING: Final = 0.85
"""Relative, outside, when heating.  [1]"""

OUTDOOR_COIL_L_KW: Final = 0.40
INDOOR_COIL_L_KW: Final = 0.25
LIQUID_LINE_L_KW: Final = 0.20
GAS_LINE_L_KW: Final = 0.50
ACCUMULATOR_L_KW: Final = 0.25
"""Volumes for a rated kilowatt."""
BLEED_G_S_KW: Final = 0.075
"""Liquid that the accumulator's bleed hole passes with no level above it, for a rated kilowatt."""
BLEED_FULL: Final = 1.65
"""How much more it passes with a full accumulator above it.  [1]  Head of 0.35 m against a drop of 2.2 kPa."""

RATED_HEATING_EVAPORATING_C: Final = 0.0
LIQUID_PRESSURE_SHARE: Final = 0.65
"""Where the liquid line's pressure stands between suction and discharge when heating.  [1]"""
OFF_HEATING_OPENING: Final = 0.08
"""At which a unit that is off is held while others heat, so that it does not fill with liquid.  [1]"""
MOST_CONDENSING_C: Final = 62.0
"""Where the high-pressure limit holds the speed back.  [°C]"""
LEAST_EVAPORATING_C: Final = -15.0
"""Where the low-pressure limit holds the speed back, when cooling.  [°C]"""
LEAST_EVAPORATING_HEATING_C: Final = -35.0
"""The same when heating.  [°C]"""
