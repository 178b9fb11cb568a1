"""Tables for an engineer who checks the results by another method."""
