"""Promises as futures, which need a loop of events."""


def get_future_resolvers(_future):
    """There is no loop."""
    raise NotImplementedError
