"""Input that can be right but is unlike other boats: asked about, not refused."""
