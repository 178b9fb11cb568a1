"""HTTP: one file for each resource."""
