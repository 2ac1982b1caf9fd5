"""Files that people attach: what may be kept, and where it is kept."""
