"""Turn a bike and the parts wanted on it into a plan: what fits, what else changes, what to buy and to measure."""

from builder.planning.plan import ChainWork, Change, Missing, Plan, Requirement
from builder.planning.planner import PlanError, plan_job, wanted_parts

__all__ = ["ChainWork", "Change", "Missing", "Plan", "PlanError", "Requirement", "plan_job", "wanted_parts"]
