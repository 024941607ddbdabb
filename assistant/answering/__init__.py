"""The working out of one query: a `Job` holds what it rests on and what is noted on the way, and each module works out one kind.

Imports run one way. Lowest stand `density` and `job`; above them `rows` (steps as working), `record` (the answer made up),
`stock` (castings at hand), `counter` and `packs` (what to buy), `contents` and `asked`; above those the kinds of request:
`forwards`, `how_far`, `brewing`, `at_hand`, `filled`, `side_by_side`, `money`, `in_words`. `assistant.engine` picks the kind.
"""
