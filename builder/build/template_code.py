"""The code that templates come to, kept under a seal, so that a process that begins need not compile them."""

from __future__ import annotations

from jinja2 import BytecodeCache, __version__
from jinja2.bccache import Bucket

from builder.build import fingerprint
from builder.build.store import Store, kept_templates


class TemplateCode(BytecodeCache):
    """Byte code of templates in a store, by the template's name and file, and taken back for the same text alone."""

    def __init__(self, store: Store) -> None:
        self._store = store

    def load_bytecode(self, bucket: Bucket) -> None:
        """Fill the bucket with what is kept for the template; what is of another Python or text is let go."""
        kept = self._store.get(_name(bucket))
        if kept is not None:
            bucket.bytecode_from_string(kept)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep what the bucket holds."""
        self._store.put(_name(bucket), bucket.bytecode_to_string())


def _name(bucket: Bucket) -> str:
    # Of two texts of one template each is kept, so that two workspaces don't drive each other out.
    return fingerprint.digest("template", __version__, bucket.key, bucket.checksum)


def kept_template_code() -> TemplateCode | None:
    """The code of whoever runs this, in the folder where their programs keep what can be made again."""
    store = kept_templates()
    return None if store is None else TemplateCode(store)
