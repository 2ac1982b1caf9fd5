"""An export as files: an open folder or a zip, part by part."""
