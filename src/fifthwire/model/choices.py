"""The choices a key may take, in the order in which they are offered and in which ties are broken."""

from typing import Final

REASONS_FOR_VISIT: Final = ("planned", "comfort", "compressor-failure", "start-up", "follow-up")
MODES: Final = ("cooling", "heating", "mixed", "off")
PLANT_MODES: Final = ("cooling", "heating", "mixed")
VALVE_CURVES: Final = ("concave", "linear")
UNIT_SENSORS: Final = ("gas_pipe", "liquid_pipe", "supply_air")
OUTDOOR_SENSORS: Final = (
    "suction_pressure",
    "discharge_pressure",
    "suction_temperature",
    "discharge_temperature",
    "bypass_outlet",
)
WINDING_ARRANGEMENTS: Final = ("unipolar-5", "unipolar-6", "bipolar-4", "single-2")
ROLES: Final = (
    "main",
    "subcooler-bypass",
    "injection",
    "hot-gas-bypass",
    "receiver",
    "indoor",
    "branch-liquid",
    "branch-hot-gas",
    "branch-suction",
    "branch-subcooler",
)
VALVE_KINDS: Final = ("eev", "solenoid")
HEADS: Final = ("clip-on", "bolt-on")
ACCESS: Final = ("easy", "ladder", "ceiling", "roof")
HEAD_TEMPERATURE_FROM: Final = ("air-after-1h", "clamp", "infrared", "by-hand")
MEASURED_WHEN: Final = ("as-found", "after-cleaning", "after-replacement")
MEASURED_AT: Final = ("head-plug", "through-harness", "board-plug")
RUST: Final = ("none", "light", "heavy")
CONNECTOR: Final = ("dry", "wet", "corroded")
STEM: Final = ("retracted", "part-way", "extended")
FELT: Final = ("steps", "rocking", "nothing")
MOVES_OR_STUCK: Final = ("moves", "stuck")
PLUG_SWAP: Final = ("fault-moves", "fault-stays")
BOARD_WHEN: Final = ("start-up", "commanded", "at-rest")
SNAPSHOT_STATES: Final = ("normal", "start", "oil-return", "defrost", "protection")
SHELLS: Final = ("high-side", "low-side")
WORK_DONE: Final = ("cleaned", "reseated", "replaced-head", "replaced-body", "repaired-plug-or-harness")
CONFIRMATIONS: Final = (
    "compressors-stopped",
    "valves-open-for-service",
    "locked-out",
    "proved-dead",
    "bus-measured",
    "refitted",
    "service-state-cancelled",
)
PROOF_KINDS: Final = ("start-up-heard", "stem-travel", "step-response", "shut-off", "ran-30-min")
PROOF_RESULTS: Final = ("passed", "failed")
EVIDENCE_FROM: Final = ("log",)
LOG_CAUSES: Final = ("sound", "not-following", "passes-when-shut", "hunting", "sensor", "refrigerant-side")
REFRIGERANTS: Final = (
    "R410A",
    "R32",
    "R22",
    "R407C",
    "R134a",
    "R404A",
    "R290",
    "R744",
    "R454B",
    "R452B",
    "R454C",
    "R513A",
)

WINDING_VERDICTS: Final = ("sound", "faulty", "undecided", "not-measured")
WINDING_CAUSES: Final = (
    "sound",
    "open-winding",
    "open-common",
    "shorted-turns",
    "bad-contact",
    "bridged",
    "wrong-head",
    "bad-reading",
)
VALVE_CAUSES: Final = (
    "sound",
    "winding",
    "head-jammed",
    "head-cracked",
    "head-unseated",
    "body-stuck-open",
    "body-stuck-closed",
    "leaks-when-shut",
    "plug-or-harness",
    "board-output",
    "sensor",
    "wrong-head",
    "refrigerant-side",
)
SYSTEM_CAUSES: Final = ("fine", "charge-low", "charge-high", "outdoor-airflow", "line-restriction", "compressor")
ACTIONS: Final = (
    "keep",
    "clean",
    "reseat",
    "replace-head",
    "replace-body",
    "repair-plug-or-harness",
    "check-board",
    "check-sensor",
    "check-refrigerant-side",
    "watch",
    "check-more",
)
URGENCIES: Final = ("now", "planned", "none")
MEANWHILE: Final = ("none", "unit-off", "valve-held-shut", "branch-isolated", "limit-load", "system-off")
FLOODBACK: Final = ("unlikely", "possible", "likely", "unknown")
SENSOR_VERDICTS: Final = ("good", "off", "open", "shorted", "undecided")
