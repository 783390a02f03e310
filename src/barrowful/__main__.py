"""Run the command line with ``python -m barrowful``."""

from barrowful.cli.main import run

if __name__ == "__main__":
    run()
