"""See `_pyodide`."""
