"""What the winding inference is given: one measurement of one head, its spec, its meter and the laws of heads."""

from fifthwire.model.record import record
from fifthwire.model.valve import PairReading


@record
class RangeLaw:
    """One range of a meter: limits of uniform errors. `of_reading_frac` is common to all readings of one head."""

    to_ohm: float = float("inf")
    of_reading_frac: float = 0.01
    digits: float = 2.0
    resolution_ohm: float = 0.1


@record
class MeterLaw:
    """The meter: its ranges by rising `to_ohm`, and what it reads with the probes shorted. [Ω]"""

    ranges: tuple[RangeLaw, ...] = (RangeLaw(),)
    leads_ohm: float = 0.0


@record
class SpecLaw:
    """What one winding should read. `tolerance_frac` is the limit, three standard deviations of the batch."""

    resistance_ohm: float
    tolerance_frac: float
    at_c: float


@record
class HeadTemperature:
    """Temperature of the copper: normal about `centre_c` with `sd_k`; where that is None, uniform in the limits."""

    centre_c: float | None = None
    sd_k: float = 2.5
    low_c: float = -15.0
    high_c: float = 75.0


@record
class WindingCase:
    """One measurement of one head."""

    readings: tuple[PairReading, ...]
    meter: MeterLaw
    head: HeadTemperature
    arrangement: str | None = None
    """unipolar-5, unipolar-6, bipolar-4 or single-2; None: inferred among those that the wires seen allow."""
    spec: SpecLaw | None = None
    common: tuple[str, ...] = ()
    """As stated by the technician: one wire, or two for six wires; empty: inferred."""
    sound_prior: float = 0.97


@record
class WindingLaws:
    """What heads and readings are like before a reading is taken: the winding part of `priors.toml`."""

    fault_shares: dict[str, float]
    """Shares among the heads that are not sound, summing to 1."""
    shorted_fraction: tuple[float, float] = (0.03, 0.60)
    contact_ohm: tuple[float, float] = (2.0, 200.0)
    bridge_ohm: tuple[float, float] = (0.5, 200.0)
    bridge_tail_ohm: float = 20e3
    wrong_head_factor: tuple[tuple[float, float], ...] = ((0.40, 0.75), (1.35, 2.50))
    wrong_head_tail_factor: tuple[tuple[float, float], ...] = ((0.15, 0.40), (2.50, 7.0))
    bad_reading_adds_ohm: tuple[float, float] = (1.0, 50.0)
    bad_reading_open_share: float = 0.40
    open_above_ohm: float = 20e6
    winding_to_winding_frac: float = 0.004
    bobbin_to_bobbin_frac: float = 0.007
    touch_ohm: float = 0.08
    leads_within_ohm: float = 0.05
