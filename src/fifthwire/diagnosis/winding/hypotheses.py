"""Every cause under one arrangement, weighed by the readings with normal laws.

A hypothesis is an arrangement, a cause and the places it names. Most differ from the sound head by one column of
known shape; see `column`. Opens need no likelihood: they fit or they do not.
"""

from dataclasses import dataclass, field
from math import exp, log

from fifthwire.diagnosis.winding.arrangements import LAYOUTS, ArrangementClass, Layout, arrangement_classes
from fifthwire.diagnosis.winding.base_fit import Fit, Prior, Scatter, fit, prior_of
from fifthwire.diagnosis.winding.bridge import LEAST_LEFT, StarBridge, loss_column, loss_law
from fifthwire.diagnosis.winding.column import (
    NEVER,
    SizeLaw,
    integrate,
    log_uniform,
    most_it_can_be,
    scaled,
    uniform,
)
from fifthwire.diagnosis.winding.cross_bridge import can_be, cross_fit, paths_through
from fifthwire.diagnosis.winding.head import Head
from fifthwire.diagnosis.winding.hypothesis import Bridge, Column, Hypothesis
from fifthwire.diagnosis.winding.patterns import Pattern, pattern_of
from fifthwire.diagnosis.winding.reach import out_of_reach, touches_all, wires_of_all
from fifthwire.diagnosis.winding.scale import ScaleLaw, unknown_scale

DROPPED_BELOW = 13.0
"""Hypotheses that end this many nats below the best so far are not worth integrating."""

DEAD_BELOW = 60.0
"""So far below, a fault need not be tried again with the bobbins shared otherwise. [nat]"""

RATIO_BOUND = 1.0
"""The exact law of the scale exceeds its stand-in by no more than this. [nat]"""

SCATTER_STEP = 0.002
"""The scatter is that of the resistance found, in steps of this share. [1]"""

ROUGH_BELOW = 9.0
"""So far below the best, the first look at a fault is good enough. [nat]"""

BRIDGE_SLACK = 100.0
"""What the first look at a bridge may miss, for each unit of loss over scale. [nat]"""

BRIDGE_TAIL_SHARE = 0.02
"""Of bridges, the share between 200 ohm and 20 kohm. Judgement."""


@dataclass(slots=True)
class Weighing:
    """All hypotheses of a head as they are found, and the best weight so far."""

    head: Head
    found: list[Hypothesis] = field(default_factory=list)
    best: float = NEVER
    dead: set[tuple[object, ...]] = field(default_factory=set)
    """Faults, by cause, common and place, that are out of the question however the bobbins are shared."""
    priors: dict[tuple[object, ...], Prior] = field(default_factory=dict)

    def add(self, hypothesis: Hypothesis) -> None:
        """Keep a hypothesis."""
        if hypothesis.log_weight > NEVER:
            self.found.append(hypothesis)
            self.best = max(self.best, hypothesis.log_weight)

    def is_hopeless(self, log_weight: float) -> bool:
        """Whether a weight is too far below the best to matter."""
        return log_weight < self.best - DROPPED_BELOW


def log_shares(head: Head, name: str) -> dict[str, float]:
    """Logarithm of the share of each cause that exists in an arrangement."""
    absent = {
        "unipolar-5": (),
        "unipolar-6": (),
        "bipolar-4": ("open-common",),
        "single-2": ("open-common", "bridged"),
    }[name]
    shares = {cause: share for cause, share in head.laws.fault_shares.items() if cause not in absent and share > 0.0}
    if head.spec_scale is None:
        shares.pop("wrong-head", None)
    total = sum(shares.values())
    found = {cause: log((1.0 - head.sound_prior) * share / total) for cause, share in shares.items()}
    found["sound"] = log(head.sound_prior)
    return found


def weigh(weighing: Weighing, name: str, commons: tuple[int, ...], log_prior: float) -> None:
    """Add all hypotheses of one arrangement, the best fitting first."""
    head, layout, shares = weighing.head, LAYOUTS[name], log_shares(weighing.head, name)
    quiet: list[_Under] = []
    for klass in arrangement_classes(name, head.wires.n_seen, commons):
        pattern = pattern_of(head, layout, klass.members[0])
        if pattern is None:
            continue
        under = _Under(weighing, name, layout, klass, pattern, log_prior + log(klass.share), shares)
        if pattern.spanning:
            if "bridged" in shares:
                under.cross_bridges()
        elif not pattern.joined_opens or under.can_be_open():
            under.opens()
            if not pattern.joined_opens:
                quiet.append(under)
    for under in sorted(quiet, key=lambda under: -under.log_base):
        under.others()


