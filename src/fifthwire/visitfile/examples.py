"""How a key's value looks in a TOML file: the example of its note, or one that fits its kind."""

from typing import Final

from fifthwire.model.fields import FieldNote, Kind

_BY_KIND: Final = {
    Kind.TEXT: '""',
    Kind.FLAG: "true",
    Kind.INTEGER: "1",
    Kind.DAY: "2026-05-12",
    Kind.MOMENT: "2026-05-12T10:30:00+01:00",
}
_BY_UNIT: Final = {
    "ohm": '"62 ohm"', "degC": '"20 degC"', "K": '"5 K"', "kPa": '"915 kPa"', "m": '"40 m"', "min": "10",
    "frac": "0.5", "kW": '"82 kW"', "pulses": "480", "V": '"12 V"', "Hz": '"62 Hz"', "mm": "0.5",
}  # fmt: skip
_BY_GRAMMAR: Final = {
    "tolerance": '"10 %"',
    "accuracy": '"0.9 % + 2 digits"',
    "ohm-pair": '["100.0 ohm", "100.3 ohm"]',
    "readings": '[["5", "1", 64.9], ["5", "2", "open"]]',
    "insulation": '"120 Mohm"',
    "insulation-test": '"500 V"',
    "wires": '"5"',
    "day-or-never": "2021-04-02",
    "pulses": '{ "1" = true, "2" = true, "3" = true, "4" = true }',
    "opening": "96",
    "opening-pair": "[210, 190]",
    "kelvin-pair": '["5.1 K", "10.8 K"]',
    "curve-table": '[["0 degC", "32.58 kohm"], ["10 degC", "20.00 kohm"], ["25 degC", "10.00 kohm"]]',
    "three-numbers": "[1.129148e-3, 2.34125e-4, 8.76741e-8]",
    "ohm-or-open": '"13.8 kohm"',
    "sha256": '"0000000000000000000000000000000000000000000000000000000000000000"',
    "speed-range": "[0.2, 1.2]",
    "valve-curve": '"concave"',
    "log-likelihood": "{ not-following = 0.0, sound = -3.2 }",
}
NAMES: Final = {
    "specs": "outdoor-clip", "meters": "handheld", "curves": "coil", "outdoor": "OU1", "compressors": "C1",
    "valves": "OU1-subcooler", "units": "IU07",
}  # fmt: skip
"""Of the tables by name."""


def example_of(note: FieldNote) -> str:
    """What may stand right of the equals sign; empty for tables."""
    if note.example:
        return note.example
    if note.kind is Kind.SPECIAL:
        return _BY_GRAMMAR[note.special]
    if note.choices:
        return f'"{note.choices[0]}"'
    return _BY_UNIT[note.unit] if note.unit else _BY_KIND.get(note.kind, "")
