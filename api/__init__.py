"""The service and the command line: what comes in, what goes out, and what is refused."""
