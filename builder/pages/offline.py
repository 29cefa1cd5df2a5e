"""What lets the site be read without a network: a worker that knows every file of it, a manifest to install it by.

The worker is the theme's; here it is handed the site's files, each with its digest, so that it fetches what changed and
nothing else. The pages that say whether a printed card is current stay out, since what was kept may no longer be true.
Cards stay out: they are large, and who needs one offline has opened it. So does the rider's page with its
interpreter, which has a worker of its own: who never opens it never fetches it. Of a large fleet the pages of single
bikes stay out too, and are kept once they were opened.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping

from builder.model.catalogue import Workshop
from builder.pages import paths

_DIGEST = 12
# Fetched when somebody first looks for it, and by hosts and machines, who are never offline.
_NOT_KEPT = frozenset({paths.WORKER, paths.ROBOTS, paths.SITEMAP, paths.FEED, paths.LOST})
_NOT_KEPT_BELOW = (f"{paths.RIDER.rpartition('/')[0]}/", paths.PRINTED)
_PARTS_OF_A_MAP = "sitemap-"
# Nobody waits for more at a first visit; a demo fleet's site has a quarter of it.
_MOST_FILES = 2000
_OF_A_FLEET = ("bikes/", "bikes-", "guides/bikes-with/", "find-", paths.FIND_PARTS)
_THEMES_WORKER = "assets/offline.js"


def digest_of(data: bytes) -> str:
    """By what the worker knows that a file changed."""
    return hashlib.sha256(data).hexdigest()[:_DIGEST]


def worker(files: Mapping[str, str]) -> str:
    """The script of the worker for a site of files with these digests; '' where the theme has none."""
    if _THEMES_WORKER not in files:
        return ""
    kept = {
        path: digest
        for path, digest in sorted(files.items())
        if path not in _NOT_KEPT
        and not path.endswith(".txt")
        and not path.startswith((*_NOT_KEPT_BELOW, _PARTS_OF_A_MAP))
    }
    if len(kept) > _MOST_FILES:
        kept = {path: digest for path, digest in kept.items() if not path.startswith(_OF_A_FLEET)}
    listed = json.dumps(kept, ensure_ascii=False, separators=(",", ":"))
    # The worker's own text is part of this one, so that a browser sees when it changes.
    return f'self.spannerleafFiles={listed};\nimportScripts("{_THEMES_WORKER}?{files[_THEMES_WORKER]}");\n'


def manifest(workshop: Workshop) -> str:
    """The web application manifest; every address in it is relative, so that the site may lie below a path."""
    name = workshop.name or "Spannerleaf"
    return json.dumps(
        {
            "name": name,
            "short_name": name,
            "start_url": f"./{paths.INDEX}",
            "scope": "./",
            "display": "minimal-ui",
            "icons": [{"src": "assets/leaf.svg", "sizes": "any", "type": "image/svg+xml"}],
        },
        ensure_ascii=False,
        indent=1,
    )
