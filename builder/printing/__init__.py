"""Turn HTML into PDF, and look at what came out.

    card as one HTML document ─► pages laid out ─► what does not fit (overflow) ─► tagged PDF, the same bytes each time

`pdf` and `overflow` need WeasyPrint, which is imported when the first PDF is due; `reading` reads PDFs back.
"""
