"""Commands that measure how long things take; never part of the test run."""
