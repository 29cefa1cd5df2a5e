"""Modules that lie in memory, found by their names: no path is searched and no file is opened for them.

In a browser a search along `sys.path` takes a third of the time of an import.
"""

from __future__ import annotations

import marshal
from collections.abc import Callable, Iterator, Mapping, Sequence
from importlib.machinery import ModuleSpec
from types import CodeType, ModuleType
from typing import Any

# The bytes of a file by its path, such as `builder/rider/held.pyc`; None where there is no such file.
Get = Callable[[str], bytes | memoryview | None]
# Before the byte code of a module its file tells what it was compiled from.
_HEADER_BYTES = 16
# Before a file in a zip stand so many bytes, and then its name and what else is told of it, whose lengths stand here.
_ZIP_HEADER_BYTES, _NAME_LENGTH, _EXTRA_LENGTH = 30, slice(26, 28), slice(28, 30)


class Held:
    """Finds and loads modules among files in memory, of which `root` is the folder that they seem to stand in."""

    def __init__(self, root: str, get: Get) -> None:
        self._root, self._get = root, get

    def find_spec(
        self, name: str, _path: Sequence[str] | None = None, _target: ModuleType | None = None
    ) -> ModuleSpec | None:
        """How a module is to be loaded, where it is among the files."""
        loader: Any = self
        base = f"{self._root}/{name.replace('.', '/')}"
        for ending in (".pyc", "/__init__.pyc", ".py", "/__init__.py"):
            path = f"{base}{ending}"
            data = self._get(path[len(self._root) + 1 :])
            if data is not None:
                spec = ModuleSpec(name, loader, origin=path, loader_state=data, is_package="__init__" in ending)
                if spec.submodule_search_locations is not None:
                    spec.submodule_search_locations.append(base)
                return spec
        return None

    def create_module(self, _spec: ModuleSpec) -> None:
        """A module as any other."""

    def exec_module(self, module: ModuleType) -> None:
        """Run a module that was found."""
        assert module.__spec__ is not None
        assert module.__spec__.origin is not None
        exec(_code(module.__spec__.loader_state, module.__spec__.origin), vars(module))


class Folder:
    """What stands in a folder of files in memory, for who looks round in a package."""

    def __init__(self, files: Mapping[str, bytes], below: str) -> None:
        self._files, self._below = files, below

    def find_spec(self, _name: str, _target: ModuleType | None = None) -> None:
        """Modules are found by `Held`."""

    def iter_modules(self, prefix: str = "") -> Iterator[tuple[str, bool]]:
        """The modules in the folder, as `pkgutil` asks for them."""
        for path in self._files:
            name, _, ending = path.removeprefix(self._below).partition(".")
            if path.startswith(self._below) and "/" not in name and name != "__init__" and ending in ("py", "pyc"):
                yield f"{prefix}{name}", False


def held_in(root: str, files: Mapping[str, bytes]) -> tuple[Held, Callable[[str], Folder]]:
    """The files of a program as a finder for `sys.meta_path` and a hook for `sys.path_hooks`."""

    def folder(path: str) -> Folder:
        if not path.startswith(f"{root}/"):
            raise ImportError(path)
        return Folder(files, f"{path[len(root) + 1 :]}/")

    return Held(root, files.get), folder


def held_in_zip(root: str, archive: bytes, entries: Mapping[str, tuple[object, ...]]) -> Held:
    """The files of a zip that lie in it as they are. `entries` are what `zipimport` read of it: sizes and offsets."""
    whole = memoryview(archive)

    def get(path: str) -> memoryview | None:
        entry = entries.get(path)
        if entry is None:
            return None
        _, _, size, _, at, *_ = entry
        assert isinstance(at, int)
        assert isinstance(size, int)
        head = whole[at : at + _ZIP_HEADER_BYTES]
        at += _ZIP_HEADER_BYTES + _number(head[_NAME_LENGTH]) + _number(head[_EXTRA_LENGTH])
        return whole[at : at + size]

    return Held(root, get)


def _number(data: memoryview) -> int:
    return int.from_bytes(data, "little")


def _code(data: bytes | memoryview, origin: str) -> CodeType:
    if origin.endswith(".py"):
        return compile(bytes(data), origin, "exec", dont_inherit=True)
    code: CodeType = marshal.loads(memoryview(data)[_HEADER_BYTES:])
    return code
