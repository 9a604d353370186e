"""Which pair of wires to read next: the one whose reading is expected to tell most of what to do.

What one would do is the cause with its wires and the common. The expected information about it is worked out for
every pair, repeats among them, exactly for "open" and by three-point Gauss-Hermite sums for a number.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import exp, log, log2, pi, sqrt

from fifthwire.diagnosis.winding.arrangements import LAYOUTS
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.diagnosis.winding.prediction import Predictor, Sizes
from fifthwire.model.record import record

WORTH_BITS = 0.02
"""A reading expected to tell less is not asked for.  [bit]"""

COVERED = 0.9995
"""Hypotheses are looked at until this share of the probability is covered ..."""

AT_MOST = 24
"""... or until there are this many, and those that weigh the same as the last: names must not decide."""

AS_HEAVY = 0.01
"""Weights no further apart are the same. [1]"""

AS_TELLING = 1e-9
"""Gains no further apart are the same.  [bit]"""

Label = tuple[object, ...]

Image = tuple[float, Label, dict[int, int], Predictor | None]


@record(kw_only=False)
class Choice:
    """A pair of wires, by number, and what its reading is expected to tell."""

    pair: tuple[int, int]
    gain_bits: float


@dataclass(slots=True)
class _Lump:
    """Part of what is predicted for one pair: the reading, and the weight of each thing to do that predicts it."""

    mean: float
    sd: float
    weight: float
    labels: dict[int, float]


def choose_next(
    weighed: list[tuple[Hypothesis, float]],
    n_seen: int,
    n_wires: int,
    sizes: Sizes,
    noise_variance: float,
    *,
    must_touch: frozenset[int] = frozenset(),
) -> Choice | None:
    """The pair with the most expected information; one that touches `must_touch` where that is not empty.

    Parameters
    ----------
    weighed : list
        Hypotheses with their probabilities.
    n_seen, n_wires : int
        Wires touched so far, and all there are.
    sizes : Sizes
        Limits of the sizes of faults not yet read.
    noise_variance : float
        Of one reading. [Ω²]
    must_touch : frozenset of int
        Wires of which the pair must name one, whatever it tells.
    """
    images = _images(_kept(weighed), sizes)
    labels = {label: number for number, label in enumerate({image[1]: None for image in images})}
    mass = [0.0] * len(labels)
    for weight, label, _, _ in images:
        mass[labels[label]] += weight
    entropy = -sum([m * log2(m) for m in mass if m > 0.0])
    if entropy < WORTH_BITS and not must_touch:
        return None
    pairs = [pair for pair in _candidates(n_seen, n_wires) if not must_touch or must_touch.intersection(pair)]
    worth = 0.0 if must_touch else WORTH_BITS
    best = _most_telling(images, labels, pairs, noise_variance, entropy, worth)
    return best if best is not None and best.gain_bits >= worth else None


def _most_telling(
    images: list[Image],
    labels: dict[Label, int],
    pairs: list[tuple[int, int]],
    noise_variance: float,
    entropy: float,
    worth_bits: float,
) -> Choice | None:
    """The pair with the most expected information, the first of those that tell as much.

    No reading tells more than which lump it is from: pairs whose lumps tell less than the best so far, or less than is
    worth a reading, are left out.
    """
    predicted = []
    for order, pair in enumerate(pairs):
        lumps, opens = _predicted(images, labels, pair, noise_variance)
        of_opens = _entropy(opens, sum(opens))
        at_most = entropy - of_opens - sum([_entropy(lump.labels.values(), lump.weight) for lump in lumps])
        predicted.append((at_most, order, lumps, of_opens))
    predicted.sort(key=lambda row: (-row[0], row[1]))
    best, best_order = -1.0, -1
    for at_most, order, lumps, of_opens in predicted:
        if at_most < max(best, worth_bits) - AS_TELLING:
            break
        gain = max(entropy - of_opens - _left(lumps), 0.0) if entropy > 0.0 else 0.0
        if gain > best + AS_TELLING or (gain > best - AS_TELLING and order < best_order):
            best, best_order = max(gain, best), order
    return Choice(pairs[best_order], best) if best_order >= 0 else None


def _kept(weighed: list[tuple[Hypothesis, float]]) -> list[tuple[Hypothesis, float]]:
    """Hypotheses that differ only in what shares a bobbin, or by untouched wires, merged; then the weightiest."""
    leaders: dict[tuple[object, ...], Hypothesis] = {}
    mass: dict[tuple[object, ...], float] = {}
    for hypothesis, weight in weighed:
        key = _what_is_alike(hypothesis)
        leaders.setdefault(key, hypothesis)
        mass[key] = mass.get(key, 0.0) + weight
    kept: list[tuple[Hypothesis, float]] = []
    covered = 0.0
    for key in sorted(mass, key=lambda key: -mass[key]):
        is_enough = covered >= COVERED or len(kept) >= AT_MOST
        if is_enough and mass[key] < (1.0 - AS_HEAVY) * kept[-1][1]:
            break
        kept.append((leaders[key], mass[key]))
        covered += mass[key]
    return [(hypothesis, weight / covered) for hypothesis, weight in kept]


def _what_is_alike(hypothesis: Hypothesis) -> tuple[object, ...]:
    if not hypothesis.arrangement:
        return (hypothesis.cause,)
    layout, member = LAYOUTS[hypothesis.arrangement], hypothesis.klass.members[0]
    commons = frozenset([member[place] for place in layout.commons])
    groups = frozenset(zip(member, layout.group_of, strict=True)) if len(commons) == 2 else None
    return (
        hypothesis.arrangement,
        hypothesis.cause,
        frozenset([member[place] for place in hypothesis.places]),
        commons,
        groups,
    )


def _images(kept: list[tuple[Hypothesis, float]], sizes: Sizes) -> list[Image]:
    """Every hypothesis under every exchange of untouched wires: weight, label, position of each wire, predictor."""
    found: list[Image] = []
    for hypothesis, weight in kept:
        if not hypothesis.arrangement:
            found.append((weight, (hypothesis.cause,), {}, None))
            continue
        members = hypothesis.klass.members
        layout = LAYOUTS[hypothesis.arrangement]
        predictor = Predictor(hypothesis, sizes)
        for member in members:
            wires = frozenset([member[place] for place in hypothesis.places])
            commons = frozenset([member[place] for place in layout.commons])
            label = (hypothesis.cause, wires, commons)
            places = {wire: place for place, wire in enumerate(member)}
            found.append((weight / len(members), label, places, predictor))
    return found


def _candidates(n_seen: int, n_wires: int) -> list[tuple[int, int]]:
    """Pairs of seen wires, of each seen wire with the first untouched, and of the first two untouched."""
    seen = range(n_seen)
    pairs = [(a, b) for a in seen for b in seen if a < b]
    if n_wires > n_seen:
        pairs += [(a, n_seen) for a in seen]
    if n_wires > n_seen + 1:
        pairs.append((n_seen, n_seen + 1))
    return pairs


def _predicted(
    images: list[Image], labels: dict[Label, int], pair: tuple[int, int], noise_variance: float
) -> tuple[list[_Lump], list[float]]:
    """Lumps of the predicted number, like ones put together; and the weight of each label that predicts an open."""
    opens = [0.0] * len(labels)
    found: dict[tuple[int, int], _Lump] = {}
    a, b = pair
    for weight, label, places, predictor in images:
        number = labels[label]
        if predictor is None:
            lumps = [(0.67, 50.0, 1e4)]
            opens[number] += 0.33 * weight
        elif a not in places or b not in places:
            lumps = []
        else:
            lumps = predictor.between(places[a], places[b])
        if not lumps:
            opens[number] += weight
        for share, mean, variance in lumps:
            sd = sqrt(max(variance, 0.0) + noise_variance)
            key = (round(4.0 * mean / sd), round(4.0 * log(sd)))
            lump = found.get(key)
            if lump is None:
                lump = found[key] = _Lump(mean, sd, 0.0, {})
            lump.weight += share * weight
            part = share * weight / lump.weight if lump.weight > 0.0 else 0.0
            lump.mean, lump.sd = lump.mean + part * (mean - lump.mean), lump.sd + part * (sd - lump.sd)
            lump.labels[number] = lump.labels.get(number, 0.0) + share * weight
    return list(found.values()), opens


SMALL_LUMP = 0.01
"""A lump of less weight is looked at in its middle only."""

_Normal = tuple[float, float, float, float, list[tuple[int, float]]]
"""A lump as a normal law: mean, -1/2 sd², height, how far it reaches, and its labels with their weights."""

_ROOT_2_PI = sqrt(2.0 * pi)
_MIDDLE = ((0.0, 1.0),)
_NODES = ((-sqrt(3.0), 1.0 / 6.0), (0.0, 2.0 / 3.0), (sqrt(3.0), 1.0 / 6.0))


def _left(lumps: list[_Lump]) -> float:
    """Expected entropy of what to do once the pair has shown a number. [bit]"""
    if _looks_one(lumps):
        mass: dict[int, float] = {}
        for lump in lumps:
            for label, weight in lump.labels.items():
                mass[label] = mass.get(label, 0.0) + weight
        return _entropy(mass.values(), sum(mass.values()))
    left = 0.0
    normals = [
        (lump.mean, -0.5 / lump.sd**2, 1.0 / (lump.sd * _ROOT_2_PI), 6.0 * lump.sd, [*lump.labels.items()])
        for lump in lumps
    ]
    for lump in lumps:
        middle, reach = lump.mean, 2.0 * lump.sd
        near = [normal for normal in normals if abs(normal[0] - middle) < normal[3] + reach]
        if len(near) == 1:
            left += _entropy(lump.labels.values(), lump.weight)
            continue
        for node, share in _NODES if lump.weight > SMALL_LUMP else _MIDDLE:
            left -= lump.weight * share * _log_shares(lump, near, middle + node * lump.sd)
    return left


def _log_shares(lump: _Lump, near: list[_Normal], y: float) -> float:
    """Mean over a lump's labels of the logarithm of the label's probability once y is read. [bit]"""
    own = dict.fromkeys(lump.labels, 0.0)
    total = 0.0
    for mean, sharp, height, _, labels in near:
        density = height * exp(sharp * (y - mean) ** 2)
        for label, weight in labels:
            part = weight * density
            total += part
            if label in own:
                own[label] += part
    found = 0.0
    for label, weight in lump.labels.items():
        if own[label] > 0.0:  # a weight near the smallest float vanishes
            found += weight * log2(own[label] / total)
    return found / lump.weight


def _entropy(mass: Iterable[float], total: float) -> float:
    """Of parts of a whole, times the whole. [bit]"""
    return -sum([m * log2(m / total) for m in mass if m > 1e-300])


def _looks_one(lumps: list[_Lump]) -> bool:
    """Whether all lumps lie so close together that no reading could tell them apart."""
    if len(lumps) < 2:
        return True
    narrow, wide = min([lump.sd for lump in lumps]), max([lump.sd for lump in lumps])
    means = [lump.mean for lump in lumps]
    return max(means) - min(means) < 0.5 * narrow and wide < 1.5 * narrow
