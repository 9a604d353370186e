"""Frozen records that are cheap to define: a dataclass whose methods are shared instead of generated.

`dataclasses.dataclass` writes and compiles six methods for every class, about 0.7 ms each on a small machine, and a
visit has some thirty records: a tenth of the time in which one valve is to be assessed. Here the class is registered
as a dataclass (so `fields`, `replace` and `asdict` work on it) and shares one set of methods with all others.
"""

from collections.abc import Callable, Mapping
from dataclasses import MISSING, FrozenInstanceError, dataclass, fields
from typing import Any, TypeVar, dataclass_transform, overload

_T = TypeVar("_T")


@overload
def record(cls: type[_T], /) -> type[_T]: ...


@overload
def record(*, kw_only: bool = True) -> Callable[[type[_T]], type[_T]]: ...


@dataclass_transform(kw_only_default=True, frozen_default=True)
def record(cls: type[_T] | None = None, /, *, kw_only: bool = True) -> type[_T] | Callable[[type[_T]], type[_T]]:
    """Make a class a frozen dataclass, compared by value.

    Parameters
    ----------
    cls : type
        The class, its fields annotated as for a dataclass.
    kw_only : bool
        False where the values may be given in the order of the fields.

    Examples
    --------
    >>> @record(kw_only=False)
    ... class Point:
    ...     '''A point.'''
    ...     x: float
    ...     y: float = 0.0
    >>> Point(1.0), Point(1.0, y=2.0) == Point(1.0, 2.0)
    (Point(x=1.0, y=0.0), True)
    """
    return _share_methods(cls, kw_only) if cls is not None else lambda of: _share_methods(of, kw_only)


def _share_methods(cls: type[_T], kw_only: bool) -> type[_T]:
    """The class with its defaults worked out once and the shared methods set."""
    made: Any = dataclass(init=False, repr=False, eq=False, match_args=not kw_only, kw_only=kw_only)(cls)
    known = fields(made)
    made._names = tuple(of.name for of in known)
    made._name_set = frozenset(made._names)
    made._positional = () if kw_only else made._names
    made._defaults = {of.name: of.default for of in known if of.default is not MISSING}
    made._factories = {of.name: of.default_factory for of in known if of.default_factory is not MISSING}
    made.__init__ = _init
    made.__repr__ = _repr
    made.__eq__ = _eq
    made.__hash__ = _hash
    made.__setattr__ = _refuse_to_set
    made.__delattr__ = _refuse_to_delete
    return cls


def _init(self: Any, *args: Any, **given: Any) -> None:
    if args:
        given = _by_position(self, args, given)
    values = {**self._defaults, **given}
    for name, make in self._factories.items():
        if name not in values:
            values[name] = make()
    if len(values) != len(self._names) or not values.keys() <= self._name_set:
        _refuse_values(self, values)
    self.__dict__.update(values)


def _by_position(self: Any, args: tuple[Any, ...], given: Mapping[str, Any]) -> dict[str, Any]:
    named = dict(zip(self._positional, args, strict=False))
    if len(args) > len(self._positional) or named.keys() & given.keys():
        raise TypeError(f"{type(self).__name__} is given too many values in order, or one of them twice")
    return {**named, **given}


def _refuse_values(self: Any, values: Mapping[str, Any]) -> None:
    missing = [name for name in self._names if name not in values]
    unknown = [name for name in values if name not in self._names]
    raise TypeError(f"{type(self).__name__}: missing {missing}, unknown {unknown}")


def _values(self: Any) -> tuple[Any, ...]:
    held = self.__dict__
    return tuple(held[name] for name in self._names)


def _repr(self: Any) -> str:
    shown = ", ".join(f"{name}={value!r}" for name, value in zip(self._names, _values(self), strict=True))
    return f"{type(self).__qualname__}({shown})"


def _eq(self: Any, other: object) -> Any:
    return self.__dict__ == other.__dict__ if type(self) is type(other) else NotImplemented


def _hash(self: Any) -> int:
    return hash(_values(self))


def _refuse_to_set(self: Any, name: str, value: Any) -> None:
    raise FrozenInstanceError(f"{type(self).__name__}.{name} is frozen")


def _refuse_to_delete(self: Any, name: str) -> None:
    raise FrozenInstanceError(f"{type(self).__name__}.{name} is frozen")