class _Under:
    """The hypotheses under one class of arrangements, which share the base fit."""

    def __init__(
        self,
        weighing: Weighing,
        name: str,
        layout: Layout,
        klass: ArrangementClass,
        pattern: Pattern,
        log_prior: float,
        shares: dict[str, float],
    ) -> None:
        self.weighing, self.head, self.layout, self.klass = weighing, weighing.head, layout, klass
        self.name, self.pattern, self.shares, self.log_prior = name, pattern, shares, log_prior
        self.member = klass.members[0]
        self.ends = [self.member[position] for position in layout.ends]
        self._hub = tuple([self.member[position] for position in layout.commons])
        matrix = self.head.gram.matrix
        self.gram = [[matrix[a][b] for b in self.ends] for a in self.ends]
        laws = self.head.laws
        self.scatter = Scatter(laws.winding_to_winding_frac, laws.bobbin_to_bobbin_frac, layout.one_bobbin)
        spec_scale = self.head.spec_scale
        self.scale = spec_scale.of_this_head() if spec_scale else unknown_scale(self.scale_of_readings())
        self.has_twins = name == "unipolar-5"
        """Whether other arrangements differ from this one by the bobbins alone."""
        self.n_tried = 0
        """Faults whose readings could tell, among them the wrong head."""
        self.fits: dict[tuple[float, int], Fit] = {}
        self.bridge_law = log_uniform(*laws.bridge_ohm, laws.bridge_tail_ohm, BRIDGE_TAIL_SHARE)

    def scale_of_readings(self) -> float:
        """Least-squares resistance of one winding, were all alike. [Ω]"""
        h = self.head.gram.with_readings
        total = sum(map(sum, self.gram))
        return max(sum(h[end] for end in self.ends) / total, 1e-3) if total > 1e-9 else 50.0

    def make_base(self) -> None:
        """The fit that all hypotheses but the wrong head start from."""
        self.log_constant = self.log_prior + self.head.gram.log_constant
        reach = 1.0 + 3.0 * self.scale.sd
        near = min(max(self.scale_of_readings(), self.scale.centre_ohm / reach), self.scale.centre_ohm * reach)
        self.base = self.fit_near(self.scale, near if self.pattern.joined else self.scale.centre_ohm)
        if self.log_constant + self.base.log_evidence > self.weighing.best - DEAD_BELOW:
            self.base = self.fit_near(self.scale, self.scale.centre_ohm * (1.0 + self.base.kappa()[0]))
        mean, variance = self.base.kappa()
        is_far = self.log_constant + self.base.log_evidence < self.weighing.best - DEAD_BELOW
        self.log_ratio = 0.0 if is_far else self.scale.log_expected_ratio(mean, variance**0.5)
        self.log_base = self.log_constant + self.base.log_evidence + self.log_ratio

    def fit_near(self, scale: ScaleLaw, scatter_ohm: float) -> Fit:
        """Fit under one law of the scale, the scatter that of a resistance in small steps."""
        steps = round(log(min(max(scatter_ohm / scale.centre_ohm, 0.2), 5.0)) / SCATTER_STEP)
        key = (scale.centre_ohm, steps)
        found = self.fits.get(key)
        if found is None:
            found = self.fits[key] = self._fit(scale, self._prior_near(scale, steps))
        return found

    def _prior_near(self, scale: ScaleLaw, steps: int) -> Prior:
        """The prior of any arrangement of this kind, kept for the next."""
        key = (len(self.ends), self.scatter.is_shared, scale.centre_ohm, scale.sd, steps)
        found = self.weighing.priors.get(key)
        if found is None:
            found = self.weighing.priors[key] = self._prior(scale, scale.centre_ohm * exp(SCATTER_STEP * steps))
        return found

    def _prior(self, scale: ScaleLaw, scatter_ohm: float) -> Prior:
        centre = scale.centre_ohm
        return prior_of(len(self.ends), self.scatter, scatter_ohm, scale.sd * centre, centre)

    def _fit(self, scale: ScaleLaw, prior: Prior) -> Fit:
        centre = scale.centre_ohm
        h = self.head.gram.with_readings
        rows = [sum(row) for row in self.gram]
        g = [h[end] - centre * row for end, row in zip(self.ends, rows, strict=True)]
        squared = (
            self.head.gram.readings_squared
            - 2.0 * centre * sum([h[end] for end in self.ends])
            + centre * centre * sum(rows)
        )
        return fit(prior, centre, self.gram, g, squared)

    def _new(self, cause: str, places: tuple[int, ...], log_weight: float, log_place: float) -> Hypothesis:
        hypothesis = Hypothesis(
            cause=cause,
            places=places,
            log_weight=log_weight,
            arrangement=self.name,
            klass=self.klass,
            log_prior=self.log_prior + self.shares[cause],
            log_place=log_place,
            scale=self.scale,
            fit=self.base,
        )
        self.weighing.add(hypothesis)
        return hypothesis

    def can_be_open(self) -> bool:
        """Whether one break or one false open explains every open between joined wires."""
        return len(self.pattern.joined_opens) == 1 or any(
            self.pattern.explains_opens(self.member[place])
            for place in (*self.layout.ends, *self.layout.common_of, *self.layout.commons)
        )

    def opens(self) -> None:
        """Open windings and commons, and the one false open: the numbers fit them as they fit a sound head."""
        pattern, layout, shares = self.pattern, self.layout, self.shares
        self.make_base()
        if "open-winding" in shares:
            log_place = -log(len(layout.ends))
            for winding, (end, hub) in enumerate(zip(layout.ends, layout.common_of, strict=True)):
                places = (end,) if layout.commons else (end, hub)
                if all(pattern.explains_opens(self.member[place]) for place in places):
                    log_weight = self.log_base + shares["open-winding"] + log_place
                    self._new("open-winding", places, log_weight, log_place).broken = winding
        if "open-common" in shares:
            log_place = -log(len(layout.commons))
            for place in layout.commons:
                if pattern.explains_opens(self.member[place]):
                    self._new("open-common", (place,), self.log_base + shares["open-common"] + log_place, log_place)
        self._false_open()

    def _false_open(self) -> None:
        if "bad-reading" not in self.shares:
            return
        pattern = self.pattern
        n_joined = len(pattern.joined) + len(pattern.joined_opens)
        log_base = self.log_base + self.shares["bad-reading"]
        if n_joined == 0:
            self._new("bad-reading", (), log_base, 0.0)
        elif len(pattern.joined_opens) == 1:
            log_place = log(self.head.laws.bad_reading_open_share / n_joined)
            places = self._places_of(pattern.joined_opens[0])
            self._new("bad-reading", places, log_base + log_place, log_place)

    def _places_of(self, pair: tuple[int, int]) -> tuple[int, ...]:
        return tuple(place for place, wire in enumerate(self.member) if wire in pair)

    def others(self) -> None:
        """The causes under which all joined wires read finite."""
        self._new("sound", (), self.log_base + self.shares["sound"], 0.0)
        if self._hub in self.weighing.dead:
            return
        n_dead = len(self.weighing.dead)
        self.beyond = out_of_reach(self.head, self.layout, self.member, self.pattern.joined)
        self.suspects = wires_of_all(self.head, self.beyond)
        if "bad-contact" in self.shares:
            self._contacts()
        if "shorted-turns" in self.shares:
            self._shorts()
        if "bridged" in self.shares:
            self._bridges()
        if "wrong-head" in self.shares:
            self._wrong_head()
        if "bad-reading" in self.shares and len(self.beyond) < 2:
            self._strays()
        if self.has_twins and len(self.weighing.dead) - n_dead == self.n_tried:
            self.weighing.dead.add(self._hub)

    def _product(self, wire: int) -> float:
        """Product of a wire's column with the residual."""
        row = self.head.gram.matrix[wire]
        return self.head.gram.with_readings[wire] - self.scale.centre_ohm * sum([row[end] for end in self.ends])

    def _is_hopeless(self, log_base: float, gain: float, name: tuple[object, ...] | None = None) -> bool:
        """Whether a fault that gains this at most over the base fit is too far below the best to matter."""
        at_most = log_base + self.base.log_evidence + RATIO_BOUND + gain
        if name is not None and self.has_twins and at_most < self.weighing.best - DEAD_BELOW:
            self.weighing.dead.add(name)
        return self.weighing.is_hopeless(at_most)

    def _column(self, cause: str, places: tuple[int, ...], log_place: float, column: Column, law: SizeLaw) -> None:
        """Weigh one hypothesis that adds x times a column."""
        log_base = self.log_constant + self.shares[cause] + log_place
        if column.squared <= 1e-12:
            self._new(cause, places, self.log_base + self.shares[cause] + log_place, log_place)
            return
        base = self.base
        name = (cause, self._hub, column.at if column.kind == "stray" else self.member[column.at[0]])
        self.n_tried += 1
        if name in self.weighing.dead:
            return
        gamma, beta, lean = against(base, column)
        if beta <= 0.0 or self._is_hopeless(log_base, 0.5 * gamma * gamma / beta if gamma > 0.0 else 0.0, name):
            return
        in_ohm = scaled(law, self.scale_at(base, gamma / beta, lean)) if column.times_scale else law
        if self._is_hopeless(log_base, most_it_can_be(gamma, beta, in_ohm)):
            return
        sized = integrate(gamma, beta, in_ohm)
        if log_base + base.log_evidence + sized.log_mean > self.weighing.best - ROUGH_BELOW:
            # once more with the scatter of the scale that this fault leaves
            base = self.fit_near(self.scale, self.scale_at(base, sized.mean, lean))
            gamma, beta, lean = against(base, column)
            in_ohm = scaled(law, self.scale_at(base, sized.mean, lean)) if column.times_scale else law
            sized = integrate(gamma, beta, in_ohm)
        kappa = self.scale_at(base, sized.mean, lean) / self.scale.centre_ohm - 1.0
        log_weight = log_base + base.log_evidence + self.scale.log_ratio(kappa) + sized.log_mean
        hypothesis = self._new(cause, places, log_weight, log_place)
        hypothesis.fit, hypothesis.column, hypothesis.law = base, column, law
        hypothesis.sized, hypothesis.lean = sized, lean

    def scale_at(self, base: Fit, size: float, lean: list[float]) -> float:
        """The head's scale where the fault has this size. [Ω]"""
        shift = sum(base.deviation) - size * sum(lean)
        return self.scale.centre_ohm * _possible(1.0 + base.prior.to_kappa * shift)

    def _contacts(self) -> None:
        law = log_uniform(*self.head.laws.contact_ohm)
        matrix = self.head.gram.matrix
        n = len(self.member)
        if self.layout.commons:
            for place, wire in enumerate(self.member):
                if self.suspects is not None and wire not in self.suspects:
                    continue
                row = matrix[wire]
                column = Column("wire", (place,), row[wire], [row[end] for end in self.ends], self._product(wire))
                self._column("bad-contact", (place,), -log(n), column, law)
            return
        for end, hub in zip(self.layout.ends, self.layout.common_of, strict=True):  # either wire looks the same
            wire = self.member[end]
            if self.suspects is not None and wire not in self.suspects:
                continue
            row = matrix[wire]
            column = Column("wire", (end,), row[wire], [row[e] for e in self.ends], self._product(wire))
            self._column("bad-contact", (end, hub), log(2.0 / n), column, law)

    def _shorts(self) -> None:
        law = uniform(*self.head.laws.shorted_fraction)
        log_place = -log(len(self.ends))
        for winding, wire in enumerate(self.ends):
            if self.suspects is not None and wire not in self.suspects:
                continue
            end, hub = self.layout.ends[winding], self.layout.common_of[winding]
            row = self.gram[winding]
            column = Column("short", (end,), row[winding], [-x for x in row], -self._product(wire), times_scale=True)
            places = (end,) if self.layout.commons else (end, hub)
            self._column("shorted-turns", places, log_place, column, law)

    def _strays(self) -> None:
        gram, n_joined = self.head.gram, len(self.pattern.joined)
        if n_joined == 0:
            return
        law = log_uniform(*self.head.laws.bad_reading_adds_ohm)
        log_place = log((1.0 - self.head.laws.bad_reading_open_share) / n_joined)
        for index in self.beyond or self.pattern.joined:
            reading, weight = gram.readings[index], gram.weights[index]
            pair = (reading.wire_a, reading.wire_b)
            with_windings = [weight * ((end in pair) - gram.share * gram.touched[end]) for end in self.ends]
            product = weight * (reading.net_ohm - gram.share * gram.weighted_sum)
            product -= self.scale.centre_ohm * sum(with_windings)
            column = Column("stray", (index,), weight - gram.share * weight**2, with_windings, product)
            self._column("bad-reading", self._places_of(pair), log_place, column, law)

    def _wrong_head(self) -> None:
        assert self.head.spec_scale is not None
        if not self.pattern.joined:
            self._new("wrong-head", (), self.log_base + self.shares["wrong-head"], 0.0)
            return
        name = ("wrong-head", self._hub)
        self.n_tried += 1
        if name in self.weighing.dead:
            return
        scale = self.head.spec_scale.of_another_head(self.scale_of_readings())
        found = self.fit_near(scale, scale.centre_ohm)
        log_weight = self.log_constant + found.log_evidence + self.shares["wrong-head"]
        if self.has_twins and log_weight + RATIO_BOUND < self.weighing.best - DEAD_BELOW:
            self.weighing.dead.add(name)
        if self.weighing.is_hopeless(log_weight + RATIO_BOUND):
            return
        found = self.fit_near(scale, scale.centre_ohm * (1.0 + found.kappa()[0]))
        log_weight = self.log_constant + found.log_evidence + self.shares["wrong-head"]
        mean, variance = found.kappa()
        log_ratio = scale.log_expected_ratio(mean, variance**0.5)
        hypothesis = self._new("wrong-head", (), log_weight + log_ratio, 0.0)
        hypothesis.scale, hypothesis.fit = scale, found

    def _bridges(self) -> None:
        group, places = self.layout.group_of, self._bridge_places()
        log_place = -log(len(places))
        for p, q in places:
            if group[p] == group[q]:
                self._star_bridge(p, q, log_place)
            elif not self.pattern.spanning_opens:
                self._new("bridged", (p, q), self.log_base + self.shares["bridged"] + log_place, log_place)

    def _bridge_places(self) -> list[tuple[int, int]]:
        if not self.layout.commons:
            return [(0, 2), (0, 3), (1, 2), (1, 3)]
        ends = self.layout.ends
        return [(p, q) for i, p in enumerate(ends) for q in ends[i + 1 :]]

    def _star_bridge(self, p: int, q: int, log_place: float) -> None:
        base, log_base = self.base, self.log_constant + self.shares["bridged"] + log_place
        wires = (self.member[p], self.member[q])
        if not touches_all(self.head, self.beyond, wires):
            return
        name = ("bridged", self._hub, *sorted(wires))
        if name in self.weighing.dead:
            return
        column = loss_column(self.head.gram, self.ends, *wires, self.scale.centre_ohm)
        if column.squared <= 1e-12:
            self._new("bridged", (p, q), self.log_base + self.shares["bridged"] + log_place, log_place)
            return
        self.n_tried += 1
        gamma, beta, lean = against(base, column)
        if beta <= 0.0:
            return
        loss = gamma / beta
        scale_ohm = self.scale_at(base, max(loss, 0.0), lean)
        slack = BRIDGE_SLACK * min(max(loss / scale_ohm, 0.0), 0.5)  # the scatter's leverage is not in it yet
        if self._is_hopeless(log_base, slack + (0.5 * gamma * gamma / beta if gamma > 0.0 else 0.0), name):
            return
        sized = integrate(gamma, beta, loss_law(self.bridge_law, scale_ohm))
        kappa = self.scale_at(base, sized.mean, lean) / self.scale.centre_ohm - 1.0
        log_weight = log_base + base.log_evidence + sized.log_mean + self.scale.log_ratio(kappa)
        if log_weight + slack < self.weighing.best - ROUGH_BELOW:
            hypothesis = self._new("bridged", (p, q), log_weight, log_place)
            hypothesis.column, hypothesis.sized, hypothesis.lean = column, sized, lean
            return
        bridge = StarBridge(self.head.gram, self.ends, *wires)
        for _ in range(3):
            limits = loss_law(self.bridge_law, scale_ohm)
            loss = min(max(loss, limits.low), limits.high)
            prior = self._prior(self.scale, scale_ohm)
            found = bridge.fit_at(prior, self.scale.centre_ohm, scale_ohm, loss, self.bridge_law)
            shift = sum(found.fit.deviation) - (found.sized.mean - loss) * sum(found.lean)
            at = self.scale.centre_ohm - scale_ohm
            kappa = prior.to_kappa * (shift - len(self.ends) * at)
            settled = abs(self.scale.centre_ohm * (1.0 + kappa) / scale_ohm - 1.0) < 0.002
            scale_ohm = self.scale.centre_ohm * _possible(1.0 + kappa)
            loss = found.sized.mean
            if settled:
                break
        log_weight = log_base + found.log_evidence + self.scale.log_ratio(kappa)
        hypothesis = self._new("bridged", (p, q), log_weight, log_place)
        hypothesis.fit, hypothesis.lean, hypothesis.sized = found.fit, found.lean, found.sized
        hypothesis.bridge, hypothesis.law = Bridge(found.scale_ohm, found.loss_ohm), self.bridge_law

    def cross_bridges(self) -> None:
        """Bridges between groups: the only hypotheses with finite readings from one group to the other."""
        gram, group = self.head.gram, self.layout.group_of
        places = self._bridge_places()
        log_place = -log(len(places))
        place_of = {wire: place for place, wire in enumerate(self.member)}
        pairs = [(place_of[reading.wire_a], place_of[reading.wire_b]) for reading in gram.readings]
        nets = [reading.net_ohm for reading in gram.readings]
        reach = 8.0 * self.scale.sd if self.head.spec_scale else 1e9
        low, high = self.scale.centre_ohm * (1.0 - reach), self.scale.centre_ohm * (1.0 + reach)
        self.log_constant = self.log_prior + gram.log_constant
        for p, q in places:
            if group[p] == group[q]:
                continue
            paths = paths_through(self.name, p, q)
            ways = [paths[pair] for pair in pairs]
            if not can_be(nets, [way.n_windings for way in ways], [way.spans for way in ways], low, high):
                continue
            rows, spans = [way.windings for way in ways], [way.spans for way in ways]
            scale_ohm = self.scale.centre_ohm
            for _ in range(2):  # once more with the scatter of the scale that the bridge leaves
                prior = self._prior(self.scale, scale_ohm)
                found = cross_fit(gram, rows, spans, prior, self.scale.centre_ohm, self.bridge_law)
                deviation = [d - found.sized.mean * v for d, v in zip(found.fit.deviation, found.lean, strict=True)]
                kappa = prior.to_kappa * sum(deviation)
                log_weight = self.log_constant + found.log_evidence + self.scale.log_ratio(kappa)
                log_weight += self.shares["bridged"] + log_place
                if self.weighing.is_hopeless(log_weight):
                    break
                scale_ohm = self.scale.centre_ohm * _possible(1.0 + kappa)
            if self.weighing.is_hopeless(log_weight):
                continue
            self.base = found.fit
            hypothesis = self._new("bridged", (p, q), log_weight, log_place)
            hypothesis.lean, hypothesis.sized, hypothesis.law = found.lean, found.sized, self.bridge_law


def _possible(factor: float) -> float:
    """A scale over its centre that a fit may go on from: readings of no head can send it anywhere."""
    return min(max(factor, 0.02), 50.0)


def against(base: Fit, column: Column) -> tuple[float, float, list[float]]:
    """Slope and curvature of the likelihood in a column's size at 0, and how the windings lean against it."""
    with_windings = column.with_windings
    lean = [sum([v * c for v, c in zip(row, with_windings, strict=True)]) for row in base.covariance]
    beta = column.squared - sum([c * v for c, v in zip(with_windings, lean, strict=True)])
    beta = max(beta, LEAST_LEFT * column.squared)
    gamma = column.with_residual - sum([c * d for c, d in zip(with_windings, base.deviation, strict=True)])
    return gamma, beta, lean
