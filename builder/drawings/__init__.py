"""Drawings: from plain numbers to line art in SVG, drawn to scale, one drawing a file; `registry` names them all."""
