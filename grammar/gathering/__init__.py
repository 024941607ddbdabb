"""The parts of the pass that makes a draft of phrases; each stands on the one before, from `state` up to `links`."""
