"""From sources to an output folder: only what changed, on all cores, from one whole state to the next.

`driver.build` is the way in. `jobs` says which guides are due for which bikes and works them out; `making` carries it
through; `fingerprint`, `state` and `store` know what need not be made again; `workers` spreads the printing; `output`
puts the new state in place of the old.
"""
