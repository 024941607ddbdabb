"""The slip that is handed over: what to buy, how to apply it, the cautions, and what the figures rest on."""

from .forms import FORMS, Form
from .slip import Bought, For, Slip, make

__all__ = ["FORMS", "Bought", "For", "Form", "Slip", "make"]
