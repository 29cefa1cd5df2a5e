"""From sources to an output folder: what to build, what of it is still good, on all cores, from whole state to whole state.

`driver.build` is the way in. `wanted` says which guides and bikes are due; `fingerprint` and `store` know what need not
be made again; `workers` spreads the printing; `output` puts the new state in place of the old.
"""
