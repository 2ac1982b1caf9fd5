"""Frames and files: readings files in, judgements out."""
