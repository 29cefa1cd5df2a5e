"""Turn a guide and a plan into the guide for one bike: only the steps that apply, with every number in it."""

from builder.tailoring.alike import Alike
from builder.tailoring.tailor import CannotTailor, NotSuited, tailor
from builder.tailoring.tailored import Tailored

__all__ = ["Alike", "CannotTailor", "NotSuited", "Tailored", "tailor"]
