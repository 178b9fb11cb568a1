"""The documents a refit begins with: an invented boat, or dimensions and proportions."""
