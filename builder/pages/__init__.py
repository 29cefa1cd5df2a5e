"""Turn what was worked out into what a reader sees: view data, then HTML through the theme's templates.

    Tailored, Bike, Check, Library ─► views (plain values and safe markup) ─► templates ─► one HTML text a page or card

No page works anything out: a number arrives worked out and leaves as text through `builder.model.units`. Fixed words
come from one table a language (`strings`), so that a missing word is an error and never another language's word.
"""
