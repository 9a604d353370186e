"""A head as a resistor network: its arrangement, each winding, poor contacts, bridges and what is open."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from fifthwire.model.errors import InputError
from fifthwire.physics.network import Resistor

WINDING_ENDS: Final[dict[str, tuple[tuple[int, int], ...]]] = {
    "unipolar-5": ((0, 1), (0, 2), (0, 3), (0, 4)),
    "unipolar-6": ((0, 1), (0, 2), (3, 4), (3, 5)),
    "bipolar-4": ((0, 1), (2, 3)),
    "single-2": ((0, 1),),
}
"""Which two wires each winding lies between, by place in the list of wires; a common stands before its ends."""


def inside(wire: str) -> str:
    """Name of the node behind a wire's contact, where windings and bridges meet.

    Parameters
    ----------
    wire : str
        Name of the wire.

    Returns
    -------
    str
        Name of the node.
    """
    return f"inside {wire}"


def head_network(
    arrangement: str,
    wires: Sequence[str],
    winding_ohm: Sequence[float],
    *,
    contact_ohm: Mapping[str, float] | None = None,
    bridges: Iterable[tuple[str, str, float]] = (),
) -> list[Resistor]:
    """Resistors of a head, sound or not.

    Parameters
    ----------
    arrangement : str
        A key of `WINDING_ENDS`.
    wires : sequence of str
        Commons before their ends: five wires 1 + 4, six wires 1 + 2 and 1 + 2, four wires 2 and 2.
    winding_ohm : sequence of float
        One for each winding, in the order of `WINDING_ENDS`; infinity where it is open. [Ω]
    contact_ohm : mapping
        What a wire's contact adds; infinity where the wire is open. Left out: 0. [Ω]
    bridges : iterable of (wire, wire, ohm)
        Joins inside the head. [Ω]

    Returns
    -------
    list of Resistor
        For `network.effective_matrix`.

    Raises
    ------
    InputError
        If the numbers of wires or windings do not fit the arrangement.

    Examples
    --------
    A star whose common contact adds 8 Ω:

    >>> from fifthwire.physics.network import effective_ohm
    >>> head = head_network("unipolar-5", "5ABCD", [46.0] * 4, contact_ohm={"5": 8.0})
    >>> round(effective_ohm(head, "5", "A"), 9), round(effective_ohm(head, "A", "B"), 9)
    (54.0, 92.0)
    """
    ends = WINDING_ENDS[arrangement]
    n_wires = max(place for pair in ends for place in pair) + 1
    if len(wires) != n_wires or len(winding_ohm) != len(ends):
        raise InputError(f"{arrangement} has {n_wires} wires and {len(ends)} windings")
    contacts = contact_ohm or {}
    resistors = [Resistor(wire, inside(wire), contacts.get(wire, 0.0)) for wire in wires]
    for (a, b), ohm in zip(ends, winding_ohm, strict=True):
        resistors.append(Resistor(inside(wires[a]), inside(wires[b]), ohm))
    resistors += [Resistor(inside(a), inside(b), ohm) for a, b, ohm in bridges]
    return resistors
