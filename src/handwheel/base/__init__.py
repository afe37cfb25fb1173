"""What every package may use: places in a text, faults, the one geometric tolerance."""
