"""Writes the coefficients of the refrigerants, fitted to CoolProp, and states how far the fits are from it.

    python tools/refrigerants.py            writes src/fifthwire/physics/refrigerants/fluids/*.py
    python tools/refrigerants.py R32 R410A  only these
    python tools/refrigerants.py --check    fits again and compares with what stands there

Saturation: Chebyshev series of degree 12, dew and bubble apart, pressure in its logarithm. Saturated liquid: degree 16
in temperature, with its density and with how its enthalpy rises with pressure at one temperature. Vapour: a product of
two Chebyshev series, 12 by 10, in the roots of the distances to the critical
temperature and to the dew line, where the curves are steep. Reference state IIR: 200 kJ/kg and 1 kJ/(kg K) for
saturated liquid at 0 °C. CoolProp's failing points are left out and counted; more than a tenth of them is an error.
"""

import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

import numpy as np
from CoolProp import CoolProp as coolprop  # noqa: N813 - the module has the name of its package
from numpy.polynomial import chebyshev
from numpy.typing import NDArray

Array = NDArray[np.float64]

FLUIDS: Final = {name: name for name in ("R410A", "R32", "R22", "R407C", "R134a", "R404A", "R290", "R744")} | {
    name: name + ".mix" for name in ("R454B", "R452B", "R454C", "R513A")
}
"""Pseudo-pure equations where they exist, CoolProp's mixtures elsewhere."""
WHERE: Final = Path(__file__).resolve().parents[1] / "src/fifthwire/physics/refrigerants/fluids"
LOW_C: Final = -50.0
HIGH_C: Final = 65.0
HIGHEST_C: Final = {"R744": 29.0}
BELOW_CRITICAL_K: Final = 15.0
"""Blends end this far below their critical temperature: above it the mixture's flash fails."""
BEYOND_BLEND_K: Final = 20.0
"""A blend's vapour is fitted in the root of the distance to this much above its highest temperature."""
SUPERHEAT_K: Final = 100.0
KELVIN: Final = 273.15
SATURATION_DEGREE: Final = 12
LIQUID_DEGREE: Final = 16
VAPOUR_DEGREE: Final = (12, 10)
LEFT_OUT_AT_MOST: Final = 0.10
PRESSED_KPA: Final = 300.0
"""Above saturation: the pressure of liquid that is subcooled some kelvin."""


@dataclass
class Fluid:
    """One refrigerant as CoolProp sees it; every function gives None where CoolProp finds nothing."""

    name: str

    def __post_init__(self) -> None:
        """Set the reference state by hand: CoolProp sets it for pure fluids only."""
        self.state: Any = coolprop.AbstractState("HEOS", FLUIDS[self.name])
        self.is_blend = FLUIDS[self.name].endswith(".mix")
        self.asked = self.failed = 0
        self.state.update(coolprop.QT_INPUTS, 0.0, KELVIN)
        self.h0, self.s0 = self.state.hmass(), self.state.smass()
        points = self.state.all_critical_points() if self.is_blend else []
        self.critical_c = (max(point.T for point in points) if points else self.state.T_critical()) - KELVIN
        blend_high = min(HIGH_C, self.critical_c - BELOW_CRITICAL_K)
        self.high_c = HIGHEST_C.get(self.name, blend_high if self.is_blend else HIGH_C)
        self.root_c = self.high_c + BEYOND_BLEND_K if self.is_blend else self.critical_c

    def update(self, inputs: int, first: float, second: float) -> bool:
        """Ask CoolProp for a state, and count what it cannot find."""
        self.asked += 1
        try:
            self.state.update(inputs, first, second)
        except ValueError:
            self.failed += 1
            return False
        return True

    def enthalpy(self) -> float:
        """Of the state, with the reference of the International Institute of Refrigeration. [kJ/kg]"""
        return float((self.state.hmass() - self.h0) / 1e3 + 200.0)

    def entropy(self) -> float:
        """Of the state. [kJ/(kg K)]"""
        return float((self.state.smass() - self.s0) / 1e3 + 1.0)

    def log_pressure(self, c: float, quality: float) -> float | None:
        """Logarithm of the saturation pressure in kPa."""
        if not self.update(coolprop.QT_INPUTS, quality, c + KELVIN):
            return None
        return float(np.log(self.state.p() / 1e3))

    def saturation_c(self, log_kpa: float, quality: float) -> float | None:
        """Saturation temperature. [°C]"""
        if not self.update(coolprop.PQ_INPUTS, float(np.exp(log_kpa)) * 1e3, quality):
            return None
        return float(self.state.T()) - KELVIN

    def liquid(self, c: float) -> tuple[float, float] | None:
        """Enthalpy and entropy of saturated liquid. [kJ/kg, kJ/(kg K)]"""
        return (self.enthalpy(), self.entropy()) if self.update(coolprop.QT_INPUTS, 0.0, c + KELVIN) else None

    def liquid_density(self, c: float) -> float | None:
        """Logarithm of the density of saturated liquid. [ln kg/m³]"""
        return float(np.log(self.state.rhomass())) if self.update(coolprop.QT_INPUTS, 0.0, c + KELVIN) else None

    def liquid_slope(self, c: float) -> float | None:
        """What a kPa above saturation adds to the enthalpy of liquid, near saturation. [kJ/(kg kPa)]"""
        if not self.update(coolprop.QT_INPUTS, 0.0, c + KELVIN):
            return None
        pressure, saturated = self.state.p(), self.state.hmass()
        self.state.specify_phase(coolprop.iphase_liquid)
        found = self.update(coolprop.PT_INPUTS, pressure + 1e3 * PRESSED_KPA, c + KELVIN)
        slope = (self.state.hmass() - saturated) / 1e3 / PRESSED_KPA if found else None
        self.state.unspecify_phase()
        return slope

    def vapour(self, dew_c: float, superheat_k: float) -> tuple[float, float, float] | None:
        """Enthalpy, entropy and logarithm of density. [kJ/kg, kJ/(kg K), ln kg/m³]"""
        if not self.update(coolprop.QT_INPUTS, 1.0, dew_c + KELVIN):
            return None
        if superheat_k > 1e-9:
            pressure = self.state.p()
            self.state.specify_phase(coolprop.iphase_gas)
            found = self.update(coolprop.PT_INPUTS, pressure, dew_c + KELVIN + superheat_k)
            values = (self.enthalpy(), self.entropy(), float(np.log(self.state.rhomass()))) if found else None
            self.state.unspecify_phase()
            return values
        return self.enthalpy(), self.entropy(), float(np.log(self.state.rhomass()))


