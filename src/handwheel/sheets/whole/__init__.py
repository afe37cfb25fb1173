"""What concerns the whole job: arrangement, fits, bar, tools, things to make, inspection, what is done and left."""
