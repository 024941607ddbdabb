"""Other ways of putting things, each in a file of its subject, put into the words that the rest of the reader knows."""
