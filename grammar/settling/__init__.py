"""The parts of settling a draft; each stands on the one before, from `base` up to `places`."""
