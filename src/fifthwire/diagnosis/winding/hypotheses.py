"""Every cause under one arrangement, weighed by the readings with normal laws.

A hypothesis is an arrangement, a cause and the places it names. Most differ from the sound head by one column of
known shape; see `column`. Opens need no likelihood: they fit or they do not.
"""

from math import log

from fifthwire.diagnosis.winding.arrangements import LAYOUTS, arrangement_classes
from fifthwire.diagnosis.winding.base_fit import Fit
from fifthwire.diagnosis.winding.column import Sized, SizeLaw, integrate, log_uniform, most_it_can_be, scaled, uniform
from fifthwire.diagnosis.winding.hypothesis import Column, Hypothesis
from fifthwire.diagnosis.winding.patterns import pattern_of
from fifthwire.diagnosis.winding.reach import out_of_reach, wires_of_all
from fifthwire.diagnosis.winding.scale import ScaleLaw
from fifthwire.diagnosis.winding.under import DEAD_BELOW, RATIO_BOUND, against
from fifthwire.diagnosis.winding.under_bridges import ROUGH_BELOW, UnderBridges
from fifthwire.diagnosis.winding.weighing import Weighing, log_shares

DEAD_SHORT_SHARE = 0.30
"""Of shorted solenoid coils, those that lose more than the usual law's limit: a burnt coil reads next to nothing.
The four coils of a stepping head burn through one by one and keep the usual law. Judgement."""

DEAD_SHORT_LEAVES = 1e-4
"""Of the coil's resistance, the least that a dead short leaves.  [1]  Judgement."""

LIKE_NO_OTHER = -10.5
"""Of another head over the good one, where the scale is the good one's and no factor gives it: no more than this.
Thirteen for `ANY_FACTOR_SHARE` and the width of anything, less what two deviations of the scale give.  [nat]
"""


def weigh(weighing: Weighing, name: str, commons: tuple[int, ...], log_prior: float) -> None:
    """Add all hypotheses of one arrangement, the best fitting first."""
    head, layout, shares = weighing.head, LAYOUTS[name], log_shares(weighing.head, name)
    quiet: list[UnderCauses] = []
    for klass in arrangement_classes(name, head.wires.n_seen, commons):
        pattern = pattern_of(head, layout, klass.members[0])
        if pattern is None:
            continue
        under = UnderCauses(weighing, name, layout, klass, pattern, log_prior + log(klass.share), shares)
        if pattern.spanning:
            if "bridged" in shares:
                under.cross_bridges()
        elif not pattern.joined_opens or under.can_be_open():
            under.opens()
            if not pattern.joined_opens:
                quiet.append(under)
    for under in sorted(quiet, key=lambda under: -under.log_base):
        under.others()


