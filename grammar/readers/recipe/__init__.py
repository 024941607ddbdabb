"""The ways in which people give a recipe, each a reader of phrases; `grammar.readers.recipes` tries them in turn."""
