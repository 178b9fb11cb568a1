"""The boat in the water: where she rests, what changes do, righting levers, uncertainty."""
