"""The wires of a head: those the probes touched, and those that are there without having been touched.

Wires are counted 0, 1, 2 ... inside the inference: first the ones seen, in the order of their names, then
the untouched. Untouched wires are exchangeable, which is what keeps exact inference short.

An untouched wire has a name only where it is beyond doubt: the stated common; or all names seen are pin numbers of
1 to n of a head with n wires, or single letters of the first n of the alphabet: then the missing pins are the
untouched wires. Otherwise it is called `UNTOUCHED`.
"""

from typing import Final

from fifthwire.model.record import record

UNTOUCHED: Final = "an untouched wire"
"""What an untouched wire without a name is called."""

ANOTHER_UNTOUCHED: Final = "another untouched wire"
"""What the second of a pair is called where neither has a name: two strings that are not the same wire."""

N_WIRES: Final = {"unipolar-5": 5, "unipolar-6": 6, "bipolar-4": 4, "single-2": 2}
"""Wires of an arrangement."""


@record(kw_only=False)
class Wires:
    """Names of all wires of a head, seen ones first."""

    names: tuple[str, ...]
    n_seen: int

    def label(self, indices: tuple[int, ...]) -> tuple[str, ...]:
        """Names of wires, in the order in which they are counted."""
        return tuple(self.names[index] for index in sorted(indices))

    def pair(self, a: int, b: int) -> tuple[str, str]:
        """Names of two wires to touch, told apart where both are untouched and nameless."""
        first, second = self.names[a], self.names[b]
        return first, ANOTHER_UNTOUCHED if first == second else second


def name_wires(seen: list[str], stated: tuple[str, ...], n_wires: int) -> Wires:
    """All wires of a head of `n_wires`, given the names seen in readings and stated as common."""
    untouched = [name for name in stated if name not in seen]
    n_left = n_wires - len(seen) - len(untouched)
    missing = _missing_pins([*seen, *untouched], n_wires)
    names = missing if len(missing) == n_left else [UNTOUCHED] * max(0, n_left)
    return Wires((*seen, *untouched, *names), len(seen))


def _missing_pins(known: list[str], n_wires: int) -> list[str]:
    numbers = [str(number + 1) for number in range(n_wires)]
    letters = [chr(ord("A") + number) for number in range(n_wires)]
    for pins in (numbers, letters, [letter.lower() for letter in letters]):
        if known and all(name in pins for name in known):
            return [pin for pin in pins if pin not in known]
    return []
