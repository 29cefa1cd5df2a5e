"""Every step that is written anywhere, with the guide or the procedure that it stands in."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from builder.model.guide import Step, Use
from builder.model.library import Library


def written_steps(library: Library) -> Iterator[tuple[str, Step]]:
    """Each step once, with the id of its guide or procedure: guides first, then procedures."""
    for guide in library.guides.values():
        items = (*(item for section in guide.work for item in section.steps), *guide.finish, *guide.test)
        yield from _steps(guide.id, items)
    for procedure in library.procedures.values():
        yield from _steps(procedure.id, procedure.steps)


def _steps(home: str, items: Iterable[Step | Use]) -> Iterator[tuple[str, Step]]:
    yield from ((home, item) for item in items if isinstance(item, Step))
