"""The command line: arguments in, text or JSON out. Heavy imports happen inside the commands."""
