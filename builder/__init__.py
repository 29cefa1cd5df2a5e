"""Spannerleaf: from YAML sources to checked, tailored, printable workshop guides."""