class UnderCauses(UnderBridges):
    """Every cause under one class of arrangements."""

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
                    self.new("open-winding", places, log_weight, log_place).broken = winding
        if "open-common" in shares:
            log_place = -log(len(layout.commons))
            for place in layout.commons:
                if pattern.explains_opens(self.member[place]):
                    self.new("open-common", (place,), self.log_base + shares["open-common"] + log_place, log_place)
        self._false_open()

    def _false_open(self) -> None:
        if "bad-reading" not in self.shares:
            return
        pattern = self.pattern
        n_joined = len(pattern.joined) + len(pattern.joined_opens)
        log_base = self.log_base + self.shares["bad-reading"]
        if n_joined == 0:
            self.new("bad-reading", (), log_base, 0.0)
        elif len(pattern.joined_opens) == 1:
            log_place = log(self.head.laws.bad_reading_open_share / n_joined)
            places = self._places_of(pattern.joined_opens[0])
            self.new("bad-reading", places, log_base + log_place, log_place)

    def _places_of(self, pair: tuple[int, int]) -> tuple[int, ...]:
        return tuple(place for place, wire in enumerate(self.member) if wire in pair)

    def others(self) -> None:
        """The causes under which all joined wires read finite."""
        self.new("sound", (), self.log_base + self.shares["sound"], 0.0)
        if self.hub in self.weighing.dead:
            return
        n_dead = len(self.weighing.dead)
        self.beyond = out_of_reach(self.head, self.layout, self.member, self.pattern.joined)
        self.suspects = wires_of_all(self.head, self.beyond)
        if "bad-contact" in self.shares:
            self._contacts()
        if "shorted-turns" in self.shares:
            self._shorts()
            if self._can_burn():
                self._dead_short()
        if "bridged" in self.shares:
            self.bridges()
        if "wrong-head" in self.shares:
            self._wrong_head()
        if "bad-reading" in self.shares and len(self.beyond) < 2:
            self._strays()
        if self.has_twins and len(self.weighing.dead) - n_dead == self.n_tried:
            self.weighing.dead.add(self.hub)

    def _column(self, cause: str, places: tuple[int, ...], log_place: float, column: Column, law: SizeLaw) -> None:
        """Weigh one hypothesis that adds x times a column."""
        log_base = self.log_constant + self.shares[cause] + log_place
        if column.squared <= 1e-12:
            self.new(cause, places, self.log_base + self.shares[cause] + log_place, log_place)
            return
        base = self.base
        name = (cause, self.hub, column.at if column.kind == "stray" else self.member[column.at[0]])
        self.n_tried += 1
        if name in self.weighing.dead:
            return
        gamma, beta, lean = against(base, column)
        if beta <= 0.0 or self.is_hopeless(log_base, 0.5 * gamma * gamma / beta if gamma > 0.0 else 0.0, name):
            return
        in_ohm = self._in_ohm(law, column, base, gamma / beta, lean)
        if self.is_hopeless(log_base, most_it_can_be(gamma, beta, in_ohm)):
            return
        sized = integrate(gamma, beta, in_ohm)
        if log_base + base.log_evidence + sized.log_mean > self.weighing.best - ROUGH_BELOW:
            base = self.fit_near(self.scale, self.scale_at(base, sized.mean, lean))
            if base is not self.base:  # the fault leaves a scale whose scatter is another
                gamma, beta, lean = against(base, column)
                in_ohm = self._in_ohm(law, column, base, sized.mean, lean)
                sized = integrate(gamma, beta, in_ohm)
        kappa = self.scale_at(base, sized.mean, lean) / self.scale.centre_ohm - 1.0
        log_weight = log_base + base.log_evidence + self.ratio(kappa) + sized.log_mean
        hypothesis = self.new(cause, places, log_weight, log_place)
        hypothesis.fit, hypothesis.column, hypothesis.law = base, column, law
        hypothesis.sized, hypothesis.lean = sized, lean

    def _in_ohm(self, law: SizeLaw, column: Column, base: Fit, size: float, lean: list[float]) -> SizeLaw:
        """The law of a size in ohm: of a share of one winding, about the size that is found."""
        if column.winding is None:
            return law
        whole = self.scale.centre_ohm + base.deviation[column.winding] - size * lean[column.winding]
        return scaled(law, max(whole, 0.02 * self.scale.centre_ohm))

    def _contacts(self) -> None:
        law = log_uniform(*self.head.laws.contact_ohm)
        matrix = self.head.gram.matrix
        n = len(self.member)
        if self.layout.commons:
            for place, wire in enumerate(self.member):
                if self.suspects is not None and wire not in self.suspects:
                    continue
                row = matrix[wire]
                column = Column("wire", (place,), row[wire], [row[end] for end in self.ends], self.product(wire))
                self._column("bad-contact", (place,), -log(n), column, law)
            return
        for end, hub in zip(self.layout.ends, self.layout.common_of, strict=True):  # either wire looks the same
            wire = self.member[end]
            if self.suspects is not None and wire not in self.suspects:
                continue
            row = matrix[wire]
            column = Column("wire", (end,), row[wire], [row[e] for e in self.ends], self.product(wire))
            self._column("bad-contact", (end, hub), log(2.0 / n), column, law)

    def _shorts(self) -> None:
        law = uniform(*self.head.laws.shorted_fraction)
        log_place = -log(len(self.ends)) + (log(1.0 - DEAD_SHORT_SHARE) if self._can_burn() else 0.0)
        for winding, wire in enumerate(self.ends):
            if self.suspects is not None and wire not in self.suspects:
                continue
            end, hub = self.layout.ends[winding], self.layout.common_of[winding]
            row = self.gram[winding]
            column = Column("short", (end,), row[winding], [-x for x in row], -self.product(wire), winding)
            places = (end,) if self.layout.commons else (end, hub)
            self._column("shorted-turns", places, log_place, column, law)

    def _can_burn(self) -> bool:
        """Whether this is a solenoid's coil, read, with a spec to lose most of."""
        return self.name == "single-2" and bool(self.pattern.joined) and self.head.spec_scale is not None

    def _dead_short(self) -> None:
        """A burnt coil. What is left of it is weighed as a scale of its own: its size is all but the whole coil's."""
        assert self.head.spec_scale is not None
        noise = self.head.gram.readings[0].noise
        centre_ohm = max(self.scale_of_readings(), noise.touch_ohm + noise.digits_ohm)
        most = 1.0 - self.head.laws.shorted_fraction[1]
        scale = self.head.spec_scale.of_what_is_left(centre_ohm, DEAD_SHORT_LEAVES, most)
        places = (self.layout.ends[0], self.layout.common_of[0])
        hypothesis = self._at_scale("shorted-turns", places, log(DEAD_SHORT_SHARE), scale)
        if hypothesis is not None:
            hypothesis.sized, hypothesis.lean = Sized(0.0, 0.0, 0.0), [0.0]  # the windings as fitted are what is left

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
            self.new("wrong-head", (), self.log_base + self.shares["wrong-head"], 0.0)
            return
        name = ("wrong-head", self.hub)
        self.n_tried += 1
        if name in self.weighing.dead:
            return
        scale_ohm = self.scale_of_readings()
        at_most = self.log_constant + self.shares["wrong-head"] + self.base.log_evidence + LIKE_NO_OTHER
        if self.weighing.is_hopeless(at_most) and self.head.spec_scale.is_like_no_other(scale_ohm):
            return
        scale = self.head.spec_scale.of_another_head(scale_ohm)
        self._at_scale("wrong-head", (), 0.0, scale, name)

    def _at_scale(
        self,
        cause: str,
        places: tuple[int, ...],
        log_place: float,
        scale: ScaleLaw,
        name: tuple[object, ...] | None = None,
    ) -> Hypothesis | None:
        """Weigh a hypothesis that differs from the sound head by its scale alone; None where it is hopeless."""
        log_base = self.log_constant + self.shares[cause] + log_place
        found = self.fit_near(scale, scale.centre_ohm)
        at_most = log_base + found.log_evidence + RATIO_BOUND
        if name is not None and self.has_twins and at_most < self.weighing.best - DEAD_BELOW:
            self.weighing.dead.add(name)
        if self.weighing.is_hopeless(at_most):
            return None
        found = self.fit_near(scale, scale.centre_ohm * (1.0 + found.kappa()[0]))
        mean, variance = found.kappa()
        log_weight = log_base + found.log_evidence + scale.log_expected_ratio(mean, variance**0.5)
        hypothesis = self.new(cause, places, log_weight, log_place)
        hypothesis.scale, hypothesis.fit = scale, found
        return hypothesis
