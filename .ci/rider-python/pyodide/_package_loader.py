"""Where packages would be; none is loaded."""


class _Place:
    def __init__(self, path):
        self._path = path

    def __str__(self):
        return self._path


SITE_PACKAGES, DSO_DIR = _Place("/lib/python3.14/site-packages"), _Place("/usr/lib")


def init_loaded_packages():
    """There are none."""
