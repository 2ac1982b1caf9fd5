"""The tablet's modules as one script, made by the server without a build step."""