def nodes(n: int) -> Array:
    """Roots of a Chebyshev polynomial."""
    return np.cos((np.arange(n) + 0.5) * np.pi / n)


def fit_line(of: Any, low: float, high: float, degree: int) -> Array:
    """Least-squares Chebyshev coefficients of a function of one variable over an interval."""
    points = [(x, of((low + high) / 2 + (high - low) / 2 * x)) for x in nodes(5 * degree)]
    kept = [(x, value) for x, value in points if value is not None]
    return np.asarray(chebyshev.chebfit([x for x, _ in kept], [value for _, value in kept], degree))


def fit_vapour(fluid: Fluid) -> Array:
    """Coefficients of enthalpy, entropy and logarithm of density, shape (3, 13, 11)."""
    near, far = np.sqrt(fluid.root_c - fluid.high_c), np.sqrt(fluid.root_c - LOW_C)
    rows = []
    for x in nodes(40):
        dew_c = fluid.root_c - ((near + far) / 2 + (far - near) / 2 * x) ** 2
        for y in nodes(24):
            values = fluid.vapour(dew_c, SUPERHEAT_K * ((y + 1.0) / 2.0) ** 2)
            if values is not None:
                rows.append((x, y, *values))
    table = np.array(rows)
    matrix = chebyshev.chebvander2d(table[:, 0], table[:, 1], VAPOUR_DEGREE)
    found, *_ = np.linalg.lstsq(matrix, table[:, 2:], rcond=None)
    return np.asarray(found.T.reshape(3, VAPOUR_DEGREE[0] + 1, VAPOUR_DEGREE[1] + 1))


def fit_fluid(name: str) -> dict[str, Any]:
    """All coefficients of one refrigerant, with the errors held out."""
    fluid = Fluid(name)
    data: dict[str, Any] = {"name": name, "critical_c": round(fluid.critical_c, 3)}
    data |= {"low_c": LOW_C, "high_c": round(fluid.high_c, 3), "root_c": round(fluid.root_c, 3)}
    fluid.high_c, fluid.root_c = data["high_c"], data["root_c"]
    for line, quality in (("dew", 1.0), ("bubble", 0.0)):
        log_p = fit_line(lambda c, q=quality: fluid.log_pressure(c, q), LOW_C, fluid.high_c, SATURATION_DEGREE)
        ends = (float(chebyshev.chebval(-1.0, log_p)), float(chebyshev.chebval(1.0, log_p)))
        back = fit_line(lambda x, q=quality: fluid.saturation_c(x, q), *ends, SATURATION_DEGREE)
        data |= {f"{line}_log_kpa": log_p, f"{line}_ends": ends, f"{line}_c": back}
    data["liquid_enthalpy"] = fit_line(lambda c: (fluid.liquid(c) or (None,))[0], LOW_C, fluid.high_c, LIQUID_DEGREE)
    data["liquid_entropy"] = fit_line(
        lambda c: (fluid.liquid(c) or (None, None))[1], LOW_C, fluid.high_c, LIQUID_DEGREE
    )
    data["liquid_log_density"] = fit_line(fluid.liquid_density, LOW_C, fluid.high_c, LIQUID_DEGREE)
    data["liquid_slope"] = fit_line(fluid.liquid_slope, LOW_C, fluid.high_c, LIQUID_DEGREE)
    vapour = fit_vapour(fluid)
    data |= {"vapour_enthalpy": vapour[0], "vapour_entropy": vapour[1], "vapour_log_density": vapour[2]}
    data["left_out"] = round(fluid.failed / fluid.asked, 4)
    if data["left_out"] > LEFT_OUT_AT_MOST:
        raise SystemExit(f"{name}: CoolProp failed at {fluid.failed} of {fluid.asked} points")
    return data | errors_of(data, Fluid(name))


