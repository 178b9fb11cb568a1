"""The edges: HTTP and command line. They translate and store, they never calculate."""
