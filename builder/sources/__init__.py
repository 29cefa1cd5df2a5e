"""From YAML files to the library of records, with the place of every value kept and every mistake reported.

    bytes ─ text ─► characters ─ yaml_tree ─► nodes with places ─ schema ─► checked values ─ records ─► records
                                                   └───────────── mentions ─ references ─► diagnostics

`workspace.load` does it all: the shipped library first, then a workspace laid over it.
"""
