"""What a follow-up changes in what was said before: a value, a count, a unit, a place more or less.

Each change takes the draft of the turn before and the draft of the line, and gives a new draft; where it can mean
more than one thing it gives the question to ask instead. Nothing of the conversation itself is kept here.
"""
