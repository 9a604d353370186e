"""How probable each running fact is under each behaviour of a valve, and under each state of the system.

Lines that share a code up to the last dot are the outcomes of one look; in every column they add up to 1. A reading
with its uncertainty belongs to each outcome with a weight, so nothing hangs on which side of an edge it falls. The
sources: "simulated circuit" is the room `circuit` of this program, its facts counted over 500 random plants (`python
-m benchmarks evidence_against_circuit`; what differs and is kept is told in docs/circuit.md). "steady circuit" is an
earlier steady-state calculation of a circuit of 24 units with one bad valve, R410A, 35 °C outside, 7 °C evaporating;
its signs and shapes are used, and the figures here are judgement that agrees with them. "Rossi-Braun" is the table of
signs of T. Rossi and J. Braun, HVAC&R Research 3(1), 1997, as printed in H. Li and J. Braun's report on rooftop
units.
"""

from typing import Final

from fifthwire.diagnosis.faults.behaviours import BEHAVIOURS
from fifthwire.model.record import record

STATES: Final = (
    "fine",
    "overfed",
    "overfed-deep",
    "charge-low",
    "charge-low-deep",
    "charge-high",
    "outdoor-airflow",
    "line-restriction",
    "line-restriction-deep",
    "compressor",
)
"""States of the system as they are reckoned: low charge and a restriction each with the valves still holding, or (deep)
wide open and no longer holding. `overfed` is a system with nothing wrong but a valve that floods it: liquid lies on its
low side and is missing on its high side, so it looks short of charge."""

