"""How probable each fact is under each cause: one line a fact, with its source.

A line reads: the fact's code; its mark; the probability of the fact under each cause in the order of `CAUSES`; the
source. Lines that share a code up to the last dot are the outcomes of one look: under each cause they add up to 1.
`-` stands where a cause does not exist on the head that the look belongs to. Marks: `+` a look at the head or the
body that finds nothing wrong, `!` one that finds something wrong, `.` neither.

None of the figures has a published source: they are judgement, and the words beside them say what they rest on. To
argue with a verdict, argue with a line.
"""

from typing import Final

from fifthwire.model.record import record

CAUSES: Final = (
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
"""The causes of a valve, in the order of the columns."""

TABLE: Final = """
# fact                         mark sound    winding  jammed   cracked  unseated open     closed   leaks    plug     board    sensor   wrong    refr.    source
rust.none                      +   0.70     0.70     0.60     0.50     0.12     0.45     0.45     0.70     0.70     0.70     0.70     0.70     0.70     judgement: rust under a coil lifts it off the can
rust.light                     !   0.24     0.24     0.25     0.30     0.33     0.30     0.30     0.24     0.24     0.24     0.24     0.24     0.24     judgement
rust.heavy                     !   0.06     0.06     0.15     0.20     0.55     0.25     0.25     0.06     0.06     0.06     0.06     0.06     0.06     judgement
pitted.yes                     !   0.00002  0.00002  0.00002  0.00002  0.00002  0.30     0.30     0.30     0.00002  0.00002  0.00002  0.00002  0.00002  rule, no frequency: a pitted can is a pressure part and counts as the body's fault
pitted.no                      .   0.99998  0.99998  0.99998  0.99998  0.99998  0.70     0.70     0.70     0.99998  0.99998  0.99998  0.99998  0.99998  the rest
cracks.yes                     !   0.00002  0.00002  0.00002  0.95     -        0.00002  0.00002  0.00002  0.00002  0.00002  0.00002  0.00002  0.00002  judgement: seen by eye, hardly ever mistaken
cracks.no                      +   0.99998  0.99998  0.99998  0.05     -        0.99998  0.99998  0.99998  0.99998  0.99998  0.99998  0.99998  0.99998  judgement: one crack in twenty is missed
seated.no                      !   0.0005   0.0005   -        -        0.60     0.0005   0.0005   0.0005   0.0005   0.0005   0.0005   0.0005   0.0005   judgement: seen by eye
seated.yes                     +   0.9995   0.9995   -        -        0.40     0.9995   0.9995   0.9995   0.9995   0.9995   0.9995   0.9995   0.9995   judgement: rust or a bent shell holds off a coil that is latched
connector.dry                  .   0.95     0.92     0.90     0.70     0.93     0.95     0.95     0.95     0.50     0.93     0.95     0.95     0.95     judgement
connector.wet                  !   0.03     0.05     0.07     0.25     0.04     0.03     0.03     0.03     0.22     0.04     0.03     0.03     0.03     judgement: a cracked housing lets moisture in
connector.corroded             !   0.02     0.03     0.03     0.05     0.03     0.02     0.02     0.02     0.28     0.03     0.02     0.02     0.02     judgement
insulation.good                .   0.99     0.60     0.97     0.65     0.97     0.99     0.99     0.99     0.97     0.99     0.99     0.99     0.99     judgement
insulation.suspect             !   0.009999 0.20     0.0299   0.30     0.029999 0.009999 0.009999 0.009999 0.029999 0.009999 0.009999 0.009999 0.009999 judgement: under 1 Mohm
insulation.fault               !   0.000001 0.20     0.0001   0.05     0.000001 0.000001 0.000001 0.000001 0.000001 0.000001 0.000001 0.000001 0.000001 judgement: still under 0.1 Mohm after drying
stem.back                      +   0.9979   0.60     0.05     0.60     -        0.9979   0.9979   0.9979   0.95     0.45     0.9979   0.90     0.9979   common practice; figures judgement: in the service state a good stem is fully back
stem.between                   .   0.002    0.05     0.02     0.05     -        0.002    0.002    0.002    0.02     0.05     0.002    0.05     0.002    judgement: neither back nor clearly out
stem.out                       !   0.0001   0.35     0.93     0.35     -        0.0001   0.0001   0.0001   0.03     0.50     0.0001   0.05     0.0001   common practice; figures judgement: standing out in the service state is jammed, or was never driven
felt.motor.steps               +   0.9938   0.15     0.02     0.55     -        0.93     0.93     0.9938   0.50     0.10     0.9938   0.60     0.9938   judgement: it pushes and pulls back even on a stuck body
felt.motor.rocking             !   0.0002   0.60     0.73     0.35     -        0.02     0.02     0.0002   0.18     0.35     0.0002   0.25     0.0002   common practice; figures judgement: bound gears, or a phase that is missing
felt.motor.nothing             !   0.006    0.25     0.25     0.10     -        0.05     0.05     0.006    0.32     0.55     0.006    0.15     0.006    judgement
felt.coil.steps                .   0.90     0.30     -        -        0.90     0.90     0.90     0.90     0.35     0.10     0.90     0.80     0.90     common practice; figures judgement: a hum proves drive, and nothing of movement
felt.coil.rocking              !   0.05     0.40     -        -        0.05     0.05     0.05     0.05     0.30     0.30     0.05     0.10     0.05     judgement: a phase is missing
felt.coil.nothing              !   0.05     0.30     -        -        0.05     0.05     0.05     0.05     0.35     0.60     0.05     0.10     0.05     judgement: many a good coil is too quiet to feel
hand-magnet.moves              +   0.99     0.99     -        -        0.99     0.03     0.03     0.99     0.99     0.99     0.99     0.99     0.99     judgement: drives the body without head, plug or board
hand-magnet.stuck              !   0.01     0.01     -        -        0.01     0.97     0.97     0.01     0.01     0.01     0.01     0.01     0.01     judgement
good-head.moves                .   0.9995   0.9995   0.9995   0.9995   0.98     0.03     0.03     0.995    0.30     0.05     0.9995   0.9995   0.9995   judgement: same body, plug and board; its own head has no part in it
good-head.stuck                !   0.0005   0.0005   0.0005   0.0005   0.02     0.97     0.97     0.005    0.70     0.95     0.0005   0.0005   0.0005   judgement
own-head-after-good.moves      +   0.99995  0.10     0.03     0.40     0.35     0.50     0.50     0.999    0.985    0.90     0.99995  0.70     0.99995  judgement: only the head was changed
own-head-after-good.stuck      !   0.00005  0.90     0.97     0.60     0.65     0.50     0.50     0.001    0.015    0.10     0.00005  0.30     0.00005  judgement: only the head was changed, so the fault is in it
own-head.moves                 +   0.99     0.10     0.03     0.40     0.35     0.03     0.03     0.97     0.40     0.15     0.99     0.70     0.99     judgement
own-head.stuck                 !   0.01     0.90     0.97     0.60     0.65     0.97     0.97     0.03     0.60     0.85     0.01     0.30     0.01     judgement
after-cleaning.moves           +   0.995    0.10     0.03     0.50     0.15     0.03     0.03     0.97     0.50     0.10     0.995    0.70     0.995    judgement
after-cleaning.stuck           !   0.005    0.90     0.97     0.50     0.85     0.97     0.97     0.03     0.50     0.90     0.005    0.30     0.005    judgement
plug-swap.moves                !   0.001    0.93     0.95     0.50     0.80     0.90     0.90     0.30     0.85     0.01     0.001    0.50     0.001    judgement: it goes with whatever hangs on the plug
plug-swap.stays                !   0.0005   0.003    0.003    0.003    0.003    0.003    0.003    0.003    0.03     0.96     0.0005   0.003    0.0005   judgement: it stays at the output
plug-swap.no-fault             .   0.9985   0.067    0.047    0.497    0.197    0.097    0.097    0.697    0.12     0.03     0.9985   0.497    0.9985   judgement: no fault is seen at either place
board.all-swing                .   0.999    0.35     0.999    0.999    0.999    0.999    0.999    0.999    0.85     0.02     0.999    0.999    0.999    judgement: a phase that leads nowhere does not swing with the plug on
board.some-missing             !   0.0005   0.55     0.0005   0.0005   0.0005   0.0005   0.0005   0.0005   0.10     0.58     0.0005   0.0005   0.0005   judgement
board.none-swing               !   0.0005   0.10     0.0005   0.0005   0.0005   0.0005   0.0005   0.0005   0.05     0.40     0.0005   0.0005   0.0005   judgement
supply.good                    .   0.999    0.98     0.999    0.999    0.999    0.999    0.999    0.999    0.98     0.65     0.999    0.999    0.999    judgement
supply.low                     !   0.001    0.02     0.001    0.001    0.001    0.001    0.001    0.001    0.02     0.35     0.001    0.001    0.001    judgement
harness.same                   .   0.9995   0.9995   0.9995   0.9995   0.9995   0.9995   0.9995   0.9995   0.15     0.9995   0.9995   0.9995   0.9995   judgement: same ohms at both ends
harness.differs                !   0.0005   0.0005   0.0005   0.0005   0.0005   0.0005   0.0005   0.0005   0.85     0.0005   0.0005   0.0005   0.0005   judgement: good at the head, not through the harness
proof.start-up-heard.passed    +   0.97     0.20     0.15     0.75     0.50     0.50     0.50     0.97     0.35     0.10     0.97     0.80     0.97     judgement: heard running to its stop
proof.start-up-heard.failed    !   0.03     0.80     0.85     0.25     0.50     0.50     0.50     0.03     0.65     0.90     0.03     0.20     0.03     judgement
proof.stem-travel.passed       +   0.995    0.05     0.02     0.70     -        0.99     0.99     0.995    0.30     0.05     0.995    0.80     0.995    judgement: seen
proof.stem-travel.failed       !   0.005    0.95     0.98     0.30     -        0.01     0.01     0.005    0.70     0.95     0.005    0.20     0.005    judgement
proof.step-response.passed     +   0.97     0.05     0.04     0.65     0.08     0.02     0.02     0.95     0.30     0.08     0.60     0.80     0.97     judgement: what it feeds follows its command
proof.step-response.failed     !   0.03     0.95     0.96     0.35     0.92     0.98     0.98     0.05     0.70     0.92     0.40     0.20     0.03     judgement
proof.shut-off.passed          +   0.97     0.40     0.40     0.75     0.40     0.03     0.97     0.05     0.60     0.40     0.95     0.80     0.97     judgement
proof.shut-off.failed          !   0.03     0.60     0.60     0.25     0.60     0.97     0.03     0.95     0.40     0.60     0.05     0.20     0.03     judgement
proof.ran-30-min.passed        +   0.95     0.40     0.40     0.80     0.50     0.40     0.40     0.80     0.55     0.35     0.70     0.70     0.95     judgement: little is asked of a valve in half an hour
proof.ran-30-min.failed        !   0.05     0.60     0.60     0.20     0.50     0.60     0.60     0.20     0.45     0.65     0.30     0.30     0.05     judgement
readings.all-open              !   0.004    0.01     0.004    0.004    0.004    0.004    0.004    0.004    0.50     0.004    0.004    0.004    0.004    judgement: every pair open is the plug or the probes
readings.some-read             .   0.996    0.99     0.996    0.996    0.996    0.996    0.996    0.996    0.50     0.996    0.996    0.996    0.996    the rest
step-test.responds             +   0.955    0.05     0.03     0.60     0.08     0.02     0.02     0.955    0.30     0.06     0.70     0.75     0.55     computed: steady circuit, 1.2 K a per cent of the stroke; shares judgement
step-test.none                 !   0.015    0.93     0.95     0.37     0.90     0.96     0.96     0.015    0.67     0.92     0.20     0.20     0.40     computed: steady circuit, no answer where one is due means lost steps or a stuck valve; shares judgement
step-test.wrong-way            .   0.03     0.02     0.02     0.03     0.02     0.02     0.02     0.03     0.03     0.02     0.10     0.05     0.05     judgement
held.at-two-commands           +   0.90     0.08     0.03     0.50     0.20     0.02     0.02     0.90     0.30     0.07     0.60     0.70     0.40     computed: steady circuit, a stuck valve holds its superheat within 3 % of one command only; shares judgement
held.not                       .   0.10     0.92     0.97     0.50     0.80     0.98     0.98     0.10     0.70     0.93     0.40     0.30     0.60     the rest
windings.good                  .   0.99     0.03     0.99     0.97     0.99     0.99     0.99     0.99     0.60     0.99     0.99     0.05     0.99     judgement: what measuring the windings will say, where nobody has yet
windings.faulty                .   0.01     0.97     0.01     0.03     0.01     0.01     0.01     0.01     0.40     0.01     0.01     0.95     0.01     judgement
strainer-drop.cold             !   0.01     0.01     0.01     0.01     0.01     0.01     0.02     0.01     0.01     0.01     0.01     0.01     0.50     physics: liquid that flashes in a strainer or a half-shut isolation valve cools there; share judgement
strainer-drop.none             .   0.99     0.99     0.99     0.99     0.99     0.99     0.98     0.99     0.99     0.99     0.99     0.99     0.50     the rest
sensor-compare.off             !   0.01     0.01     0.01     0.01     0.01     0.01     0.01     0.01     0.01     0.01     0.93     0.01     0.01     computed: steady circuit, a sensor 3 K off shows only where nothing runs; share judgement
sensor-compare.agree           .   0.99     0.99     0.99     0.99     0.99     0.99     0.99     0.99     0.99     0.99     0.07     0.99     0.99     the rest
charge-and-air.wrong           !   0.03     0.03     0.03     0.03     0.03     0.03     0.03     0.03     0.03     0.03     0.03     0.03     0.85     judgement: charge weighed, leaks sought, filters, coils, fans and isolation valves looked at
charge-and-air.right           .   0.97     0.97     0.97     0.97     0.97     0.97     0.97     0.97     0.97     0.97     0.97     0.97     0.15     the rest
"""  # noqa: E501 - a table is read across


@record(kw_only=False)
class Row:
    """One line of the table."""

    code: str
    mark: str
    """`+` finds nothing wrong, `!` something wrong, `.` neither."""
    likelihood: tuple[float | None, ...]
    """In the order of `CAUSES`; None where the cause does not exist on the head the look belongs to.  [1]"""
    source: str

    @property
    def question(self) -> str:
        """The look this is an outcome of."""
        return self.code.rpartition(".")[0]


def _parsed(table: str) -> dict[str, Row]:
    """The lines of the table by code."""
    rows = {}
    for line in table.strip().splitlines():
        if not line.startswith("#"):
            code, mark, *rest = line.split(None, 2 + len(CAUSES))
            likelihood = tuple(None if one == "-" else float(one) for one in rest[: len(CAUSES)])
            rows[code] = Row(code, mark, likelihood, rest[len(CAUSES)])
    return rows


ROWS: Final = _parsed(TABLE)
"""Code of a fact -> its line."""


def _by_question(rows: dict[str, Row]) -> dict[str, tuple[Row, ...]]:
    questions: dict[str, list[Row]] = {}
    for row in rows.values():
        questions.setdefault(row.question, []).append(row)
    return {question: tuple(outcomes) for question, outcomes in questions.items()}


OUTCOMES: Final = _by_question(ROWS)
"""Look -> its outcomes."""


def likelihood_of(code: str) -> tuple[float, ...] | None:
    """How probable a fact is under each cause; None where the table has no line for it: it weighs nothing.

    Where a cause does not exist the fact says nothing of it: 1.
    """
    row = ROWS.get(code)
    return None if row is None else tuple(1.0 if one is None else one for one in row.likelihood)
