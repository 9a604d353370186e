// After a reading is kept the field for the next one is ready: the hands are at the probes.
"use strict";

document.addEventListener("htmx:afterSettle", () => document.getElementById("r-ohm")?.focus());
