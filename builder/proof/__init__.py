"""Show that a guide cannot go wrong by construction: every configuration is walked, every step is held to its rules."""

from builder.proof.proving import Proof, caution_waivers, prove, prove_all

__all__ = ["Proof", "caution_waivers", "prove", "prove_all"]