OF_VALVES: Final = """
# fact                  mark follows short   wide    narrow  still   leaks   r-high  r-low   starved dirty   unfill  overf   source
coil.low-min            !    0.0015  0.002   0.780   0.002   0.015   0.0015  0.003   0.100   0.002   0.010   0.300   0.001   computed: steady circuit, stuck over-open: superheat 0 and the command driven to its minimum
coil.low-below          !    0.003   0.003   0.080   0.002   0.020   0.003   0.005   0.080   0.002   0.010   0.220   0.001   judgement
coil.low-like           !    0.010   0.008   0.050   0.003   0.030   0.010   0.020   0.030   0.003   0.010   0.220   0.003   judgement
coil.low-above          !    0.003   0.004   0.008   0.001   0.010   0.003   0.030   0.010   0.002   0.002   0.020   0.001   judgement
coil.low-max            !    0.0003  0.001   0.001   0.010   0.001   0.0003  0.160   0.005   0.001   0.0005  0.005   0.001   computed: simulated circuit: shut, both of its pipes stand at the room; a liquid sensor that reads low: command at its maximum, coil flooded (judgement)
coil.on-min             .    0.012   0.010   0.045   0.002   0.030   0.012   0.005   0.120   0.003   0.080   0.050   0.003   judgement: a small load, or a sensor that reads low
coil.on-below           .    0.080   0.070   0.018   0.005   0.110   0.080   0.020   0.210   0.010   0.470   0.075   0.010   computed: steady circuit, coil with half its air: command 0.27 where its peers stand at 0.41
coil.on-like            .    0.7907  0.756   0.0135  0.0205  0.631   0.7907  0.340   0.290   0.051   0.3505  0.090   0.130   computed: steady circuit, a sensor 3 K off moves the command by 3 % only
coil.on-above           .    0.065   0.070   0.002   0.030   0.070   0.065   0.170   0.010   0.120   0.030   0.006   0.100   judgement
coil.on-max             .    0.006   0.035   0.0005  0.030   0.010   0.006   0.140   0.002   0.150   0.008   0.002   0.050   Results in Engineering 2024, electronic valves under soft faults: a restriction first shows as a wider opening at unchanged superheat
coil.high-min           .    0.002   0.001   0.0005  0.002   0.010   0.002   0.003   0.060   0.001   0.005   0.002   0.003   judgement
coil.high-below         .    0.006   0.003   0.0005  0.007   0.010   0.006   0.003   0.040   0.004   0.010   0.002   0.007   judgement
coil.high-like          .    0.013   0.015   0.0005  0.050   0.030   0.013   0.020   0.036   0.040   0.006   0.005   0.200   judgement: it may be on its way
coil.high-above         !    0.006   0.012   0.0003  0.095   0.018   0.006   0.040   0.005   0.121   0.005   0.002   0.190   judgement
coil.high-max           !    0.0015  0.010   0.0002  0.7405  0.005   0.0015  0.041   0.002   0.490   0.003   0.001   0.300   computed: steady circuit, stuck at 10 to 30 %: superheat 15 to 20 K and the command driven to its maximum
liquid-pipe.low         !    0.0004  0.0004  0.0004  0.0004  0.0004  0.0004  0.450   0.010   0.0004  0.0004  0.0004  0.0004  physics: a coil's inlet is not colder than what evaporates in it
liquid-pipe.near        .    0.9596  0.9596  0.9696  0.5026  0.9596  0.9596  0.540   0.540   0.7596  0.9596  0.9596  0.9596  physics: it stands at evaporating temperature
liquid-pipe.warm        .    0.040   0.040   0.030   0.497   0.040   0.040   0.010   0.450   0.240   0.040   0.040   0.040   computed: steady circuit, hardly any flow: the pipe goes to the air around it
gas-pipe.possible       .    0.9995  0.9995  0.9995  0.9995  0.9995  0.9995  0.990   0.760   0.9995  0.9995  0.9995  0.9995  physics
gas-pipe.impossible     !    0.0005  0.0005  0.0005  0.0005  0.0005  0.0005  0.010   0.240   0.0005  0.0005  0.0005  0.0005  physics: a coil's outlet is not colder than what evaporates in it
air.much                !    0.012   0.005   0.015   0.002   0.012   0.012   0.030   0.004   0.002   0.150   0.012   0.012   computed: simulated circuit, 500 plants, coil with a third to two thirds of its air; a fully open valve changes its air by less than 1 %
air.more                .    0.090   0.050   0.100   0.010   0.090   0.090   0.130   0.020   0.010   0.420   0.090   0.090   computed: simulated circuit, as above
air.like                .    0.838   0.795   0.875   0.168   0.838   0.838   0.790   0.776   0.288   0.410   0.838   0.838   computed: simulated circuit, as above
air.less                .    0.060   0.150   0.010   0.820   0.060   0.060   0.050   0.200   0.700   0.020   0.060   0.060   computed: steady circuit, stuck at half: capacity down 46 %
off-pipes.cold          !    0.0015  0.0015  0.300   0.030   0.050   0.750   0.010   0.050   0.0015  0.0015  0.0015  0.0015  computed: steady circuit, off and passing 5 % and more: pipes near evaporating temperature
off-pipes.cool          .    0.030   0.030   0.100   0.040   0.100   0.200   0.060   0.200   0.030   0.030   0.030   0.030   computed: steady circuit, off and passing 3 to 4 %
off-pipes.warm          .    0.9685  0.9685  0.600   0.930   0.850   0.050   0.930   0.750   0.9685  0.9685  0.9685  0.9685  computed: steady circuit, off and tight: pipes near the room
bypass.wet-low          !    0.006   0.006   0.750   0.005   0.060   0.006   0.010   0.300   0.005   0.006   0.006   0.006   computed: steady circuit, bypass standing open: its outlet wet, its command driven down
bypass.wet-mid          !    0.020   0.020   0.190   0.010   0.100   0.020   0.040   0.200   0.010   0.020   0.020   0.020   computed: steady circuit
bypass.wet-wide         !    0.005   0.008   0.030   0.005   0.020   0.005   0.150   0.010   0.005   0.005   0.005   0.005   judgement
bypass.on-low           .    0.170   0.100   0.020   0.010   0.170   0.170   0.050   0.250   0.020   0.170   0.170   0.170   judgement
bypass.on-mid           .    0.729   0.604   0.006   0.030   0.560   0.729   0.250   0.160   0.060   0.729   0.729   0.729   judgement
bypass.on-wide          .    0.040   0.150   0.001   0.050   0.040   0.040   0.350   0.020   0.150   0.040   0.040   0.040   judgement
bypass.hot-low          .    0.008   0.012   0.001   0.030   0.020   0.008   0.010   0.040   0.015   0.008   0.008   0.008   judgement
bypass.hot-mid          .    0.018   0.050   0.001   0.120   0.020   0.018   0.060   0.018   0.140   0.018   0.018   0.018   judgement
bypass.hot-wide         !    0.004   0.050   0.001   0.740   0.010   0.004   0.080   0.002   0.595   0.004   0.004   0.004   computed: steady circuit, bypass standing at 0 to 20 %: outlet superheat 25 to 30 K
bypass-shut.wet         !    0.040   0.040   0.850   0.040   0.350   0.600   0.050   0.150   0.040   0.040   0.040   0.040   judgement: commanded shut, nothing should leave it
bypass-shut.dry         .    0.960   0.960   0.150   0.960   0.650   0.400   0.950   0.850   0.960   0.960   0.960   0.960   the rest
sensors.bad             !    0.0002  0.0002  0.0002  0.0002  0.0002  0.0002  0.900   0.900   0.0002  0.0002  0.0002  0.0002  judgement: checked with the meter against a reference
sensors.good            .    0.9998  0.9998  0.9998  0.9998  0.9998  0.9998  0.100   0.100   0.9998  0.9998  0.9998  0.9998  judgement: only the sensors that were checked
"""  # noqa: E501 - a table is read across

