"""From YAML files to the library of records, with the place of every value kept and every mistake reported.

    files ─ layout ─► bytes ─ text ─► characters ─ yaml_tree ─► nodes ─┬─ schema, records ─► records
                                                                       └─ mentions, references ─► diagnostics

`workspace.load` does it all: the shipped library first, then a workspace laid over it. `shapes` is the one place that
knows how a field of the model is written; `json_schemas` and `starters` tell it to an editor and to a beginner.
"""
