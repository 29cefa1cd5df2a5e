"""`python -m builder` is the `spannerleaf` command."""

from builder.cli import main

if __name__ == "__main__":
    main(prog_name="spannerleaf")
