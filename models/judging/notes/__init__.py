"""What is said beside a verdict and never changes it: a file a note."""