def errors_of(data: dict[str, Any], fluid: Fluid, n: int = 300, seed: int = 20260512) -> dict[str, float]:
    """Worst distances from CoolProp at points that were not fitted.

    Parameters
    ----------
    data : dict
        Coefficients, as `fit_fluid` names them.
    fluid : Fluid
        CoolProp's.
    n : int
        Points of each kind.
    seed : int
        Of the points.
    """
    random, low, high = np.random.default_rng(seed), LOW_C, data["high_c"]
    fluid.high_c, fluid.root_c = high, data["root_c"]
    saturation, liquid, vapour = [0.0], [0.0], [np.zeros(3)]
    for c in random.uniform(low, high, n):
        for line, quality in (("dew", 1.0), ("bubble", 0.0)):
            log_p = fluid.log_pressure(c, quality)
            if log_p is not None:
                first, last = data[f"{line}_ends"]
                x = (2.0 * log_p - first - last) / (last - first)
                saturation.append(abs(float(chebyshev.chebval(x, data[f"{line}_c"])) - c))
        found = fluid.liquid(c)
        if found is not None:
            x = (2.0 * c - low - high) / (high - low)
            liquid.append(abs(float(chebyshev.chebval(x, data["liquid_enthalpy"])) - found[0]))
    near, far = np.sqrt(fluid.root_c - high), np.sqrt(fluid.root_c - low)
    for dew_c in random.uniform(low, high, n):
        superheat_k = float(random.choice([random.uniform(0.0, SUPERHEAT_K), random.uniform(0.0, 8.0)]))
        values = fluid.vapour(dew_c, superheat_k)
        if values is not None:
            x = (2.0 * np.sqrt(fluid.root_c - dew_c) - near - far) / (far - near)
            y = 2.0 * np.sqrt(superheat_k / SUPERHEAT_K) - 1.0
            names = ("vapour_enthalpy", "vapour_entropy", "vapour_log_density")
            fitted = [float(chebyshev.chebval2d(x, y, data[one])) for one in names]
            vapour.append(np.abs(np.array(fitted) - np.array(values)))
    worst = np.max(vapour, axis=0)
    return {
        "saturation_error_k": float(f"{max(saturation):.1e}"),
        "liquid_enthalpy_error_kj_kg": float(f"{max(liquid):.1e}"),
        "vapour_enthalpy_error_kj_kg": float(f"{worst[0]:.1e}"),
        "vapour_entropy_error_kj_kg_k": float(f"{worst[1]:.1e}"),
        "vapour_density_error_frac": float(f"{worst[2]:.1e}"),
    }


def module_of(data: dict[str, Any]) -> str:
    """The text of a fluid's module."""
    lines = [
        f'"""{data["name"]}: coefficients fitted to CoolProp {coolprop.get_global_param_string("version")} by '
        'tools/refrigerants.py. Do not edit."""',
        "",
        "from fifthwire.physics.refrigerants.coefficients import Coefficients",
        "",
        "FLUID = Coefficients(",
    ]
    lines += [f"    {key}={_written(value)}," for key, value in data.items()]
    return "\n".join([*lines, ")", ""])


def _written(value: Any) -> str:
    if isinstance(value, np.ndarray):
        return "(" + ", ".join(_written(row) for row in value) + ")" if value.ndim > 1 else _row(value)
    return _row(np.array(value)) if isinstance(value, tuple) else repr(value)


def _row(values: Array) -> str:
    return "(" + ", ".join(f"{float(value):.13g}" for value in values) + ")"


def main(arguments: list[str]) -> int:
    """Write or check the modules."""
    names = [name for name in arguments if not name.startswith("-")] or list(FLUIDS)
    WHERE.mkdir(parents=True, exist_ok=True)
    for name in names:
        data = fit_fluid(name)
        path = WHERE / f"{name.lower()}.py"
        if "--check" in arguments:
            if path.read_text("utf-8") != module_of(data):
                print(f"{path}: differs from what CoolProp gives now", file=sys.stderr)
                return 1
            continue
        path.write_text(module_of(data), encoding="utf-8")
        told = ", ".join(f"{key} {value}" for key, value in data.items() if "error" in key or key == "left_out")
        print(f"{name}: {told}")
    return 0


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
