"""A conversation: which kind of line each is, and the turn it makes.

`conversation.py` has the order in which the kinds are tried; each kind is a file of its own, which works on what is
remembered (`remembered.py`) and gives the answer. What a line changes in what was said is `assistant/followup/`'s.
"""

from .conversation import Conversation
from .kinds import asks_of_all

__all__ = ["Conversation", "asks_of_all"]
