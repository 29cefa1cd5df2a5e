"""Diagnostics: what is wrong, where, and how to mend it, as data; `rendering` writes them for people and programs."""
