"""Answers that checks gave, by all that each hangs on, so that bikes that are alike in it are asked once.

A check that reads plain facts of parts hangs on these parts; one that reads what was measured, the rider, or what is
worked out of other facts is taken to hang on the whole bike.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Mapping
from functools import cached_property
from hashlib import blake2b

from builder.model.bike import Bike
from builder.model.facts import Role
from builder.model.once import Once
from builder.model.parts import Part
from builder.model.sharing import Sharing
from builder.planning.fitting import Fitting

Places = Mapping[Role, tuple[int | None, bool]]


class KnownAnswers:
    """Holds what was answered for one workshop with its tools and standards; equal results are one in `sharing`."""

    def __init__(self, sharing: Sharing | None = None) -> None:
        self.once = Once()
        self.sharing = sharing or Sharing()
        self._numbers: dict[str, int] = {}
        self._parts: dict[int, tuple[Part, int]] = {}
        self._found: tuple[Bike, Places] | None = None

    def of_part(self, part: Part) -> int:
        """The number of a part; parts of which the same is written have one."""
        known = self._parts.get(id(part))
        if known is None:
            known = self._parts[id(part)] = (part, self._numbers.setdefault(repr(part), len(self._numbers)))
        return known[1]

    def places(self, bike: Bike) -> Places:
        """What is in each place of a bike: the number of the part there, and whether it is said that there is none."""
        parts = {role: self.of_part(part) for role, part in bike.parts.items()}
        return {role: (parts.get(role), role in bike.without) for role in Role}

    def places_found(self, bike: Bike) -> Places:
        """The same of a bike on which many parts are tried."""
        if self._found is None or self._found[0] is not bike:
            self._found = (bike, self.places(bike))
        return self._found[1]


class Fitted:
    """A bike with parts tried on, as far as answers hang on it."""

    def __init__(self, fitting: Fitting, known: KnownAnswers) -> None:
        self._fitting = fitting
        found = known.places_found(fitting.found)
        now = found if fitting.bike is fitting.found else known.places(fitting.bike)
        self._states = {role: (now[role], found[role], role in fitting.replaced) for role in Role}

    @cached_property
    def _whole(self) -> bytes:
        bikes = (self._fitting.bike, self._fitting.found)
        said = tuple((bike.measured, bike.rider, bike.climbs) for bike in bikes)
        # There is another such bike for nearly every part that is tried on, so that little of each is held.
        return blake2b(repr((tuple(self._states.values()), said)).encode(), digest_size=16).digest()

    def hangs_on(self, roles: Iterable[Role], *, whole: bool) -> tuple[Hashable, ...]:
        """What an answer hangs on that hangs on the parts in `roles`, or on the whole bike."""
        return (self._whole if whole else None, *map(self._states.__getitem__, roles))
