"""What differs between two answers or two documents; older answers completed to be compared."""
