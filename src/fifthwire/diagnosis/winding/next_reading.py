"""Which pair of wires to read next: the one whose reading is expected to tell most of what to do.

What one would do is the cause with its wires and the common. The expected information about it is worked out for
every pair, repeats among them, exactly for "open" and by three-point Gauss-Hermite sums for a number.
"""

from dataclasses import dataclass
from math import exp, log, log2, pi, sqrt

from fifthwire.diagnosis.winding.arrangements import LAYOUTS
from fifthwire.diagnosis.winding.hypothesis import Hypothesis
from fifthwire.diagnosis.winding.prediction import Predictor, Sizes, predictor_of

WORTH_BITS = 0.02
"""A reading expected to tell less is not asked for.  [bit]"""

COVERED = 0.9995
"""Hypotheses are looked at until this share of the probability is covered ..."""

AT_MOST = 24
"""... or until there are this many."""

MOST_PARTS = 30
"""Parts of one predicted reading that are looked at, the weightiest."""

Label = tuple[object, ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """A pair of wires, by number, and what its reading is expected to tell."""

    pair: tuple[int, int]
    gain_bits: float


@dataclass(slots=True)
class _Part:
    """Part of what is predicted for one pair: what one would do, its weight, and the reading."""

    label: int
    weight: float
    mean: float
    sd: float


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
    best: Choice | None = None
    for pair in _candidates(n_seen, n_wires):
        if must_touch and not must_touch.intersection(pair):
            continue
        parts, opens = _predicted(images, labels, pair, noise_variance)
        gain = entropy - _left(parts, opens, len(labels)) if entropy > 0.0 else 0.0
        if best is None or gain > best.gain_bits + 1e-9:
            best = Choice(pair, max(gain, 0.0))
    if best is not None and best.gain_bits < WORTH_BITS and not must_touch:
        return None
    return best


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
    for key in sorted(mass, key=lambda key: -mass[key])[:AT_MOST]:
        kept.append((leaders[key], mass[key]))
        covered += mass[key]
        if covered >= COVERED:
            break
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


Image = tuple[float, Label, dict[int, int], Predictor | None]


def _images(kept: list[tuple[Hypothesis, float]], sizes: Sizes) -> list[Image]:
    """Every hypothesis under every exchange of untouched wires: weight, label, position of each wire, predictor."""
    found: list[Image] = []
    for hypothesis, weight in kept:
        if not hypothesis.arrangement:
            found.append((weight, (hypothesis.cause,), {}, None))
            continue
        members = hypothesis.klass.members
        layout = LAYOUTS[hypothesis.arrangement]
        predictor = predictor_of(hypothesis, sizes)
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
) -> tuple[list[_Part], list[float]]:
    """Parts of the predicted number, by mean; and the weight of each label under which the reading shows open."""
    opens = [0.0] * len(labels)
    parts: dict[tuple[int, int, int], _Part] = {}
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
            sd = sqrt(variance + noise_variance)
            key = (number, round(4.0 * mean / sd), round(4.0 * log(sd)))
            part = parts.get(key)
            if part is None:
                parts[key] = _Part(number, share * weight, mean, sd)
            else:
                part.weight += share * weight
    found = list(parts.values())
    if len(found) > MOST_PARTS:
        found.sort(key=lambda part: -part.weight)
        found = found[:MOST_PARTS]
    return sorted(found, key=lambda part: part.mean), opens


SMALL_PART = 0.01
"""A part of less weight is looked at in its middle only."""

_MIDDLE = ((0.0, 1.0),)
_NODES = ((-sqrt(3.0), 1.0 / 6.0), (0.0, 2.0 / 3.0), (sqrt(3.0), 1.0 / 6.0))


def _left(parts: list[_Part], opens: list[float], n_labels: int) -> float:
    """Expected entropy of what to do once the pair is read. [bit]"""
    total_open = sum(opens)
    left = -sum([o * log2(o / total_open) for o in opens if o > 0.0])
    if _looks_one(parts):
        mass = [0.0] * n_labels
        for part in parts:
            mass[part.label] += part.weight
        total = sum(mass)
        return left - sum([m * log2(m / total) for m in mass if m > 0.0])
    for part in parts:
        if part.weight < 1e-4:
            continue
        near = [
            (other.label, other.weight / (other.sd * sqrt(2.0 * pi)), other.mean, 0.5 / other.sd**2)
            for other in parts
            if abs(other.mean - part.mean) < 6.0 * other.sd + 2.0 * part.sd
        ]
        if all(label == part.label for label, _, _, _ in near):
            continue
        for node, share in _NODES if part.weight > SMALL_PART else _MIDDLE:
            y = part.mean + node * part.sd
            own = total = 0.0
            for label, height, mean, sharp in near:
                density = height * exp(-sharp * (y - mean) ** 2)
                total += density
                if label == part.label:
                    own += density
            if own > 0.0:
                left -= part.weight * share * log2(own / total)
    return left


def _looks_one(parts: list[_Part]) -> bool:
    """Whether all parts lie so close together that no reading could tell them apart."""
    if len(parts) < 2:
        return True
    narrow = min(part.sd for part in parts)
    wide = max(part.sd for part in parts)
    return parts[-1].mean - parts[0].mean < 0.5 * narrow and wide < 1.5 * narrow
