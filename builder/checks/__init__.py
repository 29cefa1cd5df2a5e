"""Checks: from plain numbers to a verdict with its working, one family of the trade a module."""
