"""What was measured afloat: freeboards, inclining, and the boat as found."""
