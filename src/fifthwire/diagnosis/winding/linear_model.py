"""A hypothesis written out reading by reading, about its normal answer: what the refinement starts from."""

from dataclasses import dataclass
from math import log, pi

from fifthwire.diagnosis.winding.arrangements import LAYOUTS, Layout
from fifthwire.diagnosis.winding.base_fit import Matrix
from fifthwire.diagnosis.winding.cross_bridge import path_windings
from fifthwire.diagnosis.winding.head import Head
from fifthwire.diagnosis.winding.hypothesis import Hypothesis


@dataclass(frozen=True, slots=True)
class LinearModel:
    """Readings = rows · windings + leads + column · size, and the joint normal of the unknowns."""

    rows: list[list[float]]
    size_column: list[float]
    has_size: bool
    residuals: list[float]
    """Net readings less what windings and size predict at the mean. [Ω]"""
    windings: list[float]
    """At the mean. [Ω]"""
    leads: float
    """At the mean, over the stated. [Ω]"""
    size: float
    """At the mean where its law is flat."""
    covariance: Matrix
    """Of windings, leads and size."""
    log_evidence: float
    """With a flat law of the size and normal laws of all else."""


def linear_model(head: Head, hypothesis: Hypothesis) -> LinearModel:
    """Write a hypothesis out about its normal answer."""
    fit, gram = hypothesis.fit, head.gram
    assert fit is not None
    rows, column, plain = _rows(head, hypothesis)
    sized, start = hypothesis.sized, hypothesis.bridge.loss_ohm if hypothesis.bridge else 0.0
    deviation, covariance = fit.deviation, fit.covariance
    log_evidence = fit.log_evidence + gram.log_constant
    size = 0.0
    if sized is not None and sized.flat_variance <= 0.0:
        sized = None
    if sized is not None:
        size, variance = sized.flat_mean, sized.flat_variance
        lean, step = hypothesis.lean, size - start
        deviation = [d - step * v for d, v in zip(deviation, lean, strict=True)]
        covariance = [
            [c + v * x for c, v in zip(line, lean, strict=True)] + [-x]
            for line, x in zip(covariance, [variance * v for v in lean], strict=True)
        ]
        covariance.append([-variance * v for v in lean] + [variance])
        log_evidence += 0.5 * step * step / variance + 0.5 * log(2.0 * pi * variance)
    residuals = [
        reading.net_ohm - base - sum([a * d for a, d in zip(row, deviation, strict=True)]) - b * (size - start)
        for reading, base, row, b in zip(gram.readings, plain, rows, column, strict=True)
    ]
    columns = [*zip(*rows, strict=True)] if rows else []
    if sized is not None:
        columns.append(tuple(column))
    covariance, leads = _with_leads(head, columns, residuals, covariance, len(deviation))
    windings = [fit.centre_ohm + d for d in deviation]
    return LinearModel(rows, column, sized is not None, residuals, windings, leads, size, covariance, log_evidence)


def _with_leads(
    head: Head, columns: list[tuple[float, ...]], residuals: list[float], covariance: Matrix, n: int
) -> tuple[Matrix, float]:
    """The covariance with the leads put in after the windings, and the leads' mean."""
    gram = head.gram
    weights, share = gram.weights, gram.share
    leads = share * sum([w * r for w, r in zip(weights, residuals, strict=True)])
    on = [-share * sum([w * x for w, x in zip(weights, column, strict=True)]) for column in columns]
    along = [sum([c * g for c, g in zip(line, on, strict=True)]) for line in covariance]
    variance = share + sum([a * g for a, g in zip(along, on, strict=True)])
    found = [[*line[:n], a, *line[n:]] for line, a in zip(covariance, along, strict=True)]
    found.insert(n, [*along[:n], variance, *along[n:]])
    return found, leads


def _rows(head: Head, hypothesis: Hypothesis) -> tuple[Matrix, list[float], list[float]]:
    """Dependence of each reading on the windings and on the size, and its value about which both are counted."""
    layout = LAYOUTS[hypothesis.arrangement]
    fit = hypothesis.fit
    assert fit is not None
    place_of = {wire: place for place, wire in enumerate(hypothesis.klass.members[0])}
    rows: Matrix = []
    column: list[float] = []
    plain: list[float] = []
    for index, reading in enumerate(head.gram.readings):
        pair = (place_of[reading.wire_a], place_of[reading.wire_b])
        row, size, value = _row(layout, hypothesis, index, pair, fit.centre_ohm)
        rows.append(row)
        column.append(size)
        plain.append(value)
    return rows, column, plain


def _row(
    layout: Layout, hypothesis: Hypothesis, index: int, pair: tuple[int, int], centre_ohm: float
) -> tuple[list[float], float, float]:
    if hypothesis.bridge is not None:
        return _bridged_row(layout, hypothesis, pair, centre_ohm)
    p, q = hypothesis.places if hypothesis.cause == "bridged" else (0, 0)
    windings, spans = path_windings(layout, *pair, p, q)
    row = [float(count) for count in windings]
    plain = centre_ohm * sum(row)
    if hypothesis.sized is None:
        return row, 0.0, plain
    column = hypothesis.column
    if column is None:
        return row, float(spans), plain
    if column.kind == "stray":
        return row, float(column.at[0] == index), plain
    if column.kind == "loss":
        return row, -float(sum(place in pair for place in hypothesis.places) ** 2), plain
    size = float(column.at[0] in pair)
    return row, -size if column.kind == "short" else size, plain


def _bridged_row(
    layout: Layout, hypothesis: Hypothesis, pair: tuple[int, int], centre_ohm: float
) -> tuple[list[float], float, float]:
    """See `bridge`: the loss off each reading, and the leverage left to the bridged windings."""
    assert hypothesis.bridge is not None
    p, q = hypothesis.places
    loss = hypothesis.bridge.loss_ohm
    u = loss / hypothesis.bridge.scale_ohm
    windings, _ = path_windings(layout, *pair, 0, 0)
    row = [float(count) for count in windings]
    shared = (p in pair) + (q in pair)
    plain = centre_ohm * sum(row) - loss * shared * shared
    near, far = ((1.0 - u) ** 2, u * u) if shared == 1 else ((1.0 - 2.0 * u) ** 2, 0.0)
    for place, other in ((p, q), (q, p)):
        if place in pair:
            row[layout.ends.index(place)] = near
            if shared == 1:
                row[layout.ends.index(other)] = far
    return row, -float(shared * shared), plain
