"""Where a photograph was taken from: a camera solved from marks of known place on the boat."""
