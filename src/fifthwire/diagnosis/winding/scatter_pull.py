"""What it does to the evidence that the windings scatter in proportion to the head's own scale.

The fit takes the scatter of one resistance. Along the size of a fault the scale moves, by a tenth and more where a
contact explains what heat might, and the scatter with it. To first order in the posterior that is a factor of the
evidence, with d the windings' deviations from the scale's centre, V their covariance and S the scatter:

.. math:: \\frac{\\partial \\ln p}{\\partial \\ln K} = d' M d + \\mathrm{tr}(V M) - \\mathrm{tr}(P_0 S),
          \\quad M = P_0 S P_0
"""

from dataclasses import dataclass
from math import exp, log

from fifthwire.diagnosis.winding.base_fit import Matrix, Prior


@dataclass(frozen=True, slots=True)
class ScatterPull:
    """The factor as a function of the size, a parabola in it, and of the scale."""

    scatter_ohm: float
    n_told: float
    """tr(P0 S) - tr(V M): dimensions of the scatter that the readings tell of."""
    level: float
    rise: float
    bend: float

    def log_factor(self, size: float, scale_ohm: float) -> float:
        """Logarithm of the evidence with the scatter of this scale over that with the fit's; the size from its mean."""
        further = log(scale_ohm / self.scatter_ohm)
        spread = self.level + size * (self.rise + size * self.bend)
        return 0.5 * spread * (1.0 - exp(-2.0 * further)) - self.n_told * further


def scatter_pull(prior: Prior, deviation: list[float], covariance: Matrix, slope: list[float]) -> ScatterPull:
    """From the posterior at the mean size, and how the deviations go with the size.

    Parameters
    ----------
    prior : Prior
        Of the windings.
    deviation : list of float
        Of the windings from the scale's centre. [Ω]
    covariance : list
        Of the windings, the size known. [Ω²]
    slope : list of float
        Deviations for each unit of the size.
    """
    n = len(deviation)
    share = prior.down / prior.rho
    off = share * (prior.rho - n * prior.down)
    precision = prior.precision

    def product(a: list[float], b: list[float]) -> float:
        onto = [sum([p * y for p, y in zip(row, b, strict=True)]) for row in precision]
        return sum([x * y for x, y in zip(a, onto, strict=True)]) - off * sum(a) * sum(b)

    of_covariance = sum(
        [v * (p - off) for row, line in zip(precision, covariance, strict=True) for p, v in zip(row, line, strict=True)]
    )
    return ScatterPull(
        prior.scatter_ohm,
        n * (1.0 - share) - of_covariance,
        product(deviation, deviation),
        2.0 * product(deviation, slope) if any(slope) else 0.0,
        product(slope, slope) if any(slope) else 0.0,
    )
