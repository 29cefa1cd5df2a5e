"""A family that one guide alone has, and that is written almost like another, would stand as a heading of its own."""

from __future__ import annotations

from collections import Counter

from builder.diagnostics.diagnostic import Diagnostic, Gravity, nearest
from builder.model.library import Library


def families_agree(library: Library) -> tuple[Diagnostic, ...]:
    """Every guide whose family nobody else has, where another family is written almost alike."""
    count = Counter(guide.family for guide in library.guides.values())
    found = []
    for guide in library.guides.values():
        near = nearest(guide.family, [name for name in count if name != guide.family])
        if count[guide.family] == 1 and near is not None:
            found.append(
                Diagnostic(
                    rule="family",
                    message=f"no other guide is of the family '{guide.family}'",
                    at=guide.places.of("family"),
                    gravity=Gravity.WARNING,
                    hints=(f"did you mean '{near}'?",),
                )
            )
    return tuple(found)
