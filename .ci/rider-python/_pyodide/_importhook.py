"""Importing from JavaScript, which no page does."""


def register_js_finder():
    """Nothing is to be found."""


def register_js_module(_name, _module):
    """Nothing imports it."""


def register_windows_finder():
    """No page has such paths."""


def register_module_not_found_hook(_packages):
    """There are no packages to be named."""


def add_note_to_module_not_found_error(_error):
    """There is nothing to add."""
