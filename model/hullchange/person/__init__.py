"""A person aboard: headroom over the cabin sole, and what is seen from the helm."""
