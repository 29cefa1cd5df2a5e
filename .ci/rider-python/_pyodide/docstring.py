"""The documentation of methods, which nobody reads in a page."""


def get_cmeth_docstring(_function):
    """None."""
    return ""
