"""The readers of phrases: each knows one way of speaking, and puts it as the rest of the reading knows it.

`gather` runs them in turn. A new way of speaking is one more file here, and one more line there.
"""
