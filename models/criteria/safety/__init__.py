"""The lines of safety: what is asked, of whom, and where it holds."""
