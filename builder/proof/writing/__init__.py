"""Hold the texts of guides against house rules of writing, made after published rules for procedures."""

from builder.proof.writing.engine import check_guide, check_writing, rules, waivers

__all__ = ["check_guide", "check_writing", "rules", "waivers"]
