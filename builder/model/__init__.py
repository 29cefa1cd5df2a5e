"""The trade in plain values: bikes, parts, fasteners, tools, guides, plans. Imports nothing of the other rooms.

Each record is a frozen dataclass. A record that is written in YAML is read by its own fields (see
`builder.sources.schema`): the key is the field's name without its unit and with hyphens, `chainstay_mm` → `chainstay`.
"""
