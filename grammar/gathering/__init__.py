"""The parts of the pass that makes a draft of phrases; each stands on the one before, from `state` up to `links`, and `line_end` on the draft alone."""
