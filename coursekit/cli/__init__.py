"""The command line: one command a module, exit codes and problem lines in `outcome`."""