OF_SYSTEM: Final = """
# fact                 fine    overfed of-deep low     low-deep high    outdoor line    line-deep compr.  source
commands.narrow        0.060   0.030   0.005   0.010   0.005   0.250   0.130   0.010   0.005   0.060   computed: steady circuit, overcharged: valves at 87 % of their usual opening
commands.usual         0.800   0.320   0.025   0.350   0.020   0.705   0.770   0.260   0.020   0.800   judgement: what is usual hangs on how the valves were sized
commands.wide          0.125   0.300   0.170   0.500   0.175   0.043   0.085   0.530   0.175   0.125   Results in Engineering 2024, electronic valves under soft faults: opening before superheat; overfed, computed: steady circuit, liquid stored on the low side opens the other valves by 26 to 99 %
commands.full          0.015   0.350   0.800   0.140   0.800   0.002   0.015   0.200   0.800   0.015   as above
subcooling.none        0.002   0.450   0.700   0.600   0.850   0.003   0.030   0.010   0.010   0.030   Rossi-Braun: low charge, subcooling down; overfed, computed: steady circuit, subcooling 5 K to flash
subcooling.little      0.100   0.250   0.200   0.350   0.130   0.007   0.220   0.040   0.040   0.220   judgement
subcooling.normal      0.872   0.270   0.090   0.045   0.0185  0.190   0.710   0.550   0.500   0.700   judgement
subcooling.much        0.022   0.020   0.007   0.004   0.001   0.400   0.030   0.270   0.280   0.040   Rossi-Braun: liquid-line restriction, subcooling up; overcharged, computed: steady circuit
subcooling.far         0.004   0.010   0.003   0.001   0.0005  0.400   0.010   0.130   0.170   0.010   judgement
condensing.usual       0.966   0.966   0.966   0.970   0.982   0.550   0.060   0.965   0.975   0.950   judgement
condensing.high        0.030   0.030   0.030   0.025   0.015   0.330   0.240   0.030   0.022   0.042   Rossi-Braun: condenser fouled, condensing temperature up
condensing.far         0.004   0.004   0.004   0.005   0.003   0.120   0.700   0.005   0.003   0.008   Rossi-Braun
"""  # noqa: E501 - a table is read across

OF_SUCTION: Final = """
# fact                 wet     dry     source
discharge.below        0.880   0.010   computed: steady circuit, liquid takes 2 to 3 K of discharge superheat a per cent
discharge.near         0.110   0.120   judgement
discharge.above        0.010   0.870   computed: steady circuit
suction.none           0.930   0.040   physics: suction superheat is 0 where liquid comes
suction.some           0.060   0.160   judgement
suction.plenty         0.010   0.800   judgement
"""


@record(kw_only=False)
class RunningRow:
    """One line of a table."""

    code: str
    mark: str
    """`!` finds something wrong, `.` does not; no line alone clears a valve."""
    likelihood: tuple[float, ...]
    """In the order of the columns.  [1]"""
    source: str

    @property
    def question(self) -> str:
        """The look this is an outcome of."""
        return self.code.rpartition(".")[0]


def _parsed(table: str, n_columns: int, *, has_marks: bool = False) -> dict[str, RunningRow]:
    rows = {}
    for line in table.strip().splitlines():
        if not line.startswith("#"):
            code, *rest = line.split(None, n_columns + 1 + has_marks)
            mark = rest.pop(0) if has_marks else "."
            rows[code] = RunningRow(code, mark, tuple(float(one) for one in rest[:n_columns]), rest[n_columns])
    return rows


VALVE_ROWS: Final = _parsed(OF_VALVES, len(BEHAVIOURS), has_marks=True)
"""Code -> line, a column a behaviour."""
SYSTEM_ROWS: Final = _parsed(OF_SYSTEM, len(STATES))
"""Code -> line, a column a state of the system."""
SUCTION_ROWS: Final = _parsed(OF_SUCTION, 2)
"""Code -> line: liquid reaches the compressor, or does not."""
