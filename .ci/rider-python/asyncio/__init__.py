"""A page's worker answers one request after the other and waits for nothing: there is no loop of events."""


def get_event_loop():
    """There is none."""
    raise RuntimeError("there is no loop of events")
