"""The answering side: from a typed query to a worked, sourced and judged answer, and how it is said."""

__version__ = "0.1.0"
