"""What the interpreter for browsers asks of its own package while it starts, without what no page uses.

The package that it comes with brings event loops, sockets, archives and a console, which took a third of its start.
These modules stand in its place; each name in them is one that its scripts or its C code ask for.
"""

from . import _base, _importhook

__all__ = ["_base", "_importhook"]


def set_excepthook():
    """Python's own hook does."""
