"""What a person says of a bike → a bike, what fits on it and its guide: for a terminal and for a web page alike.

    answers ─► facts ─► a bike ─► plan and tailored guide ─► HTML
       ▲          │
       └── questions that still matter (mattering, interview)

`messages` is the one door that a web page knocks at: JSON in, JSON out.
"""
