"""Two windings joined: within one star, where the shape depends on the bridge itself, and from group to group."""

from math import log

from fifthwire.diagnosis.winding.bridge import StarBridge, loss_column, loss_law
from fifthwire.diagnosis.winding.column import integrate
from fifthwire.diagnosis.winding.cross_bridge import CrossColumns, can_be, one_order, paths_through, reordered
from fifthwire.diagnosis.winding.hypothesis import Bridge
from fifthwire.diagnosis.winding.reach import touches_all
from fifthwire.diagnosis.winding.under import Under, against, possible
from fifthwire.diagnosis.winding.weighing import WeighedBridge

ROUGH_BELOW = 9.0
"""So far below the best, the first look at a fault is good enough. [nat]"""

BRIDGE_SLACK = 100.0
"""What the first look at a bridge may miss, for each unit of loss over scale. [nat]"""

CROSS_SD = 0.2
"""Of the scale under a bridge between groups, over its law's: for a first look.  [1]"""

NEAR_ENOUGH = 0.02
"""The scatter of a scale this near serves: what is left is put right where it matters, see `scatter_pull`.  [1]"""


class UnderBridges(Under):
    """The bridges under one class of arrangements."""

    def bridges(self) -> None:
        """Bridges between any two windings, each place as probable."""
        group, places = self.layout.group_of, self._bridge_places()
        log_place = -log(len(places))
        for p, q in places:
            if group[p] == group[q]:
                self._star_bridge(p, q, log_place)
            elif not self.pattern.spanning_opens:
                self.new("bridged", (p, q), self.log_base + self.shares["bridged"] + log_place, log_place)

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
        name = ("bridged", self.hub, *sorted(wires))
        if name in self.weighing.dead:
            return
        column = loss_column(self.head.gram, self.ends, *wires, self.scale.centre_ohm)
        if column.squared <= 1e-12:
            self.new("bridged", (p, q), self.log_base + self.shares["bridged"] + log_place, log_place)
            return
        self.n_tried += 1
        gamma, beta, lean = against(base, column)
        if beta <= 0.0:
            return
        loss = gamma / beta
        scale_ohm = self.scale_at(base, max(loss, 0.0), lean)
        slack = BRIDGE_SLACK * min(max(loss / scale_ohm, 0.0), 0.5)  # the scatter's leverage is not in it yet
        if self.is_hopeless(log_base, slack + (0.5 * gamma * gamma / beta if gamma > 0.0 else 0.0), name):
            return
        sized = integrate(gamma, beta, loss_law(self.bridge_law, scale_ohm))
        kappa = self.scale_at(base, sized.mean, lean) / self.scale.centre_ohm - 1.0
        log_weight = log_base + base.log_evidence + sized.log_mean + self.ratio(kappa)
        if log_weight + slack < self.weighing.best - ROUGH_BELOW:
            hypothesis = self.new("bridged", (p, q), log_weight, log_place)
            hypothesis.column, hypothesis.sized, hypothesis.lean = column, sized, lean
            return
        self._refit_star_bridge(p, q, log_place, scale_ohm, loss)

    def _refit_star_bridge(self, p: int, q: int, log_place: float, scale_ohm: float, loss: float) -> None:
        """Weigh a bridge within a star with the scatter's leverage, starting from a first look at scale and loss."""
        bridge = StarBridge(self.head.gram, self.ends, self.member[p], self.member[q])
        for _ in range(3):
            limits = loss_law(self.bridge_law, scale_ohm)
            loss = min(max(loss, limits.low), limits.high)
            prior = self.prior_at(self.scale, scale_ohm)
            found = bridge.fit_at(prior, self.scale.centre_ohm, scale_ohm, loss, self.bridge_law)
            shift = sum(found.fit.deviation) - (found.sized.mean - loss) * sum(found.lean)
            at = self.scale.centre_ohm - scale_ohm
            kappa = prior.to_kappa * (shift - len(self.ends) * at)
            settled = abs(self.scale.centre_ohm * (1.0 + kappa) / scale_ohm - 1.0) < 0.002
            scale_ohm = self.scale.centre_ohm * possible(1.0 + kappa)
            loss = found.sized.mean
            if settled:
                break
        log_base = self.log_constant + self.shares["bridged"] + log_place
        log_weight = log_base + found.log_evidence + self.ratio(kappa)
        hypothesis = self.new("bridged", (p, q), log_weight, log_place)
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
            spans = [way.spans for way in ways]
            if not can_be(nets, [way.n_windings for way in ways], spans, low, high):
                continue
            bridge = self._cross_bridge([way.windings for way in ways], spans)
            log_weight = self.log_constant + self.shares["bridged"] + log_place + bridge.log_evidence
            if self.weighing.is_hopeless(log_weight):
                continue
            self.base = bridge.found.fit
            hypothesis = self.new("bridged", (p, q), log_weight, log_place)
            hypothesis.lean, hypothesis.sized, hypothesis.law = bridge.found.lean, bridge.found.sized, self.bridge_law
            hypothesis.alike = bridge.alike

    def _cross_bridge(self, rows: list[list[int]], spans: list[int]) -> WeighedBridge:
        """A bridge by its columns: many places of many arrangements have the same."""
        order = one_order(rows, self.scatter.is_shared)
        alike = (self.name, tuple(spans), *[tuple([row[i] for row in rows]) for i in order])
        known = self.weighing.cross.get(alike)
        if known is not None:
            return WeighedBridge(known.log_evidence, reordered(known.found, known.order, order), order, alike)
        columns = CrossColumns(self.head.gram, rows, spans, self.scale.centre_ohm)
        scale_ohm = self.scale.centre_ohm
        for _ in range(2):  # once more with the scatter of the scale that the bridge leaves
            prior = self._prior_near(self.scale, self.steps_to(self.scale, scale_ohm))
            found = columns.fit_at(prior, self.bridge_law)
            deviation = [d - found.sized.mean * v for d, v in zip(found.fit.deviation, found.lean, strict=True)]
            kappa = prior.to_kappa * sum(deviation)
            log_evidence = found.log_evidence + self.scale.expected_ratio_within(CROSS_SD * self.scale.sd)(kappa)
            at_most = self.log_constant + self.shares["bridged"] + log_evidence
            scale_ohm, before = self.scale.centre_ohm * possible(1.0 + kappa), scale_ohm
            if abs(scale_ohm / before - 1.0) < NEAR_ENOUGH or self.weighing.is_hopeless(at_most):
                break
        weighed = self.weighing.cross[alike] = WeighedBridge(log_evidence, found, order, alike)
        return weighed
