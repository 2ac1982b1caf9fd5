"""Labels of cells and apparatus: what stands on them, and what one opens."""
