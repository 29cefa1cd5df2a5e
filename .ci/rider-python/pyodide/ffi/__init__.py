"""Modules of JavaScript, which no page has."""

from _pyodide._importhook import register_js_module

__all__ = ["register_js_module"]
