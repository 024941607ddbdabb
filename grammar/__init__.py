"""The reading side: from the words of a request to a typed query.

Nothing here knows a rate, a density or a price: those are the answering side's (`assistant`).
"""
