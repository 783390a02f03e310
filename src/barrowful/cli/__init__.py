"""The command line: options and calls only; heavy modules are imported by the command that runs."""
