"""The boat of a refit: hull, parts, weights, tanks, openings and loading conditions."""
